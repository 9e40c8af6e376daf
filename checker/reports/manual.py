"""A readable manual of the effective rules: each in words, and what covers which section."""

from __future__ import annotations

import re
from typing import Any

from checker.bench.example_files import example_lines
from checker.rulebook.book import Rulebook
from checker.rulebook.coverage import DECIDERS, Requirement
from checker.rulebook.fits import target

from .rule_view import RuleView
from .templating import document

_SECTION = re.compile(
    r"\b(?:Chapter 9(?:,? (?:Table|note) [0-9A-Z.]+)?|[0-9]{2,3}\.[0-9]+(?:\([A-Za-z0-9]+\))*)"
)
_AUTHORITY = "authority having jurisdiction"


def manual(book: Rulebook, form: str) -> str:
    """The manual, as ``markdown`` or ``html``."""
    return document("manual.jinja", form, manual=Manual(book))


class Manual:
    """What the template reads.

    sources: those of amendments; changes: amendment, reference, what, reason; topics: rules by
    topic; coverage: requirement, the rules in force that check it, and who does where none is;
    by_section: rules by what they cite.
    """

    def __init__(self, book: Rulebook) -> None:
        self.book = book
        self.title = f"Rules on {book.edition.title}"
        self.authority = book.terms.get(_AUTHORITY, _AUTHORITY)
        self.withdrawn = ", ".join(f"{rule} (by {who})" for rule, who in book.withdrawn.items())
        self.sources = [
            f"sources of {a.id}: {'; '.join(a.file.sources)}"
            for a in book.amendments
            if a.file.sources
        ]
        self.changes = [
            (a.id, change.reference, target(change) or _own(change), change.reason)
            for a in book.amendments
            if a.in_force
            for change in a.file.changes
        ]
        rules = [RuleView(rule) for rule in book.rules]
        topics: dict[str, list[RuleView]] = {}
        for rule in sorted(rules, key=lambda r: (r.topic, r.id)):
            topics.setdefault(rule.topic, []).append(rule)
        self.topics = list(topics.items())
        self.examples = {rule.id: example_lines(rule, book) for rule in book.rules}
        known = {rule.id for rule in rules}
        self.coverage = [
            (item, [name for name in item.rules if name in known], _uncovered(item))
            for item in book.coverage
        ]
        listed = {name for _, here, _ in self.coverage for name in here}
        self.uncovered_rules = [rule.id for rule in rules if rule.id not in listed]
        by_section: dict[str, list[str]] = {}
        for rule in rules:
            for section in sections_of(rule):
                by_section.setdefault(section, []).append(rule.id)
        self.by_section = sorted(by_section.items(), key=lambda item: _section_order(item[0]))


def sections_of(rule: RuleView) -> list[str]:
    """The sections that a rule and its values cite, in order, each once."""
    texts = [rule.citation, *(value.cite for value in rule.values)]
    return list(dict.fromkeys(found for text in texts for found in _SECTION.findall(text)))


def _own(change: Any) -> str:
    return ", ".join(
        str(held.rule) for held in (change.add, change.forbid, change.require) if held is not None
    )


def _uncovered(item: Requirement) -> str:
    if item.rules:
        return "not in this edition"
    return f"no rule; decided by {DECIDERS[item.decided_by]}"


def _section_order(section: str) -> tuple[Any, ...]:
    chapter = section.startswith("Chapter")
    numbers = [int(n) for n in re.findall(r"[0-9]+", section)]
    return (chapter, numbers[:2], section)
