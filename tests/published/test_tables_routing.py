"""Bends, trade sizes and supports against metric prints, trigonometry and one another."""

from __future__ import annotations

import math
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from checker.tables import load_tables

TABLES = load_tables(Path(__file__).parents[2] / "tables")
EDITIONS = ("nec-2017", "nec-2020", "nec-2023")


def rows(name: str) -> tuple[Any, ...]:
    return TABLES[name].row_objects


def number(designation: str) -> Fraction:
    """A trade size or a dimension of a designation, read as a number: 1-1/4 is 5/4."""
    return sum((Fraction(part) for part in designation.split("-")), Fraction())


# -- bends ----------------------------------------------------------------------------------------


# Millimetres as printed beside the inches: 2011 National Electrical Code Handbook p. 1310, Table 2.
BEND_MM = {
    "1/2": (101.6, 101.6), "3/4": (114.3, 127), "1": (146.05, 152.4), "1-1/4": (184.15, 203.2),
    "1-1/2": (209.55, 254), "2": (241.3, 304.8), "2-1/2": (266.7, 381), "3": (330.2, 457.2),
    "3-1/2": (381, 533.4), "4": (406.4, 609.6), "5": (609.6, 762), "6": (762, 914.4),
}  # fmt: skip


def test_bend_radii_agree_with_the_printed_metric_ones() -> None:
    one_shot, other = (TABLES["bend_radius"].getter(c) for c in ("one_shot", "other"))
    assert {r.size for r in rows("bend_radius")} == set(BEND_MM)
    for size, (first, second) in BEND_MM.items():
        assert one_shot(size) * 25.4 == pytest.approx(first)
        assert other(size) * 25.4 == pytest.approx(second)


def test_bend_multipliers_are_cosecants() -> None:
    """Trigonometry; Klein Tools hand-bender literature: multiplier = cosecant, 1.4 at 45°."""
    for row in rows("bend_multipliers"):
        angle = math.radians(row.angle)
        assert row.exact_multiplier == round(1 / math.sin(angle), 4)
        assert row.exact_shrink == round(math.tan(angle / 2), 4)
        assert row.multiplier == pytest.approx(1 / math.sin(angle), rel=0.05)
        assert row.shrink == pytest.approx(math.tan(angle / 2), rel=0.3)
    assert TABLES["bend_multipliers"].getter("multiplier")(45.0) == 1.4


def test_trade_multipliers_are_rounded_cosecants() -> None:
    """Trigonometry: to one decimal, but a plain 6 at 10°, where the cosecant is 5.76. Shrink is
    given in sixteenths of an inch per inch (common practice, no source), at most one and a quarter
    sixteenths short of the exact one."""
    for row in rows("bend_multipliers"):
        exact = 1 / math.sin(math.radians(row.angle))
        assert row.multiplier == (6 if row.angle == 10 else pytest.approx(round(exact, 1)))
        assert row.shrink * 16 == int(row.shrink * 16)
        assert 0 <= math.tan(math.radians(row.angle) / 2) - row.shrink < 1.25 / 16


# -- trade sizes ----------------------------------------------------------------------------------


def test_trade_sizes_are_the_numbers_they_read_as() -> None:
    """By definition."""
    for row in rows("trade_sizes"):
        assert row.nominal == number(row.size), row
    assert len(rows("trade_sizes")) == 13


# Trade sizes of Chapter 9 Table 4 that the raceway's article does not have in general: 3/8 is for
# the cases of 348.20(A), 350.20(A) and 356.20(A) only.
ONLY_LISTED_CASES = {"FMC": "3/8", "LFMC": "3/8", "LFNC": "3/8"}
# Largest sizes for which no row of Table 4 was found, by edition. EC&M Code Quiz 21 December 2023:
# EMT and IMC 6 in 2023; ENT 2-1/2 from 2020 and LFNC 4 from memory.
BEYOND = {
    "nec-2017": {"LFNC": "4"},
    "nec-2020": {"LFNC": "4", "ENT": "2-1/2"},
    "nec-2023": {"LFNC": "4", "ENT": "2-1/2", "EMT": "6", "IMC": "6"},
}


@pytest.mark.parametrize("edition", EDITIONS)
def test_size_ranges_are_the_rows_of_table_4(edition: str) -> None:
    """Chapter 9 Table 4 prints the sizes that the articles permit, but for those named above."""
    sizes: dict[str, list[str]] = {}
    for row in TABLES["raceway_dimensions"].for_edition(edition).row_objects:
        if ONLY_LISTED_CASES.get(row.method) != row.size:
            sizes.setdefault(row.method, []).append(row.size)
    found = TABLES["raceway_size_range"].for_edition(edition).row_objects
    assert {row.method for row in found} == sizes.keys() - {"LFNC-A"}
    for row in found:
        assert row.smallest == sizes[row.method][0], row
        assert row.largest == BEYOND[edition].get(row.method, sizes[row.method][-1]), row


