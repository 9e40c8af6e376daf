"""Facts about spaces, labels and bonded panelboards; rules on patient care ask for them."""

from __future__ import annotations

import pytest
from drawing import draw, named

from checker.documents.missing import known

BED = """
panels:
  - {id: 2C1, branch: critical, bonded: [{to: N, size: 10 AWG}]}
  - {id: N, branch: normal}
  - {id: P}
circuits: [{id: 2C1-3, panel: 2C1}, {id: N-1, panel: N}, {id: L5, panel: N}]
spaces: [{id: bay, kind: patient_bed SPACE}]
boxes:
  - id: B1
    kind: outlet
    space: bay
    devices: [{id: D1, kind: receptacle, circuit: 2C1-3 DEVICE}, {id: D2, kind: nurse_call} MORE]
"""


def bed(space: str = "", device: str = "", more: str = "", defaults: str = "") -> str:
    text = BED.replace(" SPACE", space).replace(" DEVICE", device).replace(" MORE", more)
    return text + defaults


def test_branches_are_those_of_its_devices_and_of_other_wiring() -> None:
    assert named(draw(bed()).spaces, "bay").branches == ("critical",)
    both = named(draw(bed(", branches_elsewhere: [normal]")).spaces, "bay")
    assert both.branches == ("normal", "critical")
    brought = named(draw(bed(", receptacles_elsewhere: {normal: 2}")).spaces, "bay")
    assert brought.branches_elsewhere == ("normal",)
    assert brought.branches == ("normal", "critical")


def test_a_device_without_a_circuit_leaves_the_branches_open() -> None:
    assert not known(named(draw(bed(more=", {id: D3, kind: luminaire}")).spaces, "bay").branches)


def test_a_number_alone_leaves_the_source_of_receptacles_open() -> None:
    elsewhere = named(draw(bed(", receptacles_elsewhere: 4")).spaces, "bay").receptacles_elsewhere
    assert (elsewhere.count, elsewhere.normal, elsewhere.critical) == (4, 0, 0)
    parts = named(draw(bed(", receptacles_elsewhere: {normal: 1, critical: 3}")).spaces, "bay")
    elsewhere = parts.receptacles_elsewhere
    assert (elsewhere.count, elsewhere.normal, elsewhere.critical) == (0, 1, 3)


@pytest.mark.parametrize(
    ("label", "names"),
    [
        ("2C1-3", True), ("Panel 2C1, circuit 3", True), ("2c1/3", True),
        ("2C1", False), ("3", False), ("2C1-5", False), ("2N1-3", False), ("12C1-3", False),
    ],
)  # fmt: skip
def test_a_label_names_panel_and_circuit(label: str, names: bool) -> None:
    [device, *_] = draw(bed(device=f', label: "{label}"')).boxes[0].devices
    assert device.labeled is names


def test_labels_are_as_the_defaults_say_unless_a_device_has_its_own() -> None:
    engraved = "defaults: {labels: panel_and_circuit}\n"
    assert draw(bed(defaults=engraved)).boxes[0].devices[0].labeled is True
    own = draw(bed(device=', label: "bed"', defaults=engraved))
    assert own.boxes[0].devices[0].labeled is False
    assert draw(bed(defaults="defaults: {labels: none}\n")).boxes[0].devices[0].labeled is False
    assert not known(draw(bed()).boxes[0].devices[0].labeled)


def test_a_bond_is_one_of_both_panelboards() -> None:
    panels = draw(bed()).panels
    assert [bond.size for bond in named(panels, "2C1").bonds] == ["10 AWG"]
    assert named(panels, "N").bonds == named(panels, "2C1").bonds
    assert named(panels, "P").bonds == ()
    assert [panel.bond_group for panel in panels] == ["2C1", "2C1", "P"]


def test_bonds_over_others_make_one_group_in_any_order() -> None:
    rows = [
        "  - {id: D, bonded: [{to: C, size: 10 AWG}]}",
        "  - {id: C}",
        "  - {id: B, bonded: [{to: A, size: 10 AWG}, {to: C, size: 10 AWG}]}",
        "  - {id: A}",
        "  - {id: E}",
    ]
    for order in (rows, rows[::-1], rows[2:] + rows[:2]):
        panels = draw("\n".join(["panels:", *order])).panels
        assert {panel.id: panel.bond_group for panel in panels} == {
            "A": "A", "B": "A", "C": "A", "D": "A", "E": "E",
        }  # fmt: skip


def test_two_sources_are_those_of_a_luminaire() -> None:
    assembly = draw(
        """
boxes:
  - {id: A, kind: junction, devices: [{id: D1, kind: luminaire, two_sources: true}]}
  - {id: B, kind: junction, devices: [{id: D2, kind: receptacle, two_sources: true}]}
  - {id: T, kind: transfer_equipment}
"""
    )
    assert [box.two_sources for box in assembly.boxes] == [True, False, False]
    assert [box.transfer_equipment for box in assembly.boxes] == [False, False, True]
