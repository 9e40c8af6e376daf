"""What the coverage list claims, compared with facts that were collected from publications.

``coverage_facts.yaml`` names for each fact where it was read.  A covered fact names rules in
use that cite its section; a requirement is never better than the worst of its facts; and what no
rule checks stands in the list, so that every report says so.
"""

from __future__ import annotations

import copy
import re
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from checker.findings.not_covered import not_covered
from checker.reports.manual import sections_of
from checker.reports.rule_view import RuleView
from checker.rulebook.book import Rulebook, load_rulebook
from checker.rulebook.coverage import DECIDERS, Requirement, read_coverage

FACTS = Path(__file__).parent / "coverage_facts.yaml"
STATES = ("covered", "partly", "not", "info")
#: Facts whose rules cite another section than the fact's own, and why.
CITED_OTHERWISE = {
    "es-recep-id-nursing": "its own section is what is missing",
}

Fact = dict[str, Any]


@cache
def _read() -> tuple[Fact, ...]:
    read = yaml.safe_load(FACTS.read_text(encoding="utf-8"))
    return tuple(read["facts"])


def facts() -> list[Fact]:
    return copy.deepcopy(list(_read()))


def coverage() -> dict[str, Requirement]:
    return {item.id: item for item in read_coverage()}


def numbers(text: str) -> set[str]:
    """Sections by article and number: 314.28 of 314.28(A)(2)."""
    return set(re.findall(r"\b\d{2,3}\.\d+", text))


def troubles(listed: list[Fact], requirements: dict[str, Requirement], book: Rulebook) -> list[str]:
    """What does not agree between facts, requirements and the rules in use."""
    found = []
    known = {rule.id: rule for rule in book.rules}
    for fact in listed:
        name, state = fact["fact"], fact["state"]
        rules, wanted = fact.get("rules", []), fact.get("requirements", [])
        found += [f"{name}: no rule {rule}" for rule in rules if rule not in known]
        found += [f"{name}: no requirement {one}" for one in wanted if one not in requirements]
        wanted = [one for one in wanted if one in requirements]
        if state in ("covered", "partly"):
            if not rules or not wanted:
                found.append(f"{name}: {state} by no rule, or of no requirement")
            owned = {rule for one in wanted for rule in requirements[one].rules}
            found += [f"{name}: {rule} is not of {wanted}" for rule in rules if rule not in owned]
            cited = {
                section
                for rule in rules
                if rule in known
                for text in sections_of(RuleView(known[rule]))
                for section in numbers(text)
            }
            sections = numbers(fact.get("section", ""))
            if sections and not sections & cited and name not in CITED_OTHERWISE:
                found.append(f"{name}: none of {rules} cites {sorted(sections)}")
        if state in ("partly", "not"):
            found += [
                f"{name}: {one} claims to be covered"
                for one in wanted
                if requirements[one].state == "covered"
            ]
        if state == "partly" and not fact.get("missing"):
            found.append(f"{name}: what is missing is not said")
        if state == "not" and not wanted and "decided_by" not in fact:
            found.append(f"{name}: no rule checks it and no requirement lists it")
    return found


def test_facts_are_what_the_rules_do() -> None:
    assert troubles(facts(), coverage(), load_rulebook("nec-2023")) == []


def test_every_fact_is_there_with_its_source() -> None:
    names = [fact["fact"] for fact in facts()]
    assert len(names) == len(set(names)) == 174
    for fact in facts():
        assert fact["state"] in STATES, fact["fact"]
        assert fact["source"].strip(), fact["fact"]
        assert fact.get("decided_by", "none_yet") in DECIDERS, fact["fact"]
    counts = Counter(fact["state"] for fact in facts())
    # What was found when the facts were first compared: 33 covered, 34 in part.
    assert counts["covered"] >= 33
    assert counts["covered"] + counts["partly"] >= 67


def test_a_removed_rule_is_noticed() -> None:
    """Every rule that a fact names, taken out of the book, is missed."""
    book = load_rulebook("nec-2023")
    listed, requirements = facts(), coverage()
    for gone in sorted({rule for fact in listed for rule in fact.get("rules", [])}):
        less = Rulebook(
            edition=book.edition,
            rules=tuple(rule for rule in book.rules if rule.id != gone),
            tables=book.tables, amendments=(), notices=(), terms={}, digest="", tables_digest="",
        )  # fmt: skip
        assert any(f"no rule {gone}" in said for said in troubles(listed, requirements, less)), gone


def test_an_overclaim_is_noticed() -> None:
    """A requirement of a fact that is not, or only partly, covered may not name nothing missing."""
    book, listed, requirements = load_rulebook("nec-2023"), facts(), coverage()
    partly = {
        one
        for fact in listed
        if fact["state"] == "partly"
        for one in fact["requirements"]
        if requirements[one].missing
    }
    assert len(partly) > 10
    for name in sorted(partly):
        item = requirements[name]
        claimed = Requirement(
            id=item.id, section=item.section, requirement=item.requirement, rules=item.rules,
            missing="", decided_by=item.decided_by, note=item.note,
        )  # fmt: skip
        said = troubles(listed, {**requirements, name: claimed}, book)
        assert any(f"{name} claims to be covered" in line for line in said), name


def test_lines_say_what_their_state_asks() -> None:
    for item in read_coverage():
        if item.state == "not":
            assert item.note, f"{item.id}: why no rule checks it"
            assert not item.missing, f"{item.id}: everything is missing"
        if item.state == "covered":
            assert item.decided_by == "none_yet", f"{item.id}: nothing is left to decide"


def test_reports_list_what_is_not_covered() -> None:
    from checker.assembly import read_assembly

    sample = Path(__file__).parents[2] / "samples" / "recovery-wall.yaml"
    assembly, _ = read_assembly(sample)
    rows = not_covered(assembly, load_rulebook("nec-2023"))["requirements"]
    listed = {row["requirement"] for row in rows}
    for item in read_coverage():
        assert (item.requirement in listed) == (item.state != "covered"), item.id
