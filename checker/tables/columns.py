"""What a table's keys and columns are, and how one cell of theirs is read."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Annotated, Any, ClassVar, Literal, TypeAlias

from checker.documents.fields import WORDS, given
from checker.quantities.designations import (
    box_designation,
    trade_rank,
    trade_size,
    wire_rank,
    wire_size,
)
from checker.quantities.dimension import Dimension
from checker.quantities.notation import NotationError, number, quantity
from checker.quantities.patterns import Lazy
from checker.quantities.units import BASE_TEXT, unit

Value: TypeAlias = (
    Any  # str, float or bool; the table's ``missing`` object stands for an empty cell
)

Words = Annotated[str, WORDS]
_PLAIN = Lazy(r"[0-9]{1,12}(?:\.[0-9]{1,12})?").fullmatch
_LONGEST = 60  # characters of a number; the longest honest one has about 12
_FLAGS = {"true": True, "false": False}
_RANKS: dict[str, Callable[[Any], float]] = {
    "wire_size": wire_rank,
    "trade_size": trade_rank,
    "number": float,
}
_READERS = {"wire_size": wire_size, "trade_size": trade_size, "box": box_designation}


class Spec:
    """A key or a column: what its cells are, and in which unit they are written."""

    __slots__ = ()
    name: str
    kind: str
    unit: str
    node: Any

    @property
    def dimension(self) -> Dimension | None:
        """The dimension of a number, None for anything else."""
        return unit(self.unit).dimension if self.kind == "number" else None

    def read(self, text: str, *, units: bool = False) -> Value:
        """A cell's value in base units, or its canonical text. Raises NotationError.

        A number is written bare, in the column's unit; with ``units`` it may carry another unit.
        """
        return read_cell(self.kind, self.unit, text, units=units)


@dataclass(frozen=True, slots=True)
class Column(Spec):
    """A column of values."""

    name: str
    kind: Literal["number", "text", "wire_size", "trade_size", "flag"] = given(
        "what its cells hold", key="type", default="number"
    )
    unit: Words = given(
        "for numbers, the unit that the cells are written in, or ratio, count or %", default=""
    )
    source: Words = given(
        "where its values come from: the publication, or `from memory`", default="", needed=True
    )
    checked: Words = given(
        "against what they were checked, or `not checked`", default="", needed=True
    )
    node: Any = field(default=None, repr=False, compare=False)

    #: What a schema says of the keys together: a unit with numbers only, and with every number.
    TOGETHER: ClassVar[dict[str, Any]] = {
        "if": {"required": ["type"], "properties": {"type": {"not": {"const": "number"}}}},
        "then": {"properties": {"unit": False}},
        "else": {"required": ["unit"]},
    }


@dataclass(frozen=True, slots=True)
class Key(Spec):
    """A key column."""

    name: str
    kind: Literal["text", "wire_size", "trade_size", "box", "number"] = given(
        "what it is looked up by", key="type"
    )
    unit: Words = given("for numbers, the unit that the cells are written in", default="")
    match: Literal["exact", "up_to", "from"] = given(
        "which row is found: exact; up_to, the first whose key is not below the one given; from, "
        "the last whose key is not above it",
        default="exact",
    )
    also: dict[str, Words] = given(
        "further names of text keys, each with the name that has the rows", default={}
    )
    node: Any = field(default=None, repr=False, compare=False)

    #: What a schema says of the keys together: units and ranges of numbers, further names of texts.
    TOGETHER: ClassVar[dict[str, Any]] = {
        "allOf": [
            {
                "if": {"properties": {"type": {"const": "number"}}},
                "then": {"required": ["unit"]},
                "else": {"properties": {"unit": False, "match": {"const": "exact"}}},
            },
            {
                "if": {"properties": {"type": {"not": {"const": "text"}}}},
                "then": {"properties": {"also": False}},
            },
        ]
    }

    @property
    def ranked(self) -> bool:
        """Whether its values have an order of their own, small to large."""
        return self.kind in _RANKS

    def rank(self, value: Any) -> float:
        """The place of ``value`` in that order; meaningful only where ``ranked``."""
        return _RANKS[self.kind](value)


def read_cell(kind: str, unit_text: str, text: str, *, units: bool = False) -> Value:
    """The value of ``text`` as a cell of that kind; numbers become floats in base units."""
    if kind == "number":
        measured = unit(unit_text)
        if _PLAIN(text) and measured.factor == 1 and not measured.offset:
            return float(text)  # the nearest float, as by way of a fraction
        try:
            exact = number(text if len(text) <= _LONGEST else "")
        except NotationError:
            if units:
                return quantity(text, measured.dimension).value
            hint = f", in {unit_text}" if unit_text not in ("ratio", "count", "1") else ""
            raise NotationError(text[:60], f"a number without a unit{hint}") from None
        return float(measured.to_base(exact))
    if kind == "text":
        if not text or not text.isprintable():
            raise NotationError(text[:60], "text on one line")
        return str(text)
    if kind == "flag":
        try:
            return _FLAGS[text]
        except KeyError:
            raise NotationError(text[:60], "true or false") from None
    return _READERS[kind](text)


def base_unit(spec: Spec) -> str:
    """The unit of its values as look-ups give them: ``in`` for a column written in ft."""
    dimension = spec.dimension
    return BASE_TEXT.get(dimension, "") if dimension is not None else ""
