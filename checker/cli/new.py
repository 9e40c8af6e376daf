"""``pullpoint new``: a commented starting file that already passes its own check."""

from __future__ import annotations

import argparse
import os
import re

from checker.documents.errors import InputError, Problem, printable
from checker.schemas import schema_path

#: The starting files: each passes its own check, which tests hold.
_FOLDER = os.path.join(os.path.dirname(os.path.abspath(__file__)), "starting")
#: What to do next with a file of each kind.
_NEXT = {
    "assembly": "pullpoint check {path}",
    "amendment": "pullpoint rules test {path}",
    "rule": "pullpoint rules test {path}",
    "decisions": "pullpoint check FILE --decisions {path} --as-of DATE",
}
_ODD = re.compile(r"[^A-Za-z0-9._-]+")


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    parser.add_argument("kind", choices=tuple(_NEXT), help="what to start")
    parser.add_argument("path", metavar="PATH", help="the file to write; it may not exist yet")


def run(arguments: argparse.Namespace) -> int:
    """Write the file and say what to do next."""
    kind, path = arguments.kind, arguments.path
    with open(os.path.join(_FOLDER, f"{kind}.yaml"), encoding="utf-8") as file:
        text = file.read().replace("{schema}", schema_comment(kind, path))
    write_once(path, text.replace("{id}", identifier(path, kind)))
    print(printable(f"wrote {path}; next: {_NEXT[kind].format(path=path)}"))
    return 0


def identifier(path: str, kind: str) -> str:
    """An id from the file's name, of letters, digits, dots, dashes and underscores."""
    stem = os.path.basename(path).partition(".")[0]
    return _ODD.sub("-", stem).strip("-") or kind


def schema_comment(kind: str, path: str) -> str:
    """The schema as the editor finds it from the file: relative where that is possible."""
    schema = schema_path(kind)
    folder = os.path.dirname(os.path.abspath(path))
    try:
        found = os.path.relpath(os.path.realpath(schema), os.path.realpath(folder))
    except ValueError:  # another drive
        found = schema
    return found.replace(os.sep, "/")


def write_once(path: str, text: str) -> None:
    """Write a new file.  Raises InputError where there is one already, which is left as it is."""
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
    except FileExistsError:
        raise InputError(
            Problem(
                path,
                0,
                0,
                "there is a file of this name already; it was left as it is",
                expected="the name of a new file",
            )
        ) from None
    except FileNotFoundError:
        folder = os.path.dirname(path) or "."
        raise InputError(
            Problem(
                path, 0, 0, f"the folder {folder} does not exist", expected="a folder that does"
            )
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(Problem(path, 0, 0, f"cannot write: {reason}")) from None
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except BaseException:
        os.unlink(path)  # half a file is worse than none
        raise
