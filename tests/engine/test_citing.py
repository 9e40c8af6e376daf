"""A finding cites the section of its own method; the rule cites those of all.

Section numbers: 358.26 (EMT, to 2020) and 358.24(B) (2023), 348.26 and 348.24(B) (FMC), as read in
the 2023 text and secondary prints.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from checker.assembly import from_source
from checker.documents.errors import InputError
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.rulebook.book import load_rulebook
from checker.rulebook.build import build

DESIGN = """\
assembly: X
boxes: [{id: B1, kind: junction}, {id: B2, kind: junction}]
couplings: [{id: K}]
raceways:
  - {id: R1, method: EMT, size: 3/4, from: B1, to: K, bends: []}
  - {id: R2, method: METHOD, size: 3/4, from: K, to: B2, bends: []}
"""
COUNTY = """\
amendment: county
title: County
jurisdiction: County
effective: 2026-01-01
reference: Ordinance 1
changes:
  - {rule: bend-total, set: {permitted: 270 deg}, CITE, reason: pulled by hand, reference: "7.1"}
sample:
  boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
  raceways: [{id: R, method: EMT, from: A, to: B, bends: [{kind: bend, angle: 270 deg}]}]
examples:
  - {rule: bend-total, name: at it, on: R, expect: pass}
  - {rule: bend-total, name: beyond, on: R, set: {raceways.R.bends.0.angle: 271 deg}, expect: fail}
"""


def cited(book: Any, method: str) -> str:
    text = DESIGN.replace("METHOD", method) if method else DESIGN.replace(" method: METHOD,", "")
    found = evaluate(book, from_source(Source.of_text(text)))
    (one,) = [f for f in found if f.rule.id == "bend-total"]
    return one.citation


@pytest.mark.parametrize("edition", ["nec-2017", "nec-2020", "nec-2023"])
@pytest.mark.parametrize("make", [load_rulebook, build])  # kept, and compiled anew
def test_the_section_of_the_method(edition: str, make: Any) -> None:
    book = make(edition)
    year, number = edition[-4:], "24(B)" if edition == "nec-2023" else "26"
    assert cited(book, "EMT") == f"NEC {year} 358.{number}"
    assert cited(book, "FMC") == f"NEC {year} 348.{number}, 358.{number}"
    (rule,) = [r for r in book.rules if r.id == "bend-total"]
    # What is not stated, and a method without such a section, leave all of them.
    assert cited(book, "") == rule.citation
    assert rule.citation.startswith(f"NEC {year} 342.{number}, ")


def test_what_a_jurisdiction_changed_is_cited_too(tmp_path: Path) -> None:
    file = tmp_path / "county.yaml"
    file.write_text(COUNTY.replace(" CITE,", ""))
    book = load_rulebook("nec-2023", [str(file)])
    assert cited(book, "EMT") == "NEC 2023 358.24(B), as amended by County 7.1"
    file.write_text(COUNTY.replace("CITE", "cite: County Code 7.1"))
    assert cited(load_rulebook("nec-2023", [str(file)]), "EMT") == "County Code 7.1"


@pytest.mark.parametrize(
    ("old", "new", "nearest"),
    [
        ("of: methods", "of: methds", "methods"),
        ("wiring_methods", "wiring_method", "wiring_methods"),
        ("column: bends", "column: bend", "bends"),
    ],
)
def test_sections_that_are_nowhere(tmp_path: Path, old: str, new: str, nearest: str) -> None:
    import shutil

    from checker.paths import rules_folder

    folder = tmp_path / "rules"
    shutil.copytree(rules_folder(), folder)
    rule = folder / "bends" / "bend-total.yaml"
    text = rule.read_text()
    assert old in text
    rule.write_text(text.replace(old, new))
    with pytest.raises(InputError) as caught:
        build("nec-2023", folder=str(folder))
    (problem,) = caught.value.problems
    assert problem.suggestion == nearest
    assert "`sections:` of rule bend-total" in problem.message
