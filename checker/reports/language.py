"""The reference of the rule language, made from the code: functions, elements, tables."""

from __future__ import annotations

from checker.assembly.records import CLASSES, SUBJECTS
from checker.documents.fields import Field, fields_of, words_of
from checker.documents.missing import Missing
from checker.language.functions import FUNCTIONS
from checker.language.parse import MAX_CHARACTERS, MAX_DEPTH, MAX_NODES
from checker.language.types import List, Record, Text, Type
from checker.language.worked import UNIT_OF
from checker.quantities.dimension import NONE
from checker.quantities.units import USUAL
from checker.rulebook import records
from checker.rulebook.book import Rulebook
from checker.rulebook.draft import plain_text
from checker.rulebook.vocabulary import type_of

from .blocks import Blocks, Code, Inline, Link
from .rule_sheet import tidy

_FILES = (
    (records.RuleFile, "a rule file"),
    (records.ValueFile, "a value"),
    (records.FormulaFile, "a formula"),
    (records.StepFile, "a step"),
    (records.CaseFile, "a case of `judge`"),
    (records.FixFile, "a fix"),
    (records.SectionsFile, "sections of an element"),
    (records.ExamplesFile, "an examples file"),
    (records.ExampleFile, "an example"),
    (records.SharedFile, "a shared sheet"),
    (records.AmendmentFile, "an amendment file"),
    (records.ChangeFile, "a change of an amendment"),
    (records.CellsFile, "changed cells of a table"),
    (records.ExceptionFile, "an exception"),
    (records.MethodsFile, "forbidden or required wiring methods"),
    (records.EditionFile, "an edition file"),
)


def reference(book: Rulebook, form: str) -> str:
    """The reference, as ``markdown`` or ``html``; tables are those of the book's edition."""
    made = Blocks("The rule language")
    made.text(
        "Made from the program itself by",
        Code("pullpoint rules document --language"),
        "; a test holds it equal. The guide beside it says how to use it.",
    )
    _expressions(made)
    _functions(made)
    _shared(made, book)
    _units(made)
    _files(made)
    _elements(made)
    _tables(made, book)
    return made.html() if form == "html" else made.markdown()


def _expressions(made: Blocks) -> None:
    made.heading(2, "Expressions")
    made.text(
        "An expression is a small part of Python's own. It can calculate, compare and look up; it "
        "can neither change nor start anything."
    )
    made.table(
        ("written", "means"),
        [
            (Code("a + b - c * d / e"), "arithmetic; units are checked when the rule is loaded"),
            (Code("a ** 2"), "a square; no other power"),
            (
                tuple(Code(f"a {sign} b") for sign in ("<=", "<", "==", "!=", ">", ">=")),
                "comparison, of one kind of thing only; a limit that is met exactly is met",
            ),
            ((Code("a and b"), Code("a or b"), Code("not a")), "of yes-or-no values"),
            (
                (Code("a in [x, y]"), Code("a not in [x, y]")),
                "whether it is one of them, exactly; also of a value that is a list",
            ),
            (Code("x if c else y"), "one or the other"),
            (
                Code("[w.size for w in pull.wires if w.bare]"),
                "a list of something of each item; inside a function without the brackets",
            ),
            (Code("box.volume"), "a field of an element"),
            (
                Code("ampacity.ampacity(material=m, column=c, size=s)"),
                "a cell of a table, by its keys",
            ),
            (Code("ampacity.rows(material=m)"), "rows of a table; a row has its keys and columns"),
            (Code("'EMT'"), "a text, a wire size or a trade size, whichever it is compared with"),
            (
                (Code("0"), Code("1"), Code("2")),
                "the only bare numbers; every other number is a value with a name, a unit and a "
                "citation",
            ),
        ],
    )
    made.text("In scope are:")
    made.items(
        [
            (Code("this"), "and the element's class, such as", Code("raceway"), ": the element"),
            (Code("assembly"), ": the whole assembly"),
            ("the rule's own values and, after them, its formulas and its steps",),
            ("what it borrows from the shared sheets that it", Code("uses"), "; see below"),
            (
                Code("measure"),
                "and",
                Code("limit"),
                ", in messages and mends",
            ),
            ("the tables and functions below",),
        ]
    )
    made.text(
        "Messages hold expressions between braces, and say the unit they are written in:",
        Code("{fill as %}"),
        ",",
        Code("{run.length as ft-in}"),
        ". Without a unit, a step is written in its own and anything else in its usual one.",
    )
    made.text(
        f"An expression has at most {MAX_CHARACTERS} characters, {MAX_NODES} parts and {MAX_DEPTH} "
        "levels; longer ones are split into steps. Collections that are gone through inside each "
        "other are limited too: an inner one becomes a step with a name."
    )
    made.text(
        "Where the assembly does not state what an expression needs, the finding is open and names "
        "it. A part that decides on its own still decides: no and unknown is no, yes or unknown "
        "is yes."
    )


def _functions(made: Blocks) -> None:
    made.heading(2, "Functions")
    made.table(
        ("function", "written", "gives"),
        [(Code(f.name), Code(f.usage), f.says) for f in FUNCTIONS.values()],
    )


