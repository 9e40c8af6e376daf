"""Files written whole or not at all: beside their place, then renamed into it."""

from __future__ import annotations

import errno
import os
import stat

from .errors import InputError, Problem
from .source import was_read


def write_text(path: str | os.PathLike[str], text: str) -> None:
    """Write text as UTF-8. Raises InputError where it cannot be; the old file then still stands."""
    write_bytes(path, text.encode("utf-8", "backslashreplace"))


def write_bytes(path: str | os.PathLike[str], data: bytes) -> None:
    """Write bytes. Raises InputError where it cannot be; the old file then still stands.

    A link is followed and what it points at replaced. A device or pipe is written to directly.
    A file that this run has read is never replaced: a report must not take its design's place.
    """
    name = os.fspath(path)
    if not name or "\0" in name:
        raise _bad(name, "this is not a file name")
    try:
        target = os.path.realpath(name)
        known = _stat(target)
        mode = None if known is None else known.st_mode
        if mode is not None and stat.S_ISDIR(mode):
            raise _bad(name, "cannot write: this is a folder", expected="a file name")
        if known is not None and stat.S_ISREG(known.st_mode) and was_read(known):
            raise _bad(
                name,
                "cannot write: this file was read, and what it holds would be lost",
                expected="another file name",
            )
        if mode is not None and not stat.S_ISREG(mode):
            with open(target, "wb") as device:
                device.write(data)
            return
        _replace(target, data, mode)
    except OSError as error:
        raise _bad(name, f"cannot write: {_reason(error, name)}") from None


def _stat(target: str) -> os.stat_result | None:
    try:
        return os.stat(target)
    except FileNotFoundError:
        return None


def _replace(target: str, data: bytes, mode: int | None) -> None:
    # In the same folder, since a rename is whole only within one file system.
    beside = os.path.join(os.path.dirname(target), f".part-{os.getpid()}-{os.urandom(6).hex()}")
    # A file that may not be written is not replaced either, though the folder would allow it.
    if mode is not None and not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), target)
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
    try:
        with os.fdopen(handle, "wb") as file:
            if mode is not None:
                os.chmod(beside, stat.S_IMODE(mode))
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, target)
    except BaseException:  # an interrupt must not leave the part behind either
        _forget(beside)
        raise


def _forget(beside: str) -> None:
    try:
        os.unlink(beside)
    except OSError:
        return


_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EACCES: "permission denied",
    errno.EPERM: "permission denied",
    errno.EROFS: "the disk is read-only",
    errno.ENOTDIR: "a part of the path is a file, not a folder",
    errno.ENAMETOOLONG: "the name is too long",
}


def _reason(error: OSError, name: str) -> str:
    if error.errno == errno.ENOENT:
        return f"the folder {os.path.dirname(name) or '.'} does not exist"
    return _REASONS.get(error.errno or 0) or error.strerror or type(error).__name__


def _bad(name: str, message: str, expected: str = "") -> InputError:
    return InputError(Problem(name, 0, 0, message, expected=expected))
