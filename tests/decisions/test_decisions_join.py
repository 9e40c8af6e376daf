"""What becomes of a decision: it counts only while rule, element and values are as decided."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_code import DESIGN, RULES, code, decision, file, finding, findings, joined

from checker.findings.decisions import notices
from checker.rulebook.book import Rulebook

AMENDMENT = """\
amendment: county
title: Trial
jurisdiction: Kestrel County
effective: {effective}
reference: Ordinance 1
changes:
"""


@pytest.fixture
def book(tmp_path: Path) -> Rulebook:
    return code(tmp_path)


def status(
    book: Rulebook, as_of: str | None = "2026-05-01", design: str = DESIGN, **changes: object
) -> tuple[str, str]:
    """Status and words of one decision."""
    _, (judged,) = joined(book, file(decision(**changes)), as_of, design)
    return judged.status, judged.why


# -- what a decision does ---------------------------------------------------------------------


def test_an_accepted_fail_stays_in_the_report_and_stands_in_the_way_no_more(
    book: Rulebook,
) -> None:
    before, _ = joined(book, "decisions_for: T-1\ndecisions: []\n")
    after, (judged,) = joined(book, file(decision()))
    assert judged.applies
    assert finding(before, "turns").blocking
    assert not finding(after, "turns").blocking
    assert finding(after, "turns").accepted
    assert finding(after, "turns").kind == "fail"
    assert after.summary == before.summary


def test_exit_status_counts_an_accepted_fail_as_not_blocking(tmp_path: Path) -> None:
    book = code(tmp_path)
    design = DESIGN.replace("from: A, to: B, bends", "from: A, to: B, length: 1 ft, bends")
    every = (
        decision(),
        decision(rule="odd", measure="1"),
        decision(rule="rating", element="W1", measure="25 A", limit="20 A"),
        decision(rule="wire", element="W1", measure="14 AWG"),
    )
    assert joined(book, file(*every), design=design)[0].exit_status == 0
    assert joined(book, file(*every[1:]), design=design)[0].exit_status == 1


@pytest.mark.parametrize("disposition", ["accepted", "corrected_in_field", "not_applicable_here"])
def test_every_disposition_counts(book: Rulebook, disposition: str) -> None:
    assert status(book, disposition=disposition)[0] == "applied"


def test_a_review_may_be_decided(book: Rulebook) -> None:
    report, (judged,) = joined(book, file(decision(rule="lengths", measure="21.5 ft")))
    assert judged.applies
    assert finding(report, "lengths").kind == "review"


def test_an_open_finding_cannot_be_accepted(book: Rulebook) -> None:
    report, (judged,) = joined(book, file(decision(rule="lengths", element="R2", measure="1 ft")))
    assert judged.status == "open"
    assert "`length` of raceway R2" in judged.why
    assert finding(report, "lengths", "R2").blocking
    assert report.exit_status == 1


def test_a_rule_that_cannot_be_evaluated_cannot_be_accepted(tmp_path: Path) -> None:
    broken = RULES["turns"].replace(
        "sum(b.total for b in run.bends)", "sum(b.total for b in run.bends) / (1 - 1)"
    )
    report, (judged,) = joined(code(tmp_path, turns=broken), file(decision()))
    assert judged.status == "open"
    assert report.exit_status == 3


# -- the measured value -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("measure", "expected"),
    [
        ("375 deg", "applied"),
        ("375°", "applied"),
        ("374.9 deg", "stale"),  # 375 is worse
        ("360 deg", "stale"),
        ("380 deg", "applied"),  # 375 is better, and still fails
        ("12 A", "stale"),  # not even an angle
        ("375", "stale"),
        ("12 AWG", "stale"),
    ],
)
def test_a_worse_measure_brings_the_finding_back(
    book: Rulebook, measure: str, expected: str
) -> None:
    assert status(book, measure=measure)[0] == expected


def test_the_words_name_both_values(book: Rulebook) -> None:
    assert "375°, decided at 370 deg" in status(book, measure="370 deg")[1]


@pytest.mark.parametrize(
    ("length", "measure", "expected"),
    [
        ("258 in", "21.5 ft", "applied"),  # 12 in to the foot
        ("21.5 ft", "258 in", "applied"),
        ("258.001 in", "21.5 ft", "applied"),  # both print as 21.5 ft
        ("259 in", "21.5 ft", "stale"),  # prints as 21.58 ft
        ("259 in", "21.58 ft", "applied"),  # 21.58333… ft, as the report prints it
        ("259 in", "21.5833 ft", "applied"),
        ("259 in", "21.6 ft", "applied"),
        ("259 in", "21.57 ft", "stale"),
    ],
)
def test_values_are_compared_as_they_are_printed(
    book: Rulebook, length: str, measure: str, expected: str
) -> None:
    design = DESIGN.replace("21.5 ft", length)
    assert status(book, design=design, rule="lengths", measure=measure)[0] == expected


@pytest.mark.parametrize(
    ("measure", "expected"),
    [("14 AWG", "applied"), ("12 AWG", "stale"), ("16 AWG", "applied"), ("'#14'", "applied")],
)
def test_where_more_is_required_less_is_worse(book: Rulebook, measure: str, expected: str) -> None:
    """8 AWG is required and 14 AWG is there; a larger number is a thinner wire."""
    assert status(book, rule="wire", element="W1", measure=measure)[0] == expected


@pytest.mark.parametrize(
    ("measure", "expected"), [("1", "applied"), ("0", "stale"), ("2", "stale")]
)
def test_a_requirement_of_its_own_lets_no_other_value_pass(
    book: Rulebook, measure: str, expected: str
) -> None:
    assert status(book, rule="odd", measure=measure)[0] == expected


def test_a_share_is_not_a_count(tmp_path: Path) -> None:
    share = (
        RULES["odd"]
        .replace("measure: count(raceway.wires)", "measure: count(raceway.wires) / 2")
        .replace("limit: right", "limit: share")
        .replace("2 count", "40 %")
        .replace("right:", "share:")
        .replace("unit: count", 'unit: "%"')
        .replace("require: count(raceway.wires) == right\n", "")
    )
    book = code(tmp_path, odd=share)
    assert status(book, rule="odd", measure="50 %")[0] == "applied"
    assert status(book, rule="odd", measure="12")[0] == "stale"


# -- the limit --------------------------------------------------------------------------------


def test_a_limit_that_follows_from_the_design_has_to_be_recorded(book: Rulebook) -> None:
    """Otherwise a smaller wire would go unnoticed: the breaker, the measure, is the same."""
    said, why = status(book, rule="rating", element="W1", measure="25 A")
    assert said == "incomplete"
    assert "`limit: 20 A`" in why


@pytest.mark.parametrize(
    ("limit", "expected"), [("20 A", "applied"), ("25 A", "stale"), ("15 A", "applied")]
)
def test_a_stricter_limit_brings_the_finding_back(
    book: Rulebook, limit: str, expected: str
) -> None:
    said, _ = status(book, rule="rating", element="W1", measure="25 A", limit=limit)
    assert said == expected


@pytest.mark.parametrize(
    ("limit", "expected"), [("8 AWG", "applied"), ("10 AWG", "stale"), ("6 AWG", "applied")]
)
def test_a_stricter_limit_that_has_to_be_reached(book: Rulebook, limit: str, expected: str) -> None:
    said, _ = status(book, rule="wire", element="W1", measure="14 AWG", limit=limit)
    assert said == expected


# -- the rule ---------------------------------------------------------------------------------


def test_a_changed_rule_brings_the_finding_back(tmp_path: Path) -> None:
    book = code(tmp_path)
    print_now = book.find("turns").record.digest
    assert status(book, rule_fingerprint=print_now) == ("applied", "")
    assert status(book, rule_fingerprint=print_now[:19]) == ("applied", "")
    other = code(tmp_path, turns=RULES["turns"].replace("360 deg", "370 deg"))
    said, why = status(other, rule_fingerprint=print_now)
    assert said == "stale"
    assert "the rule has changed" in why


def test_a_decision_without_the_rules_fingerprint_is_told(book: Rulebook) -> None:
    said, why = status(book)
    digest = book.find("turns").record.digest
    assert said == "applied"
    offered = why.rpartition("rule_fingerprint: ")[2].rstrip("`")
    assert digest.startswith(offered)
    assert status(book, rule_fingerprint=offered) == ("applied", "")


@pytest.mark.parametrize(
    ("effective", "expected"), [("2026-04-02", "stale"), ("2026-04-01", "applied")]
)
def test_an_amendment_in_force_after_the_decision_changes_the_rule(
    tmp_path: Path, effective: str, expected: str
) -> None:
    text = AMENDMENT.format(effective=effective) + (
        "  - {rule: turns, set: {permitted: 300 deg}, reason: trial, reference: 1}\n"
    )
    book = code(tmp_path, {"county": text})
    said, why = status(book)
    assert said == expected
    assert ("county" in why) == (expected == "stale")
    # Whoever knew the amendment and decided on the rule as amended says so by its fingerprint.
    assert status(book, rule_fingerprint=book.find("turns").record.digest)[0] == "applied"


def test_an_amendment_of_another_rule_changes_nothing(tmp_path: Path) -> None:
    text = AMENDMENT.format(effective="2026-04-02") + (
        "  - {rule: lengths, set: {longest: 15 ft}, reason: trial, reference: 1}\n"
    )
    assert status(code(tmp_path, {"county": text}))[0] == "applied"


def test_an_amendment_of_a_table_changes_the_rules_that_look_into_it(tmp_path: Path) -> None:
    text = AMENDMENT.format(effective="2026-04-02") + (
        "  - table: ampacity\n"
        "    cells: [{keys: {material: copper, column: 75 degC, size: 12 AWG}, "
        "set: {ampacity: 24 A}}]\n"
        "    reason: trial\n"
        "    reference: 1\n"
    )
    book = code(tmp_path, {"county": text})
    said, why = status(book, rule="rating", element="W1", measure="25 A", limit="20 A")
    assert said == "stale"
    assert "county" in why
    assert status(book)[0] == "applied"


# -- dates ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("as_of", "expires", "expected"),
    [
        ("2026-12-30", "2026-12-31", "applied"),
        ("2026-12-31", "2026-12-31", "applied"),  # the last day is included
        ("2027-01-01", "2026-12-31", "expired"),
        (None, "2026-12-31", "undated"),
        (None, None, "applied"),
        ("2199-12-31", None, "applied"),
        ("2026-04-01", None, "applied"),
        ("2026-03-31", None, "not_yet"),
    ],
)
def test_dates(book: Rulebook, as_of: str | None, expires: str | None, expected: str) -> None:
    assert status(book, as_of, expires=expires)[0] == expected


def test_without_a_date_to_judge_on_the_words_name_the_option(book: Rulebook) -> None:
    report, (judged,) = joined(book, file(decision(expires="2026-12-31")), None)
    assert "--as-of" in judged.why
    assert finding(report, "turns").blocking


# -- decisions that are on nothing, or on nothing any more ------------------------------------


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"rule": "turn"}, "nearest: turns"),
        ({"element": "R11"}, "nearest: R1"),
        ({"class": "raceway"}, "R1 is a run, not a raceway"),
    ],
)
def test_a_decision_on_nothing_is_told(book: Rulebook, changes: dict[str, str], words: str) -> None:
    said, why = status(book, **changes)
    assert said == "unmatched"
    assert words in why


def test_a_run_named_from_its_other_end_is_recognised(tmp_path: Path) -> None:
    design = DESIGN.replace("from: A, to: B, length: 21.5 ft", "from: A, to: K, length: 21.5 ft")
    design = design.replace(
        "raceways:\n",
        "couplings: [{id: K}]\nraceways:\n"
        "  - {id: R9, method: EMT, size: 3/4, from: K, to: B, length: 1 ft, bends: []}\n",
    ).replace("through: [R1]", "through: [R1, R9]")
    said, why = status(code(tmp_path), design=design, element="R1+R9")
    turned, words = status(code(tmp_path), design=design, element="R9+R1")
    assert {said, turned} == {"applied", "unmatched"}
    assert "nearest: R" in (why if said == "unmatched" else words)


def test_a_decision_on_a_withdrawn_rule_names_the_amendment(tmp_path: Path) -> None:
    text = AMENDMENT.format(effective="2026-01-01") + (
        "  - {rule: turns, withdraw: true, reason: trial, reference: 1}\n"
    )
    said, why = status(code(tmp_path, {"county": text}))
    assert said == "unmatched"
    assert "amendment county withdrew it" in why


@pytest.mark.parametrize(
    ("rule", "element", "measure"), [("turns", "R2", "90 deg"), ("odd", "R2", "1")]
)
def test_a_decision_no_longer_needed_is_told(
    book: Rulebook, rule: str, element: str, measure: str
) -> None:
    said, why = status(book, rule=rule, element=element, measure=measure)
    assert said == "not_needed"
    assert "can be taken out" in why


def test_elements_of_one_name_are_told_apart_by_class(tmp_path: Path) -> None:
    both = (
        RULES["lengths"]
        .replace("each: raceway", "each: [raceway, run]")
        .replace("raceway.length", "this.length")
    )
    book = code(tmp_path, lengths=both)
    several = {f.subject_class for f in findings(book) if f.subject_id == "R1"}
    assert {"raceway", "run"} <= several
    said, why = status(book, rule="lengths", measure="21.5 ft")
    assert said == "unmatched"
    assert "say `class:`" in why
    wanted = {"rule": "lengths", "measure": "21.5 ft", "class": "run"}
    report, (judged,) = joined(book, file(decision(**wanted)))
    assert judged.applies
    accepted = [f.subject_class for f in report.findings if f.accepted]
    assert accepted == ["run"]


def test_decisions_for_another_assembly_count_for_nothing(book: Rulebook) -> None:
    text = file(decision(), decision(rule="wire"), assembly="T-2")
    report, judged = joined(book, text)
    assert {j.status for j in judged} == {"other_assembly"}
    assert not any(f.decision for f in report.findings)
    (notice,) = notices(judged, "T-1")
    assert "T-2" in notice
    assert "T-1" in notice


# -- several on one finding -------------------------------------------------------------------


def test_a_later_decision_supersedes_an_earlier_one(book: Rulebook) -> None:
    old = decision(expires="2026-04-30")
    new = decision(date="2026-04-20", reason="extended")
    for order in ((old, new), (new, old)):
        report, judged = joined(book, file(*order))
        assert sorted(j.status for j in judged) == ["applied", "superseded"]
        chosen = finding(report, "turns").decision
        assert chosen.decision.reason == "extended"
        assert chosen in judged


def test_where_none_counts_each_keeps_its_own_reason(book: Rulebook) -> None:
    report, judged = joined(
        book, file(decision(expires="2026-04-30"), decision(measure="370 deg", date="2026-04-02"))
    )
    assert [j.status for j in judged] == ["expired", "stale"]
    assert not finding(report, "turns").accepted
    assert finding(report, "turns").decision is judged[1]


# -- what is told -----------------------------------------------------------------------------


def test_a_decision_recorded_in_full_needs_no_notice(book: Rulebook) -> None:
    digest = book.find("turns").record.digest
    _, judged = joined(book, file(decision(rule_fingerprint=digest)))
    assert notices(judged, "T-1") == ()


def test_every_decision_that_does_not_count_is_told_with_its_line(book: Rulebook) -> None:
    decisions = (
        decision(rule="nothing"),
        decision(measure="370 deg"),
        decision(rule="lengths", element="R2", measure="1 ft"),
        decision(element="R3", measure="0 deg"),
    )
    text = file(*decisions)
    _, judged = joined(book, text)
    told = notices(judged, "T-1")
    assert [j.status for j in judged] == ["unmatched", "stale", "open", "not_needed"]
    lines = [n for n, line in enumerate(text.split("\n"), 1) if line.startswith("  - rule:")]
    assert len(told) == len(decisions)
    for number, words in zip(lines, told, strict=True):
        assert words.startswith(f"decisions.yaml:{number}: ")
        assert "does not count" in words


def test_the_words_of_a_decision_name_who_when_and_why(book: Rulebook) -> None:
    _, (judged,) = joined(book, file(decision(expires="2026-12-31")))
    for words in (
        "accepted",
        "Kestrel County Building Department",
        "BD-2026-114",
        "A. Brook",
        "plans examiner",
        "2026-04-01",
        "2026-12-31",
        "pulled before the joint closed",
    ):
        assert words in str(judged)
