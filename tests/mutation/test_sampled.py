"""The mutation check: a moved value or cell that no example and no published number notices fails.

The whole check is ``python benchmarks/mutation.py``; benchmarks/mutation-result.md has its result.
Every cell is moved here, and one value in six.
"""

from __future__ import annotations

from benchmarks.mutation import cell_mutants, run, value_mutants


def test_moved_values_are_noticed() -> None:
    judged, survivors = run(value_mutants(), 6)
    assert judged >= 110
    assert survivors == []


def test_moved_cells_are_noticed() -> None:
    judged, survivors = run(cell_mutants(), 1)
    assert judged >= 2975
    assert survivors == []
