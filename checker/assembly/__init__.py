"""The electrical model: an assembly's elements, how they hang together, what follows from them."""

from __future__ import annotations

import os

from checker.documents.loader import Document, load
from checker.documents.reader import Reader
from checker.documents.source import Source, read_source

from .derive import derive, describe
from .records import CLASSES, SUBJECTS, Assembly
from .relations import relate
from .sense import check_sense
from .structure import Index

__all__ = [
    "CLASSES",
    "SUBJECTS",
    "Assembly",
    "describe",
    "from_document",
    "from_source",
    "read_assembly",
]

_RECORDS = {record.__name__: record for record in CLASSES.values()}


def read_assembly(path: str | os.PathLike[str]) -> tuple[Assembly, Source]:
    """Read and resolve an assembly file.  Raises InputError with every problem of the file."""
    source = read_source(path)
    return from_source(source), source


def from_source(source: Source) -> Assembly:
    """Read and resolve an assembly from a source that was read already."""
    return from_document(load(source))


def from_document(document: Document) -> Assembly:
    """Resolve an assembly from a document.  Raises InputError."""
    reader = Reader(document, _RECORDS, keep_open=True)
    assembly: Assembly = reader.root(Assembly, "an assembly")
    index = Index(assembly, reader)
    check_sense(index)
    reader.finish()
    derive(index)
    relate(index)
    reader.close()
    return assembly
