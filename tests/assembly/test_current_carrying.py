"""Current-carrying conductors of a raceway.

Source of the counts: Mike Holt forum 2562113 (310.15(E) of 2020, neutrals with worked counts);
spares, grounds and signal: as the published assembly format and the adjustment table's footnote
(from memory) have them.
"""

from __future__ import annotations

from typing import Any

import pytest
from drawing import draw

from checker.documents.missing import Missing


def counted(circuits: str, pulls: str, system: str = "208Y/120") -> Any:
    assembly = draw(
        f"""
panels: [{{id: P, branch: normal, system: {system}}}]
circuits: [{circuits}]
raceways: [{{id: R, method: EMT, size: 1, from: P, to: field}}]
pulls: [{pulls}]
"""
    )
    return assembly.raceways[0].current_carrying


def circuit(name: str, phases: str, **more: str) -> str:
    extra = "".join(f", {key}: {value}" for key, value in more.items())
    return f"{{id: {name}, panel: P, phases: [{phases}]{extra}}}"


def pull(name: str, circuits: str, *roles: str) -> str:
    wires = ", ".join(f"{{role: {role}, size: 12 AWG}}" for role in roles)
    return f"{{id: {name}, circuit: {circuits}, through: [R], wires: [{wires}]}}"


# Published quick counts: what the circuit is, and how many of its conductors count.
@pytest.mark.parametrize(
    ("what", "system", "phases", "nonlinear", "wires", "count"),
    [
        ("two-wire", "208Y/120", "A", "false", "phase neutral", 2),
        ("3-wire 120/240 V multiwire", "120/240", "A, B", "false", "phase phase neutral", 2),
        ("two phases and neutral of a wye", "208Y/120", "A, B", "false", "phase phase neutral", 3),
        ("full 4-wire wye, linear", "208Y/120", "A, B, C", "false",
         "phase phase phase neutral", 3),
        ("full 4-wire wye, nonlinear", "208Y/120", "A, B, C", "true",
         "phase phase phase neutral", 4),
        ("3-phase 3-wire", "208Y/120", "A, B, C", "false", "phase phase phase", 3),
        ("full 4-wire wye at 480 V, nonlinear", "480Y/277", "A, B, C", "true",
         "phase phase phase neutral", 4),
    ],
)  # fmt: skip
def test_published_quick_counts(
    what: str, system: str, phases: str, nonlinear: str, wires: str, count: int
) -> None:
    found = counted(
        circuit("C1", phases, nonlinear=nonlinear), pull("W1", "C1", *wires.split()), system
    )
    assert found == count, what


def test_nonlinear_load_does_not_matter_where_the_neutral_counts_anyway() -> None:
    for nonlinear in ("true", "false"):
        circuits = circuit("C1", "A, B", nonlinear=nonlinear)
        assert counted(circuits, pull("W1", "C1", "phase", "phase", "neutral")) == 3


@pytest.mark.parametrize("ground", ["ground", "isolated_ground"])
def test_grounds_never_count(ground: str) -> None:
    assert counted(circuit("C1", "A"), pull("W1", "C1", "phase", "neutral", ground, ground)) == 2


def test_spares_and_switched_wires_count() -> None:
    found = counted(
        circuit("C1", "A"), pull("W1", "C1", "phase", "neutral", "switched", "spare", "spare")
    )
    assert found == 5


def test_signal_wires_do_not_count() -> None:
    signal = "{id: S, through: [R], wires: [{role: signal, count: 8}]}"
    assert counted(circuit("C1", "A"), pull("W1", "C1", "phase", "neutral") + ", " + signal) == 2


def test_every_conductor_of_a_repeated_wire_counts() -> None:
    wires = "{id: W1, circuit: C1, through: [R], wires: [{role: phase, size: 12 AWG, count: 7}]}"
    assert counted(circuit("C1", "A"), wires) == 7


# Circuits that share one neutral: it counts by all the phases that it serves.
@pytest.mark.parametrize(
    ("phases", "nonlinear", "neutrals"),
    [("AB", "false", 1), ("ABC", "false", 0), ("ABC", "true", 1), ("AA", "false", 1)],
)
def test_shared_neutral(phases: str, nonlinear: str, neutrals: int) -> None:
    circuits = ", ".join(
        circuit(f"C{n}", phase, nonlinear=nonlinear) for n, phase in enumerate(phases)
    )
    names = "[" + ", ".join(f"C{n}" for n in range(len(phases))) + "]"
    found = counted(circuits, pull("W1", names, *["phase"] * len(phases), "neutral"))
    assert found == len(phases) + neutrals


def test_shared_neutral_counts_where_one_of_its_circuits_is_nonlinear() -> None:
    circuits = ", ".join(
        circuit(f"C{p}", p, nonlinear="true" if p == "B" else "false") for p in "ABC"
    )
    roles = ("phase", "phase", "phase", "neutral")
    assert counted(circuits, pull("W1", "[CA, CB, CC]", *roles)) == 4


def test_a_neutral_for_each_circuit_of_a_pull_counts() -> None:
    circuits = ", ".join(circuit(f"C{p}", p, nonlinear="false") for p in "ABC")
    roles = ("phase", "neutral") * 3
    assert counted(circuits, pull("W1", "[CA, CB, CC]", *roles)) == 6


