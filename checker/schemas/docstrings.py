"""Descriptions of records and fields, from the records' own docstrings.

A docstring starts with what the record is; every line ``name: text`` after that describes a field,
and lines that follow without a name belong to the one above.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from checker.documents.fields import Field

_LINE = re.compile(r"([A-Za-z_][A-Za-z0-9_]*): (.+)")


@dataclass(frozen=True, slots=True)
class Description:
    """What a docstring says: of the record, and of each field by its name."""

    record: str
    fields: dict[str, str]

    def of(self, field: Field) -> str:
        """What a field is, "" where the docstring does not say."""
        return self.fields.get(field.name) or self.fields.get(field.key, "")


_known: dict[type, Description] = {}


def described(record: type) -> Description:
    """The description of a record class and its fields."""
    found = _known.get(record)
    if found is None:
        found = _known[record] = _read(record.__doc__ or "")
    return found


def _read(text: str) -> Description:
    lead: list[str] = []
    fields: dict[str, list[str]] = {}
    current = lead
    for line in text.split("\n"):
        stripped = line.strip()
        match = _LINE.fullmatch(stripped)
        if match is not None and lead:
            current = fields.setdefault(match[1], [])
            current.append(match[2])
        elif stripped:
            current.append(stripped)
    return Description(
        " ".join(lead).rstrip("."), {name: " ".join(parts) for name, parts in fields.items()}
    )
