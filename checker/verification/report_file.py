"""Finds the report that a file carries: JSON itself, or JSON inside an HTML or PDF report.

The files may come from anywhere.  Nothing in them is followed or executed; size, depth and what a
compressed stream may grow to are bounded, and whatever is no report is an InputError.
"""

from __future__ import annotations

import hashlib
import json
import re
import zlib
from collections.abc import Iterator
from typing import Any

from checker.documents.errors import InputError, Mark, Problem
from checker.documents.source import Source, read_bytes
from checker.findings.plain import VERSION

FORMAT = "pullpoint-report"
#: Versions of the report that can be read.
VERSIONS = (1, VERSION)
#: Bytes, of the file and of what is unpacked from it: twice the report on 2,000 boxes.
LARGEST = 256 * 1024 * 1024
_NEAR = 4096  # bytes within which the head of a PDF object, or a tag, has to end
_MOST = 50  # attachments looked at
_PAGE = b"<!-- pullpoint-page sha256:", b" -->\n</body></html>\n"  # around its fingerprint
_BOM = b"\xef\xbb\xbf"


def read_reports(path: str) -> list[dict[str, Any]]:
    """The reports in a file, one or more.  Raises InputError where there is none."""
    data = read_bytes(path, LARGEST)
    if b"%PDF-" in data[:1024]:
        return _carried(path, _attachments(data), "attached", "a PDF that pullpoint has written")
    if data.removeprefix(_BOM).lstrip()[:1] == b"<":
        return _carried(path, _scripts(data), "embedded", "an HTML page that pullpoint has written")
    if not data.strip():
        raise _none(path, "the file is empty")
    found = _parse(path, data)
    for report in found:
        _check_kind(path, report)
    return found


def shown(path: str) -> tuple[str, bool | None]:
    """What shows the report to people (page, PDF or ""), and whether that is as it was written.

    None where it cannot be said: a page without its fingerprint, and every PDF, whose pages are
    not read.
    """
    data = read_bytes(path, LARGEST)
    if b"%PDF-" in data[:1024]:
        return "PDF", None
    if data.removeprefix(_BOM).lstrip()[:1] != b"<":
        return "", True
    at = data.rfind(_PAGE[0])
    if at < 0:
        return "page", None
    digest = hashlib.sha256(data[:at]).hexdigest().encode()
    return "page", data[at:] == digest.join(_PAGE)


def _none(path: str, message: str) -> InputError:
    expected = "a report written by pullpoint: JSON, HTML or PDF"
    return InputError(Problem(path, 0, 0, message, expected=expected))


def _check_kind(path: str, report: Any) -> None:
    if not isinstance(report, dict) or report.get("format") != FORMAT:
        raise _none(path, "this is not a pullpoint report")
    version = report.get("version")
    if version not in VERSIONS or isinstance(version, bool):
        raise InputError(
            Problem(
                path, 0, 0, "the report is of a version that cannot be read here",
                found=str(version)[:40], expected="version " + " or ".join(map(str, VERSIONS)),
            )
        )  # fmt: skip


def _carried(path: str, parts: Iterator[bytes], how: str, expected: str) -> list[dict[str, Any]]:
    """Every report among the parts; other attachments are passed over."""
    found: list[dict[str, Any]] = []
    last: InputError | None = None
    for part in parts:
        try:
            for report in _parse(f"{path} ({how})", part):
                _check_kind(path, report)
                found.append(report)
        except InputError as error:
            last = error
    if found:
        return found
    if last is not None:
        raise last
    raise InputError(Problem(path, 0, 0, f"the file has no report {how}", expected=expected))


# -- JSON -----------------------------------------------------------------------------------


