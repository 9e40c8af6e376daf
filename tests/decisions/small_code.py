"""A code of five invented rules, an assembly that breaks them, and helpers to decide on findings.

Every expected number follows from the assembly by hand: run R1 bends 375 degrees, R1 is 21.5 ft
long, R2's length is not stated, R3 does not bend; W1 is 14 AWG, which the shipped table gives 20 A,
behind a breaker of 25 A.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from checker.assembly import from_source
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.decision_records import read_decisions
from checker.findings.decisions import Judged, join
from checker.findings.finding import Finding, Report
from checker.rulebook.book import Rulebook
from checker.rulebook.build import build

EDITION = "edition: code-1\ntitle: Code of trial\nshort: CODE 1\n"

RULES = {
    # the limit is a value of the rule
    "turns": """\
rule: turns
title: The bends of a run stay within the permitted total
topic: bends
each: run
values: {permitted: {is: 360 deg, cite: "26", note: invented}}
measure: sum(b.total for b in run.bends)
limit: permitted
unit: deg
fail: "too many bends"
cite: {any: CODE 26}
""",
    # a review; measured in feet, so that rounding shows
    "lengths": """\
rule: lengths
title: A raceway is not longer than permitted
topic: routing
each: raceway
values: {longest: {is: 20 ft, cite: "31", note: invented}}
measure: raceway.length
limit: longest
unit: ft
review: "too long"
cite: {any: CODE 31}
""",
    # the limit follows from the design
    "rating": """\
rule: rating
title: The breaker is not above what the wire carries
topic: ampacity
each: pull
steps:
  carries:
    is: >-
      min(ampacity.ampacity(material=w.material, column=column, size=w.size)
      for w in pull.ungrounded)
    unit: A
values: {column: {is: 75 degC, cite: "16", note: invented}}
measure: pull.breaker
limit: carries
unit: A
fail: "too much"
cite: {any: CODE 16}
""",
    # the measure has to reach its limit, and is a designation
    "wire": """\
rule: wire
title: A wire is not smaller than permitted
topic: wires
each: pull
values: {smallest: {is: 8 AWG, as: wire_size, cite: "5", note: invented}}
measure: min(w.size for w in pull.ungrounded)
limit: smallest
at_least: true
fail: "too small"
cite: {any: CODE 5}
""",
    # a requirement of its own: which way is worse is not known
    "odd": """\
rule: odd
title: The number of wires is the one permitted
topic: wires
each: raceway
applies: [raceway.method == 'EMT']
values: {right: {is: 2 count, cite: "6", note: invented}}
measure: count(raceway.wires)
limit: right
unit: count
require: count(raceway.wires) == right
fail: "another number"
cite: {any: CODE 6}
""",
}

DESIGN = """\
assembly: T-1
revision: A
quantity: 12
defaults: {wire: {material: copper, insulation: THHN}}
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits: [{id: P-1, panel: P, phases: [A], breaker: 25 A}]
boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
raceways:
  - {id: R1, method: EMT, size: 3/4, from: A, to: B, length: 21.5 ft,
     bends: [{kind: bend, angle: 375 deg}]}
  - {id: R2, method: PVC40, size: 3/4, from: A, to: B, bends: [{kind: bend, angle: 90 deg}]}
  - {id: R3, method: PVC40, size: 3/4, from: A, to: B, length: 10 ft, bends: []}
pulls:
  - {id: W1, circuit: P-1, through: [R1], wires: [{role: phase, phase: A, size: 14 AWG}]}
"""


def code(folder: Path, amendments: dict[str, str] | None = None, **rules: str) -> Rulebook:
    """The rulebook, with rules replaced and amendments (file name: text) applied."""
    where = folder / "rules"
    (where / "editions").mkdir(parents=True, exist_ok=True)
    (where / "editions" / "code-1.yaml").write_text(EDITION, encoding="utf-8")
    for name, text in {**RULES, **rules}.items():
        (where / f"{name}.yaml").write_text(text, encoding="utf-8")
    paths = []
    for name, text in (amendments or {}).items():
        path = folder / f"{name}.yaml"
        path.write_text(text, encoding="utf-8")
        paths.append(os.fspath(path))
    return build("code-1", paths, date="2026-12-31", folder=os.fspath(where))


def decision(**changes: Any) -> str:
    """A decision on ``turns`` as text; a key given as None is left out."""
    keys = {
        "rule": "turns",
        "element": "R1",
        "disposition": "accepted",
        "measure": "375 deg",
        "authority": "{name: Kestrel County Building Department, reference: BD-2026-114}",
        "person": "A. Brook",
        "role": "plans examiner",
        "date": "2026-04-01",
        "reason": "pulled before the joint closed",
    } | changes
    lines = [f"{key}: {value}" for key, value in keys.items() if value is not None]
    return "  - " + "\n    ".join(lines) + "\n"


def file(*decisions: str, assembly: str = "T-1") -> str:
    """A decision file as text."""
    return f"decisions_for: {assembly}\ndecisions:\n" + "".join(decisions)


def findings(book: Rulebook, design: str = DESIGN) -> list[Finding]:
    """What is found in the design."""
    return evaluate(book, from_source(Source.of_text(design, "design.yaml")))


def joined(
    book: Rulebook, text: str, as_of: str | None = "2026-05-01", design: str = DESIGN
) -> tuple[Report, tuple[Judged, ...]]:
    """A report with the decisions of a file joined."""
    source = Source.of_text(design, "design.yaml")
    assembly = from_source(source)
    found = evaluate(book, assembly)
    decisions_source = Source.of_text(text, "decisions.yaml")
    read = read_decisions(decisions_source)
    judged = join(found, read, decisions_source, as_of, book, assembly.id)
    return Report(assembly, source, book, found, decisions=judged), judged


def finding(report: Report, rule: str, element: str = "R1") -> Finding:
    """One finding of a report."""
    return next(f for f in report.findings if (f.rule.id, f.subject_id) == (rule, element))
