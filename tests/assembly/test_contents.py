"""What is in a raceway and in a box, on an assembly small enough to count by eye.

The counts are those of the published assembly format: a wire counts 1 where it ends or passes
unbroken, 2 where it is looped, 0 where it neither enters nor leaves.

    panel P ==R1== J1 ==R2== J2 ==R3== B1
                    \\==R4== B2
"""

from __future__ import annotations

from drawing import draw, named, sizes

from checker.documents.missing import known

DRAWN = """
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits:
  - {id: C1, panel: P, phases: [A], breaker: 20 A}
  - {id: C2, panel: P, phases: [B], breaker: 20 A}
boxes:
  - {id: J1, kind: junction}
  - {id: J2, kind: junction}
  - {id: B1, kind: outlet}
  - {id: B2, kind: outlet}
  - {id: B3, kind: outlet}
raceways:
  - {id: R1, method: EMT, size: 3/4, from: P, to: J1}
  - {id: R2, method: EMT, size: 3/4, from: J2, to: J1}      # drawn against the pull
  - {id: R3, method: EMT, size: 1/2, from: J2, to: B1}
  - {id: R4, method: EMT, size: 1/2, from: J1, to: B2}
  - {id: R5, method: EMT, size: 1/2, from: J1, to: B3}      # empty
cables:
  - {id: K1, method: MC, from: J2, to: B3}
pulls:
  - id: W1                        # C1 goes to B1, unbroken through J1 and looped in J2
    circuit: C1
    through: [R1, R2, R3]
    loops: [J2]
    wires:
      - {role: phase, size: 12 AWG}
      - {role: neutral, size: 12 AWG}
      - {role: ground, size: 12 AWG}
  - id: W2                        # C2 ends in J1
    circuit: C2
    through: [R1]
    wires: [{role: phase, size: 10 AWG}, {role: neutral, size: 10 AWG}]
  - id: W3                        # C2 goes on from J1 to B2: two conductors of one line
    circuit: C2
    through: [R4]
    wires: [{role: phase, size: 10 AWG, count: 2}, {role: neutral, size: 10 AWG}]
  - id: W4                        # written from the far end
    circuit: C1
    through: [K1]
    wires: [{role: phase, size: 14 AWG}, {role: ground, size: 14 AWG, bare: true}]
"""


def test_raceway_contents_are_the_wires_of_every_pull_through_it() -> None:
    assembly = draw(DRAWN)
    contents = {way.id: sizes(way.wires) for way in (*assembly.raceways, *assembly.cables)}
    assert contents == {
        "R1": ["phase 12", "neutral 12", "ground 12", "phase 10", "neutral 10"],
        "R2": ["phase 12", "neutral 12", "ground 12"],
        "R3": ["phase 12", "neutral 12", "ground 12"],
        "R4": ["phase 10", "phase 10", "neutral 10"],
        "R5": [],
        "K1": ["phase 14", "ground 14"],
    }
    assert [p.id for p in named(assembly.raceways, "R1").pulls] == ["W1", "W2"]


def test_box_contents_by_how_a_wire_is_there() -> None:
    boxes = draw(DRAWN).boxes
    j1, j2 = named(boxes, "J1"), named(boxes, "J2")
    assert sizes(j1.passing) == ["phase 12", "neutral 12", "ground 12"]
    assert sizes(j1.ending) == ["phase 10", "neutral 10", "phase 10", "phase 10", "neutral 10"]
    assert not j1.looped
    assert sizes(j2.looped) == ["phase 12", "neutral 12", "ground 12"]
    assert sizes(j2.ending) == ["phase 14", "ground 14"]
    assert not j2.passing
    assert sizes(named(boxes, "B1").ending) == ["phase 12", "neutral 12", "ground 12"]
    assert sizes(named(boxes, "B2").ending) == ["phase 10", "phase 10", "neutral 10"]
    for box in boxes:
        assert len(box.wires) == len(box.ending) + len(box.passing) + len(box.looped)


def test_a_box_that_no_wire_enters_holds_none_of_a_neighbour() -> None:
    assembly = draw(DRAWN.replace("through: [K1]", "through: [R3]"))
    box = named(assembly.boxes, "B3")
    assert (box.wires, box.pulls) == ((), ())
    assert [way.id for way in box.raceways] == ["R5", "K1"]


