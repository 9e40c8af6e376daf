"""Reads small hand-drawn assemblies, as a file would be read."""

from __future__ import annotations

from typing import Any

from checker.assembly import from_source
from checker.assembly.records import Assembly
from checker.documents.source import Source


def draw(text: str) -> Assembly:
    """The assembly that a YAML text describes."""
    return from_source(Source.of_text("assembly: drawn\n" + text))


def named(elements: Any, name: str) -> Any:
    """The element called ``name``."""
    return next(e for e in elements if e.id == name)


def sizes(wires: Any) -> list[str]:
    """Sizes of wires in order, as ``phase 12``."""
    return [f"{w.role} {w.size.removesuffix(' AWG')}" for w in wires]
