"""Reports for the tests of report forms: every kind of finding, and names that mean mischief."""

from __future__ import annotations

import os
from pathlib import Path

from checker.assembly import read_assembly
from checker.engine.evaluate import evaluate
from checker.findings.decisions import join_file
from checker.findings.finding import Report
from checker.rulebook.build import build

EDITION = "edition: code-1\ntitle: Code of trial\nshort: CODE 1\n"

#: One rule for each kind of finding.
RULES = {
    "turns": """\
rule: turns
title: The bends of a run stay within the permitted total
topic: bends
each: run
why: A long pull over many bends damages the insulation.
values: {permitted: {is: 360 deg, cite: "26", note: invented}}
steps:
  bent: {is: sum(b.total for b in run.bends), unit: deg, note: every bend}
measure: bent
limit: permitted
unit: deg
fail: "{bent} where {permitted} is permitted"
fixes: ["take out {bent - permitted as deg}"]
cite: {any: CODE 26}
""",
    "lengths": """\
rule: lengths
title: A raceway is not longer than permitted
topic: routing
each: raceway
at: length
applies: [raceway.method == 'EMT']
values: {longest: {is: 20 ft, cite: "31", note: invented}}
measure: raceway.length
limit: longest
unit: ft
review: "too long"
cite: {any: CODE 31}
""",
    "notes": """\
rule: notes
title: Boxes are few
topic: boxes
each: assembly
values: {few: {is: 1 count, cite: "9", note: invented}}
measure: count(assembly.boxes)
limit: few
unit: count
inform: "there are {count(assembly.boxes)}"
cite: {any: CODE 9}
""",
}

#: R1 fails, R2 passes and is not EMT, R3 is open, R4 is for review.
DESIGN = """\
assembly: T-1
title: Wall of trial
revision: A
quantity: 12
boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
raceways:
  - {id: R1, method: EMT, size: 3/4, from: A, to: B, length: 10 ft,
     bends: [{kind: bend, angle: 375 deg}]}
  - {id: R2, method: PVC40, size: 3/4, from: A, to: B, length: 10 ft, bends: []}
  - {id: R3, method: EMT, size: 3/4, from: A, to: B, bends: []}
  - {id: R4, method: EMT, size: 3/4, from: A, to: B, length: 30 ft, bends: []}
"""

DECISIONS = """\
decisions_for: T-1
decisions:
  - {rule: turns, element: R1, disposition: accepted, measure: 375 deg, date: 2026-04-01,
     authority: {name: Kestrel County Building Department, reference: BD-7}, person: A. Brook,
     role: plans examiner, reason: pulled before the joint closed, expires: 2026-12-31}
  - {rule: lengths, element: R4, disposition: not_applicable_here, measure: 25 ft,
     date: 2026-04-01, person: A. Brook, role: designer, reason: no pull}
"""

#: Names that a careless form would run, link, break out of, or choke on.
NASTY = (
    '=HYPERLINK("http://example.invalid","x")',
    "@SUM(1+1)*cmd|' /C calc'!A0".replace("+", "-"),
    "-2-3",
    "<script>alert(1)</script>",
    "</failure><testcase name='x'/>",
    "[x](http://example.invalid)",
    "![x](http://example.invalid/y.png)",
    "a|b|c",
    "`code` *bold* ~~gone~~",
    "&lt;b&gt; &amp;",
    "]]>",
    "http://example.invalid",
    "www.example.invalid",
    "<http://example.invalid>",
    "𝄞 Ω ≤ é",
)


def nasty_design() -> str:
    """A design whose elements bear the names, and whose title holds control characters."""
    lines = [
        "assembly: T-9",
        r'title: "bell \a escape \e[31m null \0 line\nbreak \u202e turned \ufffe end"',
        "boxes: [{id: A, kind: junction}, {id: B, kind: junction}]",
        "raceways:",
    ]
    for name in NASTY:
        quoted = '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'
        lines.append(
            f"  - {{id: {quoted}, method: EMT, size: 3/4, from: A, to: B, length: 30 ft,\n"
            "     bends: [{kind: bend, angle: 375 deg}]}"
        )
    return "\n".join(lines) + "\n"


def write_rules(folder: Path) -> str:
    """The folder of the small code's rules."""
    where = folder / "rules"
    (where / "editions").mkdir(parents=True, exist_ok=True)
    (where / "editions" / "code-1.yaml").write_text(EDITION, encoding="utf-8")
    for name, text in RULES.items():
        (where / f"{name}.yaml").write_text(text, encoding="utf-8")
    return os.fspath(where)


def report(
    folder: Path,
    design: str = DESIGN,
    decisions: str | None = None,
    as_of: str | None = "2026-05-01",
    name: str = "design.yaml",
) -> Report:
    """The report of a design, with decisions joined where they are given."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(design, encoding="utf-8")
    assembly, source = read_assembly(os.fspath(path))
    book = build("code-1", [], folder=write_rules(folder))
    made = Report(assembly, source, book, evaluate(book, assembly), notices=book.notices)
    if decisions is not None:
        file = folder / "decisions.yaml"
        file.write_text(decisions, encoding="utf-8")
        join_file(made, os.fspath(file), as_of)
    return made
