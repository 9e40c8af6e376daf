"""A table: keyed rows of sourced numbers, and the look-ups in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from checker.documents.digest import sha256
from checker.quantities.nearest import nearest
from checker.quantities.show import show

from .columns import Column, Key, Spec, base_unit
from .lookup import Getter, RowsGetter, cell_getter, rows_getter
from .rows import make_rows

if TYPE_CHECKING:
    from checker.documents.errors import Mark

    from .change import Amended, CellChange

Cells = tuple[Any, ...]
_ROWS, _DIGEST = object(), object()  # what is kept beside the getters, which go by names


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


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of keys and values, in base units and canonical texts, in the order of the trade.

    ``cite`` is the citation by edition; ``sources`` spells out the short names of documents used
    in the columns' sources; ``edition_rows`` are the rows of single editions, until
    ``for_edition`` puts them in. An empty cell holds ``missing``.
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

    # -- what it has -----------------------------------------------------------------------

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
    def digest(self) -> str:
        """A fingerprint of what look-ups can see: keys, aliases, columns and rows."""
        known = self._kept.get(_DIGEST)
        if known is None:
            keys = [(k.name, k.kind, k.unit, k.match, sorted(k.also.items())) for k in self.keys]
            columns = [(c.name, c.kind, c.unit) for c in self.columns]
            empty = self.missing
            rows = [[None if cell is empty else cell for cell in row] for row in self.rows]
            text = repr((self.name, keys, columns, rows))
            known = self._kept[_DIGEST] = "sha256:" + sha256(text.encode()).hexdigest()
        return str(known)

    # -- looking up ------------------------------------------------------------------------

    def getter(self, column: str) -> Getter:
        """A function of the keys, in the table's order, that gives the cell of ``column``.

        Numbers are given and taken in base units (in, in², A, °C, a plain ratio: 80 % is 0.8),
        designations as their canonical texts. It raises NoEntry where the table has no such row
        or an empty cell. Unknown columns raise TableError at once.
        """
        known = self._kept.get(column)
        if known is None:
            known = self._kept[column] = cell_getter(self, column)
        return known

    def rows_getter(self, key_names: tuple[str, ...] = ()) -> RowsGetter:
        """A function of the named keys that gives the rows having exactly those, in order.

        Rows have an attribute for every key and column. It raises NoEntry where none has them.
        """
        known = self._kept.get(key_names)
        if known is None:
            known = self._kept[key_names] = rows_getter(self, key_names)
        return known

    @property
    def row_objects(self) -> tuple[Any, ...]:
        """All rows, as objects with attributes."""
        known = self._kept.get(_ROWS)
        if known is None:
            known = self._kept[_ROWS] = make_rows(self.name, self.names, self.rows)
        return known

    # -- saying it -------------------------------------------------------------------------

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

    # -- changing it -----------------------------------------------------------------------

    def for_edition(self, edition: str) -> Table:
        """The table as an edition has it, with the rows of that edition only put in.

        Such a row replaces the one of the same keys; otherwise it takes its place in the order.
        """
        from .change import put_in

        rows, origins = self.rows, self.origins
        for cells, origin in self.edition_rows.get(edition, ()):
            rows, origins = put_in(self, rows, origins, cells, origin)
        return replace(self, rows=rows, origins=origins, edition=edition, edition_rows={})

    def amended(
        self,
        *,
        cells: Sequence[CellChange] = (),
        add_rows: Sequence[Mapping[str, Any]] = (),
        remove_rows: Sequence[Mapping[str, Any]] = (),
        file: str = "",
    ) -> Amended:
        """A changed table and what changed nothing; see ``checker.tables.change``."""
        from .change import amend

        return amend(self, cells, add_rows, remove_rows, file)


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
