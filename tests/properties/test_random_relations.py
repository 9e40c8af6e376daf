"""Relations that hold whatever the numbers are, over random designs.

``make test`` tries the first designs; ``PULLPOINT_DESIGNS=5000`` tries as many as it says.
"""

from __future__ import annotations

import copy
import os
import random
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from designs import Given, Key, Plain, assembly_of, book, findings, given_fields
from random_designs import SIZES, design
from test_relations import differences, shuffled

from checker.assembly.records import Assembly
from checker.documents.errors import InputError
from checker.documents.missing import Missing
from checker.engine.evaluate import evaluate
from checker.findings.finding import Finding
from checker.quantities.dimension import LENGTH
from checker.quantities.notation import quantity
from checker.rulebook.book import Rulebook

DESIGNS = int(os.environ.get("PULLPOINT_DESIGNS", "120"))
PARTS = 4
#: How much a kind stands in the way of a release; what blocks more is never better.
RANK = {"pass": 0, "notApplicable": 0, "informational": 0, "review": 1, "open": 2, "fail": 3}

Findings = dict[Key, Finding]


def seeds(part: int) -> range:
    return range(part, DESIGNS, PARTS)


def found_of(plain: Plain) -> Findings | None:
    """The findings of a changed design, or None where the change made it wrong input."""
    try:
        return findings(plain)
    except InputError:
        return None


@cache
def only(rules: tuple[str, ...]) -> Rulebook:
    """The rulebook with these rules alone, which is quicker."""
    return replace(book(), rules=tuple(rule for rule in book().rules if rule.id in rules))


def judged_by(plain: Plain, rules: tuple[str, ...]) -> Findings:
    found = evaluate(only(rules), assembly_of(plain))
    return {(f.rule.id, f.subject_class, f.subject_id): f for f in found}


def report(lines: list[str]) -> None:
    """Fail with the first lines, and how often each rule is among them."""
    if lines:
        rules = Counter(line.split(":")[1].strip() for line in lines)
        pytest.fail(f"{len(lines)}: {dict(rules)}\n" + "\n".join(lines[:12]), pytrace=False)


parts = pytest.mark.parametrize("part", range(PARTS))


# -- order -----------------------------------------------------------------------------------


@parts
def test_the_order_of_a_file_changes_nothing(part: int) -> None:
    lines = []
    for seed in seeds(part):
        plain = design(seed)
        turned = shuffled(plain, random.Random(seed))
        lines += [f"{seed}: {line}" for line in unequal(findings(plain), findings(turned))]
    report(lines)


def unequal(one: Findings, other: Findings) -> list[str]:
    """Differences by rule, with the rule's name first."""
    found = []
    for line in differences(one, other):
        key, _, rest = line.partition("): ")
        rule, *element = key.lstrip("(").replace("'", "").split(", ")
        found.append(f"{rule}: {' '.join(element)}: {rest}")
    return found


# -- cutting ---------------------------------------------------------------------------------


@parts
def test_a_coupling_in_a_straight_raceway_softens_no_verdict(part: int) -> None:
    lines = []
    for seed in seeds(part):
        plain = design(seed)
        cut, names = with_a_coupling(plain, random.Random(seed))
        if not names:
            continue
        before, after = merged(findings(plain), {}), merged(findings(cut), names)
        # How many raceways and couplings there are is what was changed.
        for key, kinds in before.items():
            now = after.get(key, "none")
            if now != kinds:
                lines.append(f"{seed}: {key[0]}: {key[1]} {key[2]}: {kinds}, cut {now}")
    report(lines)


