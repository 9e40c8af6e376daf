"""Reports for the tests of the submittal report: the sample wall, and names that mean mischief."""

from __future__ import annotations

import os
from argparse import Namespace
from pathlib import Path

from checker.cli.loading import load_report
from checker.findings.finding import Report

SAMPLES = Path(__file__).parents[2] / "samples"

#: Texts that a careless form would run, read as markup, reorder, or choke on.  No `+`: it joins
#: the names of runs.
NASTY = (
    "<script>alert(1)</script>",
    "</script><script>document.title='taken'</script>",
    "</style><img src=x onerror=alert(2)>",
    '" onmouseover="alert(3)" x=\'y',
    "]]><!--",
    "&lt;b&gt; &amp;",
    '#panic("typst") $x^2$ *bold* _em_ `raw` @label <label> \\',
    "http://example.invalid/x.png",
    "javascript:alert(4)",
    "אבג شكل",  # right to left
    "漢字かな 😀 𝄞",  # no font of the PDF has these
    "N" * 199,
    "a|b|c\\u0041",
)
LONG = "long " + "word" * 2500  # 10,000 characters without a place to break


def load(path: str | os.PathLike[str], **options: object) -> Report:
    """The report of a file, as the command makes it."""
    chosen = {"edition": None, "amend": [], "decisions": None, "as_of": None, **options}
    return load_report(Namespace(file=os.fspath(path), **chosen))


def quoted(text: str) -> str:
    """A text in YAML's double quotes."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def nasty_design() -> str:
    """A wall whose boxes, raceways and pulls bear the names, with drawings and failing fills."""
    lines = [
        "assembly: " + quoted("W <b>1</b>"),
        "title: " + quoted(LONG[:4900]),  # the reader refuses longer ones
        r'revision: "\u202eA\u202c"',
        r'project: "bell \a, escape \e[31m, turned \u202e, line\nbreak"',
        "quantity: 2",
        "basis: {edition: nec-2023, ambient: 30 degC, authority: {name: "
        + quoted("<img src=x>")
        + "}}",
        "defaults: {wire: {material: copper, insulation: THHN}, terminals: 75 degC}",
        "panels: [{id: P1, branch: normal, system: 208Y/120}]",
        "circuits: [{id: " + quoted("C<1>") + ", panel: P1, phases: [A], breaker: 20 A}]",
        "sections: [{id: " + quoted("S<1>") + ", width: 40 ft, height: 9 ft}]",
        "boxes:",
    ]
    for place, name in enumerate(NASTY):
        lines.append(
            f"  - {{id: {quoted(name)}, section: {quoted('S<1>')}, kind: outlet, "
            f"trade_size: 4 x 1-1/4 square, at: [{20 + 34 * place} in, 40 in]}}"
        )
    lines.append("raceways:")
    for name in NASTY:
        lines.append(
            f"  - {{id: {quoted('R ' + name[:190])}, method: EMT, size: 1/2, from: P1, "
            f"to: {quoted(name)}, length: 10 ft, bends: [{{kind: bend, angle: 375 deg}}]}}"
        )
    lines.append("pulls:")
    for name in NASTY:
        lines.append(
            f"  - {{id: {quoted('W ' + name[:190])}, circuit: {quoted('C<1>')}, "
            f"through: [{quoted('R ' + name[:190])}], wires: [{{role: phase, phase: A, count: 12, "
            f"size: 12 AWG, color: {quoted('<i>red</i>')}}}]}}"
        )
    return "\n".join(lines) + "\n"


def many_boxes(count: int) -> str:
    """A wall of so many boxes on one panel, none of them with a place."""
    lines = [
        "assembly: MANY",
        "basis: {edition: nec-2023, ambient: 30 degC}",
        "defaults: {wire: {material: copper, insulation: THHN}, terminals: 75 degC}",
        "panels: [{id: P1, branch: normal, system: 208Y/120}]",
        "circuits: [{id: C1, panel: P1, phases: [A], breaker: 20 A, load: 720 VA, "
        "continuous_load: 0 VA, outlets: several, nonlinear: false}]",
        "boxes:",
    ]
    lines += [f"  - {{id: B{n}, kind: outlet, trade_size: 4 x 2-1/8 square}}" for n in range(count)]
    lines.append("raceways:")
    lines += [
        f"  - {{id: R{n}, method: EMT, size: 1/2, from: {f'B{n - 1}' if n % 8 else 'P1'}, "
        f"to: B{n}, length: 3 ft}}"
        for n in range(count)
    ]
    lines.append("pulls:")
    lines += [
        f"  - {{id: W{n}, circuit: C1, through: [R{n}], wires: ["
        "{role: phase, phase: A, size: 12 AWG}, {role: neutral, size: 12 AWG}, "
        f"{{role: ground, size: {14 if n % 9 == 0 else 12} AWG}}]}}"
        for n in range(count)
    ]
    return "\n".join(lines) + "\n"
