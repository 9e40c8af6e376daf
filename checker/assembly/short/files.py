"""Where the values of an expanded design stand: in which file, by which placement, of which type.

A mapping keeps one number for each of its keys and values.  The files of a design are numbered
through, so that the number still says it all: each file used begins where the one before it ends.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from checker.documents.digest import sha256
from checker.documents.errors import Mark
from checker.documents.source import Source


class At(Mark):
    """A place of an expanded design.

    source: the file that it is in; placed: the placement that asked for it, if one did.
    """

    source: Source
    placed: Placement | None

    @classmethod
    def of(cls, mark: Mark, source: Source, placed: Placement | None = None) -> At:
        """A place with what more is known of it."""
        made = cls(mark.line, mark.column)
        made.source = source
        made.placed = placed
        return made


@dataclass(frozen=True, slots=True)
class Placement:
    """One placement of a group: its id, where it stands, and how it is turned."""

    id: str
    group: str
    mark: Mark
    mirrored: str = ""


class UsedFile(Source):
    """A file that a design uses; its places say so.  ``name`` is its path from the design."""

    __slots__ = ("base", "name")

    def __init__(self, source: Source, name: str, base: int) -> None:
        super().__init__(source.path, source.data, source.text)
        self.name = name
        self.base = base

    def mark(self, index: int) -> Mark:
        return At.of(super().mark(index), self)


@dataclass(slots=True)
class Told:
    """What a reader of the findings has to know of the expansion.

    by_scheme: ids of the pulls with wires whose colors are those of the project's scheme.
    """

    placements: list[Placement] = field(default_factory=list)
    by_scheme: list[str] = field(default_factory=list)


class Files(Source):
    """All files of a design: its own, which this is a copy of, and those that it uses."""

    __slots__ = ("_bases", "main", "told", "used")

    def __init__(self, main: Source) -> None:
        super().__init__(main.path, main.data, main.text)
        self.main = main
        self.used: list[UsedFile] = []
        self.told = Told()

    def add(self, source: Source, name: str) -> UsedFile:
        """One file more."""
        last: Source = self.used[-1] if self.used else self.main
        base = base_of(last) + len(last.text) + 1
        found = UsedFile(source, name, base)
        self.used.append(found)
        return found

    def mark(self, index: int) -> Mark:
        for file in reversed(self.used):
            if index >= file.base:
                return file.mark(index - file.base)
        return At.of(self.main.mark(index), self.main)

    @property
    def digest(self) -> str:
        """That of the design's own file; where it uses others, one that covers all of them."""
        if not self.used:
            return self.main.digest
        if not self._digest:
            total = sha256(self.main.digest.encode())
            for file in sorted(self.used, key=lambda one: one.name):
                total.update(f"\n{file.name}\0{file.digest}".encode(errors="surrogateescape"))
            self._digest = f"sha256:{total.hexdigest()}"
        return self._digest


class Origin(Source):
    """The source of expanded elements: all files of the design, with placement and type.

    like: the name of the type, and where that stands.
    """

    __slots__ = ("files", "like", "placed")

    def __init__(
        self, files: Files, placed: Placement | None, like: tuple[str, int] | None
    ) -> None:
        super().__init__(files.path, files.data, files.text)
        self.files = files
        self.placed = placed
        self.like = like

    def mark(self, index: int) -> Mark:
        found = self.files.mark(index)
        if self.placed is None:
            return found
        return At.of(found, getattr(found, "source", self.files.main), self.placed)

    @property
    def like_mark(self) -> Mark | None:
        """Where the type stands that the element is like."""
        return None if self.like is None else self.files.mark(self.like[1])


def base_of(source: Source) -> int:
    """The number that a file's places begin with."""
    return source.base if isinstance(source, UsedFile) else 0
