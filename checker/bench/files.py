"""Which files of a folder hold tests, and what each of them is."""

from __future__ import annotations

import os

from checker.documents.errors import InputError, Problem, nearest
from checker.documents.loader import Document
from checker.documents.nodes import Mapping
from checker.paths import rules_folder
from checker.rulebook.book import EXAMPLES


def file_named(path: str) -> str:
    """The shipped file of a rule or amendment that is named by its id; else the path as it is."""
    if os.path.exists(path) or os.path.basename(path) != path or path.endswith(".yaml"):
        return path
    shipped = {os.path.basename(file).removesuffix(".yaml"): file for file in shipped_files()}
    if path in shipped:
        return shipped[path]
    raise InputError(
        Problem(
            path,
            0,
            0,
            "there is no such file, and no rule of this id",
            path,
            "a file, a folder, or an id: see `pullpoint rules list`",
            nearest(path, shipped) or "",
        )
    )


def shipped_files() -> list[str]:
    """The shipped rule and amendment files, without examples and editions."""
    folder = rules_folder()
    return [
        file
        for file in files_below(folder)
        if not file.endswith(EXAMPLES)
        and os.path.dirname(file) not in (folder, os.path.join(folder, "editions"))
    ]


def files_below(folder: str) -> list[str]:
    """The YAML files of a folder and the folders in it, in order."""
    found = []
    for where, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        found += [os.path.join(where, name) for name in sorted(names) if name.endswith(".yaml")]
    return found


def kind_of(document: Document) -> str:
    """What a file is, by its first key."""
    root = document.root
    if isinstance(root, Mapping):
        for key in ("rule", "examples_of", "amendment"):
            if key in root:
                return key
    return ""


def beside_its_rule(path: str) -> bool:
    """Whether the rule of an examples file is beside it."""
    return os.path.exists(path.removesuffix(EXAMPLES) + ".yaml")
