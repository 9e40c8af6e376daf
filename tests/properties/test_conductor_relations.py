"""Relations of the rules on conductors that hold whatever the numbers are, over random pulls.

The order of the file changes nothing; a thicker ungrounded wire or a thicker ground is never worse
for the rule that is about it; a stated optional field that is taken away never improves a verdict;
phases that a circuit has beyond those of its wires take no neutral out of the count.
"""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator
from typing import Any

import pytest
from designs import Plain, assembly_of, book
from test_relations import shuffled

from checker.engine.evaluate import evaluate
from checker.findings.finding import Finding
from checker.quantities.designations import WIRE_RANK

SEEDS = range(90)
RULES = (
    "conductor-ampacity", "conductor-load", "neutral-ampacity", "small-conductor",
    "grounding-conductor-size", "grounding-conductor-increase", "parallel-conductors",
    "receptacle-rating",
)  # fmt: skip
SIZES = ("14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "1/0 AWG", "3/0 AWG")
RATINGS = ("15 A", "20 A", "30 A", "40 A", "60 A", "110 A", "200 A", "400 A")
#: How much a finding asks for: one that asks for less is better.
WORSE = {"pass": 0, "notApplicable": 0, "informational": 0, "review": 1, "open": 2, "fail": 2}

Key = tuple[str, str]


def random_design(chance: random.Random) -> Plain:
    """One to three raceways in a row with up to four pulls of up to three circuits."""
    one = chance.choice
    ways = chance.randint(1, 3)
    circuits = [
        {
            "id": f"C{n}", "panel": "P", "phases": one(("A", "B", "C", "AB", "ABC")),
            "breaker": one(RATINGS), "load": f"{chance.randint(1, 80)}00 VA",
            "continuous_load": "100 VA", "outlets": one(("several", "single", "lighting")),
            "nonlinear": one(("true", "false")), "parallel": one(("1", "1", "1", "2")),
            "neutral_load": f"{chance.randint(1, 60)}00 VA",
        }
        for n in range(3)
    ]  # fmt: skip
    for circuit in circuits:
        circuit["phases"] = list(circuit["phases"])
    pulls = []
    for n in range(chance.randint(1, 4)):
        own = chance.sample(circuits, chance.choice((1, 1, 2, 3)))
        wires = list(random_wires(chance, own))
        first = chance.randint(0, ways - 1)
        through = [f"R{w}" for w in range(first, chance.randint(first, ways - 1) + 1)]
        pulls.append(
            {"id": f"W{n}", "circuit": [c["id"] for c in own], "through": through, "wires": wires}
        )
    devices = [
        {"id": f"D{n}", "kind": "receptacle", "circuit": one(circuits)["id"],
         "rating": one(("10 A", "15 A", "20 A", "50 A")), "receptacles": one(("1", "2"))}
        for n in range(chance.randint(0, 3))
    ]  # fmt: skip
    return {
        "assembly": "random", "basis": {"ambient": one(("30 degC", "40 degC"))},
        "defaults": {"terminals": "75 degC"} if chance.random() < 0.7 else {},
        "panels": [{"id": "P", "branch": "normal", "system": one(("208Y/120", "240/120"))}],
        "circuits": circuits,
        "boxes": [{"id": "B0", "kind": "outlet", "devices": devices}]
        + [{"id": f"B{n}", "kind": "junction"} for n in range(1, ways + 1)],
        "raceways": [
            {"id": f"R{n}", "method": "EMT", "size": "4", "from": f"B{n}", "to": f"B{n + 1}",
             "length": one(("1 ft", "4 ft", "50 ft"))}
            for n in range(ways)
        ],
        "pulls": pulls,
    }  # fmt: skip


def random_wires(chance: random.Random, circuits: list[Any]) -> Iterator[Plain]:
    """Wires of a pull: of any role and size, that name circuit and phase or do not."""
    size = chance.choice(SIZES)
    for circuit in circuits:
        for phase in circuit["phases"]:
            for role in ("phase", *(("switched", "switched") if chance.random() < 0.15 else ())):
                yield wire(chance, role, size, circuit["id"], circuit["phases"], phase)
        if chance.random() < 0.6:
            yield wire(chance, "neutral", size, circuit["id"], circuit["phases"])
    for _ in range(chance.choice((0, 1, 1, 2))):
        role = chance.choice(("ground", "ground", "isolated_ground"))
        yield wire(chance, role, size, chance.choice(circuits)["id"], [])
    if chance.random() < 0.2:
        yield {"role": "spare", "size": "12 AWG", "material": "copper", "insulation": "THHN",
               "count": "4"}  # fmt: skip


def wire(
    chance: random.Random, role: str, size: str, circuit: str, phases: list[str], phase: str = ""
) -> Plain:
    other = chance.choice(SIZES) if chance.random() < 0.3 else size
    made = {
        "role": role, "size": other, "insulation": chance.choice(("THHN", "THHN", "TW")),
        "material": "aluminum" if chance.random() < 0.1 else "copper",
    }  # fmt: skip
    if chance.random() < 0.6:
        made["circuit"] = circuit
    if phase and chance.random() < 0.6:
        made["phase"] = chance.choice(phases) if chance.random() < 0.2 else phase
    return made


def judged(plain: Plain) -> dict[Key, Finding]:
    found = evaluate(book(), assembly_of(plain))
    return {(f.rule.id, f.subject_id): f for f in found if f.rule.id in RULES}


def told(found: Finding) -> tuple[Any, ...]:
    """What no order may change, to as many digits as sums in another order agree in."""
    numbers = [n if not isinstance(n, float) else f"{n:.9g}" for n in (found.measure, found.limit)]
    return found.kind, *numbers, sorted(found.gaps)


@pytest.fixture(scope="module")
def designs() -> list[tuple[Plain, dict[Key, Finding]]]:
    made = [random_design(random.Random(seed)) for seed in SEEDS]
    return [(plain, judged(plain)) for plain in made]


Designs = list[tuple[Plain, dict[Key, Finding]]]


def test_the_designs_are_judged_in_every_way(designs: Designs) -> None:
    seen = {(key[0], f.kind) for _, found in designs for key, f in found.items()}
    wanted = {(rule, kind) for rule in RULES for kind in ("pass", "fail")}
    wanted.remove(("parallel-conductors", "pass"))  # wires of chance are never a complete set
    assert wanted <= seen
    opened = {rule for rule, kind in seen if kind == "open"}
    assert {"conductor-ampacity", "small-conductor", "grounding-conductor-size"} <= opened


def test_the_order_of_lists_changes_nothing(designs: Designs) -> None:
    for seed, (plain, found) in enumerate(designs):
        turned = judged(shuffled(plain, random.Random(seed)))
        assert {k: told(f) for k, f in found.items()} == {k: told(f) for k, f in turned.items()}


def thicker(chance: random.Random, plain: Plain, roles: tuple[str, ...]) -> tuple[Plain, Any]:
    """The design with one wire of these roles larger by a size or more, and its pull's id."""
    larger = copy.deepcopy(plain)
    wires = [(p, w) for p in larger["pulls"] for w in p["wires"] if w["role"] in roles]
    if not wires:
        return larger, None
    pull, wire = chance.choice(wires)
    sizes = [s for s in WIRE_RANK if WIRE_RANK[s] >= WIRE_RANK[wire["size"]]]
    wire["size"] = chance.choice([s for s in SIZES if s in sizes])
    return larger, pull["id"]


@pytest.mark.parametrize(
    ("roles", "rules"),
    [
        (("phase", "switched"), ("conductor-ampacity", "conductor-load", "small-conductor")),
        (("neutral",), ("neutral-ampacity", "small-conductor")),
        (("ground",), ("grounding-conductor-size", "grounding-conductor-increase")),
    ],
)
def test_a_thicker_wire_is_never_worse(
    designs: Designs, roles: tuple[str, ...], rules: tuple[str, ...]
) -> None:
    for seed, (plain, found) in enumerate(designs):
        larger, changed = thicker(random.Random(seed), plain, roles)
        for key, after in judged(larger).items():
            if key[0] not in rules:
                continue
            before = found[key]
            assert WORSE[after.kind] <= WORSE[before.kind], (seed, key, changed)


#: What may be left out, by the list that has it; fields with a default say something by absence.
OPTIONAL = {
    "circuits": ("phases", "breaker", "load", "continuous_load", "outlets", "neutral_load",
                 "nonlinear", "panel"),
    "raceways": ("length", "method"),
    "pulls": ("circuit",),
    "panels": ("system",),
    "wires": ("size", "material", "insulation", "circuit", "phase"),
}  # fmt: skip


def without(chance: random.Random, plain: Plain) -> tuple[Plain, str]:
    less = copy.deepcopy(plain)
    kind = chance.choice(("circuits", "raceways", "pulls", "panels", "wires", "wires", "wires"))
    holders = [w for p in less["pulls"] for w in p["wires"]] if kind == "wires" else less[kind]
    holder = chance.choice(holders)
    keys = [k for k in OPTIONAL[kind] if k in holder]
    beside = [w for p in less["pulls"] if holder in p["wires"] for w in p["wires"]]
    if "phase" in keys and sum("phase" in w for w in beside) < 2:
        keys.remove("phase")  # where no wire states one, each is taken for a further phase
    if "circuit" in keys and holder.get("role") == "neutral":
        keys.remove("circuit")  # a neutral that names none is shared by the circuits of its pull
    key = chance.choice(keys)
    del holder[key]
    if kind == "pulls":
        for wire in holder["wires"]:
            wire.pop("circuit", None)
    return less, f"{kind} {key} {holder.get('id', holder.get('role'))}"


def test_what_is_left_out_never_improves_a_verdict(designs: Designs) -> None:
    for seed, (plain, found) in enumerate(designs):
        chance = random.Random(seed)
        for _ in range(2):
            less, what = without(chance, plain)
            for key, after in judged(less).items():
                assert WORSE[after.kind] >= WORSE[found[key].kind], (seed, key, what)


def test_further_phases_of_a_circuit_take_no_neutral_out_of_the_count() -> None:
    """The wires of one phase carry what they carry, whatever else their circuit has."""
    wires = [
        {"role": "phase", "phase": "A", "size": "12 AWG"},
        {"role": "switched", "phase": "A", "size": "12 AWG", "count": "2"},
        {"role": "neutral", "size": "12 AWG"},
    ]
    for stated in (wires, [{k: v for k, v in w.items() if k != "phase"} for w in wires]):
        for phases in (["A"], ["A", "B", "C"]):
            plain: Plain = {
                "assembly": "count", "basis": {"ambient": "30 degC"},
                "defaults": {"wire": {"material": "copper", "insulation": "THHN"},
                             "terminals": "75 degC"},
                "panels": [{"id": "P", "branch": "normal", "system": "208Y/120"}],
                "circuits": [{"id": "C", "panel": "P", "phases": phases, "breaker": "20 A",
                              "outlets": "several", "nonlinear": "false"}],
                "raceways": [{"id": "R", "method": "EMT", "size": "1", "from": "P", "to": "field",
                              "length": "20 ft"}],
                "pulls": [{"id": f"W{n}", "circuit": "C", "through": ["R"], "wires": stated}
                          for n in range(3)],
            }  # fmt: skip
            assembly = assembly_of(plain)
            assert assembly.raceways[0].current_carrying == 12
            found = judged(plain)["conductor-ampacity", "W0"]
            assert (found.kind, found.measure, found.limit) == ("fail", 20, 15)
