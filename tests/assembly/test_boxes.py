"""What stands beside what in a box and in a section: compartments, neighbors, the other face."""

from __future__ import annotations

import pytest
from drawing import draw, named

from checker.documents.errors import InputError
from checker.documents.missing import Missing, known

BOX = """
basis: {location: damp}
panels: [{id: P, branch: normal, system: 480Y/277}, {id: Q, branch: normal, system: 208Y/120}]
circuits:
  - {id: P-1, panel: P, phases: [A], breaker: 20 A}
  - {id: P-3, panel: P, phases: [B], breaker: 20 A}
  - {id: P-5, panel: P, phases: [A], breaker: 20 A}
  - {id: Q-1, panel: Q, phases: [A], breaker: 20 A}
sections: [{id: S}]
boxes:
  - id: B1
    kind: outlet
    section: S
    at: [10 in, 44 in]
    internal_clamps: 2
    devices:
      - {id: D1, kind: switch, circuit: P-1}
      - {id: D2, kind: switch, circuit: P-3}
      - {id: D3, kind: switch, circuit: P-5}
      - {id: D4, kind: receptacle, circuit: Q-1}
      - {id: D5, kind: data}
    COMPARTMENTS
  - {id: B2, kind: outlet, section: S, at: [13 in, 18 in], side: back, location: dry}
  - {id: B3, kind: outlet, section: S, side: back}
  - {id: B4, kind: outlet}
raceways:
  - {id: R1, method: EMT, size: 3/4, from: field, to: B1}
  - {id: R2, method: EMT, size: 3/4, from: B1, to: B2}
pulls:
  - {id: W1, circuit: P-1, through: [R1], wires: [{role: phase, size: 12 AWG, count: 2}]}
  - {id: W2, circuit: P-3, through: [R1, R2], wires: [{role: phase, size: 12 AWG}]}
"""
SIDES = (
    "compartments: [{id: K1, volume: 9 in³, wiring: [W1], mounts: [D1, D3]}, "
    "{id: K2, wiring: [W2], mounts: [D2]}]"
)


def box(compartments: str = "") -> str:
    return BOX.replace("COMPARTMENTS", compartments)


def voltages(compartments: str = "") -> dict[str, float]:
    found = named(draw(box(compartments)).boxes, "B1").neighbors
    return {n.first.id + n.second.id: n.voltage for n in found}


def test_neighbors_have_the_voltage_between_their_circuits() -> None:
    assert voltages() == {
        "D1D2": 480, "D1D3": 0, "D1D4": 397, "D2D3": 480, "D2D4": 397, "D3D4": 397
    }  # fmt: skip


def test_compartments_part_neighbors() -> None:
    # D4 is in no compartment: it may be beside any of them.
    assert voltages(SIDES) == {"D1D3": 0, "D1D4": 397, "D2D4": 397, "D3D4": 397}


def test_a_neighbor_without_a_circuit_has_no_voltage() -> None:
    text = box().replace("{id: D2, kind: switch, circuit: P-3}", "{id: D2, kind: switch}")
    pair = named(draw(text).boxes, "B1").neighbors[0]
    assert isinstance(pair.voltage, Missing)
    assert pair.voltage.field == "circuit"


def test_a_barrier_between_two_devices_parts_them() -> None:
    text = box().replace("      - {id: D3, kind: switch, circuit: P-5}\n", "")
    text = text.replace("      - {id: D4, kind: receptacle, circuit: Q-1}\n", "")
    two = text.replace("      - {id: D5, kind: data}\n", "")
    assert len(named(draw(two).boxes, "B1").neighbors) == 1
    barrier = two.replace("internal_clamps: 2", "internal_clamps: 2\n    barrier: true")
    assert named(draw(barrier).boxes, "B1").neighbors == ()


def test_a_compartment_holds_what_it_names() -> None:
    assembly = draw(box(SIDES))
    first, second = assembly.compartments
    assert [w.pull.id for w in first.ending] == ["W1", "W1"]
    assert first.passing == ()
    assert [w.pull.id for w in second.passing] == ["W2"]
    assert [d.id for d in first.devices] == ["D1", "D3"]
    assert first.internal_clamps == 2
    assert first.box is named(assembly.boxes, "B1")
    assert not known(second.volume)
    assert named(assembly.boxes, "B1").unplaced == ("D4", "D5")


def test_without_compartments_nothing_is_known_of_them() -> None:
    found = named(draw(box()).boxes, "B1")
    assert not known(found.compartments)
    assert not known(found.unplaced)


@pytest.mark.parametrize(
    ("key", "name", "what"),
    [("wiring", "W9", "a pull"), ("mounts", "D9", "a device of the box")],
)
def test_a_compartment_names_what_is_there(key: str, name: str, what: str) -> None:
    with pytest.raises(InputError) as caught:
        draw(box(f"compartments: [{{id: K1, {key}: [{name}]}}]"))
    (problem,) = caught.value.problems
    assert problem.message == f"`{key}` names {what} that is not in the file"
    assert problem.found == name


def test_the_other_face_of_a_section() -> None:
    assembly = draw(box())
    first, second, third, fourth = assembly.boxes
    assert [o.box.id for o in first.opposite] == ["B2", "B3"]
    assert first.opposite[0].distance == 3
    assert isinstance(first.opposite[1].distance, Missing)
    assert [o.box.id for o in second.opposite] == ["B1"]
    assert fourth.opposite == ()
    assert assembly.sections[0].boxes == (first, second, third)
    assert first.frame is assembly.sections[0]
    assert not known(fourth.frame)


def test_a_box_is_where_the_basis_says_unless_it_says_otherwise() -> None:
    first, second, *_ = draw(box()).boxes
    assert first.location == "damp"
    assert second.location == "dry"
