"""What the expansion knows of each class of elements, from the records' own declarations."""

from __future__ import annotations

from dataclasses import dataclass

from checker.documents.fields import IDENTIFIER, Field, given_fields

from ..records import CLASSES, Assembly

#: What a group may hold; sections, panels and joints are the design's own.
GROUPED = ("spaces", "boxes", "raceways", "cables", "couplings", "circuits", "pulls")
#: Classes whose elements share one set of names, as raceways may end in any of them.
_SHARED = (("box", "panel", "coupling"), ("raceway", "cable"))


@dataclass(frozen=True, slots=True)
class Kind:
    """One class of records.

    keys: of all its fields; named: whether it has an id; refers: by key, the classes that the value
    names an element of; inner: by key, the class of the records that the value holds.
    """

    name: str
    keys: tuple[str, ...]
    named: bool
    refers: dict[str, tuple[str, ...]]
    inner: dict[str, Kind]


def _kind(name: str) -> Kind:
    fields = given_fields(CLASSES[name])
    refers, inner = {}, {}
    for field in fields:
        item = field.item or field
        if item.form is not None and item.form.name == "reference":
            refers[field.key] = tuple(item.form.target.split("|"))
        elif item.kind == "record":
            inner[field.key] = _made(_NAMES[item.record])
    named = any(field.form is IDENTIFIER for field in fields)
    return Kind(name, tuple([field.key for field in fields]), named, refers, inner)


_NAMES = {record.__name__: name for name, record in CLASSES.items()}
_KINDS: dict[str, Kind] = {}


def _made(name: str) -> Kind:
    if name not in _KINDS:
        _KINDS[name] = _kind(name)
    return _KINDS[name]


def _is_collection(field: Field) -> bool:
    item = field.item
    return item is not None and item.kind == "record" and _made(_NAMES[item.record]).named


#: The collections of a design and the class of their elements.
COLLECTIONS: dict[str, Kind] = {
    field.key: _made(_NAMES[field.item.record])
    for field in given_fields(Assembly)
    if field.item is not None and _is_collection(field)
}


def typed() -> dict[str, Kind]:
    """The classes that may have types: elements, and the records that they hold."""
    found: dict[str, Kind] = {}
    waiting = list(COLLECTIONS.values())
    for kind in waiting:
        if kind.name not in found:
            found[kind.name] = kind
            waiting += kind.inner.values()
    return found


def shared_names(name: str) -> tuple[str, ...]:
    """The classes whose elements share their names with those of a class, itself among them."""
    return next((group for group in _SHARED if name in group), (name,))
