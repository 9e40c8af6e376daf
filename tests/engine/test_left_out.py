"""What a design leaves out: open until it says so under ``not_covered``, and said again then.

The expectations are counts of the small wall below, made by hand.
"""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from checker.assembly import from_source
from checker.assembly.records import CLASSES, Assembly
from checker.cli.main import main
from checker.documents.errors import InputError
from checker.documents.fields import given_fields
from checker.documents.loader import load
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.findings.detail import Explainer, joined
from checker.findings.finding import Finding, Report
from checker.findings.view import Views
from checker.rulebook.book import load_rulebook
from checker.rulebook.reading import read_rule

Plain = dict[str, Any]

#: Two raceways on three boxes; what is stated of them differs from test to test.
WALL: Plain = {
    "assembly": "W",
    "basis": {"edition": "nec-2023"},
    "boxes": [{"id": name, "kind": "junction"} for name in ("B1", "B2", "B3")],
    "raceways": [
        {"id": "R1", "method": "EMT", "size": "3/4", "from": "B1", "to": "B2", "length": "8 ft"},
        {"id": "R2", "method": "EMT", "size": "3/4", "from": "B2", "to": "B3", "length": "8 ft"},
    ],
}
SUPPORTS = {"topic": "supports", "reason": "the site hangs it", "by": "T. Designer"}
RULES = ("support-spacing", "support-from-box", "undescribed-supports")


def wall(supports: int = 0, *omissions: Plain) -> Plain:
    """The wall with supports on so many of its raceways, and what it leaves out."""
    made = copy.deepcopy(WALL)
    for raceway in made["raceways"][:supports]:
        raceway["supports"] = ["1 ft", "7 ft"]
    if omissions:
        made["not_covered"] = list(omissions)
    return made


def report_on(plain: Plain) -> Report:
    source = Source.of_text(json.dumps(plain))
    assembly = from_source(source)
    book = load_rulebook("nec-2023")
    return Report(assembly, source, book, evaluate(book, assembly))


def found(report: Report) -> dict[tuple[str, str], Finding]:
    return {(f.rule.id, f.subject_id): f for f in report.findings if f.rule.id in RULES}


def kinds(plain: Plain) -> dict[tuple[str, str], str]:
    return {key: finding.kind for key, finding in found(report_on(plain)).items()}


def test_left_out_everywhere_is_open_once() -> None:
    report = report_on(wall())
    seen = found(report)
    assert {key for key, f in seen.items() if f.kind == "open"} == {("undescribed-supports", "W")}
    finding = seen["undescribed-supports", "W"]
    assert not finding.incomplete
    assert finding.blocking
    assert report.exit_status == 1
    said = Views.of(report).explainer.brief(finding)
    assert "raceways and cables not checked: 2" in said.message
    assert "not_covered" in joined(said.fixes)
    book = report.book
    detail = Explainer(report.assembly, book.vocabulary, book.terms).detail(finding)
    assert (detail.message, detail.fixes) == (said.message, said.fixes)


def test_left_out_on_purpose_does_not_apply_and_says_why() -> None:
    report = report_on(wall(0, SUPPORTS))
    finding = found(report)["undescribed-supports", "W"]
    assert finding.kind == "notApplicable"
    assert "supports left out: the site hangs it (T. Designer)" in (
        Views.of(report).explainer.brief(finding).message
    )
    assert "supports" in report.assembly.left_out


def test_what_is_stated_is_judged_and_the_rest_says_why_not() -> None:
    begun = kinds(wall(1))
    assert begun["support-spacing", "R1"] == "pass"
    assert begun["support-spacing", "R2"] == begun["support-from-box", "R2"] == "open"
    report = report_on(wall(1, SUPPORTS))
    seen = found(report)
    assert seen["support-spacing", "R1"].kind == "pass"
    for rule in ("support-spacing", "support-from-box"):
        assert seen[rule, "R2"].kind == "notApplicable"
        assert "the site hangs it" in Views.of(report).explainer.brief(seen[rule, "R2"]).message


