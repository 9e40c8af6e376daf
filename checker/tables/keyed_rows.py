"""Rows of keys and values, where each was written, and what they are called in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NoReturn

from checker.quantities.nearest import nearest
from checker.quantities.show import show

from .columns import Column, Key, Spec, base_unit

if TYPE_CHECKING:
    from checker.documents.errors import Mark

Cells = tuple[Any, ...]
_ROWS = object()  # what is kept beside the getters, which go by names


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a row was written. ``node`` is the list of its cells, None where amended."""

    file: str
    node: Any = None

    def mark(self, cell: int) -> Mark | None:
        """The place of one cell, counted over keys and columns."""
        if self.node is None:
            return None
        place: Mark = self.node.value_mark(cell)
        return place


class Row:
    """One row of a table; its keys and columns are attributes, in base units. Read only."""

    __slots__: tuple[str, ...] = ()

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"a row of a table is not changed in place ({name})")

    def __repr__(self) -> str:
        cells = ", ".join(f"{name}={getattr(self, name)!r}" for name in type(self).__slots__)
        return f"{type(self).__name__}({cells})"


def make_rows(
    table: str, names: tuple[str, ...], rows: Iterable[tuple[Any, ...]]
) -> tuple[Any, ...]:
    """Objects for ``rows``, of a class that has the slots ``names``."""
    made = type(table, (Row,), {"__slots__": names})
    setters = [getattr(made, name).__set__ for name in names]
    out = []
    for cells in rows:
        row = made()
        for setter, cell in zip(setters, cells, strict=True):
            setter(row, cell)
        out.append(row)
    return tuple(out)


@dataclass(frozen=True, slots=True)
class KeyedRows:
    """Rows of keys and values, in base units and canonical texts, in the order of the trade.

    ``cite`` is the citation by edition; ``origins`` is where each row was written.  An empty cell
    holds ``missing``.
    """

    name: str
    title: str
    keys: tuple[Key, ...]
    columns: tuple[Column, ...]
    rows: tuple[Cells, ...]
    cite: Mapping[str, str]
    note: str = ""
    sources: Mapping[str, str] = field(default_factory=dict)
    file: str = ""
    origins: tuple[Origin, ...] = ()
    edition_rows: Mapping[str, tuple[tuple[Cells, Origin], ...]] = field(default_factory=dict)
    edition: str = ""
    missing: object = None
    _kept: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def specs(self) -> tuple[Spec, ...]:
        """Keys, then columns, in the order of the cells."""
        return (*self.keys, *self.columns)

    @property
    def names(self) -> tuple[str, ...]:
        """Names of keys and columns, in the order of the cells."""
        return tuple(spec.name for spec in self.specs)

    def key(self, name: str) -> Key:
        """The key called ``name``; raises TableError with the nearest one."""
        return self.keys[self.key_position(name)]

    def column(self, name: str) -> Column:
        """The column called ``name``; raises TableError with the nearest one."""
        return self.columns[self.position(name) - len(self.keys)]

    def key_position(self, name: str) -> int:
        """Where the key ``name`` stands among the cells of a row."""
        for index, spec in enumerate(self.keys):
            if spec.name == name:
                return index
        raise TableError(self.name, "key", name, tuple(key.name for key in self.keys))

    def position(self, name: str) -> int:
        """Where the column ``name`` stands among the cells of a row."""
        for index, spec in enumerate(self.columns):
            if spec.name == name:
                return len(self.keys) + index
        raise TableError(self.name, "column", name, tuple(c.name for c in self.columns))

    @property
    def row_objects(self) -> tuple[Any, ...]:
        """All rows, as objects with attributes."""
        known = self._kept.get(_ROWS)
        if known is None:
            known = self._kept[_ROWS] = make_rows(self.name, self.names, self.rows)
        return known

    def words(self, values: Sequence[Any], names: tuple[str, ...] | None = None) -> str:
        """Values of keys in words: ``THHN, 12 AWG`` or ``75 °C, ambient 38 °C``."""
        specs = self.keys if names is None else tuple(self.key(name) for name in names)
        parts = []
        for spec, value in zip(specs, values, strict=False):
            text = show(value, base_unit(spec)) if isinstance(value, float) else str(value)
            parts.append(f"{spec.name} {text}" if spec.kind == "number" else text)
        return ", ".join(parts) or "any key"

    def explain_key(self, values: Sequence[Any], names: tuple[str, ...] | None = None) -> str:
        """A look-up in words: ``NEC 2023 Chapter 9 Table 5: THHN, 12 AWG``.

        ``names`` are the keys given, all of them unless stated.  The citation is the chosen
        edition's; before one is chosen, the title stands for it.
        """
        return f"{self.cite.get(self.edition) or self.title}: {self.words(values, names)}"

    def mark(self, row: int, name: str) -> Mark | None:
        """Where the cell ``name`` of the row of that index was written, None if not in a file."""
        return self.origins[row].mark(self.names.index(name)) if row < len(self.origins) else None


class TableError(ValueError):
    """A table has no key, column or row of that name.

    ``what`` is key, column or row; ``found`` what was asked for, ``known`` what there is, and
    ``suggestion`` the nearest of it or "".
    """

    def __init__(
        self, table: str, what: str, found: str, known: tuple[str, ...], suggestion: str = ""
    ) -> None:
        super().__init__(table, what, found)
        self.table = table
        self.what = what
        self.found = found
        self.known = known
        self.suggestion = suggestion or nearest(found, known) or ""

    def __str__(self) -> str:
        hint = f"; nearest: {self.suggestion}" if self.suggestion else ""
        return f"table {self.table} has no {self.what} `{self.found}`{hint}"
