"""Where records keep fields of a kind, found once from their declarations."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from .fields import Field, given_fields


@dataclass(frozen=True, slots=True)
class Place:
    """Where a class of records keeps the fields that are looked for.

    fields: its own; inner: the fields that hold records which have some, each with whether it is a
    list.
    """

    fields: tuple[Field, ...]
    inner: tuple[tuple[str, bool, Place], ...]


def place_of(record: type, classes: dict[str, type], wanted: Callable[[Field], bool]) -> Place:
    """Where ``record``, and the records in it, keep the fields that are ``wanted``."""
    inner = []
    for field in given_fields(record):
        item = field.item or field
        if item.kind == "record":
            place = place_of(classes[item.record], classes, wanted)
            if place.fields or place.inner:
                inner.append((field.name, field.item is not None, place))
    return Place(tuple(field for field in given_fields(record) if wanted(field)), tuple(inner))
