"""A field that a design may state is read: by a rule, by a fact that rules read, or by a drawing.

What nobody reads would be stated for nothing, and a reader would take it for checked.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import checker
from checker.assembly.records import CLASSES
from checker.documents.fields import REQUIRED, Field, given_fields
from checker.rulebook.book import edition_ids, load_rulebook

#: Fields that neither rules nor facts nor drawings read, and why they are there.
NOT_JUDGED = {
    "assembly.project": "names the project on the cover",
    "authority.reference": "names the permit on the cover",
    "basis.amendments": "chooses the rules themselves, and basis-complete asks for their date",
    "basis.building": "read by amendments, in words of their own",
    "basis.edition": "chooses the rules themselves",
    "circuit.wire": "sizes the wires that `wires: by circuit` makes, which are judged",
    "panel.neutral": "colors the neutrals that `wires: by circuit` makes, which are judged",
    "wire_defaults.size": "sizes the wires that `wires: by circuit` makes, which are judged",
}

_HOME = Path(checker.__file__).parent
_BEHIND = ("assembly/facts", "assembly/aspects.py", "assembly/derive.py", "assembly/structure.py",
           "assembly/details.py", "reports/figures", "reports/schedules.py")  # fmt: skip


@cache
def read_by_rules() -> frozenset[tuple[str, str]]:
    """(class, field) of every expression of every shipped rule, in any edition."""
    books = [load_rulebook(edition) for edition in edition_ids()]
    forms = [form for book in books for rule in book.rules for form in rule.forms.values()]
    return frozenset(pair for form in forms for pair in form.reads)


@cache
def behind() -> str:
    """The program's text that makes facts of the model and draws it."""
    texts = []
    for name in _BEHIND:
        place = _HOME / name
        files = sorted(place.rglob("*.py")) if place.is_dir() else [place]
        texts += [file.read_text(encoding="utf-8") for file in files]
    return "\n".join(texts)


def optional() -> list[tuple[str, Field]]:
    return [
        (name, field)
        for name, record in CLASSES.items()
        for field in given_fields(record)
        if field.default is not REQUIRED
    ]


def is_read(record: str, field: Field) -> bool:
    if (record, field.name) in read_by_rules():
        return True
    mentioned = rf'\.{field.name}\b|"{field.name}"'
    return re.search(mentioned, behind()) is not None


def test_every_optional_field_is_read() -> None:
    unread = [
        f"{name}.{field.name}"
        for name, field in optional()
        if not is_read(name, field) and f"{name}.{field.name}" not in NOT_JUDGED
    ]
    assert unread == []


def test_the_exceptions_are_fields_that_no_rule_reads() -> None:
    fields = {f"{name}.{field.name}": (name, field.name) for name, field in optional()}
    assert NOT_JUDGED.keys() <= fields.keys()
    reads = read_by_rules()
    assert [name for name in NOT_JUDGED if fields[name] in reads - {("basis", "amendments")}] == []


def test_rules_read_most_fields_themselves() -> None:
    direct = [pair for pair in optional() if (pair[0], pair[1].name) in read_by_rules()]
    assert len(direct) > len(optional()) / 2
