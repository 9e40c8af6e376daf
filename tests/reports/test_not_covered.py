"""Every form of a report says what the check does not cover.

Expected counts are counted by hand in the sample wall's file and in ``rules/coverage.yaml``.
"""

from __future__ import annotations

import csv
import io
import json
import subprocess
from pathlib import Path

import pytest

from checker.assembly import from_source
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.finding import Report
from checker.findings.not_covered import not_covered
from checker.reports import html_form, pdf_form, text_form
from checker.reports.forms import written
from checker.reports.style import Style
from checker.rulebook.book import load_rulebook
from checker.rulebook.build import build
from checker.rulebook.coverage import read_coverage

SAMPLE = Path(__file__).parents[2] / "samples" / "recovery-wall.yaml"
REASON = "the hanger contractor lays them out"
LEFT_OUT = f"not_covered: [{{topic: supports, reason: {REASON}, by: T. Designer}}]\n"


@pytest.fixture(scope="module")
def report() -> Report:
    source = Source.of_text(SAMPLE.read_text(encoding="utf-8") + LEFT_OUT)
    assembly, book = from_source(source), load_rulebook("nec-2023")
    return Report(assembly, source, book, evaluate(book, assembly))


def test_the_three_lists(report: Report) -> None:
    data = not_covered(report.assembly, report.book)
    assert data["left_out"] == [
        {"topic": "supports", "reason": REASON, "by": "T. Designer", "partly_described": True}
    ]
    # In the file: two pulls with `pulled: site`; three raceways whose end is `field`.
    text = SAMPLE.read_text(encoding="utf-8")
    pulls = sum(text.count(f"pulled: site{end}") for end in (",", "}", "\n"))
    ends = sum(text.count(f"{key}: field{end}") for key in ("from", "to") for end in (",", "}"))
    assert [row["class"] for row in data["site"]] == ["pull"] * pulls + ["raceway"] * ends
    assert pulls + ends > 2
    open_lines = [r for r in read_coverage() if r.state != "covered"]
    assert [row["requirement"] for row in data["requirements"]] == [
        r.requirement for r in open_lines
    ]
    by = {row["section"]: row["decided_by"] for row in data["requirements"]}
    assert by["90.7, 110.2"] == "the authority having jurisdiction"


def test_a_withdrawn_rule_leaves_its_requirement_uncovered(tmp_path: Path) -> None:
    amendment = tmp_path / "a.yaml"
    amendment.write_text(
        "amendment: kestrel-x\ntitle: X\njurisdiction: Kestrel County\neffective: 2026-01-01\n"
        "reference: R\nchanges:\n"
        "  - {rule: raceway-fill, withdraw: true, reason: r, reference: s}\n",
        encoding="utf-8",
    )
    book = build("nec-2023", [str(amendment)], date="2026-02-01")
    source = Source.of_text(SAMPLE.read_text(encoding="utf-8"))
    rows = not_covered(from_source(source), book)["requirements"]
    (row,) = [row for row in rows if row["requirement"].startswith("Raceway fill is limited")]
    assert row["state"] == "not"
    assert row["missing"] == "raceway-fill, withdrawn by amendment kestrel-x"


def test_text_and_markdown(report: Report) -> None:
    for said in (text_form.render(report, Style(False, 80)), written("markdown", [report])):
        assert "Not covered by this check" in " ".join(said.split())
        flat = " ".join(said.split())
        assert f"left out by the design: supports ({REASON}; T. Designer)" in flat.replace("\\", "")
        assert "have no rule" in flat
        assert "own work" in flat


def test_html_pdf_and_what_they_carry(report: Report, tmp_path: Path) -> None:
    page = html_form.render(report)
    section = page[page.index('<section id="not-covered">') :]
    section = section[: section.index("</section>")]
    file = tmp_path / "r.pdf"
    file.write_bytes(pdf_form.render(report))
    printed = subprocess.run(
        ["pdftotext", "-layout", str(file), "-"], check=True, capture_output=True, text=True
    ).stdout
    assert "Not covered by this check" in printed
    flat = " ".join(printed.split())
    for words in (REASON, "T. Designer", "no rule checks it", "pulled by the site"):
        assert words in section
        assert words in flat, words
    uncovered = [r for r in read_coverage() if r.state != "covered"]
    assert section.count("<tr>") >= len(uncovered)


def test_data_forms(report: Report) -> None:
    data = not_covered(report.assembly, report.book)
    assert json.loads(written("json", [report]))["not_covered"] == data
    run = json.loads(written("sarif", [report]))["runs"][0]
    assert run["properties"]["notCovered"] == data
    notes = run["invocations"][0]["toolConfigurationNotifications"]
    assert any(n["level"] == "note" and REASON in n["message"]["text"] for n in notes)
    assert f"left out by the design: supports ({REASON}" in written("junit", [report])


def test_csv_says_what_was_left_out(report: Report) -> None:
    """The sheet has findings only; those that were not judged for it give the reason."""
    source = Source.of_text(
        "assembly: W\nbasis: {edition: nec-2023}\n"
        "boxes: [{id: B1, kind: junction}, {id: B2, kind: junction}]\n"
        "raceways: [{id: R1, from: B1, to: B2, length: 8 ft}]\n" + LEFT_OUT
    )
    assembly = from_source(source)
    small = Report(assembly, source, report.book, evaluate(report.book, assembly))
    rows = list(csv.DictReader(io.StringIO(written("csv", [small]))))
    (row,) = [r for r in rows if r["rule"] == "undescribed-supports"]
    assert row["kind"] == "notApplicable"
    assert REASON in row["message"]
