"""An expression that is put together from texts of a file."""

from __future__ import annotations

from .part import Text


class Woven(Text):
    """A text made of others.  pieces: where each of them begins in it, and the text itself."""

    __slots__ = ("pieces",)
    pieces: tuple[tuple[int, Text], ...]

    def piece(self, offset: int) -> tuple[Text, int]:
        """The text that a character belongs to, and the character's offset in it.

        A character that the author did not write belongs to the text before it.
        """
        before = (p for p in reversed(self.pieces) if p[0] <= offset)
        start, text = next(before, self.pieces[0])
        return text, max(0, min(offset - start, len(text) - 1))


def woven(*parts: str | Text) -> Woven:
    """One expression from texts of a file, one at least, and what stands between them."""
    said, pieces = "", []
    for part in parts:
        if isinstance(part, Text):
            pieces.append((len(said), part))
        said += part
    made = Woven(said)
    first = pieces[0][1]
    made._node, made._key, made.source, made.origin = (
        first._node, first._key, first.source, first.origin,
    )  # fmt: skip
    made.pieces = tuple(pieces)
    return made
