"""What edition and amendment files hold, as records."""

# Annotations are evaluated here: ``fields_of`` reads them as objects.

from dataclasses import dataclass
from typing import Any, ClassVar, Literal

from checker.documents.fields import given

from .rules import (
    Date,
    ExampleFile,
    Expression,
    FileRecord,
    Identifier,
    Outcome,
    RuleFile,
    ValueFile,
)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class EditionFile(FileRecord):
    """A published edition of the code."""

    edition: Identifier = given("its id, such as nec-2023")
    title: str = given("its name as reports print it")
    short: str = given("its name in citations")
    terms: dict[str, str] = given("words that reports use in place of others", default={})
    note: str = given("what is not verified for this edition", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CellsFile(FileRecord):
    """Cells of a table that an amendment changes."""

    keys: dict[str, Any] = given("the row's keys; some of them change every row that has them")
    set: dict[str, Any] = given("the new value by column")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ExceptionFile(FileRecord):
    """An exception to a rule."""

    SHORT: ClassVar[str] = "when"

    when: Expression = given("when the exception holds")
    note: str = given("what it permits, in words", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class MethodsFile(FileRecord):
    """Wiring methods that a jurisdiction forbids or requires."""

    methods: tuple[str, ...] = given("the methods")
    rule: Identifier = given("the id that the requirement is listed under")
    title: str = given("the requirement in a sentence of one's own", default="")
    where: Expression | None = given(
        "on which raceways and cables; everywhere unless stated", default=None
    )


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ChangeFile(FileRecord):
    """One change of an amendment.  It says what it touches and what it does there."""

    rule: str = given("the rule it changes", default="")
    table: str = given("the table it changes", default="")
    shared: str = given(
        "the sheet whose values it changes, for every rule that uses them", default=""
    )
    amendment: str = given("the amendment whose change it withdraws", default="")
    set: dict[str, Any] = given("new values by name", default={})
    values: dict[str, ValueFile] = given(
        "further named constants, for the conditions of this change", default={}
    )
    cells: tuple["CellsFile", ...] = given("changed cells of a table", default=())
    add_rows: tuple[Any, ...] = given("rows added to a table", default=())
    remove_rows: tuple[Any, ...] = given("keys of rows taken out of a table", default=())
    narrow: Expression | None = given("a further condition for the rule to apply", default=None)
    widen: Expression | None = given(
        "a condition under which the rule applies as well", default=None
    )
    applies: tuple[Expression, ...] = given("conditions in place of the rule's own", default=())
    fails_as: Outcome | None = given("what failing means from now on", default=None)
    withdraw: bool = given("whether the rule is withdrawn", default=False)
    replace: "RuleFile | None" = given(
        "the rule that stands in its place, under the same id", default=None
    )
    add: "RuleFile | None" = given("a rule of the jurisdiction's own", default=None)
    forbid: "MethodsFile | None" = given("wiring methods that are forbidden", default=None)
    require: "MethodsFile | None" = given("wiring methods of which one is required", default=None)
    exception: "ExceptionFile | None" = given("an exception, with its condition", default=None)
    title: str = given("the requirement in other words", default="")
    cite: str = given("the section that reports cite from now on", default="")
    reason: str = given("why")
    reference: str = given("the ordinance's own section")
    supersedes: str = given(
        "the amendment whose change of the same thing this one knowingly replaces", default=""
    )


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class AmendmentFile(FileRecord):
    """A jurisdiction's or an owner's overlay on an edition."""

    amendment: Identifier = given("its id")
    title: str = given("its name as reports print it")
    jurisdiction: str = given("whose it is")
    effective: Date = given("the date from which it is in force")
    ends: Date | None = given("the last date on which it is in force", default=None)
    reference: str = given("the ordinance or standard")
    editions: tuple[str, ...] = given("the editions it amends; every one unless stated", default=())
    status: Literal["draft", "in_use"] = given(
        "draft until somebody has compared it with the current ordinance", default="in_use"
    )
    builds_on: tuple[str, ...] = given(
        "amendment files beside this one that are applied before it", default=()
    )
    sources: tuple[str, ...] = given("where it was read", default=())
    terms: dict[str, str] = given("words that reports use in place of others", default={})
    changes: tuple["ChangeFile", ...] = given("its changes, in order", default=())
    sample: Any = given("a small assembly that its examples start from", default=None)
    examples: tuple["RuleExampleFile", ...] = given("its own tests", default=())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class RuleExampleFile(ExampleFile):
    """An example that names its rule."""

    rule: Identifier = given("the rule that is judged")
