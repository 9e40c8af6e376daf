"""Reads one rule, edition, examples or amendment file as a record."""

from __future__ import annotations

from typing import Any

from checker.documents.loader import load
from checker.documents.reader import Reader
from checker.documents.source import Source

from .records import RECORDS


def read_file(record: type, source: Source, what: str) -> Any:
    """Read a rule, edition, examples or amendment file.  Raises InputError."""
    reader = Reader(load(source), RECORDS)
    made = reader.root(record, what)
    reader.finish()
    return made
