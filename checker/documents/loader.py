"""YAML read as data, straight from the parser's events: values with places, nothing executed.

PyYAML's own loaders guess types, overwrite duplicate keys, follow tags and expand aliases without
bound; none of that happens here, and it is several times faster.
"""

from __future__ import annotations

import gc
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, NoReturn

import yaml
from yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    StreamEndEvent,
)

from .errors import InputError, Problem
from .nodes import Mapping, Quoted, Sequence
from .source import Source

__all__ = ["Document", "Limits", "Mapping", "Quoted", "Sequence", "load"]

_STR_TAG = "tag:yaml.org,2002:str"
_MOST_PROBLEMS = 50  # of those that need not stop the reading


@dataclass(frozen=True, slots=True)
class Limits:
    """What a document may cost: bounds against hostile or broken files.

    ``depth``: containers inside each other; ``nodes``: values and keys in the file; ``aliased``:
    values that repeating aliases adds to these.
    """

    depth: int = 50
    nodes: int = 3_000_000
    aliased: int = 100_000


@dataclass(frozen=True, slots=True)
class Document:
    """A file's one document. ``root`` is a Mapping, a Sequence, or a scalar's text."""

    source: Source
    root: Any


DEFAULT_LIMITS = Limits()


def load(source: Source, *, limits: Limits = DEFAULT_LIMITS) -> Document:
    """Read a source as one YAML document. Raises InputError with every problem found.

    Syntax errors end the reading; duplicate keys, merge keys and tags are all collected.
    """
    was_enabled = gc.isenabled()
    # A million new objects set the collector off again and again, to find nothing: half the time.
    gc.disable()
    try:
        return Document(source, _Builder(source, limits).build())
    except yaml.YAMLError as error:
        from .yaml_errors import in_our_words  # only a file that is wrong needs it

        raise InputError(in_our_words(error, source)) from None
    finally:
        if was_enabled:
            gc.enable()


def _events(text: str) -> Callable[[], Any]:
    """The parser's "next event", of libyaml or, where that is missing, of pure Python."""
    if getattr(yaml, "__with_libyaml__", False):
        from yaml._yaml import CParser

        following: Callable[[], Any] = CParser(text).get_event
        return following
    from .pure_parser import PureParser

    return PureParser(text).get_event


