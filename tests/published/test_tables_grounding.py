"""Grounding conductor and overcurrent tables against published figures and one another."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from checker.tables import NoEntry, load_tables

TABLES = load_tables(Path(__file__).parents[2] / "tables")


@pytest.mark.parametrize(
    ("rating", "size"),
    [
        (20.0, "12 AWG"), (50.0, "10 AWG"), (600.0, "1 AWG"), (800.0, "1/0 AWG"),  # Holt 1839315
        (400.0, "3 AWG"),  # IEC Year 4 exam item, Passetra
        (15.0, "14 AWG"), (60.0, "10 AWG"), (61.0, "8 AWG"), (1200.0, "3/0 AWG"),  # Holt news 212
        (1201.0, "4/0 AWG"),  # Bruns Engineering, NEC Table 250.122
    ],
)  # fmt: skip
def test_published_copper_grounding_sizes(rating: float, size: str) -> None:
    assert TABLES["equipment_grounding"].getter("copper")(rating) == size


def test_no_grounding_size_beyond_the_table() -> None:
    """Bruns Engineering: the table ends at 6000 A."""
    find = TABLES["equipment_grounding"].getter("aluminum")
    assert find(4000.0) == "750 kcmil"
    with pytest.raises(NoEntry):
        find(6001.0)


def test_ten_amperes_is_standard_from_2023_on() -> None:
    """ExpertCE and The Building Code Forum 34619 on NEC 2023 Table 240.6(A)."""
    for edition, smallest in (("nec-2017", 15), ("nec-2020", 15), ("nec-2023", 10)):
        assert TABLES["standard_ratings"].for_edition(edition).getter("standard")(8.0) == smallest


def test_small_conductor_limits() -> None:
    """Encore Wire Corp., wire size table footnote."""
    limit = TABLES["small_conductors"].getter("rating")
    assert [limit("copper", f"{n} AWG") for n in (14, 12, 10)] == [15, 20, 30]
    assert [limit("aluminum", f"{n} AWG") for n in (12, 10)] == [15, 25]
    for material, size in (("copper", "8 AWG"), ("aluminum", "14 AWG")):
        with pytest.raises(NoEntry):
            limit(material, size)


def test_small_conductor_limits_are_the_60_degree_ampacities() -> None:
    """Since 2011 the 60 °C column has the limits of 240.4(D) (ICC, IRC 2018 Table E3705.1)."""
    find = TABLES["ampacity"].getter("ampacity")
    for row in TABLES["small_conductors"].row_objects:
        if row.size not in ("18 AWG", "16 AWG"):
            assert row.rating == find(row.material, 60.0, row.size), row


def test_smallest_conductors_carry_four_fifths_of_their_limit() -> None:
    """240.4(D)(1) and (2), from memory: continuous loads of 5.6 A and 8 A, 80 % of the device."""
    limit = TABLES["small_conductors"].getter("rating")
    assert 0.8 * limit("copper", "18 AWG") == pytest.approx(5.6)
    assert 0.8 * limit("copper", "16 AWG") == pytest.approx(8)


def test_published_receptacle_ratings() -> None:
    """Mike Holt forum 62287 and 2585394 on Table 210.21(B)(3)."""
    rows = {row.circuit: (row.least, row.most) for row in TABLES["receptacle_ratings"].row_objects}
    assert (rows[15], rows[20], rows[40]) == ((15, 15), (15, 20), (40, 50))
    assert sorted(rows) == [15, 20, 30, 40, 50]  # Mike Holt forum 2570046: ratings of 210.18


# NEMA WD 6, ratings of straight-blade receptacles; from memory.
RECEPTACLES = (15, 20, 30, 50, 60)


def test_receptacles_are_the_next_that_are_made() -> None:
    """The largest is the first that is made and not below the circuit; the least is the circuit's
    own rating but for 15 A on 20 A (Mike Holt forum 62287).
    """
    for row in TABLES["receptacle_ratings"].row_objects:
        assert row.most == min(made for made in RECEPTACLES if made >= row.circuit), row
        assert row.least == (15 if row.circuit == 20 else row.circuit), row


def test_a_standard_rating_is_named_by_itself() -> None:
    """By definition: the row found for a current gives the rating that it is found by."""
    for edition, count in (("nec-2017", 37), ("nec-2020", 37), ("nec-2023", 38)):
        rows = TABLES["standard_ratings"].for_edition(edition).row_objects
        assert [row.rating for row in rows] == [row.standard for row in rows]
        assert len(rows) == count


# Basic NEC Code Rules and Design Practice (undated trade handout), the ratings up to 200 A.
HANDOUT = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200)


def test_small_standard_ratings_are_those_of_a_handout() -> None:
    rows = TABLES["standard_ratings"].for_edition("nec-2017").row_objects
    assert tuple(row.standard for row in rows if row.standard <= 200) == HANDOUT


def test_grounding_table_has_standard_ratings() -> None:
    """Table 250.122 (Bruns Engineering) names only ratings that 240.6(A) lists."""
    standard = {row.standard for row in TABLES["standard_ratings"].row_objects}
    ratings = [row.rating for row in TABLES["equipment_grounding"].row_objects]
    assert set(ratings) <= standard
    assert ratings == sorted(ratings)
    assert len(ratings) == 19


_GAUGE = {"1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}


def gauge(size: str) -> int:
    number = size.removesuffix(" AWG")
    return _GAUGE[number] if number in _GAUGE else int(number)


def test_aluminum_is_two_gauges_above_copper() -> None:
    """Conductance: two gauge numbers are 1.59 times the area (ASTM B258), and copper conducts 1.64
    times as well as 61 % IACS aluminium. Above 4/0 AWG it is the standard size nearest to 1.59
    times, but for two: 750 kcmil at 4000 A, where an undated older print has 800, and 1250 kcmil
    at 5000 A, where Appendix B: Grounding Tables (Scribd 615778061) has 1200.
    """
    mils = TABLES["conductor_properties"].getter("circular_mils")
    sizes = [row.size for row in TABLES["conductor_properties"].row_objects]
    both_gauges, otherwise = 0, {}
    for row in TABLES["equipment_grounding"].row_objects:
        if row.aluminum.endswith("AWG"):
            assert gauge(row.copper) - gauge(row.aluminum) == 2, row
            both_gauges += 1
            continue
        wanted = 92 ** (2 * 2 / 39) * mils(row.copper)
        nearest = min(sizes, key=lambda size: abs(mils(size) - wanted))
        if row.aluminum != nearest:
            otherwise[row.rating] = (row.copper, row.aluminum, nearest)
    assert both_gauges == 11
    assert otherwise == {
        4000: ("500 kcmil", "750 kcmil", "800 kcmil"),
        5000: ("700 kcmil", "1250 kcmil", "1000 kcmil"),
    }


def test_grounding_conductors_grow_with_the_rating() -> None:
    """Structure of the table: copper grows in every row, aluminium never shrinks."""
    mils = TABLES["conductor_properties"].getter("circular_mils")
    for less, more in pairwise(TABLES["equipment_grounding"].row_objects):
        assert mils(less.copper) < mils(more.copper)
        assert mils(less.aluminum) <= mils(more.aluminum)
