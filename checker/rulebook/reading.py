"""Reads one rule, edition, examples or amendment file as a record."""

from __future__ import annotations

from typing import Any

from checker.documents.loader import Document, load
from checker.documents.reader import Reader
from checker.documents.source import Source, read_source

from .records import RECORDS

#: Bytes of a rule, edition or amendment file; a long one has about 50,000.
FILE_LIMIT = 1_000_000


def source_of(path: str) -> Source:
    """The source of a rule, edition or amendment file.  Raises InputError."""
    return read_source(path, limit=FILE_LIMIT)


def read_file(record: type, source: Source, what: str) -> Any:
    """Read a rule, edition, examples or amendment file.  Raises InputError."""
    return read_document(record, load(source), what)


def read_document(record: type, document: Document, what: str) -> Any:
    """Read such a file from a document.  Raises InputError with every problem of the file."""
    reader = Reader(document, RECORDS)
    made = reader.root(record, what)
    reader.finish()
    return made
