"""The functions that an expression may call: a short documented list and nothing else."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from checker.quantities.dimension import TEMPERATURE

from . import numbers
from .runtime import count, distinct, first, text_list, total
from .types import (
    COUNT,
    FLAG,
    TEXT,
    Anything,
    Designation,
    Flag,
    List,
    Number,
    Text,
    Type,
    has_order,
    joined,
    same_kind,
)


@dataclass(frozen=True, slots=True)
class Function:
    """One function of the language.

    usage: how it is written; says: what it gives; arguments: smallest and largest number of them;
    result: from argument types to the result's type, or the words of what it takes instead;
    call: the plain Python that computes it.
    """

    name: str
    usage: str
    says: str
    arguments: tuple[int, int]
    result: Callable[[list[Type]], Type | str]
    call: Callable[..., Any]


def _numbers(kinds: list[Type]) -> Type | str:
    if isinstance(kinds[0], List) and isinstance(kinds[0].item, (Number, Anything)):
        item = kinds[0].item
        if isinstance(item, Number) and item.dimension == TEMPERATURE:
            return "numbers that can be added; temperatures cannot"
        return Number(item.dimension, item.whole) if isinstance(item, Number) else item
    return "a collection of numbers, such as sum(w.size for w in …)"


def _flags(kinds: list[Type]) -> Type | str:
    if isinstance(kinds[0], List) and isinstance(kinds[0].item, (Flag, Anything)):
        return FLAG
    return "a collection of yes-or-no values, such as any(w.bare for w in …)"


def _collection(result: Callable[[List], Type]) -> Callable[[list[Type]], Type | str]:
    def give(kinds: list[Type]) -> Type | str:
        return result(kinds[0]) if isinstance(kinds[0], List) else "a collection"

    return give


def _extreme(kinds: list[Type]) -> Type | str:
    flat: list[Type] = []
    for kind in kinds:
        flat.append(kind.item if isinstance(kind, List) else kind)
    if len(kinds) == 1 and not isinstance(kinds[0], List):
        return "two values or a collection"
    result = flat[0]
    for kind in flat:
        if not (has_order(kind) or isinstance(kind, Anything)):
            return "numbers, wire sizes or trade sizes"
        if not same_kind(result, kind):
            return f"values of one kind, not {result} and {kind}"
        result = joined(result, kind)
    return result


def _plain(result: Callable[[Number], Type]) -> Callable[[list[Type]], Type | str]:
    def give(kinds: list[Type]) -> Type | str:
        for kind in kinds:
            if isinstance(kind, Anything):
                return kind
            if not isinstance(kind, Number) or any(kind.dimension):
                return "plain numbers (divide by a quantity of the same kind first)"
        first = kinds[0]
        assert isinstance(first, Number)
        return result(first)

    return give


def _root(kinds: list[Type]) -> Type | str:
    kind = kinds[0]
    if isinstance(kind, Anything):
        return kind
    if isinstance(kind, Number) and all(n % 2 == 0 for n in kind.dimension):
        return Number(type(kind.dimension)(*[n // 2 for n in kind.dimension]))
    return "a number whose dimension is a square, such as an area"


def _absolute(kinds: list[Type]) -> Type | str:
    return kinds[0] if isinstance(kinds[0], (Number, Anything)) else "a number"


def _texts(kinds: list[Type]) -> Type | str:
    kind = kinds[0]
    if isinstance(kind, List) and isinstance(kind.item, (Text, Designation, Anything)):
        return TEXT
    return "a collection of texts, such as joined(p.id for p in …)"


def _function(
    usage: str,
    says: str,
    result: Callable[[list[Type]], Type | str],
    call: Callable[..., Any],
    arguments: tuple[int, int] = (1, 1),
) -> Function:
    return Function(usage.partition("(")[0], usage, says, arguments, result, call)


_EVERY = (
    _function(
        "count(x for x in … if …)",
        "how many items a collection has", _collection(lambda _: COUNT), count
    ),
    _function(
        "sum(x.length for x in …)", "the sum of numbers of one kind; 0 for none", _numbers, total
    ),
    _function("any(x.bare for x in …)", "whether one item at least is true", _flags, any),
    _function(
        "all(x.bare for x in …)", "whether every item is true; true for none", _flags, all
    ),
    _function(
        "max(a, b), max(x.size for x in …), max(collection, otherwise)",
        "the largest number, wire size or trade size; a further value joins the collection",
        _extreme, max, (1, 4)
    ),
    _function(
        "min(a, b), min(x.size for x in …), min(collection, otherwise)",
        "the smallest number, wire size or trade size; a further value joins the collection",
        _extreme, min, (1, 4)
    ),
    _function(
        "first(row.size for row in table.rows() if …)",
        "the first item; the finding is open, and says so, where there is none",
        _collection(lambda kind: kind.item), first
    ),
    _function(
        "distinct(w.color for w in …)", "the items without repetitions",
        _collection(lambda kind: kind), distinct
    ),
    _function("joined(p.id for p in …)", "texts as one text, for messages", _texts, text_list),
    _function(
        "stated(box.volume)", "whether the description states a field",
        lambda _: FLAG, lambda _: True
    ),
    _function(
        "floor(a / b)", "the whole number not above a plain number",
        _plain(lambda _: COUNT), numbers.floor
    ),
    _function(
        "ceil(a / b)", "the whole number not below a plain number",
        _plain(lambda _: COUNT), numbers.ceil
    ),
    _function(
        "whole_from(a / b, share)",
        "the whole number not above a plain number, and one more where the remainder reaches "
        "the share",
        _plain(lambda _: COUNT), numbers.whole_from, (2, 2)
    ),
    _function("sqrt(area)", "the square root", _root, math.sqrt),
    _function("abs(a - b)", "the size of a number without its sign", _absolute, abs),
)  # fmt: skip
FUNCTIONS: dict[str, Function] = {function.name: function for function in _EVERY}
