"""A readable manual of the effective rules: each in words, and what covers which section."""

from __future__ import annotations

import re
from typing import Any

from checker.bench.example_files import example_lines
from checker.rulebook.amend import target
from checker.rulebook.book import Rule, Rulebook
from checker.rulebook.coverage import DECIDERS, Requirement

from .blocks import Blocks, Code, Inline, Link
from .rule_sheet import Line, Sheet, sheet

_SECTION = re.compile(
    r"\b(?:Chapter 9(?:,? (?:Table|note) [0-9A-Z.]+)?|[0-9]{2,3}\.[0-9]+(?:\([A-Za-z0-9]+\))*)"
)


_AUTHORITY = "authority having jurisdiction"


def manual(book: Rulebook, form: str) -> str:
    """The manual, as ``markdown`` or ``html``."""
    made = Blocks(f"Rules on {book.edition.title}")
    _opening(made, book)
    by_topic: dict[str, list[Rule]] = {}
    for rule in book.rules:
        by_topic.setdefault(rule.draft.topic, []).append(rule)
    _contents(made, by_topic)
    _coverage(made, book)
    for topic, rules in sorted(by_topic.items()):
        made.heading(2, topic[0].upper() + topic[1:])
        for rule in sorted(rules, key=lambda r: r.id):
            _rule(made, rule, book)
    return made.html() if form == "html" else made.markdown()


def _opening(made: Blocks, book: Rulebook) -> None:
    who = book.terms.get(_AUTHORITY, _AUTHORITY)
    made.text(
        "What the program checks, rule by rule, with the values in force, their sections and where "
        f"each part comes from. The adopted code, the {who} and licensed practice decide; this "
        "manual does not."
    )
    if book.edition.note:
        made.text(book.edition.note)
    if book.amendments:
        made.heading(2, "Amendments")
        rows: list[tuple[Inline, ...]] = []
        for a in book.amendments:
            state = "applied" if a.in_force else f"not applied: {a.note}"
            until = f" to {a.file.ends}" if a.file.ends else ""
            rows.append(
                (
                    a.id,
                    a.file.title,
                    a.file.jurisdiction,
                    a.file.reference,
                    f"from {a.file.effective}{until}",
                    state,
                )
            )
        made.table(("amendment", "title", "whose", "reference", "in force", "here"), rows)
        made.items(
            [
                f"sources of {a.id}: {'; '.join(a.file.sources)}"
                for a in book.amendments
                if a.file.sources
            ]
        )
        for a in book.amendments:
            for change in a.file.changes if a.in_force else ():
                what = target(change) or _own(change)
                made.items([(f"{a.id}, {change.reference}", Code(what), f": {change.reason}")])
    if book.withdrawn:
        made.text(
            "Withdrawn: " + ", ".join(f"{rule} (by {who})" for rule, who in book.withdrawn.items())
        )
    if book.notices:
        made.heading(2, "To know")
        made.items(list(book.notices))
    made.facts(
        [
            ("rules", Code(book.digest)),
            ("tables", Code(book.tables_digest)),
        ]
    )


def _own(change: Any) -> str:
    return ", ".join(
        str(held.rule) for held in (change.add, change.forbid, change.require) if held is not None
    )


def _contents(made: Blocks, by_topic: dict[str, list[Rule]]) -> None:
    made.heading(2, "Rules")
    rows: list[tuple[Inline, ...]] = []
    for topic, rules in sorted(by_topic.items()):
        for rule in sorted(rules, key=lambda r: r.id):
            touched = "amended" if rule.draft.history else ""
            rows.append((topic, Link((rule.id, f"rule-{rule.id}")), rule.title, touched))
    made.table(("topic", "rule", "requirement", ""), rows)


# -- coverage -------------------------------------------------------------------------------


def sections_of(rule: Rule) -> list[str]:
    """The sections that a rule and its values cite, in order, each once."""
    draft = rule.draft
    texts = [rule.citation, *(value.cite for value in draft.values.values())]
    return list(dict.fromkeys(found for text in texts for found in _SECTION.findall(text)))


def _coverage(made: Blocks, book: Rulebook) -> None:
    made.heading(2, "Coverage")
    made.text(
        "Requirements, in our own words, and the rules that check them. A requirement without a "
        "rule is for a person to check."
    )
    known = {rule.id: rule for rule in book.rules}
    listed: set[str] = set()
    rows: list[tuple[Inline, ...]] = []
    for item in book.coverage:
        here = [name for name in item.rules if name in known]
        listed.update(here)
        by = _links(here) or _uncovered(item)
        rows.append((item.section, item.requirement, by, item.missing, item.note))
    made.table(("section", "requirement", "checked by", "not checked", "note"), rows)
    others = [name for name in known if name not in listed]
    if others:
        made.text("Rules of amendments: " + ", ".join(others) + ".")
    made.heading(3, "By section")
    made.text("Every section that a rule or one of its values cites.")
    by_section: dict[str, list[str]] = {}
    for rule in book.rules:
        for section in sections_of(rule):
            by_section.setdefault(section, []).append(rule.id)
    made.table(
        ("section", "rules"),
        [(name, _links(by_section[name])) for name in sorted(by_section, key=_section_order)],
    )


