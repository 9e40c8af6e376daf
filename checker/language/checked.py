"""An expression that was found sound, with all that is known of it."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass

from .nodes import Constant, Node
from .types import ANYTHING, Type


@dataclass(frozen=True, slots=True)
class Checked:
    """An expression that was found sound.

    node: what it means; uses: the names that it takes from its surroundings; tables: (table,
    column) look-ups ("" for rows); fields: (record, field) accesses; digits: of any number met on
    the way to its value, at most, see ``types.MOST_DIGITS``; deep: whether items are counted.
    """

    text: str
    node: Node
    uses: Set[str] = frozenset()
    tables: Set[tuple[str, str]] = frozenset()
    fields: Set[tuple[str, str]] = frozenset()
    digits: int = 0
    deep: bool = False

    @property
    def kind(self) -> Type:
        """The type of its value."""
        return self.node.kind


@dataclass(frozen=True, slots=True)
class Template:
    """Literal texts and, between them, expressions with the unit they are written in."""

    text: str
    parts: tuple[str | tuple[Checked, str], ...]

    @property
    def uses(self) -> set[str]:
        """The names that the expressions take from their surroundings."""
        return {name for part in self.parts if not isinstance(part, str) for name in part[0].uses}


def unsound(text: str) -> Checked:
    """Stands for an expression whose mistakes are reported already."""
    return Checked(text, Constant(ANYTHING, (0, 0), None))
