"""What is wrong with a short form: collected, each once, with how many placements it is in."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import Any, NoReturn

from checker.documents.errors import InputError, Mark, Problem
from checker.documents.loader import Document
from checker.documents.reader import Reader
from checker.documents.source import Source

from .files import At, Files, Placement

_MOST = 100  # problems; nobody reads more
_NAMED = 4  # placements that a problem names
_QUOTED = re.compile(r"`[^`]*`")


@dataclass(slots=True)
class Notes:
    """Collects problems of the expansion, of all files of a design."""

    files: Files
    problems: list[Problem] = field(default_factory=list)

    def add(self, mark: Mark, message: str, **more: Any) -> None:
        """A problem at a place; ``more`` as for ``Source.problem``."""
        source: Source = getattr(mark, "source", self.files.main)
        problem = source.problem(mark, message, **more)
        if problem in self.problems:
            return  # a type or a group that several elements ask for
        self.problems.append(problem)
        if len(self.problems) >= _MOST:
            self.stop()

    def stop(self) -> NoReturn:
        """Raise what was found, the design's own problems first."""
        raise InputError(in_order(self.problems, self.files))

    def finish(self) -> None:
        """Raise what was found, if anything."""
        if self.problems:
            self.stop()


def in_order(problems: list[Problem], files: Files) -> list[Problem]:
    """By file, the design's own first, and by place in it."""
    order = {file.path: place for place, file in enumerate(files.used, 1)}
    return sorted(problems, key=lambda p: (order.get(p.file, 0), p.line, p.column))


@dataclass(slots=True)
class _Again:
    """A problem that comes again: its index, and the placements and elements that it is in."""

    index: int
    placed: list[Placement | None]


class ShortReader(Reader):
    """Reads an expanded document.  What is wrong in a type or a group is reported once."""

    def __init__(self, document: Document, classes: dict[str, type], files: Files) -> None:
        super().__init__(document, classes, keep_open=True)
        self._files = files
        self._known: dict[tuple[object, ...], _Again] = {}

    def report(self, mark: Mark, message: str, *, length: int = 1, **more: Any) -> None:
        """Add a problem, unless it is one of that place already."""
        source: Source = getattr(mark, "source", self._files.main)
        placed = mark.placed if isinstance(mark, At) else None
        key = (source.path, mark, _QUOTED.sub("`", message))
        known = self._known.get(key)
        if known is not None:
            if placed is None or placed not in known.placed:
                known.placed.append(placed)
            return
        self._known[key] = _Again(len(self.problems), [placed])
        problem = source.problem(mark, message, length=max(1, length), **more)
        self.problems.append(problem)
        if len(self.problems) >= _MOST:
            self.finish()

    def finish(self) -> None:
        """Raise what was found, if anything, with the placements."""
        for known in self._known.values():
            problem = self.problems[known.index]
            said = _where(known.placed)
            if said and not problem.message.endswith(said):
                self.problems[known.index] = replace(problem, message=problem.message + said)
        errors = [problem for problem in self.problems if problem.severity == "error"]
        if errors:
            raise InputError(in_order(errors, self._files))


def _where(placed: list[Placement | None]) -> str:
    """In which placements a problem is, or on how many elements."""
    placements = [one for one in placed if one is not None]
    if not placements:
        return f" ({len(placed)} elements)" if len(placed) > 1 else ""
    first = placements[0]
    if len(placements) == 1:
        return f" (placed at {first.mark.line}:{first.mark.column} as {first.id})"
    names = ", ".join([one.id for one in placements[:_NAMED]])
    more = ", …" if len(placements) > _NAMED else ""
    return f" (in {len(placements)} placements: {names}{more})"
