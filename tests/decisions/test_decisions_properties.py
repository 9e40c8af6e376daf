"""Whatever is decided, no finding goes away, and only a fail or a review counts as decided."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_code import RULES, code, decision, file, findings, joined

from checker.findings.decisions import STATUSES, notices
from checker.findings.kinds import ACTION
from checker.rulebook.book import Rulebook

DATES = st.dates().map(lambda d: d.isoformat())
DECISIONS = st.lists(
    st.fixed_dictionaries(
        {
            "rule": st.sampled_from([*RULES, "turn", "nothing"]),
            "element": st.sampled_from(["R1", "R2", "R3", "W1", "R1+R2", "none"]),
            "class": st.sampled_from([None, "run", "raceway", "pull"]),
            "disposition": st.sampled_from(
                ["accepted", "corrected_in_field", "not_applicable_here"]
            ),
            "measure": st.sampled_from(
                ["375 deg", "0 deg", "400 deg", "21.5 ft", "1 in", "1", "50 %", "25 A", "14 AWG"]
            ),
            "limit": st.sampled_from([None, "360 deg", "20 ft", "20 A", "25 A", "8 AWG"]),
            "date": DATES,
            "rule_fingerprint": st.sampled_from([None, "sha256:" + "0" * 64]),
        }
    ).map(lambda keys: decision(**keys)),
    max_size=6,
)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Rulebook:
    return code(Path(tmp_path_factory.mktemp("small")))


@given(decisions=DECISIONS, as_of=st.none() | DATES, mine=st.booleans())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_joining_removes_no_finding(
    book: Rulebook, decisions: list[str], as_of: str | None, mine: bool
) -> None:
    text = "decisions_for: " + ("T-1" if mine else "T-2") + "\ndecisions:"
    text += "\n" + "".join(decisions) if decisions else " []\n"
    plain = findings(book)
    report, judged = joined(book, text, as_of)
    facts = [(f.rule.id, f.subject_class, f.subject_id, f.kind, f.measure) for f in plain]
    assert facts == [
        (f.rule.id, f.subject_class, f.subject_id, f.kind, f.measure) for f in report.findings
    ]
    assert len(judged) == len(decisions)
    assert all(j.status in STATUSES for j in judged)
    for found in report.findings:
        if found.accepted:
            assert mine
            assert found.kind in ACTION
            assert found.decision in judged
        if found.kind == "open":
            assert found.blocking
    # Each decision that counts is on one finding of its own, and whatever does not count is told.
    assert sum(j.applies for j in judged) == sum(f.accepted for f in report.findings)
    assert bool(notices(judged, "T-1")) == any(j.why for j in judged)
    assert all(j.why for j in judged if not j.applies)


@given(expires=st.dates(), days=st.tuples(st.dates(), st.dates()))
@settings(max_examples=100, deadline=None)
def test_once_expired_it_stays_expired(
    book: Rulebook, expires: object, days: tuple[object, object]
) -> None:
    text = file(decision(date="0001-01-01", expires=str(expires)))
    earlier, later = sorted(map(str, days))
    (first,) = joined(book, text, earlier)[1]
    (second,) = joined(book, text, later)[1]
    assert first.applies == (earlier <= str(expires))
    assert not (second.applies and not first.applies)
