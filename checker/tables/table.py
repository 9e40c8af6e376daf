"""A table: keyed rows of sourced numbers, the look-ups in it, and what it is once changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from checker.documents.digest import sha256

from .keyed_rows import Cells, KeyedRows, Origin, TableError
from .lookup import Getter, RowsGetter, cell_getter, rows_getter

if TYPE_CHECKING:
    from .change import CellChange

__all__ = ["Amended", "Cells", "Origin", "Table", "TableError"]

_DIGEST = object()


@dataclass(frozen=True, slots=True)
class Table(KeyedRows):
    """Keyed rows with their look-ups.

    ``sources`` spells out the short names of documents used in the columns' sources;
    ``edition_rows`` are the rows of single editions, until ``for_edition`` puts them in.
    """

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

        rows, origins, idle = amend(self, cells, add_rows, remove_rows, file)
        return Amended(replace(self, rows=rows, origins=origins), idle)


@dataclass(frozen=True, slots=True)
class Amended:
    """The changed table, and in words each change that left it as it was."""

    table: Table
    idle: tuple[str, ...]
