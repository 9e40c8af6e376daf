"""Amended tables: what changes, what does not, and what cannot."""

from __future__ import annotations

from pathlib import Path
from typing import Any, NoReturn

import pytest

from checker.documents.source import Source
from checker.quantities.notation import NotationError
from checker.tables import CellChange, NoEntry, Table, TableError, load_tables, read_table

FOLDER = Path(__file__).parents[2] / "tables"
EDITION = "nec-2023"


def table(name: str) -> Table:
    return load_tables(FOLDER)[name].for_edition(EDITION)


def change(keys: dict[str, Any], column: str, value: Any) -> CellChange:
    return CellChange(keys, column, value)


def test_a_cell_is_changed_in_the_copy_only() -> None:
    before = table("small_conductors")
    done = before.amended(
        cells=[change({"material": "copper", "size": "14"}, "rating", "10 A")], file="local.yaml"
    )
    assert done.table.getter("rating")("copper", "14 AWG") == 10
    assert before.getter("rating")("copper", "14 AWG") == 15
    assert done.idle == ()
    assert done.table.digest != before.digest
    index = next(i for i, row in enumerate(before.rows) if row[:2] == ("copper", "14 AWG"))
    assert done.table.origins[index].file == "local.yaml"
    assert done.table.mark(index, "rating") is None
    assert before.mark(index, "rating") is not None


def test_units_convert_and_bare_numbers_are_in_the_columns_unit() -> None:
    before = table("support_spacing")
    for value in ("5 ft", "60", "60 in", 60.0):
        done = before.amended(cells=[change({"method": "EMT"}, "interval", value)])
        assert done.table.getter("interval")("EMT") == 60
    with pytest.raises(NotationError):
        before.amended(cells=[change({"method": "EMT"}, "interval", "5 A")])


def test_a_change_that_changes_nothing_is_reported() -> None:
    before = table("support_spacing")
    done = before.amended(cells=[change({"method": "EMT"}, "interval", "10 ft")])
    assert len(done.idle) == 1
    assert "interval of EMT" in done.idle[0]
    assert done.table.rows == before.rows
    assert done.table.digest == before.digest


def test_a_cell_can_be_emptied() -> None:
    done = table("insulation_rating").amended(cells=[change({"insulation": "THWN"}, "wet", None)])
    with pytest.raises(NoEntry):
        done.table.getter("wet")("THWN")


def test_some_keys_may_be_left_out_to_reach_several_rows() -> None:
    before = table("pvc_support_spacing")
    done = before.amended(cells=[change({"method": "PVC40"}, "interval", "3 ft")])
    assert {row.interval for row in done.table.row_objects} == {36.0}
    less = before.amended(remove_rows=[{"method": "PVC40", "size": "1/2"}])
    assert len(less.table.rows) == len(before.rows) - 1
    with pytest.raises(NoEntry):
        less.table.getter("interval")("PVC80", "1/2")


def test_an_added_row_takes_its_place_in_the_order() -> None:
    before = table("raceway_dimensions")
    row = {"method": "EMT", "size": "5", "inside_diameter": "5.297", "area": "22.04 in²"}
    done = before.amended(add_rows=[row])
    sizes = [r.size for r in done.table.rows_getter(("method",))("EMT")]
    assert sizes[-2:] == ["4", "5"]
    place = [r[:2] for r in done.table.rows].index(("EMT", "5"))
    assert done.table.rows[place + 1][0] == "IMC"
    assert len(done.table.origins) == len(done.table.rows)
    again = done.table.amended(add_rows=[row])
    assert len(again.idle) == 1


def test_an_added_row_of_the_same_keys_replaces() -> None:
    before = table("equipment_grounding")
    row = {"rating": "20 A", "copper": "10 AWG", "aluminum": "8 AWG"}
    done = before.amended(add_rows=[row])
    assert len(done.table.rows) == len(before.rows)
    assert done.table.getter("copper")(20.0) == "10 AWG"
    between = before.amended(add_rows=[{**row, "rating": "30 A"}]).table
    assert [between.getter("copper")(a) for a in (20.0, 25.0, 31.0)] == [
        "12 AWG", "10 AWG", "10 AWG",
    ]  # fmt: skip
    assert len(between.rows) == len(before.rows) + 1


