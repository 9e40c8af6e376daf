"""A small rulebook of its own, so that tests of amendments do not move with the shipped rules."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from checker.documents.errors import InputError
from checker.rulebook.book import Rulebook
from checker.rulebook.build import build

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
judge:
  measure: bent
  limit: permitted
  unit: deg
  message: "{bent} of {permitted}; ask the authority having jurisdiction"
  passes: "{bent} of {permitted}"
cite: {code-1: CODE 1 26, code-2: CODE 2 26}
"""

LENGTHS = """\
rule: lengths
title: A raceway is not longer than permitted
topic: routing
each: raceway
at: length
when:
  - raceway.method == 'EMT'
  - raceway.size >= smallest
values:
  longest: {is: 20 ft, cite: "31", note: invented}
  smallest: {is: 1/2, as: trade_size, cite: "31", note: invented}
judge:
  measure: raceway.length
  limit: longest
  unit: ft
  message: "{raceway.length} is longer than {longest}"
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
    is: min(ampacity.ampacity(material=w.material, column=column, size=w.size) for w in pull.ungrounded)
    unit: A
    note: smallest ampacity
judge:
  - when: pull.breaker > given
    measure: pull.breaker
    limit: given
    unit: A
    fails_as: review
    message: "{pull.breaker} on {given}"
  - measure: pull.breaker
    limit: given
    unit: A
    message: "{pull.breaker} on {given}"
cite: {code-2: CODE 2 16}
"""

SAMPLE = """\
assembly: T
defaults: {wire: {material: copper, insulation: THHN}}
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits: [{id: P-1, panel: P, phases: [A], breaker: 20 A}]
boxes: [{id: A, kind: junction}, {id: B, kind: junction}, {id: C, kind: junction}]
raceways:
  - {id: R1, method: EMT, size: 3/4, from: A, to: B, length: 10 ft, bends: [{kind: bend, angle: 280 deg}]}
  - {id: R2, method: PVC40, size: 1/2, from: A, to: B, length: 30 ft, bends: [{kind: bend, angle: 361 deg}]}
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


@pytest.fixture(scope="session")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two editions and three rules; ``wires`` is in the later edition alone."""
    folder = tmp_path_factory.mktemp("trial") / "rules"
    (folder / "editions").mkdir(parents=True)
    (folder / "topic").mkdir()
    for number in ("1", "2"):
        text = EDITION.format(id=f"code-{number}", year=number)
        (folder / "editions" / f"code-{number}.yaml").write_text(text, encoding="utf-8")
    for name, text in (("turns", TURNS), ("lengths", LENGTHS), ("wires", WIRES)):
        (folder / "topic" / f"{name}.yaml").write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def amend(tmp_path: Path) -> Callable[..., str]:
    """Writes an amendment whose changes are given as text; gives its path."""

    def write(changes: str, name: str = "one", head: str = HEAD, owner: str = "Kestrel County") -> str:
        path = tmp_path / f"{name}.yaml"
        lead = head.format(id=name, owner=owner)
        body = "changes:\n" + changes if changes else ""
        path.write_text(lead + body, encoding="utf-8")
        return os.fspath(path)

    return write


@pytest.fixture
def load(rules: Path) -> Callable[..., Rulebook]:
    """Builds the small rulebook with amendments."""

    def give(*paths: str, edition: str = "code-2", date: str | None = "2026-06-01") -> Rulebook:
        return build(edition, list(paths), date=date, folder=os.fspath(rules))

    return give


@pytest.fixture
def refused(load: Callable[..., Rulebook]) -> Callable[..., str]:
    """What is said of amendments that cannot be used."""

    def give(*paths: str, **more: str) -> str:
        with pytest.raises(InputError) as caught:
            load(*paths, **more)
        return str(caught.value)

    return give
