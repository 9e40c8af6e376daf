"""The mutation check: a moved value or cell that no example and no published number notices fails.

The whole check is ``python benchmarks/mutation.py``; benchmarks/mutation-result.md has its result.
Every cell is moved here, and one value in six.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import yaml

from benchmarks.mutation import cell_mutants, moved, run, value_mutants
from benchmarks.mutation_parts import part_mutants
from checker.paths import rules_folder


def test_moved_values_are_noticed() -> None:
    judged, survivors = run(value_mutants(), 6)
    assert judged >= 110
    assert survivors == []


def test_moved_cells_are_noticed() -> None:
    judged, survivors = run(cell_mutants(), 1)
    assert judged >= 2975
    assert survivors == []


def test_parts_left_out_are_noticed() -> None:
    """Terms, conditions and cases; 58 that no example notices may only become fewer."""
    judged, survivors = run(part_mutants(), 1)
    assert judged >= 300
    assert len(survivors) <= 58, survivors


def test_every_value_is_moved_wherever_it_stands() -> None:
    """In a sum, a case, a group or what goes by the worst as in a plain step."""
    root = Path(rules_folder())
    declared: dict[str, Any] = {}
    for path in root.rglob("*.yaml"):
        if path.parent.name not in ("amendments", "editions", "shared"):
            read = yaml.safe_load(path.read_text(encoding="utf-8"))
            if "rule" in read:
                declared |= {f"{read['rule']}.{name}": read for name in read.get("values") or {}}
    labels = {label.split(":")[0] for label, _ in value_mutants()}
    unmoved = {name for name in declared if name not in labels}
    single = {name for name in unmoved if _cannot_move(declared[name], name.split(".")[1])}
    assert unmoved == single
    written = ("sum", "cases", "worst", "least")
    inside = [
        name
        for name, rule in declared.items()
        for step in (rule.get("steps") or {}).values()
        if isinstance(step, dict)
        and any(
            re.search(rf"\b{name.split('.')[1]}\b", str(step[way]))
            for way in written
            if way in step
        )
    ]
    assert len(inside) > 20


def _cannot_move(rule: Any, name: str) -> bool:
    """A text has no next one, and of a list with one item nothing can be left out."""
    value = rule["values"][name]
    said = value.get("is") if isinstance(value, dict) else value
    return not list(moved(said))
