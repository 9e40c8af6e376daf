"""The parts of a rule as records: values, steps, formulas, cases, fixes.

They are those that ``records`` declares, read by the one reader, with the places that their texts
have in the file.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, ClassVar

from checker.documents.errors import Mark
from checker.documents.source import Source
from checker.language.formulas import Formula

from .part import Given, Part, Text, given_at
from .records import CaseFile, FixFile, FormulaFile, StepFile, ValueFile

#: A record that was just read is given its places; it is frozen for everybody else.
_put = object.__setattr__


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Value(ValueFile):
    """A named constant.

    part: the value with its place; named: where its name stands; amended: the ordinance that
    changed it on its shared sheet.
    """

    part: Part = field(default_factory=lambda: Given(None))
    named: Mark | None = None
    amended: str = ""

    def settled(self, source: Source, origin: str) -> None:
        """What ``settle`` does not know of."""
        _put(self, "part", given_at(self.is_, self.node, "is", source, origin))
        _put(self, "amended", "")

    def of_edition(self, edition: str) -> Value:
        """The value as an edition has it."""
        if edition not in self.in_:
            return self
        raw, node, part = self.in_[edition], self.node["in"], self.part
        return replace(self, is_=raw, part=given_at(raw, node, edition, part.source, part.origin))


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Step(StepFile):
    """An intermediate result as it is calculated.

    named: where its name stands; members: whether it is a group, whose elements a calculation
    lists; bound: whether it names an element that decides, which need not be used.
    """

    named: Mark | None = None
    members: bool = False
    bound: bool = False
    if TYPE_CHECKING:
        is_: Text

    def settled(self, source: Source, origin: str) -> None:
        """What ``settle`` does not know of."""
        for name, value in (("named", None), ("members", False), ("bound", False)):
            _put(self, name, value)

    @property
    def expression(self) -> Text:
        """How it is calculated."""
        return self.is_

    @property
    def unit_at(self) -> Mark | None:
        """Where its unit stands."""
        return self.node.value_mark("unit") if self.unit else None


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class FormulaRecord(FormulaFile):
    """A formula.  read: as expressions call it, once it was read; named: where its name stands."""

    read: Formula | None = None
    named: Mark | None = None
    if TYPE_CHECKING:
        is_: Text

    def settled(self, source: Source, origin: str) -> None:
        """What ``settle`` does not know of."""
        _put(self, "read", None)

    @property
    def expression(self) -> Text:
        """How it is calculated."""
        return self.is_

    @property
    def formula(self) -> Formula:
        """As expressions call it."""
        assert self.read is not None
        return self.read


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Fix(FixFile):
    """One way to put a failing element right."""

    if TYPE_CHECKING:
        when: Text | None
        say: Text
        of: Text | None
        set: dict[str, Text]  # type: ignore[assignment]

    def conditions(self) -> list[tuple[str, Text]]:
        """Its expressions, each with the key that it stands under."""
        found = [("when", self.when), ("of", self.of)]
        found += [(f"set.{name}", part) for name, part in self.set.items()]
        return [(name, part) for name, part in found if part is not None]


#: The key under which a case says what it reports, and the kind of finding that this is.
KINDS = {"fail": "fail", "review": "review", "open": "open", "inform": "informational"}


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Case(CaseFile):
    """One case of the judgment as it decides, with what it takes from its rule.

    fails_as: the kind of finding that it reports; message: what it says then.
    """

    TEXTS: ClassVar[tuple[str, ...]] = (
        "when", "measure", "limit", "require", "message", "passes",
    )  # fmt: skip

    fails_as: Any = "fail"
    message: Text = field(default_factory=lambda: Text(""))
    passes: Text | None = None
    if TYPE_CHECKING:
        fixes: tuple[Fix, ...]
        when: Text | None
        measure: Text
        limit: Text
        require: Text | None

    @property
    def unit_at(self) -> Mark | None:
        """Where its unit stands."""
        return self.node.value_mark("unit") if self.unit and "unit" in self.node else None