def test_another_gap_keeps_it_open() -> None:
    plain = wall(1, SUPPORTS)
    del plain["raceways"][1]["length"]
    seen = kinds(plain)
    assert seen["support-spacing", "R2"] == "open"


def test_another_topic_excuses_nothing() -> None:
    other = {**SUPPORTS, "topic": "wire_colors"}
    assert kinds(wall(0, other))["undescribed-supports", "W"] == "open"
    assert kinds(wall(1, other))["support-spacing", "R2"] == "open"


def test_a_failing_check_is_not_excused() -> None:
    plain = wall(1, SUPPORTS)
    plain["raceways"][0]["length"] = "40 ft"
    assert kinds(plain)["support-spacing", "R1"] == "fail"


@pytest.mark.parametrize(
    ("omissions", "said"),
    [
        ([{**SUPPORTS, "topic": "suports"}], "supports"),
        ([SUPPORTS, {**SUPPORTS, "reason": "again"}], "twice"),
        ([{**SUPPORTS, "reason": " "}], "`reason` cannot be read"),
        ([{**SUPPORTS, "by": ""}], "`by` cannot be read"),
        ([{"topic": "supports", "reason": "x"}], "lacks `by`"),
        ([{"topic": "supports", "by": "x"}], "lacks `reason`"),
        ([{"reason": "x", "by": "x"}], "lacks `topic`"),
    ],
)
def test_what_cannot_be_left_out_so(omissions: list[Plain], said: str) -> None:
    with pytest.raises(InputError) as refused:
        from_source(Source.of_text(json.dumps(wall(0, *omissions))))
    assert said in "\n".join(f"{p.message} {p.suggestion}" for p in refused.value.problems)


def test_each_field_of_a_detail_describes_it() -> None:
    """Also where records stand in lists within lists."""
    by_detail: dict[str, set[str]] = {}
    for name, record in CLASSES.items():
        for field in given_fields(record):
            if field.detail:
                by_detail.setdefault(field.detail, set()).add(f"{name}.{field.name}")
    assert by_detail["supports"] == {"raceway.supports", "cable.supports"}
    assert by_detail["listings"] == {"device.listing"}
    topic = next(f for f in given_fields(CLASSES["omission"]) if f.name == "topic")
    assert set(topic.options) == set(by_detail)
    plain = wall()
    plain["boxes"][1]["devices"] = [{"id": "D", "kind": "blank", "listing": "general"}]
    plain["raceways"][1]["bends"] = [{"kind": "bend", "angle": "90 deg", "radius": "4 in"}]
    plain["pulls"] = [
        {"id": "P", "through": ["R1"], "wires": [{"role": "spare", "color": "red"}]},
    ]
    assembly: Assembly = from_source(Source.of_text(json.dumps(plain)))
    assert set(assembly.described) == {"listings", "bend_radius", "wire_colors"}


def test_every_detail_that_a_rule_waits_for_is_asked_for() -> None:
    """A guard ``'x' in assembly.described`` without a rule that reports x would reward omission."""
    book = load_rulebook("nec-2023")
    asked = {rule.detail for rule in book.rules} - {""}
    # Distances between entries are asked for with the walls; bundles by the rule on cables that run
    # between the same ends.
    waited = {
        topic
        for rule in book.rules
        for topic in next(f.options for f in given_fields(CLASSES["omission"]) if f.name == "topic")
        if any(f"'{topic}' in assembly.described" in str(p.value) for _, p in rule.record.parts())
    }
    assert waited - asked <= {"entry_spacings", "bundles"}
    for rule in book.rules:
        if rule.detail:
            assert "open" in {case.fails_as for case in rule.record.cases}, rule.id


