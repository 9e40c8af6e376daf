"""A sample of the mutation check: moved values and cells are noticed as often as was measured.

The whole check is ``python benchmarks/mutation.py``; benchmarks/mutation-result.md has its result.
"""

from __future__ import annotations

from benchmarks.mutation import cell_mutants, run, value_mutants


def test_moved_values_are_noticed() -> None:
    judged, survivors = run(value_mutants(), 7)
    assert judged >= 50
    assert 1 - len(survivors) / judged >= 0.49, survivors


def test_moved_cells_are_noticed() -> None:
    judged, survivors = run(cell_mutants(), 80)
    assert judged >= 25
    assert 1 - len(survivors) / judged >= 0.6, survivors
