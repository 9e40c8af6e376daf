"""Published Annex C counts, through the program: the count holds and one more does not.

Source of the counts: the charts listed in annex_c.yaml beside this file, as printed.  Cells that
annex_c.yaml lists under ``differs`` (misprints, counts decided at the remainder of 0.8) are left to
test_tables_annex_c.py, which keeps the reason of each.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from assemblies import size_of

from checker.assembly import read_assembly
from checker.engine.evaluate import evaluate_rule
from checker.rulebook.book import load_rulebook

HERE = Path(__file__).parent


def cells() -> dict[str, dict[tuple[str, str, str], int]]:
    """Method -> (insulation, size, trade size) -> count, of every cell that is not disputed."""
    data = yaml.safe_load((HERE / "annex_c.yaml").read_text(encoding="utf-8"))
    disputed = {(d["raceway"], d["type"], d["size"], d["trade"]) for d in data["differs"]}
    found: dict[str, dict[tuple[str, str, str], int]] = {}
    for chart in data["published"]:
        for size, row in chart["counts"].items():
            for trade, count in row.items():
                if (chart["raceway"], chart["type"], size, trade) not in disputed:
                    kept = found.setdefault(chart["raceway"], {})
                    kept[chart["type"], size, trade] = count
    return found


CELLS = cells()


def wall(method: str, sample: dict[tuple[str, str, str], int]) -> dict[str, Any]:
    """An assembly with two raceways for every cell: with its count of wires, and with one more."""
    raceways, pulls = [], []
    for place, ((insulation, size, trade), count) in enumerate(sample.items()):
        for more in (0, 1):
            if count + more == 0:
                continue
            name = f"{place}/{more}"
            raceways.append({"id": name, "method": method, "size": trade, "from": "field",
                             "to": "field", "length": "10 ft"})  # fmt: skip
            pulls.append({"id": f"W{name}", "through": [name], "wires": [
                {"role": "spare", "size": size_of(size), "insulation": insulation,
                 "count": count + more}]})  # fmt: skip
    return {
        "assembly": "annex-c", "defaults": {"wire": {"material": "copper"}},
        "raceways": raceways, "pulls": pulls,
    }  # fmt: skip


@pytest.mark.parametrize("method", sorted(CELLS))
def test_count_holds_and_one_more_does_not(method: str, tmp_path: Path) -> None:
    every = list(CELLS[method].items())
    # Every third cell: some 500 of the 1,500, spread over every chart, size and trade size.
    sample = dict(every[::3])
    path = tmp_path / "annex-c.yaml"
    path.write_text(yaml.safe_dump(wall(method, sample)), encoding="utf-8")
    assembly, _ = read_assembly(path)
    book = load_rulebook("nec-2023")
    rule = book.find("raceway-fill")
    found = {
        raceway.id: evaluate_rule(book, rule, "raceway", raceway, assembly)
        for raceway in assembly.raceways
    }
    for place, (cell, count) in enumerate(sample.items()):
        if count:
            held = found[f"{place}/0"]
            assert (held.kind, held.measure) == ("pass", count), cell
            # Three and more are counted by 40 %; one and two have shares of their own.
            assert held.limit == count if count > 2 else held.limit >= count, cell
        over = found[f"{place}/1"]
        assert over.kind == "fail", cell
        assert over.measure == count + 1 > over.limit, cell
    assert len(sample) >= 10


def test_sample_is_large_and_covers_every_chart() -> None:
    assert sum(len(c) for c in CELLS.values()) == 1500
    assert sum(len(list(c)[::3]) for c in CELLS.values()) > 480
    assert set(CELLS) >= {"EMT", "IMC", "RMC", "PVC40", "PVC80", "ENT", "FMC"}
