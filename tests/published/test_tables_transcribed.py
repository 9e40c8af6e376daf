"""Every number, size and flag against a second copy of the published tables.

transcribed.yaml beside this file holds it, with the publications. It is a copy of the same
publications and guards the tables against slips of the keyboard; the other test_tables_*.py guard
them against errors of the publications' copies. What it marks ``from_memory`` is only compared with
a second remembering.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.tables import Column, Key, Table, load_tables

HERE = Path(__file__).parent
TABLES = load_tables(HERE.parents[1] / "tables")
WORDS = ("source", "from_memory", "derived", "blocks")


@cache
def transcribed() -> dict[str, Any]:
    text = (HERE / "transcribed.yaml").read_text(encoding="utf-8")
    read: dict[str, Any] = yaml.load(text, Loader=yaml.CBaseLoader)
    return read


def value(spec: Key | Column, text: str, missing: object) -> Any:
    if text == "~":
        return missing
    if spec.kind == "wire_size":
        text = f"{text} kcmil" if text.isdigit() and int(text) >= 250 else f"{text} AWG"
    return spec.read(text)


def printed_rows(table: Table) -> dict[tuple[Any, ...], dict[str, Any]]:
    """Cells by edition (empty for the rows of all) and keys, read from the copy."""
    rows: dict[tuple[Any, ...], dict[str, Any]] = {}
    for block in transcribed()[table.name]["blocks"]:
        shared = block.get("where", {})
        cells = {
            name: text.split(", " if ", " in text else None)
            for name, text in block.items()
            if name not in ("in", "where")
        }
        for printed in zip(*cells.values(), strict=True):
            words = {**shared, **dict(zip(cells, printed, strict=True))}
            read = {
                spec.name: value(spec, words.pop(spec.name), table.missing)
                for spec in table.specs
                if spec.name in words
            }
            assert not words, f"no such column: {words}"
            keys = (block.get("in", ""), *(read.pop(key.name) for key in table.keys))
            assert keys not in rows, f"printed twice: {keys}"
            rows[keys] = read
    return rows


def found_rows(table: Table) -> dict[tuple[Any, ...], dict[str, Any]]:
    """The same of the table's file: all but its texts and its derived columns."""
    derived = transcribed()[table.name].get("derived", ())
    names = [c.name for c in table.columns if c.kind != "text" and c.name not in derived]
    given = [("", row) for row in table.rows]
    given += [(edition, row) for edition, rows in table.edition_rows.items() for row, _ in rows]
    count = len(table.keys)
    return {
        (edition, *row[:count]): {name: row[table.position(name)] for name in names}
        for edition, row in given
    }


@pytest.mark.parametrize("name", transcribed())
def test_every_cell_is_as_it_was_transcribed(name: str) -> None:
    table = TABLES[name]
    found = found_rows(table)
    assert len(found) == len(table.rows) + sum(map(len, table.edition_rows.values()))
    assert found == printed_rows(table)


def test_every_table_is_transcribed_and_names_its_source() -> None:
    assert set(TABLES) == set(transcribed())
    for name, part in transcribed().items():
        assert part.keys() <= set(WORDS), name
        assert len(part["source"]) > 20, name
