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
        ("load: 720 VA,", "load: 720 VA, breaker: 0 A,", "has no rating"),
        ("system: 208Y/120", "system: 208Y/0", "has no voltage"),
        ("system: 208Y/120", "system: 000", "has no voltage"),
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


def test_a_zero_is_told_as_it_was_written_and_a_bad_phase_once() -> None:
    with pytest.raises(InputError) as raised:
        draw(GOOD.replace("length: 2 ft", "length: 0 mm"))
    assert raised.value.problems[0].found == "0 mm"
    with pytest.raises(InputError) as raised:
        draw(GOOD.replace("phases: [A, B]", "phases: [D]").replace("phase: B", "size: 12 AWG"))
    assert [problem.found for problem in raised.value.problems] == ["D"]


def test_insulation_is_read_however_it_is_written() -> None:
    text = GOOD.replace("phase: B", "phase: B, insulation: thhn / thwn-2")
    assert draw(text).pulls[0].wires[0].insulation == "THHN/THWN-2"
