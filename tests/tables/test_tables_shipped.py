"""Every table that comes with the program: well formed, sourced, and as its schema says."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from checker.quantities.designations import METRIC
from checker.tables import Table, load_tables

ROOT = Path(__file__).parents[2]
TABLES = load_tables(ROOT / "tables")
EDITIONS = ("nec-2017", "nec-2020", "nec-2023")


def schema() -> Any:
    path = ROOT / "checker" / "schemas" / "table.schema.json"
    return json.loads(path.read_text(encoding="utf-8"))


def raw(name: str) -> Any:
    return yaml.safe_load((ROOT / "tables" / f"{name}.yaml").read_text(encoding="utf-8"))


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(schema())


@pytest.mark.parametrize("name", TABLES)
def test_table_validates_against_the_schema(name: str) -> None:
    errors = [e.message for e in Draft202012Validator(schema()).iter_errors(raw(name))]
    assert errors == []


@pytest.mark.parametrize(
    ("name", "path", "value"),
    [
        ("ampacity", ("columns", "ampacity", "source"), None),
        ("ampacity", ("keys", "column", "unit"), None),
        ("ampacity", ("keys", "size", "match"), "from"),
        ("ampacity", ("keys", "size", "type"), "wire"),
        ("ampacity", ("columns", "status", "unit"), "A"),
        ("ampacity", ("cite",), None),
        ("ampacity", ("extra",), "x"),
        ("ampacity", ("rows", 0, 0), ["a"]),
    ],
)
def test_the_schema_refuses(name: str, path: tuple[Any, ...], value: Any) -> None:
    data = raw(name)
    inner = data
    for step in path[:-1]:
        inner = inner[step]
    if value is None:
        del inner[path[-1]]
    else:
        inner[path[-1]] = value
    assert list(Draft202012Validator(schema()).iter_errors(data))


@pytest.mark.parametrize("name", TABLES)
def test_every_edition_is_cited_and_every_column_sourced(name: str) -> None:
    table: Table = TABLES[name]
    assert tuple(table.cite) == EDITIONS
    assert table.note
    for column in table.columns:
        assert column.source, column.name
        assert column.checked, column.name
    for edition in EDITIONS:
        assert table.for_edition(edition).rows


@pytest.mark.parametrize("name", TABLES)
def test_words_of_status_are_explained_in_the_note(name: str) -> None:
    table = TABLES[name]
    for edition in EDITIONS:
        for row in table.for_edition(edition).row_objects:
            if hasattr(row, "status"):
                assert f"{row.status} = " in table.note, row.status


@pytest.mark.parametrize("name", TABLES)
def test_short_names_of_sources_are_spelled_out(name: str) -> None:
    table = TABLES[name]
    used = " ".join([table.note, *(f"{c.source} {c.checked}" for c in table.columns)])
    used += " ".join(row.by or "" for row in table.row_objects if hasattr(row, "by"))
    for short in table.sources:
        assert short.split("(")[0] in used, short


def test_tables_agree_with_each_other_on_names() -> None:
    """A method or size that one table knows must not be spelled otherwise in the next."""
    methods = {row.method for row in TABLES["raceway_dimensions"].row_objects}
    spaced = {row.method for row in TABLES["support_spacing"].row_objects}
    ranged = {row.method for row in TABLES["raceway_size_range"].row_objects}
    assert ranged == methods - {"LFNC-A"} == spaced - {"AC", "MC"}
    sizes = {row.size for row in TABLES["conductor_properties"].row_objects}
    for name in ("conductor_dimensions", "ampacity", "small_conductors", "volume_allowance"):
        assert {row.size for row in TABLES[name].row_objects} <= sizes


def test_metric_designators_are_those_that_notation_reads() -> None:
    designator = TABLES["metric_designators"].getter("designator")
    assert {size: int(metric) for metric, size in METRIC.items()} == {
        row.size: designator(row.size) for row in TABLES["metric_designators"].row_objects
    }
