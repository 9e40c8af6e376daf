"""Look-ups of a rule, each in its own table and column."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from checker.assembly import from_source
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.detail import Explainer
from checker.findings.traced import trace
from checker.language.trace import Tracer
from checker.language.worked import Worker
from checker.rulebook import vocabulary
from checker.rulebook.build import build

EDITION = "edition: code-1\ntitle: Code of trial\nshort: CODE 1\n"
TABLE = """\
table: {name}
title: Invented
cite: {{any: CODE 9}}
note: invented
keys: {{method: {{type: text}}}}
columns: {{{column}: {{unit: in, source: invented, checked: not checked}}}}
rows: [[EMT, {value}]]
"""
RULE = """\
rule: reach
title: A raceway is not longer than both tables say together
topic: routing
each: raceway
measure: raceway.length
limit: box.fill_reach(method=raceway.method) + box_fill.reach(method=raceway.method)
fail: "{raceway.length}"
cite: {any: CODE 31}
"""
DESIGN = """\
assembly: T
title: Wall of trial
boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
raceways: [{id: R1, method: EMT, size: 1/2, from: A, to: B, length: 10 in}]
"""


def test_names_that_join_alike_are_two_tables(tmp_path: Path) -> None:
    """Column ``fill_reach`` of ``box`` and column ``reach`` of ``box_fill``: 2 in + 8 in."""
    for name, text in {
        "rules/editions/code-1.yaml": EDITION,
        "rules/reach.yaml": RULE,
        "tables/box.yaml": TABLE.format(name="box", column="fill_reach", value=2),
        "tables/box_fill.yaml": TABLE.format(name="box_fill", column="reach", value=8),
    }.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    rules, tables = os.fspath(tmp_path / "rules"), os.fspath(tmp_path / "tables")
    book = build("code-1", folder=rules, tables=tables)
    assembly = from_source(Source.of_text(DESIGN))
    (found,) = evaluate(book, assembly)
    assert (found.kind, found.limit) == ("pass", 10)
    slow = trace(found.rule, found.form, found.subject, assembly, book.vocabulary)
    assert (slow.kind, slow.limit) == (found.kind, found.limit)


MANY = """\
assembly: T
basis: {{edition: nec-2023, ambient: 30 degC}}
defaults: {{wire: {{material: copper, insulation: THHNX}}}}
panels: [{{id: P, branch: normal, system: 208Y/120}}]
circuits: [{{id: C, panel: P, phases: [A], breaker: 20 A}}]
boxes: [{{id: A, kind: junction}}, {{id: B, kind: junction}}]
raceways: [{{id: R1, method: EMT, size: 1/2, from: A, to: B, length: 10 ft}}]
pulls:
  - {{id: W, circuit: C, through: [R1], wires: [{{role: phase, size: 12 AWG, count: {count}}}]}}
"""


def _work(count: int, monkeypatch: pytest.MonkeyPatch) -> tuple[int, int, int]:
    """Searches for a nearest name, steps traced, steps written out, of a pull of so many wires."""
    done = dict.fromkeys(("nearest", "visit", "text"), 0)

    def counted(name: str, real: Any) -> Any:
        def one(*given: Any) -> Any:
            done[name] += 1
            return real(*given)

        return one

    with monkeypatch.context() as patch:
        patch.setattr(vocabulary, "nearest", counted("nearest", vocabulary.nearest))
        patch.setattr(Tracer, "visit", counted("visit", Tracer.visit))
        patch.setattr(Worker, "text", counted("text", Worker.text))
        book = build("nec-2023")
        assembly = from_source(Source.of_text(MANY.format(count=count)))
        findings = evaluate(book, assembly)
        explainer = Explainer(assembly, book.vocabulary, {})
        said = [explainer.detail(finding).message for finding in findings]
    assert any("nearest: THHN" in message for message in said)
    return done["nearest"], done["visit"], done["text"]


def test_a_missing_entry_costs_once_and_not_for_each_conductor(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    few, many = _work(3, monkeypatch), _work(1500, monkeypatch)
    assert 0 < few[0] < 20
    assert many[0] == few[0]
    assert many[1] < 2 * few[1]
    assert many[2] < 2 * few[2]
