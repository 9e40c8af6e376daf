"""Whatever the assembly, every finding can be put into words, and the words are for people."""

from __future__ import annotations

import json
import re
from functools import cache
from types import SimpleNamespace
from typing import cast

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from walls import Plain, assembly_of, walls

from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.detail import Explainer, joined, open_words
from checker.findings.finding import Finding, Report
from checker.reports.json_form import compact
from checker.rulebook.book import Rulebook, load_rulebook

# What only a programmer would understand: reprs, unfilled templates, odd numbers.
NOT_FOR_PEOPLE = re.compile(
    r"Missing\(|Unknown\(|Maybe\(|<checker|object at 0x|\bNone\b|\bTrue\b|\bFalse\b|[{}]|"
    r"\bnan\b|\binf\b|\d\.\d{7,}"
)


@cache
def book(edition: str) -> Rulebook:
    return load_rulebook(edition)


@settings(max_examples=15, deadline=None, derandomize=True, phases=[Phase.generate])
@given(walls(), st.sampled_from(["nec-2017", "nec-2020", "nec-2023"]))
def test_every_finding_can_be_worded(wall: Plain, edition: str) -> None:
    assembly, rules = assembly_of(wall), book(edition)
    explainer = Explainer(assembly, rules.vocabulary, rules.terms)
    for finding in evaluate(rules, assembly):
        detail = explainer.detail(finding)
        where = f"{finding.rule.id} on {finding.subject_id}, {finding.kind}"
        assert detail.message.strip(), where
        assert explainer.message(finding) == detail.message, where
        said = [detail.message, *detail.fixes, *[s.text for s in detail.steps]]
        said += [a.text for a in (detail.measure, detail.limit) if a is not None]
        if finding.kind == "notApplicable":
            said = said[1:]  # it quotes the rule's condition
        for text in said:
            assert not NOT_FOR_PEOPLE.search(text), f"{where}: {text}"
        if finding.kind == "open" and not finding.incomplete:
            # A rule that reports as open what it measured says it in its own words.
            assert (finding.measure, finding.limit) != (None, None), where
        elif finding.kind == "open":
            lacks = "not stated" in detail.message or "there is no" in detail.message
            assert lacks or finding.defect, where
            assert finding.gaps or finding.defect, where
            for gap in finding.gaps:
                assert gap in detail.message, where


@settings(max_examples=6, deadline=None, derandomize=True, phases=[Phase.generate])
@given(walls())
def test_every_report_is_strict_json(wall: Plain) -> None:
    assembly, rules = assembly_of(wall), book("nec-2023")
    report = Report(assembly, Source.of_text("a wall\n"), rules, evaluate(rules, assembly))

    def refuse(word: str) -> None:
        raise AssertionError(f"{word} is not JSON")

    read = json.loads(compact(report), parse_constant=refuse)
    assert len(read["findings"]) == sum(report.summary.values())


def test_what_there_is_none_of_is_not_called_unstated() -> None:
    """What a search finds nothing for is none of the description's gaps."""
    gaps = ("`size` of wire 1", "there is none that would do")
    said = "cannot be judged: `size` of wire 1 is not stated; there is none that would do"
    assert open_words(cast(Finding, SimpleNamespace(gaps=gaps))) == said


@pytest.mark.parametrize(
    ("fixes", "text"),
    [
        ((), ""),
        (("Add a box",), "Add a box"),
        (("Add a box", "Remove a bend", "EMT 1"), "Add a box; or remove a bend; or EMT 1"),
        (("Use 10 AWG", "Ün", "A ring"), "Use 10 AWG; or ün; or A ring"),
    ],
)
def test_several_fixes_are_one_sentence(fixes: tuple[str, ...], text: str) -> None:
    assert joined(fixes) == text
