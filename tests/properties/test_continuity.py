"""What is taken out of a circuit is noticed: a pull, a wire, a mention of a circuit, a switch.

Every removal from a complete design makes a new failing or open finding.  The samples and a number
of made designs are taken apart; ``PULLPOINT_EXHAUSTIVE=1`` takes out everything, not a sample.
Grounding conductors are left to the rules on grounding (in metal raceway a wire is not needed,
250.118), spare ones are unconnected anyhow, and signal cable may be others'.
"""

from __future__ import annotations

import copy
import os
import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from designs import NAMES, Plain, assembly_of, book, findings, sample

from checker.engine.evaluate import evaluate
from checker.rulebook.book import Rulebook

EXHAUSTIVE = bool(os.environ.get("PULLPOINT_EXHAUSTIVE"))
#: How many removals of each sample are tried otherwise.
TRIED = 15
BLOCKING = ("fail", "open")
#: The rules that follow circuits; a complete design passes them all.
FOLLOWING = (
    "circuit-complete", "wire-used", "device-circuit-reaches", "pull-at-its-panel",
    "circuit-together", "phases-together", "shared-neutral",
)  # fmt: skip
FOLLOWED = ("phase", "neutral", "switched", "traveler")

Removal = tuple[str, Plain]


@cache
def following() -> Rulebook:
    """The rules that follow circuits, and no others."""
    return replace(book(), rules=tuple(rule for rule in book().rules if rule.id in FOLLOWING))


def judged(plain: Plain) -> dict[Any, Any]:
    """What the rules that follow circuits find, by rule and element."""
    return {
        (found.rule.id, found.subject_id): (found.kind, found.measure, found.limit)
        for found in evaluate(following(), assembly_of(plain))
    }


def blocking(plain: Plain) -> set[Any]:
    return {key for key, (kind, _, _) in judged(plain).items() if kind in BLOCKING}


def blocking_at_all(plain: Plain) -> set[Any]:
    """By any rule."""
    return {key for key, found in findings(plain).items() if found.kind in BLOCKING}


def without(plain: Plain, change: Any) -> Plain:
    taken = copy.deepcopy(plain)
    change(taken)
    return taken


def removals(plain: Plain) -> Iterator[Removal]:
    """Everything that a circuit cannot do without, taken out one by one."""
    for number, pull in enumerate(plain["pulls"]):
        roles = {wire["role"] for wire in pull["wires"]}
        if not roles & {"phase", "switched"}:
            continue
        yield f"pull {pull['id']}", without(plain, lambda p, n=number: p["pulls"].pop(n))
        for place, wire in enumerate(pull["wires"]):
            if wire["role"] in FOLLOWED and len(pull["wires"]) > 1:
                yield (
                    f"the {wire['role']} wire {place} of pull {pull['id']}",
                    without(plain, lambda p, n=number, i=place: _take_wire(p["pulls"][n], i)),
                )
        names = pull["circuit"] if isinstance(pull["circuit"], list) else [pull["circuit"]]
        for name in names if len(names) > 1 else ():
            yield (
                f"circuit {name} of pull {pull['id']}",
                without(plain, lambda p, n=number, c=name: _take_circuit(p["pulls"][n], c)),
            )
    for number, box in enumerate(plain["boxes"]):
        for place, device in enumerate(box.get("devices", ())):
            if device["kind"] == "switch":
                yield (
                    f"switch {device['id']}",
                    without(plain, lambda p, n=number, i=place: p["boxes"][n]["devices"].pop(i)),
                )


def _take_wire(pull: Plain, place: int) -> None:
    wire = pull["wires"][place]
    left = int(wire.get("count", 1)) - 1
    if left:
        wire["count"] = str(left)
    else:
        pull["wires"].pop(place)


def _take_circuit(pull: Plain, name: str) -> None:
    pull["circuit"] = [c for c in pull["circuit"] if c != name]
    pull["wires"] = [w for w in pull["wires"] if w.get("circuit") != name]


