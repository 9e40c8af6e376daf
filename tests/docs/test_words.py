"""User-facing text uses the words of the trade: retired words and phrases are refused.

``RETIRED`` is the one list.  Each entry has a pattern, the words to use instead, and a sentence
that it refuses; a test checks that it does.  Rule texts are checked here: titles, reasons, notes,
what a rule covers, messages, fixes, coverage and example names.  To check other texts, pass them
to ``refused``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest
import yaml

ROOT = Path(__file__).resolve().parents[2]
RULES = ROOT / "rules"


class Retired(NamedTuple):
    """A retired word or phrase: its pattern, what to write instead, and a text that has it."""

    pattern: str
    better: str
    refused: str


RETIRED = (
    Retired(r"\bmend(s|ed|ing)?\b", "fix", "what mends it"),
    Retired(r"\bjudge[sd]?\b", "check, evaluate, decide", "feeders are not judged"),
    Retired(r"\b(hold|holds|holding|held)\b", "pass, contain", "JN3 holds critical wiring"),
    Retired(r"\b(for|to) a person\b", "needs review", "that is for a person"),
    Retired(r"\bfor review\b", "needs review", "the finding is for review"),
    Retired(r"\bto be confirmed\b", "confirm that …", "listed fittings: to be confirmed"),
    Retired(r"\bin the way of\b", "blocks", "it stands in the way of a release"),
    Retired(r"\bdraw(n|s|ing)? (\w+ )?in\b(?! a)", "pull, field-pull", "let the site draw them in"),
    Retired(r"\bt(ake|aken|akes|ook) (\w+ )?out\b", "remove", "take out 90° of bends"),
    Retired(r"\black(s|ing|ed)?\b", "missing, shortfall", "volume that lacks"),
    Retired(r"\bwhence\b", "source", "whence the number comes"),
    Retired(r"\btold\b", "reported", "it is told as open"),
    Retired(r"\bsaid\b", "stated", "nothing said about bends"),
    Retired(r"\bgr(e|o)ws? with the", "upsized with", "the conductor grew with them"),
    Retired(r"\bkeep(s)? to (them|it)sel", "require separation", "they keep to themselves"),
    Retired(
        r"\b(raceway|cable|circuit|neutral|article|rule|color|box)(e?s)? of (its|their) own\b",
        "separate",
        "Give it a cable of its own",
    ),
    Retired(r"\btaken (as|to be|for|so)\b", "treated as, assumed", "the load is taken as balanced"),
    Retired(r"\bask(s|ed|ing)?\b", "requires, applies to", "asked of category 1"),
    Retired(
        r"\bis (up to|for) the (site|shop|engineer|authority|facility|installer)\b",
        "the site is responsible, the authority decides",
        "the set of the fitting is for the site",
    ),
    Retired(
        r"(?<!at )\bleast (number|size|length|width|height|depth|radius|area|dimension|rating)",
        "minimum, required",
        "the least radius of a bend",
    ),
    Retired(r"\bgreatest\b", "maximum", "the greatest distance"),
    Retired(r"\balike\b", "identical, matched", "conductors that are alike"),
    Retired(r"\bunlike\b", "different", "two of unlike size"),
    Retired(r"\bneighbou?r(s|ing)?\b", "adjacent", "between neighboring devices"),
    Retired(r"\bdoes (alone|for both)\b", "a single conductor", "a size that does alone"),
    Retired(r"\bbore\b", "internal area, inside diameter", "the bore of the conduit"),
    Retired(r"\bnone wiring only\b", "no conductors described", "none wiring only"),
    Retired(r"\bwhatever\b", "regardless of, any", "a main of whatever size"),
    Retired(r"\b(whoever|somebody)\b", "anyone who, (name the role)", "whoever opens the box"),
    Retired(r"\bone by one\b", "separately", "the poles are opened one by one"),
    Retired(r"\bways? by which\b", "route, raceway or cable", "ways by which it goes there"),
    Retired(r"\bon the safe side\b", "conservative", "that is on the safe side"),
    Retired(r"\bcontinuous part\b", "continuous load", "its continuous part at 125 %"),
    Retired(r"\bat most\b", "max, or less", "450° of at most 360°"),
    Retired(r"\bcompliant\b|\bapproved\b", "(the authority decides)", "the wall is compliant"),
    Retired(r"\b\w*colour", "color", "of another colour"),
    Retired(r"\baluminium\b", "aluminum", "aluminium conductors"),
    Retired(r"\b(centre|metre|fibre)s?\b", "center, meter, fiber", "the centre line"),
    Retired(r"\bcatalogues?\b", "catalog", "the catalogue"),
    Retired(r"\blicences?\b", "license", "a licence"),
    Retired(r"(?<!spelled )\bgrey\b", "gray", "a grey wire"),
)

#: Keys of rule files whose texts people read.
TEXT_KEYS = {
    *("title", "why", "note", "covers", "reason", "requirement", "missing"),
    *("fail", "review", "open", "inform", "pass"),
    *("fixes", "all", "say"),
}


def refused(text: str) -> list[str]:
    """The retired words in a text, each with the words to use instead; placeholders are left out.

    >>> refused("take out {bends}")
    ['take out: write remove']
    """
    words = " ".join(re.sub(r"\{[^{}]*\}", "…", text).split())
    return [
        f"{found[0].strip()}: write {retired.better}"
        for retired in RETIRED
        if (found := re.search(retired.pattern, words, re.IGNORECASE))
    ]


def texts(node: yaml.Node, key: str = "") -> Iterator[tuple[int, str]]:
    """The texts of a rule file that people read, each with its line number from 1."""
    if isinstance(node, yaml.MappingNode):
        for name, value in node.value:
            if key == "terms" and isinstance(value, yaml.ScalarNode):
                yield value.start_mark.line + 1, f"{name.value}: {value.value}"
            elif key == "examples" and name.value == "name":
                yield value.start_mark.line + 1, value.value
            elif key != "sample":
                yield from texts(value, name.value)
    elif isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from texts(item, key)
    elif isinstance(node, yaml.ScalarNode) and key in TEXT_KEYS:
        yield node.start_mark.line + 1, node.value


def rule_files() -> list[Path]:
    return sorted(RULES.rglob("*.yaml"))


def composed(path: Path) -> yaml.Node:
    node = yaml.compose(path.read_text(encoding="utf-8"))
    assert node is not None, path
    return node


@pytest.mark.parametrize("retired", RETIRED, ids=lambda retired: retired.refused)
def test_each_entry_refuses_its_sentence(retired: Retired) -> None:
    assert re.search(retired.pattern, retired.refused, re.IGNORECASE)
    assert not re.search(retired.pattern, retired.better, re.IGNORECASE)


def test_rule_texts_use_no_retired_words() -> None:
    found, count = [], 0
    for path in rule_files():
        for line, text in texts(composed(path)):
            count += 1
            for trouble in refused(text):
                found.append(f"{path.relative_to(ROOT)}:{line} {trouble}")
    assert count > 4000
    assert found == []


def test_texts_of_a_rule_are_found() -> None:
    rule = yaml.compose(
        "title: A\nvalues: {v: {is: 3 count, note: B}}\ncovers: I\njudge:\n"
        "  - fail: C\n    pass: D\n    fixes: [E, {when: x, say: F}]\n"
        "examples:\n  - {name: G, on: x, fixes: H, source: not read}\nsample: {title: not read}\n"
    )
    assert rule is not None
    assert [text for _, text in texts(rule)] == list("ABICDEFGH")


#: What no phrase that names elements has: names of fields, calls, comparisons, values in quotes.
PROGRAM = re.compile(r"_|\w[.(]\w|\B'\w|[=<>\"\[\]{}]")


def test_rules_say_in_words_what_they_cover() -> None:
    """A finding that does not apply gives this phrase, so no rule with conditions is without it."""
    found, count = [], 0
    for path in rule_files():
        rule = yaml.safe_load(path.read_text(encoding="utf-8"))
        if "rule" not in rule or "applies" not in rule or "amendment" in rule:
            continue
        count += 1
        phrase = rule.get("covers", "")
        if not phrase or PROGRAM.search(phrase) or phrase.endswith("."):
            found.append(f"{path.relative_to(ROOT)} {phrase!r}")
    assert count > 200
    assert found == []


@pytest.mark.parametrize(
    "phrase",
    [
        "boxes with box.kind",
        "entry_walls described",
        "size > 4 AWG",
        "count(wires)",
        "'air' described",
    ],
)
def test_an_expression_is_no_phrase(phrase: str) -> None:
    assert PROGRAM.search(phrase)


def test_fixes_are_imperatives() -> None:
    """A fix is a command to the designer and starts with a capital letter."""
    small = []
    for path in rule_files():
        if path.name.endswith(".examples.yaml"):
            continue
        for line, fix in fixes(composed(path)):
            if not fix[0].isupper():
                small.append(f"{path.relative_to(ROOT)}:{line} {fix}")
    assert small == []


def fixes(node: yaml.Node, key: str = "") -> Iterator[tuple[int, str]]:
    """The fixes of a rule file, each with its line number from 1."""
    if isinstance(node, yaml.MappingNode):
        for name, value in node.value:
            inside = "fixes" if key == "fixes" and name.value in ("say", "all") else name.value
            yield from fixes(value, inside)
    elif isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from fixes(item, key)
    elif isinstance(node, yaml.ScalarNode) and key == "fixes":
        yield node.start_mark.line + 1, node.value
