"""What rule files, shared sheets and examples hold, as records.

As with the elements of an assembly, the published schemas and the documentation are made from what
is declared here.
"""

# Annotations are evaluated here: ``fields_of`` reads them as objects.

from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

from checker.assembly.records import SUBJECTS, Detail
from checker.documents.fields import DATE, EXPRESSION, IDENTIFIER, TEMPLATE, given

Expression = Annotated[str, EXPRESSION]
Message = Annotated[str, TEMPLATE]
Identifier = Annotated[str, IDENTIFIER]
Date = Annotated[str, DATE]
Outcome = Literal["fail", "review", "open", "informational"]
if TYPE_CHECKING:
    Subject = str
else:
    #: A class of element that a rule may be checked on.
    Subject = Literal[tuple(SUBJECTS)]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class FileRecord:
    """What every record of these files carries: its place in the file."""

    node: Any = None


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ValueFile(FileRecord):
    """A named constant of a rule: the number that a jurisdiction may change."""

    SHORT: ClassVar[str] = "is"

    is_: Any = given(
        "the value with its unit, such as 40 % or 24 in; a wire size, a text, or a list"
    )
    as_: Literal["quantity", "wire_size", "trade_size", "text", "flag"] | None = given(
        "what a value is that is not a quantity", default=None
    )
    in_: dict[str, Any] = given("the value in the editions where it differs", default={})
    cite: str = given("the section that sets it", default="")
    note: str = given("where the number comes from, and how sure it is", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class GroupFile(FileRecord):
    """Elements that go together, under a name."""

    SHORT: ClassVar[str] = "of"

    of: Expression = given("what they are taken from, as w in pull.wires; or a list")
    where: Expression | None = given("which of these", default=None)
    note: str = given("what they are, in words", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class TermFile(FileRecord):
    """One term of a sum: a line of the calculation."""

    SHORT: ClassVar[str] = "is"

    is_: Expression = given("the expression")
    when: Expression | None = given("when it counts; otherwise it is zero", default=None)
    cite: str = given("the paragraph that it comes from", default="")
    note: str = given("what it is, in words", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ChoiceFile(FileRecord):
    """One case of a choice: the first one that applies gives the value."""

    when: Expression | None = given("when it applies; the last has no condition", default=None)
    is_: Expression = given("the expression")
    cite: str = given("the paragraph that it comes from", default="")
    note: str = given("what it is, in words", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class StepFile(FileRecord):
    """An intermediate result with a name: one line of the calculation sheet.

    It has one of ``is``, ``sum``, ``cases``, ``worst`` and ``least``.
    """

    SHORT: ClassVar[str] = "is"

    is_: Expression | None = given("the expression", default=None)
    sum: dict[str, TermFile] = given(
        "its terms, each with a name and a line of its own", default={}
    )
    cases: tuple["ChoiceFile", ...] = given(
        "the values that it may have; the first one that applies", default=()
    )
    worst: dict[str, GroupFile] = given(
        "the elements that decide, by name, each with what it is taken from: the largest by",
        default={},
    )
    least: dict[str, GroupFile] = given("likewise, the smallest by", default={})
    by: Expression | None = given(
        "what worst or least goes by; it is the step's own value", default=None
    )
    then: Expression | None = given(
        "what decides between those that are equal by it: the largest", default=None
    )
    unit: str = given("the unit it is written in", default="")
    cite: str = given("the section that it comes from", default="")
    note: str = given("what it is, in words", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class FormulaFile(FileRecord):
    """A calculation that several steps make with different elements or numbers."""

    of: tuple[str, ...] = given("the names of what it is given, in order")
    is_: Expression = given("the expression")
    note: str = given("what it is, in words", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SharedFile(FileRecord):
    """Values, steps and formulas that several rules share; each borrows what it mentions."""

    shared: Identifier = given("the sheet's id")
    title: str = given("what it is for, in words")
    note: str = given("how sure it is", default="")
    values: dict[str, ValueFile] = given("named constants", default={})
    steps: dict[str, StepFile] = given(
        "intermediate results, in order; they come before those of the rule", default={}
    )
    formulas: dict[str, FormulaFile] = given(
        "calculations that are used with different elements or numbers", default={}
    )
    sources: tuple[str, ...] = given("where it was read", default=())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class FixFile(FileRecord):
    """What would put a failing element right, computed."""

    SHORT: ClassVar[str] = "say"

    when: Expression | None = given("when this fix applies", default=None)
    say: Message = given("the fix, an imperative; left out where a value in it is unknown")
    of: Expression | None = given(
        "the element or elements whose fields it sets; the element that is checked unless stated",
        default=None,
    )
    set: dict[str, Expression] = given(
        "the fields that it sets, each with its new value; the bench applies it and judges again",
        default={},
    )
    check: tuple[Identifier, ...] = given(
        "rules that it may make fail, as its words say; a test allows no others", default=()
    )


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class FixesFile(FileRecord):
    """Corrective action, apart from the requirement."""

    SHORT: ClassVar[str] = "all"

    steps: dict[str, StepFile] = given("results that only fixes need, in order", default={})
    all: tuple["FixFile", ...] = given("fixes of every case that has none of its own", default=())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SectionsFile(FileRecord):
    """Where a finding finds the one section that it cites, of all that the rule cites."""

    of: str = given("the field of the element that says which, such as method")
    table: str = given("the table that has the sections, by that field")
    column: str = given("its column of sections")
    besides: str = given("what a finding cites after that section", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CaseFile(FileRecord):
    """One case of the judgment: the first one whose condition is met decides.

    It says what it reports under ``fail``, ``review``, ``open`` or ``inform``.  A case with a
    condition and neither ``require`` nor ``pass`` reports as soon as its condition is met.
    """

    #: Keys of an earlier form, and what is written now.
    RENAMED: ClassVar[dict[str, str]] = {
        "message": "`fail:` (or `review:`, `open:`, `inform:`) with the text",
        "passes": "`pass:` with the text",
        "mend": "`fixes:` with the list",
        "fails_as": "`review:`, `open:` or `inform:` in place of `fail:`",
    }

    when: Expression | None = given("when this case decides; the last case has none", default=None)
    measure: Expression | None = given(
        "what is measured, where it is not the rule's own measure", default=None
    )
    limit: Expression | None = given("the limit of that measure", default=None)
    at_least: bool = given(
        "whether that measure has to reach its limit; otherwise it may not exceed it",
        default=False,
    )
    unit: str = given("the unit that these are written in", default="")
    require: Expression | None = given(
        "the requirement, where it is not that the measure keeps to the limit", default=None
    )
    fail: Message | None = given("what is said when it fails", default=None)
    review: Message | None = given("what is said when it needs review", default=None)
    open: Message | None = given("what is said when information is missing", default=None)
    inform: Message | None = given("what is said for information", default=None)
    pass_: Message | None = given("what is said when it passes", default=None)
    fixes: tuple["FixFile", ...] = given("corrective action", default=())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ExampleFile(FileRecord):
    """A small subject with the expected outcome: the rule's own test."""

    #: Keys of an earlier form, and what is written now.
    RENAMED: ClassVar[dict[str, str]] = {"mend": "`fixes:` with the text"}

    name: str = given("what the example shows", default="")
    on: str = given("the id of the element that is judged")
    class_: Subject | None = given("its class, where the rule has several", default=None)
    edition: str = given("the edition, where not every one gives this outcome", default="")
    set: dict[str, Any] = given("what differs from the sample, as path: value", default={})
    remove: tuple[str, ...] = given(
        "paths that the sample has and this example has not", default=()
    )
    expect: Literal["pass", "fail", "review", "open", "notApplicable", "informational"] = given(
        "the expected kind"
    )
    measure: str = given("the expected measure, with its unit", default="")
    limit: str = given("the expected limit, with its unit", default="")
    fixes: str = given("what the finding has to propose, in its own words, all of it", default="")
    steps: dict[str, str] = given("expected results of steps, with their units", default={})
    source: str = given("where the expected numbers come from", default="")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ExamplesFile(FileRecord):
    """The examples of one rule, in a file beside it."""

    rule: Identifier = given("the rule they belong to", key="examples_of")
    sample: Any = given("a small assembly that the examples start from")
    examples: tuple["ExampleFile", ...] = given("at least one that passes and one that fails")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class RuleFile(FileRecord):
    """One requirement."""

    #: Keys of an earlier form, and what is written now.
    RENAMED: ClassVar[dict[str, str]] = {
        "when": "`applies:` with the list of conditions",
        "fails_as": "`review:`, `open:` or `inform:` in place of `fail:`",
    }

    rule: Identifier = given("the rule's id")
    title: str = given("the requirement in a sentence of one's own")
    topic: str = given("the group it is listed under")
    each: tuple[Subject, ...] = given("the class of element it is checked on, or several")
    why: str = given("what goes wrong otherwise", default="")
    note: str = given("how sure the requirement and its numbers are", default="")
    at: str = given("the field of the element that a finding points at", default="")
    detail: Detail | None = given(
        "the kind of detail whose absence it reports; a design may list it under not_covered",
        default=None,
    )
    covers: str = given(
        "the elements that it applies to, in words: what `applies` says", default=""
    )
    when: tuple[Expression, ...] = given(
        "when the rule applies; every one has to be met", key="applies", default=()
    )
    uses: tuple[str, ...] = given(
        "shared sheets that it borrows values, steps and formulas from", default=()
    )
    values: dict[str, ValueFile] = given("its named constants", default={})
    formulas: dict[str, FormulaFile] = given(
        "calculations that its steps make with different elements or numbers", default={}
    )
    groups: dict[str, GroupFile] = given(
        "elements that its steps count or go through, by name", default={}
    )
    steps: dict[str, StepFile] = given("its intermediate results, in order", default={})
    measure: Expression | None = given("what is measured", default=None)
    limit: Expression | None = given("what it is compared with", default=None)
    at_least: bool = given(
        "whether the measure has to reach the limit; otherwise it may not exceed it", default=False
    )
    unit: str = given("the unit that measure and limit are written in", default="")
    require: Expression | None = given(
        "the requirement, where it is not that the measure keeps to the limit", default=None
    )
    fail: Message | None = given("what is said when it fails", default=None)
    review: Message | None = given("what is said when it needs review", default=None)
    open: Message | None = given("what is said when information is missing", default=None)
    inform: Message | None = given("what is said for information", default=None)
    pass_: Message | None = given("what is said when it passes", default=None)
    judge: tuple["CaseFile", ...] = given(
        "the cases, where there are several; the first one whose condition is met decides",
        default=(),
    )
    fixes: FixesFile | None = given("corrective action", default=None)
    cite: dict[str, str] = given("the section by edition; any stands for every edition", default={})
    sections: SectionsFile | None = given(
        "how a finding cites the section of its element alone, where the rule has many",
        default=None,
    )
    sources: tuple[str, ...] = given("where the requirement was read", default=())
    effective: Date | None = given("the date from which it is in force", default=None)
    status: Literal["in_use", "draft", "withdrawn"] = given(
        "whether it is in use", default="in_use"
    )
    sample: Any = given("a small assembly that its examples start from", default=None)
    examples: tuple["ExampleFile", ...] = given(
        "its own tests, where they are not in a file beside it", default=()
    )