def _shared(made: Blocks, book: Rulebook) -> None:
    made.heading(2, "Formulas and shared sheets")
    made.text(
        "A calculation that is made with several elements or numbers is a formula: under",
        Code("formulas:"),
        "it says what it is of, and it is then written like a function. What several rules "
        "calculate alike stands on a shared sheet; a rule that",
        Code("uses: [NAME]"),
        "borrows from it what it mentions, and names nothing of its own like it. An amendment that "
        "says",
        Code("shared: NAME"),
        "and sets a value changes it for all of them.",
    )
    for sheet in book.sheets.all().values():
        made.heading(3, sheet.name, f"shared-{sheet.name}")
        made.text(sheet.title + ". " + tidy(sheet.note))
        rows: list[tuple[Inline, ...]] = [
            (Code(name), "value", Code(plain_text(value.part.value)), value.note)
            for name, value in sheet.values.items()
        ]
        for name, step in sheet.steps.items():
            rows.append((Code(name), "step", Code(tidy(step.expression.value)), step.note))
        for formula in sheet.formulas.values():
            text = Code(tidy(formula.expression.value))
            rows.append((Code(formula.formula.usage), "formula", text, formula.note))
        made.table(("name", "", "is", "what it is"), rows)


def _units(made: Blocks) -> None:
    made.heading(2, "Quantities and units")
    made.text("A number is calculated in the usual unit of its kind; it may be written in any.")
    rows: list[tuple[Inline, ...]] = []
    for dimension, unit in UNIT_OF.items():
        if dimension == NONE:
            rows.append(
                ("share or count", Code("40 %"), ("also", Code("0.4 ratio"), ",", Code("3 count")))
            )
            continue
        others = ", ".join(u for u in USUAL.get(dimension, ()) if u != unit)
        rows.append((dimension.name, Code(unit), others))
    made.table(("kind", "calculated and shown in", "also written in"), rows)


def _files(made: Blocks) -> None:
    made.heading(2, "Keys of the files")
    made.text(
        "Every key that a file may have; any other is an error. The JSON Schemas say the same to "
        "editors:",
        Code("pullpoint schema rules"),
        ".",
    )
    for record, words in _FILES:
        made.heading(3, words[0].upper() + words[1:])
        short = getattr(record, "SHORT", "")
        if short:
            made.text("Written without keys, it is its", Code(f"{short}:"), "alone.")
        made.table(
            ("key", "what", "needed"),
            [
                (Code(f.key), f.doc + _choices(f), "yes" if _needed(f) else "")
                for f in fields_of(record)
            ],
        )


def _choices(field: Field) -> str:
    inner = field.item if field.item is not None else field
    return f": {', '.join(inner.options)}" if inner.options else ""


def _needed(field: Field) -> bool:
    return repr(field.default) == "REQUIRED"


def _elements(made: Blocks) -> None:
    made.heading(2, "Elements")
    subjects = ", ".join(SUBJECTS)
    made.text(
        f"A rule is checked on one or more of these classes: {subjects}. The others are reached "
        "through their fields. A derived field follows from the description and is never written."
    )
    for name, record in CLASSES.items():
        made.heading(3, name, f"element-{name}")
        made.text(words_of(record) + ".")
        made.table(
            ("field", "kind", "what", "where it comes from"),
            [(Code(f.name), _kind(type_of(f)), f.doc, _origin(f)) for f in fields_of(record)],
        )


def _kind(kind: Type) -> Inline:
    if isinstance(kind, List):
        inner = _kind(kind.item)
        pieces = inner if isinstance(inner, tuple) and not isinstance(inner, Link) else (inner,)
        return ("list of", *pieces)
    if isinstance(kind, Record):
        return Link((kind.name, f"element-{kind.name}"))
    if isinstance(kind, Text) and kind.options:
        return ("text:", ", ".join(kind.options))
    return str(kind)


def _origin(field: Field) -> Inline:
    if field.derived:
        return "derived"
    written = ("written as", Code(field.key)) if field.key != field.name else ("written",)
    if _needed(field):
        return (*written, ", needed")
    default = field.default
    if isinstance(default, Missing):
        return (*written, ", open where a rule needs it and it is not")
    if isinstance(default, bool):
        return (*written, f", {'yes' if default else 'no'} unless stated")
    if isinstance(default, (int, float)) or (isinstance(default, str) and default):
        return (*written, f", {default} unless stated")
    return written


def _tables(made: Blocks, book: Rulebook) -> None:
    made.heading(2, "Tables")
    made.text(
        "A look-up gives all keys by name. A key that is found",
        Code("up to"),
        "takes the first row that is not below it,",
        Code("from"),
        "the last row that is not above it. A look-up that finds nothing makes the finding open.",
        Code("pullpoint tables show NAME"),
        "prints a table with the sources of its numbers.",
    )
    for name, table in book.tables.items():
        made.heading(3, name)
        made.text(f"{table.title} ({table.cite.get(table.edition, table.title)}).")
        rows: list[tuple[Inline, ...]] = []
        for key in table.keys:
            how = {"exact": "key", "up_to": "key, up to", "from": "key, from"}[key.match]
            rows.append((Code(key.name), how, key.unit or key.kind.replace("_", " "), ""))
        for column in table.columns:
            unit = column.unit or column.kind.replace("_", " ")
            rows.append((Code(column.name), "column", unit, column.checked))
        made.table(("name", "", "unit or kind", "checked"), rows)
