"""Circuits followed from their supply; where they end is found by hand on small drawings.

That the conductors of a circuit, the neutral among them, run together: 300.3(B).  What each device
needs, how three-way switches are wired: common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from drawing import draw, named

from checker.assembly.records import Assembly
from checker.documents.errors import InputError
from checker.documents.missing import known

HEAD = """
panels: [{id: P, system: 208Y/120}]
circuits: [{id: K, panel: P, phases: [A]}]
boxes:
  - {id: J, kind: junction}
  - {id: B1, kind: outlet, devices: [{id: D1, kind: receptacle, circuit: K}]}
  - {id: B2, kind: outlet, devices: [{id: D2, kind: receptacle, circuit: K}]}
raceways:
  - {id: H, from: P, to: J}
  - {id: R1, from: J, to: B1}
  - {id: R2, from: B1, to: B2}
pulls:
"""
BOTH = "wires: [{role: phase}, {role: neutral}]"
PHASE = "wires: [{role: phase}]"


def chain(*pulls: str) -> Assembly:
    """Pulls through H, R1 and R2, each as the text of its wires; "" for none."""
    lines = [
        f"  - {{id: W{way}, circuit: K, through: [{way}], {wires}}}"
        for way, wires in zip(("H", "R1", "R2"), pulls, strict=True)
        if wires
    ]
    return draw(HEAD + "\n".join(lines) + "\n")


def device(assembly: Assembly, name: str) -> Any:
    return named([d for box in assembly.boxes for d in box.devices], name)


def breaks(assembly: Assembly, name: str) -> list[tuple[str, str, str]]:
    return [(b.line, b.last, b.pull) for b in device(assembly, name).breaks]


def test_a_complete_circuit() -> None:
    assembly = chain(BOTH, BOTH, BOTH)
    circuit = assembly.circuits[0]
    assert circuit.sources == ("P",)
    assert not circuit.incomplete
    for name in ("D1", "D2"):
        found = device(assembly, name)
        assert (found.fed, found.pole_count, found.neutral_arrives) == (1, 1, True)
        assert found.connected
        assert found.takes_neutral
        assert found.breaks == ()
    for pull in assembly.pulls:
        assert [w.unused_in for w in pull.wires] == [(), ()]


def test_where_a_path_ends() -> None:
    # The home run without a neutral, the drop without one, the feed-through without one.
    assert breaks(chain(PHASE, BOTH, BOTH), "D1") == [("neutral", "P", "WH")]
    assert breaks(chain(BOTH, PHASE, BOTH), "D2") == [("neutral", "J", "WR1")]
    assert breaks(chain(BOTH, BOTH, PHASE), "D1") == []
    assert breaks(chain(BOTH, BOTH, PHASE), "D2") == [("neutral", "B1", "WR2")]
    # No drop: both devices hang together, and the home run ends in the junction box.
    assert breaks(chain(BOTH, "", BOTH), "D2") == [("phase A", "J", ""), ("neutral", "J", "")]
    # No home run: followed back, the circuit ends in the junction box.
    apart = chain("", BOTH, BOTH)
    assert apart.circuits[0].sources == ()
    assert apart.circuits[0].incomplete
    assert breaks(apart, "D2") == [("phase A", "J", ""), ("neutral", "J", "")]
    # Nothing at all: it ends where it is wanted.
    assert breaks(chain("", "", ""), "D1") == [("phase A", "B1", ""), ("neutral", "B1", "")]


def test_wires_without_use() -> None:
    assembly = chain(BOTH, PHASE, PHASE)
    assert named(assembly.pulls, "WH").wires[1].unused_in == ("J",)
    assert named(assembly.pulls, "WH").wires[0].unused_in == ()
    spare = chain(BOTH, BOTH, "wires: [{role: phase}, {role: neutral}, {role: spare}]")
    assert all(w.unused_in == () for w in named(spare.pulls, "WR2").wires)


def test_two_circuits_that_borrow_one_neutral_over_two_pulls() -> None:
    """The neutral of a bed circuit that another pull brings is no neutral of it (200.4(A))."""
    assembly = draw("""
panels: [{id: P, system: 208Y/120}]
circuits: [{id: K, panel: P, phases: [A]}, {id: L, panel: P, phases: [B]}]
spaces: [{id: bed, kind: patient_bed, category: 2}]
boxes:
  - {id: J, kind: junction}
  - {id: B, kind: outlet, space: bed, devices: [{id: D1, kind: receptacle, circuit: K},
                                               {id: D2, kind: receptacle, circuit: L}]}
