"""What a report holds: order, sheets, schedules, what rests on memory, decisions."""

from __future__ import annotations

from pathlib import Path

import pytest
from submittals import SAMPLES, load

from checker.findings.finding import Report
from checker.findings.kinds import KINDS, counts_in_words
from checker.reports import calculations
from checker.reports.json_form import report_object
from checker.reports.pdf_form import layout
from checker.reports.report_view import ReportView


@pytest.fixture(scope="module")
def content(wall: Report) -> ReportView:
    return ReportView(wall)


def test_what_needs_action_is_numbered_first(content: ReportView) -> None:
    order = {kind: place for place, kind in enumerate(KINDS)}
    places = [order[entry.kind] for entry in content.findings]
    assert places == sorted(places)
    assert [entry.number for entry in content.findings] == list(range(1, len(places) + 1))
    assert list(KINDS)[:3] == ["fail", "open", "review"]


def test_every_form_says_the_same(wall: Report, content: ReportView) -> None:
    """Short words are made otherwise than those beside a calculation; data has the latter."""
    keys = ("rule", "kind", "message", "fixes")
    said = [(f.rule, f.kind, f.message, list(f.fixes)) for f in content.unnumbered]
    assert said == [tuple(f[key] for key in keys) for f in report_object(wall)["findings"]]
    texts = [
        [(f[k] or {}).get("text", "") for k in ("measure", "limit")]
        for f in report_object(wall)["findings"]
    ]
    assert [[f.measure, f.limit] for f in content.unnumbered] == texts


def test_nothing_is_lost(wall: Report, content: ReportView) -> None:
    assert len(content.findings) == len(wall.findings)
    listed = [f.number for element in content.elements for f in element.findings]
    assert sorted(listed) == [entry.number for entry in content.findings]


