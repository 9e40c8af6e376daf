"""Files written whole or not at all: beside their place, then renamed into it.

What is on its way has a name of its own (``.part-…``) and is locked.  A program that is killed
leaves such a part behind; the next one that writes into the folder removes it, once it is old and
nobody holds its lock.
"""

from __future__ import annotations

import errno
import os
import re
import stat
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import TracebackType
from typing import IO, Any

from .errors import InputError, Problem
from .source import was_read

_PART = re.compile(r"\.part-[0-9]+-[0-9a-f]{12}")
#: Seconds after which a part that nobody has locked was left behind.  Some network file systems
#: know no locks of other machines; there, this is what protects a part that is being written.
STALE = 3600


class Pending:
    """A file that is being written; nothing stands at its place until ``finish`` puts it there.

    A link is followed and what it points at replaced.  A device or pipe is written to by
    ``finish``.  Raises InputError where the file cannot be written; used in ``with``, what was not
    finished leaves nothing behind.
    """

    __slots__ = ("_beside", "_file", "_mode", "name", "target")

    def __init__(self, path: str | os.PathLike[str]) -> None:
        self.name = name = os.fspath(path)
        self._beside = ""
        if not name or "\0" in name:
            raise _bad(name, "this is not a file name")
        with _reported(name):
            self.target = target = os.path.realpath(name)
            known = _stat(target)
            self._mode = None if known is None else known.st_mode
            self._refuse(known)
            if self.is_special:
                import tempfile

                self._file: IO[bytes] = tempfile.TemporaryFile()  # noqa: SIM115 - see discard
                return
            # A file that may not be written is not replaced either, though the folder allows it.
            if known is not None and not os.access(target, os.W_OK):
                raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), target)
            folder = os.path.dirname(target)
            _remove_stale_parts(folder)
            beside = _new_name(folder)
            try:
                handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
                self._file = os.fdopen(handle, "wb")
                _lock(handle)
            except BaseException:  # an interrupt must not leave the part behind either
                _forget(beside)
                raise
            self._beside = beside

    def __enter__(self) -> Pending:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        self.discard()

    @property
    def is_special(self) -> bool:
        """Whether it is a device, a pipe or a socket."""
        return self._mode is not None and not stat.S_ISREG(self._mode)

    def write(self, text: str) -> None:
        """Add text, as UTF-8."""
        self.write_bytes(text.encode("utf-8", "backslashreplace"))

    def write_bytes(self, data: bytes) -> None:
        """Add bytes."""
        with _reported(self.name):
            self._file.write(data)

    def discard(self) -> None:
        """Leave nothing behind of what was not finished."""
        beside, self._beside = self._beside, ""
        if beside:
            _forget(beside)
        try:
            self._file.close()
        except OSError:  # what was not written yet is not wanted any more
            return

    def _refuse(self, known: os.stat_result | None) -> None:
        """A folder, or a file that this run has read: a report must not take its design's place."""
        if known is not None and stat.S_ISDIR(known.st_mode):
            raise _bad(self.name, "cannot write: this is a folder", expected="a file name")
        if known is not None and stat.S_ISREG(known.st_mode) and was_read(known):
            raise _bad(
                self.name,
                "cannot write: this file was read, and what it holds would be lost",
                expected="another file name",
            )

    def _settle(self) -> None:
        """Everything is on the disk, under the other name."""
        with _reported(self.name):
            self._refuse(_stat(self.target))
            self._file.flush()
            if self.is_special:
                return
            if self._mode is not None:
                os.chmod(self._beside, stat.S_IMODE(self._mode))
            os.fsync(self._file.fileno())

    def _send(self) -> None:
        """Write to the device."""
        with _reported(self.name), open(self.target, "wb") as device:
            self._file.seek(0)
            while data := self._file.read(1 << 20):
                device.write(data)

    def _put(self) -> None:
        """Into its place."""
        with _reported(self.name):
            os.replace(self._beside, self.target)
            self._beside = ""


def finish(*files: Pending) -> None:
    """Put all of them in their places, or none.  Raises InputError."""
    for file in files:
        file._settle()
    for file in files:
        if file.is_special:
            file._send()
    done: list[tuple[Pending, str]] = []
    regular = [file for file in files if not file.is_special]
    try:
        for file in regular:
            if any(_same(file.target, other.target) for other, _ in done):
                raise _bad(file.name, "cannot write: two outputs are one file")
            saved = _set_aside(file) if file is not regular[-1] else ""
            done.append((file, saved))
            file._put()
    except BaseException:
        for file, saved in reversed(done):
            _take_back(file, saved)
        raise
    for _, saved in done:
        if saved:
            _forget(saved)
    for file in files:
        file.discard()


