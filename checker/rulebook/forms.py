"""A rule as it was checked and compiled for one class of element."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from checker.language.checked import Checked, Template
    from checker.language.types import Type


@dataclass(frozen=True, slots=True)
class Value:
    """A value of a rule: ``value`` in base units, ``text`` as it was written, by whom it is set."""

    name: str
    value: Any
    kind: Type
    text: str
    cite: str


@dataclass(frozen=True, slots=True)
class Step:
    """A checked step: its expression, the unit it is written in, and the section it is from."""

    name: str
    checked: Checked
    unit: str
    note: str
    text: str
    cite: str = ""

    @property
    def words(self) -> str:
        """What it is, with its section."""
        if self.cite and self.note:
            return f"{self.note} [{self.cite}]"
        return self.note or self.cite


@dataclass(frozen=True, slots=True)
class Fix:
    """A checked fix.

    of: the elements it changes, None for the one that is checked; check: ids of the rules that it
    may make fail.
    """

    when: Checked | None
    say: Template
    of: Checked | None = None
    set: tuple[tuple[str, Checked], ...] = ()
    check: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Case:
    """A checked case.

    holds: whether the requirement does, of ``measure`` and ``limit`` or of ``require``; steps: the
    indexes of the steps that it rests on.
    """

    when: Checked | None
    measure: Checked
    limit: Checked
    at_least: bool
    unit: str
    require: Checked | None
    fails_as: str
    message: Template
    passes: Template | None
    fixes: tuple[Fix, ...]
    holds: Checked
    steps: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Form:
    """A rule as it is checked on one class of element.

    fast(subject, assembly) gives (case, holds, measure, limit, step values …) where case is the
    index of the case that decided, or (-1 - i,) where condition i is not met.  It raises
    MissingData, LookupError or ArithmeticError where the traced evaluation has to say what lacks.
    applies(assembly), where some conditions are the same for every element, gives (-1 - i,) where
    condition i keeps the rule from applying to any, and raises as ``fast`` does; else None.
    """

    subject: str
    when: tuple[Checked, ...]
    unless: tuple[tuple[Checked, str], ...]
    values: dict[str, Value]
    steps: tuple[Step, ...]
    cases: tuple[Case, ...]
    fast: Any
    applies: Any
    needs: dict[str, tuple[Any, ...]]
    reads: frozenset[tuple[str, str]]
    tables: frozenset[str]

    @property
    def outcomes(self) -> tuple[str, ...]:
        """What failing means in each case."""
        return tuple(case.fails_as for case in self.cases)