def _uncovered(item: Requirement) -> str:
    if item.rules:
        return "not in this edition"
    return f"no rule; decided by {DECIDERS[item.decided_by]}"


def _links(names: list[str]) -> Inline:
    pieces: list[Any] = []
    for name in names:
        if pieces:
            pieces.append(",")
        pieces.append(Link((name, f"rule-{name}")))
    return tuple(pieces)


def _section_order(section: str) -> tuple[Any, ...]:
    chapter = section.startswith("Chapter")
    numbers = [int(n) for n in re.findall(r"[0-9]+", section)]
    return (chapter, numbers[:2], section)


# -- one rule -------------------------------------------------------------------------------


def _rule(made: Blocks, rule: Rule, book: Rulebook) -> None:
    facts = sheet(rule)
    made.heading(3, f"{rule.id}: {facts.title.text}", f"rule-{rule.id}")
    made.text(_sentence(facts))
    made.facts(
        [
            ("cites", (facts.cite.text, _elsewhere(facts.cite, facts))),
            ("applies", _applies(facts)),
            ("why", facts.why),
            ("how sure", facts.note),
            ("in force", f"from {facts.effective}" if facts.effective else ""),
            ("file", Code(facts.file)),
        ]
    )
    made.table(
        ("value", "", "section", "note", "from"),
        [(Code(v.name), v.value.text, v.cite, v.note, _from(v.value, facts)) for v in facts.values],
    )
    made.table(
        ("formula", "calculation", "what it is"),
        [
            (Code(f.usage), Code(f.expression.text), f.note + _elsewhere(f.expression, facts))
            for f in facts.formulas
        ],
    )
    made.table(
        ("step", "unit", "calculation", "what it is"),
        [
            (
                Code(s.name),
                s.unit,
                Code(s.expression.text),
                s.note + _elsewhere(s.expression, facts),
            )
            for s in facts.steps
        ],
    )
    _cases(made, facts)
    if facts.history:
        made.text("What amendments did:")
        made.items(list(facts.history))
    examples = example_lines(rule, book)
    if examples:
        made.text("Examples:")
        made.items(list(examples))
    if facts.sources:
        made.text("Read in: " + "; ".join(facts.sources) + ".")


def _sentence(facts: Sheet) -> str:
    outcome = {
        "fail": "Failing it stands in the way of a release.",
        "open": "Failing it leaves the finding open, which stands in the way of a release.",
        "review": "Failing it asks for a person's decision.",
        "informational": "Failing it is only told.",
    }
    kinds = list(dict.fromkeys(case.fails_as for case in facts.cases))
    said = (
        " ".join(outcome[kind] for kind in kinds)
        if len(kinds) == 1
        else ("What failing means depends on the case.")
    )
    return f"Checked on {facts.on}. {said}"


def _applies(facts: Sheet) -> Inline:
    if not facts.conditions:
        return "everywhere"
    pieces: list[Any] = []
    for word, line, note in facts.conditions:
        if pieces:
            pieces.append(",")
        pieces += [word, Code(line.text)]
        if note:
            pieces.append(f"({note})")
        other = _elsewhere(line, facts)
        if other:
            pieces.append(other)
    return tuple(pieces)


def _from(line: Line, facts: Sheet) -> str:
    """Where a part comes from; parts of the rule's own file say only whose they are."""
    own = facts.file.rpartition(":")[0]
    return line.origin if line.place.startswith(own + ":") else f"{line.origin} ({line.place})"


def _elsewhere(line: Line, facts: Sheet) -> str:
    own = facts.file.rpartition(":")[0]
    return "" if line.place.startswith(own + ":") else f" [{line.origin}, {line.place}]"


def _cases(made: Blocks, facts: Sheet) -> None:
    several = len(facts.cases) > 1
    for case in facts.cases:
        pieces: list[Any] = []
        if several:
            pieces += ["Where", Code(case.when.text), ":"] if case.when else ["Otherwise:"]
        pieces += [Code(case.measure), case.relation, Code(case.limit)]
        if case.require is not None:
            pieces += [", as", Code(case.require.text), "requires"]
        if case.unit:
            pieces.append(f"(in {case.unit})")
        pieces.append(". ")
        if several and case.fails_as != "fail":
            pieces.append(f"Failing means {case.fails_as}.")
        made.text(*pieces)
        said: list[Inline] = [("when it fails:", Code(case.message.text))]
        if case.passes is not None:
            said.append(("when it holds:", Code(case.passes.text)))
        for when, say in case.mends:
            said.append(("mend:", Code(say.text), *(("(where", Code(when), ")") if when else ())))
        made.items(said)
