"""Lines of a width for terminals; a number stays beside its unit, a result beside its sign."""

from __future__ import annotations

#: Columns of a line where nobody says otherwise.
WIDTH = 100

# fmt: off
_UNITS = frozenset((
    "in", "ft", "mm", "cm", "m", "in²", "ft²", "mm²", "in³", "cm³", "A", "kA", "V", "kV", "VA",
    "kVA", "W", "Ω", "AWG", "kcmil", "%", "°C", "°F", "degC", "degF", "deg",
))
# fmt: on


def wrapped(text: str, width: int, lead: str = "", follow: str | None = None) -> list[str]:
    """The text in lines of at most ``width`` columns, as far as its words allow.

    ``lead`` starts the first line and ``follow`` every other one (spaces of the same width unless
    stated).
    """
    if len(lead) + len(text) <= width:
        return [lead + text]
    rest = " " * len(lead) if follow is None else follow
    lines: list[str] = []
    line, empty = lead, True
    for piece in _pieces(text):
        if empty:
            line, empty = line + piece, False
        elif len(line) + 1 + len(piece) <= width:
            line += " " + piece
        else:
            lines.append(line)
            line = rest + piece
    lines.append(line)
    return lines


def _pieces(text: str) -> list[str]:
    """The words of a text, together where a line should not end between them."""
    pieces: list[str] = []
    for word in text.split():
        before = pieces[-1] if pieces else ""
        if before == "=" or (before[-1:].isdigit() and word.rstrip(".,;:)]") in _UNITS):
            pieces[-1] += " " + word
        else:
            pieces.append(word)
    return pieces
