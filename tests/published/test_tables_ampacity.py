"""Ampacity, correction, adjustment and insulation tables against equations and published figures.

Worked figures are those that the named publication prints; the arithmetic between them is ours.
"""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import pytest

from checker.tables import NoEntry, load_tables

TABLES = load_tables(Path(__file__).parents[2] / "tables")
COLUMNS = (60.0, 75.0, 90.0)


def ampacity(material: str, column: float, size: str) -> float:
    return float(TABLES["ampacity"].getter("ampacity")(material, column, size))


def ambient_factor(column: float, ambient: float) -> float:
    return float(TABLES["ambient_correction"].getter("factor")(column, ambient))


def adjustment(count: float) -> float:
    return float(TABLES["ampacity_adjustment"].getter("factor")(count))


# -- ambient: NEC 310.15(B) equation, the factor as the square root of (Tc - Ta)/(Tc - 30);
# the equation's form is confirmed by the Mike Holt forum thread on ambient correction factors.


def test_every_ambient_factor_is_the_equation_at_the_hot_end() -> None:
    count = 0
    bands = []
    for row in TABLES["ambient_correction"].row_objects:
        bands.append((row.column, row.ambient))
        exact = math.sqrt((row.column - row.ambient) / (row.column - 30))
        assert abs(exact - row.factor) < 0.00501
        assert math.floor(exact * 100 + 0.5) / 100 == row.factor
        count += 1
    assert count == 39
    # ICC, IRC 2021 Table E3705.2: bands of 5 °C, the coldest 10 °C or less, each column as far as
    # the equation gives a factor.
    assert bands == [(c, float(a)) for c in COLUMNS for a in range(10, int(c), 5)]


@pytest.mark.parametrize("column", [60.0, 75.0, 90.0])
def test_no_factor_where_the_equation_gives_none(column: float) -> None:
    hottest = max(r.ambient for r in TABLES["ambient_correction"].rows_getter(("column",))(column))
    assert column - 5 <= hottest + 0.5 <= column
    assert ambient_factor(column, hottest) > 0
    with pytest.raises(NoEntry):
        ambient_factor(column, hottest + 0.1)
    with pytest.raises(NoEntry):
        ambient_factor(column, column)


def test_bands_are_met_at_their_ends() -> None:
    """ICC, IRC 2021 Table E3705.2: 26 to 30 °C gives 1.00, 31 to 35 °C gives 0.96 at 90 °C."""
    assert ambient_factor(90.0, 30.0) == ambient_factor(90.0, 26.0) == 1.0
    assert ambient_factor(90.0, 30.0 + 1e-11) == 1.0
    assert ambient_factor(90.0, 31.0) == ambient_factor(90.0, 35.0) == 0.96
    assert ambient_factor(90.0, -40.0) == 1.15


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
    value = ampacity("copper", 90.0, size) * ambient_factor(90.0, ambient)
    value *= adjustment(float(count))
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
    assert ampacity("copper", 75.0, "700 kcmil") * adjustment(4.0) == pytest.approx(368)


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
        assert ampacity(material, column, size) == now != before


def test_ampacity_grows_with_size_and_with_temperature() -> None:
    """Physics: a larger conductor carries more, a hotter insulation too, copper more than
    aluminium."""
    table = TABLES["ampacity"]
    assert len(table.rows) == 167
    for material in ("copper", "aluminum"):
        for column in COLUMNS:
            rows = table.rows_getter(("material", "column"))(material, column)
            amperes = [row.ampacity for row in rows]
            assert all(a < b for a, b in pairwise(amperes))
            for row in rows:
                if column < 90:
                    assert row.ampacity < ampacity(material, column + 15, row.size)
                if material == "aluminum":
                    assert row.ampacity < ampacity("copper", column, row.size)


@pytest.mark.parametrize(
    ("count", "factor"),
    # buildmyowncabin, reprint of NEC 2014 Table 310.15(B)(3)(a): both ends of every band.
    [(1, 1.0), (3, 1.0), (4, 0.8), (6, 0.8), (7, 0.7), (9, 0.7), (10, 0.5), (20, 0.5),
     (21, 0.45), (30, 0.45), (31, 0.4), (40, 0.4), (41, 0.35), (400, 0.35)],
)  # fmt: skip
def test_adjustment_bands(count: int, factor: float) -> None:
    assert adjustment(float(count)) == factor


def test_ampacities_are_printed_in_steps_of_five() -> None:
    """As printed in ICC, IRC 2018 Table E3705.1: from 14 AWG up; 18 and 16 AWG have 14 and 18 A in
    the reprint Scribd 602627451."""
    odd = {
        (row.material, row.column, row.size): row.ampacity
        for row in TABLES["ampacity"].row_objects
        if row.ampacity % 5
    }
    assert odd == {("copper", 90.0, "18 AWG"): 14, ("copper", 90.0, "16 AWG"): 18}


