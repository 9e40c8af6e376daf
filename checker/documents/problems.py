"""Collects what is wrong with one document, each problem with its place and its line."""

from __future__ import annotations

from typing import Any

from .errors import InputError, Mark, Problem
from .loader import Document

_MOST_PROBLEMS = 100  # then reading ends: nobody reads more, and looking for names takes time


class Problems:
    """What is wrong with a document; a problem is noted, and reading goes on until ``finish``."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.problems: list[Problem] = []

    def report(self, mark: Mark, message: str, *, length: int = 1, **more: Any) -> None:
        """Add a problem at ``mark``; ``more`` is found, expected, suggestion, severity."""
        source = self.document.source
        self.problems.append(source.problem(mark, message, length=max(1, length), **more))
        if len(self.problems) >= _MOST_PROBLEMS:
            self.finish()

    def report_value(self, node: Any, key: Any, message: str, **more: Any) -> None:
        """Add a problem with the value of a mapping's key, or with an item of a list."""
        value = node[key]
        length = len(value) if isinstance(value, str) else 1
        self.report(node.value_mark(key), message, length=length, **more)

    def report_key(self, node: Any, key: str, message: str, **more: Any) -> None:
        """Add a problem with a mapping's key itself."""
        self.report(node.key_mark(key), message, length=len(key), **more)

    def finish(self) -> None:
        """Raise what was found, if anything, in the file's own order."""
        errors = [p for p in self.problems if p.severity == "error"]
        if errors:
            raise InputError(*sorted(errors, key=lambda p: (p.line, p.column)))
