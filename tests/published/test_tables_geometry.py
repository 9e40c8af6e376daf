"""Raceways and bare conductors against geometry, the wire gauge, standards' walls and resistivity.

Each check names its source. Equal areas mean: equal within the rounding of the printed figures.
"""

from __future__ import annotations

import math
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import pytest

from checker.tables import Table, load_tables

TABLES = load_tables(Path(__file__).parents[2] / "tables")


def rows(name: str = "raceway_dimensions") -> tuple[Any, ...]:
    return TABLES[name].row_objects


def diameter(method: str, size: str) -> float:
    return float(TABLES["raceway_dimensions"].getter("inside_diameter")(method, size))


def outside(method: str, size: str) -> float:
    return float(TABLES["raceway_dimensions"].getter("outside_diameter")(method, size))


def printed(table: Table, row: int, column: str) -> Decimal:
    """A cell as it is written in the file, with its trailing zeros."""
    return Decimal(table.origins[row].node[table.names.index(column)])


def exactly(value: float) -> Decimal:
    """A printed value without what binary fractions add; nine decimals are more than any print."""
    return Decimal(f"{value:.9f}")


def rounded(value: float, to: str, mode: str = ROUND_HALF_UP) -> Decimal:
    return exactly(value).quantize(Decimal(to), mode)


def circle(diameter: float) -> float:
    return math.pi / 4 * diameter**2


# -- Table 4: raceways --------------------------------------------------------------------------


def test_raceway_areas_are_those_of_their_diameters() -> None:
    """Geometry: pi/4 d², rounded to 0.001 in². IMC 2 prints 3.630, where 2.150 in gives 3.63050."""
    assert len(rows()) == 98
    for row in rows():
        expected = rounded(circle(row.inside_diameter), "0.001")
        if (row.method, row.size) == ("IMC", "2"):
            assert expected == Decimal("3.631")
            expected = Decimal("3.630")
        assert exactly(row.area) == expected, row


# Nominal walls in inches. EMT: Steel Tube Institute, weights-and-dimensions tables. RMC: the same
# for 1-1/4, 1-1/2, 2-1/2 and 3-1/2; the other sizes ANSI C80.1, from memory.
NOMINAL_WALL = {
    "EMT": {"1/2": 0.042, "3/4": 0.049, "1": 0.057, "1-1/4": 0.065, "1-1/2": 0.065, "2": 0.065,
            "2-1/2": 0.072, "3": 0.072, "3-1/2": 0.083, "4": 0.083},
    "RMC": {"1/2": 0.104, "3/4": 0.107, "1": 0.126, "1-1/4": 0.133, "1-1/2": 0.138, "2": 0.146,
            "2-1/2": 0.193, "3": 0.205, "3-1/2": 0.215, "4": 0.225, "5": 0.245, "6": 0.266},
}  # fmt: skip

# Least walls of IMC: UL dimensions, Thomas & Betts cut sheet p. 167; the tolerance there is
# +0.015 in to trade size 2 and +0.020 in above.
LEAST_IMC_WALL = {
    "1/2": 0.070, "3/4": 0.075, "1": 0.085, "1-1/4": 0.085, "1-1/2": 0.090, "2": 0.095,
    "2-1/2": 0.130, "3": 0.130, "3-1/2": 0.130, "4": 0.130,
}  # fmt: skip
# Steel Tube Institute, IMC table: the nominal walls of the sizes that could be read.
NOMINAL_IMC_WALL = {"1-1/4": 0.095, "1-1/2": 0.100, "2-1/2": 0.150, "3-1/2": 0.150}


@pytest.mark.parametrize("method", NOMINAL_WALL)
def test_metal_bore_is_outside_diameter_less_two_walls(method: str) -> None:
    assert [row.size for row in rows() if row.method == method] == list(NOMINAL_WALL[method])
    for size, wall in NOMINAL_WALL[method].items():
        assert diameter(method, size) == pytest.approx(outside(method, size) - 2 * wall, abs=1e-9)