def test_an_aliased_name_can_get_rows_of_its_own_but_not_change_the_shared_ones() -> None:
    before = table("conductor_dimensions")
    with pytest.raises(TableError) as caught:
        before.amended(cells=[change({"insulation": "THWN", "size": "12 AWG"}, "area", "0.02")])
    assert caught.value.suggestion == "THHN"
    row = {"insulation": "THWN", "size": "12 AWG", "diameter": "0.14", "area": "0.0154"}
    done = before.amended(add_rows=[row]).table
    area = done.getter("area")
    assert (area("THWN", "12 AWG"), area("THHN", "12 AWG")) == (0.0154, 0.0133)
    assert area("THWN", "10 AWG") == area("THHN", "10 AWG")
    sizes = [r.size for r in done.rows_getter(("insulation",))("THWN")]
    assert sizes == [r.size for r in done.rows_getter(("insulation",))("THHN")]
    assert done.rows_getter(("insulation",))("THWN")[1].area == 0.0154


@pytest.mark.parametrize(
    ("what", "found", "suggestion", "arguments"),
    [
        ("column", "intervall", "interval", {"cells": [change({"method": "EMT"}, "intervall", 1)]}),
        ("key", "methd", "method", {"cells": [change({"methd": "EMT"}, "interval", 1)]}),
        ("row", "EMX", "EMT", {"cells": [change({"method": "EMX"}, "interval", 1)]}),
        ("row", "EMX", "EMT", {"remove_rows": [{"method": "EMX"}]}),
        ("column", "spacing", "", {"add_rows": [{"method": "BUS", "spacing": 1}]}),
    ],
)
def test_what_does_not_exist_cannot_be_changed(
    what: str, found: str, suggestion: str, arguments: dict[str, Any]
) -> None:
    with pytest.raises(TableError) as caught:
        table("support_spacing").amended(**arguments)
    error = caught.value
    assert (error.what, error.found, error.suggestion) == (what, found, suggestion)
    assert error.table == "support_spacing"


def test_an_added_row_needs_its_keys() -> None:
    with pytest.raises(ValueError, match="lacks size"):
        table("raceway_dimensions").amended(add_rows=[{"method": "EMT", "area": "1"}])


def test_the_edition_is_chosen_before_amending() -> None:
    with pytest.raises(ValueError, match="choose the edition"):
        load_tables(FOLDER)["standard_ratings"].amended()


def test_rows_of_an_edition_replace_or_join() -> None:
    ratings = load_tables(FOLDER)["standard_ratings"]
    assert ratings.for_edition("nec-2023").rows[0] == (10.0, 10.0)
    assert ratings.for_edition("nec-2017").rows[0] == (15.0, 15.0)
    largest = {
        e: load_tables(FOLDER)["raceway_size_range"].for_edition(e).getter("largest")
        for e in ("nec-2017", "nec-2020", "nec-2023")
    }
    assert [largest[e]("EMT") for e in largest] == ["4", "4", "6"]
    assert [largest[e]("ENT") for e in largest] == ["2", "2-1/2", "2-1/2"]


class _Touchy:
    """An empty cell that refuses to be used, as unstated fields do."""

    def _refuse(self, *_: object) -> NoReturn:
        raise AssertionError("an empty cell was used")

    __eq__ = __ne__ = __hash__ = __bool__ = __lt__ = __gt__ = _refuse


def test_empty_cells_are_never_compared() -> None:
    nothing = _Touchy()
    text = (FOLDER / "support_spacing.yaml").read_text("utf-8")
    made = read_table(Source.of_text(text, "support_spacing.yaml"), missing=nothing)
    made = made.for_edition(EDITION)
    same = {"method": "PVC40", "from_box": 36.0, "section": "352.30(A)", "status": "verified"}
    done = made.amended(
        add_rows=[same],
        cells=[
            change({"method": "PVC40"}, "interval", "3 ft"),
            change({"method": "PVC80"}, "interval", None),
            change({"method": "EMT"}, "interval", None),
        ],
    )
    assert done.table.getter("interval")("PVC40") == 36
    assert len(done.idle) == 2
    assert done.table.digest.startswith("sha256:")
    with pytest.raises(NoEntry):
        done.table.getter("interval")("EMT")
