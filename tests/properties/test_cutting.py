"""Cutting a raceway in two by a coupling, supports where they were, changes no verdict.

A coupling gives no access and supports nothing, so every length condition is one of the length
from enclosure to enclosure.  The pieces together are judged as the whole was: the worst of their
findings has its kind, measure and limit.
"""

from __future__ import annotations

import copy
import random
from collections import defaultdict
from itertools import pairwise
from typing import Any

from designs import Key, Plain, findings
from test_relations import same

from checker.findings.finding import Finding

RULES = (
    "support-from-box",
    "support-spacing",
    "flexible-ground",
    "redundant-ground-path",
    "bend-total",
    "bend-radius",
    "raceway-fill",
)
METHODS = ("EMT", "IMC", "RMC", "FMC", "LFMC", "LFNC", "ENT", "PVC40")
#: How bad a kind is; the worst of the pieces is compared.
RANK = {"notApplicable": 0, "pass": 1, "informational": 2, "review": 3, "open": 4, "fail": 5}
TRIES = 150


def drawn(chance: random.Random) -> Plain:
    """One raceway R from a box to a bed's box, with its supports, bends and conductors."""
    length = chance.choice([9, 18, 24, 30, 36, 60, 72, 73, 120, 144, 200])
    bends = [
        {"kind": "bend", "angle": "90 deg", "radius": f"{chance.choice([4, 5, 7])} in"}
        for _ in range(chance.choice([0, 0, 0, 1, 5]))
    ]
    raceway: Plain = {
        "id": "R", "method": chance.choice(METHODS), "size": chance.choice(["1/2", "3/4", "1"]),
        "from": chance.choice(["P", "B1"]), "to": chance.choice(["B2", "B2", "B2", "field"]),
        "length": f"{length} in", "bends": bends, "bender": chance.choice(["one_shot", "other"]),
        "threaded": str(chance.random() < 0.3).lower(),
    }  # fmt: skip
    if chance.random() < 0.9:
        places = sorted(chance.sample(range(1, length), chance.choice([0, 0, 1, 2, 3])))
        raceway["supports"] = [f"{place} in" for place in places]
    wires = [
        {"role": "phase", "size": "12 AWG"},
        {"role": "neutral", "size": "12 AWG", "count": str(chance.choice([1, 9, 16]))},
    ]
    if chance.random() < 0.4:
        wires.append({"role": "ground", "size": "12 AWG"})
    return {
        "assembly": "cut",
        "basis": {"health_care": "true"},
        "defaults": {"wire": {"material": "copper", "insulation": "THHN"}},
        "panels": [{"id": "P", "branch": "normal", "system": "208Y/120"}],
        "circuits": [
            {"id": "C", "panel": "P", "phases": ["A"], "breaker": chance.choice(["20 A", "30 A"])}
        ],
        "spaces": [{"id": "bay", "kind": "patient_bed", "category": "2"}],
        "boxes": [
            {"id": "B1", "kind": "junction"},
            {"id": "B2", "kind": "outlet", "space": "bay"},
        ],
        # A support elsewhere, so that the description gives supports whatever R states.
        "raceways": [
            raceway,
            {"id": "S", "method": "EMT", "from": "B1", "to": "B2", "supports": []},
        ],
        "pulls": [{"id": "W", "circuit": ["C"], "through": ["R"], "wires": wires}],
    }  # fmt: skip


def cut(plain: Plain, chance: random.Random) -> Plain:
    """The same with R cut in two or three; bends stay with the first piece."""
    made = copy.deepcopy(plain)
    whole = made["raceways"].pop(0)
    length = int(whole["length"].split()[0])
    edges = [0, *sorted(chance.sample(range(1, length), chance.choice([1, 2]))), length]
    couplings = [f"K{n}" for n in range(1, len(edges) - 1)]
    ends = [whole["from"], *couplings, whole["to"]]
    pieces = []
    for n, (low, high) in enumerate(pairwise(edges)):
        piece = whole | {"id": f"R{n}", "from": ends[n], "to": ends[n + 1]}
        piece |= {"length": f"{high - low} in", "bends": [] if n else whole["bends"]}
        if "supports" in whole:
            places = [int(place.split()[0]) for place in whole["supports"]]
            piece["supports"] = [
                f"{place - low} in" for place in places if low < place <= high
            ]  # fmt: skip
        pieces.append(piece)
    made["couplings"] = [{"id": name} for name in couplings]
    made["raceways"] += pieces
    made["pulls"][0]["through"] = [piece["id"] for piece in pieces]
    return made


def worst(found: dict[Key, Finding], rule: str) -> Finding:
    """The worst finding of a rule on R or its pieces, by kind and then by measure."""
    own = [f for (name, _, element), f in found.items() if name == rule and element[0] == "R"]
    return max(own, key=lambda f: (RANK[f.kind], beyond(f)))


def beyond(found: Finding) -> float:
    measure: Any = found.measure
    if not isinstance(measure, int | float):
        return 0.0
    return -measure if found.at_least else measure


def test_cutting_changes_no_verdict() -> None:
    kinds = defaultdict(set)
    for seed in range(TRIES):
        chance = random.Random(seed)
        plain = drawn(chance)
        whole, pieces = findings(plain), findings(cut(plain, chance))
        for rule in RULES:
            before, after = worst(whole, rule), worst(pieces, rule)
            assert before.kind == after.kind, (rule, plain["raceways"][0])
            assert same(before.measure, after.measure), (rule, plain["raceways"][0])
            assert same(before.limit, after.limit), (rule, plain["raceways"][0])
            kinds[rule].add(before.kind)
    assert all(len(kinds[rule]) > 1 for rule in RULES)  # otherwise nothing was tried


def test_what_was_reported() -> None:
    """12 ft of FMC without a support, and 9 in of EMT, as found by random designs."""
    for method, lengths, kind in (("FMC", (72, 72), "fail"), ("EMT", (5, 4), "review")):
        plain = drawn(random.Random(0))
        first = plain["raceways"][0] | {"method": method, "supports": [], "bends": []}
        plain["raceways"] = [
            first | {"from": "B1", "to": "K", "length": f"{lengths[0]} in"},
            first | {"id": "R1", "from": "K", "to": "B2", "length": f"{lengths[1]} in"},
        ]
        plain["couplings"] = [{"id": "K"}]
        plain["pulls"][0]["through"] = ["R", "R1"]
        assert worst(findings(plain), "support-from-box").kind == kind
