"""Every derived fact of every record is found: none is left for a rule to stumble on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import mutants
import random_designs
from designs import NAMES, assembly_of, sample

from checker.assembly import from_source
from checker.assembly.records import CLASSES, Assembly, Record
from checker.documents.fields import fields_of
from checker.documents.source import Source

#: What neither the samples nor the random designs have.
RARE = """\
assembly: R
basis: {route: [{id: door, width: 4 ft, height: 7 ft}]}
benders: {shoe: {size: 3/4, radius: 5 in}}
rows: [{id: low, height: 4 ft}]
branch_scheme: [{branch: critical, devices: [red]}]
not_covered: [{topic: supports, reason: drawn on another sheet, by: shop}]
sections: [{id: S, width: 6 ft, height: 8 ft, depth: 6 in}]
boxes:
  - {id: A, kind: outlet, section: S, at: [1 ft, 4 ft], row: low, barrier: true, marked_for: [
     {size: 12 AWG, count: 4}], devices: [{id: D, kind: receptacle}],
     knockouts: [{wall: top, size: 3/4}],
     compartments: [{id: left, mounts: [D]}, {id: right, wiring: [P]}]}
  - {id: B, kind: outlet, section: S, at: [1 ft, 4 ft], side: back}
raceways: [{id: R1, method: EMT, size: 3/4, from: A, to: B, bender: shoe}]
pulls: [{id: P, through: R1, wires: [{role: spare}]}]
"""
_CLASS_OF = {record: name for name, record in CLASSES.items()}


def reached(element: Record, seen: dict[int, Record]) -> None:
    """Every record that a rule could reach from an element, by its place in memory."""
    waiting: list[Any] = [element]
    while waiting:
        one = waiting.pop()
        if isinstance(one, tuple):
            waiting.extend(one)
        elif isinstance(one, Record) and id(one) not in seen:
            seen[id(one)] = one
            waiting.extend(getattr(one, field.name, None) for field in fields_of(type(one)))


def unfilled(element: Record) -> tuple[set[str], set[str]]:
    """Fields of reachable records that hold nothing at all, and the classes of those records."""
    seen: dict[int, Record] = {}
    reached(element, seen)
    lacking = {
        f"{_CLASS_OF[type(one)]}.{field.name}"
        for one in seen.values()
        for field in fields_of(type(one))
        if not hasattr(one, field.name)
    }
    return lacking, {_CLASS_OF[type(one)] for one in seen.values()}


def designs() -> Iterator[Assembly]:
    yield from_source(Source.of_text(RARE, "rare.yaml"))
    for name in NAMES:
        yield assembly_of(sample(name))
        yield from (assembly_of(mutants.mutant(name, seed)) for seed in range(6))
    yield from (assembly_of(random_designs.design(seed)) for seed in range(40))


def test_every_derived_field_of_every_class_is_filled() -> None:
    lacking: set[str] = set()
    made: set[str] = set()
    for assembly in designs():
        found, classes = unfilled(assembly)
        lacking |= found
        made |= classes
    assert not lacking, f"declared as derived, and `derive` does not fill: {sorted(lacking)}"
    assert made == set(CLASSES), f"no design here has: {sorted(set(CLASSES) - made)}"


def test_a_field_that_nobody_fills_is_found() -> None:
    assembly = assembly_of(sample(NAMES[0]))
    assert unfilled(assembly)[0] == set()
    object.__delattr__(assembly.boxes[0], "elevation")
    assert unfilled(assembly)[0] == {"box.elevation"}
