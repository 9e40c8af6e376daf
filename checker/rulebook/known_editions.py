"""Editions that rule files name: one that there is not would silently be left out."""

from __future__ import annotations

from collections.abc import Sequence

from checker.documents.errors import Mark, Problem, nearest
from checker.documents.source import Source

from .records import SharedFile
from .rule import RuleRecord

ANY = "any"


def unknown_editions(
    file: RuleRecord | SharedFile, source: Source, known: Sequence[str]
) -> list[Problem]:
    """A problem for every edition under ``cite`` and ``in`` that is not among the ``known``."""
    named: list[tuple[str, Mark]] = []
    if isinstance(file, RuleRecord):
        node = file.node.get("cite")
        named += [(name, node.key_mark(name)) for name in file.cites if name != ANY]
    for value in file.values.values():
        named += [(name, value.node["in"].key_mark(name)) for name in value.in_]
    return [
        source.problem(
            mark,
            f"there is no edition `{name}`",
            found=name,
            expected="one of " + ", ".join(known),
            suggestion=nearest(name, known) or "",
            length=len(name),
        )
        for name, mark in named
        if name not in known
    ]
