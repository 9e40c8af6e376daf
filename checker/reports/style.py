"""Colour on a terminal, and none anywhere else.  Meaning never rests on colour alone."""

from __future__ import annotations

import os
from dataclasses import dataclass
from typing import TextIO

from checker.documents.wrapping import WIDTH
from checker.findings.kinds import KINDS


@dataclass(frozen=True, slots=True)
class Style:
    """Writes text with or without colour, in lines of at most ``width`` columns."""

    colour: bool = False
    width: int = WIDTH

    def bold(self, text: str) -> str:
        """Emphasised text."""
        return self._in(text, "1")

    def dim(self, text: str) -> str:
        """Text that steps back."""
        return self._in(text, "2")

    def kind(self, kind: str, text: str) -> str:
        """Text in the colour of a kind of finding."""
        return self._in(text, KINDS[kind].color if kind in KINDS else "2")

    def _in(self, text: str, code: str) -> str:
        return f"\x1b[{code}m{text}\x1b[0m" if self.colour else text


#: The narrowest and the widest lines: a terminal may be wider, a line is easier read shorter.
_LEAST, _MOST = 40, 110


def style_for(stream: TextIO) -> Style:
    """Its width where the stream is a terminal; colour where nobody objects (NO_COLOR, TERM=dumb).

    Elsewhere the width is fixed, so that the same input gives the same bytes.
    """
    if not stream.isatty():
        return Style()
    wanted = not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return Style(wanted, terminal_width(stream) or WIDTH)


def terminal_width(stream: TextIO) -> int:
    """How wide lines may be on a terminal; 0 where the stream is none, or does not say."""
    try:
        columns = os.get_terminal_size(stream.fileno()).columns if stream.isatty() else 0
    except (OSError, ValueError):
        columns = 0
    return min(max(columns, _LEAST), _MOST) if columns else 0
