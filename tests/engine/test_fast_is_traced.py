"""The compiled rules and the traced evaluation reach the same outcome.

They are two implementations of one language: plain Python code made for speed, and a three-valued
evaluation that keeps every value and every gap.  Where they differ, one of them is wrong.
"""

from __future__ import annotations

import random
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from walls import Plain, assembly_of, walls

from checker.assembly.records import Assembly
from checker.documents.errors import InputError
from checker.documents.missing import MissingData
from checker.engine.evaluate import elements, evaluate
from checker.findings.traced import trace
from checker.rulebook.book import Rulebook, load_rulebook

SAMPLES = Path(__file__).parents[2] / "samples"
UNDECIDED = (MissingData, LookupError, ArithmeticError, ValueError)


@cache
def book(edition: str) -> Rulebook:
    return load_rulebook(edition)


def compare(assembly: Assembly, rules: Rulebook, every: int = 1) -> Counter[Any]:
    """Hold the two evaluations together on every element (or on every n-th finding).

    Gives how often each kind came out, and how often the compiled code decided (True) or not.
    """
    seen: Counter[Any] = Counter()
    place = 0
    for rule in rules.rules:
        for form in rule.forms.values():
            for subject in elements(assembly, form.subject):
                place += 1
                if place % every:
                    continue
                slow = trace(rule, form, subject, assembly, rules.vocabulary)
                seen[slow.kind] += 1
                assert not slow.defect, f"{rule.id} on {subject.id}: {slow.defect}"
                try:
                    fast = form.fast(subject, assembly)
                except UNDECIDED:
                    seen[False] += 1
                    continue  # the program takes the traced outcome
                seen[True] += 1
                where = f"{rule.id} on {subject.id}"
                if fast[0] < 0:
                    assert (slow.kind, slow.code) == ("notApplicable", fast[0]), where
                    continue
                kind = "pass" if fast[1] else form.outcomes[fast[0]]
                assert (kind, *fast[:1], *fast[2:4]) == (
                    slow.kind, slow.code, slow.measure, slow.limit,
                ), where  # fmt: skip
                assert list(map(plain, fast[4:])) == list(map(plain, slow.values)), where
    return seen


def plain(value: Any) -> Any:
    return list(value) if isinstance(value, tuple) else value


def test_random_walls() -> None:
    seen: Counter[Any] = Counter()

    @settings(max_examples=50, deadline=None, derandomize=True, phases=[Phase.generate])
    @given(walls(), st.sampled_from(["nec-2017", "nec-2020", "nec-2023"]))
    def agree(wall: Plain, edition: str) -> None:
        seen.update(compare(assembly_of(wall), book(edition)))

    agree()
    # Every kind of outcome was reached, and both ways of reaching it.
    assert all(seen[kind] > 60 for kind in ("pass", "fail", "open", "notApplicable"))
    assert seen[True] > 1000
    assert seen[False] > 300


@pytest.mark.parametrize("name", ["recovery-wall", "recovery-wall-rev-b", "overhead-rack"])
def test_samples(name: str) -> None:
    data = yaml.load((SAMPLES / f"{name}.yaml").read_text("utf-8"), yaml.BaseLoader)
    compare(assembly_of(data), book("nec-2023"))


# Structure is left alone: without these an assembly no longer hangs together.
KEPT = {"id", "from", "to", "through", "between", "wires", "kind", "role", "assembly", "loops",
        "boxes", "raceways", "couplings", "circuits", "panels", "sections", "joints", "spaces",
        "cables", "pulls", "distance"}  # fmt: skip


def places(node: Any, found: list[tuple[Plain, str]]) -> list[tuple[Plain, str]]:
    """Every (mapping, key) below a node that may be left out or changed."""
    if isinstance(node, dict):
        found.extend((node, key) for key in node if key not in KEPT)
        for value in node.values():
            places(value, found)
    elif isinstance(node, list):
        for item in node:
            places(item, found)
    return found


@settings(max_examples=15, deadline=None, derandomize=True, phases=[Phase.generate])
@given(st.integers(0, 2**32), st.sampled_from(["recovery-wall", "overhead-rack"]))
def test_samples_with_much_of_them_unstated_or_exchanged(seed: int, name: str) -> None:
    """Some keys are left out, others take the value that the same key has elsewhere."""
    chance = random.Random(seed)
    data = yaml.load((SAMPLES / f"{name}.yaml").read_text("utf-8"), yaml.BaseLoader)
    every = places(data, [])
    for holder, key in chance.sample(every, len(every) // 12):
        others = [h[key] for h, k in every if k == key and key in h]
        if chance.random() < 0.6 or not others:
            holder.pop(key, None)
        else:
            holder[key] = chance.choice(others)
    try:
        assembly = assembly_of(data)
    except InputError:
        return  # a wire's circuit that its pull does not carry, and the like
    compare(assembly, book("nec-2023"), every=9)


def test_evaluation_is_the_same_twice() -> None:
    data = yaml.load((SAMPLES / "recovery-wall-rev-b.yaml").read_text("utf-8"), yaml.BaseLoader)
    first, second = (
        [(f.rule.id, f.subject_id, f.kind, f.measure, f.gaps) for f in
         evaluate(book("nec-2023"), assembly_of(data))]
        for _ in range(2)
    )  # fmt: skip
    assert first == second
