"""What a document is made of: text, mappings and lists that know where they stand.

Scalars stay text, since what ``12`` or ``no`` means is for the reader of the key to say. Places are
kept as character indexes, one small number each, and turned into lines and columns when asked for.
Mappings and sequences are to be read, not changed: their places follow the order of their items.
"""

from __future__ import annotations

from typing import Any

from .errors import Mark
from .source import Source


class Quoted(str):
    """Text that was quoted, a block, or tagged ``!!str``: it is text whatever it looks like."""

    __slots__ = ()


_SMALL = 16  # keys; searching so few is cheaper than keeping an index of them


class Mapping(dict[str, Any]):
    """A mapping: str keys; values are str, Quoted, None, Mapping or Sequence."""

    # _places: where the mapping starts, then where each key and its value start, in turn.
    __slots__ = ("_order", "_places", "_source")
    _order: dict[str, int] | None
    _places: list[int]
    _source: Source

    @property
    def mark(self) -> Mark:
        """Where the mapping starts."""
        return self._source.mark(self._places[0])

    @property
    def source(self) -> Source:
        """The file the mapping is in."""
        return self._source

    @classmethod
    def of(cls, key: str, value: Any, mark: Mark) -> Mapping:
        """A mapping of one key that is not in the file, where a short form stands for it."""
        made = cls({key: value})
        made._source = _Place(mark)
        made._order = None
        made._places = [0, 0, 0]
        return made

    @classmethod
    def made(cls, items: dict[str, Any], mark: Mark) -> Mapping:
        """A mapping that was put together, all of it at one place."""
        made = cls(items)
        made._source = _Place(mark)
        made._order = None
        made._places = [0] * (2 * len(items) + 1)
        return made

    @classmethod
    def joined(cls, items: dict[str, Any], source: Source, places: list[int]) -> Mapping:
        """A mapping put together from several: where it starts, then each key and its value."""
        made = cls(items)
        made._source = source
        made._order = None
        made._places = places
        return made

    @property
    def places(self) -> list[int]:
        """Where the mapping starts, then each key and its value, as numbers of its source."""
        return self._places

    def _at(self, key: str) -> int:
        if len(self) <= _SMALL:
            for place, name in enumerate(self):
                if name == key:
                    return 2 * place + 1
            raise KeyError(key)
        order = self._order
        if order is None:
            order = self._order = {name: 2 * place + 1 for place, name in enumerate(self)}
        return order[key]

    def key_mark(self, key: str) -> Mark:
        """Where a key stands; KeyError where there is no such key."""
        return self._source.mark(self._places[self._at(key)])

    def value_mark(self, key: str) -> Mark:
        """Where a key's value starts; for an alias, the alias."""
        return self._source.mark(self._places[self._at(key) + 1])


class Sequence(list[Any]):
    """A list: items are str, Quoted, None, Mapping or Sequence."""

    # _places: where the list starts, then where each item starts.
    __slots__ = ("_places", "_source")
    _places: list[int]
    _source: Source

    @classmethod
    def made(cls, items: list[Any], mark: Mark) -> Sequence:
        """A list that was put together, all of it at one place."""
        made = cls(items)
        made._source = _Place(mark)
        made._places = [0] * (len(items) + 1)
        return made

    @classmethod
    def joined(cls, items: list[Any], source: Source, places: list[int]) -> Sequence:
        """A list put together from several: where it starts, then where each item does."""
        made = cls(items)
        made._source = source
        made._places = places
        return made

    @property
    def places(self) -> list[int]:
        """Where the list starts, then where each item does, as numbers of its source."""
        return self._places

    @property
    def mark(self) -> Mark:
        """Where the list starts."""
        return self._source.mark(self._places[0])

    @property
    def source(self) -> Source:
        """The file the list is in."""
        return self._source

    def value_mark(self, index: int) -> Mark:
        """Where an item starts, counted from 0; for an alias, the alias."""
        if not 0 <= index < len(self):
            raise IndexError(index)
        return self._source.mark(self._places[index + 1])


class _Place(Source):
    """A source that has one place, for what is not in the file itself."""

    __slots__ = ("_only",)

    def __init__(self, mark: Mark) -> None:
        super().__init__("", b"", "")
        self._only = mark

    def mark(self, index: int) -> Mark:
        return self._only
