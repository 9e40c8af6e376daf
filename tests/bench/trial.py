"""Rules, an assembly and helpers for the tests of amendments."""

from __future__ import annotations

from checker.assembly import from_source
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.detail import Explainer
from checker.findings.finding import Finding
from checker.findings.traced import trace
from checker.rulebook.book import Rulebook

EDITION = """\
edition: {id}
title: Code of trial, {year}
short: CODE {year}
"""

TURNS = """\
rule: turns
title: The bends of a run stay within the permitted total
topic: bends
each: run
values:
  permitted: {is: 360 deg, in: {code-1: 300 deg}, cite: "26", note: invented}
steps:
  bent:
    is: sum(b.total for b in run.bends)
    unit: deg
    note: all bends
measure: bent
limit: permitted
unit: deg
fail: "{bent} of {permitted}; ask the authority having jurisdiction"
pass: "{bent} of {permitted}"
cite: {code-1: CODE 1 26, code-2: CODE 2 26}
"""

LENGTHS = """\
rule: lengths
title: A raceway is not longer than permitted
topic: routing
each: raceway
at: length
applies:
  - raceway.method == 'EMT'
  - raceway.size >= smallest
values:
  longest: {is: 20 ft, cite: "31", note: invented}
  smallest: {is: 1/2, as: trade_size, cite: "31", note: invented}
measure: raceway.length
limit: longest
unit: ft
fail: "{raceway.length} is longer than {longest}"
cite: {any: CODE 31}
"""

WIRES = """\
rule: wires
title: The rating is not above what the table gives
topic: ampacity
each: pull
values:
  column: {is: 75 degC, cite: "16", note: invented}
steps:
  given:
    is: >-
      min(ampacity.ampacity(material=w.material, column=column, size=w.size)
      for w in pull.ungrounded)
    unit: A
    note: smallest ampacity
measure: pull.breaker
limit: given
unit: A
judge:
  - when: pull.breaker > given
    review: "{pull.breaker} on {given}"
  - fail: "{pull.breaker} on {given}"
cite: {code-2: CODE 2 16}
"""

SAMPLE = """\
assembly: T
defaults: {wire: {material: copper, insulation: THHN}}
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits: [{id: P-1, panel: P, phases: [A], breaker: 20 A}]
boxes: [{id: A, kind: junction}, {id: B, kind: junction}, {id: C, kind: junction}]
raceways:
  - {id: R1, method: EMT, size: 3/4, from: A, to: B, length: 10 ft,
     bends: [{kind: bend, angle: 280 deg}]}
  - {id: R2, method: PVC40, size: 1/2, from: A, to: B, length: 30 ft,
     bends: [{kind: bend, angle: 361 deg}]}
cables:
  - {id: K1, method: AC, from: B, to: C, length: 6 ft}
pulls:
  - {id: W1, circuit: P-1, through: [R1], wires: [{role: phase, phase: A, size: 12 AWG}]}
"""

HEAD = """\
amendment: {id}
title: Trial
jurisdiction: {owner}
effective: 2026-01-01
reference: Ordinance 1
"""


def judge(book: Rulebook, text: str = SAMPLE) -> dict[tuple[str, str], Finding]:
    """Findings by (rule, element).  Fast and traced evaluation must say the same."""
    assembly = from_source(Source.of_text(text, "sample.yaml"))
    found = {}
    for finding in evaluate(book, assembly):
        again = trace(finding.rule, finding.form, finding.subject, assembly, book.vocabulary)
        assert (again.kind, again.code, again.measure, again.limit) == (
            finding.kind,
            finding.code,
            finding.measure,
            finding.limit,
        )
        found[finding.rule.id, finding.subject_id] = finding
    return found


def kinds(book: Rulebook, rule: str, text: str = SAMPLE) -> dict[str, str]:
    """Kind by element of one rule."""
    return {element: f.kind for (name, element), f in judge(book, text).items() if name == rule}


def message(book: Rulebook, rule: str, element: str, text: str = SAMPLE) -> str:
    """What is said of one finding."""
    assembly = from_source(Source.of_text(text, "sample.yaml"))
    explainer = Explainer(assembly, book.vocabulary, book.terms)
    for finding in evaluate(book, assembly):
        if (finding.rule.id, finding.subject_id) == (rule, element):
            return explainer.detail(finding).message
    raise AssertionError(f"no finding of {rule} on {element}")
