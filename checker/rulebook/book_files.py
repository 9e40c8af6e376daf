"""The files that kept rulebooks are in, and the fingerprint of those that they are made from."""

from __future__ import annotations

import marshal
import os
from binascii import crc32
from typing import Any

from checker.documents.digest import sha256
from checker.documents.source import note_read

from .folder import EXAMPLES

_PROGRAM = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
#: Where compiled rules are kept: a folder of the program, made where the program may be written.
HERE = os.path.join(_PROGRAM, "kept")
_PARTS = ("assembly", "documents", "language", "quantities", "rulebook", "tables")
_WHOLE = 0x2144DF1C  # what every text followed by its own checksum comes to


def add_files(total: Any, folder: str, held: dict[str, bytes]) -> None:
    """Names and contents of the rule or table files; examples decide nothing.

    A linked folder is read all the same, but nothing is walked into twice.  Raises OSError.
    """
    for where, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if name != "amendments")
        _add(total, folder, where, names, held)
        for name in folders:
            linked = os.path.join(where, name)
            if os.path.islink(linked):
                _add(total, folder, linked, os.listdir(linked), held)


def _add(total: Any, folder: str, where: str, names: list[str], held: dict[str, bytes]) -> None:
    for name in sorted(names):
        if not name.endswith(".yaml") or name.endswith(EXAMPLES):
            continue
        path = os.path.join(where, name)
        with open(path, "rb") as file:
            note_read(os.fstat(file.fileno()))
            data = held[path] = file.read()
        total.update(f"{os.path.relpath(path, folder)} {len(data)}\n".encode())
        total.update(data)


def _program() -> str:
    """A fingerprint of the program's own source; "" where it cannot be read."""
    total = sha256()
    waiting = [os.path.join(_PROGRAM, name) for name in _PARTS]
    try:
        while waiting:
            with os.scandir(waiting.pop(0)) as entries:
                for entry in sorted(entries, key=lambda e: e.name):
                    if entry.name.endswith(".py"):
                        with open(entry.path, "rb") as file:
                            data = file.read()
                        total.update(f"{entry.name} {len(data)}\n".encode())
                        total.update(data)
                    elif "." not in entry.name and entry.name != "__pycache__" and entry.is_dir():
                        waiting.append(entry.path)
    except OSError:
        return ""
    return total.hexdigest()


#: As the files are when the program starts: one that is changed while it runs is not what runs.
PROGRAM = _program()


def read_kept(path: str, fingerprint: str) -> dict[str, Any] | None:
    """What is kept in a file; None where it is not whole or of another fingerprint."""
    try:
        with open(path, "rb") as file:
            if file.read(len(fingerprint)) != fingerprint.encode():
                return None
            data = file.read()
    except OSError:
        return None
    if crc32(data) != _WHOLE:
        return None
    try:
        kept = marshal.loads(memoryview(data)[:-4])
    except (ValueError, EOFError, TypeError):
        return None
    return kept if isinstance(kept, dict) else None


def may_write(path: str) -> bool:
    """Whether a file may be made, with its folder where there is none yet."""
    folder = os.path.dirname(path)
    there = folder if os.path.exists(folder) else os.path.dirname(folder)
    return os.path.isdir(there) and os.access(there, os.W_OK)


def write_kept(path: str, fingerprint: str, facts: dict[str, Any]) -> None:
    """Keep facts, beside and renamed; where the program cannot be written it is done without."""
    payload = marshal.dumps(facts)
    beside = f"{path}.{os.getpid()}"
    try:
        os.makedirs(os.path.dirname(path), mode=0o755, exist_ok=True)
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o644)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(fingerprint.encode())
                file.write(payload + crc32(payload).to_bytes(4, "little"))
            os.replace(beside, path)
        except BaseException:
            # What is left of a disk is the report's: half a book is of no use to anybody.
            os.unlink(beside)
            raise
    except OSError:
        return
