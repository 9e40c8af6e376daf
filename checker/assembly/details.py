"""Which kinds of detail a description goes into, as its fields are declared.

A field names its kind of detail where it is declared (``unstated("supports", detail="supports")``).
A kind is described once one element states a field of it.  Rules on such a detail apply from then
on; where nothing states it, one rule says so for the whole assembly.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from checker.documents.fields import given_fields
from checker.documents.missing import Missing, known

from .records import CLASSES, Assembly

_BY_NAME = {record.__name__: record for record in CLASSES.values()}


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a class of records keeps fields with a detail.

    fields: their names and kinds of detail; inner: fields that hold other records, each with
    whether it is a list.
    """

    fields: tuple[tuple[str, str], ...]
    inner: tuple[tuple[str, bool, _Place], ...]


_PLACES: dict[type, _Place] = {}


def _place_of(record: type) -> _Place:
    """Where a class keeps such fields; found once."""
    place = _PLACES.get(record)
    if place is None:
        place = _PLACES[record] = _found_in(record)
    return place


def _found_in(record: type) -> _Place:
    fields, inner = [], []
    for field in given_fields(record):
        if field.detail:
            fields.append((field.name, field.detail))
        item = field.item or field
        if item.kind == "record":
            place = _place_of(_BY_NAME[item.record])
            if place.fields or place.inner:
                inner.append((field.name, field.item is not None, place))
    return _Place(tuple(fields), tuple(inner))


def described(assembly: Assembly) -> tuple[str, ...]:
    """The kinds of detail that at least one element states."""
    found: dict[str, None] = {}
    _look(_place_of(Assembly), (assembly,), found)
    return tuple(found)


def _look(place: _Place, elements: Iterable[Any], found: dict[str, None]) -> None:
    for name, detail in place.fields:
        # The types of a field's values, without a step of Python for each of very many elements.
        if detail not in found and not {Missing}.issuperset(
            map(type, map(attrgetter(name), elements))
        ):
            found[detail] = None
    for name, several, inner in place.inner:
        values = [getattr(element, name) for element in elements]
        if several:
            values = [one for value in values if known(value) for one in _items(value)]
        _look(inner, values, found)


def _items(value: Any) -> Iterable[Any]:
    """The records of a list, or of a mapping by names."""
    return value.values() if isinstance(value, dict) else value


def left_out(assembly: Assembly) -> tuple[str, ...]:
    """The kinds of detail that the description leaves out on purpose."""
    return tuple(omission.topic for omission in assembly.not_covered)
