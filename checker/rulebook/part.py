"""A piece of a rule that knows where it stands: its text, its file, its place, whence it comes.

Whatever an edition or an amendment puts into a rule keeps the place that it has in its own file, so
that every error and every report tells the line to change.
"""

from __future__ import annotations

from typing import Any

from checker.documents.errors import Mark, Problem
from checker.documents.source import Source


class Part:
    """A value of a document with its place.

    origin: the edition, the shared sheet or the amendment that says it.
    """

    __slots__ = ()

    source: Source
    origin: str
    _node: Any
    _key: Any

    @property
    def value(self) -> Any:
        """What is said, without its place."""
        raise NotImplementedError

    @property
    def key(self) -> str:
        """The key that it stands under; "" where it is an item of a list or a whole mapping."""
        return self._key if isinstance(self._key, str) else ""

    @property
    def mark(self) -> Mark:
        """Where it starts."""
        mark: Mark = self._node.mark if self._key is None else self._node.value_mark(self._key)
        return mark

    def problem(self, message: str, **more: Any) -> Problem:
        """A problem at this part."""
        return self.source.problem(self.mark, message, **more)


class Text(Part, str):
    """A text that knows where it stands, and is a text otherwise."""

    __slots__ = ("_key", "_node", "origin", "source")

    @property
    def value(self) -> Text:
        return self


class Given(Part):
    """A value of any kind: a text, or a list of texts."""

    __slots__ = ("_key", "_node", "_value", "origin", "source")

    def __init__(self, value: Any) -> None:
        self._value = value

    @property
    def value(self) -> Any:
        return self._value

    def saying(self, value: Any) -> Given:
        """Another value at the same place."""
        return given_at(value, self._node, self._key, self.source, self.origin)


def text_at(text: str, node: Any, key: Any, source: Source, origin: str) -> Text:
    """A text at the place of a node's key or index; with ``None`` for a key, of the node itself."""
    made = Text(text)
    made._node, made._key, made.source, made.origin = node, key, source, origin
    return made


def given_at(value: Any, node: Any, key: Any, source: Source, origin: str) -> Given:
    """Any value at the place of a node's key."""
    made = Given(value)
    made._node, made._key, made.source, made.origin = node, key, source, origin
    return made


def plain_text(value: Any) -> str:
    """A part's value as text, lists item by item."""
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(plain_text(v) for v in value) + "]"
    return str(value)