def home_runs(plain: Plain) -> Plain:
    """Without every pull that ends at a panel or in the field."""
    panels = {panel["id"] for panel in plain["panels"]} | {"field"}
    outer = {r["id"] for r in plain["raceways"] if {r["from"], r["to"]} & panels}
    inner = [p for p in plain["pulls"] if not outer & set(p["through"])]
    return {**plain, "pulls": inner}


def chosen(items: list[Removal], seed: int) -> list[Removal]:
    if EXHAUSTIVE or len(items) <= TRIED:
        return items
    return random.Random(seed).sample(items, TRIED)


@pytest.mark.parametrize("name", NAMES)
def test_what_is_taken_out_of_a_sample_is_noticed(name: str) -> None:
    plain = sample(name)
    before = blocking_at_all(plain)
    every = list(removals(plain))
    assert len(every) > TRIED
    unnoticed = [what for what, taken in chosen(every, 1) if not blocking_at_all(taken) - before]
    assert unnoticed == []
    assert blocking_at_all(home_runs(plain)) - before


@pytest.mark.parametrize("name", NAMES)
def test_a_complete_sample_raises_no_alarm(name: str) -> None:
    found = {rule for rule, _ in blocking(sample(name))}
    # Revision B has a nurse-call cable that ends in a power box, on purpose.
    assert found == ({"wire-used"} if name.endswith("rev-b") else set())


# -- made designs ----------------------------------------------------------------------------


