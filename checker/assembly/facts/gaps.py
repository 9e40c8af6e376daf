"""What a description leaves unstated, carried on to every fact that needs it.

A fact that the description does not determine is a ``Missing`` that names what is lacking.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from checker.documents.fields import opened
from checker.documents.missing import Missing, MissingData

from ..records import Record


def new(record: type[Record], node: Any = None) -> Any:
    """A record of which every field is derived; whoever makes it sets them all."""
    made = object.__new__(opened(record))
    made.node = node
    return made


def gap(element: Record, key: str) -> Missing:
    """A fact that lacks ``key`` of ``element``."""
    unstated = getattr(element, key, None)
    detail = unstated.detail if type(unstated) is Missing else ""
    return Missing(key, owner=element, detail=detail)


def describe(element: Record) -> str:
    """An element in words, such as ``raceway R1``."""
    return element.describe()


def lack_of(*values: Any, of: Any = None) -> Missing | None:
    """One ``Missing`` that names every gap among the values, or None."""
    missing = [value for value in values if type(value) is Missing]
    if not missing:
        return None
    if len(missing) == 1 and of is None:
        return missing[0]
    return Missing(missing[0].field, parts=missing, owner=of)


def if_known(make: Callable[[], Any], *values: Any) -> Any:
    """What ``make`` gives where nothing is missing among the values, else what is missing."""
    lack = lack_of(*values)
    return make() if lack is None else lack


def sum_of(values: list[Any]) -> Any:
    """The sum, or what is missing of it."""
    try:
        return sum(values)
    except MissingData:
        return lack_of(*values)
