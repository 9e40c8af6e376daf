"""Text that the fonts of the PDF can show; what they cannot show is written as an escape.

The PDF uses only the fonts that the typesetter carries.  A PDF for archiving may not hold a missing
glyph, so a sign that no font has becomes ``\\u6f22``: ugly, but never lost and never mistaken.
"""

from __future__ import annotations

from bisect import bisect_right

from checker.documents.errors import printable

# Signs that both the body and the fixed-width font families have in regular and bold, from the
# character maps of the fonts that typst 0.15 carries.  A test sets every one of them.
_RANGES = (
    (0x20, 0x7E), (0xA1, 0xAC), (0xAE, 0x2FF), (0x374, 0x377), (0x37A, 0x37F), (0x384, 0x38A),
    (0x38C, 0x38C), (0x38E, 0x3A1), (0x3A3, 0x3CE), (0x3F0, 0x45F), (0x490, 0x4C4), (0x5D0, 0x5EA),
    (0x621, 0x63A), (0x640, 0x64A), (0x660, 0x66D), (0x1E00, 0x1E9B), (0x1EA0, 0x1EF9),
    (0x2010, 0x2027), (0x2030, 0x2037), (0x2039, 0x203F), (0x2070, 0x2071), (0x2074, 0x208E),
    (0x2090, 0x209C), (0x20A0, 0x20B5), (0x2100, 0x2103), (0x2105, 0x2106), (0x2109, 0x2109),
    (0x2113, 0x2113), (0x2115, 0x2117), (0x2122, 0x2122), (0x2126, 0x2126), (0x2153, 0x2184),
    (0x2190, 0x2220), (0x2223, 0x222D), (0x2234, 0x223D), (0x2241, 0x226B), (0x2300, 0x2306),
    (0x2460, 0x2473), (0x2500, 0x262F),
)  # fmt: skip
_FIRST = tuple(first for first, _ in _RANGES)

_LONGEST_WORD = 28  # characters; a longer one gets places where a line may break
_BREAK = "\u200b"
_OPENINGS = "_-./+,:;=|"
_CODE_OPENINGS = _OPENINGS + "()[]"


def drawable(text: str) -> str:
    """The text with control signs and signs that no font has written as escapes."""
    shown = printable(text)
    if shown.isascii():
        return shown
    return "".join([c if _known(ord(c)) else _escape(ord(c)) for c in shown])


def breakable(text: str) -> str:
    """Drawable text in which even a very long word can be broken over lines.

    The places are marked by zero-width spaces, which draw nothing.
    """
    shown = drawable(text)
    if len(shown) <= _LONGEST_WORD:
        return shown
    return " ".join(_opened(word) for word in shown.split(" "))


def breakable_code(text: str) -> str:
    """The same for formulas, which may break after any sign between names."""
    return " ".join(_opened(word, 16, _CODE_OPENINGS) for word in drawable(text).split(" "))


def _opened(word: str, longest: int = _LONGEST_WORD, openings: str = _OPENINGS) -> str:
    """A word with places to break: after signs that end a part, else wherever it gets too long."""
    if len(word) <= longest:
        return word
    if "-" in word:  # lines break after it anyhow
        return "-".join(_opened(part, longest, openings) for part in word.split("-"))
    parts: list[str] = []
    since = 0
    for character in word:
        parts.append(character)
        since += 1
        if since >= _LONGEST_WORD or (since >= 5 and character in openings):
            parts.append(_BREAK)
            since = 0
    return "".join(parts)


def _known(code: int) -> bool:
    place = bisect_right(_FIRST, code) - 1
    return place >= 0 and code <= _RANGES[place][1]


def _escape(code: int) -> str:
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def every_sign() -> str:
    """Every sign that counts as drawable, for the test that sets them all."""
    return "".join(chr(code) for first, last in _RANGES for code in range(first, last + 1))
