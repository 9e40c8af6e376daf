"""The reference of the rule language, made from the code: functions, elements, tables."""

from __future__ import annotations

from dataclasses import dataclass

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
from checker.rulebook.vocabulary import type_of

from .rule_view import shared_view
from .templating import document

_FILES = (
    (records.RuleFile, "a rule file"),
    (records.ValueFile, "a value"),
    (records.FormulaFile, "a formula"),
    (records.StepFile, "a step"),
    (records.CaseFile, "a case of `judge`"),
    (records.ChoiceFile, "one of the `cases` of a step"),
    (records.GroupFile, "a group, or an element under `worst` or `least`"),
    (records.TermFile, "a term of a `sum`"),
    (records.FixesFile, "the fixes of a case"),
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


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of the words for a kind: text, or the class of elements that it leads to."""

    text: str = ""
    record: str = ""


@dataclass(frozen=True, slots=True)
class FieldView:
    """A field of an element or key of a file; ``unless``: what holds where it is not written."""

    name: str
    key: str
    says: str
    options: tuple[str, ...]
    kind: list[Piece]
    derived: bool
    needed: bool
    unless: str


@dataclass(frozen=True, slots=True)
class RecordView:
    """A class of elements, or a kind of file; ``short``: the key that it may be written as."""

    name: str
    words: str
    says: str
    short: str
    fields: list[FieldView]


def reference(book: Rulebook, form: str) -> str:
    """The reference, as ``markdown`` or ``html``; tables are those of the book's edition."""
    return document(
        "language.jinja",
        form,
        limits={"characters": MAX_CHARACTERS, "parts": MAX_NODES, "levels": MAX_DEPTH},
        functions=list(FUNCTIONS.values()),
        shared=[shared_view(sheet, book) for sheet in book.sheets.all().values()],
        units=_units(),
        files=[_record(record, "", words, elements=False) for record, words in _FILES],
        subjects=list(SUBJECTS),
        elements=[_record(record, name, "", elements=True) for name, record in CLASSES.items()],
        tables=list(book.tables.values()),
    )


def _units() -> list[tuple[str, str, str]]:
    """Dimension ("" for plain numbers), usual unit, others."""
    return [
        ("", "", "")
        if dimension == NONE
        else (dimension.name, unit, ", ".join(u for u in USUAL.get(dimension, ()) if u != unit))
        for dimension, unit in UNIT_OF.items()
    ]


def _record(record: type, name: str, words: str, *, elements: bool) -> RecordView:
    fields = [_field(f, f.doc, elements) for f in fields_of(record)]
    return RecordView(name, words, words_of(record), getattr(record, "SHORT", ""), fields)


def _field(field: Field, says: str, element: bool) -> FieldView:
    inner = field.item if field.item is not None else field
    return FieldView(
        name=field.name,
        key=field.key,
        says=says,
        options=tuple(inner.options or ()),
        kind=_kind(type_of(field)) if element else [],
        derived=field.derived,
        needed=_needed(field),
        unless=_unless(field),
    )


def _kind(kind: Type) -> list[Piece]:
    if isinstance(kind, List):
        return [Piece("list of"), *_kind(kind.item)]
    if isinstance(kind, Record):
        return [Piece(record=kind.name)]
    if isinstance(kind, Text) and kind.options:
        return [Piece("text:"), Piece(", ".join(kind.options))]
    return [Piece(str(kind))]


def _needed(field: Field) -> bool:
    return repr(field.default) == "REQUIRED"


def _unless(field: Field) -> str:
    default = field.default
    if _needed(field):
        return ", needed"
    if isinstance(default, Missing):
        return ", open where a rule needs it and it is not"
    if isinstance(default, bool):
        return f", {'yes' if default else 'no'} unless stated"
    if isinstance(default, (int, float)) or (isinstance(default, str) and default):
        return f", {default} unless stated"
    return ""
