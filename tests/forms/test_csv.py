"""CSV: read back by the standard library; no cell that a spreadsheet would run."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reporting import NASTY

from checker.findings.finding import Report
from checker.reports.csv_form import COLUMNS, safe
from checker.reports.forms import written

#: OWASP, "CSV Injection": the characters that start a formula.
DANGEROUS = ("=", "+", "-", "@", "\t", "\r")


def rows(*reports: Report) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(written("csv", reports), newline="")))


def row(report: Report, rule: str, element: str) -> dict[str, str]:
    (found,) = [r for r in rows(report) if (r["rule"], r["element"]) == (rule, element)]
    return found


def test_every_finding_is_a_line(plain: Report, decided: Report) -> None:
    found = rows(plain, decided)
    assert len(found) == len(plain.findings) + len(decided.findings)
    assert list(found[0]) == list(COLUMNS)
    assert [r["kind"] for r in found[: len(plain.findings)]] == [f.kind for f in plain.findings]


def test_a_line_holds_the_numbers_and_where_they_come_from(plain: Report) -> None:
    found = row(plain, "turns", "R1")
    assert (float(found["measure"]), found["measure_unit"]) == (375, "deg")
    assert (float(found["limit"]), found["limit_text"]) == (360, "360°")
    assert float(found["ratio"]) == pytest.approx(375 / 360)
    assert found["quantity"] == "12"
    assert found["blocking"] == "yes"
    assert found["design_fingerprint"] == plain.source.digest


def test_what_is_not_known_is_an_empty_cell(plain: Report) -> None:
    found = row(plain, "lengths", "R3")
    assert found["measure"] == found["ratio"] == ""
    assert found["missing"] == "`length` of raceway R3"


def test_decisions(decided: Report) -> None:
    accepted, stale = row(decided, "turns", "R1"), row(decided, "lengths", "R4")
    assert (accepted["blocking"], accepted["decision_status"]) == ("no", "applied")
    assert "BD-7" in accepted["decision"]
    assert stale["decision_status"] == "stale"


def test_numbers_are_not_quoted_and_text_is(plain: Report) -> None:
    line = next(x for x in written("csv", [plain]).split("\r\n") if '"turns"' in x and '"R1"' in x)
    assert ",375.0," in line
    assert '"375°"' in line


def test_lines_end_as_rfc_4180_has_it(plain: Report) -> None:
    text = written("csv", [plain])
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")


def test_names_that_would_run_are_kept_text(nasty: Report) -> None:
    elements = {r["element"] for r in rows(nasty) if r["rule"] == "turns"}
    assert elements == {"'" + n if n.startswith(DANGEROUS) else n for n in NASTY}
    for found in rows(nasty):
        for name, cell in found.items():
            assert not cell.startswith(DANGEROUS), name


@given(st.text())
def test_no_text_starts_a_formula(text: str) -> None:
    cell = safe(text)
    bare = cell.lstrip(" \u00a0\ufeff\u200b")
    assert not bare.startswith((*DANGEROUS, "\n", "＝", "＋", "－", "＠"))
    assert "\0" not in cell


@given(st.text(st.characters(exclude_categories=("Cc", "Cs")), min_size=1))
def test_harmless_text_is_left_alone(text: str) -> None:
    if text[0].isalnum():
        assert safe(text) == text


@pytest.mark.parametrize("number", [-5, -0.25, 0, 375.0, 1e-9])
def test_numbers_stay_numbers(number: float) -> None:
    assert safe(number) is number


def test_no_report_is_a_line_of_names() -> None:
    assert rows() == []