def test_rows_of_single_editions_say_what_changed() -> None:
    """EC&M Code Quiz 21 December 2023 (EMT, IMC); Mike Holt newsletter 2734 (EMT 4 in 2020); ENT
    from memory. Such a row changes the size or repeats the range of the edition before."""
    table = TABLES["raceway_size_range"]
    changed = {
        edition: {cells[0]: cells[1:3] for cells, _ in given}
        for edition, given in table.edition_rows.items()
    }
    assert changed == {
        "nec-2020": {"EMT": ("1/2", "4"), "ENT": ("1/2", "2-1/2")},
        "nec-2023": {"EMT": ("1/2", "6"), "IMC": ("1/2", "6"), "ENT": ("1/2", "2-1/2")},
    }


# -- supports -------------------------------------------------------------------------------------

# Metres beside the feet and inches of the sections, from memory: from the box, between supports.
METRES = {
    "EMT": (0.9, 3.0), "IMC": (0.9, 3.0), "RMC": (0.9, 3.0), "FMC": (0.3, 1.4), "LFMC": (0.3, 1.4),
    "LFNC": (0.3, 0.9), "ENT": (0.9, 0.9), "PVC40": (0.9, None), "PVC80": (0.9, None),
    "AC": (0.3, 1.4), "MC": (0.3, 1.8),
}  # fmt: skip


def test_support_distances_agree_with_the_metric_ones() -> None:
    """The metric ones are rounded, by 2.1 % at most; the distances are whole or half feet."""
    assert {row.method for row in rows("support_spacing")} == METRES.keys()
    for row in rows("support_spacing"):
        for inches, metres in zip((row.from_box, row.interval), METRES[row.method], strict=True):
            if metres is None:
                assert inches is None
                continue
            assert inches % 6 == 0
            assert inches * 0.0254 == pytest.approx(metres, rel=0.021), row


# ICC, IRC Table E3802.1: greatest distance from a box, by group of raceways and cables.
FROM_BOX_PRINTED = {36: ("EMT", "IMC", "RMC", "ENT", "PVC40", "PVC80"), 12: ("FMC", "LFMC", "AC")}


def test_distances_from_the_box_are_those_of_the_residential_code() -> None:
    find = TABLES["support_spacing"].getter("from_box")
    for inches, methods in FROM_BOX_PRINTED.items():
        assert {find(method) for method in methods} == {inches}
    assert find("MC") == 12  # EC&M, quiz on securing MC cable, and 12 December 2023


# Metres beside the feet, from memory. Table 352.30 and Table 344.30(B)(2).
PVC_METRES = {0.9: ("1/2", "3/4", "1"), 1.5: ("1-1/4", "1-1/2", "2"), 1.8: ("2-1/2", "3"),
              2.1: ("3-1/2", "4", "5"), 2.5: ("6",)}  # fmt: skip
THREADED_METRES = {3.0: ("1/2", "3/4"), 3.7: ("1",), 4.3: ("1-1/4", "1-1/2"), 4.9: ("2", "2-1/2"),
                   6.1: ("3", "3-1/2", "4", "5", "6")}  # fmt: skip


@pytest.mark.parametrize(
    ("name", "metric"),
    [("pvc_support_spacing", PVC_METRES), ("threaded_support_spacing", THREADED_METRES)],
)
def test_spacings_by_size_agree_with_the_metric_ones(
    name: str, metric: dict[float, tuple[str, ...]]
) -> None:
    """Whole feet, and the metric ones are rounded by 2.6 % at most."""
    by_size = {size: metres for metres, sizes in metric.items() for size in sizes}
    assert [row.size for row in rows(name)] == list(by_size)
    for row in rows(name):
        assert row.interval % 12 == 0
        assert row.interval * 0.0254 == pytest.approx(by_size[row.size], rel=0.026), row


def test_spacings_published_elsewhere() -> None:
    """Q&A reprints of the ECmag article on RMC and PVC support; EC&M CEE News, Code Guide."""
    pvc = TABLES["pvc_support_spacing"].getter("interval")
    feet = {"1/2": 3, "3/4": 3, "1": 3, "2": 5, "6": 8}
    assert {size: pvc("PVC40", size) / 12 for size in feet} == feet
    assert {size: pvc("PVC80", size) / 12 for size in feet} == feet
    assert TABLES["threaded_support_spacing"].getter("interval")("1") == 12 * 12
