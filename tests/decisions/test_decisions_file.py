"""What is wrong with a decision file is told with its place, all of it at once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from small_code import decision, file

from checker.documents.errors import InputError
from checker.documents.loader import load
from checker.documents.plain import plain
from checker.documents.source import Source
from checker.findings.decision_records import read_decisions
from checker.schemas import schema_path


def problems(text: str) -> list[tuple[int, str]]:
    """Line and rendered words of every problem; an empty list where there is none."""
    try:
        read_decisions(Source.of_text(text, "decisions.yaml"))
    except InputError as error:
        return [(p.line, " ".join(p.render().split())) for p in error.problems]
    return []


def test_a_whole_decision_has_no_problem() -> None:
    assert problems(file(decision(limit="360 deg", rule_fingerprint="sha256:0123456789ab"))) == []
    assert problems("decisions_for: T-1\ndecisions: []\n") == []


@pytest.mark.parametrize(
    "key", ["rule", "element", "disposition", "measure", "person", "role", "date", "reason"]
)
def test_what_a_decision_cannot_do_without(key: str) -> None:
    (found,) = problems(file(decision(**{key: None})))
    assert f"lacks `{key}`" in found[1]


@pytest.mark.parametrize("key", ["rule", "element", "measure", "person", "role", "reason"])
@pytest.mark.parametrize("blank", ["''", "'  '"])
def test_blank_is_not_enough(key: str, blank: str) -> None:
    (found,) = problems(file(decision(**{key: blank})))
    assert f"`{key}` is blank" in found[1]


@pytest.mark.parametrize(
    "date", ["2026-02-29", "2026-4-1", "1 April 2026", "2026-13-01", "26-04-01"]
)
@pytest.mark.parametrize("key", ["date", "expires"])
def test_a_malformed_date(key: str, date: str) -> None:
    text = file(decision(**{key: date}))
    (found,) = problems(text)
    lines = text.split("\n")
    assert lines[found[0] - 1].strip() == f"{key}: {date}"
    assert "YYYY-MM-DD" in found[1]


def test_a_leap_day_is_a_date() -> None:
    assert problems(file(decision(date="2024-02-29"))) == []


def test_expiry_before_the_decision() -> None:
    (found,) = problems(file(decision(expires="2026-03-31")))
    assert "expires before it was made" in found[1]
    assert problems(file(decision(expires="2026-04-01"))) == []


def test_accepted_needs_its_authority_and_the_others_do_not() -> None:
    (found,) = problems(file(decision(authority=None)))
    assert "needs the authority" in found[1]
    assert problems(file(decision(authority=None, disposition="corrected_in_field"))) == []
    assert problems(file(decision(authority=None, disposition="not_applicable_here"))) == []


@pytest.mark.parametrize("key", ["name", "reference"])
def test_an_authority_without_name_or_reference(key: str) -> None:
    whole = {"name": "Kestrel County", "reference": "BD-1"}
    blank = ", ".join(f"{k}: {'' if k == key else v!r}" for k, v in whole.items())
    (found,) = problems(file(decision(authority="{" + blank.replace(": ,", ": '',") + "}")))
    assert f"`{key}`" in found[1]


@pytest.mark.parametrize("measure", ["much", "375 degrees of arc", "12,5 A", "[1]", "{a: 1}"])
@pytest.mark.parametrize("key", ["measure", "limit"])
def test_a_value_that_cannot_be_read(key: str, measure: str) -> None:
    (found,) = problems(file(decision(**{key: measure})))
    assert f"`{key}` cannot be read" in found[1]


@pytest.mark.parametrize(
    "measure", ["12", "44.2 %", "375°", "8 ft 6 in", "12 AWG", "1-1/4", "-3 in"]
)
def test_values_as_reports_print_them(measure: str) -> None:
    assert problems(file(decision(measure=measure))) == []


@pytest.mark.parametrize("text", ["sha256:123", "0123456789abcdef", "sha256:XYZ123456789", "md5:0"])
def test_a_fingerprint_that_is_none(text: str) -> None:
    (found,) = problems(file(decision(rule_fingerprint=text)))
    assert "`rule_fingerprint` cannot be read" in found[1]


def test_an_unknown_key_or_disposition_names_the_nearest() -> None:
    (found,) = problems(file(decision(expire="2026-12-31")))
    assert "nearest: expires" in found[1]
    (found,) = problems(file(decision(disposition="acepted")))
    assert "nearest: accepted" in found[1]


@pytest.mark.parametrize(
    "text", ["- 1\n", "decisions_for: T\n", "decisions_for: T\ndecisions: soon\n", "just text\n"]
)
def test_another_file(text: str) -> None:
    assert len(problems(text)) == 1


def test_all_problems_are_told_at_once_in_order() -> None:
    found = problems(
        file(
            decision(reason=None),
            decision(date="2026-02-30"),
            decision(authority=None, measure="much"),
        )
    )
    assert len(found) == 4
    assert [line for line, _ in found] == sorted(line for line, _ in found)


def refused_by_schema(text: str) -> bool:
    schema = json.loads(Path(schema_path("decisions")).read_text(encoding="utf-8"))
    root = load(Source.of_text(text, "decisions.yaml")).root
    return not Draft202012Validator(schema).is_valid(plain(root))


def test_the_published_schema_agrees_with_the_reader() -> None:
    whole = decision(limit="360 deg", rule_fingerprint="sha256:0123456789ab", expires="2026-12-31")
    assert not refused_by_schema(file(whole, decision(**{"class": "run"})))
    for text in (
        file(decision(reason=None)),
        file(decision(date="soon")),
        file(decision(disposition="acepted")),
        file(decision(expire="2026-12-31")),
        file(decision(**{"class": "door"})),
        "decisions_for: T-1\n",
    ):
        assert refused_by_schema(text)
        assert problems(text)
