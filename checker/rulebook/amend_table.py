"""Changes of a table by an amendment: cells, rows added, rows taken out."""

from __future__ import annotations

from collections.abc import Mapping as AnyMapping
from dataclasses import replace
from typing import Any

from checker.documents.errors import Mark
from checker.documents.nodes import Mapping, Sequence
from checker.quantities.notation import NotationError
from checker.tables.change import CellChange
from checker.tables.table import Table, TableError

from .applier import Applier
from .records import ChangeFile


def change_table(applier: Applier, change: ChangeFile) -> None:
    """Apply the changes of one table; everything wrong is reported to ``applier``."""
    node = change.node
    mark = node.value_mark("table")
    if not _scalars(applier, change):
        return
    cells = [
        CellChange(cell.keys, column, value)
        for cell in change.cells
        for column, value in cell.set.items()
    ]
    try:
        table = applier.book.table(change.table)
        if not _whole_rows(applier, change, table):
            return
        done = table.amended(
            cells=cells,
            add_rows=change.add_rows,
            remove_rows=change.remove_rows,
            file=applier.source.path,
        )
    except TableError as error:
        _unknown(applier, change, error)
        return
    except NotationError as error:
        applier.problem(
            _place(node, error.found) or mark,
            f"a value for table {change.table} cannot be read",
            found=error.found,
            expected=error.expected,
            suggestion=error.suggestion or "",
            length=len(error.found),
        )
        return
    except ValueError as error:
        applier.problem(mark, f"table {change.table} cannot be changed so: {error}")
        return
    for words in done.idle:
        applier.warn(mark, f"{words}; this change changes nothing")
    said = _touches(applier, change, table, done.table)
    if done.table.rows == table.rows and not change.cite:
        return
    cite = table.cite.get(applier.edition) or table.title
    if change.cite:
        applier.touch(change, (f"table {table.name}", "cite"), node.key_mark("cite"))
    elif applier.words(change) not in cite:
        cite = f"{cite}, as amended by {applier.words(change)}"
    amended = replace(done.table, cite={**table.cite, applier.edition: change.cite or cite})
    applier.book.changed_tables[table.name] = amended
    words_so_far = applier.book.table_words.setdefault(table.name, [])
    words = change.cite or applier.words(change)
    if words not in words_so_far:
        words_so_far.append(words)
    applier.acted.append(f"changes table {table.name}: " + "; ".join(said or ["its citation"]))


def _touches(applier: Applier, change: ChangeFile, before: Table, after: Table) -> list[str]:
    """Remember which rows and cells were changed; what was done, in words."""
    name, node = f"table {before.name}", change.node
    said: list[str] = []
    count = len(before.keys)
    old = {row[:count]: row for row in before.rows}
    new = {row[:count]: row for row in after.rows}
    for index, given in enumerate(change.remove_rows):
        place = _item(node, "remove_rows", index)
        for keys in old:
            if keys not in new and _has(before, keys, given):
                applier.touch(change, (name, before.words(keys)), place)
                said.append(f"no row {before.words(keys)}")
    for index, given in enumerate(change.add_rows):
        place = _item(node, "add_rows", index)
        keys = tuple(_read(before, key.name, given[key.name]) for key in before.keys)
        if not _equal(before, old.get(keys), new.get(keys)):
            applier.touch(change, (name, before.words(keys)), place)
            said.append(f"row {before.words(keys)}")
    for cell in change.cells:
        for column in cell.set:
            position = before.position(column)
            place = cell.node["set"].key_mark(column)
            for keys, row in new.items():
                was = old.get(keys)
                if not _has(after, keys, cell.keys) or was is None:
                    continue
                if _equal(before, was[position : position + 1], row[position : position + 1]):
                    continue
                applier.touch(change, (name, f"{before.words(keys)}: {column}"), place)
                said.append(f"{column} of {before.words(keys)} is {cell.set[column]}")
    return said


def _equal(table: Table, a: Any, b: Any) -> bool:
    """Whether two rows are equal; an empty cell is never compared, since it may refuse to be."""
    if a is None or b is None or len(a) != len(b):
        return a is b
    return all(
        x is y or (x is not table.missing and y is not table.missing and x == y)
        for x, y in zip(a, b, strict=True)
    )