@pytest.mark.parametrize(("material", "zero"), [("copper", 234.5), ("aluminum", 228.1)])
def test_columns_differ_as_the_temperature_rises_do(material: str, zero: float) -> None:
    """Heat balance: I² R is as the rise above 30 °C, R as the conductor's temperature above the
    inferred zero-resistance one (copper 234.5 °C, 61 % IACS aluminium 228.1 °C below zero: ASTM
    B193, from memory). Both cells are rounded to 5 A, hence 2.5 A to either side of each.
    """
    compared = 0
    for cool, hot in pairwise(COLUMNS):
        ratio = math.sqrt((hot - 30) / (cool - 30) * (zero + cool) / (zero + hot))
        for row in TABLES["ampacity"].rows_getter(("material", "column"))(material, cool):
            warmer = ampacity(material, hot, row.size)
            low, high = (ratio * (row.ampacity + e) + e for e in (-2.5, 2.5))
            assert low <= warmer <= high, (row, warmer)
            compared += 1
    assert compared == (56 if material == "copper" else 54)


def test_aluminum_carries_as_its_resistance_says() -> None:
    """The same heat from the same conductor: currents are as the roots of the resistances, copper
    10.371 and 61 % IACS aluminium 17.002 ohm-cmil/ft at 20 °C, 0.00393 and 0.00403 per °C. Both
    cells are rounded to 5 A. To 4/0 AWG; above it copper loses more to alternating current than
    that. 3 AWG at 90 °C has 85 A, 0.15 A less than two roundings explain.
    """
    beyond = []
    for row in TABLES["ampacity"].row_objects:
        if row.material == "copper" or row.size.endswith("kcmil"):
            continue
        rise = row.column - 20
        ratio = math.sqrt(10.371 * (1 + 0.00393 * rise) / (17.002 * (1 + 0.00403 * rise)))
        exact = ratio * ampacity("copper", row.column, row.size)
        if abs(row.ampacity - exact) > 2.5 * (1 + ratio):
            beyond.append((row.column, row.size, row.ampacity, round(exact, 1)))
    assert beyond == [(90.0, "3 AWG", 85.0, 89.6)]


# -- insulation ---------------------------------------------------------------------------------

# The types that head the columns of Table 310.15(B)(16): reprint, Scribd 602627451; the aluminium
# columns in ICC, IRC 2018 Table E3705.1 have the same ones. ZW, TBS, SA, SIS, FEP, FEPB, MI and
# ZW-2 stand there too and have no row.
LISTED = {
    60: ("TW", "UF"),
    75: ("RHW", "THHW", "THW", "THWN", "XHHW", "USE"),
    90: ("RHH", "RHW-2", "THHN", "THHW", "THW-2", "THWN-2", "USE-2", "XHH", "XHHW", "XHHW-2"),
}
DRY_ONLY = ("RHH", "THHN", "XHH")  # no W in the letters; UF and USE are for use underground


def test_insulation_ratings_are_the_columns_that_list_the_type() -> None:
    """A type in two columns has the hotter one dry and the cooler one wet.

    NM-B is not in the lists: NEC 334.80 limits it to the 60 °C column (from memory), dry locations
    only.
    """
    table = TABLES["insulation_rating"]
    expected: dict[str, tuple[float, float | None]] = {"NM-B": (60.0, None)}
    for kind in {kind for kinds in LISTED.values() for kind in kinds}:
        columns = [float(column) for column, kinds in LISTED.items() if kind in kinds]
        expected[kind] = (max(columns), None if kind in DRY_ONLY else min(columns))
    assert {row.insulation: (row.dry, row.wet) for row in table.row_objects} == expected
    # An asterisk (Chapter 9 Table 5) says that a type has no outer covering, nothing of its rating.
    same = {f"{kind}*": kind for kind in ("RHH", "RHW", "RHW-2")}
    # Marked with two types: THHN dry, the other one wet (common practice, no source).
    for both, dry, wet in (("THHN/THWN-2", 90, 90), ("THHN/THWN", 90, 75)):
        for name in (both, "/".join(reversed(both.split("/")))):
            same[name] = "THWN-2" if wet == 90 else "THHW"
            assert (table.getter("dry")(name), table.getter("wet")(name)) == (dry, wet)
    assert dict(table.key("insulation").also) == same


def test_insulation_ratings_are_those_that_the_letters_say() -> None:
    """How types are named (NEC Article 310, from memory): -2 is 90 °C wet and dry, HH 90 °C dry,
    one H 75 °C, W wet locations, no H 60 °C; USE and NM-B do not follow the letters.
    """
    for row in TABLES["insulation_rating"].row_objects:
        kind = row.insulation
        if kind in ("USE", "NM-B"):
            continue
        if kind.endswith("-2"):
            assert (row.dry, row.wet) == (90, 90)
        elif "HH" in kind:
            assert (row.dry, row.wet) == (90, 75 if "W" in kind else None)
        else:
            assert row.dry == row.wet == (75 if "H" in kind else 60)
