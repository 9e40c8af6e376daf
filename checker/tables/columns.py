"""What a table's keys and columns are, and how one cell of theirs is read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias

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

KEY_KINDS = ("text", "wire_size", "trade_size", "box", "number")
COLUMN_KINDS = ("number", "text", "wire_size", "trade_size", "flag")
MATCHES = ("exact", "up_to", "from")
_PLAIN = Lazy(r"[0-9]{1,12}(?:\.[0-9]{1,12})?").fullmatch
_LONGEST = 60  # characters of a number; the longest honest one has about 12
_FLAGS = {"true": True, "false": False}
_RANKS: dict[str, Callable[[Any], float]] = {
    "wire_size": wire_rank,
    "trade_size": trade_rank,
    "number": float,
}
_READERS = {"wire_size": wire_size, "trade_size": trade_size, "box": box_designation}


@dataclass(frozen=True, slots=True)
class Column:
    """A column of values. ``unit`` is the unit its cells are written in ("" unless a number).

    ``source`` says where the numbers come from, ``checked`` how they were cross-checked.
    """

    name: str
    kind: str = "number"
    unit: str = ""
    source: str = ""
    checked: str = ""

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
class Key:
    """A key column. ``also`` maps further names to the name that has the rows.

    ``match``: exact, up_to (the first row whose key is not below the one given) or from (the last
    row whose key is not above it).
    """

    name: str
    kind: str
    unit: str = ""
    match: str = "exact"
    also: Mapping[str, str] = field(default_factory=dict)

    @property
    def dimension(self) -> Dimension | None:
        """The dimension of a number, None for anything else."""
        return unit(self.unit).dimension if self.kind == "number" else None

    @property
    def ranked(self) -> bool:
        """Whether its values have an order of their own, small to large."""
        return self.kind in _RANKS

    def rank(self, value: Any) -> float:
        """The place of ``value`` in that order; meaningful only where ``ranked``."""
        return _RANKS[self.kind](value)

    def read(self, text: str, *, units: bool = False) -> Value:
        """A key's value in base units, or its canonical text. Raises NotationError."""
        return read_cell(self.kind, self.unit, text, units=units)


Spec = Key | Column


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