class _Builder:
    """Builds the values of one document from events."""

    def __init__(self, source: Source, limits: Limits) -> None:
        self.source = source
        self.limits = limits
        self.problems: list[Problem] = []
        self.nodes = 0
        self.aliased = 0
        # anchor: (value, nodes inside it, depth inside it); no value while it is being read
        self.anchors: dict[str, tuple[Any, int, int] | None] = {}
        # The same few texts come again and again: keep one of each. Plain nulls become None here.
        self.plain: dict[str, str | None] = dict.fromkeys(("", "~", "null", "Null", "NULL"))
        self.quoted: dict[str, Quoted] = {}
        self.names: dict[str, str] = {}
        self.depth = 0
        self.deepest = 0

    def build(self) -> Any:
        following = self.following = _events(self.source.text)
        following()  # the stream starts
        event = following()
        if event.__class__ is StreamEndEvent:
            self._stop(event, "the file holds no document", expected="`key: value` lines")
        self._check_start(event)
        event = following()
        root = self._value(event)
        if root is None and event.__class__ is ScalarEvent:
            self._stop(event, "the document is empty", expected="`key: value` lines")
        following()  # the document ends
        event = following()
        if event.__class__ is DocumentStartEvent:
            self._stop(event, "a second document starts here", expected="one document in a file")
        if self.problems:
            raise InputError(self.problems)
        return root

    def _check_start(self, event: Any) -> None:
        if event.tags:
            self._stop(event, "%TAG directives are not read", expected="a document without tags")

    def _stop(self, event: Any, message: str, found: str = "", expected: str = "") -> NoReturn:
        self._note(event.start_mark.index, message, found=found, expected=expected)
        raise InputError(self.problems)

    def _note(self, index: int, message: str, **more: Any) -> None:
        self.problems.append(self.source.problem(self.source.mark(index), message, **more))
        if len(self.problems) >= _MOST_PROBLEMS:
            raise InputError(self.problems)

    def _mapping(self, start: Any) -> Mapping:
        following, texts, quoted = self.following, self.plain, self.quoted
        names = self.names
        places = [start.start_mark.index]
        add = places.append
        found = Mapping()
        found._source = self.source
        found._order = None
        found._places = places
        while True:
            event = following()
            if event.__class__ is not ScalarEvent or event.anchor or event.tag:
                if event.__class__ is MappingEndEvent:
                    self._count(event, len(places))
                    return found
                self._key(event)
            key = event.value
            at = event.start_mark.index
            if key in names:
                key = names[key]
            else:
                self._new_name(key, at)
            event = following()
            value: Any
            if event.__class__ is ScalarEvent and event.anchor is None and event.tag is None:
                value = event.value
                if event.implicit[0]:
                    value = texts[value] if value in texts else self._keep(value)
                else:
                    value = quoted[value] if value in quoted else self._quote(value)
            else:
                value = self._value(event)
            if key in found:
                self._refuse_twice(found, key, at)
                continue
            found[key] = value
            add(at)
            add(event.start_mark.index)

    def _sequence(self, start: Any) -> Sequence:
        following, texts, quoted = self.following, self.plain, self.quoted
        places = [start.start_mark.index]
        found = Sequence()
        found._source = self.source
        found._places = places
        while True:
            event = following()
            value: Any
            if event.__class__ is ScalarEvent and event.anchor is None and event.tag is None:
                value = event.value
                if event.implicit[0]:
                    value = texts[value] if value in texts else self._keep(value)
                else:
                    value = quoted[value] if value in quoted else self._quote(value)
            elif event.__class__ is SequenceEndEvent:
                self._count(event, len(places))
                return found
            else:
                value = self._value(event)
            found.append(value)
            places.append(event.start_mark.index)

    def _keep(self, text: str) -> str:
        self.plain[text] = text
        return text

    def _quote(self, text: str) -> Quoted:
        found = self.quoted[text] = Quoted(text)
        return found

    def _count(self, event: Any, nodes: int) -> None:
        self.nodes += nodes
        if self.nodes > self.limits.nodes:
            self._stop(
                event,
                f"the file holds more than {self.limits.nodes} values",
                expected="several files",
            )

    def _value(self, event: Any) -> Any:
        """A value of any kind, with its anchor and tag."""
        kind = event.__class__
        if kind is AliasEvent:
            return self._alias(event)
        tag = event.tag
        if tag is not None and not (kind is ScalarEvent and tag in (_STR_TAG, "!")):
            known = tag.startswith("tag:")
            self._note(
                event.start_mark.index,
                "tags are not read" if known else "a value cannot start with `!`",
                found=_shown_tag(tag),
                expected="a value without a tag"
                if known
                else "`not …` in an expression; quotes around a text",
            )
        anchor = event.anchor
        before, deepest_before = self.nodes + self.aliased, self.deepest
        if anchor is not None:
            self.anchors[anchor] = None
            self.deepest = self.depth
        value: Any
        if kind is ScalarEvent:
            if event.implicit[0] and tag is None:
                text = event.value
                value = self.plain[text] if text in self.plain else self._keep(text)
            else:
                value = self._quote(event.value)
        else:
            value = self._container(event, kind)
        if anchor is not None:
            size = self.nodes + self.aliased - before + 1
            self.anchors[anchor] = (value, size, self.deepest - self.depth)
            self.deepest = max(self.deepest, deepest_before)
        return value

    def _container(self, event: Any, kind: type) -> Any:
        self.depth += 1
        self._check_depth(event, self.depth)
        value = self._mapping(event) if kind is MappingStartEvent else self._sequence(event)
        self.depth -= 1
        return value

    def _check_depth(self, event: Any, depth: int) -> None:
        if depth > self.deepest:
            self.deepest = depth
            if depth > self.limits.depth:
                self._stop(
                    event,
                    f"more than {self.limits.depth} levels inside each other",
                    expected="fewer levels",
                )

    def _alias(self, event: Any) -> Any:
        name = event.anchor
        if name not in self.anchors:
            # libyaml leaves this to its composer, which is not used here.
            self._stop(
                event, "an alias to an anchor that does not exist before it", found=f"*{name}"
            )
        anchored = self.anchors[name]
        if anchored is None:
            self._stop(event, "an alias inside the value that it stands for", found=f"*{name}")
        value, size, depth = anchored
        self._check_depth(event, self.depth + depth)
        self.aliased += size
        if self.aliased > self.limits.aliased:
            self._stop(
                event,
                f"aliases repeat more than {self.limits.aliased} values",
                found=f"*{name}",
                expected="the values written out, or fewer aliases",
            )
        return value

    def _key(self, event: Any) -> None:
        """A key that is not plain or quoted text without more."""
        kind = event.__class__
        if kind is not ScalarEvent:
            what = "an alias" if kind is AliasEvent else "a mapping or a list"
            self._stop(event, f"{what} as a key", expected="a name as a key")
        if event.tag is not None and event.tag not in (_STR_TAG, "!"):
            self._note(
                event.start_mark.index,
                "tags are not read",
                found=_shown_tag(event.tag),
                expected="a name as a key",
            )
        if event.anchor is not None:
            self.anchors[event.anchor] = (event.value, 1, 0)

    def _new_name(self, key: str, at: int) -> None:
        """A key that was not seen before: most keys come again and again and are looked at once."""
        if key == "<<":
            self._note(
                at,
                "merge keys (`<<`) are not read",
                expected="the keys written out; an alias may stand for a whole value",
                length=2,
            )
        elif key in _NULLS:
            # Not remembered, since in quotes it is a name.
            if self.source.text[at : at + 1] not in ("'", '"'):
                self._note(at, "a key is missing", found=key, expected="a name before the colon")
        else:
            self.names[key] = key

    def _refuse_twice(self, found: Mapping, key: str, at: int) -> None:
        first = found.key_mark(key)
        found._order = None  # it is still growing
        self._note(
            at,
            f"the key `{key}` is here twice",
            found=f"first on line {first.line}, column {first.column}",
            expected="each key once",
            length=len(key),
        )


_NULLS = frozenset(("", "~", "null", "Null", "NULL"))


def _shown_tag(tag: str) -> str:
    return tag.replace("tag:yaml.org,2002:", "!!")
