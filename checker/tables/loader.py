"""Reads table files; every problem of a file is reported together, each with its place."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

import os
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Annotated, Any, ClassVar

from checker.documents.errors import nearest
from checker.documents.fields import NAME, ROW, given
from checker.documents.loader import load
from checker.documents.reader import Reader
from checker.documents.source import Source, read_source
from checker.quantities.units import UnknownUnit, unit

from .columns import Column, Key, Spec, Words
from .row_reading import Placed, RowReading
from .table import Table

Name = Annotated[str, NAME]
Rows = tuple[Annotated[Any, ROW], ...]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class TableFile:
    """A table of sourced numbers."""

    node: Any = None
    table: Name = given("its name, the same as the file's without .yaml")
    title: Words = given("what the table holds, in own words")
    cite: dict[str, Words] = given("citation by edition")
    note: Words = given(
        "what a reader must know: verification, disagreements, edition differences, what the words "
        "of `status` mean"
    )
    sources: dict[str, Words] = given(
        "short names used in the columns' sources, spelled out", default={}
    )
    keys: dict[Name, Key] = given(
        "the key columns, in the order of the cells; only the last may be a range"
    )
    columns: dict[Name, Column] = given(
        "the value columns, in the order of the cells after the keys"
    )
    rows: Rows = given(
        "one list per row: keys, then columns; ~ where there is no value; small to large"
    )
    rows_in: dict[str, Rows] = given(
        "rows of single editions: each replaces the row of the same keys or is put in its place of "
        "the order",
        default={},
    )

    #: What a schema says besides: nothing of these is empty.
    TOGETHER: ClassVar[dict[str, Any]] = {
        "allOf": [
            {"properties": {name: {"minProperties": 1} for name in ("cite", "keys", "columns")}},
            {"properties": {"rows": {"minItems": 1}}},
        ]
    }


RECORDS: dict[str, type] = {record.__name__: record for record in (TableFile, Key, Column)}


def load_table(path: str | os.PathLike[str], *, missing: object = None) -> Table:
    """The table in a file; empty cells hold ``missing``. Raises InputError with all problems."""
    return read_table(read_source(path), missing=missing)


def read_table(source: Source, *, missing: object = None) -> Table:
    """The table in a source that has been read already. Raises InputError with all problems."""
    reader = Reader(load(source), RECORDS)
    file: TableFile = reader.root(TableFile, "a table")
    _check_name(reader, file)
    if file.cite == {}:
        expected = "its citation by edition"
        reader.report_value(file.node, "cite", "the table cites nothing", expected=expected)
    keys = tuple(replace(key, name=name) for name, key in (file.keys or {}).items())
    columns = tuple(replace(column, name=name) for name, column in (file.columns or {}).items())
    _check_specs(reader, file, keys, columns)
    reading = RowReading(reader, keys, columns, missing)
    rows = reading.read(file.node, "rows")
    edition_rows: dict[str, tuple[Placed, ...]] = {}
    for edition in file.rows_in:
        _check_edition(reader, file, edition)
        edition_rows[edition] = tuple(reading.read(file.node["rows_in"], edition))
    if not rows and file.rows is not None and not reader.problems:
        reader.report_value(file.node, "rows", "the table has no rows", expected="- […]")
    _check_aliases(reader, keys, [*rows, *(row for some in edition_rows.values() for row in some)])
    reader.finish()
    return Table(
        name=file.table,
        title=file.title,
        keys=keys,
        columns=columns,
        rows=tuple(cells for cells, _ in rows),
        cite=file.cite,
        note=file.note,
        sources=file.sources,
        file=source.path,
        origins=tuple(origin for _, origin in rows),
        edition_rows=edition_rows,
        missing=missing,
    )


def _check_name(reader: Reader, file: TableFile) -> None:
    base = os.path.basename(reader.document.source.path)
    wanted = base.removesuffix(".yaml").removesuffix(".yml")
    if file.table and wanted != base and file.table != wanted:
        message = "a table is called what its file is called"
        reader.report_value(file.node, "table", message, found=file.table, expected=wanted)


def _check_specs(
    reader: Reader, file: TableFile, keys: tuple[Key, ...], columns: tuple[Column, ...]
) -> None:
    """Report keys and columns that do not fit; end where rows cannot be judged for want of them."""
    for name in file.columns or {}:
        if name in (file.keys or {}):
            reader.report_key(
                file.node["columns"],
                name,
                "a column has the name of a key",
                found=name,
                expected="another name",
            )
    for key in keys[:-1]:
        if key.match != "exact":
            message = "only the last key may be a range"
            reader.report_value(key.node, "match", message, found=key.match, expected="exact")
    read = len(keys) == len(file.node.get("keys") or ())
    read &= len(columns) == len(file.node.get("columns") or ())
    specs: tuple[Spec, ...] = (*keys, *columns)
    sound = [_is_sound(reader, spec) for spec in specs]
    if all(sound) and read and keys and columns:
        return
    if not reader.problems:
        reader.report(file.node.mark, "a table needs at least one key and one column")
    reader.finish()


def _is_sound(reader: Reader, spec: Spec) -> bool:
    """Whether cells of a key or column can be read; reports what is wrong with it."""
    node, where = spec.node, f"{type(spec).__name__.lower()} `{spec.name}`"
    if spec.kind is None or node.get("type") not in (None, spec.kind):
        return False  # what it is could not be read, and was told
    wrong: tuple[str, str, dict[str, str]] | None = None
    if spec.kind == "number" and not spec.unit:
        expected = "unit: in, A, ratio, count, …"
        reader.report(node.mark, f"{where} lacks `unit`", expected=expected)
        return False
    if spec.kind == "number":
        wrong = _wrong_unit(spec.unit)
    elif spec.unit:
        wrong = "unit", f"{where} is no number and has no unit", {"found": spec.unit}
    if isinstance(spec, Key) and spec.match != "exact" and spec.kind != "number":
        found = {"found": spec.match, "expected": "exact"}
        wrong = "match", "only numbers are looked up in ranges", found
    if isinstance(spec, Key) and spec.also and spec.kind != "text":
        # Designations have one canonical text already; numbers have no names.
        wrong = "also", "only keys of text have further names", {"found": spec.kind}
    if wrong is not None:
        reader.report_value(node, wrong[0], wrong[1], **wrong[2])
    return wrong is None


def _wrong_unit(text: str) -> tuple[str, str, dict[str, str]] | None:
    try:
        unit(text)
    except UnknownUnit as error:
        expected, near = "a unit, or ratio or count", error.nearest or ""
        found = {"found": text, "expected": expected, "suggestion": near}
        return "unit", f"no unit is called `{text}`", found
    return None


def _check_edition(reader: Reader, file: TableFile, edition: str) -> None:
    if edition not in (file.cite or {}):
        reader.report_value(
            file.node["rows_in"],
            edition,
            f"rows of an edition that `cite` does not name: {edition}",
            found=edition,
            expected="one of " + ", ".join(file.cite or ()),
            suggestion=nearest(edition, file.cite or ()) or "",
        )


def _check_aliases(reader: Reader, keys: tuple[Key, ...], rows: list[Placed]) -> None:
    for position, key in enumerate(keys):
        known = {cells[position] for cells, _ in rows}
        for alias, message, more in _wrong_aliases(key, known):
            reader.report_value(key.node["also"], alias, message, **more)


def _wrong_aliases(key: Key, known: set[Any]) -> Iterator[tuple[str, str, dict[str, str]]]:
    for alias, target in key.also.items():
        if target not in known:
            near = nearest(str(target), [str(one) for one in known]) or ""
            message = f"no row has the {key.name} that `{alias}` stands for"
            yield alias, message, {"found": str(target), "suggestion": near}
        elif alias in known:
            more = {"found": alias, "expected": "a name without rows"}
            yield alias, f"`{alias}` has rows of its own", more
