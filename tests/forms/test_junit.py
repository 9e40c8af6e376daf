"""JUnit XML: parsed again by the standard library, counted again, whatever the texts hold."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reporting import NASTY

from checker.findings.finding import Report
from checker.reports.forms import written
from checker.reports.xml_text import block as element
from checker.reports.xml_text import tag as inside


def tree(*reports: Report) -> ET.Element:
    return ET.fromstring(written("junit", reports))


def case(report: Report, name: str) -> ET.Element:
    (found,) = [c for c in tree(report).iter("testcase") if c.get("name") == name]
    return found


def outcome(element: ET.Element) -> str:
    return element[0].tag if len(element) else "passed"


def test_outcomes(plain: Report) -> None:
    assert outcome(case(plain, "turns run R1")) == "failure"
    assert outcome(case(plain, "turns run R2")) == "passed"
    assert outcome(case(plain, "lengths raceway R4")) == "skipped"
    assert outcome(case(plain, "notes assembly T-1")) == "passed"


def test_an_open_finding_is_no_green_light(plain: Report) -> None:
    found = case(plain, "lengths raceway R3")
    assert outcome(found) == "failure"
    assert found[0].get("type") == "open"
    assert "`length` of raceway R3" in str(found[0].get("message"))


def test_an_accepted_fail_is_skipped_with_its_reason(decided: Report) -> None:
    found = case(decided, "turns run R1")
    assert outcome(found) == "skipped"
    assert "pulled before the joint closed" in str(found[0].get("message"))


def test_rules_that_do_not_apply_are_counted_and_have_no_case(plain: Report) -> None:
    assert plain.summary["notApplicable"] == 1
    names = [c.get("name") for c in tree(plain).iter("testcase")]
    assert "lengths raceway R2" not in names
    assert len(names) == len(plain.findings) - 1
    facts = {p.get("name"): p.get("value") for p in tree(plain).iter("property")}
    assert facts["findings.notApplicable"] == "1"
    assert facts["fingerprint.design"] == plain.source.digest


def test_a_failure_says_where_and_by_how_much(plain: Report) -> None:
    body = str(case(plain, "turns run R1")[0].text)
    assert body.startswith(f"{plain.source.path}:")
    for words in ("375°", "360°", "CODE 26", "fix: take out 15°"):
        assert words in body


def test_a_rule_that_could_not_be_evaluated_is_an_error(
    make: Callable[..., Report], monkeypatch: pytest.MonkeyPatch
) -> None:
    import reporting

    broken = reporting.RULES["turns"].replace(
        "sum(b.total for b in run.bends)", "sum(b.total for b in run.bends) / (1 - 1)"
    )
    monkeypatch.setitem(reporting.RULES, "turns", broken)
    assert outcome(case(make(), "turns run R1")) == "error"


def test_numbers_are_those_of_the_cases(plain: Report, decided: Report) -> None:
    root = tree(plain, decided)
    tags = {"failures": "failure", "errors": "error", "skipped": "skipped"}
    for level in (root, *root.iter("testsuite")):
        cases = list(level.iter("testcase"))
        assert level.get("tests") == str(len(cases))
        for attribute, tag in tags.items():
            assert level.get(attribute) == str(sum(outcome(c) == tag for c in cases))
    assert len(list(root.iter("testsuite"))) == 2


def test_blocking_findings_are_exactly_the_failures(decided: Report) -> None:
    failures = {c.get("name") for c in tree(decided).iter("testcase") if outcome(c) == "failure"}
    assert failures == {
        f"{f.rule.id} {f.subject_class} {f.subject_id}" for f in decided.findings if f.blocking
    }


def test_names_that_mean_mischief_stay_names(nasty: Report) -> None:
    names = {str(c.get("name")) for c in tree(nasty).iter("testcase")}
    assert {f"turns run {name}" for name in NASTY} <= names


def test_control_characters_that_xml_forbids_are_left_out(nasty: Report) -> None:
    facts = {p.get("name"): p.get("value") for p in tree(nasty).iter("property")}
    # Attribute values keep their line breaks, since those are written as references.
    assert facts["title"] == "bell  escape [31m null  line\nbreak \u202e turned  end"


#: XML 1.0 (fifth edition) §2.2, production [2] Char.
ALLOWED = st.characters(
    exclude_categories=("Cs",), exclude_characters="".join(map(chr, range(32))) + "\ufffe\uffff"
) | st.sampled_from("\t\n\r")


@given(st.text(ALLOWED))
def test_what_xml_allows_comes_back_unchanged(text: str) -> None:
    made = ET.fromstring(f"<{inside('x', {'a': text})}>" + element("y", text, "")[0] + "</x>")
    assert made.get("a") == text
    assert (made[0].text or "") == text


@given(st.text())
def test_any_text_gives_a_document(text: str) -> None:
    ET.fromstring(f"<{inside('x', {'a': text})}/>")
    ET.fromstring(element("y", text, "")[0])


def test_no_report_gives_an_empty_document() -> None:
    assert tree().get("tests") == "0"
