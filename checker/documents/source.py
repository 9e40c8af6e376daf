"""An input file as read: its bytes, its text, its digest, and where its lines begin."""

from __future__ import annotations

import os
import stat
from bisect import bisect_right
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from itertools import accumulate
from typing import Literal

from .digest import sha256
from .errors import InputError, Mark, Problem, nearest

SIZE_LIMIT = 32 * 1024 * 1024  # bytes; a large assembly is below 1 MB
_BREAKS = "\r\n\x85\u2028\u2029"
_BOM = b"\xef\xbb\xbf"
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_SAVE_UTF_16 = "save the file as UTF-8; it looks like UTF-16"


class Source:
    """A file's content. ``path`` is as given; ``text`` is without a byte order mark."""

    __slots__ = ("_digest", "_starts", "data", "path", "text")

    def __init__(self, path: str, data: bytes, text: str) -> None:
        self.path = path
        self.data = data
        self.text = text
        self._digest = ""
        self._starts: list[int] | None = None

    @classmethod
    def of_text(cls, text: str, path: str = "(text)") -> Source:
        """A source that is not a file."""
        return cls(path, text.encode("utf-8"), text)

    @property
    def digest(self) -> str:
        """``sha256:…`` of the bytes as they are in the file."""
        if not self._digest:
            self._digest = f"sha256:{sha256(self.data).hexdigest()}"
        return self._digest

    def _line_starts(self) -> list[int]:
        starts = self._starts
        if starts is None:
            starts = list(accumulate(map(len, _lines(self.text)), initial=0))
            if self.text and self.text[-1] not in _BREAKS:
                starts.pop()  # the last line has no end, so no line begins after it
            self._starts = starts
        return starts

    def mark(self, index: int) -> Mark:
        """The place of a character of the text, by its index."""
        starts = self._line_starts()
        line = bisect_right(starts, index)
        return Mark(line, index - starts[line - 1] + 1)

    def line(self, number: int) -> str:
        """A line, counted from 1, without its line break; "" beyond the end."""
        starts = self._line_starts()
        if not 1 <= number <= len(starts):
            return ""
        end = starts[number] if number < len(starts) else len(self.text)
        return self.text[starts[number - 1] : end].rstrip(_BREAKS)

    def problem(
        self,
        mark: Mark,
        message: str,
        *,
        found: str = "",
        expected: str = "",
        suggestion: str = "",
        length: int = 1,
        severity: Literal["error", "warning"] = "error",
    ) -> Problem:
        """A problem at a place of this file, with the source line as its excerpt."""
        return Problem(
            self.path,
            mark.line,
            mark.column,
            message,
            found,
            expected,
            suggestion,
            self.line(mark.line),
            length,
            severity,
        )


def _lines(text: str) -> list[str]:
    """The lines with their ends; ends are those of YAML 1.1: LF, CRLF, CR, NEL, LS and PS."""
    lines = text.splitlines(keepends=True)
    if not any(rare in text for rare in "\v\f\x1c\x1d\x1e"):
        return lines
    joined: list[str] = []
    held = ""
    for line in lines:
        held += line
        if line[-1] not in "\v\f\x1c\x1d\x1e":
            joined.append(held)
            held = ""
    return [*joined, held] if held else joined


def read_source(path: str | os.PathLike[str], *, limit: int = SIZE_LIMIT) -> Source:
    """Read a file of text. Raises InputError for anything that is not one.

    ``limit`` is in bytes and is checked before a byte is read.
    """
    name = os.fspath(path)
    data = read_bytes(name, limit)
    if b"\0" in data:
        at = data.index(b"\0")
        raise _bad(
            name,
            "this is not a text file: it holds a NUL byte",
            found=f"byte {at}",
            suggestion=_SAVE_UTF_16 if data[:2] in _UTF_16 else "",
        )
    body = data[len(_BOM) :] if data.startswith(_BOM) else data
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        raise _not_utf8(name, body, error, len(data) - len(body)) from None
    if _only_comments(text):
        what = "holds only comments" if text.strip() else "is empty"
        raise _bad(name, f"the file {what}", expected="a YAML mapping: `key: value` lines")
    return Source(name, data, _whole_characters(text))


class _Run:
    """What one run has read: files by device and number, and their bytes while these are held."""

    __slots__ = ("files", "held")

    def __init__(self) -> None:
        self.files: set[tuple[int, int]] = set()
        self.held: dict[str, bytes] | None = None


_RUN: ContextVar[_Run] = ContextVar("run")


def _run() -> _Run:
    run = _RUN.get(None)
    if run is None:
        _RUN.set(run := _Run())
    return run


def forget_read() -> None:
    """Begin a new run: what was read before may be written."""
    _RUN.set(_Run())


def note_read(kind: os.stat_result) -> None:
    """A file is read otherwise than by ``read_bytes``."""
    _run().files.add((kind.st_dev, kind.st_ino))


