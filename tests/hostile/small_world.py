"""A small code of its own for attacks: one rule, one table, one edition."""

from __future__ import annotations

import os
from pathlib import Path

from checker.rulebook.book import Rulebook
from checker.rulebook.build import build

EDITION = "edition: code-1\ntitle: Code of trial\nshort: CODE 1\n"

RULE = """\
rule: reach
title: A raceway is not longer than the shop may make it
topic: routing
each: raceway
applies: ["1 > 0"]
values: {longest: {is: 20 ft, cite: "31", note: invented}}
steps: {one: {is: "1"}}
judge: {measure: raceway.length * one, limit: longest, fail: "{raceway.length} of {longest}"}
cite: {any: CODE 31}
"""

TABLE = """\
table: bores
title: Areas of bores
cite: {any: CODE 9}
note: invented
keys: {method: {type: text}, size: {type: trade_size}}
columns: {area: {unit: in², source: invented, checked: not checked}}
rows:
  - [EMT, 1/2, 0.3]
  - [EMT, 3/4, 0.5]
"""

HEAD = """\
amendment: county
title: Trial
jurisdiction: Kestrel County
effective: 2026-01-01
reference: Ordinance 1
"""

DESIGN = """\
assembly: T
title: Wall of trial
defaults: {wire: {material: copper, insulation: THHN}}
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits: [{id: P-1, panel: P, phases: [A], breaker: 20 A}]
boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
raceways: [{id: R1, method: EMT, size: 1/2, from: A, to: B, length: 10 ft}]
pulls: [{id: W1, circuit: P-1, through: [R1], wires: [{role: phase, size: 12 AWG}]}]
"""


def write(folder: Path, files: dict[str, str]) -> None:
    """Write files below a folder."""
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode("utf-8", "surrogateescape"))


def settle(folder: Path, rule: str = RULE, **more: str) -> None:
    """The whole small world, with another rule or further files."""
    write(
        folder,
        {
            "rules/editions/code-1.yaml": EDITION,
            "rules/routing/reach.yaml": rule,
            "tables/bores.yaml": TABLE,
            **more,
        },
    )


def load(folder: Path, *amendments: str) -> Rulebook:
    """The rulebook of the small world.  Raises InputError."""
    return build(
        "code-1",
        [os.fspath(folder / name) for name in amendments],
        date="2026-06-01",
        folder=os.fspath(folder / "rules"),
        tables=os.fspath(folder / "tables"),
    )