class TestSheets:
    def test_every_finding_that_needs_action_has_one(self, content: ReportView) -> None:
        numbers = {made.finding.number for made in content.calculations}
        for entry in content.findings:
            if entry.needs_action and entry.measure and entry.rule in ("box-fill", "raceway-fill"):
                assert entry.number in numbers

    def test_every_rule_with_steps_has_one(self, wall: Report, content: ReportView) -> None:
        shown = {made.finding.rule for made in content.calculations}
        judged = {f.rule.id for f in wall.findings if f.case is not None and f.case.steps}
        assert judged == shown

    def test_a_sheet_has_numbers_and_result(self, content: ReportView) -> None:
        """HN: 30 A × 1 × 50 % = 15 A (Tables 310.16, 310.15(C)(1), ten conductors)."""
        entry = next(e for e in content.findings if e.rule == "conductor-ampacity")
        sheet = next(c for c in content.calculations if c.finding is entry)
        line = next(line for line in sheet.steps if line.name == "corrected ampacity")
        assert line.numbers == "30 A × 1 × 50 %"
        assert line.result == "15 A"
        assert ("nipple_length", "24 in", "310.15") in sheet.constants

    def test_limits_are_kept_and_told(self, wall: Report, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(calculations, "MOST_ACTION", 3)
        monkeypatch.setattr(calculations, "MOST_PASSING", 4)
        content = ReportView(wall)
        assert len(content.calculations) == 7
        assert "findings that need action" in content.left_out
        assert "explain" in content.left_out


def test_measure_against_limit_multiplies_out(content: ReportView) -> None:
    """450° of 360° are 1.25, and 6 in over 5 in 1.20: over 1 is beyond the limit either way."""
    against = {(e.rule, e.element.id): e.against for e in content.findings}
    assert against["bend-total", "TC12a+TC12b"] == "450° (360° max, ratio 1.25)"
    assert against["free-conductor", "L3"] == "5 in (6 in min, ratio 1.20)"
    assert against["patient-receptacle-listing", "C22"] == ""  # "1, at most 0" says nothing
    bounds = {(e.rule, e.element.id): e.bound for e in content.findings}
    assert bounds["bend-total", "TC12a+TC12b"] == "≤ 360°"
    assert bounds["free-conductor", "L3"] == "≥ 6 in"


class TestSchedules:
    def test_every_element_has_its_row(self, wall: Report, content: ReportView) -> None:
        rows = {s.title: [s.cells(row)[0] for row in s.rows] for s in content.schedules}
        assert rows["Conduit schedule"] == [way.id for way in wall.assembly.raceways]
        assert rows["Box schedule"] == [box.id for box in wall.assembly.boxes]
        assert rows["Conductor schedule"] == [pull.id for pull in wall.assembly.pulls]
        assert rows["Circuit schedule"] == [circuit.id for circuit in wall.assembly.circuits]

    def test_ratio_to_the_limit(self, content: ReportView) -> None:
        """JN2: 46 in³ of 42 in³; TN12a: 12 wires where 9 are permitted."""
        cells = {
            s.cells(row)[0]: dict(zip([c.heading for c in s.columns], s.cells(row), strict=True))
            for s in content.schedules
            for row in s.rows
        }
        assert cells["JN2"]["Required"] == "46 in³"
        assert cells["JN2"]["Provided"] == "42 in³"
        assert cells["JN2"]["Ratio"] == "1.10"
        assert cells["TN12a"]["Judged"] == "12 wires"
        assert cells["TN12a"]["Limit"] == "9 wires"
        assert cells["TN12a"]["Filled"] == "52.5 %"
        assert cells["TN12a"]["Ratio"] == "1.33"
        assert cells["RC22"]["Ratio"] == "open"
        assert cells["RC22"]["Length"] == "—"

    def test_every_row_has_every_column(self, content: ReportView) -> None:
        for schedule in content.schedules:
            for row in schedule.rows:
                assert len(schedule.cells(row)) == len(schedule.columns)


class TestAppendix:
    def test_values_with_their_origin(self, content: ReportView) -> None:
        rule = next(r for r in content.rules if r.id == "raceway-fill")
        value = next(v for v in rule.values if v.name == "more_wires")
        assert (value.text, value.cite, value.value.origin) == (
            "40 %",
            "Chapter 9 Table 1",
            "NEC 2023",
        )
        assert rule.sources

    def test_what_rests_on_memory_is_marked_and_counted(self, content: ReportView) -> None:
        values = [v for rule in content.rules for v in rule.values]
        recalled = [v for v in values if v.memory]
        assert recalled
        assert all("memory" in (v.note + v.cite).lower() for v in recalled)
        assert f"{len(recalled)} values of the rules applied" in content.from_memory

    def test_applied_and_idle_rules_are_all_rules(self, wall: Report, content: ReportView) -> None:
        named = [rule.id for rule in content.rules] + [name for name, _ in content.idle_rules]
        assert sorted(named) == sorted(rule.id for rule in wall.book.rules)


AMENDMENT = """\
amendment: kestrel-1
title: Kestrel County electrical amendments of trial
jurisdiction: Kestrel County
effective: 2026-01-01
reference: Ordinance 2026-4
terms: {authority having jurisdiction: county inspector}
changes:
  - {rule: raceway-fill, set: {more_wires: 35 %}, reason: trial, reference: "4.2"}
"""

DECISION = """\
decisions_for: RB-2
decisions:
  - {rule: box-fill, element: JN2, disposition: accepted, measure: 46 in³, limit: 42 in³,
     authority: {name: Kestrel County Building Department, reference: BD-7}, person: A. Brook,
     role: plans examiner, date: 2026-04-01, reason: an extension ring is added on site}
"""


class TestAmendmentsAndDecisions:
    @pytest.fixture
    def amended(self, tmp_path: Path) -> ReportView:
        (tmp_path / "kestrel.yaml").write_text(AMENDMENT, encoding="utf-8")
        (tmp_path / "decisions.yaml").write_text(DECISION, encoding="utf-8")
        report = load(
            SAMPLES / "recovery-wall-rev-b.yaml",
            amend=[str(tmp_path / "kestrel.yaml")],
            decisions=str(tmp_path / "decisions.yaml"),
            as_of="2026-05-01",
        )
        return ReportView(report)

    def test_an_amendment_is_named_with_its_reference(self, amended: ReportView) -> None:
        facts = dict(amended.facts)
        assert "kestrel-1" in facts["Amendments"]
        assert "Ordinance 2026-4" in facts["Amendments"]
        assert amended.amendments[0].acted
        assert "amendment" in [what for what, _, _ in amended.fingerprints]
        rule = next(r for r in amended.rules if r.id == "raceway-fill")
        value = next(v for v in rule.values if v.name == "more_wires")
        assert (value.text, value.value.origin) == ("35 %", "kestrel-1")

    def test_both_days_of_judgement_are_told(
        self, amended: ReportView, content: ReportView
    ) -> None:
        """Rules by the permit date, decisions by --as-of: a single "as of" would be either."""
        facts = dict(amended.facts)
        assert facts["Rules as of"] == facts["Permit date"] == "2026-03-02"
        assert facts["Decisions as of"] == "2026-05-01"
        assert "Decisions as of" not in dict(content.facts)
        assert facts["Quantity"] == "18"

    def test_its_words_are_used_in_the_cautions(self, amended: ReportView) -> None:
        assert any("county inspector" in text for text in amended.cautions)
        assert not any("authority having jurisdiction" in text for text in amended.cautions)

    def test_a_decision_stays_beside_its_finding(self, amended: ReportView) -> None:
        entry = next(e for e in amended.findings if (e.rule, e.kind) == ("box-fill", "fail"))
        accepted = [e for e in amended.findings if e.accepted]
        assert [e.element.id for e in accepted] == ["JN2"]
        assert "extension ring" in accepted[0].decision
        assert accepted[0].number > entry.number, "after those that nobody has accepted"
        assert amended.decisions[0].outcome.startswith("counts")
        assert any("accepted by a recorded decision" in line for line in amended.verdict)


def test_counts_read_as_a_sentence() -> None:
    assert counts_in_words({"pass": 1, "fail": 2}) == "2 do not hold, 1 holds"
    assert counts_in_words({"fail": 1, "open": 0, "pass": 2}) == "1 does not hold, 2 hold"
    assert KINDS["fail"].counted(0) == "do not hold"
    assert counts_in_words({"review": 2}) == "2 need review"


def test_what_holds_of_many_is_said_once(wall: Report) -> None:
    (group,) = [g for g in layout(ReportView(wall))["groups"] if g["rule"] == "box-accessible"]
    (held,) = [r for r in group["runs"] if r["words"].startswith("Holds")]
    assert held["words"] == "Holds, it is accessible; box"
    assert held["listed"].startswith("JN1, JC1, ")