@contextmanager
def each_file_once() -> Iterator[dict[str, bytes]]:
    """While this lasts, a file that is read again gives the bytes that it gave before.

    A rulebook is then of one state of its files, whoever saves one meanwhile: what was compiled is
    what was fingerprinted.  Gives what is held, by file name; one inside another holds the same.
    """
    run = _run()
    before = run.held
    run.held = {} if before is None else before
    try:
        yield run.held
    finally:
        run.held = before


def was_read(kind: os.stat_result) -> bool:
    """Whether a file, however it is named, is one that this run has read."""
    return (kind.st_dev, kind.st_ino) in _run().files


def read_bytes(name: str, limit: int = SIZE_LIMIT) -> bytes:
    """The bytes of a regular file of bounded size.  Raises InputError."""
    held = _run().held
    if held is None:
        return _read_bytes(name, limit)
    data = held.get(name)
    if data is None:
        data = held[name] = _read_bytes(name, limit)
    _refuse_large(name, len(data), limit)
    return data


def _read_bytes(name: str, limit: int) -> bytes:
    if "\0" in name or not name:
        raise _bad(name, "this is not a file name")
    try:
        kind = os.stat(name)
        _refuse_special(name, kind.st_mode)
        _refuse_large(name, kind.st_size, limit)
        # Not blocking, lest the file was swapped for a pipe since it was looked at.
        handle = os.open(name, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
        with os.fdopen(handle, "rb") as file:
            opened = os.fstat(handle)
            _refuse_special(name, opened.st_mode)
            note_read(opened)
            # One more than allowed: files that grow, or that do not know their size, are found out.
            data = file.read(limit + 1) if kind.st_size == 0 else file.read(kind.st_size + 1)
            if len(data) > kind.st_size:
                data += file.read(max(0, limit + 1 - len(data)))
    except FileNotFoundError:
        raise _missing(name) from None
    except NotADirectoryError:
        raise _bad(name, "no such file: a part of the path is a file, not a folder") from None
    except PermissionError:
        raise _bad(name, "the file may not be read: permission denied") from None
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise _bad(name, f"the file cannot be read: {reason}") from None
    _refuse_large(name, len(data), limit)
    return data


def _refuse_special(name: str, mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise _bad(name, "this is a folder, not a file", expected="a YAML file")
    if not stat.S_ISREG(mode):
        raise _bad(name, "this is a device, pipe or socket, not a file", expected="a YAML file")


def _refuse_large(name: str, size: int, limit: int) -> None:
    if size > limit:
        raise _bad(
            name,
            "the file is too large",
            found=f"{size / 1e6:.1f} MB",
            expected=f"at most {limit / 1e6:.1f} MB",
        )


def _missing(name: str) -> InputError:
    if name == "-":
        return _bad(name, "no such file", expected="a file: the standard input is not read")
    folder, base = os.path.split(name)
    try:
        names = sorted(os.listdir(folder or "."))
    except OSError:
        return _bad(name, "no such file: its folder does not exist")
    near = nearest(base, names[:5000])
    return _bad(name, "no such file", suggestion=os.path.join(folder, near) if near else "")


def _not_utf8(name: str, body: bytes, error: UnicodeDecodeError, skipped: int) -> InputError:
    good = body[: error.start].decode("utf-8")
    source = Source(name, body, good)
    lines = _lines(good)
    if not lines or lines[-1][-1] in "\r\n":
        lines.append("")
    rest = body[error.start :].split(b"\n", 1)[0][:200].decode("utf-8", "backslashreplace")
    hint = _SAVE_UTF_16 if body[:2] in _UTF_16 else "save the file as UTF-8"
    return InputError(
        Problem(
            source.path,
            len(lines),
            len(lines[-1]) + 1,
            f"the file is not UTF-8 text: byte {error.start + skipped} cannot be read",
            found=f"byte 0x{body[error.start]:02x}",
            expected="UTF-8",
            suggestion=hint,
            excerpt=lines[-1] + rest,
            length=4,
        )
    )


def _whole_characters(text: str) -> str:
    """The text with pairs of escapes that JSON writes rare characters in joined to one of YAML.

    Columns behind such a pair are counted two too few, which is nobody's harm.
    """
    if "\\ud" not in text and "\\uD" not in text:
        return text
    from .surrogates import joined  # hardly any file has them

    return joined(text)


def _only_comments(text: str) -> bool:
    if "\r" in text:  # which ends lines too, also alone
        text = text.replace("\r", "\n")
    at = 0
    while at < len(text):
        end = text.find("\n", at)
        end = len(text) if end < 0 else end
        line = text[at:end].strip()
        if line and not line.startswith("#"):
            return False
        at = end + 1
    return True


def _bad(name: str, message: str, **more: str) -> InputError:
    return InputError(Problem(name, 0, 0, message, **more))  # type: ignore[arg-type]
