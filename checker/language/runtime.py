"""What compiled rules call: plain functions, and the names by which the code knows them.

Nothing of the checker or the parser is needed to run a rule, so nothing of them is imported here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from checker.documents.missing import Missing
from checker.quantities.designations import TRADE_RANK, WIRE_RANK

from . import numbers


def first(items: Iterable[Any]) -> Any:
    """The first item; LookupError where there is none."""
    for item in items:
        return item
    raise LookupError("there is none that would do")


def distinct(items: Iterable[Any]) -> tuple[Any, ...]:
    """The items without repetitions, in order."""
    return tuple(dict.fromkeys(items))


def text_list(items: Iterable[Any]) -> str:
    """Texts joined as people list them."""
    return ", ".join(str(item) for item in distinct(items))


def count(items: Any) -> int:
    """How many items there are."""
    return len(items) if hasattr(items, "__len__") else sum(1 for _ in items)


def total(items: Iterable[Any]) -> Any:
    """The sum of the items, 0 where there are none."""
    return sum(items)


def contains(value: Any, items: Any) -> bool:
    """Whether ``value`` is among ``items``; MissingData where the value is not stated.

    Python's own ``in`` takes an unstated value for found where the very same object is an item.
    """
    return bool(value == value) and value in items


#: Where sizes stand among their kind, from small to large.
RANKS: dict[str, Mapping[str, Any]] = {"wire_size": WIRE_RANK, "trade_size": TRADE_RANK}

#: Items that one rule may go through on one element, of collections inside several others.
MOST_ITEMS = 500_000


class Budget:
    """How many items may still be gone through; a rule has a new one on every element."""

    __slots__ = ("left",)

    def __init__(self) -> None:
        self.left = MOST_ITEMS

    def spend(self) -> None:
        """One item more.  OverflowError where a rule goes through too many."""
        self.left -= 1
        if self.left < 0:
            raise OverflowError(f"more than {MOST_ITEMS} items are gone through")


def counted(budget: Budget, items: Iterable[Any]) -> Iterator[Any]:
    """The items, each of them counted."""
    for item in items:
        budget.spend()
        yield item


class Memory(dict[Any, Any]):
    """What a table gave so far, by its key or keys; asked for another one, it looks that up.

    ``lookup`` raises LookupError where the table has none, which is not remembered.
    """

    __slots__ = ("lookup",)

    def __init__(self, lookup: Callable[..., Any]) -> None:
        super().__init__()
        self.lookup = lookup

    def __missing__(self, keys: Any) -> Any:
        found = self.lookup(*keys) if keys.__class__ is tuple else self.lookup(keys)
        if len(self) >= _MOST_KEPT:
            self.clear()
        self[keys] = found
        return found


_MOST_KEPT = 20_000  # look-ups of one column that are remembered

#: Every name that compiled code may use besides its rule's values and tables.  There are no
#: builtins: code that was not emitted by ``compile`` finds nothing to climb on.
GLOBALS: dict[str, Any] = {
    "__builtins__": {},
    "f_eq": numbers.equal,
    "f_le": numbers.at_most,
    "f_lt": numbers.less,
    "f_in": contains,
    "f_budget": Budget,
    "f_counted": counted,
    "f_len": len,
    "f_type": type,
    "f_Missing": Missing,
    **{"f_" + name: ranks for name, ranks in RANKS.items()},
    "f_sum": sum,
    "f_any": any,
    "f_all": all,
    "f_max": max,
    "f_min": min,
    "f_first": first,
    "f_unique": dict.fromkeys,
    "f_joined": text_list,
    "f_count": count,
    "f_floor": numbers.floor,
    "f_ceil": numbers.ceil,
    "f_whole_from": numbers.whole_from,
    "f_sqrt": math.sqrt,
    "f_abs": abs,
}
