"""Which circuit a wire belongs to, what a pull relies on for grounding, bundles and parallel sets.

A grounding conductor may be there for several circuits in one raceway: NEC 250.122(C), NFPA 70-2023
text. The other expectations follow from the small drawings themselves.
"""

from __future__ import annotations

from typing import Any

from drawing import draw

CIRCUITS = """
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits:
  - {id: CA, panel: P, phases: [A], breaker: 20 A}
  - {id: CB, panel: P, phases: [B], breaker: 60 A, parallel: 2}
defaults: {wire: {material: copper, insulation: THHN}}
boxes: [{id: B1, kind: junction}, {id: B2, kind: junction}]
raceways: [{id: R, method: EMT, size: 1, from: B1, to: B2}]
"""


def wires_of(wires: str, more: str = "") -> Any:
    pulls = f"pulls: [{{id: W, circuit: [CB, CA], through: [R], wires: [{wires}]}}{more}]"
    return {p.id: p for p in draw(CIRCUITS + pulls).pulls}


def names(items: Any) -> list[str]:
    return [item.id for item in items]


def test_a_wire_belongs_to_the_circuit_that_it_names_or_to_the_only_one_with_its_phase() -> None:
    pull = wires_of(
        "{role: phase, circuit: CA}, {role: phase, phase: B}, {role: phase}, {role: neutral}"
    )["W"]
    assert [names(w.circuits) for w in pull.wires] == [["CA"], ["CB"], ["CA", "CB"], ["CA", "CB"]]
    assert [w.breaker for w in pull.wires] == [20, 60, 60, 60]
    assert pull.wires[0].phase == "A"


def test_wires_of_one_kind_are_named_once_the_smallest_first() -> None:
    pull = wires_of(
        "{role: switched, size: 10 AWG, circuit: CA}, {role: phase, size: 12 AWG, circuit: CB},"
        "{role: phase, size: 10 AWG, circuit: CA, count: 3}, {role: neutral, size: 14 AWG}"
    )["W"]
    assert [(w.role, w.size) for w in pull.wire_kinds] == [("phase", "12 AWG"), ("phase", "10 AWG")]


GROUNDED = "{role: phase, size: 12 AWG, circuit: CA}, {role: ground, size: 12 AWG}"
BARE = ", {id: V, circuit: CA, through: [R], wires: [{role: phase, size: 12 AWG}]}"


def test_a_pull_without_a_ground_relies_on_the_largest_in_its_raceway() -> None:
    more = ", {id: U, circuit: CB, through: [R], wires: [{role: ground, size: 8 AWG}]}"
    for others in (BARE + more, more + BARE):
        pulls = wires_of(GROUNDED, others)
        assert [(g.pull.id, g.size) for g in pulls["V"].ground_wires] == [("U", "8 AWG")]
        assert [g.pull.id for g in pulls["W"].ground_wires] == ["W"]
        assert [w.pull.id for w in pulls["W"].ground_wires[0].serves] == ["W"]


def test_an_isolated_ground_alone_is_no_ordinary_one() -> None:
    lone = BARE.replace("12 AWG}]", "12 AWG}, {role: isolated_ground, size: 14 AWG}]")
    pulls = wires_of(GROUNDED, lone)
    assert [g.pull.id for g in pulls["V"].ground_wires] == ["V", "W"]


def test_parallel_conductors_are_those_between_the_same_ends() -> None:
    more = ", {id: V, circuit: CB, through: [R], wires: [{role: phase, size: 1/0 AWG}]}"
    pulls = wires_of("{role: phase, circuit: CB}, {role: phase, circuit: CA}", more)
    assert names(pulls["V"].parallel_pulls) == ["W", "V"]
    assert len(pulls["V"].parallel_wires) == 2
    assert wires_of("{role: phase}", BARE)["V"].parallel_pulls == ()


def test_bundled_cables_count_together() -> None:
    cables = "\n".join(
        f"  - {{id: K{n}, method: MC, from: B1, to: {end}, bundle: {bundle}}}"
        for n, (end, bundle) in enumerate((("B2", "X"), ("B2", "X"), ("field", "none")))
    )
    pulls = ", ".join(
        f"{{id: W{n}, circuit: CA, through: [K{n}], wires: [{{role: phase, count: {n + 1}}}]}}"
        for n in range(3)
    )
    found = draw(f"{CIRCUITS}cables:\n{cables}\npulls: [{pulls}]").cables
    assert [cable.bundle_carrying for cable in found] == [3, 3, 3]
    assert [names(cable.bundled) for cable in found] == [["K0", "K1"], ["K0", "K1"], ["K2"]]
