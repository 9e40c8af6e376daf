"""Every published Annex C count, recomputed from Tables 1, 4 and 5 of Chapter 9.

Source of the counts: the charts listed in annex_c.yaml beside this file, as printed. Source of the
shares (53 %, 31 %, 40 %): 2011 National Electrical Code Handbook (NFPA), Chapter 9 Table 1;
Modern Commercial Wiring (2018), Goodheart-Willcox, p. 100. Source of the rule that a remainder of
0.8 counts one more: Chapter 9 Note 7, as answered in two Mike Holt forum threads on that note.
"""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.tables import load_tables

HERE = Path(__file__).parent
TABLES = load_tables(HERE.parents[1] / "tables")
ONE, TWO, MORE = 0.53, 0.31, 0.40
COUNT_UP = 0.8


def bore(method: str, trade: str) -> float:
    return float(TABLES["raceway_dimensions"].getter("area")(method, trade))


def wire(insulation: str, size: str) -> float:
    return float(TABLES["conductor_dimensions"].getter("area")(insulation, wire_size(size)))


@cache
def data() -> dict[str, Any]:
    read: dict[str, Any] = yaml.safe_load((HERE / "annex_c.yaml").read_text(encoding="utf-8"))
    return read


def wire_size(bare: str) -> str:
    return f"{bare} kcmil" if bare.isdigit() and int(bare) >= 250 else f"{bare} AWG"


def fitting(method: str, trade: str, insulation: str, size: str) -> int:
    """How many conductors of one kind the shares of Table 1 permit."""
    ratio = bore(method, trade) / wire(insulation, size)
    for share, least in ((MORE, 3), (TWO, 2), (ONE, 1)):
        count = math.floor(share * ratio + (1 - COUNT_UP) + 1e-9)
        if count >= least:
            return count if share == MORE else least
    return 0


@cache
def published_cells() -> list[tuple[str, str, str, str, str, int]]:
    """(source, raceway, type, size, trade, count) of every cell that some document prints."""
    cells = []
    for chart in data()["published"]:
        where = (chart["source"], chart["raceway"], chart["type"])
        printed = {
            (size, trade): count
            for size, row in chart["counts"].items()
            for trade, count in row.items()
        }
        blank = chart.get("blank_means_zero_for", {"sizes": [], "trades": []})
        for size in blank["sizes"]:
            for trade in blank["trades"]:
                printed.setdefault((size, trade), 0)
        cells += [(*where, size, trade, count) for (size, trade), count in printed.items()]
    return cells


def test_all_published_counts_come_out_but_the_listed_ones() -> None:
    cells = published_cells()
    assert len(cells) == 2036
    differing = {
        (source, method, kind, size, trade, count, fitting(method, trade, kind, size))
        for source, method, kind, size, trade, count in cells
        if fitting(method, trade, kind, size) != count
    }
    names = ("source", "raceway", "type", "size", "trade", "published", "recomputed")
    listed = {tuple(entry[name] for name in names) for entry in data()["differs"]}
    assert differing == listed
    assert len(listed) == 28


def test_every_listed_difference_has_a_reason_and_few_are_at_the_threshold() -> None:
    differs = data()["differs"]
    assert all(entry["reason"] and entry["kind"] in ("misprint", "threshold") for entry in differs)
    threshold = [entry for entry in differs if entry["kind"] == "threshold"]
    assert len(threshold) == 5
    for entry in threshold:
        ratio = MORE * bore(entry["raceway"], entry["trade"])
        ratio /= wire(entry["type"], entry["size"])
        assert abs(ratio % 1 - COUNT_UP) < 0.02


@pytest.mark.parametrize(
    ("method", "trade", "insulation", "size", "count"),
    [
        # EC&M Code Q&A 2019 (Mike Holt): one line each for RMC, PVC 40 and PVC 80.
        ("RMC", "1-1/2", "THHN", "8", 22),
        ("PVC40", "2", "THHN", "4/0", 4),
        ("PVC80", "2", "THHN", "4/0", 3),
        # Steel Tube Institute, THHN Conductors and RMC.
        ("RMC", "3/4", "THHN", "12", 16),
        # Mike Holt forum: 8 THW in 1 EMT, 350 THHW in 3 EMT, 600 THHN in 3 PVC 80.
        ("EMT", "1", "THW", "8", 8),
        ("EMT", "3", "THHW", "350", 6),
        ("PVC80", "3", "THHN", "600", 3),
        # Hunzicker Brothers: the smallest share at which one conductor is still accepted (0.802).
        ("EMT", "1-1/4", "THHN", "700", 1),
    ],
)
def test_single_published_counts(
    method: str, trade: str, insulation: str, size: str, count: int
) -> None:
    assert fitting(method, trade, insulation, size) == count