def _parse(path: str, data: bytes) -> list[Any]:
    """The values of a JSON text: one, or one a line."""
    try:
        text = data.removeprefix(_BOM).decode("utf-8")
    except UnicodeDecodeError as error:
        raise _none(path, f"this is not text: byte {error.start} is not UTF-8") from None
    decoder = json.JSONDecoder(object_pairs_hook=_once, parse_constant=_refuse_constant)
    found, at = [], _skip(text, 0)
    try:
        while at < len(text):
            value, at = decoder.raw_decode(text, at)
            found.append(value)
            at = _skip(text, at)
    except json.JSONDecodeError as error:
        source = Source(path, data, text)
        raise InputError(
            source.problem(
                Mark(error.lineno, error.colno), f"this is not JSON: {error.msg}",
                expected="a report as pullpoint wrote it",
            )
        ) from None  # fmt: skip
    except RecursionError:
        raise _none(path, "the values are too deep inside each other") from None
    except ValueError as error:  # a constant, a key twice, a number of thousands of digits
        raise _none(path, f"this is not JSON as reports hold it: {str(error)[:120]}") from None
    return found


_BLANK = re.compile(r"[ \t\r\n]*")


def _skip(text: str, at: int) -> int:
    match = _BLANK.match(text, at)
    assert match is not None
    return match.end()


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for name, value in pairs:
        if name in made:
            raise ValueError(f"the key {name[:40]!r} is there twice")
        made[name] = value
    return made


def _refuse_constant(name: str) -> Any:
    raise ValueError(f"{name} is no number")


# -- HTML -----------------------------------------------------------------------------------

_MARKER = FORMAT.encode()
_ID = re.compile(rb"""\bid\s*=\s*["']?pullpoint-report["'\s>]""", re.IGNORECASE)
_SCRIPT_END = re.compile(rb"</script", re.IGNORECASE)


def _scripts(data: bytes) -> Iterator[bytes]:
    """The contents of every script element with the report's id."""
    at = data.find(_MARKER)
    while at >= 0:
        start = data.rfind(b"<", max(0, at - _NEAR), at)
        end = data.find(b">", at, at + _NEAR)
        after = at + len(_MARKER)
        tag = data[start : end + 1] if 0 <= start < end else b""
        if tag[:7].lower() == b"<script" and _ID.search(tag):
            close = _SCRIPT_END.search(data, end)
            if close is None:
                return
            yield data[end + 1 : close.start()]
            after = close.start()
        at = data.find(_MARKER, after)


# -- PDF ------------------------------------------------------------------------------------

_EMBEDDED = re.compile(rb"/Type\s*/EmbeddedFile\b")
_LENGTH = re.compile(rb"/Length\s+([0-9]{1,10})\b(?!\s+[0-9]+\s+R)")
_FILTER = re.compile(rb"/Filter\s*(?:/([A-Za-z0-9]+)|\[([^\]]{0,200})\])")
_DEFLATED = (b"FlateDecode", b"/FlateDecode", b"Fl", b"/Fl")
_STREAM = re.compile(rb"\bstream(\r\n|\n)")


def _attachments(data: bytes) -> Iterator[bytes]:
    """The embedded files of a PDF whose streams stand in the open, plain or deflated.

    That is how pullpoint writes them; a PDF that was encrypted or rewritten may hide them.
    """
    at = 0
    for _ in range(_MOST):
        match = _EMBEDDED.search(data, at)
        if match is None:
            return
        at = match.end()
        start = data.rfind(b" obj", max(0, match.start() - _NEAR), match.start())
        stream = _STREAM.search(data, at, at + _NEAR)
        if start < 0 or stream is None:
            continue
        head = data[start : stream.start()]
        length = _LENGTH.search(head)
        filtered = _FILTER.search(head)
        if filtered is None:
            end = stream.end() + int(length[1]) if length else data.find(b"endstream", at)
            if end >= 0:
                yield data[stream.end() : end]
                at = min(max(at, end), len(data))
        elif (filtered[1] or filtered[2]).strip() in _DEFLATED:
            stop = stream.end() + int(length[1]) if length else len(data)
            unpacked = _inflate(data[stream.end() : stop])
            if unpacked is not None:
                yield unpacked
            at = stream.end()


def _inflate(packed: bytes) -> bytes | None:
    """Unpacked data; None where it is broken or too large."""
    inflater = zlib.decompressobj()
    try:
        unpacked = inflater.decompress(packed, LARGEST + 1)
    except zlib.error:
        return None
    return unpacked if inflater.eof and len(unpacked) <= LARGEST else None
