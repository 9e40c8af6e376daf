"""A small wall in the short form, and what tests ask of a design's text."""

from __future__ import annotations

from typing import Any

import pytest

from checker.assembly import from_source
from checker.assembly.records import Assembly
from checker.documents.errors import InputError, Problem
from checker.documents.source import Source

#: Two placements of one group: a box, a raceway from a junction box, a pull.
WALL = """\
assembly: W
basis: {edition: nec-2023, health_care: false, ambient: 30 degC, location: dry}
defaults:
  wire: {material: copper, insulation: THHN, size: 12 AWG}
  terminals: 75 degC
  box: {material: metal, grounded: true}
  circuit: {breaker: 20 A, nonlinear: false}
colors:
  - {system: 208Y/120, A: [black], B: [red], C: [blue], neutral: [white, gray], ground: [green]}
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits:
  - {id: P-1, panel: P, phases: [A], load: 360 VA}
  - {id: P-2, panel: P, phases: [B], load: 360 VA, wire: 10 AWG}
sections: [{id: S1, width: 6 ft, height: 9 ft}]
types:
  box:
    deep: {kind: outlet, trade_size: 4 x 2-1/8 square, rings: [{volume: 3.5 in³}]}
    flat: {like: deep, trade_size: 4 x 1-1/2 square}
  device:
    white: {kind: receptacle, receptacles: 2, rating: 20 A, color: white}
groups:
  bay:
    takes: {circuit: , across: 10 in}
    boxes:
      - {id: B, like: flat, section: S1, at: [$across, 44 in],
         devices: [{id: D, like: white, circuit: $circuit}]}
    raceways:
      - {id: R, method: EMT, size: 1/2, from: J, to: B, section: S1, length: 6 ft, bends: [],
         from_wall: left, supports: {first: 10 in, every: 4 ft}}
    pulls:
      - {id: W, circuit: $circuit, through: [R], wires: by circuit}
place:
  - {group: bay, id: one, with: {circuit: P-1}}
  - {group: bay, id: two, with: {circuit: P-2, across: 20 in}, mirror: 72 in, shift: [1 in, 2 in]}
boxes:
  - {id: J, kind: junction, trade_size: 4 x 2-1/8 square}
"""


def read(text: str, path: str = "wall.yaml") -> Assembly:
    """The assembly that a text describes."""
    return from_source(Source.of_text(text, path))


def changed(*changes: tuple[str, str], text: str = WALL) -> str:
    """The wall with some words changed, each of which is there once."""
    for old, new in changes:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    return text


def problems(text: str) -> tuple[Problem, ...]:
    """What is wrong with a text, which has to be something."""
    with pytest.raises(InputError) as caught:
        read(text)
    found = caught.value.problems
    for problem in found:
        assert all((problem.file, problem.line, problem.column, problem.message)), problem
    return found


def problem(text: str) -> Problem:
    """The one thing that is wrong with a text."""
    found = problems(text)
    assert len(found) == 1, [one.render() for one in found]
    return found[0]


def pointed_at(one: Problem) -> str:
    """What a problem points at, in its line."""
    return one.excerpt[one.column - 1 :][: one.length]


def by_id(elements: tuple[Any, ...]) -> dict[str, Any]:
    """Elements by their ids."""
    return {one.id: one for one in elements}
