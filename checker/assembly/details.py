"""Which kinds of detail a description goes into, as its fields are declared.

A field names its kind of detail where it is declared (``unstated("supports", detail="supports")``).
A kind is described once one element states a field of it.  Rules on such a detail apply from then
on; where nothing states it, one rule says so for the whole assembly.
"""

from __future__ import annotations

from collections.abc import Iterable
from operator import attrgetter
from typing import Any

from checker.documents.missing import Missing, known
from checker.documents.places import Place, place_of

from .records import RECORDS, Assembly

_DETAILS = place_of(
    Assembly,
    RECORDS,
    lambda field: bool(field.detail),
)


def described(assembly: Assembly) -> tuple[str, ...]:
    """The kinds of detail that at least one element states."""
    found: dict[str, None] = {}
    _look(_DETAILS, (assembly,), found)
    return tuple(found)


def _look(place: Place, elements: Iterable[Any], found: dict[str, None]) -> None:
    for field in place.fields:
        # The types of a field's values, without a step of Python for each of very many elements.
        if field.detail not in found and not {Missing}.issuperset(
            map(type, map(attrgetter(field.name), elements))
        ):
            found[field.detail] = None
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
