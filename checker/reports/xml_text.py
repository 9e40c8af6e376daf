"""Text in XML: escaped, and without what XML does not allow."""

from __future__ import annotations

import re

# What XML 1.0 §2.2 does not let into a document, escaped or not.
_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_TEXT = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", "\r": "&#13;"})
_QUOTED = str.maketrans(
    {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"}
    | {"\t": "&#9;", "\n": "&#10;", "\r": "&#13;"}
)


def tag(name: str, attributes: dict[str, str]) -> str:
    """The inside of a tag: its name and attributes."""
    written = [f' {key}="{_allowed(text).translate(_QUOTED)}"' for key, text in attributes.items()]
    return name + "".join(written)


def block(head: str, text: str, indent: str) -> list[str]:
    """An element that holds text; ``head`` is the inside of its tag."""
    name = head.split(" ", 1)[0]
    return [f"{indent} <{head}>{_allowed(text).translate(_TEXT)}</{name}>"]


def _allowed(text: str) -> str:
    return _FORBIDDEN.sub("", text)
