"""What rule, edition and amendment files hold, as records.

As with the elements of an assembly, the docstrings' ``name: text`` lines describe the fields in the
published schemas and in the documentation.
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
    """A named constant of a rule: the number that a jurisdiction may change.

    is_: the value with its unit, such as 40 % or 24 in; a wire size, a text, or a list
    as_: what a value is that is not a quantity
    in_: the value in the editions where it differs
    cite: the section that sets it
    note: where the number comes from, and how sure it is
    """

    SHORT: ClassVar[str] = "is"

    is_: Any = given(key="is")
    as_: Literal["quantity", "wire_size", "trade_size", "text", "flag"] | None = given(
        None, key="as"
    )
    in_: dict[str, Any] = given({}, key="in")
    cite: str = given("")
    note: str = given("")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class StepFile(FileRecord):
    """An intermediate result with a name: one line of the calculation sheet.

    is_: the expression
    unit: the unit it is written in
    note: what it is, in words
    """

    SHORT: ClassVar[str] = "is"

    is_: Expression = given(key="is")
    unit: str = given("")
    note: str = given("")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class FormulaFile(FileRecord):
    """A calculation that several steps make with different elements or numbers.

    of: the names of what it is given, in order
    is_: the expression
    note: what it is, in words
    """

    of: tuple[str, ...] = given()
    is_: Expression = given(key="is")
    note: str = given("")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SharedFile(FileRecord):
    """Values, steps and formulas that several rules share; each borrows what it mentions.

    shared: the sheet's id
    title: what it is for, in words
    note: how sure it is
    values: named constants
    steps: intermediate results, in order; they come before those of the rule
    formulas: calculations that are used with different elements or numbers
    sources: where it was read
    """

    shared: Identifier = given()
    title: str = given()
    note: str = given("")
    values: dict[str, ValueFile] = given({})
    steps: dict[str, StepFile] = given({})
    formulas: dict[str, FormulaFile] = given({})
    sources: tuple[str, ...] = given(())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class MendFile(FileRecord):
    """What would put a failing element right, computed.

    when: when this mend is of use
    say: the mend; left out where a value in it cannot be found
    of: the element or elements whose fields it sets; the element that is checked unless stated
    set: the fields that it sets, each with its new value; the bench applies it and judges again
    check: rules that it may make fail, as its words say; a test allows no others
    """

    SHORT: ClassVar[str] = "say"

    when: Expression | None = given(None)
    say: Message = given()
    of: Expression | None = given(None)
    set: dict[str, Expression] = given({})
    check: tuple[Identifier, ...] = given(())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SectionsFile(FileRecord):
    """Where a finding finds the one section that it cites, of all that the rule cites.

    of: the field of the element that says which, such as method
    table: the table that has the sections, by that field
    column: its column of sections
    besides: what a finding cites after that section
    """

    of: str = given()
    table: str = given()
    column: str = given()
    besides: str = given("")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CaseFile(FileRecord):
    """How the rule judges: the first case whose condition holds decides.

    when: when this case decides; the last case has none
    measure: what is measured
    limit: what it is held against
    at_least: whether the measure has to reach the limit; otherwise it may not exceed it
    unit: the unit that measure and limit are written in
    require: the requirement, where it is not that the measure keeps to the limit
    fails_as: what failing means in this case, where it differs from the rule
    message: what is said when it fails
    passes: what is said when it holds
    mend: what would put it right
    """

    when: Expression | None = given(None)
    measure: Expression = given()
    limit: Expression = given()
    at_least: bool = given(False)
    unit: str = given("")
    require: Expression | None = given(None)
    fails_as: Outcome | None = given(None)
    message: Message = given()
    passes: Message | None = given(None)
    mend: tuple["MendFile", ...] = given(())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ExampleFile(FileRecord):
    """A small subject with the expected outcome: the rule's own test.

    name: what the example shows
    on: the id of the element that is judged
    class_: its class, where the rule has several
    edition: the edition, where not every one gives this outcome
    set: what differs from the sample, as path: value
    remove: paths that the sample has and this example has not
    expect: the expected kind
    measure: the expected measure, with its unit
    limit: the expected limit, with its unit
    mend: what the finding has to propose, in its own words, all of it
    steps: expected results of steps, with their units
    source: where the expected numbers come from
    """

    name: str = given("")
    on: str = given()
    class_: Subject | None = given(None, key="class")
    edition: str = given("")
    set: dict[str, Any] = given({})
    remove: tuple[str, ...] = given(())
    expect: Literal["pass", "fail", "review", "open", "notApplicable", "informational"] = given()
    measure: str = given("")
    limit: str = given("")
    mend: str = given("")
    steps: dict[str, str] = given({})
    source: str = given("")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ExamplesFile(FileRecord):
    """The examples of one rule, in a file beside it.

    rule: the rule they belong to
    sample: a small assembly that the examples start from
    examples: at least one that passes and one that fails
    """

    rule: Identifier = given(key="examples_of")
    sample: Any = given()
    examples: tuple["ExampleFile", ...] = given()


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class RuleFile(FileRecord):
    """One requirement.

    rule: the rule's id
    title: the requirement in a sentence of one's own
    topic: the group it is listed under
    each: the class of element it is checked on, or several
    why: what goes wrong otherwise
    note: how sure the requirement and its numbers are
    at: the field of the element that a finding points at
    detail: the kind of detail whose absence it reports; a design may list it under not_covered
    when: when the rule applies; every one has to hold
    uses: shared sheets that it borrows values, steps and formulas from
    values: its named constants
    formulas: calculations that its steps make with different elements or numbers
    steps: its intermediate results, in order
    judge: the measure and its limit, by case
    fails_as: what failing means
    cite: the section by edition; any stands for every edition
    sections: how a finding cites the section of its element alone, where the rule has many
    sources: where the requirement was read
    effective: the date from which it is in force
    status: whether it is in use
    sample: a small assembly that its examples start from
    examples: its own tests, where they are not in a file beside it
    """

    rule: Identifier = given()
    title: str = given()
    topic: str = given()
    each: tuple[Subject, ...] = given()
    why: str = given("")
    note: str = given("")
    at: str = given("")
    detail: Detail | None = given(None)
    when: tuple[Expression, ...] = given(())
    uses: tuple[str, ...] = given(())
    values: dict[str, ValueFile] = given({})
    formulas: dict[str, FormulaFile] = given({})
    steps: dict[str, StepFile] = given({})
    judge: tuple["CaseFile", ...] = given()
    fails_as: Outcome = given("fail")
    cite: dict[str, str] = given({})
    sections: SectionsFile | None = given(None)
    sources: tuple[str, ...] = given(())
    effective: Date | None = given(None)
    status: Literal["in_use", "draft", "withdrawn"] = given("in_use")
    sample: Any = given(None)
    examples: tuple["ExampleFile", ...] = given(())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class EditionFile(FileRecord):
    """A published edition of the code.

    edition: its id, such as nec-2023
    title: its name as reports print it
    short: its name in citations
    terms: words that reports use in place of others
    note: what is not verified for this edition
    """

    edition: Identifier = given()
    title: str = given()
    short: str = given()
    terms: dict[str, str] = given({})
    note: str = given("")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CellsFile(FileRecord):
    """Cells of a table that an amendment changes.

    keys: the row's keys; some of them change every row that has them
    set: the new value by column
    """

    keys: dict[str, Any] = given()
    set: dict[str, Any] = given()


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ExceptionFile(FileRecord):
    """An exception to a rule.

    when: when the exception holds
    note: what it permits, in words
    """

    SHORT: ClassVar[str] = "when"

    when: Expression = given()
    note: str = given("")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class MethodsFile(FileRecord):
    """Wiring methods that a jurisdiction forbids or requires.

    methods: the methods
    rule: the id that the requirement is listed under
    title: the requirement in a sentence of one's own
    where: on which raceways and cables; everywhere unless stated
    """

    methods: tuple[str, ...] = given()
    rule: Identifier = given()
    title: str = given("")
    where: Expression | None = given(None)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ChangeFile(FileRecord):
    """One change of an amendment.  It says what it touches and what it does there.

    rule: the rule it changes
    table: the table it changes
    shared: the sheet whose values it changes, for every rule that uses them
    amendment: the amendment whose change it withdraws
    set: new values by name
    values: further named constants, for the conditions of this change
    cells: changed cells of a table
    add_rows: rows added to a table
    remove_rows: keys of rows taken out of a table
    narrow: a further condition for the rule to apply
    widen: a condition under which the rule applies as well
    applies: conditions in place of the rule's own
    fails_as: what failing means from now on
    withdraw: whether the rule is withdrawn
    replace: the rule that stands in its place, under the same id
    add: a rule of the jurisdiction's own
    forbid: wiring methods that are forbidden
    require: wiring methods of which one is required
    exception: an exception, with its condition
    title: the requirement in other words
    cite: the section that reports cite from now on
    reason: why
    reference: the ordinance's own section
    supersedes: the amendment whose change of the same thing this one knowingly replaces
    """

    rule: str = given("")
    table: str = given("")
    shared: str = given("")
    amendment: str = given("")
    set: dict[str, Any] = given({})
    values: dict[str, ValueFile] = given({})
    cells: tuple["CellsFile", ...] = given(())
    add_rows: tuple[Any, ...] = given(())
    remove_rows: tuple[Any, ...] = given(())
    narrow: Expression | None = given(None)
    widen: Expression | None = given(None)
    applies: tuple[Expression, ...] = given(())
    fails_as: Outcome | None = given(None)
    withdraw: bool = given(False)
    replace: "RuleFile | None" = given(None)
    add: "RuleFile | None" = given(None)
    forbid: "MethodsFile | None" = given(None)
    require: "MethodsFile | None" = given(None)
    exception: "ExceptionFile | None" = given(None)
    title: str = given("")
    cite: str = given("")
    reason: str = given()
    reference: str = given()
    supersedes: str = given("")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class AmendmentFile(FileRecord):
    """A jurisdiction's or an owner's overlay on an edition.

    amendment: its id
    title: its name as reports print it
    jurisdiction: whose it is
    effective: the date from which it is in force
    ends: the last date on which it is in force
    reference: the ordinance or standard
    editions: the editions it amends; every one unless stated
    status: draft until somebody has compared it with the current ordinance
    builds_on: amendment files beside this one that are applied before it
    sources: where it was read
    terms: words that reports use in place of others
    changes: its changes, in order
    sample: a small assembly that its examples start from
    examples: its own tests
    """

    amendment: Identifier = given()
    title: str = given()
    jurisdiction: str = given()
    effective: Date = given()
    ends: Date | None = given(None)
    reference: str = given()
    editions: tuple[str, ...] = given(())
    status: Literal["draft", "in_use"] = given("in_use")
    builds_on: tuple[str, ...] = given(())
    sources: tuple[str, ...] = given(())
    terms: dict[str, str] = given({})
    changes: tuple["ChangeFile", ...] = given(())
    sample: Any = given(None)
    examples: tuple["RuleExampleFile", ...] = given(())


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class RuleExampleFile(ExampleFile):
    """An example that names its rule.

    name: what the example shows
    on: the id of the element that is judged
    class_: its class, where the rule has several
    edition: the edition, where not every one gives this outcome
    set: what differs from the sample, as path: value
    remove: paths that the sample has and this example has not
    expect: the expected kind
    measure: the expected measure, with its unit
    limit: the expected limit, with its unit
    mend: what the finding has to propose, in its own words, all of it
    steps: expected results of steps, with their units
    source: where the expected numbers come from
    rule: the rule that is judged
    """

    rule: Identifier = given()


RECORDS: dict[str, type] = {
    record.__name__: record
    for record in (
        ValueFile,
        StepFile,
        FormulaFile,
        SharedFile,
        MendFile,
        SectionsFile,
        CaseFile,
        ExampleFile,
        ExamplesFile,
        RuleFile,
        EditionFile,
        CellsFile,
        ExceptionFile,
        MethodsFile,
        ChangeFile,
        AmendmentFile,
        RuleExampleFile,
    )
}
