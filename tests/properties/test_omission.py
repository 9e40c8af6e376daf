"""Leaving something out is never rewarded: it fails, is open, or is named in the report.

For every sample: any optional field is left out once and everywhere, and every wire, pull, device,
raceway, cable, coupling and circuit is taken out, alone and with all that names it.  Then nothing
that remains may fare better, unless what was taken out is itself missed (another finding fails or
is open); and a design that was released may not still be released, outside the lists below.  Where
the file becomes an input error, the omission was noticed.

``PULLPOINT_OMISSIONS=all`` tries every element, not only a few, and that every exception is needed.
"""

from __future__ import annotations

import copy
import os
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import pytest
from designs import NAMES, Key, Plain, findings, given_fields, sample

from checker.assembly.records import Assembly
from checker.documents.errors import InputError
from checker.documents.fields import REQUIRED
from checker.findings.finding import Finding
from checker.findings.kinds import BLOCKING

EVERY = os.environ.get("PULLPOINT_OMISSIONS") == "all"
#: How many elements are tried for each field and for each kind of element.
TRIED = 3
LOUD = ("fail", "open", "review")

#: What may be left out of a released design without anything failing, open or for review, and why.
_UNNOTICED: dict[str, tuple[str, ...]] = {
    "it names the design; nothing is judged by it": (
        "assembly.project", "assembly.quantity", "authority.reference",
    ),
    "paths and places are judged where they are stated; coverage says that others are not": (
        "box.at", "coupling.at", "raceway.path", "every box.at", "every coupling.at",
    ),
    "it follows from the path": (
        "raceway.length", "every raceway.length", "raceway.from_wall", "every raceway.from_wall",
        "raceway.to_wall", "every raceway.to_wall",
    ),
    "none stated is none adopted; the report's cover names those that were applied": (
        "basis.amendments",
    ),
    "only what has a date of its own depends on it, and nothing has": ("basis.permit_date",),
    "the section follows from the boxes at its ends": ("raceway.section", "every raceway.section"),
    "the joint follows from the sections of the raceways that it couples": (
        "coupling.joint", "every coupling.joint",
    ),
    "a coupling at a joint lies in both sections": ("coupling.section", "every coupling.section"),
    "dimensions are asked of boxes with large conductors, by the side they enter": (
        "box.depth", "box.height", "box.width",
        "every box.depth", "every box.height", "every box.width",
    ),
    "two dimensions are within the opening of a truck": ("section.depth", "every section.depth"),
    "its conductors are signal wires, or its opening is large": ("box.free_outside",),
    "boxes without receptacles: what passes serves the spaces of its circuits": ("box.space",),
    "the marked volume counts, or what is in the box needs none": ("box.trade_size",),
    "a ring adds to the volume, and the box does without it": (
        "box.rings", "every box.rings", "ring.volume",
    ),
    "no rule judges the depth of the finish": ("ring.rise", "every ring.rise"),
    "none unless stated: their number is the shop's, and one is small against the box": (
        "box.support_fittings", "every box.support_fittings",
    ),
    "material and grounding of a box are for the rules on boxes": (
        "box.material", "box.grounded", "every box.material", "every box.grounded",
    ),
    "asked for where a neutral of several phases might not count": (
        "circuit.nonlinear", "every circuit.nonlinear",
    ),
    "asked for where a next standard rating is made use of": (
        "circuit.outlets", "every circuit.outlets",
    ),
    "terminations that state nothing are judged by the lower column": ("defaults.terminals",),
    "receptacles of the normal branch; on the critical branch it is open": ("device.color",),
    "the color of the device tells the branch as well": ("device.marked", "every device.marked"),
    "the other devices of the bed have enough of them": ("device.receptacles",),
    "two panels on one branch: there is nothing to keep apart": ("panel.transfer_switch",),
    "shop is the stricter side, and in a pull that crosses no joint it makes no difference": (
        "pull.pulled", "every pull.pulled",
    ),
    "the radius is large enough for either bender": ("raceway.bender", "every raceway.bender"),
    "without it the rules on support are stricter": ("raceway.threaded", "every raceway.threaded"),
    "signal wires, of which no color and no size is asked": ("wire.color", "wire.size"),
    "bends follow from the path": ("raceway.bends",),
    "metal raceway is a grounding conductor itself (250.118)": (
        "a ground wire", "the ground wires", "every ground wire",
    ),
    "a circuit has one phase or one pull; where it has several it is open": (
        "wire.phase", "every wire.phase", "wire.circuit", "every wire.circuit",
    ),
    "a raceway of signal wires, which are not followed from a panel": (
        "a raceway and what names it",
    ),
    "what the assembly has to carry is not known: another design, and its schedules show it": (
        "a receptacle", "box.devices",
    ),
}  # fmt: skip
_UNNOTICED |= {
    "length and bends are stated, and no path contradicts them": ("every raceway.path",),
    "the table's volume counts then, or its conductors are of sizes that no volume is asked for": (
        "box.volume", "every box.volume",
    ),
    "the boxes are flush, which is enough for either": (
        "section.combustible", "every section.combustible",
    ),
    "no box stands in its membranes": ("section.fire_rating",),
    "a panel from which the assembly carries no circuit": ("panel.branch",),
}  # fmt: skip
UNNOTICED = {what: why for why, names in _UNNOTICED.items() for what in names}

