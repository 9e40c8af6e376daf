"""A field that is left out never turns a finding that rests on it into a pass.

For every optional field of every sample, by its declaration: leave it out of one element, judge
again, compare.  What changes for the better, or stays though the rule speaks of the field, is
listed below with its reason; everything else is a rule (or a derived fact) that passes on what
nobody stated.  Fields with a default are left aside: their absence is a statement.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from functools import cache

import pytest
from designs import NAMES, Given, findings, given_fields, sample

from checker.assembly.records import Assembly
from checker.documents.errors import InputError
from checker.documents.missing import Missing

#: How many elements of each sample are tried for each field.
TRIED = 3

#: (field, rule): why leaving it out may turn fail, open or review into pass.
BETTER = {
    ("box.free_conductor", "free-conductor"): "the default length of the assembly holds instead",
}

#: (field, rule): why the rule does not apply any more.
OUT_OF_SCOPE = {
    ("box.space", "patient-receptacle-listing"): "a box that names no space serves none",
    ("box.space", "isolated-ground-vicinity"): "a box that names no space serves none",
    ("box.space", "patient-bed-multiwire"): "a box that names no space serves none",
    ("box.space", "redundant-ground-color"): "a box that names no space serves none",
    ("box.space", "redundant-ground-path"): "a box that names no space serves none",
    ("box.space", "redundant-ground-wire"): "a box that names no space serves none",
    ("box.free_outside", "free-conductor-outside"): "no such length is described anywhere any more",
    ("section.width", "section-site-route"): "information; undescribed-section-sizes says so",
    ("section.height", "section-site-route"): "information; undescribed-section-sizes says so",
    ("section.depth", "section-site-route"): "information; undescribed-section-sizes says so",
    ("device.grounding", "bonding-jumper-size"): "receptacle-bonding is open",
    ("circuit.feeds", "feeder-load"): "judged as a branch circuit then, by circuit-load",
    ("circuit.feeds", "feeder-neutral-size"): "judged as a branch circuit then",
    ("circuit.feeds", "feeder-panels"): "judged as a branch circuit then",
    ("circuit.feeds", "panel-load"): "panel-protection is open",
    ("panel.rating", "panel-load"): "panel-protection is open",
    ("circuit.feeds", "outlets-as-stated"): "nothing is then stated that could contradict outlets",
    ("cable.length", "voltage-drop"): "information, as no limit is stated",
    ("circuit.load", "voltage-drop"): "information, as no limit is stated",
    ("circuit.panel", "voltage-drop"): "information, as no limit is stated",
    ("circuit.phases", "voltage-drop"): "information, as no limit is stated",
    ("panel.system", "voltage-drop"): "information, as no limit is stated",
    ("raceway.length", "voltage-drop"): "information, as no limit is stated",
    ("wire.size", "voltage-drop"): "information, as no limit is stated",
    ("wire_defaults.material", "voltage-drop"): "information, as no limit is stated",
    ("defaults.free_conductor", "free-conductor"): "no free length is described anywhere any more",
    ("defaults.labels", "patient-receptacle-label"): "undescribed-labels says so",
    ("pull.circuit", "ground-continuous"): "no pull is known to carry the circuit; others are open",
    ("raceway.method", "jam-ratio"): "a warning; says nothing where a size is not stated",
    ("raceway.bends", "jam-ratio"): "a warning; says nothing where bends are not stated",
    ("raceway.size", "jam-ratio"): "a warning; says nothing where a size is not stated",
    ("wire.size", "jam-ratio"): "a warning; says nothing where a size is not stated",
    ("wire_defaults.insulation", "jam-ratio"): "a warning; says nothing without insulation",
    ("raceway.path", "bends-fit"): "a raceway without a path, as the coverage says",
    ("raceway.path", "entry-inside-wall"): "a raceway without a path, as the coverage says",
    ("raceway.path", "halves-meet"): "a raceway without a path, as the coverage says",
    ("raceway.path", "path-bends"): "a raceway without a path, as the coverage says",
    ("raceway.path", "path-ends"): "a raceway without a path, as the coverage says",
    ("raceway.path", "path-inside"): "a raceway without a path, as the coverage says",
    ("raceway.path", "path-length"): "a raceway without a path, as the coverage says",
    ("raceway.path", "support-on-straight"): "a raceway without a path, as the coverage says",
    ("box.at", "box-inside"): "a box without a place, as the coverage says",
    ("box.at", "entry-inside-wall"): "path-ends is open",
    ("box.height", "entry-inside-wall"): "path-ends is open",
    ("box.width", "entry-inside-wall"): "path-ends is open",
    ("box.trade_size", "entry-inside-wall"): "path-ends is open",
    ("raceway.bends", "path-bends"): "they follow from the path then",
    ("raceway.length", "path-length"): "it follows from the path then",
    ("raceway.supports", "support-on-straight"): "support-spacing is open",
}

#: (field, rule): why a pass stays a pass though the rule speaks of the field.
INDEPENDENT = {
    ("box.support_fittings", "box-fill"): "one is counted where it is not stated, and has room",
    ("raceway.length", "vertical-conductors"): "the length that its path comes to is judged then",
    ("circuit.outlets", "circuit-load"): "only the circuit that a fix proposes hangs on it",
    ("circuit.outlets", "branch-rating"): "its rating is for one outlet as for several",
    ("raceway.bender", "bend-radius"): "the radius does for either bender",
    ("raceway.method", "bend-radius"): "the radius does for every method",
    ("raceway.size", "redundant-ground-path"): "only flexible raceways are limited in size",
    ("raceway.size", "support-spacing"): "only rigid PVC and threaded runs go by trade size",
    ("section.depth", "section-shipping-size"): "two of three dimensions are within the opening",
    ("circuit.panel", "field-supply"): "fed_at states the way that supplies it",
    ("box.concealed", "box-setback"): "judged unless it is stated to be concealed",
    ("box.volume", "box-fill"): "the table's volume does as well",
    ("box.depth", "box-fill"): "the marked volume counts",
    ("box.height", "box-fill"): "the marked volume counts",
    ("box.width", "box-fill"): "the marked volume counts",
    ("box.material", "box-fill"): "marked volumes count for either; the table is of metal boxes",
    ("box.material", "receptacle-bonding"): "a jumper does in every box",
    ("box.material", "box-grounded"): "asked for unless it is stated to be nonmetallic",
    ("box.depth", "pull-box-angle"): "nothing enters by the back",
    ("box.depth", "pull-box-straight"): "nothing goes from back to front",
    ("box.height", "pull-box-straight"): "nothing goes from top to bottom",
    ("coupling.at", "halves-meet"): "the ends of the two paths meet, wherever it is said to be",
    ("raceway.bender", "bends-fit"): "its bends state their radius",
    ("raceway.method", "bends-fit"): "the thickness counts with a take-up only",
    (
        "raceway.size",
        "bends-fit",
    ): "thickness and the size of a bender count with one only",
    ("raceway.method", "path-inside"): "thickness counts in depth only, and the path has none",
    ("raceway.size", "path-inside"): "thickness counts in depth only, and the path has none",
    ("raceway.bends", "jam-ratio"): "bends follow from the path then",
}

Change = tuple[str, str, str]  # field, rule, kinds


def chosen(name: str) -> list[Given]:
    """For each optional field some of the elements that state it, spread over the file."""
    groups: dict[str, list[Given]] = defaultdict(list)
    for given in given_fields(sample_of(name), Assembly):
        if isinstance(given.field.default, Missing):
            groups[given.name].append(given)
    picked = []
    for group in groups.values():
        step = max(1, -(-len(group) // TRIED))
        picked += group[::step]
    return picked


@cache
def sample_of(name: str) -> dict[str, object]:
    return sample(name)


@cache
def changes(name: str) -> tuple[Counter[Change], int]:
    """What leaving out each chosen field changes for the better, or not at all."""
    plain = sample_of(name)
    before = findings(plain)
    seen: Counter[Change] = Counter()
    tried = 0
    for given in chosen(name):
        kept = given.holder.pop(given.field.key)
        try:
            after = findings(plain)
        except InputError:
            continue  # something else in the file refers to it
        finally:
            given.holder[given.field.key] = kept
        tried += 1
        for key, old in before.items():
            new = after.get(key)
            if new is None:
                continue
            rule = key[0]
            if (old.kind, new.kind) in WORSE_TO_BETTER:
                seen[given.name, rule, f"{old.kind} to {new.kind}"] += 1
            elif new.kind == "notApplicable" != old.kind:
                seen[given.name, rule, f"{old.kind} to notApplicable"] += 1
            elif old.kind == new.kind == "pass":
                own = given.path[-1:] == (key[2],)
                if own and (given.record, given.field.name) in old.form.reads:
                    seen[given.name, rule, "pass to pass"] += 1
    return seen, tried


WORSE_TO_BETTER = {(worse, "pass") for worse in ("fail", "open", "review")}


def unexplained(name: str, ending: str, listed: dict[tuple[str, str], str]) -> list[str]:
    return [
        f"without {field}: {rule} goes from {kinds} ({count} times)"
        for (field, rule, kinds), count in sorted(changes(name)[0].items())
        if kinds.endswith(ending) and (field, rule) not in listed
    ]


@pytest.mark.parametrize("name", NAMES)
def test_leaving_out_a_field(name: str) -> None:
    # Nothing becomes a pass.
    better = unexplained(name, "to pass", BETTER)
    assert not [line for line in better if "pass to pass" not in line]
    # No rule falls silent; those on what a description leaves out are there to speak up then.
    silent = unexplained(name, "to notApplicable", OUT_OF_SCOPE)
    assert not [line for line in silent if "undescribed-" not in line]
    # A pass that stays is proven.
    assert not unexplained(name, "pass to pass", INDEPENDENT)


def test_explanations_are_needed() -> None:
    """An explanation that nothing needs any more hides the next mistake."""
    # By field alone: which of its rules are touched hangs on the elements that were tried.
    seen = {field for name in NAMES for field, _, _ in changes(name)[0]}
    for listed in (BETTER, OUT_OF_SCOPE, INDEPENDENT):
        assert {field for field, _ in listed} <= seen
    # Enough was tried to say so.
    assert sum(changes(name)[1] for name in NAMES) > 300
    assert len({given.name for name in NAMES for given in chosen(name)}) > 45