def write_text(path: str | os.PathLike[str], text: str) -> None:
    """Write text as UTF-8. Raises InputError where it cannot be; the old file then still stands."""
    write_bytes(path, text.encode("utf-8", "backslashreplace"))


def write_bytes(path: str | os.PathLike[str], data: bytes) -> None:
    """Write bytes, as ``Pending``."""
    with Pending(path) as file:
        file.write_bytes(data)
        finish(file)


def same_place(one: str, other: str) -> bool:
    """Whether two names lead to one file, which may be missing yet; devices take several."""
    try:
        first, second = os.path.realpath(one), os.path.realpath(other)
        if os.path.exists(first) and not os.path.isfile(first):
            return False
        return first == second or _same(first, second)
    except (OSError, ValueError):
        return False  # writing will say what is wrong with it


# -- putting back ---------------------------------------------------------------------------


def _same(one: str, other: str) -> bool:
    try:
        return os.path.samefile(one, other)
    except OSError:
        return False


def _set_aside(file: Pending) -> str:
    """A second name for what stands at the place of a file; "" where nothing does."""
    if file._mode is None:
        return ""
    aside = _new_name(os.path.dirname(file.target))
    with _reported(file.name):
        try:
            os.link(file.target, aside)
        except OSError:  # a file system without links
            import shutil

            try:
                shutil.copy2(file.target, aside)
            except BaseException:
                _forget(aside)
                raise
    return aside


def _take_back(file: Pending, saved: str) -> None:
    """As it was before ``finish``."""
    if file._beside:  # it has not been put there
        if saved:
            _forget(saved)
    elif saved:
        try:
            os.replace(saved, file.target)
        except OSError:
            return
    else:
        _forget(file.target)


# -- parts ----------------------------------------------------------------------------------


def _new_name(folder: str) -> str:
    # In the same folder, since a rename is whole only within one file system.
    return os.path.join(folder, f".part-{os.getpid()}-{os.urandom(6).hex()}")


def _lock(handle: int) -> None:
    """Say that a part is being written; where there are no locks, its age says it."""
    try:
        import fcntl

        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (ImportError, OSError):
        return


def _remove_stale_parts(folder: str) -> None:
    """Remove what programs that were killed have left in a folder."""
    try:
        with os.scandir(folder) as entries:
            parts = [entry.path for entry in entries if _PART.fullmatch(entry.name)]
    except OSError:
        return
    for path in parts:
        try:
            _remove_if_stale(path)
        except OSError:
            continue  # somebody else's, in use, or gone already


def _remove_if_stale(path: str) -> None:
    facts = os.lstat(path)
    owner: Any = getattr(os, "geteuid", None)
    ours = owner is None or facts.st_uid == owner()
    if not ours or not stat.S_ISREG(facts.st_mode) or time.time() - facts.st_mtime < STALE:
        return
    try:
        import fcntl
    except ImportError:
        os.unlink(path)  # Windows refuses this for a file that is open
        return
    handle = os.open(path, os.O_RDWR | os.O_NOFOLLOW | os.O_NONBLOCK)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)  # BlockingIOError while it is written
        os.unlink(path)
    finally:
        os.close(handle)


def _stat(target: str) -> os.stat_result | None:
    try:
        return os.stat(target)
    except FileNotFoundError:
        return None


def _forget(beside: str) -> None:
    try:
        os.unlink(beside)
    except OSError:
        return


# -- saying it ------------------------------------------------------------------------------

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk quota is used up",
    errno.EACCES: "permission denied",
    errno.EPERM: "permission denied",
    errno.EROFS: "the disk is read-only",
    errno.ENOTDIR: "a part of the path is a file, not a folder",
    errno.ENAMETOOLONG: "the name is too long",
}


@contextmanager
def _reported(name: str) -> Iterator[None]:
    """What the system refuses, as an InputError about the file."""
    try:
        yield
    except OSError as error:
        raise _bad(name, f"cannot write: {_reason(error, name)}") from None


def _reason(error: OSError, name: str) -> str:
    if error.errno == errno.ENOENT:
        return f"the folder {os.path.dirname(name) or '.'} does not exist"
    return _REASONS.get(error.errno or 0) or error.strerror or type(error).__name__


def _bad(name: str, message: str, expected: str = "") -> InputError:
    return InputError(Problem(name, 0, 0, message, expected=expected))