#: Rules that what is in a raceway or box may break.  Less of it breaks them less; that something is
#: missing is for other rules, and where they notice, nothing is listed.
OF_CONTENTS = ("box-fill", "raceway-fill", "limited-energy-separation")
#: (what is left out, rule): why what remains may fare better though nothing else is worse.
BETTER = {
    ("assembly.colors", "conductor-colors"): "a review says that no scheme is stated",
    ("box.free_conductor", "free-conductor"): "the default length of the assembly holds instead",
}


@dataclass(frozen=True)
class Omission:
    """One thing left out: what it is in words, where, and how to leave it out."""

    what: str
    where: str
    make: Callable[[Plain], object]


# -- fields ----------------------------------------------------------------------------------


def fields(name: str) -> Iterator[Omission]:
    """Each optional field, left out of one element, and of all."""
    groups: dict[str, list[tuple[int, str]]] = defaultdict(list)
    for place, given in enumerate(given_fields(sample(name), Assembly)):
        # A field that says what is taken anyway can go without a difference.
        value, default = given.holder[given.field.key], given.field.default
        if default is not REQUIRED and value != str(default).lower():
            groups[given.name].append((place, "/".join(given.path)))
    for field, places in groups.items():
        for place, where in some(places):
            yield Omission(field, where, _without_fields({place}))
        if len(places) > 1:
            every = {place for place, _ in places}
            yield Omission(f"every {field}", name, _without_fields(every))


def _without_fields(places: set[int]) -> Callable[[Plain], object]:
    def make(plain: Plain) -> None:
        # Found first and taken out afterwards: the places count what the whole design states.
        chosen = [g for n, g in enumerate(given_fields(plain, Assembly)) if n in places]
        for given in chosen:
            given.holder.pop(given.field.key)

    return make


def some(items: list[Any]) -> list[Any]:
    """Some of the items, spread evenly; all of them where every one is tried."""
    if EVERY or len(items) <= TRIED:
        return items
    step = len(items) / TRIED
    return [items[int(step * (n + 0.5))] for n in range(TRIED)]


# -- elements --------------------------------------------------------------------------------


