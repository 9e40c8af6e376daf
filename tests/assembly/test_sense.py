"""What cannot be meant is refused with its place, not judged."""

from __future__ import annotations

import pytest
from drawing import draw

from checker.documents.errors import InputError

GOOD = """
panels: [{id: P, system: 208Y/120}]
circuits: [{id: C, panel: P, phases: [A, B], load: 720 VA, continuous_load: 720 VA}]
raceways: [{id: R, from: P, to: field, length: 2 ft, supports: [1 ft, 24 in]}]
pulls: [{id: W, circuit: [C], through: [R], wires: [{role: phase, phase: B}, {role: ground, bare: true}]}]
"""  # noqa: E501


def test_a_plain_one_is_read() -> None:
    assert draw(GOOD).circuits[0].poles == 2


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("phases: [A, B]", "phases: [B, B]", "a phase twice"),
        ("phases: [A, B]", "phases: []", "has no phase"),
        ("continuous_load: 720 VA", "continuous_load: 721 VA", "more than its load"),
        ("length: 2 ft", "length: 0 in", "has no length"),
        ("supports: [1 ft, 24 in]", "supports: [1 ft, 24-1/8 in]", "beyond the end of `R`"),
        ("circuit: [C]", "circuit: [C, C]", "names a circuit twice"),
        ("phase: B", "phase: C", "on a phase that its circuit has not"),
        ("role: ground, bare", "role: neutral, bare", "cannot be bare"),
        ("[{role: phase, phase: B}, {role: ground, bare: true}]", "[]", "has no wires"),
    ],
)
def test_what_cannot_be_meant(old: str, new: str, message: str) -> None:
    assert old in GOOD
    with pytest.raises(InputError) as raised:
        draw(GOOD.replace(old, new))
    (problem,) = raised.value.problems
    assert message in problem.message
    assert problem.line > 1


def test_insulation_is_read_however_it_is_written() -> None:
    text = GOOD.replace("phase: B", "phase: B, insulation: thhn / thwn-2")
    assert draw(text).pulls[0].wires[0].insulation == "THHN/THWN-2"
