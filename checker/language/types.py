"""The kinds of value that an expression may have, as the checker sees them at load."""

from __future__ import annotations

import ast
import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Protocol

from checker.quantities.dimension import NONE, Dimension

#: Decimal digits, before the point or behind it, of any stated quantity: ``notation`` sees to that.
STATED = 33
#: Further digits behind the point of what two nearly equal values differ by.
LOST = 17
#: More than these, and a value may leave the range of floats, which has 308; what adding many
#: values needs is left over.  Compiled code does not look whether one has: see ``Checked.digits``.
MOST_DIGITS = 290


@dataclass(frozen=True, slots=True)
class Number:
    """A number with a dimension.  ``whole`` numbers (counts) compare exactly.

    digits: how many decimal digits it may have at most, before the point or behind it.
    """

    dimension: Dimension = NONE
    whole: bool = False
    digits: int = field(default=STATED, compare=False)

    def __str__(self) -> str:
        return "count" if self.whole and self.dimension == NONE else self.dimension.name


@dataclass(frozen=True, slots=True)
class Text:
    """Text; ``options`` lists what it may be, where that is closed."""

    options: tuple[str, ...] = ()

    def __str__(self) -> str:
        return "text"


@dataclass(frozen=True, slots=True)
class Designation:
    """A wire size, trade size or standard box: text in a canonical form that is not a length."""

    name: str

    def __str__(self) -> str:
        return self.name.replace("_", " ")


@dataclass(frozen=True, slots=True)
class Flag:
    """True or false."""

    def __str__(self) -> str:
        return "yes or no"


@dataclass(frozen=True, slots=True)
class Record:
    """An element of the assembly, or a row of a table."""

    name: str

    def __str__(self) -> str:
        return self.name.replace("_", " ")


@dataclass(frozen=True, slots=True)
class List:
    """Several values of one kind; ``wide`` marks a collection as large as the assembly.

    passes: how many collections were gone through inside each other to make it, 0 for one that was
    written out; parts: how many collections were joined, or items written out.  Both bound what
    going through it may cost.
    """

    item: Type
    wide: bool = False
    passes: int = field(default=1, compare=False)
    parts: int = field(default=1, compare=False)

    def __str__(self) -> str:
        return f"list of {self.item}"


@dataclass(frozen=True, slots=True)
class Anything:
    """Stands for a value whose kind is unknown because an error was reported for it already."""

    def __str__(self) -> str:
        return "anything"


Type = Number | Text | Designation | Flag | Record | List | Anything

#: Designations that go from small to large.
_RANKED = ("wire_size", "trade_size")


def has_order(kind: Type) -> bool:
    """Whether one such value can be more than another.  Standard boxes have no order."""
    return isinstance(kind, Number) or (isinstance(kind, Designation) and kind.name in _RANKED)


COUNT = Number(NONE, whole=True)
PLAIN = Number(NONE)
FLAG = Flag()
TEXT = Text()
ANYTHING = Anything()
WIRE_SIZE = Designation("wire_size")
TRADE_SIZE = Designation("trade_size")


class TableView(Protocol):
    """What the language needs to know of a table."""

    @property
    def key_types(self) -> Mapping[str, Type]: ...

    @property
    def column_types(self) -> Mapping[str, Type]: ...

    def getter(self, column: str) -> Any: ...

    def rows_getter(self, key_names: tuple[str, ...]) -> Any: ...

    def cite_lookup(self, keys: Mapping[str, Any]) -> str: ...

    def unit_of(self, column: str) -> str: ...

    def no_entry(self, keys: Mapping[str, Any]) -> str: ...


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula: its name, its parameters in order, and its tree as it was written.

    inside: the formulas that it calls, by name; free: the names that it and they take from where it
    is used, functions and tables among them; parts: how many it has with those put in; mentions:
    how often each parameter is, which stands for what is given for it.
    """

    name: str
    of: tuple[str, ...]
    tree: ast.expr
    inside: Mapping[str, Formula] = field(default_factory=dict)
    free: frozenset[str] = frozenset()
    parts: int = 1
    mentions: tuple[int, ...] = ()

    @property
    def usage(self) -> str:
        """How it is written."""
        return f"{self.name}({', '.join(self.of)})"


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """What an expression may speak of: the fields of each record, and the tables.

    records: record name -> field name -> type
    tables: table name -> view
    formulas: those of the rule at hand, by name
    """

    records: Mapping[str, Mapping[str, Type]]
    tables: Mapping[str, TableView]
    formulas: Mapping[str, Formula] = field(default_factory=dict)


def same_kind(a: Type, b: Type) -> bool:
    """Whether two values can stand in the same place."""
    if isinstance(a, Anything) or isinstance(b, Anything):
        return True
    if isinstance(a, Number) and isinstance(b, Number):
        return a.dimension == b.dimension
    if isinstance(a, Text) and isinstance(b, Text):
        return True
    if isinstance(a, List) and isinstance(b, List):
        return same_kind(a.item, b.item)
    return a == b


def joined(a: Type, b: Type) -> Type:
    """The kind of a value that is one or the other (which are of the same kind)."""
    if isinstance(a, Anything):
        return b
    if isinstance(a, Number) and isinstance(b, Number):
        return Number(a.dimension, a.whole and b.whole, max(a.digits, b.digits))
    if isinstance(a, Text) and isinstance(b, Text):
        return a if a == b else Text(a.options + b.options if a.options and b.options else ())
    if isinstance(a, List) and isinstance(b, List):
        passes, parts = max(a.passes, b.passes), max(a.parts, b.parts)
        return List(joined(a.item, b.item), a.wide or b.wide, passes, parts)
    return a


def sized(kind: Type, value: Any) -> Type:
    """The kind of a value that is known, with the digits that it has."""
    if isinstance(kind, List):
        items = [sized(kind.item, item) for item in value]
        digits = max((i.digits for i in items if isinstance(i, Number)), default=1)
        return replace(kind, item=with_digits(kind.item, digits))
    found = isinstance(value, (int, float)) and bool(value)
    return with_digits(kind, math.ceil(abs(math.log10(abs(value)))) + 1 if found else 1)


def with_digits(kind: Type, digits: int) -> Type:
    """A number's kind with another bound of its digits; other kinds have none."""
    return Number(kind.dimension, kind.whole, digits) if isinstance(kind, Number) else kind