class Maker:
    """Makes complete designs: home runs, junction boxes, chains of devices, switched lights."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.plain: Plain = {
            "assembly": f"made-{seed}",
            "panels": [{"id": "P", "branch": "normal", "system": "208Y/120"}],
            "circuits": [], "boxes": [], "raceways": [], "pulls": [],
        }  # fmt: skip

    def made(self) -> Plain:
        for _ in range(self.random.randint(1, 4)):
            source = self.random.choice(("P", "field", "fed"))
            number = self.random.randint(1, 3)
            hub = self.box("junction")
            names = [self.circuit(pole, source, hub) for pole in self.random.sample("ABC", number)]
            if source != "fed":
                self.pull(names, source, hub, self.home_run(names))
            for name in names:
                self.random.choice((self.chain, self.light, self.three_way))(name, hub)
            if self.random.random() < 0.5:
                self.three_phase()
        return self.plain

    def box(self, kind: str, device: str = "", circuit: str = "") -> str:
        name = f"B{len(self.plain['boxes'])}"
        box: Plain = {"id": name, "kind": kind}
        if device:
            box["devices"] = [{"id": f"D{name}", "kind": device, "circuit": circuit}]
        self.plain["boxes"].append(box)
        return name

    def circuit(self, phase: str, source: str, hub: str) -> str:
        name = f"P-{len(self.plain['circuits'])}"
        circuit: Plain = {"id": name, "panel": "P", "phases": [phase]}
        if source == "fed":
            circuit["fed_at"] = [hub]
        self.plain["circuits"].append(circuit)
        return name

    def home_run(self, names: list[str]) -> list[Plain]:
        if self.random.random() < 0.5 or len(names) == 1:
            wires = [{"role": role, "circuit": n} for n in names for role in ("phase", "neutral")]
            return [*wires, {"role": "ground"}]
        count = str(len(names))
        return [{"role": "phase", "count": count}, {"role": "neutral", "count": count}]

    def pull(self, names: list[str], start: str, finish: str, wires: list[Plain]) -> None:
        number = len(self.plain["pulls"])
        ends = (start, finish) if self.random.random() < 0.5 else (finish, start)
        self.plain["raceways"].append(
            {"id": f"R{number}", "method": "EMT", "size": "1", "from": ends[0], "to": ends[1]}
        )
        circuit = names if len(names) > 1 else names[0]
        made = [{"size": "12 AWG", **wire} for wire in wires]
        self.plain["pulls"].append(
            {"id": f"W{number}", "circuit": circuit, "through": [f"R{number}"], "wires": made}
        )

    def chain(self, name: str, hub: str) -> None:
        for _ in range(self.random.randint(1, 4)):
            after = self.box("outlet", self.random.choice(("receptacle", "luminaire")), name)
            self.pull([name], hub, after, [{"role": "phase"}, {"role": "neutral"}])
            hub = after

    def light(self, name: str, hub: str) -> None:
        switch = self.box("outlet", "switch", name)
        light = self.box("outlet", "luminaire", name)
        if self.random.random() < 0.5:
            self.pull([name], hub, switch, [{"role": "phase"}, {"role": "neutral"}])
            self.pull([name], switch, light, [{"role": "switched"}, {"role": "neutral"}])
        else:  # a switch loop
            self.pull([name], hub, light, [{"role": "phase"}, {"role": "neutral"}])
            self.pull([name], light, switch, [{"role": "phase"}, {"role": "switched"}])

    def three_way(self, name: str, hub: str) -> None:
        first, second = self.box("outlet", "switch", name), self.box("outlet", "switch", name)
        light = self.box("outlet", "luminaire", name)
        self.pull([name], hub, first, [{"role": "phase"}, {"role": "neutral"}])
        self.pull([name], first, second, [{"role": "traveler", "count": "2"}, {"role": "neutral"}])
        self.pull([name], second, light, [{"role": "switched"}, {"role": "neutral"}])

    def three_phase(self) -> None:
        name = self.circuit("A", "P", "")
        self.plain["circuits"][-1] |= {"phases": ["A", "B", "C"], "neutral": "false"}
        after = self.box("outlet", "disconnect", name)
        self.pull([name], "P", after, [{"role": "phase", "count": "3"}])


def multiwire(plain: Plain) -> bool:
    """Whether circuits on different phases share a neutral, as 210.4 permits."""
    for pull in plain["pulls"]:
        loose = [w for w in pull["wires"] if w["role"] == "neutral" and "circuit" not in w]
        neutrals = sum(int(wire.get("count", 1)) for wire in loose)
        if isinstance(pull["circuit"], list) and 0 < neutrals < len(pull["circuit"]):
            return True
    return False


SEEDS = range(60 if EXHAUSTIVE else 12)


@pytest.mark.parametrize("seed", SEEDS)
def test_made_designs(seed: int) -> None:
    plain = Maker(seed).made()
    assert blocking(plain) == set()
    for what, taken in removals(plain):
        assert blocking(taken) or multiwire(taken), what
    if any("fed_at" not in c for c in plain["circuits"]):
        assert blocking(home_runs(plain))


@pytest.mark.parametrize("seed", SEEDS)
def test_order_changes_nothing(seed: int) -> None:
    """Neither the order of elements and wires nor the direction of a raceway changes a finding."""
    plain = Maker(seed).made()
    rng = random.Random(seed)
    broken = rng.choice([taken for _, taken in removals(plain)])
    for design in (plain, broken):
        before = judged(design)
        for _ in range(3):
            assert judged(_shuffled(design, rng)) == before


def _shuffled(plain: Plain, rng: random.Random) -> Plain:
    mixed = copy.deepcopy(plain)
    for name in ("circuits", "boxes", "raceways", "pulls"):
        rng.shuffle(mixed[name])
    for pull in mixed["pulls"]:
        rng.shuffle(pull["wires"])
        if isinstance(pull["circuit"], list):
            rng.shuffle(pull["circuit"])
    for raceway in mixed["raceways"]:
        if rng.random() < 0.5:
            raceway["from"], raceway["to"] = raceway["to"], raceway["from"]
    for circuit in mixed["circuits"]:
        rng.shuffle(circuit["phases"])
    return mixed