def elements(name: str) -> Iterator[Omission]:
    """Each element, taken out alone, and with what could not stay without it."""
    plain = sample(name)
    for where, key in (("raceways", "raceway"), ("cables", "cable"), ("couplings", "coupling"),
                       ("circuits", "circuit"), ("pulls", "pull")):  # fmt: skip
        ids = [item["id"] for item in plain.get(where, [])]
        for own in some(ids):
            yield Omission(f"a {key}", own, _without(where, own))
            if key != "pull":
                yield Omission(f"a {key} and what names it", own, _with_all(where, own))
    wires = [(p, w) for p, pull in enumerate(plain["pulls"]) for w in range(len(pull["wires"]))]
    for p, w in some(wires):
        role = plain["pulls"][p]["wires"][w]["role"]
        yield Omission(f"a {role} wire", f"{plain['pulls'][p]['id']}/{w}", _without_wire(p, w))
    for p, pull in enumerate(plain["pulls"]):
        if EVERY or p % 4 == 0:
            for role in sorted({wire["role"] for wire in pull["wires"]}):
                yield Omission(f"the {role} wires", pull["id"], _without_role({p}, role))
    for role in sorted({wire["role"] for pull in plain["pulls"] for wire in pull["wires"]}):
        every = set(range(len(plain["pulls"])))
        yield Omission(f"every {role} wire", name, _without_role(every, role))
    devices = [(b, d) for b, box in enumerate(plain["boxes"])
               for d in range(len(box.get("devices", [])))]  # fmt: skip
    for b, d in some(devices):
        kind = plain["boxes"][b]["devices"][d]["kind"]
        own = plain["boxes"][b]["devices"][d]["id"]
        yield Omission(f"a {kind}", own, lambda p, b=b, d=d: p["boxes"][b]["devices"].pop(d))


def _without(where: str, own: str) -> Callable[[Plain], object]:
    def make(plain: Plain) -> None:
        plain[where] = [item for item in plain[where] if item["id"] != own]

    return make


def _with_all(where: str, own: str) -> Callable[[Plain], object]:
    """Without an element, and without the pulls, ends and names that would not be right then."""

    def make(plain: Plain) -> None:
        _without(where, own)(plain)
        if where == "couplings":
            ways = [w["id"] for w in _ways(plain) if own in (w["from"], w["to"])]
        else:
            ways = [own] if where in ("raceways", "cables") else []
        for way in ways:
            _drop_way(plain, way)
        if where == "circuits":
            for pull in list(plain["pulls"]):
                named = pull.get("circuit", [])
                named = [named] if isinstance(named, str) else named
                if own in named:
                    rest = [other for other in named if other != own]
                    pull["circuit"] = rest
                    pull["wires"] = [w for w in pull["wires"] if w.get("circuit") != own]
                    if not rest or not pull["wires"]:
                        plain["pulls"].remove(pull)
            for box in plain["boxes"]:
                for device in box.get("devices", []):
                    if device.get("circuit") == own:
                        del device["circuit"]

    return make


def _ways(plain: Plain) -> list[Plain]:
    return [*plain.get("raceways", []), *plain.get("cables", [])]


def _drop_way(plain: Plain, own: str) -> None:
    """Take a raceway out, with the pulls through it and the couplings that join nothing then."""
    for where in ("raceways", "cables"):
        if where in plain:
            plain[where] = [way for way in plain[where] if way["id"] != own]
    plain["pulls"] = [
        pull for pull in plain["pulls"]
        if own not in ([pull["through"]] if isinstance(pull["through"], str) else pull["through"])
    ]  # fmt: skip
    for box in plain["boxes"]:
        if "spacings" in box:
            box["spacings"] = [s for s in box["spacings"] if own not in s["between"]]
    for coupling in plain.get("couplings", []):
        ends = [way for way in _ways(plain) if coupling["id"] in (way["from"], way["to"])]
        if len(ends) < 2:
            _without("couplings", coupling["id"])(plain)
            for way in ends:
                _drop_way(plain, way["id"])


def _without_wire(pull: int, wire: int) -> Callable[[Plain], object]:
    return lambda plain: plain["pulls"][pull]["wires"].pop(wire)


def _without_role(pulls: set[int], role: str) -> Callable[[Plain], object]:
    def make(plain: Plain) -> None:
        for place, pull in enumerate(plain["pulls"]):
            if place in pulls:
                pull["wires"] = [wire for wire in pull["wires"] if wire["role"] != role]
        plain["pulls"] = [pull for pull in plain["pulls"] if pull["wires"]]

    return make


# -- comparing -------------------------------------------------------------------------------


