"""The files of a rules folder: its editions, its rules by topic, and the sheets that they share."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from checker.documents.errors import nearest
from checker.documents.source import Source, each_file_once
from checker.paths import rules_folder

if TYPE_CHECKING:
    from .records import EditionFile

#: How the files end that hold the examples of the rule beside them.
EXAMPLES = ".examples.yaml"
SHEETS = "shared"
#: Lists requirements and the rules that check them; it is no rule.
COVERAGE = "coverage.yaml"


@dataclass(frozen=True, slots=True)
class RulesFolder:
    """A rules folder.  held: what was read of its files already; they are not read again."""

    path: str
    held: Mapping[str, bytes] = field(default_factory=dict, repr=False)

    @contextmanager
    def state(self) -> Iterator[None]:
        """While this lasts, files of the folder are as they were when the folder was read."""
        with each_file_once() as held:
            for path, data in self.held.items():
                held.setdefault(path, data)
            yield

    def source(self, path: str) -> Source:
        """A file of the folder as it was when the folder was read.  Raises InputError."""
        from .reading import source_of

        with self.state():
            return source_of(path)

    def editions(self) -> list[str]:
        """The editions, by id."""
        names = os.listdir(os.path.join(self.path, "editions"))
        return sorted(n.removesuffix(".yaml") for n in names if n.endswith(".yaml"))

    def edition(self, name: str) -> EditionFile:
        """An edition by its id.  Raises LookupError with the nearest one."""
        known = self.editions()
        if name not in known:
            close = nearest(name, known)
            raise LookupError(
                f"there is no edition `{name}`; there are {', '.join(known)}"
                + (f"; nearest: {close}" if close else "")
            )
        from .reading import read_file
        from .records import EditionFile

        path = os.path.join(self.path, "editions", name + ".yaml")
        done: EditionFile = read_file(EditionFile, self.source(path), "an edition")
        return done

    def rules(self) -> list[str]:
        """The rule files of the folder and its topic folders, in order."""
        found = []
        for where, folders, names in os.walk(self.path):
            folders[:] = sorted(f for f in folders if f not in ("editions", "amendments", SHEETS))
            found += [
                os.path.join(where, name)
                for name in sorted(names)
                if name.endswith(".yaml") and not name.endswith(EXAMPLES) and name != COVERAGE
            ]
        return found

    def sheets(self) -> list[str]:
        """The files of the shared sheets, in order."""
        where = os.path.join(self.path, SHEETS)
        if not os.path.isdir(where):
            return []
        return [
            os.path.join(where, name)
            for name in sorted(os.listdir(where))
            if name.endswith(".yaml") and not name.endswith(EXAMPLES)
        ]


def edition_ids(folder: str | None = None) -> list[str]:
    """The editions that are shipped."""
    return RulesFolder(folder or rules_folder()).editions()


def read_edition(name: str, folder: str | None = None) -> EditionFile:
    """An edition by its id.  Raises LookupError with the nearest one."""
    return RulesFolder(folder or rules_folder()).edition(name)


def examples_path(rule_file: str) -> str:
    """The examples file beside a rule file."""
    return rule_file.removesuffix(".yaml") + EXAMPLES
