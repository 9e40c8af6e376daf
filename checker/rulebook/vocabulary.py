"""What rules may speak of: the declared fields of the records, and the tables.

Built from the records' own declarations, so that a new field is known to the language, the schema
and the documentation as soon as it is declared.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from checker.assembly.records import CLASSES, HOLDERS, SUBJECTS
from checker.documents.fields import Field, fields_of
from checker.language.types import (
    FLAG,
    TEXT,
    Designation,
    List,
    Number,
    Record,
    Text,
    Type,
    Vocabulary,
)
from checker.quantities.dimension import NONE
from checker.quantities.nearest import nearest
from checker.quantities.units import unit as find_unit
from checker.tables.collection import TableSet
from checker.tables.table import Table

_NAMES = {record.__name__: name for name, record in CLASSES.items()}
_DESIGNATIONS = {name: Designation(name) for name in ("wire_size", "trade_size", "box_size")}


def type_of(field: Field, *, wide: bool = False) -> Type:
    """The language's type of a declared field."""
    if field.kind == "number":
        return Number(field.dimension or NONE)
    if field.kind == "whole":
        return Number(NONE, whole=True)
    if field.kind == "flag":
        return FLAG
    if field.kind == "record":
        return Record(_NAMES[field.record])
    if field.kind == "list":
        assert field.item is not None
        return List(type_of(field.item), wide)
    if field.kind == "form" and field.form is not None:
        return _DESIGNATIONS.get(field.form.name, TEXT)
    return Text(field.options)


def record_types() -> dict[str, dict[str, Type]]:
    """Record name -> field name -> type, of every element class."""
    wide = set(SUBJECTS.values())
    return {
        name: {
            field.name: type_of(field, wide=name == "assembly" and field.name in wide)
            for field in fields_of(record)
        }
        for name, record in CLASSES.items()
    }


_MOST_SAID = 2_000  # look-ups without an entry, of one table, that are remembered


class View:
    """A table as the language sees it."""

    __slots__ = ("_columns", "_keys", "_said", "table")

    def __init__(self, table: Table) -> None:
        self.table = table
        self._said: dict[tuple[Any, ...], str] = {}
        self._keys: dict[str, Type] = {key.name: _kind(key.kind, key.unit) for key in table.keys}
        self._columns: dict[str, Type] = {
            column.name: _kind(column.kind, column.unit) for column in table.columns
        }

    @property
    def key_types(self) -> Mapping[str, Type]:
        """Type of each key."""
        return self._keys

    @property
    def column_types(self) -> Mapping[str, Type]:
        """Type of each column."""
        return self._columns

    def getter(self, column: str) -> Any:
        """The look-up of a column."""
        return self.table.getter(column)

    def rows_getter(self, key_names: tuple[str, ...]) -> Any:
        """The look-up of rows."""
        return self.table.rows_getter(key_names)

    def unit_of(self, column: str) -> str:
        """The unit that a column is written in; "" for none."""
        return next((c.unit for c in self.table.columns if c.name == column), "")

    def cite_lookup(self, keys: Mapping[str, Any]) -> str:
        """A look-up in words, with the table's citation."""
        names = tuple(key.name for key in self.table.keys if key.name in keys)
        return self.table.explain_key([keys[name] for name in names], names)

    def no_entry(self, keys: Mapping[str, Any]) -> str:
        """A look-up without an entry in words, with the nearest name; remembered by its keys.

        The same one is asked for each conductor of a pull, and finding the nearest name goes
        through every row.
        """
        given = tuple((name, value.__class__, value) for name, value in keys.items())
        said = self._said.get(given)
        if said is None:
            close = self.nearest_key(keys)
            said = self.cite_lookup(keys) + (f" (nearest: {close})" if close else "")
            if len(self._said) >= _MOST_SAID:
                self._said.clear()
            self._said[given] = said
        return said

    def nearest_key(self, keys: Mapping[str, Any]) -> str:
        """The name of the table most like the first given one that no row has, or ""."""
        for place, key in enumerate(self.table.keys):
            if key.kind == "text" and key.name in keys:
                known = {row[place]: None for row in self.table.rows} | dict.fromkeys(key.also)
                given = str(keys[key.name])
                if given not in known:
                    # A name without its dash is meant before one of other letters: THWN2.
                    bare = {name.replace("-", ""): name for name in known}
                    return bare.get(given.replace("-", "")) or nearest(given, known) or ""
        return ""


def _kind(kind: str, unit: str) -> Type:
    if kind == "number":
        return Number(find_unit(unit).dimension, whole=unit == "count")
    if kind == "flag":
        return FLAG
    if kind == "box":
        return _DESIGNATIONS["box_size"]
    return _DESIGNATIONS.get(kind, TEXT)


class TableViews(Mapping[str, View]):
    """The tables of a set, each read and viewed when it is first asked for."""

    def __init__(self, tables: TableSet) -> None:
        self.tables = tables
        self._views: dict[str, View] = {}

    def __getitem__(self, name: str) -> View:
        view = self._views.get(name)
        if view is None:
            view = self._views[name] = View(self.tables[name])
        return view

    def __iter__(self) -> Iterator[str]:
        return iter(self.tables)

    def __len__(self) -> int:
        return len(self.tables)

    def __contains__(self, name: object) -> bool:
        return name in self.tables


class _Records(Mapping[str, Mapping[str, Type]]):
    """Fields by record, with the rows of every table as records of their own."""

    def __init__(self, views: TableViews) -> None:
        self._known: dict[str, Mapping[str, Type]] = dict(record_types())
        self._views = views

    def __getitem__(self, name: str) -> Mapping[str, Type]:
        known = self._known.get(name)
        if known is None and name.startswith("row:"):
            view = self._views[name[4:]]
            known = self._known[name] = {**view.key_types, **view.column_types}
        if known is None:
            raise KeyError(name)
        return known

    def __iter__(self) -> Iterator[str]:
        return iter(self._known)

    def __len__(self) -> int:
        return len(self._known)


def vocabulary_of(tables: TableSet) -> Vocabulary:
    """Everything that an expression may name."""
    views = TableViews(tables)
    return Vocabulary(_Records(views), views)


@dataclass(frozen=True, slots=True)
class SubjectClass:
    """A class of element that a rule is checked on, with the names that stand for the element."""

    name: str

    @property
    def names(self) -> dict[str, Type]:
        """Names in scope for a rule on this class."""
        known: dict[str, Type] = {
            "assembly": Record("assembly"),
            "this": Record(self.name),
            self.name: Record(self.name),
        }
        if self.name in HOLDERS:
            known[HOLDERS[self.name]] = Record(HOLDERS[self.name])
        return known
