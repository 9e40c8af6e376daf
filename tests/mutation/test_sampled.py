"""The mutation check: what no example and no published number notices is named here.

Of the values a sample is moved, of the cells every one.  The whole check is ``python
benchmarks/mutation.py``; benchmarks/mutation-result.md has its result.  The aim is two empty sets:
a survivor leaves its set when an example or a published number for it is written.
"""

from __future__ import annotations

from benchmarks.mutation import cell_mutants, run, value_mutants

VALUES = {
    "bend-radius.by_shoe: ['EMT', 'IMC', 'RMC', 'PVC40', 'PVC80'] -> ['EMT', 'IMC', 'RMC', 'PVC80']",  # noqa: E501
    "critical-care-own-circuit.powered: ['receptacle', 'switch', 'luminaire', 'disconnect'] -> ['receptacle', 'switch', 'luminaire']",  # noqa: E501
    "essential-raceway-method.care_kinds: ['patient_bed', 'operating_room', 'exam', 'treatment'] -> ['patient_bed', 'operating_room', 'treatment']",  # noqa: E501
    "essential-raceway-method.flexible: ['FMC', 'LFMC'] -> ['FMC']",
    "ground-color.judged_roles: ['ground', 'isolated_ground'] -> ['ground']",
    "grounding-conductor-increase.grounding: ['ground', 'isolated_ground'] -> ['ground']",
    "grounding-conductor-increase.low_column_up_to: 100 A -> 101 A",
    "grounding-conductor-increase.next_size_up_to: 800 A -> 801 A",
    "nonmetallic-ground.grounding: ['ground', 'isolated_ground'] -> ['ground']",
    "nonmetallic-ground.ungrounded: ['phase', 'switched', 'traveler'] -> ['phase', 'traveler']",
    "patient-bed-normal-panel.bed_kinds: ['patient_bed', 'operating_room'] -> ['patient_bed']",
    "pull-box-entry-distance.counted: ['phase', 'neutral', 'switched', 'traveler', 'spare'] -> ['phase', 'neutral', 'traveler', 'spare']",  # noqa: E501
    "raceway-size.flexible: ['FMC', 'LFMC', 'LFNC'] -> ['FMC', 'LFNC']",
    "redundant-ground-wire.power_roles: ['phase', 'neutral', 'switched', 'traveler'] -> ['phase', 'neutral', 'traveler']",  # noqa: E501
    "support-from-box.flexible: ['FMC', 'LFMC', 'LFNC', 'AC', 'MC', 'AC-HCF', 'MC-HCF'] -> ['FMC', 'LFMC', 'LFNC', 'AC', 'MC', 'AC-HCF']",  # noqa: E501
    "support-from-box.whip_length: 6 ft -> 7 ft",
    "undescribed-entry-walls.counted: ['phase', 'neutral', 'switched', 'traveler', 'spare'] -> ['phase', 'neutral', 'switched', 'traveler']",  # noqa: E501
    "undescribed-entry-walls.kinds: ['outlet', 'junction', 'pull'] -> ['outlet', 'junction']",
}

CELLS: set[str] = set()


def test_moved_values_are_noticed() -> None:
    judged, survivors = run(value_mutants(), 7)
    assert judged >= 45
    assert set(survivors) == VALUES


def test_moved_cells_are_noticed() -> None:
    judged, survivors = run(cell_mutants(), 1)
    assert judged >= 2975
    assert set(survivors) == CELLS
