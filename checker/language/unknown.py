"""What the description does not determine, and what follows from it in three-valued logic."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from checker.documents.missing import Missing, gap_in_words


@dataclass(frozen=True, slots=True)
class Unknown:
    """A value that the description does not determine; ``gaps`` names what is lacking."""

    gaps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Maybe:
    """An item of a collection of which it is unknown whether it belongs."""

    value: Any
    gaps: tuple[str, ...]


def merge(*values: Any) -> Unknown:
    """One ``Unknown`` that names every gap of those given."""
    gaps: dict[str, None] = {}
    for value in values:
        if isinstance(value, (Unknown, Maybe)):
            gaps.update(dict.fromkeys(value.gaps))
    return Unknown(tuple(gaps))


def alone(item: Any) -> Any:
    """An item of a collection by itself: whatever is unknown of its belonging, or of its value."""
    value = item.value if isinstance(item, Maybe) else item
    if type(value) is Missing:
        return Unknown(value.gaps or (gap_in_words(f"`{value.field}`", value.detail),))
    return value


def lacking(values: Iterable[Any]) -> Unknown | None:
    """What is unknown among values and in collections among them."""
    unsure: list[Any] = []
    for value in values:
        if isinstance(value, (Unknown, Maybe)):
            unsure.append(value)
        elif type(value) is Missing:
            unsure.append(alone(value))
        elif isinstance(value, (list, tuple)):
            inner = lacking(value)
            if inner is not None:
                unsure.append(inner)
    return merge(*unsure) if unsure else None


def counted(items: Sequence[Any]) -> Any:
    """How many there are, whatever they are; unknown where it is unknown of one that it belongs."""
    unsure = [item for item in items if isinstance(item, Maybe)]
    return merge(*unsure) if unsure else len(items)


def quantified(items: Any, every: bool) -> Any:
    """``all`` and ``any`` in three-valued logic."""
    if isinstance(items, Unknown):
        return items
    unsure = []
    for item in items:
        doubtful = isinstance(item, Maybe)
        value = item.value if doubtful else item
        if isinstance(value, Unknown):
            unsure.append(value)
        elif bool(value) is not every:
            if not doubtful:
                return not every
            unsure.append(merge(item))
    return merge(*unsure) if unsure else every


def contains(value: Any, items: Any) -> Any:
    """``in`` in three-valued logic."""
    if isinstance(items, Unknown):
        return items
    if isinstance(value, Unknown):
        return value if items else False
    unsure = []
    for item in items:
        own = alone(item)
        if isinstance(own, Unknown):
            unsure.append(merge(item, own))
        elif own is value or own == value:
            if not isinstance(item, Maybe):
                return True
            unsure.append(merge(item))
    return merge(*unsure) if unsure else False
