"""Raceway dimensions against other prints: metric areas and diameters, shares, metric names."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import pytest

from checker.tables import load_tables

TABLES = load_tables(Path(__file__).parents[2] / "tables")
MM2 = 645.16  # mm² in one in², exact since the inch is 25.4 mm


def rows() -> tuple[Any, ...]:
    return TABLES["raceway_dimensions"].row_objects


# Areas in mm². EMT: 2011 National Electrical Code Handbook p. 1310; RMC: Modern Commercial Wiring
# (2018) p. 100. They are printed from rounded metric diameters, hence 0.7 %.
PRINTED_MM2 = {
    "EMT": {"1/2": 196, "3/4": 343, "1": 556, "1-1/4": 968, "1-1/2": 1314, "2": 2165},
    "RMC": {"1/2": 204, "3/4": 353, "1": 573, "1-1/4": 984, "1-1/2": 1333, "2": 2198,
            "2-1/2": 3137},
}  # fmt: skip


@pytest.mark.parametrize("method", PRINTED_MM2)
def test_areas_agree_with_the_printed_metric_ones(method: str) -> None:
    area = TABLES["raceway_dimensions"].getter("area")
    for size, metric in PRINTED_MM2[method].items():
        assert area(method, size) * MM2 == pytest.approx(metric, rel=0.007)


# Shares of the area in in², 60, 53, 31 and 40 %. EMT: 2011 National Electrical Code Handbook
# p. 1310; RMC: Modern Commercial Wiring (2018) p. 100.
PRINTED_SHARES = {
    "EMT": {"1/2": ".182 .161 .094 .122", "3/4": ".320 .283 .165 .213", "1": ".519 .458 .268 .346",
            "1-1/4": ".897 .793 .464 .598", "1-1/2": "1.221 1.079 .631 .814",
            "2": "2.013 1.778 1.040 1.342"},
    "RMC": {"1/2": ".188 .166 .097 .125", "3/4": ".329 .291 .170 .220", "1": ".532 .470 .275 .355",
            "1-1/4": ".916 .809 .473 .610", "1-1/2": "1.243 1.098 .642 .829",
            "2": "2.045 1.806 1.056 1.363"},
}  # fmt: skip


@pytest.mark.parametrize("method", PRINTED_SHARES)
def test_printed_shares_are_those_of_the_bore(method: str) -> None:
    area = TABLES["raceway_dimensions"].getter("area")
    diameter = TABLES["raceway_dimensions"].getter("inside_diameter")
    for size, text in PRINTED_SHARES[method].items():
        printed = [Decimal(share) for share in text.split()]
        for percent, share in zip((60, 53, 31, 40), printed, strict=True):
            exact = percent / 100 * math.pi / 4 * diameter(method, size) ** 2
            assert Decimal(exact).quantize(Decimal("0.001"), ROUND_HALF_UP) == share
            assert percent / 100 * area(method, size) == pytest.approx(float(share), abs=0.00081)


# The millimetres of Table 4 beside the inches, from memory.
METRIC = {
    "EMT": "15.8 20.9 26.6 35.1 40.9 52.5 69.4 85.2 97.4 110.1",
    "IMC": "16.8 21.9 28.1 36.8 42.7 54.6 64.9 80.7 93.2 105.8",
    "RMC": "16.1 21.2 27.0 35.4 41.2 52.9 63.2 78.5 90.7 102.9 128.9 154.8",
    "FMC": "9.7 16.1 20.9 25.9 32.4 39.1 51.8 63.5 76.2 88.9 101.6",
    "LFMC": "12.5 16.1 21.1 26.8 35.4 40.3 51.6 63.3 78.4 89.4 102.1",
    "LFNC": "12.5 16.1 21.1 26.8 35.4 40.3 51.6",
    "LFNC-A": "12.6 16.0 21.0 26.5 35.1 40.7 52.4",
    "ENT": "14.2 19.3 25.4 34.0 39.9 51.3",
    "PVC40": "15.3 20.4 26.1 34.5 40.4 52.0 62.1 77.3 89.4 101.5 127.4 153.2",
    "PVC80": "13.4 18.3 23.8 31.9 37.5 48.6 58.2 72.7 84.5 96.2 121.1 145.0",
}


@pytest.mark.parametrize("method", METRIC)
def test_diameters_agree_with_the_metric_ones(method: str) -> None:
    """Each is the other one rounded to 0.1 mm; FMC 3/8 has 0.384 in, 9.75 mm, beside 9.7 mm."""
    found = [row for row in rows() if row.method == method]
    for row, metric in zip(found, METRIC[method].split(), strict=True):
        within = 0.0545 if (method, row.size) == ("FMC", "3/8") else 0.0501
        assert row.inside_diameter * 25.4 == pytest.approx(float(metric), abs=within), row


def test_metric_names_are_the_bore_of_rigid_conduit() -> None:
    """The designators (2011 National Electrical Code Handbook p. 1310) are the bore of RMC in whole
    millimetres; so they name it from outside this table."""
    name = TABLES["metric_designators"].getter("designator")
    for row in rows():
        if row.method == "RMC":
            assert round(row.inside_diameter * 25.4) == name(row.size), row


def test_nonmetallic_liquidtight_is_as_the_metal_one() -> None:
    """From memory: type B has the dimensions of LFMC in 3/8 to 2."""
    kinds = {
        kind: [(r.size, r.inside_diameter, r.area) for r in rows() if r.method == kind]
        for kind in ("LFNC", "LFMC")
    }
    assert len(kinds["LFNC"]) == 7
    assert kinds["LFNC"] == kinds["LFMC"][:7]
