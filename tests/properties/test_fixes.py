"""A fix fixes: every fix that says which fields it sets is applied, and the design judged again.

The bench applies the fixes of every rule's examples and judges by that rule alone; here the whole
rulebook judges, so that a fix which breaks something else is seen.  A fix whose words send the
reader on ("and check raceway fill") names those rules under ``check:``; it may make no others fail.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any

import pytest
from designs import NAMES, Plain, assembly_of, book, sample
from mutants import mutant
from random_designs import design
from test_random_relations import RANK as BLOCKING

from checker.bench.example_files import examples_of
from checker.bench.examples import ExampleError, build
from checker.documents.errors import InputError, Mark
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.detail import Explainer
from checker.findings.repairs import repairs
from checker.language.types import Designation, Number
from checker.rulebook.forms import Fix

DESIGNS = int(os.environ.get("PULLPOINT_DESIGNS", "24"))
PARTS = 2
#: How often one fix is tried in one part of a test, unless all are.
ENOUGH = 3 if "PULLPOINT_DESIGNS" not in os.environ else 1_000_000

ADDS = "adds an element; where, and with which wiring, is the designer's choice"
MOVES = "moves wiring or supports; how far the rest of the route moves along is not computed"
BOUND = "names a bound that a product has to keep to, not a product"
LOOK = "something a person confirms, states or records, not a change of the design"
#: Fixes that name one computed value and cannot be applied, by rule and first words.
UNCHECKED = {
    ("air-space-method", "Shorten"): MOVES,
    ("surface-raceway-conductors", "Use a surface"): "which product that is, the designer says",
    ("bend-radius", "Use a one-shot"): "sets the bender and the radius, of two kinds of element",
    ("bend-total", "Remove"): "which bends go is the designer's choice",
    ("box-compartments", "State volume"): LOOK,
    ("box-depth", "Use a ring"): ADDS,
    ("box-depth-device", "Use a ring"): ADDS,
    ("box-fill", "Add an extension"): ADDS,
    ("box-fill", "Provide"): "takes it from another compartment of the box",
    ("box-fill", "Use a conduit body"): BOUND,
    ("branch-rating", "Move the receptacles"): MOVES,
    ("cabinet-through-fill", "Route"): "two ways; the second leaves a cross-section to confirm",
    ("circuit-load", "Divide the outlets"): ADDS,
    ("device-terminals", "Use devices"): "the terminals may be those of a panelboard as well",
    ("distribution-block", "Use a box"): BOUND,
    (
        "grounding-conductor-increase",
        "Use smaller",
    ): "names the size that is there, not the new one",
    ("grounding-conductor-size", "Add"): ADDS,
    ("insulation-voltage", "Use a separate"): ADDS,
    ("marked-conductors", "Use a box marked"): BOUND,
    ("membrane-box", "Use a"): BOUND,
    ("membrane-opposite", "Move one"): MOVES,
    ("parallel-conductors", "Provide"): ADDS,
    ("patient-bed-receptacles", "Add"): ADDS,
    ("patient-panel-bonding", "Bond"): ADDS,
    ("pull-box-entry-distance", "Move them"): MOVES,
    ("raceway-fill", "Move one"): MOVES,
    ("raceway-size", "Divide"): ADDS,
    ("receptacle-rating", "Supply"): MOVES,
    ("redundant-ground-path", "Shorten"): MOVES,
    ("second-source-receptacles", "Move"): MOVES,
    ("section-shipping-size", "Reduce"): "which of two dimensions is the designer's choice",
    ("shared-neutral", "Pull"): ADDS,
    ("support-from-box", ""): MOVES,
    ("support-spacing", "Add"): MOVES,
    ("switch-rating", "Confirm"): LOOK,
    ("tap-conductors", "Shorten"): MOVES,
    ("tap-conductors", "Use conductors"): "names an ampacity, not a size",
    ("undescribed-free-outside", "State"): LOOK,
    ("vertical-conductors", "Record"): LOOK,
}

Name = tuple[str, str]
#: How much a kind asks for.  A fix of what is for information has to make it go, too.
RANK = BLOCKING | {"informational": 0.5}


@dataclass
class Trial:
    """Fixes that were applied: how often, by rule and words; and what they left or made."""

    tried: Counter[Name] = field(default_factory=Counter)
    bad: list[str] = field(default_factory=list)

    def run(self, plain: Plain, only: str = "") -> None:
        """Apply every fix of the failing findings of a design, one after the other."""
        assembly = assembly_of(plain)
        explainer = Explainer(assembly, book().vocabulary, book().terms)
        found = evaluate(book(), assembly)
        before = ranks(found)
        for finding in found:
            if RANK[finding.kind] == 0 or (only and finding.rule.id != only):
                continue
            for repair in repairs(finding, explainer):
                name = finding.rule.id, repair.fix.say.text
                if self.tried[name] >= ENOUGH:
                    continue
                self.tried[name] += 1
                told = f"{finding.rule.id}: {finding.subject_id}: “{repair.say}”"
                kept = [dict(e.node) for e in repair.elements]
                repair.apply()
                try:
                    after = ranks(evaluate(book(), assembly_of(as_plain(assembly.node))))
                except InputError as error:
                    self.bad.append(f"{told} is wrong input: {error.problems[0].message}")
                    continue
                finally:
                    for element, old in zip(repair.elements, kept, strict=True):
                        element.node.clear()
                        element.node.update(old)
                own = key_of(finding)
                if after.get(own, 0) >= RANK[finding.kind]:
                    self.bad.append(f"{told} leaves it at rank {after[own]}")
                self.bad += [
                    f"{told} makes {' '.join(key)} {kind_of(rank)}"
                    for key, rank in after.items()
                    if key != own
                    and rank > max(before.get(key, 0), 0.5)
                    and key[0] not in repair.fix.check
                ]

    def end(self, least: int) -> None:
        """Fail where a fix was bad, or where fewer than ``least`` were applied."""
        if self.bad:
            rules = Counter(line.split(":")[0] for line in self.bad)
            lines = "\n".join(dict.fromkeys(self.bad[:40]))
            pytest.fail(f"{len(self.bad)} of {self.tried.total()}: {dict(rules)}\n{lines}", False)
        assert self.tried.total() >= least


def key_of(finding: Any) -> tuple[str, str, str]:
    name = finding.subject_id
    if finding.subject_class == "run":
        name = "+".join(min(name.split("+"), name.split("+")[::-1]))
    return finding.rule.id, finding.subject_class, name


def ranks(found: Any) -> dict[tuple[str, str, str], float]:
    """How much each finding asks for, by rule, class and id."""
    return {key_of(f): RANK[f.kind] for f in found if RANK[f.kind]}


def kind_of(rank: float) -> str:
    return next(kind for kind, r in RANK.items() if r == rank)


def as_plain(node: Any) -> Any:
    if isinstance(node, dict):
        return {key: as_plain(value) for key, value in node.items()}
    return [as_plain(item) for item in node] if isinstance(node, list) else node


def entries() -> Iterator[tuple[Name, Fix]]:
    """Every fix of the rulebook, by its rule and words."""
    for rule in book().rules:
        for form in rule.forms.values():
            for case in form.cases:
                for fix in case.fixes:
                    yield (rule.id, fix.say.text), fix


@cache
def trial_of_examples() -> Trial:
    """The fixes of every rule's own examples, which each have the rule's finding."""
    trial = Trial()
    source = Source.of_text("example\n")
    for rule in book().rules:
        if not any(fix.set for (name, _), fix in entries_of(rule.id)):
            continue
        for group in examples_of(rule):
            for example in group.examples:
                if example.expect in ("pass", "notApplicable"):
                    continue
                try:
                    plain = as_plain(build(group.sample, example, source, Mark(1, 1)).root)
                    trial.run(plain, rule.id)
                except (InputError, ExampleError):
                    continue
    return trial


@cache
def entries_of(rule: str) -> list[tuple[Name, Fix]]:
    return [(name, fix) for name, fix in entries() if name[0] == rule]


def test_fixes_of_the_examples() -> None:
    trial_of_examples().end(100)


@pytest.mark.parametrize("name", NAMES)
def test_fixes_of_the_samples(name: str) -> None:
    trial = Trial()
    trial.run(sample(name))
    trial.end(0)


@pytest.mark.parametrize("name", NAMES)
def test_fixes_of_mutated_samples(name: str) -> None:
    trial = Trial()
    for seed in range(DESIGNS):
        trial.run(mutant(name, seed))
    trial.end(5)


@pytest.mark.parametrize("part", range(PARTS))
def test_fixes_of_random_designs(part: int) -> None:
    trial = Trial()
    for seed in range(part, DESIGNS, PARTS):
        trial.run(design(seed))
    trial.end(DESIGNS // 2)


def test_every_fix_that_sets_something_is_tried() -> None:
    """Every entry, not only every rule, by an example of its own rule."""
    with_set = {name for name, fix in entries() if fix.set}
    assert len(with_set) > 60
    assert sorted(with_set - set(trial_of_examples().tried)) == []


def test_check_names_rules() -> None:
    known = {rule.id for rule in book().rules}
    for name, fix in entries():
        assert set(fix.check) <= known, name
        assert not fix.check or fix.set, name


def one_value(fix: Fix) -> bool:
    """Whether the words name one computed amount or size."""
    kinds = [part[0].kind for part in fix.say.parts if not isinstance(part, str)]
    return sum(isinstance(kind, Number | Designation) for kind in kinds) == 1


def test_a_fix_that_names_one_value_is_applied() -> None:
    bare = {name for name, fix in entries() if one_value(fix) and not fix.set}
    used = {
        key: {name for name in bare if name[0] == key[0] and name[1].startswith(key[1])}
        for key in UNCHECKED
    }
    assert sorted(bare.difference(*used.values())) == []
    assert [key for key, names in used.items() if not names] == []