def with_a_coupling(plain: Plain, chance: random.Random) -> tuple[Plain, dict[str, str]]:
    """The design with one straight raceway cut in two, and the names of the pieces."""
    cut = copy.deepcopy(plain)
    straight = [w for w in cut["raceways"] if not w["bends"]]
    if not straight:
        return cut, {}
    way = chance.choice(straight)
    length = quantity(way["length"], LENGTH).value
    at = length * chance.choice([0.2, 0.5, 0.7])
    first, second = dict(way), dict(way, id=way["id"] + "b")
    first |= {"to": "K", "length": f"{at!r} in"}
    second |= {"from": "K", "length": f"{length - at!r} in"}
    if "supports" in way:
        places = [quantity(s, LENGTH).value for s in way["supports"]]
        first["supports"] = [f"{p!r} in" for p in places if p <= at]
        second["supports"] = [f"{p - at!r} in" for p in places if p > at]
    place = cut["raceways"].index(way)
    cut["raceways"][place : place + 1] = [first, second]
    cut["couplings"] = [{"id": "K", "section": "S1"}]
    for pull in cut["pulls"]:
        pull["through"] = [
            part for name in pull["through"]
            for part in ([name, second["id"]] if name == way["id"] else [name])
        ]  # fmt: skip
    run = "+".join(sorted([way["id"], second["id"]]))
    return cut, {second["id"]: way["id"], run: way["id"]}


def merged(found: Findings, names: dict[str, str]) -> dict[Key, str]:
    """The worst kind by rule and element, pieces under the name of the whole."""
    worst: dict[Key, str] = {}
    for (rule, group, name), finding in found.items():
        key = rule, group, names.get(name, name)
        kind = finding.kind
        if RANK[kind] == 0:
            kind = "pass"
        if key not in worst or RANK[kind] > RANK[worst[key]]:
            worst[key] = kind
    return worst


# -- thicker is never worse ------------------------------------------------------------------

#: Rules that a larger conductor of a role can only help.
HELPED = {
    "ground": ("grounding-conductor-size", "grounding-conductor-increase"),
    "phase": ("conductor-ampacity", "small-conductor", "conductor-load"),
    "neutral": ("neutral-ampacity",),
}
ALL_HELPED = tuple(rule for rules in HELPED.values() for rule in rules)


@parts
def test_a_thicker_conductor_is_never_worse(part: int) -> None:
    lines = []
    for seed in seeds(part):
        plain = design(seed)
        before = judged_by(plain, ALL_HELPED)
        for role, rules in HELPED.items():
            for pull in plain["pulls"]:
                for wire in pull["wires"]:
                    if wire["role"] != role or wire["size"] == SIZES[-1]:
                        continue
                    size = wire["size"]
                    wire["size"] = SIZES[SIZES.index(size) + 1]
                    lines += [
                        f"{seed}: {rule}: {pull['id']} {role} {size}: {a} to {b}"
                        for rule, a, b in worse(before, judged_by(plain, ALL_HELPED), rules)
                    ]
                    wire["size"] = size
    report(lines)