def test_a_kept_book_knows_the_detail(tmp_path: Path) -> None:
    file = tmp_path / "wall.yaml"
    file.write_text(json.dumps(wall(0, SUPPORTS)), encoding="utf-8")
    for _ in range(2):
        book = load_rulebook("nec-2023", kept=str(tmp_path / "kept"))
        assert book.find("undescribed-supports").detail == "supports"


OPEN_RULE = """\
rule: short-runs
title: Runs are short
topic: routing
each: raceway
values: {most: {is: 5 ft, note: invented}}
measure: raceway.length
limit: most
unit: ft
open: "{raceway.id} is long; somebody has to decide"
pass: "{raceway.id} is short"
fixes: ["shorten {raceway.id}"]
cite: {any: invented}
"""


def test_a_rule_reports_as_open_what_it_measured(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = Source.of_text(OPEN_RULE)
    assert read_rule(load(source), "NEC 2023").fails_as == "open"
    amendment = (
        "amendment: A\ntitle: A\njurisdiction: Kestrel County\neffective: 2026-01-01\n"
        "reference: R\nchanges:\n  - add:\n"
        + "".join(f"      {line}\n" for line in OPEN_RULE.splitlines())
        + "    reason: x\n    reference: R\n"
    )
    (tmp_path / "a.yaml").write_text(amendment, encoding="utf-8")
    plain = wall(2)
    plain["basis"]["amendments"] = ["a.yaml"]
    plain["basis"]["permit_date"] = "2026-02-01"
    file = tmp_path / "wall.yaml"
    file.write_text(json.dumps(plain), encoding="utf-8")
    assert main(["check", str(file), "--format", "json"]) == 1
    read = json.loads(capsys.readouterr().out)
    own = [f for f in read["findings"] if f["rule"] == "short-runs"]
    assert [(f["kind"], f["message"], f["missing"]) for f in own] == [
        ("open", f"{name} is long; somebody has to decide", []) for name in ("R1", "R2")
    ]
    assert own[0]["measure"]["text"] == "8 ft"
    assert own[0]["fixes"] == ["shorten R1"]
    assert read["summary"]["open"] >= 2
    main(["check", str(file)])
    text = capsys.readouterr().out
    assert "OPEN   short-runs  raceway R1" in text
    assert "R2 is long" in text


def test_amendments_without_a_day_to_judge_them_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What an amendment touches is open, all else is judged; a day given beside it does as well."""
    amendment = (
        "amendment: A\ntitle: A\njurisdiction: Kestrel County\neffective: 2026-01-01\n"
        "reference: R\nchanges:\n"
        "  - {rule: bend-total, set: {permitted: 270 deg}, reason: r, reference: s}\n"
    )
    (tmp_path / "a.yaml").write_text(amendment, encoding="utf-8")
    plain = wall(2)
    for raceway in plain["raceways"]:
        raceway["bends"] = [{"kind": "bend", "angle": "90 deg"}]
    plain["basis"]["amendments"] = ["a.yaml"]
    file = tmp_path / "wall.yaml"
    file.write_text(json.dumps(plain), encoding="utf-8")

    def run(*options: str) -> dict[str, set[str]]:
        main(["check", str(file), "--format", "json", *options])
        kinds: dict[str, set[str]] = {}
        for finding in json.loads(capsys.readouterr().out)["findings"]:
            kinds.setdefault(finding["rule"], set()).add(finding["kind"])
            if finding["rule"] == "bend-total" and finding["kind"] == "open":
                assert finding["missing"] == ["`basis.permit_date` of the assembly"]
        return kinds

    undated = run()
    assert undated["bend-total"] == {"open"}
    assert undated["support-spacing"] == {"pass"}
    assert undated["basis-complete"] == {"open"}
    assert run("--as-of", "2026-02-01")["bend-total"] == {"pass"}
    plain["basis"]["permit_date"] = "2026-02-01"
    file.write_text(json.dumps(plain), encoding="utf-8")
    assert run()["bend-total"] == {"pass"}