def test_imc_bore_is_outside_diameter_less_two_walls() -> None:
    """Half of the tolerance above the least wall to trade size 1; 0.010 in above it to 2 and the
    whole 0.020 in from 2-1/2 on, as in the four nominal walls that could be read."""
    assert [row.size for row in rows() if row.method == "IMC"] == list(LEAST_IMC_WALL)
    for size, least in LEAST_IMC_WALL.items():
        more = 0.0075 if size in ("1/2", "3/4", "1") else 0.010 if least < 0.1 else 0.020
        if size in NOMINAL_IMC_WALL:
            assert least + more == pytest.approx(NOMINAL_IMC_WALL[size])
        bore = outside("IMC", size) - 2 * (least + more)
        assert diameter("IMC", size) == pytest.approx(bore, abs=1e-9)


# Least walls in inches. PVC40: Maxx Supply, Schedule 40 and 80 PVC Pipe Sizes (2024);
# PVC80: PlasticRanger, Schedule 80 PVC Pipe Dimensions.
LEAST_WALL = {
    "PVC40": {"1/2": 0.109, "3/4": 0.113, "1": 0.133, "1-1/4": 0.140, "1-1/2": 0.145, "2": 0.154,
              "2-1/2": 0.203, "3": 0.216, "3-1/2": 0.226, "4": 0.237, "5": 0.258, "6": 0.280},
    "PVC80": {"1/2": 0.147, "3/4": 0.154, "1": 0.179, "1-1/4": 0.191, "1-1/2": 0.200, "2": 0.218,
              "2-1/2": 0.276, "3": 0.300, "3-1/2": 0.318, "4": 0.337, "5": 0.375, "6": 0.432},
}  # fmt: skip


@pytest.mark.parametrize("method", LEAST_WALL)
def test_plastic_bore_is_the_average_one(method: str) -> None:
    """Average wall: the larger of 1.06 × least wall and least wall + 0.010 in.

    The averaging rule was fitted to the lists named above (common practice, no source).
    """
    assert [row.size for row in rows() if row.method == method] == list(LEAST_WALL[method])
    for size, least in LEAST_WALL[method].items():
        wall = max(1.06 * least, least + 0.010)
        bore = rounded(outside(method, size) - 2 * wall, "0.001")
        assert exactly(diameter(method, size)) == bore


# -- Table 8: bare conductors -------------------------------------------------------------------

