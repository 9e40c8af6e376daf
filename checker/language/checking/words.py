"""Kinds, names and texts in words, for messages."""

from __future__ import annotations

from collections.abc import Iterable

from ..nodes import Constant, Node
from ..types import Text, Type

_MOST_NAMES = 16


def a_kind(kind: Type) -> str:
    """A kind of value in words, with its article."""
    if isinstance(kind, Text):
        return "text"
    word = str(kind)
    return ("an " if word[0] in "aeiou" else "a ") + word


def some_of(known: Iterable[str], first: str = "") -> str:
    """Names as a list for messages: the likely one first, and not too many of them."""
    listed = [name for name in known if not name.startswith("_")]
    if first in listed:
        listed = [first, *(name for name in listed if name != first)]
    return ", ".join(listed[:_MOST_NAMES]) + (", …" if len(listed) > _MOST_NAMES else "")


def short(text: str) -> str:
    """What an author wrote, as much of it as a message holds."""
    return text if len(text) <= 60 else text[:57] + "…"


def is_zero(node: Node) -> bool:
    """Whether a part is a plain 0, which goes with every dimension."""
    return isinstance(node, Constant) and type(node.value) in (int, float) and node.value == 0