def worse(before: Findings, after: Findings, rules: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """What blocks more than before.

    A finding that was open for one wire may fail for another once the first is large enough not
    to need what is not stated: it blocked before, and says more now.
    """
    for key, old in before.items():
        new = after[key].kind
        if key[0] in rules and RANK[new] > RANK[old.kind] and (old.kind, new) != ("open", "fail"):
            yield key[0], f"{key[2]} {old.kind}", new


# -- what is not stated ----------------------------------------------------------------------

#: How many of the fields that a design states are left out of it, one at a time.
FIELDS = 4
#: A field, a rule and its kind with the field, where it may be better without, and the reason.
EXPLAINED = {
    ("circuit.outlets", "single-outlet", "fail"): "nothing is permitted on its strength then",
    ("circuit.outlets", "single-outlet", "review"): "the same",
    ("space.category", "category-source", "open"): "asks who assigned what is stated, no more",
    ("wire.phase", "phases-stated", "open"): (
        "asked beside phases that are stated; a pull that states none takes those of its circuits"
    ),
    ("wire.circuit", "circuit-complete", "open"): (
        "a neutral that names no circuit is shared by those of its pull on different phases"
    ),
}


@parts
def test_leaving_out_an_optional_field_never_improves_a_verdict(part: int) -> None:
    """Without a field nothing that failed passes; what falls silent leaves something open."""
    lines = []
    for seed in seeds(part):
        plain = design(seed)
        before = findings(plain)
        for given in optional(plain, random.Random(seed)):
            kept = given.holder.pop(given.field.key)
            after = found_of(plain)
            given.holder[given.field.key] = kept
            if after is None:
                continue
            where = f"without {'.'.join(given.path)} {given.name}"
            raised = blocked_anew(before, after)
            asked = asked_for(before, after, given)
            for key, old in before.items():
                new = after[key].kind if key in after else "notApplicable"
                if RANK[new] >= RANK[old.kind] or RANK[new] >= 2:
                    continue
                if (given.name, key[0], old.kind) in EXPLAINED:
                    continue
                if asked or (raised and new != "pass"):
                    continue
                lines.append(f"{seed}: {key[0]}: {key[2]} {where}: {old.kind} to {new}")
    report(lines)


def blocked_anew(before: Findings, after: Findings) -> bool:
    """Whether something blocks a release that did not before."""
    return any(
        RANK[new.kind] >= 2 > RANK[before[key].kind if key in before else "pass"]
        for key, new in after.items()
    )


def asked_for(before: Findings, after: Findings, given: Given) -> bool:
    """Whether an open finding asks now for just this field, of the element that had it.

    Until it is answered nothing is released, so other verdicts may rest on what is stated.
    """
    element = f"{given.record} {given.path[-1]}" if "id" in given.holder else ""
    return any(
        new.kind == "open"
        and f"`{given.field.key}`" in gap
        and element in gap
        and (key not in before or gap not in before[key].gaps)
        for key, new in after.items()
        for gap in new.gaps
    )


def optional(plain: Plain, chance: random.Random) -> list[Given]:
    """Some of the optional fields that the design states, no two of one name."""
    named: dict[str, list[Given]] = defaultdict(list)
    for given in given_fields(plain, Assembly):
        if isinstance(given.field.default, Missing):
            named[given.name].append(given)
    names = chance.sample(sorted(named), min(FIELDS, len(named)))
    return [chance.choice(named[name]) for name in names]


# -- home runs shared by several circuits ----------------------------------------------------


@parts
def test_a_shared_home_run_is_judged_like_its_circuits(part: int) -> None:
    """Wires that name their circuit may be one pull or several; each is judged by its own."""
    rules = ("conductor-ampacity", "small-conductor", "conductor-load")
    lines = []
    for seed in seeds(part):
        plain = design(seed)
        for number, pull in enumerate(plain["pulls"]):
            own = {w["circuit"] for w in pull["wires"] if "circuit" in w}
            loose = [w for w in pull["wires"] if "circuit" not in w and w["role"] != "ground"]
            if own != set(pull["circuit"]) or len(own) < 2 or loose:
                continue
            apart = copy.deepcopy(plain)
            apart["pulls"][number : number + 1] = separate(pull)
            names = {f"{pull['id']}-{name}": pull["id"] for name in own}
            before = merged(judged_by(plain, rules), {})
            after = merged(judged_by(apart, rules), names)
            lines += [
                f"{seed}: {key[0]}: {key[2]}: {kind}, apart {after[key]}"
                for key, kind in before.items()
                if key[0] in rules and after[key] != kind
            ]
    report(lines)


def separate(pull: Plain) -> list[Plain]:
    """A pull for each circuit, the grounding conductors in every one."""
    return [
        {
            "id": f"{pull['id']}-{name}", "circuit": [name], "through": pull["through"],
            "wires": [w for w in pull["wires"] if w.get("circuit", name) == name],
        }
        for name in pull["circuit"]
    ]  # fmt: skip


@parts
def test_the_order_of_shared_circuits_changes_nothing(part: int) -> None:
    lines = []
    for seed in seeds(part):
        plain = design(seed)
        turned = copy.deepcopy(plain)
        for pull in turned["pulls"]:
            pull["circuit"].reverse()
        lines += [f"{seed}: {line}" for line in unequal(findings(plain), findings(turned))]
    report(lines)