_GAUGE = {"1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}


def gauge_diameter(size: str) -> float:
    """ASTM B258: d = 0.005 × 92^((36-n)/39) in."""
    number = size.removesuffix(" AWG")
    n = _GAUGE[number] if number in _GAUGE else int(number)
    return float(0.005 * 92 ** ((36 - n) / 39))


def test_circular_mils_and_solid_diameters_follow_the_gauge_formula() -> None:
    """ASTM B258 as above, diameters rounded to 0.1 mil, circular mils to 10 below 100,000 and to
    100 above (from memory): every one comes out as printed."""
    cmil = math.pi / 4 * 1e-6  # in², the area of a circle of 0.001 in
    gauges = [row for row in rows("conductor_properties") if row.size.endswith("AWG")]
    assert len(gauges) == 15
    for row in gauges:
        mils = rounded(1000 * gauge_diameter(row.size), "0.1")
        unit = 100 if mils**2 >= 100_000 else 10
        assert round(row.circular_mils / cmil) == rounded(float(mils**2 / unit), "1") * unit, row
        if row.solid_diameter is not None:
            assert exactly(row.solid_diameter) == rounded(gauge_diameter(row.size), "0.001")
    assert sum(row.solid_diameter is not None for row in gauges) == 6


def test_kcmil_sizes_are_what_their_names_say() -> None:
    """By definition of the kcmil."""
    for row in rows("conductor_properties"):
        if row.size.endswith("kcmil"):
            mils = row.circular_mils / (math.pi / 4 * 1e-6)
            assert mils == pytest.approx(1000 * int(row.size.split()[0]), rel=1e-9)


# ASTM B8 class B, from memory: strands by the largest size of each group, and how many strands lie
# across a conductor that is laid in whole layers (geometry).
STRANDS = {"2 AWG": 7, "4/0 AWG": 19, "500 kcmil": 37, "1000 kcmil": 61, "1500 kcmil": 91,
           "2000 kcmil": 127}  # fmt: skip
ACROSS = {7: 3, 19: 5, 37: 7, 61: 9, 91: 11, 127: 13}


def test_stranded_diameters_are_those_of_their_strands() -> None:
    """One strand has its share of the circular mils, rounded to 0.1 mil; so many lie across."""
    order = [row.size for row in rows("conductor_properties")]
    assert len(order) == 30
    groups = [(order.index(size), count) for size, count in STRANDS.items()]
    for place, row in enumerate(rows("conductor_properties")):
        count = next(count for last, count in groups if place <= last)
        assert row.strands == count, row
        name = row.size.split()[0]
        if row.size.endswith("kcmil"):
            mils = math.sqrt(1000 * int(name) / count)
        else:
            mils = 1000 * gauge_diameter(row.size) / math.sqrt(count)
        across = rounded(mils, "0.1", ROUND_HALF_EVEN) * ACROSS[count] / 1000
        assert exactly(row.diameter) == across.quantize(Decimal("0.001"), ROUND_HALF_EVEN), row


def test_bare_areas_are_those_of_their_diameters() -> None:
    """Geometry: pi/4 d² rounded to 0.001 in², d as printed. Two are printed otherwise: 12 AWG 0.006
    for 0.00665 and 800 kcmil 0.834 for 0.83323."""
    otherwise = {}
    for row in rows("conductor_properties"):
        for diameter, area in ((row.diameter, row.area), (row.solid_diameter, row.solid_area)):
            if diameter is not None and exactly(area) != rounded(circle(diameter), "0.001"):
                otherwise[row.size, diameter] = (area, round(circle(diameter), 5))
    assert otherwise == {
        ("12 AWG", 0.092): (0.006, 0.00665),
        ("800 kcmil", 1.03): (0.834, 0.83323),
    }


@pytest.mark.parametrize(
    ("column", "resistivity", "alpha"),
    [
        # Copper: 10.371 ohm-cmil/ft at 20 °C, 0.00393 per °C (IACS, 100 % conductivity).
        ("resistance_copper", 10.371, 0.00393),
        # Aluminium: 61 % of IACS, 17.002 ohm-cmil/ft at 20 °C, 0.00403 per °C.
        ("resistance_aluminum", 17.002, 0.00403),
    ],
)
def test_dc_resistance_follows_from_resistivity(
    column: str, resistivity: float, alpha: float
) -> None:
    """At 75 °C with 2 % for stranding, within 0.55 % (the prints have three digits)."""
    table = TABLES["conductor_properties"]
    ohm_per_foot = resistivity * (1 + alpha * (75 - 20)) * 1.02
    resistance, mils = table.getter(column), table.getter("circular_mils")
    for row in rows("conductor_properties"):
        size = row.size
        exact_mils = mils(size) / (math.pi / 4 * 1e-6)
        if size.endswith("AWG"):
            exact_mils = (1000 * gauge_diameter(size)) ** 2
        tabulated = resistance(size) * 12  # ohm/in in base units
        assert tabulated == pytest.approx(ohm_per_foot / exact_mils, rel=0.0055), size


def test_ac_impedance_follows_from_resistance_and_reactance() -> None:
    """Z = R cos φ + X sin φ at 0.85 power factor (Chapter 9 Table 9, footnote; from memory)."""
    table = TABLES["ac_resistance"]
    assert len(table.rows) == 21
    off_by_one = 0
    for index in range(len(table.rows)):
        row = table.row_objects[index]
        r, x, z = (  # ohm/in in base units
            exactly(value * 12_000) for value in (row.resistance, row.reactance, row.impedance)
        )
        unit = Decimal(1).scaleb(int(printed(table, index, "impedance").as_tuple().exponent))
        exact = Decimal("0.85") * r + Decimal(math.sin(math.acos(0.85))) * x
        assert abs(exact - z) < unit * Decimal("1.01")
        off_by_one += abs(exact - z) > unit / 2
    assert off_by_one <= 3