@dataclass(frozen=True)
class Outcome:
    """What leaving something out did.

    better: what fares better; missed: whether anything is worse; noted: whether a person has more
    to look at, if nothing else; and whether anything blocks a release.
    """

    omission: Omission
    better: tuple[tuple[Key, str], ...]
    missed: bool
    noted: bool
    released_before: bool
    released_after: bool


@cache
def outcomes(name: str) -> tuple[Outcome, ...]:
    before = findings(sample(name))
    done = []
    for omission in (*fields(name), *elements(name)):
        plain = sample(name)
        omission.make(plain)
        if plain == sample(name):
            continue
        try:
            after = findings(copy.deepcopy(plain))
        except InputError:
            continue
        done.append(_compared(omission, before, after))
    return tuple(done)


def _compared(omission: Omission, before: dict[Key, Finding], after: dict[Key, Finding]) -> Outcome:
    better = []
    for key, old in before.items():
        new = after.get(key)
        if new is None or old.kind not in LOUD:
            continue
        if new.kind not in LOUD or (old.kind in BLOCKING and new.kind not in BLOCKING):
            better.append((key, f"{old.kind} to {new.kind}"))
    missed = any(
        new.kind in BLOCKING and (key not in before or before[key].kind not in BLOCKING)
        for key, new in after.items()
    )
    noted = any(
        new.kind in LOUD and (key not in before or before[key].kind not in LOUD)
        for key, new in after.items()
    )
    return Outcome(omission, tuple(better), missed, noted, _released(before), _released(after))


def _released(found: dict[Key, Finding]) -> bool:
    return not any(finding.kind in BLOCKING for finding in found.values())


def unnoticed(name: str) -> Counter[str]:
    """What was left out of a released design and is still released, with how often."""
    return Counter(
        o.omission.what
        for o in outcomes(name)
        if o.released_before and o.released_after and not o.noted
    )


def rewarded(name: str) -> Counter[tuple[str, str, str]]:
    """What fares better though nothing else is missed: (what, rule, kinds)."""
    return Counter(
        (o.omission.what, key[0], kinds)
        for o in outcomes(name)
        if not o.missed
        for key, kinds in o.better
    )


@pytest.mark.parametrize("name", NAMES)
def test_what_is_left_out_of_a_released_design_is_noticed(name: str) -> None:
    assert [what for what in unnoticed(name) if what not in UNNOTICED] == []


def _less_in_it(what: str, rule: str) -> bool:
    elements = what.startswith(("a ", "the ")) or what.endswith((" wire", "box.devices"))
    return elements and rule in OF_CONTENTS


@pytest.mark.parametrize("name", NAMES)
def test_leaving_out_is_not_rewarded(name: str) -> None:
    said = [
        f"without {what}: {rule} goes from {kinds} ({count} times)"
        for (what, rule, kinds), count in rewarded(name).items()
        if (what, rule) not in BETTER and not _less_in_it(what, rule)
    ]
    assert said == []


@pytest.mark.parametrize("name", NAMES)
def test_nothing_left_out_releases_a_design(name: str) -> None:
    released = [
        f"{o.omission.what} ({o.omission.where})"
        for o in outcomes(name)
        if o.released_after and not o.released_before
    ]
    assert released == []


def test_enough_was_left_out() -> None:
    counts = {name: len(outcomes(name)) for name in NAMES}
    assert all(count > 200 for count in counts.values()), counts
    kinds = {o.omission.what for name in NAMES for o in outcomes(name)}
    assert len([kind for kind in kinds if kind.startswith(("a ", "the "))]) >= 12
    assert len([kind for kind in kinds if kind.startswith("every ")]) > 60


@pytest.mark.skipif(not EVERY, reason="some exceptions show with every element only")
def test_exceptions_are_needed() -> None:
    seen = {what for name in NAMES for what in unnoticed(name)}
    assert sorted(UNNOTICED.keys() - seen) == []
    pairs = {(what, rule) for name in NAMES for what, rule, _ in rewarded(name)}
    assert sorted(BETTER.keys() - pairs) == []
