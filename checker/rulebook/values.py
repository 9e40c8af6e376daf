"""Reads the named constants of a rule: quantities, sizes, texts, flags, and lists of them."""

from __future__ import annotations

import keyword
from collections.abc import Mapping
from typing import Any

from checker.documents.errors import Problem
from checker.language.types import FLAG, TEXT, Designation, List, Number, Type, same_kind
from checker.quantities.designations import trade_size, wire_size
from checker.quantities.dimension import NONE
from checker.quantities.notation import NotationError, quantity
from checker.quantities.show import show_number

from .rule_parts import Value

_MOST_ITEMS, _LONGEST_VALUE = 500, 200  # of a list; characters of a value
_MOST = 60  # characters of a value in messages
_WORD_VALUES = {"true": True, "false": False}


def read_value(part: Value) -> tuple[Any, Type, str]:
    """A value's constant in base units, its type, and its text as written.

    Raises NotationError.
    """
    raw = part.part.value
    if isinstance(raw, (list, tuple)):
        if len(raw) > _MOST_ITEMS:
            raise NotationError(f"{len(raw)} items", f"at most {_MOST_ITEMS} items", "")
        read = [_scalar(item, part.as_) for item in raw]
        kinds = [kind for _, kind, _ in read]
        if any(not same_kind(kinds[0], kind) for kind in kinds):
            raise NotationError(str(raw)[:80], "a list of values of one kind", "")
        item = TEXT if not kinds else kinds[0]
        values = tuple(value for value, _, _ in read)
        return values, List(item), ", ".join(text for _, _, text in read) or "none"
    return _scalar(raw, part.as_)


def _scalar(raw: Any, as_: str | None) -> tuple[Any, Type, str]:
    if not isinstance(raw, str):
        raise NotationError("a mapping or nothing", "a quantity, a text or a list", "")
    text = str(raw)
    if len(text) > _LONGEST_VALUE:
        raise NotationError(f"{text[:_MOST]}…", f"at most {_LONGEST_VALUE} characters", "")
    if as_ == "wire_size":
        return wire_size(text), Designation("wire_size"), wire_size(text)
    if as_ == "trade_size":
        return trade_size(text), Designation("trade_size"), trade_size(text)
    if as_ == "text":
        return text, TEXT, text
    if as_ == "flag" or (as_ is None and text in _WORD_VALUES):
        if text not in _WORD_VALUES:
            raise NotationError(text, "true or false", "")
        return _WORD_VALUES[text], FLAG, "yes" if _WORD_VALUES[text] else "no"
    first = text[:1]
    if as_ is None and not (first.isdigit() or first in "+-.½¼¾⅛⅜⅝⅞"):
        return text, TEXT, text
    if bare(text):
        raise NotationError(
            text,
            "a unit: 40 % or 0.4 ratio for a share, 4 count for a number of things, 24 in for a "
            "length; or `as: wire_size`, `as: trade_size`, `as: text`",
        )
    if as_ is None:
        try:
            size = wire_size(text)
        except NotationError:
            pass
        else:
            return size, Designation("wire_size"), size
    found = quantity(text)
    whole = found.unit.text in ("count", "each") and found.value == int(found.value)
    shown = text
    if found.unit.dimension == NONE and found.unit.text not in ("%", "percent"):
        shown = show_number(found.value)
    return (int(found.value) if whole else found.value), Number(found.dimension, whole), shown


def without_unit(raw: Any, like: Value) -> str:
    """A number that was written bare, with the unit of the value that it replaces; or ""."""
    old = like.part.value
    if like.as_ not in (None, "quantity") or not isinstance(raw, str) or not isinstance(old, str):
        return ""
    unit = old.lstrip("+-.0123456789/½¼¾⅛⅜⅝⅞ ")
    return f"{raw} {unit}" if unit and raw[:1].isdigit() and bare(raw) else ""


def bare(text: str) -> bool:
    """Whether a number is written without a unit."""
    return not any(c.isalpha() or c in "%°'\"½¼¾⅛⅜⅝⅞²³" for c in text)


def unreadable(name: str, part: Value, error: NotationError, likely: str = "") -> Problem:
    """A value that cannot be read, as a problem; ``likely`` is what may have been meant."""
    return part.part.problem(
        f"value `{name}` cannot be read",
        found=error.found,
        expected=error.expected,
        suggestion=error.suggestion or likely,
        length=len(str(part.part.value)),
    )


def unreadable_values(parts: Mapping[str, Value]) -> list[Problem]:
    """Those of several values that cannot be read."""
    problems = []
    for name, part in parts.items():
        try:
            read_value(part)
        except NotationError as error:
            problems.append(unreadable(name, part, error))
    return problems


def no_name(word: str) -> str:
    """Why a word cannot be the name of a value, a step, a formula or a parameter; "" where it can.

    What it may mean already is for whoever asks.
    """
    if not word.isidentifier() or not word.isascii() or word.startswith("_"):
        return "a name is letters, digits and _ , and starts with a letter"
    return "it is a word of the language" if keyword.iskeyword(word) else ""
