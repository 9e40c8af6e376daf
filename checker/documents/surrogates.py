"""JSON's way to write characters beyond the first 65,536, which YAML does not know.

JSON escapes such a character as two: ``\\ud83d\\udd0c``.  YAML has ``\\U0001f50c`` for it.
"""

from __future__ import annotations

import re

_PAIR = re.compile(
    r"(?<!\\)((?:\\\\)*)\\u([dD][89abAB][0-9a-fA-F]{2})\\u([dD][c-fC-F][0-9a-fA-F]{2})"
)


def joined(text: str) -> str:
    """The text with each pair written as YAML writes it."""
    return _PAIR.sub(_one, text)


def _one(match: re.Match[str]) -> str:
    high, low = int(match[2], 16), int(match[3], 16)
    return f"{match[1]}\\U{0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00):08x}"
