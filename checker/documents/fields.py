"""How a record declares its fields: once, with type, dimension and default.

``Annotated[float, LENGTH]`` is a length in base units (in); ``Annotated[str, Wire]`` a wire size.
Quantities are not negative, temperatures and those marked ``SIGNED`` aside.
The reader, the published schema, the rule language and the documentation all read these
declarations through ``fields_of``; nothing else lists the fields of an element.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, NoReturn, TypeVar, dataclass_transform, get_args, get_origin

from checker.quantities.dimension import DIFFERENCE, TEMPERATURE, Dimension

from .missing import Missing, key_of

SIGNED = "signed"

R = TypeVar("R")


@dataclass(frozen=True, slots=True)
class Form:
    """A way of writing text that has its own grammar: a wire size, a trade size, a reference.

    ``target`` and ``narrower`` are those of ``refers``.
    """

    name: str
    target: str = ""
    narrower: bool = False


WIRE_SIZE = Form("wire_size")
TRADE_SIZE = Form("trade_size")
BOX_SIZE = Form("box_size")
IDENTIFIER = Form("identifier")
SYSTEM = Form("system")
DATE = Form("date")
INSULATION = Form("insulation")
POSITIVE = Form("positive")
WORDS = Form("words")
EXPRESSION = Form("expression")
TEMPLATE = Form("template")
NAME = Form("name")
ROW = Form("row")


def refers(target: str, *, narrower: bool = False) -> Form:
    """Text that names an element of class ``target`` (several classes joined by ``|``).

    ``narrower``: some of them only, such as the devices of one box; which, is for whoever looks
    them up to say.
    """
    return Form("reference", target, narrower)


@dataclass(frozen=True, slots=True)
class Field:
    """One declared field.

    kind: number | whole | text | flag | record | list | map | form; ``dimension`` for numbers;
    ``options`` for closed texts; ``record`` names the record class; ``item`` is a list's element.
    ``detail``: the kind of detail that a description may leave out as a whole.
    ``key`` is the key in the file ("" for a derived fact); ``default`` is absent (``REQUIRED``),
    a value, or a ``Missing``.  ``signed``: whether a number may be negative.
    ``doc`` says in words what it is.  ``names`` is the form of a map's keys.
    """

    name: str
    key: str
    kind: str
    default: Any
    derived: bool = False
    dimension: Dimension | None = None
    form: Form | None = None
    options: tuple[str, ...] = ()
    record: str = ""
    item: Field | None = None
    signed: bool = False
    detail: str = ""
    doc: str = ""
    names: Form | None = None


class Frozen:
    """Refuses every change, as a frozen dataclass does."""

    __slots__ = ()

    def __setattr__(self, name: str, value: Any) -> NoReturn:
        raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")

    def __delattr__(self, name: str) -> NoReturn:
        raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


@dataclass_transform(frozen_default=True)
def element(record: type[R]) -> type[R]:
    """A frozen, slotted dataclass without a constructor: what the reader makes.

    It is frozen by its base ``Frozen``: ``dataclass(frozen=True)`` compiles two functions for every
    class, which was a tenth of the time that a short check takes.
    """
    return dataclass(slots=True, eq=False, init=False, repr=False)(record)


def opened(record: type) -> Any:
    """A class of records that can still be written to, until ``closed`` makes them ``record``.

    Writing to a field of it takes a sixth of the time that getting past ``Frozen`` takes.
    """
    return _opened(record)


@cache
def _opened(record: type) -> type:
    change = {"__setattr__": object.__setattr__, "__delattr__": object.__delattr__}
    return type(record.__name__, (record,), {"__slots__": (), **change})


def closed(made: Any) -> Any:
    """A record of an ``opened`` class, frozen for everybody from now on."""
    made.__class__ = made.__class__.__base__
    return made


def blank(record: type[R]) -> R:
    """A record that states nothing: every field at its default."""
    made = object.__new__(record)
    for base in record.__mro__:
        for name in base.__dict__.get("__slots__", ()):
            object.__setattr__(made, name, None)
    for item in dataclasses.fields(record):  # type: ignore[arg-type]
        if item.default is not dataclasses.MISSING:
            object.__setattr__(made, item.name, item.default)
    return made


class _Required:
    __slots__ = ()

    def __repr__(self) -> str:
        return "REQUIRED"


REQUIRED = _Required()


def given(
    doc: str, *, default: Any = REQUIRED, key: str = "", detail: str = "", needed: bool = False
) -> Any:
    """A field written in the file; ``doc`` says what it is.  Without a default it is required.

    ``key`` is its key in the file where that is not its name; a name that Python keeps for itself
    ends in ``_``, which its key does not.  ``detail`` with a required field of a list's records:
    one record describes that detail.  ``needed``: the file has to state it all the same; the
    default is for records that are made otherwise.
    """
    metadata = {"doc": doc, "key": key, "detail": detail, "needed": needed}
    if isinstance(default, _Required):
        return dataclasses.field(metadata=metadata)
    if isinstance(default, dict):
        return dataclasses.field(default_factory=dict, metadata={**metadata, "empty": True})
    return dataclasses.field(default=default, metadata=metadata)


def unstated(doc: str, *, key: str = "", detail: str = "") -> Any:
    """An optional field whose absence matters: it holds a ``Missing`` until stated.

    The ``Missing`` is called as the field's key, with ``UNDER`` of the record before it where the
    record alone would not tell (``basis.ambient``).  ``detail`` is the kind of detail that the
    field belongs to: a description may leave that out as a whole, and then says so under
    ``not_covered``.
    """
    metadata = {"doc": doc, "key": key, "detail": detail}
    return dataclasses.field(default=Missing(key, detail=detail), metadata=metadata)


def derived(doc: str) -> Any:
    """A fact that follows from the description; filled in by ``derive`` and never written."""
    return dataclasses.field(default=Missing(""), metadata={"doc": doc, "derived": True})


def words_of(record: type) -> str:
    """What a record is, in words, without a stop at their end."""
    lines = (record.__doc__ or "").split("\n")
    return " ".join(line.strip() for line in lines if line.strip()).rstrip(".")


def _describe(name: str, annotation: Any) -> dict[str, Any]:
    """The declared type as plain facts."""
    origin = get_origin(annotation)
    arguments = get_args(annotation)
    if annotation is Any:
        return {"kind": "any"}
    if isinstance(annotation, str):  # a record declared further down, quoted
        return {"kind": "record", "record": annotation.split(" | ")[0]}
    if hasattr(annotation, "__metadata__"):
        marker = annotation.__metadata__[0]
        if marker is ROW:
            return {"kind": "any", "form": marker}
        if marker is POSITIVE:
            return {"kind": "whole", "form": marker}
        if isinstance(marker, Dimension):
            signed = SIGNED in annotation.__metadata__ or marker in (TEMPERATURE, DIFFERENCE)
            return {"kind": "number", "dimension": marker, "signed": signed}
        return {"kind": "form", "form": marker}
    if origin is Literal:
        return {"kind": "text", "options": arguments}
    if origin is dict:
        item = Field(name, name, default=REQUIRED, **_describe(name, arguments[1]))
        return {"kind": "map", "item": item, "names": _describe(name, arguments[0]).get("form")}
    if origin is tuple:
        item = Field(name, name, default=REQUIRED, **_describe(name, arguments[0]))
        return {"kind": "list", "item": item}
    if arguments:  # an optional: the first member that is not Missing or None
        plain = [a for a in arguments if a is not Missing and a is not type(None)]
        return _describe(name, plain[0])
    if annotation is bool:
        return {"kind": "flag"}
    if annotation is int:
        return {"kind": "whole"}
    if annotation is float:
        return {"kind": "number", "dimension": Dimension()}
    if annotation is str:
        return {"kind": "text"}
    forward = getattr(annotation, "__forward_arg__", None)
    return {"kind": "record", "record": forward or annotation.__name__}


def _default(item: dataclasses.Field[Any]) -> Any:
    if item.metadata.get("empty"):
        return {}
    if item.metadata.get("needed"):
        return REQUIRED
    return REQUIRED if item.default is dataclasses.MISSING else item.default


def fields_of(record: type) -> tuple[Field, ...]:
    """The declared fields of a record class, in order, without its private ones."""
    return _declared(record, True)


def given_fields(record: type) -> tuple[Field, ...]:
    """Those of a record's fields that are written in a file; all that reading needs."""
    return _declared(record, False)


@cache
def _declared(record: type, derived: bool) -> tuple[Field, ...]:
    annotations: dict[str, Any] = {}
    for base in reversed(record.__mro__):
        annotations.update(base.__dict__.get("__annotations__", {}))  # noqa: RUF063 - slow to import
    return tuple(
        Field(
            item.name,
            "" if item.metadata.get("derived") else item.metadata.get("key") or key_of(item.name),
            default=_default(item),
            derived=bool(item.metadata.get("derived")),
            detail=item.metadata.get("detail", ""),
            doc=item.metadata["doc"],
            **_describe(item.name, annotations[item.name]),
        )
        for item in dataclasses.fields(record)
        if item.metadata and (derived or not item.metadata.get("derived"))
    )
