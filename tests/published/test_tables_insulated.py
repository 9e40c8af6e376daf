"""Insulated conductors against geometry, makers' insulation walls and areas printed elsewhere."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import pytest

from checker.tables import load_tables

TABLES = load_tables(Path(__file__).parents[2] / "tables")


def rows(name: str) -> tuple[Any, ...]:
    return TABLES[name].row_objects


def test_insulated_areas_are_those_of_their_diameters() -> None:
    """Geometry: pi/4 d² rounded to 0.0001 in², d as printed; XHHW 1500 kcmil is printed 2.0157 for
    2.01565."""
    assert len(rows("conductor_dimensions")) == 138
    otherwise = {}
    for row in rows("conductor_dimensions"):
        exact = math.pi / 4 * row.diameter**2
        printed = Decimal(f"{exact:.9f}").quantize(Decimal("0.0001"), ROUND_HALF_UP)
        if Decimal(f"{row.area:.9f}") != printed:
            otherwise[row.insulation, row.size] = (row.area, round(exact, 5))
    assert otherwise == {("XHHW", "1500 kcmil"): (2.0157, 2.01565)}


# Covering on each side of the metal in mils, by the largest size of each group. THHN (insulation
# and nylon): USA Wire & Cable, THWN/THHN data sheet, up to 500 kcmil. RHW*: 60, 80, 95 and 110 from
# Southwire, RHH/RHW-2/USE-2 data sheet. All others from memory: of RHW the insulation of RHW* and
# an outer covering of 15, 30, 45, 65 or 95 mils, of TFN 15 mils and 4 of nylon.
COVERING = {
    "THHN": {"12 AWG": 19, "10 AWG": 24, "6 AWG": 35, "2 AWG": 46, "4/0 AWG": 57, "500 kcmil": 68,
             "1000 kcmil": 79},
    "XHHW": {"10 AWG": 30, "2 AWG": 45, "4/0 AWG": 55, "500 kcmil": 65, "1000 kcmil": 80,
             "2000 kcmil": 95},
    "THW": {"10 AWG": 30, "8 AWG": 45, "2 AWG": 60, "4/0 AWG": 80, "500 kcmil": 95,
            "1000 kcmil": 110, "2000 kcmil": 125},
    "RHW*": {"10 AWG": 45, "2 AWG": 60, "4/0 AWG": 80, "500 kcmil": 95, "1000 kcmil": 110,
             "2000 kcmil": 125},
    "RHW": {"10 AWG": 45 + 15, "2 AWG": 60 + 30, "4/0 AWG": 80 + 45, "500 kcmil": 95 + 65,
            "1000 kcmil": 110 + 65, "2000 kcmil": 125 + 95},
    "TFN": {"16 AWG": 15 + 4},
}  # fmt: skip


@pytest.mark.parametrize("insulation", COVERING)
def test_insulated_diameter_is_bare_diameter_plus_covering(insulation: str) -> None:
    bare = TABLES["conductor_properties"].getter("diameter")
    order = [row.size for row in rows("conductor_properties")]
    groups = [(order.index(size), mils) for size, mils in COVERING[insulation].items()]
    for row in TABLES["conductor_dimensions"].rows_getter(("insulation",))(insulation):
        mils = next(mils for last, mils in groups if order.index(row.size) <= last)
        assert round(row.diameter, 6) == round(bare(row.size) + 2 * mils / 1000, 6), row


def test_areas_quoted_in_print_elsewhere() -> None:
    """Steel Tube Institute fill tables (THWN 12, 10, 8); Mike Holt forum (the others)."""
    area = TABLES["conductor_dimensions"].getter("area")
    assert [area("THWN", f"{n} AWG") for n in (12, 10, 8)] == [0.0133, 0.0211, 0.0366]
    assert area("THW", "8 AWG") == 0.0437
    assert area("THHW", "350 kcmil") == 0.5958
    assert area("THWN", "600 kcmil") == 0.8676
    assert area("THHN", "500 kcmil") == 0.7073


def test_types_that_share_dimensions() -> None:
    """Headings of Table 5 as the sources of the table print them: the types of one group."""
    groups = {
        "THHN": "THWN THWN-2 THHN/THWN-2 THWN-2/THHN THHN/THWN THWN/THHN",
        "XHHW": "XHHW-2 XHH",
        "THW": "TW THHW THW-2",
        "RHW": "RHH RHW-2",
        "RHW*": "RHH* RHW-2*",
        "TFN": "TFFN",
    }
    table = TABLES["conductor_dimensions"]
    shared = {kind: rows for rows, kinds in groups.items() for kind in kinds.split()}
    assert dict(table.key("insulation").also) == shared
