"""An expression that is put together from texts of a file."""

from __future__ import annotations

import re
from collections.abc import Iterable

from .part import Text


class Woven(Text):
    """A text made of others.

    pieces: where each of them begins in it, the text itself, and the character of that text with
    which it begins.
    """

    __slots__ = ("pieces",)
    pieces: tuple[tuple[int, Text, int], ...]

    def piece(self, offset: int) -> tuple[Text, int]:
        """The text that a character belongs to, and the character's offset in it.

        A character that the author did not write belongs to the text before it.
        """
        before = (p for p in reversed(self.pieces) if p[0] <= offset)
        start, text, skipped = next(before, self.pieces[0])
        return text, max(0, min(offset - start + skipped, len(text) - 1))


def woven(*parts: str | Text) -> Woven:
    """One expression from texts of a file, one at least, and what stands between them."""
    said, pieces = "", []
    for part in parts:
        if isinstance(part, Text):
            pieces.append((len(said), part, 0))
        said += part
    return _made(said, pieces)


def renamed(text: Text, names: Iterable[str]) -> Woven:
    """The text with some names followed by a ``_``; its characters keep their places."""
    pattern = r"(?<![\w.'])(?:" + "|".join(map(re.escape, names)) + r")\b"
    said, pieces, at = "", [(0, text, 0)], 0
    for name in re.finditer(pattern, text):
        said += text[at : name.end()] + "_"
        at = name.end()
        pieces.append((len(said), text, at))
    return _made(said + text[at:], pieces)


def _made(said: str, pieces: list[tuple[int, Text, int]]) -> Woven:
    made = Woven(said)
    first = pieces[0][1]
    made._node, made._key, made.source, made.origin = (
        first._node, first._key, first.source, first.origin,
    )  # fmt: skip
    made.pieces = tuple(pieces)
    return made