raceways: [{id: H, from: P, to: J}, {id: R, from: J, to: B}]
pulls:
  - {id: W1, circuit: K, through: [H], wires: [{role: phase}, {role: neutral}]}
  - {id: W2, circuit: L, through: [H], wires: [{role: phase}]}
  - id: W3
    circuit: [K, L]
    through: [R]
    wires: [{role: phase, count: 2}, {role: neutral, circuit: K}, {role: neutral, circuit: L}]
""")
    assert breaks(assembly, "D1") == []
    assert breaks(assembly, "D2") == [("neutral", "P", "W2")]


LIGHT = """
panels: [{id: P, system: 208Y/120}]
circuits: [{id: K, panel: P, phases: [A]}]
boxes:
  - {id: S1, kind: outlet, devices: [{id: SW1, kind: switch, circuit: K}]}
  - {id: S2, kind: outlet, devices: [{id: SW2, kind: switch, circuit: K}]}
  - {id: L, kind: outlet, devices: [{id: DL, kind: luminaire, circuit: K}]}
raceways: [{id: R1, from: P, to: S1}, {id: R2, from: S1, to: S2}, {id: R3, from: S2, to: L}]
pulls:
  - {id: W1, circuit: K, through: [R1], wires: [{role: phase}, {role: neutral}]}
  - {id: W2, circuit: K, through: [R2], wires: [{role: traveler, count: 2}, {role: neutral}]}
  - {id: W3, circuit: K, through: [R3], wires: [{role: switched}, {role: neutral}]}
"""


def test_three_way_switches() -> None:
    assembly = draw(LIGHT)
    assert [device(assembly, n).fed for n in ("SW1", "SW2", "DL")] == [1, 1, 1]
    assert not any(w.unswitched for pull in assembly.pulls for w in pull.wires)
    # The first switch is gone: nothing makes the travelers live.
    gone = draw(LIGHT.replace(", devices: [{id: SW1, kind: switch, circuit: K}]", ""))
    assert [device(gone, n).fed for n in ("SW2", "DL")] == [0, 0]
    assert [w.unswitched for pull in gone.pulls for w in pull.wires] == [
        False, False, True, False, True, False,
    ]  # fmt: skip
    # The second one is gone: the travelers end in its box, and the luminaire is dark.
    gone = draw(LIGHT.replace(", devices: [{id: SW2, kind: switch, circuit: K}]", ""))
    assert [device(gone, n).fed for n in ("SW1", "DL")] == [1, 0]
    assert named(gone.pulls, "W2").wires[0].unused_in == ("S2",)


def test_wires_that_do_not_say_whose_they_are() -> None:
    text = """
panels: [{id: P, system: 208Y/120}]
circuits: [{id: K, panel: P, phases: [A]}, {id: L, panel: P, phases: [B]}]
boxes:
  - {id: B, kind: outlet, devices: [{id: D1, kind: receptacle, circuit: K},
                                   {id: D2, kind: receptacle, circuit: L}]}
raceways: [{id: R, from: P, to: B}]
pulls:
  - id: W
    circuit: [K, L]
    through: [R]
    wires: [{role: phase, count: NUMBER}, {role: neutral, count: 2}]
"""
    both = draw(text.replace("NUMBER", "2"))
    assert device(both, "D1").fed == device(both, "D2").fed == 1
    one = draw(text.replace("NUMBER", "1"))
    assert not known(device(one, "D1").fed)
    assert not known(device(one, "D2").fed)
    assert "pull W" in device(one, "D1").fed.gaps[0]


def test_a_looped_wire_is_connected_and_a_passing_one_is_not() -> None:
    text = (
        HEAD
        + f"""
  - {{id: W, circuit: K, through: [H, R1, R2], {BOTH}, loops: LOOPS}}
"""
    )
    looped = draw(text.replace("LOOPS", "[B1]"))
    assert device(looped, "D1").connected
    assert device(looped, "D1").fed == 1
    passing = draw(text.replace("LOOPS", "[]"))
    assert not device(passing, "D1").connected
    assert device(passing, "D2").fed == 1


def test_a_device_on_a_phase_that_its_circuit_does_not_have() -> None:
    with pytest.raises(InputError) as caught:
        draw(HEAD.replace("pulls:", "").replace("circuit: K}]}", "circuit: K, phases: [B]}]}", 1))
    (problem,) = caught.value.problems
    assert (problem.found, problem.expected) == ("B", "some of A")


def test_fed_at_names_a_box() -> None:
    with pytest.raises(InputError) as caught:
        draw(HEAD.replace("pulls:", "").replace("phases: [A]", "phases: [A], fed_at: [P]"))
    (problem,) = caught.value.problems
    assert problem.found == "P"
    assert problem.expected.startswith("the id of a box, or a way to the field")
