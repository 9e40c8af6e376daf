"""The amendments of the fictional county: every kind of change, on the samples too."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from checker.assembly import read_assembly
from checker.engine.evaluate import evaluate
from checker.findings.traced import trace
from checker.rulebook.book import edition_ids, load_rulebook
from checker.rulebook.fits import OF_RULE, OF_SHARED, OF_TABLE, OWN

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "rules" / "amendments"
FIRST, SECOND = (os.fspath(FOLDER / f"kestrel-county{end}.yaml") for end in ("", "-2027"))


@pytest.mark.parametrize("edition", edition_ids())
def test_they_show_every_kind_of_change(edition):
    book = load_rulebook(edition, [SECOND], date="2027-01-01")
    assert [a.id for a in book.amendments] == ["kestrel-county", "kestrel-county-2027"]
    changes = [change for a in book.amendments for change in a.file.changes]
    used = {key for change in changes for key in change.node}
    assert used >= {*OF_RULE, *OF_TABLE, *OF_SHARED, *OWN, "shared", "amendment", "supersedes"}
    assert book.terms == {"authority having jurisdiction": "electrical plan officer"}
    assert all(change.reason and change.reference for change in changes)
    # Nothing is idle, and the only conflict is meant.
    assert book.notices == ()


@pytest.mark.parametrize(
    ("date", "in_force"),
    [
        ("2025-12-31", [False, False]),
        ("2026-01-01", [True, False]),
        ("2026-12-31", [True, False]),
        ("2027-01-01", [True, True]),
    ],
)
def test_when_they_are_in_force(date, in_force):
    book = load_rulebook("nec-2023", [SECOND], date=date)
    assert [a.in_force for a in book.amendments] == in_force
    limit = book.find("bend-total").record.values["permitted"].part.value
    assert limit == {0: "360 deg", 1: "270 deg", 2: "315 deg"}[sum(in_force)]
    assert ("kestrel-metal-methods" in {r.id for r in book.rules}) is in_force[0]
    assert ("joint-pulled-in-shop" in book.withdrawn) is in_force[0]


@pytest.mark.parametrize("amendments", [[FIRST], [SECOND]])
@pytest.mark.parametrize("path", sorted(ROOT.glob("samples/*.yaml")), ids=lambda p: p.stem)
def test_fast_and_traced_agree_under_them(path, amendments):
    assembly, _ = read_assembly(path)
    book = load_rulebook("nec-2023", amendments, date="2027-03-02")
    findings = evaluate(book, assembly)
    assert len(findings) > 100
    for finding in findings:
        again = trace(finding.rule, finding.form, finding.subject, assembly, book.vocabulary)
        assert (again.kind, again.code, again.measure, again.limit) == (
            finding.kind,
            finding.code,
            finding.measure,
            finding.limit,
        ), f"{finding.rule.id} {finding.subject_id}"
