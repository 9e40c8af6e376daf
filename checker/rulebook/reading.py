"""Reads one rule, edition, examples or amendment file as a record."""

from __future__ import annotations

from typing import Any

from checker.documents.errors import InputError, Problem
from checker.documents.loader import Document, load
from checker.documents.nodes import Mapping, Sequence
from checker.documents.reader import Reader
from checker.documents.source import Source, read_source

from .records import RECORDS, AmendmentFile
from .rule import RULE_RECORDS, RuleRecord, settle

#: Bytes of a rule, edition or amendment file; a long one has about 50,000.
FILE_LIMIT = 1_000_000


def source_of(path: str) -> Source:
    """The source of a rule, edition or amendment file.  Raises InputError."""
    return read_source(path, limit=FILE_LIMIT)


def read_file(record: type, source: Source, what: str) -> Any:
    """Read a rule, edition, examples or amendment file.  Raises InputError."""
    return read_document(record, load(source), what)


def read_document(
    record: type, document: Document, what: str, classes: dict[str, type] = RECORDS
) -> Any:
    """Read such a file from a document.  Raises InputError with every problem of the file."""
    _refuse_controls(document)
    reader = Reader(document, classes)
    made = reader.root(record, what)
    reader.finish()
    return made


def read_rule(document: Document, origin: str) -> RuleRecord:
    """A rule file as ``origin``, an edition's short name, has it.  Raises InputError."""
    made: RuleRecord = read_document(RuleRecord, document, "a rule", RULE_RECORDS)
    settle(made, document.source, origin)
    return made


def read_amendment(source: Source) -> AmendmentFile:
    """An amendment file; the rules and values in it know their places.  Raises InputError."""
    made: AmendmentFile = read_document(AmendmentFile, load(source), "an amendment", RULE_RECORDS)
    for change in made.changes:
        for rule in (change.replace, change.add):
            if rule is not None:
                settle(rule, source, made.amendment)
        for name, value in change.values.items():
            settle(value, source, made.amendment)
            object.__setattr__(value, "named", change.node["values"].key_mark(name))
    return made


def _refuse_controls(document: Document) -> None:
    """Refuse characters that steer a terminal or turn a line around, wherever they stand.

    Titles, reasons and messages of these files are repeated in every form of report.  Raises
    InputError.
    """
    problems: list[Problem] = []
    waiting: list[Any] = [document.root]
    while waiting and len(problems) < _MOST_PROBLEMS:
        holder = waiting.pop()
        if not isinstance(holder, (Mapping, Sequence)):
            continue
        items: Any = holder.items() if isinstance(holder, Mapping) else enumerate(holder)
        for key, value in items:
            if isinstance(value, (Mapping, Sequence)):
                waiting.append(value)
                continue
            marks: Any = ((key, Mapping.key_mark), (value, type(holder).value_mark))
            for text, mark in marks:
                found = _control(text) if isinstance(text, str) else ""
                if found:
                    problems.append(
                        document.source.problem(
                            mark(holder, key),
                            "a character that cannot be seen",
                            found=f"U+{ord(found):04X} in `{text[:40]}`",
                            expected="letters, digits and signs",
                        )
                    )
    if problems:
        raise InputError(sorted(problems, key=lambda p: (p.line, p.column)))


def _control(text: str) -> str:
    """The first character of a text that is not to be printed, or ""."""
    if text.isprintable():
        return ""
    return next((c for c in text if not c.isprintable() and c not in _SPACES), "")


_MOST_PROBLEMS = 100
_SPACES = frozenset("\n\t\u00a0\u2007\u2009\u202f\u00ad")