def test_pulls_know_their_boxes_and_ends() -> None:
    assembly = draw(DRAWN)
    first, fourth = named(assembly.pulls, "W1"), named(assembly.pulls, "W4")
    assert [box.id for box in first.boxes] == ["J1", "J2", "B1"]
    assert [box.id for box in first.ends] == ["B1"]
    assert (first.start, first.finish) == ("P", "B1")
    assert [way.id for way in first.path] == ["R1", "R2", "R3"]
    assert (fourth.start, fourth.finish) == ("J2", "B3")


def test_a_route_written_backwards_is_the_same_route() -> None:
    there = draw(DRAWN)
    back = draw(DRAWN.replace("through: [R1, R2, R3]", "through: [R3, R2, R1]"))
    for one, other in zip(there.boxes, back.boxes, strict=True):
        for how in ("ending", "passing", "looped"):
            assert sizes(getattr(one, how)) == sizes(getattr(other, how))
    assert named(back.pulls, "W1").start == "B1"


def test_without_a_loop_the_wires_pass() -> None:
    box = named(draw(DRAWN.replace("    loops: [J2]\n", "")).boxes, "J2")
    assert sizes(box.passing) == ["phase 12", "neutral 12", "ground 12"]
    assert not box.looped


def test_device_has_the_largest_wire_of_its_circuit_that_ends_in_the_box() -> None:
    device = "devices: [{id: D1, kind: receptacle, circuit: C2}]"
    text = DRAWN.replace("{id: J1, kind: junction}", "{id: J1, kind: junction, " + device + "}")
    assert named(draw(text).boxes, "J1").devices[0].largest == "10 AWG"
    # The 8 AWG grounding conductor is not what the device is wired with.
    bigger = text.replace(
        "{role: neutral, size: 10 AWG}]\n  - id: W3",
        "{role: neutral, size: 10 AWG}, {role: ground, size: 8 AWG}]\n  - id: W3",
    )
    assert bigger != text
    assert named(draw(bigger).boxes, "J1").devices[0].largest == "10 AWG"
    # C1 only passes J1: with two sizes ending there, what the device is wired with is not known.
    other = text.replace("kind: receptacle, circuit: C2", "kind: receptacle, circuit: C1")
    mixed = other.replace("{role: phase, size: 10 AWG, count: 2}", "{role: phase, size: 12 AWG}")
    assert mixed != other
    assert not known(named(draw(mixed).boxes, "J1").devices[0].largest)
    assert known(
        named(draw(mixed.replace("circuit: C1}]", "circuit: C2}]")).boxes, "J1").devices[0].largest
    )


def test_branches_present_follow_the_circuits_of_the_wires() -> None:
    text = DRAWN.replace(
        "panels: [", "panels: [{id: E, branch: critical, system: 208Y/120}, "
    ).replace("{id: C2, panel: P,", "{id: C2, panel: E,")
    assembly = draw(text)

    def branches(element: object) -> list[str]:
        return sorted({b for w in element.wires for b in w.branches})  # type: ignore[attr-defined]

    assert branches(named(assembly.raceways, "R1")) == ["critical", "normal"]
    assert branches(named(assembly.raceways, "R2")) == ["normal"]
    assert branches(named(assembly.raceways, "R4")) == ["critical"]
    assert branches(named(assembly.boxes, "J1")) == ["critical", "normal"]
    assert branches(named(assembly.boxes, "B1")) == ["normal"]
    assert branches(named(assembly.boxes, "B2")) == ["critical"]


def test_wires_of_a_shared_pull_belong_to_the_circuit_they_name() -> None:
    text = DRAWN.replace("{id: C2, panel: P,", "{id: C2, panel: E,").replace(
        "panels: [", "panels: [{id: E, branch: critical, system: 208Y/120}, "
    )
    shared = text.replace(
        "circuit: C1\n    through: [R1, R2, R3]", "circuit: [C1, C2]\n    through: [R1, R2, R3]"
    )
    pull = named(draw(shared).pulls, "W1")
    assert all(set(w.branches) == {"normal", "critical"} for w in pull.wires)
    own = shared.replace(
        "wires:\n      - {role: phase,", "wires:\n      - {role: phase, circuit: C2,"
    )
    pull = named(draw(own).pulls, "W1")
    assert pull.wires[0].branches == ("critical",)