def test_wires_that_name_their_circuit_are_judged_by_it() -> None:
    # A multiwire pair shares one neutral (counts: wye); C3 has its own (counts).
    circuits = ", ".join(circuit(f"C{p}", p, nonlinear="false") for p in "ABC")
    wires = (
        "{id: W1, circuit: [CA, CB, CC], through: [R], wires: ["
        "{role: phase, size: 12 AWG, circuit: CA}, {role: phase, size: 12 AWG, circuit: CB},"
        "{role: phase, size: 12 AWG, circuit: CC}, {role: neutral, size: 12 AWG, circuit: CC},"
        "{role: neutral, size: 12 AWG}]}"
    )
    found = counted(circuits, wires)
    assert isinstance(found, int)
    assert found >= 4  # three phases and the neutral of CC at least


def test_counts_of_several_pulls_add_up() -> None:
    circuits = ", ".join(
        (circuit("C1", "A"), circuit("C2", "B"), circuit("C3", "A, B, C", nonlinear="false"))
    )
    pulls = ", ".join(
        (pull("W1", "C1", "phase", "neutral", "ground"), pull("W2", "C2", "phase", "neutral"),
         pull("W3", "C3", "phase", "phase", "phase", "neutral"))
    )  # fmt: skip
    assert counted(circuits, pulls) == 2 + 2 + 3


# Without these facts the neutral of a multiwire circuit cannot be counted, and the gap is named.
@pytest.mark.parametrize(
    ("circuits", "roles", "gap"),
    [
        ("{id: C1, panel: P, phases: [A, B, C]}", 3, "`nonlinear` of circuit C1"),
        ("{id: C1, panel: P}", 1, "`phases` of circuit C1"),
        ("{id: C1, phases: [A, B]}", 2, "`panel` of circuit C1"),
    ],
)
def test_what_is_not_stated_leaves_the_count_open(circuits: str, roles: int, gap: str) -> None:
    found = counted(circuits, pull("W1", "C1", *["phase"] * roles, "neutral"))
    assert isinstance(found, Missing)
    assert gap in found.gaps


def test_a_wire_without_a_circuit_leaves_the_count_open() -> None:
    wires = "{id: W1, through: [R], wires: [{role: phase}, {role: neutral}]}"
    found = counted(circuit("C1", "A"), wires)
    assert isinstance(found, Missing)
    assert found.gaps == ("`circuit` of pull W1",)
    # Phase wires alone count, whatever their circuit.
    bare = "{id: W1, through: [R], wires: [{role: phase}]}"
    assert counted(circuit("C1", "A"), bare) == 1


# Where a home run parts, a neutral goes on with fewer phases than its circuit has.
@pytest.mark.parametrize(
    ("roles", "count"),
    [
        ("phase phase phase neutral", 3),  # all there: linear loads cancel
        ("phase phase neutral", 3),  # two phases of a wye and the neutral
        ("phase neutral", 2),  # one phase and the neutral
        ("switched neutral", 2),
    ],
)
def test_a_neutral_counts_by_the_phases_with_it(roles: str, count: int) -> None:
    """NEC 310.15(E): a neutral of two phases of a 4-wire wye carries about what they carry."""
    three = circuit("C", "A, B, C", nonlinear="false")
    assert counted(three, pull("W", "C", *roles.split())) == count


def test_the_order_of_wires_does_not_matter() -> None:
    """Two wires of one phase and a neutral of three circuits on a delta: one phase goes with it."""
    circuits = ", ".join(circuit(f"C{p}", p, nonlinear="false") for p in "ABC")
    wires = ["{role: neutral}", "{role: phase, circuit: CA}", "{role: phase, circuit: CA}"]
    for order in (wires, wires[::-1]):
        drawn = f"{{id: W, circuit: [CA, CB, CC], through: [R], wires: [{', '.join(order)}]}}"
        assert counted(circuits, drawn, "240/120") == 3


# From memory, as the reference of the adjustment table has it: conductors that cannot be live
# together are not counted together; of the two travelers of a three-way switch one is counted.
@pytest.mark.parametrize(
    ("wires", "count"),
    [
        ("traveler traveler", 1),
        ("traveler", 1),
        ("traveler traveler traveler", 2),
        ("phase neutral traveler traveler traveler traveler", 4),
    ],
)
def test_of_two_travelers_one_counts(wires: str, count: int) -> None:
    assert counted(circuit("C1", "A"), pull("W1", "C1", *wires.split())) == count


def test_travelers_of_several_circuits_are_paired_within_each() -> None:
    circuits = ", ".join(circuit(name, phase) for name, phase in (("C1", "A"), ("C2", "B")))
    wires = (
        "{role: traveler, size: 12 AWG, circuit: C1}, {role: traveler, size: 12 AWG, circuit: C2}"
    )
    lone = f"{{id: W1, circuit: [C1, C2], through: [R], wires: [{wires}]}}"
    assert counted(circuits, lone) == 2
    pairs = wires.replace("12 AWG,", "12 AWG, count: 2,")
    assert counted(circuits, lone.replace(wires, pairs)) == 2
