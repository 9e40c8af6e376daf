"""A rule whose values could leave the range of floats is left to the traced evaluation.

An infinity compares as more than any limit, so compiled code would decide where nothing was
calculated.  The largest float is about 1.8e308 (IEEE 754 binary64).
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from checker.assembly import from_source
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.traced import trace
from checker.language.check import check
from checker.language.types import MOST_DIGITS, PLAIN, Number, Vocabulary, sized
from checker.rulebook.book import load_rulebook
from checker.rulebook.build import build
from checker.rulebook.code import may_overflow

RULE = """\
amendment: much
title: Trial
jurisdiction: Kestrel County
effective: 2026-01-01
reference: Ordinance 1
changes:
  - add:
      rule: much
      title: More than there is
      topic: trial
      each: box
      values: {x: {is: 1e30 ratio, cite: a}}
      steps: {a: x * x * x * x, b: a * a * a}
      judge: {measure: count(box.wires), limit: "2", require: b > 1, fail: "{b}"}
    reason: r
    reference: s
"""
DESIGN = "assembly: T\ntitle: Trial\nboxes: [{id: B, kind: junction}]\n"


def test_an_infinite_step_decides_nothing(tmp_path: Path) -> None:
    (tmp_path / "much.yaml").write_text(RULE, "utf-8")
    book = load_rulebook("nec-2023", [str(tmp_path / "much.yaml")])
    assembly = from_source(Source.of_text(DESIGN))
    (found,) = [f for f in evaluate(book, assembly) if f.rule.id == "much"]
    assert (found.kind, found.defect) == ("open", "the result is not a finite number")
    slow = trace(found.rule, found.form, found.subject, assembly, book.vocabulary)
    assert (slow.kind, slow.defect) == (found.kind, found.defect)


def test_every_shipped_rule_is_far_from_it() -> None:
    for edition in ("nec-2017", "nec-2020", "nec-2023"):
        forms = [form for rule in build(edition).rules for form in rule.forms.values()]
        assert not any(map(may_overflow, forms))


@pytest.mark.parametrize(
    "text",
    [
        "x * x * x * x * x * x * x * x * x",
        "((x ** 2) ** 2) ** 2 * x",
        "max(v for v in [x * x * x * x] if v * v * v > 1)",
        "1 if x" + 8 * " / (1 / x)" + " > 1 else 0",
        "count(v for v in [x ** 2] for u in [v ** 2] if u ** 2 * x > 1)",
    ],
)
def test_what_could_be_too_much_is_seen(text: str) -> None:
    assert check(text, {"x": PLAIN}, Vocabulary({}, {})).digits > MOST_DIGITS


def test_a_value_of_the_rule_counts_for_what_it_is() -> None:
    for value, text in ((1.25, "x * x * x * x * x * x * x * x * x * x * x"), (1e30, "x * x * x")):
        checked = check(text, {"x": sized(PLAIN, value)}, Vocabulary({}, {}))
        assert isinstance(checked.kind, Number)
        assert math.log10(eval(text, {"x": value})) <= checked.kind.digits <= checked.digits
        assert checked.digits <= MOST_DIGITS
