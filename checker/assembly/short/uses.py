"""The files that a design uses: types and groups, from below its own folder."""

from __future__ import annotations

import os
from typing import Any

from checker.documents.errors import InputError, nearest
from checker.documents.loader import load
from checker.documents.nodes import Mapping, Sequence
from checker.documents.source import read_source

from .files import Files
from .problems import Notes
from .shelf import Shelf

#: Files below each other, files in all, and bytes of one.
MOST_LEVELS, MOST_FILES, MOST_BYTES = 3, 100, 4_000_000
_KEYS = ("types", "groups", "use")


class Library:
    """Reads the files that a design uses, each once, and puts what they hold on the shelf."""

    def __init__(self, files: Files, shelf: Shelf, notes: Notes) -> None:
        self.files = files
        self.shelf = shelf
        self.notes = notes
        self.top = os.path.realpath(os.path.dirname(files.main.path) or ".")
        self._done: set[str] = set()

    def use(self, root: Mapping) -> None:
        """Read all files that the design names."""
        self._use(root, self.top, "", [os.path.realpath(self.files.main.path)])

    def _use(self, root: Mapping, folder: str, within: str, above: list[str]) -> None:
        value = root.get("use")
        if value is None:
            return
        if isinstance(value, str):
            self._file(value, root.value_mark("use"), folder, within, above)
            return
        if not isinstance(value, Sequence):
            expected = "a list of files, such as [library/boxes.yaml]"
            mark = root.value_mark("use")
            self.notes.add(mark, "`use` cannot be read", found="a mapping", expected=expected)
            return
        for at, name in enumerate(value):
            self._file(name, value.value_mark(at), folder, within, above)

    def _file(self, name: Any, mark: Any, folder: str, within: str, above: list[str]) -> None:
        """One file, named from ``folder``, which is ``within`` the design's."""
        trouble = self._refused(name)
        path = "" if trouble else os.path.join(folder, os.path.normpath(name))
        real = os.path.realpath(path) if path else ""
        if not trouble and not real.startswith(self.top.rstrip(os.sep) + os.sep):
            trouble = "a link that leads out of the folder of the design"
        if not trouble and real in above:
            trouble = "a circle: a file that uses this one"
        if not trouble and len(above) > MOST_LEVELS:
            trouble = f"more than {MOST_LEVELS} files below each other"
        if trouble:
            expected = "a YAML file in or below the folder of this file"
            shown = name[:200] if isinstance(name, str) else "no text"
            message = "a file that cannot be used"
            self.notes.add(mark, message, found=f"{shown}: {trouble}", expected=expected)
            return
        if real in self._done:
            return
        self._done.add(real)
        if len(self._done) > MOST_FILES:
            message = f"more than {MOST_FILES} files are used"
            self.notes.add(mark, message, found=name, expected="fewer files")
            self.notes.stop()
        called = os.path.join(within, os.path.normpath(name))
        shown = os.path.join(os.path.dirname(self.files.main.path), called)
        if not os.path.isfile(real):
            close = _beside(path)
            expected = "a YAML file in or below the folder of this file"
            message = "there is no such file to use"
            length = len(name)
            self.notes.add(
                mark, message, found=name, expected=expected, suggestion=close, length=length
            )
            return
        self._read(shown, called, os.path.dirname(path), [*above, real])

    @staticmethod
    def _refused(name: Any) -> str:
        if not isinstance(name, str) or not name.strip() or "\0" in name:
            return "no name of a file"
        if "://" in name:
            return "an address"
        if os.path.isabs(name) or "\\" in name or name[1:2] == ":":
            return "a path that does not begin in the folder of this file"
        if ".." in name.split("/"):
            return "a path out of the folder of this file"
        return "" if name.lower().endswith((".yaml", ".yml", ".json")) else "no YAML file"

    def _read(self, shown: str, called: str, folder: str, above: list[str]) -> None:
        try:
            source = read_source(shown, limit=MOST_BYTES)
            root = load(self.files.add(source, called.replace(os.sep, "/"))).root
        except InputError as error:
            self.notes.problems += error.problems
            return
        if not isinstance(root, Mapping):
            message = "a file to be used is written as keys with values"
            file = self.files.used[-1]
            expected = "one of " + ", ".join(_KEYS)
            self.notes.add(file.mark(0), message, expected=expected)
            return
        for key in root:
            if key not in _KEYS:
                self.notes.add(
                    root.key_mark(key),
                    f"unknown key `{key[:200]}` in a file to be used",
                    found=key[:200],
                    expected="one of " + ", ".join(_KEYS),
                    suggestion=nearest(key, _KEYS) or "",
                    length=len(key),
                )
        self._use(root, folder, os.path.dirname(called), above)
        self.shelf.take_types(root)
        self.shelf.take_groups(root)


def _beside(path: str) -> str:
    folder, base = os.path.split(path)
    try:
        known = sorted(os.listdir(folder))[:5000]
    except OSError:
        return ""
    near = nearest(base, known)
    return near if near and near != base else ""
