"""A sample of the mutation check: what no example and no published number notices is named here.

The whole check is ``python benchmarks/mutation.py``; benchmarks/mutation-result.md has its result.
The aim is two empty sets: a survivor leaves its set when an example for it is written.
"""

from __future__ import annotations

from benchmarks.mutation import cell_mutants, run, value_mutants

VALUES = {
    "bend-radius.by_shoe: ['EMT', 'IMC', 'RMC', 'PVC40', 'PVC80'] -> ['EMT', 'IMC', 'RMC', 'PVC80']",  # noqa: E501
    "ground-color.judged_roles: ['ground', 'isolated_ground'] -> ['ground']",
    "grounding-conductor-increase.grounding: ['ground', 'isolated_ground'] -> ['ground']",
    "grounding-conductor-increase.low_column_up_to: 100 A -> 101 A",
    "grounding-conductor-increase.next_size_up_to: 800 A -> 801 A",
    "nonmetallic-ground.grounding: ['ground', 'isolated_ground'] -> ['ground']",
    "nonmetallic-ground.ungrounded: ['phase', 'switched', 'traveler'] -> ['phase', 'traveler']",
}

CELLS = {
    "ampacity[aluminum, 90.0, 500 kcmil].ampacity: 350.0 -> 351",
    "ampacity[copper, 60.0, 8 AWG].ampacity: 40.0 -> 39",
    "ampacity[copper, 75.0, 1500 kcmil].ampacity: 625.0 -> 626",
    "ampacity[copper, 75.0, 1750 kcmil].ampacity: 650.0 -> 649",
    "ampacity[copper, 75.0, 750 kcmil].ampacity: 475.0 -> 474",
    "ampacity[copper, 75.0, 800 kcmil].ampacity: 490.0 -> 489",
    "conductor_dimensions[RHW*, 900 kcmil].area: 1.3561 -> 1.3560",
    "conductor_dimensions[RHW, 1250 kcmil].area: 2.3479 -> 2.3480",
    "conductor_dimensions[RHW, 2000 kcmil].area: 3.3719 -> 3.3718",
    "conductor_dimensions[RHW, 250 kcmil].area: 0.6291 -> 0.6292",
    "conductor_dimensions[THW, 1500 kcmil].area: 2.1695 -> 2.1696",
    "conductor_dimensions[XHHW, 500 kcmil].area: 0.6984 -> 0.6985",
    "conductor_properties[12 AWG].area: 0.006 -> 0.007",
    "conductor_properties[6 AWG].area: 0.027 -> 0.026",
    "conductor_properties[900 kcmil].area: 0.94 -> 0.941",
    "equipment_grounding[1200.0].aluminum: 250 kcmil -> 300 kcmil",
    "insulation_rating[THHW].dry: 90.0 -> 89",
    "insulation_rating[THHW].wet: 75.0 -> 74",
    "insulation_rating[THHW].wet: 75.0 -> 76",
    "raceway_dimensions[FMC, 1].area: 0.817 -> 0.816",
    "raceway_dimensions[LFNC-A, 2].area: 3.343 -> 3.344",
    "raceway_dimensions[LFNC-A, 3/8].area: 0.192 -> 0.193",
    "raceway_dimensions[PVC40, 2-1/2].area: 4.695 -> 4.696",
}


def test_moved_values_are_noticed() -> None:
    judged, survivors = run(value_mutants(), 7)
    assert judged >= 45
    assert set(survivors) == VALUES


def test_moved_cells_are_noticed() -> None:
    judged, survivors = run(cell_mutants(), 50)
    assert judged >= 40
    assert set(survivors) == CELLS
