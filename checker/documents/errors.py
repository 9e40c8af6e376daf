"""What a user can get wrong: problems with a place, what was found, and what would do.

Anything a person can cause is an InputError; any other exception is a defect of the program.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain
from typing import Literal, NamedTuple

from checker.quantities.nearest import nearest

__all__ = ["InputError", "Mark", "Problem", "nearest", "printable"]

_WIDEST = 96  # columns of source shown around a caret
_LONGEST = 240  # characters of any one text in a message
_MOST = 100  # problems written out
_INDENT = "      "


class Mark(NamedTuple):
    """A place in a text; both count from 1, columns in characters."""

    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with an input file.

    ``line`` and ``column`` count from 1; 0 where the problem is the file's as a whole. ``excerpt``
    is the source line and ``length`` how many of its characters, from ``column``, are meant.
    """

    file: str
    line: int
    column: int
    message: str
    found: str = ""
    expected: str = ""
    suggestion: str = ""
    excerpt: str = ""
    length: int = 1
    severity: Literal["error", "warning"] = "error"

    def render(self, width: int = 0) -> str:
        """The problem for a terminal: several lines, every control character made visible.

        Lines are of at most ``width`` columns where it is stated, as far as words allow.
        """
        place = f":{self.line}:{self.column}" if self.line else ""
        head = f"{printable(self.file)}{place} {self.severity}: "
        lines = _lines(head, self.message, width, "  ")
        if self.excerpt.strip() and self.line:
            room = width - len(_INDENT) - 2  # signs that say that the line goes on
            lines += self._excerpt(min(_WIDEST, room) if width else _WIDEST)
        for label, text in (
            ("found", self.found),
            ("expected", self.expected),
            ("nearest", self.suggestion),
        ):
            if text:
                lines += _lines(f"  {label + ':':<10}", text, width)
        return "\n".join(lines)

    def _excerpt(self, widest: int) -> list[str]:
        """The source line, clipped around the caret, and the caret under what is meant."""
        text = self.excerpt.rstrip()
        at = min(max(self.column - 1, 0), len(text))
        first = 0
        if len(text) > widest:
            first = max(0, min(at - widest // 3, len(text) - widest))
        clipped = text[first : first + widest]
        before, after = clipped[: at - first], clipped[at - first :]
        meant = after[: max(1, self.length)]
        head, tail = ("…" if first else ""), ("…" if first + widest < len(text) else "")
        caret = " " * (len(head) + _columns(printable(before)))
        return [
            f"{_INDENT}{head}{printable(clipped)}{tail}",
            f"{_INDENT}{caret}{'^' * max(1, _columns(printable(meant)))}",
        ]


class InputError(Exception):
    """The input is wrong. ``problems`` holds everything found, in the order of the file."""

    def __init__(self, *problems: Problem | Iterable[Problem]) -> None:
        """Takes problems one by one, or collections of them."""
        self.problems: tuple[Problem, ...] = tuple(
            chain.from_iterable((p,) if isinstance(p, Problem) else p for p in problems)
        )
        super().__init__(*self.problems)

    def __str__(self) -> str:
        return self.render()

    def render(self, width: int = 0) -> str:
        """Every problem, as ``Problem.render``."""
        lines = [problem.render(width) for problem in self.problems[:_MOST]]
        if len(self.problems) > _MOST:
            lines.append(f"and {len(self.problems) - _MOST} more")
        return "\n".join(lines)


def printable(text: str) -> str:
    """The text with everything that could steer a terminal or reorder a line written as escapes.

    Tabs become one space, so that carets stay under what they point at.
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(
        [c if c.isprintable() and c not in _ODD else " " if c == "\t" else _escape(c) for c in text]
    )


# isprintable() already refuses control, format (bidirectional marks), surrogate, private and
# unassigned characters, and every space but the plain one. These draw nothing either.
_ODD = frozenset("\u115f\u1160\u3164\uffa0\u034f\u17b4\u17b5") | {
    chr(n) for n in range(0xFE00, 0xFE10)
}


def _escape(character: str) -> str:
    if character == "\u00a0":  # harmless, and common in pasted text
        return " "
    code = ord(character)
    if code < 0x100:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def _clipped(text: str) -> str:
    if len(text) > _LONGEST:
        text = text[:_LONGEST] + "…"
    return printable(text)


def _lines(lead: str, text: str, width: int, follow: str | None = None) -> list[str]:
    """The text after its lead, in lines where a width is stated."""
    shown = _clipped(text)
    if not width or len(lead) + len(shown) <= width:
        return [lead + shown]
    from .wrapping import wrapped

    return wrapped(shown, width, lead, follow)


def _columns(text: str) -> int:
    """Terminal columns: wide characters take two, combining ones none."""
    if text.isascii():
        return len(text)
    from unicodedata import combining, east_asian_width

    return sum(0 if combining(c) else 2 if east_asian_width(c) in ("W", "F") else 1 for c in text)
