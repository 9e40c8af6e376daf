"""Ampacity, correction, adjustment and grounding tables against equations and published figures.

Worked figures are those that the named publication prints; the arithmetic between them is ours.
"""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import pytest

from checker.tables import NoEntry, load_tables

TABLES = load_tables(Path(__file__).parents[2] / "tables")
AMPACITY = TABLES["ampacity"].getter("ampacity")
AMBIENT = TABLES["ambient_correction"].getter("factor")
ADJUST = TABLES["ampacity_adjustment"].getter("factor")


# -- ambient: NEC 310.15(B) equation, the factor as the square root of (Tc - Ta)/(Tc - 30);
# the equation's form is confirmed by the Mike Holt forum thread on ambient correction factors.


def test_every_ambient_factor_is_the_equation_at_the_hot_end() -> None:
    count = 0
    for row in TABLES["ambient_correction"].row_objects:
        exact = math.sqrt((row.column - row.ambient) / (row.column - 30))
        assert abs(exact - row.factor) < 0.00501
        assert math.floor(exact * 100 + 0.5) / 100 == row.factor
        count += 1
    assert count == 39


@pytest.mark.parametrize("column", [60.0, 75.0, 90.0])
def test_no_factor_where_the_equation_gives_none(column: float) -> None:
    hottest = max(r.ambient for r in TABLES["ambient_correction"].rows_getter(("column",))(column))
    assert column - 5 <= hottest + 0.5 <= column
    assert AMBIENT(column, hottest) > 0
    with pytest.raises(NoEntry):
        AMBIENT(column, hottest + 0.1)
    with pytest.raises(NoEntry):
        AMBIENT(column, column)


def test_bands_are_met_at_their_ends() -> None:
    """ICC, IRC 2021 Table E3705.2: 26 to 30 °C gives 1.00, 31 to 35 °C gives 0.96 at 90 °C."""
    assert AMBIENT(90.0, 30.0) == AMBIENT(90.0, 26.0) == 1.0
    assert AMBIENT(90.0, 30.0 + 1e-11) == 1.0
    assert AMBIENT(90.0, 31.0) == AMBIENT(90.0, 35.0) == 0.96
    assert AMBIENT(90.0, -40.0) == 1.15


# -- worked examples ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "count", "ambient", "published"),
    [
        ("12 AWG", 9, 30.0, 21.0),  # James Stallcup, EC&M, Quizzes on the Code (23), Art. 310
        ("14 AWG", 6, (105 - 32) / 1.8, 17.4),  # the same, at 105 °F
        ("10 AWG", 4, 30.0, 32.0),  # Mike Holt, EC&M, Code Q&A (112)
        ("10 AWG", 12, 30.0, 20.0),  # Mike Holt forum 2539170
        ("12 AWG", 30, 30.0, 13.5),  # ECN forum 77308
        ("12 AWG", 3, 60.0, 21.3),  # Mike Holt forum 38335, at 140 °F
        ("12 AWG", 4, 55.0, 18.24),  # bobvila.com, EMT conduit fill thread (prints 18)
        ("12 AWG", 6, 30.0, 24.0),  # Mike Holt forum 149095
    ],
)
def test_published_ampacities_of_90_degree_copper(
    size: str, count: int, ambient: float, published: float
) -> None:
    value = AMPACITY("copper", 90.0, size) * AMBIENT(90.0, ambient) * ADJUST(float(count))
    assert value == pytest.approx(published, abs=0.05)


def test_published_sizes_for_95_amperes() -> None:
    """Jensen Hughes Academy, Conductor Selection & Application: Three Sizes."""

    def smallest(column: float, amperes: float) -> str:
        found = TABLES["ampacity"].rows_getter(("material", "column"))("copper", column)
        return next(str(row.size) for row in found if row.ampacity >= amperes)

    assert smallest(75.0, 95) == "3 AWG"
    assert smallest(60.0, 95) == "2 AWG"
    assert smallest(75.0, 95 * 1.25) == "1 AWG"
    standard = TABLES["standard_ratings"].for_edition("nec-2017").getter("standard")
    assert standard(95 * 1.25) == 125


def test_nonlinear_neutral_example() -> None:
    """electriciantalk.com, 400 A Service: 700 kcmil at 75 °C, four conductors, 368 A."""
    assert AMPACITY("copper", 75.0, "700 kcmil") * ADJUST(4.0) == pytest.approx(368)


def test_cells_that_changed_in_2011_have_the_new_values() -> None:
    """ICC, IRC 2018 Table E3705.1 against the prints from before 2011 (the second number)."""
    changed = [
        ("copper", 60.0, "14 AWG", 15, 20), ("copper", 60.0, "12 AWG", 20, 25),
        ("copper", 60.0, "600 kcmil", 350, 355), ("copper", 90.0, "3 AWG", 115, 110),
        ("copper", 90.0, "1 AWG", 145, 150), ("aluminum", 60.0, "12 AWG", 15, 20),
        ("aluminum", 60.0, "8 AWG", 35, 30), ("aluminum", 60.0, "300 kcmil", 195, 190),
        ("aluminum", 60.0, "700 kcmil", 315, 310), ("aluminum", 90.0, "6 AWG", 55, 60),
        ("aluminum", 90.0, "300 kcmil", 260, 255), ("aluminum", 90.0, "700 kcmil", 425, 420),
        ("aluminum", 90.0, "800 kcmil", 445, 450),
    ]  # fmt: skip
    for material, column, size, now, before in changed:
        assert AMPACITY(material, column, size) == now != before


def test_ampacity_grows_with_size_and_with_temperature() -> None:
    """Physics: a larger conductor carries more, a hotter insulation too, copper more than
    aluminium."""
    table = TABLES["ampacity"]
    assert len(table.rows) == 167
    for material in ("copper", "aluminum"):
        for column in (60.0, 75.0, 90.0):
            rows = table.rows_getter(("material", "column"))(material, column)
            amperes = [row.ampacity for row in rows]
            assert all(a < b for a, b in pairwise(amperes))
            for row in rows:
                if column < 90:
                    assert row.ampacity < AMPACITY(material, column + 15, row.size)
                if material == "aluminum":
                    assert row.ampacity < AMPACITY("copper", column, row.size)


@pytest.mark.parametrize(
    ("count", "factor"),
    # buildmyowncabin, reprint of NEC 2014 Table 310.15(B)(3)(a): both ends of every band.
    [(1, 1.0), (3, 1.0), (4, 0.8), (6, 0.8), (7, 0.7), (9, 0.7), (10, 0.5), (20, 0.5),
     (21, 0.45), (30, 0.45), (31, 0.4), (40, 0.4), (41, 0.35), (400, 0.35)],
)  # fmt: skip
def test_adjustment_bands(count: int, factor: float) -> None:
    assert ADJUST(float(count)) == factor


# -- grounding and overcurrent ------------------------------------------------------------------


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
