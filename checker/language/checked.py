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


def unsound(text: str) -> Checked:
    """Stands for an expression whose mistakes are reported already."""
    return Checked(text, Constant(ANYTHING, (0, 0), None))
