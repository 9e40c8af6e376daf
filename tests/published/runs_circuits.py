"""Worked examples on voltage drop as assemblies that the program judges."""

from __future__ import annotations

import math
from typing import Any

import pytest
from judging import Bench
from worked import ALL_EDITIONS, Example, runs

#: Impedance of the examples, ohm per 1000 ft, and the size that Chapter 9 Table 9 gives it for.
SIZES = {1.1: "10 AWG", 1.7: "12 AWG"}
VOLTAGE = 480


def drawn(example: Example, length: float, limit: str = "") -> dict[str, Any]:
    """A circuit C of the example's impedance and current, so many feet long."""
    inputs = example["inputs"]
    load = math.sqrt(inputs["phases"]) * VOLTAGE * inputs["current_a"]
    return {
        "assembly": "drop",
        "basis": {"voltage_drop": limit} if limit else {},
        "defaults": {"wire": {"material": "copper", "insulation": "THHN"}},
        "panels": [{"id": "P", "system": "480Y/277"}],
        "circuits": [
            {"id": "C", "panel": "P", "phases": ["A", "B", "C"], "load": f"{load!r} VA"}
        ],
        "boxes": [{"id": "B", "kind": "pull"}],
        "raceways": [
            {"id": "R", "method": "EMT", "from": "P", "to": "B", "length": f"{length} ft"}
        ],
        "pulls": [
            {"id": "W", "circuit": "C", "through": ["R"],
             "wires": [{"role": "phase", "count": 3, "size": SIZES[inputs["z_ohm_per_kft"]]}]}
        ],
    }  # fmt: skip


@runs("vd_z")
def drop_over_a_length(bench: Bench, example: Example) -> None:
    for edition in ALL_EDITIONS:
        assembly = drawn(example, example["inputs"]["length_ft"])
        found = bench.judge(assembly, "voltage-drop", "C", edition)
        drop = example["recomputed"]["value"]
        assert found.step("drop") == pytest.approx(drop, abs=0.0005)
        assert found.measure == pytest.approx(drop / VOLTAGE, rel=1e-4)
        assert found.kind == ("pass" if drop / VOLTAGE <= 0.03 else "informational")


@runs("vd_length")
def longest_length(bench: Bench, example: Example) -> None:
    limit = f"{100 * example['inputs']['allowed_drop_v'] / VOLTAGE!r} %"
    longest = example["recomputed"]["value"]
    for length, kind in ((longest - 0.1, "pass"), (longest + 0.1, "fail")):
        assert bench.judge(drawn(example, length, limit), "voltage-drop", "C").kind == kind
