"""JSON with one blank of indentation for each level, as ``json.dumps(…, indent=1)`` writes it.

The standard library indents in plain Python, a piece at a time.  This escapes every text once
however often it comes, and fills in a form made once for objects of the same keys.  The bytes are
the same (a test compares them).
"""

from __future__ import annotations

import json
from typing import Any

_MOST_KEPT = 50_000  # texts, and forms, that are remembered


def indented(value: Any) -> str:
    """Plain data (with texts for keys) as indented JSON, signs beyond ASCII as they are."""
    return _Writer().write(value, "\n")


class _Writer:
    """Writes values; ``forms`` are those of objects by their line break and keys."""

    __slots__ = ("forms", "kept")

    def __init__(self) -> None:
        self.kept = _Kept()
        self.forms: dict[tuple[str, ...], str] = {}

    def write(self, value: Any, line: str) -> str:
        """A value; ``line`` is the line break with the indentation that it stands at."""
        kind = value.__class__
        if kind is str:
            return self.kept[value]
        if kind is dict and value:
            kept, write, inner = self.kept, self.write, line + " "
            parts = [
                kept[v]
                if v.__class__ is str
                else "null"
                if v is None
                else repr(v)
                if v.__class__ is int
                else write(v, inner)
                for v in value.values()
            ]
            keys = (line, *value)
            form = self.forms.get(keys)
            return (self._form(keys) if form is None else form) % tuple(parts)
        if kind in (list, tuple) and value:
            write, inner = self.write, line + " "
            return "[" + inner + ("," + inner).join([write(v, inner) for v in value]) + line + "]"
        if kind is float and value - value == 0:  # a number, and no infinity
            return repr(value)
        return json.dumps(value)

    def _form(self, keys: tuple[str, ...]) -> str:
        """An object of these keys, with a place for each value."""
        line, *names = keys
        heads = [json.encoder.encode_basestring(name).replace("%", "%%") for name in names]
        body = ",".join(f"{line} {head}: %s" for head in heads)
        if len(self.forms) >= _MOST_KEPT:
            self.forms.clear()
        self.forms[keys] = made = "{" + body + line + "}"
        return made


class _Kept(dict[str, str]):
    """Texts as JSON, each written once."""

    __slots__ = ()

    def __missing__(self, text: str) -> str:
        if len(self) >= _MOST_KEPT:
            self.clear()
        self[text] = made = json.encoder.encode_basestring(text)
        return made
