"""What a decision file holds, as records, and how it is read.

The published schema and the documentation are made from what is declared here, as with rule files.
"""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from checker.documents.fields import DATE, given
from checker.documents.loader import load
from checker.documents.reader import Reader
from checker.documents.source import Source
from checker.quantities.designations import trade_size, wire_size
from checker.quantities.notation import NotationError, number, quantity
from checker.rulebook.records import FileRecord, Identifier, Subject

Date = Annotated[str, DATE]
Disposition = Literal["accepted", "corrected_in_field", "not_applicable_here"]

_FINGERPRINT = re.compile(r"sha256:[0-9a-f]{12,64}")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DecidingAuthority(FileRecord):
    """The authority that decided."""

    name: str = given("who decided")
    reference: str = given("the number of its letter, variance or agreement")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DecisionFile(FileRecord):
    """What was decided on one finding: by whom, when, why, and on which measured value."""

    rule: str = given("the rule's id")
    element: str = given("the element's id; a run's is its raceway ids joined by +")
    class_: Subject | None = given(
        "the element's class, where the rule finds several elements of that id", default=None
    )
    disposition: Disposition = given(
        "accepted by the authority, corrected in the field, or not applicable here"
    )
    measure: str = given(
        "the measured value as decided, as the report prints it; a worse one is a new finding"
    )
    limit: str = given(
        "the limit as decided; needed where the limit follows from the design", default=""
    )
    rule_fingerprint: str = given(
        "the rule's fingerprint as decided, or its first 12 digits or more", default=""
    )
    authority: DecidingAuthority | None = given(
        "who accepted it, with the reference; needed for accepted", default=None
    )
    person: str = given("who records the decision")
    role: str = given("in what capacity")
    date: Date = given("the day of the decision")
    expires: Date | None = given(
        "the last day on which it holds; judged on the date given with --as-of", default=None
    )
    reason: str = given("why")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class DecisionsFile(FileRecord):
    """Recorded decisions on the findings of one assembly."""

    assembly: Identifier = given("the id of the assembly that they are for", key="decisions_for")
    decisions: tuple["DecisionFile", ...] = given(
        "the decisions; none removes a finding from a report"
    )


RECORDS: dict[str, type] = {
    record.__name__: record for record in (DecidingAuthority, DecisionFile, DecisionsFile)
}


def read_decisions(source: Source) -> DecisionsFile:
    """Read a decision file.  Raises InputError with every problem of the file."""
    reader = Reader(load(source), RECORDS)
    made: DecisionsFile = reader.root(DecisionsFile, "a decision file")
    for decision in made.decisions or ():
        _check(decision, reader)
    reader.finish()
    return made


def _check(decision: DecisionFile, reader: Reader) -> None:
    """What a single field's declaration cannot say."""
    for key in ("rule", "element", "measure", "person", "role", "reason"):
        _not_blank(decision, key, reader)
    if decision.authority is not None:
        _not_blank(decision.authority, "name", reader)
        _not_blank(decision.authority, "reference", reader)
    node = decision.node
    if decision.disposition == "accepted" and "authority" not in node:
        reader.report(
            node.value_mark("disposition"),
            "`accepted` needs the authority that accepted it",
            found="no `authority:`",
            expected="`authority: {name: …, reference: …}`",
            length=len("accepted"),
        )
    for key in ("measure", "limit"):
        text = getattr(decision, key)
        if isinstance(text, str) and text.strip() and not _is_amount(text):
            reader.report(
                node.value_mark(key),
                f"`{key}` cannot be read",
                found=text[:200],
                expected="the value with its unit as the report prints it, such as 375 deg, "
                "44.2 %, 12 or 12 AWG",
                length=len(text),
            )
    text = decision.rule_fingerprint
    if text and not _FINGERPRINT.fullmatch(text):
        reader.report(
            node.value_mark("rule_fingerprint"),
            "`rule_fingerprint` cannot be read",
            found=text[:200],
            expected="sha256: and 12 to 64 digits, as the report prints it",
            length=len(text),
        )
    date, expires = decision.date, decision.expires
    if isinstance(date, str) and isinstance(expires, str) and expires < date:
        reader.report(
            node.value_mark("expires"),
            "the decision expires before it was made",
            found=f"made on {date}, expires {expires}",
            expected="a last day on or after the day of the decision",
            length=len(expires),
        )


def _not_blank(record: FileRecord, key: str, reader: Reader) -> None:
    value = getattr(record, key)
    if isinstance(value, str) and not value.strip() and key in record.node:
        reader.report(
            record.node.value_mark(key),
            f"`{key}` is blank",
            found="no text",
            expected="text: a decision without it says too little to stand on",
        )


def _is_amount(text: str) -> bool:
    for read in (number, quantity, wire_size, trade_size):
        try:
            read(text)
        except NotationError:
            continue
        return True
    return False