def _read(table: Table, name: str, text: Any) -> Any:
    return table.key(name).read(text, units=True)


def _has(table: Table, keys: tuple[Any, ...], given: AnyMapping[str, Any]) -> bool:
    return all(
        keys[table.key_position(name)] == _read(table, name, text) for name, text in given.items()
    )


def _scalars(applier: Applier, change: ChangeFile) -> bool:
    """Whether rows are mappings and cells plain values; the table takes both on trust."""
    groups: list[Any] = [cell.node[key] for cell in change.cells for key in ("keys", "set")]
    sound = True
    for key in ("add_rows", "remove_rows"):
        for index, row in enumerate(getattr(change, key)):
            if isinstance(row, Mapping):
                groups.append(row)
                continue
            applier.problem(
                _item(change.node, key, index),
                "a row is given by the names of its keys and columns",
                found="a list" if isinstance(row, Sequence) else str(row)[:60],
                expected="{key: value, column: value}",
            )
            sound = False
    for group in groups:
        for name, value in group.items():
            if isinstance(value, (Mapping, Sequence)):
                applier.problem(
                    group.value_mark(name),
                    f"`{name}` of a row is one value",
                    found="a mapping" if isinstance(value, Mapping) else "a list",
                    expected="a number with its unit, a size or a text",
                )
                sound = False
    return sound


def _whole_rows(applier: Applier, change: ChangeFile, table: Table) -> bool:
    """Whether every row to be added has all keys of the table."""
    sound = True
    for index, row in enumerate(change.add_rows):
        lacking = [key.name for key in table.keys if row.get(key.name) is None]
        if not lacking or any(name not in table.names for name in row):
            continue  # a name that the table does not know is told with the nearest one
        sound = False
        applier.problem(
            _item(change.node, "add_rows", index),
            f"a row added to table {table.name} lacks {', '.join(lacking)}",
            found="a row with " + ", ".join(row),
            expected="a row with all of " + ", ".join(key.name for key in table.keys),
        )
    return sound


def _item(node: Mapping, key: str, index: int) -> Mark:
    raw = node[key]
    mark: Mark = raw.value_mark(index) if isinstance(raw, Sequence) else node.value_mark(key)
    return mark


def _unknown(applier: Applier, change: ChangeFile, error: TableError) -> None:
    where = _row_place(change, error.found) or _place(change.node, error.found)
    message = (
        f"there is no table `{error.found}`"
        if error.what == "table"
        else f"table {change.table} has no {error.what} `{error.found}`"
    )
    known = error.known[:24]
    between = "; " if error.what.startswith("row") else ", "  # a row's keys have commas themselves
    applier.problem(
        where or change.node.value_mark("table"),
        message,
        found=error.found,
        expected="one of " + between.join(known) + (between + "…" if len(error.known) > 24 else ""),
        suggestion=error.suggestion,
        length=1 if error.what.startswith("row") else len(error.found),
    )


def _row_place(change: ChangeFile, found: str) -> Mark | None:
    """Where the keys of a row stand that the table does not have."""
    for cell in change.cells:
        if found == ", ".join(str(value) for value in cell.keys.values()):
            mark: Mark = cell.node.value_mark("keys")
            return mark
    for index, keys in enumerate(change.remove_rows):
        if found == ", ".join(str(value) for value in keys.values()):
            return _item(change.node, "remove_rows", index)
    return None


def _place(node: Any, text: str) -> Mark | None:
    """Where ``text`` stands as a key or value somewhere below ``node``."""
    items: Any = node.items() if isinstance(node, Mapping) else enumerate(node)
    for key, value in items:
        mark: Mark
        if key == text and isinstance(node, Mapping):
            return node.key_mark(key)
        if isinstance(value, str) and value == text:
            mark = node.value_mark(key)
            return mark
        if isinstance(value, (dict, list)):
            found = _place(value, text)
            if found is not None:
                return found
    return None
