"""A fix fixes: every fix that says which fields it sets is applied, and the design judged again.

The bench applies the fixes of every rule's examples and judges by that rule alone; here the whole
rulebook judges, so that a fix which breaks something else is seen.
"""

from __future__ import annotations

import os
from typing import Any

import pytest
from designs import NAMES, Plain, assembly_of, book, findings, sample
from random_designs import design
from test_random_relations import RANK

from checker.engine.evaluate import evaluate
from checker.findings.detail import Explainer
from checker.findings.repairs import repairs

DESIGNS = int(os.environ.get("PULLPOINT_DESIGNS", "60"))
PARTS = 2


def bad_fixes(plain: Plain) -> tuple[int, list[str]]:
    """How many fixes were tried, and those that leave the finding or raise another one."""
    before = findings(plain)
    tried, bad = 0, []
    assembly = assembly_of(plain)
    explainer = Explainer(assembly, book().vocabulary, book().terms)
    for finding in evaluate(book(), assembly):
        if finding.kind not in ("fail", "review"):
            continue
        for repair in repairs(finding, explainer):
            kept = [dict(e.node) for e in repair.elements]
            repair.apply()
            after = findings(as_plain(assembly.node))
            for element, old in zip(repair.elements, kept, strict=True):
                element.node.clear()
                element.node.update(old)
            tried += 1
            name = f"{finding.rule.id}: {finding.subject_id}: “{repair.say}”"
            own = finding.rule.id, finding.subject_class, finding.subject_id
            if own in after and RANK[after[own].kind] >= RANK[finding.kind]:
                bad.append(f"{name} leaves it at {after[own].kind}")
            bad += [
                f"{name} makes {' '.join(key)} {new.kind}"
                for key, new in after.items()
                if RANK[new.kind] >= 2 and RANK[new.kind] > RANK[kind_of(before, key)]
            ]
    return tried, bad


def kind_of(found: dict[Any, Any], key: Any) -> str:
    return str(found[key].kind) if key in found else "pass"


def as_plain(node: Any) -> Any:
    if isinstance(node, dict):
        return {key: as_plain(value) for key, value in node.items()}
    return [as_plain(item) for item in node] if isinstance(node, list) else node


@pytest.mark.parametrize("name", NAMES)
def test_fixes_of_the_samples(name: str) -> None:
    assert not bad_fixes(sample(name))[1]


@pytest.mark.parametrize("part", range(PARTS))
def test_fixes_of_random_designs(part: int) -> None:
    tried, lines = 0, []
    for seed in range(part, DESIGNS, PARTS):
        number, bad = bad_fixes(design(seed))
        tried += number
        lines += [f"{seed}: {line}" for line in bad]
    if lines:
        pytest.fail(f"{len(lines)} of {tried}\n" + "\n".join(lines[:15]), pytrace=False)
    assert tried > DESIGNS / 4
