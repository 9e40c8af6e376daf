"""Mappings of the same keys, read by code made for them: the same values, the same complaints."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from checker.assembly import from_source
from checker.assembly.records import CLASSES, Wire
from checker.documents import shapes
from checker.documents.errors import InputError
from checker.documents.fields import given_fields
from checker.documents.source import Source

HEAD = """assembly: SHAPES
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits: [{id: K, panel: P, phases: [A], breaker: 20 A}]
boxes:
  - {id: B, kind: junction, trade_size: 4 x 2-1/8 square}
  - {id: C, kind: junction, trade_size: 4 x 2-1/8 square}
raceways:
  - {id: R, method: EMT, size: 4, from: B, to: C, length: 10 ft}
pulls:
  - id: W
    circuit: K
    through: [R]
    wires:
"""
#: Plain, quoted, empty, and written otherwise: all that a value may be.
WIRES = [
    "{role: phase, size: 12 AWG, color: black, phase: A}",
    "{role: neutral, size: 12 AWG, color: 'white', phase: A}",
    "{role: ground, size: '12', color: green with yellow stripe, phase: ~}",
    "{role: phase, size: 1/0, color: , phase: A}",
]
WRONG = [
    "{role: phaze, size: 12 AWG, color: black, phase: A}",
    "{role: phase, size: 12 AGW, color: black, phase: A}",
    "{role: phase, size: 12 AWG, color: [black], phase: A}",
    "{role: phase, size: {a: b}, color: black, phase: A}",
    "{role: , size: 12 AWG, color: black, phase: A}",
]


def design(lines: list[str]) -> Source:
    return Source.of_text(HEAD + "".join(f"      - {line}\n" for line in lines))


def values(wire: Wire) -> list[Any]:
    found = [getattr(wire, item.name) for item in given_fields(Wire)]
    return [repr(value) for value in found]


def test_all_of_them_are_read_as_the_first_ones_are() -> None:
    lines = WIRES * 60
    wires = from_source(design(lines)).pulls[0].wires
    assert len(wires) > 3 * shapes._WORTH_IT
    for place, wire in enumerate(wires):
        assert values(wire) == values(wires[place % len(WIRES)])
        assert wire.node.mark.line == HEAD.count("\n") + 1 + place


@pytest.mark.parametrize("wrong", WRONG)
def test_a_mistake_among_many_is_told_as_it_is_alone(wrong: str) -> None:
    def told(lines: list[str]) -> list[tuple[Any, ...]]:
        with pytest.raises(InputError) as caught:
            from_source(design(lines))
        start = HEAD.count("\n") + len(lines)
        return [
            (p.line - start, p.column, p.message, p.found, p.expected, p.suggestion)
            for p in caught.value.problems
        ]

    assert told([*WIRES * 50, wrong]) == told([WIRES[0], wrong])


def test_records_are_frozen_once_they_are_read() -> None:
    assembly = from_source(design(WIRES * 60))
    for element in (assembly, assembly.pulls[0], *assembly.pulls[0].wires, *assembly.runs):
        assert type(element) in CLASSES.values()
        with pytest.raises(dataclasses.FrozenInstanceError):
            element.node = None  # type: ignore[misc]
