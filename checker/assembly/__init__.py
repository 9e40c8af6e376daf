"""The electrical model: an assembly's elements, how they hang together, what follows from them."""

from __future__ import annotations

import os

from checker.documents.errors import InputError
from checker.documents.loader import Document, load
from checker.documents.nodes import Mapping
from checker.documents.reader import Reader
from checker.documents.source import Source, read_source

from .derive import derive
from .facts.gaps import describe
from .records import CLASSES, RECORDS, SUBJECTS, Assembly
from .routes import find_routes
from .sense import check_sense
from .short.asked import is_short
from .structure import Index
from .trade import NOTHING_KNOWN, Trade

__all__ = [
    "CLASSES",
    "SUBJECTS",
    "Assembly",
    "describe",
    "from_document",
    "from_source",
    "read_assembly",
]


def read_assembly(
    path: str | os.PathLike[str], trade: Trade = NOTHING_KNOWN
) -> tuple[Assembly, Source]:
    """Read and resolve an assembly file.  Raises InputError with every problem of the file.

    ``trade``: what tables say of conduit by its trade size.
    """
    source = read_source(path)
    assembly = from_source(source, trade)
    # Of a design that uses other files, the source that covers them too.
    return assembly, assembly.node.source


def from_source(source: Source, trade: Trade = NOTHING_KNOWN) -> Assembly:
    """Read and resolve an assembly from a source that was read already."""
    return from_document(load(source), trade)


#: What begins a file of another kind, and what is done with one.
_OTHERS = {
    "amendment": (
        "this is an amendment",
        "`--amend` applies it, `pullpoint rules test` runs its examples",
    ),
    "rule": ("this is a rule", "`pullpoint rules test` runs its examples"),
    "examples_of": ("these are examples of a rule", "`pullpoint rules test` runs them"),
    "decisions_for": ("this is a decision file", "`--decisions` takes it"),
}


def _refuse_another_kind(document: Document) -> None:
    """One problem, and not one for every key of the file."""
    root = document.root
    if not isinstance(root, Mapping) or "assembly" in root:
        return
    for key, (what, use) in _OTHERS.items():
        if key in root:
            raise InputError(
                document.source.problem(
                    root.key_mark(key),
                    f"{what}, not an assembly",
                    found=f"`{key}:`",
                    expected=f"a file with `assembly:`; {use}",
                    length=len(key),
                )
            )


def _reader(document: Document) -> Reader:
    """What reads a document; of one in the short form, as it is when written out."""
    if not is_short(document.root):
        return Reader(document, RECORDS, keep_open=True)
    from .short.expand import expanded
    from .short.problems import ShortReader

    written_out, files = expanded(document)
    return ShortReader(written_out, RECORDS, files)


def from_document(document: Document, trade: Trade = NOTHING_KNOWN) -> Assembly:
    """Resolve an assembly from a document.  Raises InputError."""
    _refuse_another_kind(document)
    reader = _reader(document)
    assembly: Assembly = reader.root(Assembly, "an assembly")
    index = Index(assembly, reader)
    find_routes(index)
    check_sense(index)
    reader.finish()
    derive(index, trade)
    reader.close()
    return assembly
