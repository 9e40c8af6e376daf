"""Changes of a table by an amendment: cells, rows added, rows removed. The table is copied.

Keys and values may be given as text (``12 AWG``, ``2.5 in³``, or a bare number in the column's
unit) or as floats in base units.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from .columns import Spec
from .keyed_rows import Cells, KeyedRows, Origin, TableError

Origins = tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class CellChange:
    """Put ``value`` into ``column`` of every row that has the given keys (at least one must).

    ``value`` None empties the cell.
    """

    keys: Mapping[str, Any]
    column: str
    value: Any


def amend(
    table: KeyedRows,
    cells: Sequence[CellChange],
    add_rows: Sequence[Mapping[str, Any]],
    remove_rows: Sequence[Mapping[str, Any]],
    file: str,
) -> tuple[tuple[Cells, ...], Origins, tuple[str, ...]]:
    """Apply removals, then additions, then changes of cells.

    Gives rows, origins, and in words each change that left the table as it was.

    Raises TableError for an unknown key, column or row, NotationError for an unreadable value and
    ValueError for an added row that lacks a key.
    """
    if table.edition_rows:
        raise ValueError(f"choose the edition of table {table.name} before amending it")
    rows, origins = list(table.rows), list(table.origins)
    idle: list[str] = []
    for keys in remove_rows:
        gone = set(_matching(table, rows, keys))
        rows = [row for index, row in enumerate(rows) if index not in gone]
        origins = [origin for index, origin in enumerate(origins) if index not in gone]
    for given in add_rows:
        made = _row(table, given)
        if any(_same_cells(table, made, row) for row in rows):
            idle.append(f"adding the row {_words(table, made)} to table {table.name}")
            continue
        done = put_in(table, tuple(rows), tuple(origins), made, Origin(file))
        rows, origins = list(done[0]), list(done[1])
    for change in cells:
        position = table.position(change.column)
        spec = table.columns[position - len(table.keys)]
        value = table.missing if change.value is None else _value(spec, change.value)
        changed = False
        for index in _matching(table, rows, change.keys):
            if not _same(table, rows[index][position], value):
                rows[index] = (*rows[index][:position], value, *rows[index][position + 1 :])
                if index < len(origins):
                    origins[index] = Origin(file)
                changed = True
        if not changed:
            where = ", ".join(str(part) for part in change.keys.values())
            idle.append(f"{change.column} of {where} in table {table.name} already is that")
    return tuple(rows), tuple(origins), tuple(idle)


def put_in(
    table: KeyedRows, rows: tuple[Cells, ...], origins: Origins, cells: Cells, origin: Origin
) -> tuple[tuple[Cells, ...], Origins]:
    """Rows with ``cells`` put in: over the row of the same keys, else in its place of the order."""
    count = len(table.keys)
    place = _place(table, rows, cells)
    over = 1 if place < len(rows) and rows[place][:count] == cells[:count] else 0
    if not origins:
        origins = tuple(Origin(table.file) for _ in rows)
    return (
        (*rows[:place], cells, *rows[place + over :]),
        (*origins[:place], origin, *origins[place + over :]),
    )


def _place(table: KeyedRows, rows: tuple[Cells, ...], cells: Cells) -> int:
    count, last = len(table.keys), table.keys[-1]
    keys = cells[:count]
    same_group = [i for i, row in enumerate(rows) if row[: count - 1] == keys[:-1]]
    for index in same_group:
        if rows[index][:count] == keys:
            return index
    if not same_group or not last.ranked:
        return len(rows)
    for index in same_group:
        if last.rank(rows[index][count - 1]) > last.rank(keys[-1]):
            return index
    return same_group[-1] + 1


def _matching(table: KeyedRows, rows: Sequence[Cells], keys: Mapping[str, Any]) -> list[int]:
    wanted = {table.key_position(name): _value(table.key(name), v) for name, v in keys.items()}
    for position, value in wanted.items():
        target = table.keys[position].also.get(value)
        if target is not None and not any(row[position] == value for row in rows):
            # Changing the shared row would change the other names too, unasked.
            # An amendment that means one name adds rows for it.
            found_words = f"{value} (it shares those of {target})"
            raise TableError(table.name, "row of its own for", found_words, (target,), target)
    found = [i for i, row in enumerate(rows) if all(row[p] == v for p, v in wanted.items())]
    if not found:
        known = tuple(_words(table, row) for row in rows)
        raise TableError(table.name, "row", ", ".join(str(v) for v in keys.values()), known)
    return found


def _same(table: KeyedRows, a: Any, b: Any) -> bool:
    """Whether two cells are equal. An empty one is never compared: it may refuse to be."""
    if a is table.missing or b is table.missing:
        return a is b
    return bool(a == b)


def _same_cells(table: KeyedRows, some: Cells, others: Cells) -> bool:
    return all(_same(table, a, b) for a, b in zip(some, others, strict=True))


def _row(table: KeyedRows, given: Mapping[str, Any]) -> Cells:
    for name in given:
        if name not in table.names:
            raise TableError(table.name, "column", name, table.names)
    lacking = [key.name for key in table.keys if given.get(key.name) is None]
    if lacking:
        raise ValueError(f"a row added to table {table.name} lacks {', '.join(lacking)}")
    return tuple(
        table.missing if given.get(spec.name) is None else _value(spec, given[spec.name])
        for spec in table.specs
    )


def _value(spec: Spec, given: Any) -> Any:
    return spec.read(given, units=True) if isinstance(given, str) else given


def _words(table: KeyedRows, row: Cells) -> str:
    return table.words(row[: len(table.keys)])
