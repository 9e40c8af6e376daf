"""Conditions that are the same for every element are asked once, with the same findings."""

from __future__ import annotations

import pytest

from checker.assembly import read_assembly
from checker.documents.missing import MissingData
from checker.engine.evaluate import elements, evaluate
from checker.findings.traced import trace
from checker.rulebook.book import load_rulebook

SAMPLES = ("recovery-wall", "recovery-wall-rev-b", "overhead-rack")


@pytest.mark.parametrize("name", SAMPLES)
def test_the_findings_are_those_of_every_element(name: str) -> None:
    book = load_rulebook("nec-2023")
    assembly, _ = read_assembly(f"samples/{name}.yaml")
    found = {
        (f.rule.id, f.subject_class, f.subject_id): (f.kind, f.code)
        for f in evaluate(book, assembly)
    }
    apart = 0
    for rule in book.rules:
        for form in rule.forms.values():
            try:
                none = form.applies is not None and form.applies(assembly)
            except (MissingData, LookupError, ArithmeticError, ValueError):
                none = None
            for subject in elements(assembly, form.subject)[:5] if none else ():
                slow = trace(rule, form, subject, assembly, book.vocabulary)
                where = rule.id, slow.subject_class, slow.subject_id
                assert found[where] == ("notApplicable", slow.code) == (slow.kind, slow.code), where
                apart += 1
    assert apart > 20  # such rules were there
