"""Characters that are not seen but act: written as escapes in forms that machines read.

They steer terminals or turn a line around; as escapes they come back unchanged when the form is
read.  Forms for people use ``errors.printable`` instead.  Surrogates are among them: Python puts
one for every byte of a file's name that is not UTF-8, and they cannot be written as UTF-8.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache


@cache
def _pattern() -> re.Pattern[str]:
    return re.compile(
        "[\x7f-\x9f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
        "\ud800-\udfff]"
    )


def json_escaped(text: str) -> str:
    """A JSON text with them as ``\\uXXXX``; it means the same."""
    return _escaped(text, lambda match: f"\\u{ord(match[0]):04x}")


def xml_escaped(text: str) -> str:
    """An XML text with them as ``&#xXX;``; it means the same.  XML cannot have surrogates."""
    return _escaped(text, lambda match: f"&#x{ord(match[0]):x};")


def _escaped(text: str, escape: Callable[[re.Match[str]], str]) -> str:
    if text.isascii() and "\x7f" not in text:
        return text
    return _pattern().sub(escape, text)
