"""The program's published contract: verbs, JSON report, exit statuses, rule ids, steps by name.

Expected numbers are hand arithmetic on example.yaml beside this file (the example of the assembly
format): 12 AWG THHN is 0.0133 in² and 30/25 A in the 90/75 °C columns, sixteen fit trade size 3/4
EMT, an allowance of 12 AWG is 2.25 in³ (sources: tests/published).
"""

from __future__ import annotations

import argparse
import json
import os
import re
import subprocess
import sys
from contextlib import redirect_stdout
from functools import cache
from io import StringIO
from pathlib import Path
from typing import Any

import golden
import pytest

from checker.cli.loading import Loader
from checker.cli.main import guarded

ROOT = Path(__file__).parents[2]
EXAMPLE = Path(__file__).parent / "example.yaml"
SAMPLES = ROOT / "samples"

# rule: (subject classes, how often it is found in the example)
FAMILIES = {
    "raceway-fill": {"raceway"},
    "conductor-ampacity": {"pull"},
    "small-conductor": {"pull"},
    "circuit-load": {"circuit"},
    "box-fill": {"box"},
    "bend-total": {"run"},
    "branch-separation": {"raceway", "cable", "box"},
}
KINDS = ["pass", "fail", "review", "open", "notApplicable", "informational"]


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    """The command in this process: status, stdout, stderr."""
    status = guarded(list(arguments))
    said = capsys.readouterr()
    return status, said.out, said.err


def command(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "checker", *arguments],
        cwd=ROOT,
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=1200,  # ends one that hangs, on whatever machine
        check=False,
    )


@cache
def said(*arguments: str) -> tuple[int, str]:
    """The command in this process, asked once: status and stdout."""
    with redirect_stdout(StringIO()) as out:
        status = guarded(list(arguments))
    return status, out.getvalue()


@pytest.fixture
def report() -> dict[str, Any]:
    status, out = said("check", str(EXAMPLE), "--format", "json")
    assert status == 1
    done: dict[str, Any] = json.loads(out)
    return done


def found(report: dict[str, Any], rule: str, on: str) -> dict[str, Any]:
    (one,) = [f for f in report["findings"] if f["rule"] == rule and f["subject"]["id"] == on]
    return one  # type: ignore[no-any-return]


# -- the JSON report -------------------------------------------------------------------------


def test_head(report: dict[str, Any]) -> None:
    assert (report["format"], report["version"]) == ("pullpoint-report", 2)
    expected = {"id": "RB-2", "title": "Recovery bay service wall, type 2", "revision": "B",
                "quantity": 18}  # fmt: skip
    assert expected.items() <= report["assembly"].items()
    basis = report["basis"]
    assert basis["edition"] == "nec-2023"
    assert basis["amendments"] == []
    for name in ("design", "rules", "tables"):
        assert re.fullmatch("sha256:[0-9a-f]{64}", basis["fingerprints"][name])


def test_summary_counts_the_findings(report: dict[str, Any]) -> None:
    assert list(report["summary"]) == KINDS
    for kind in KINDS:
        assert report["summary"][kind] == sum(f["kind"] == kind for f in report["findings"])


def test_shape_of_every_finding(report: dict[str, Any]) -> None:
    lines = EXAMPLE.read_text(encoding="utf-8").splitlines()
    for finding in report["findings"]:
        assert finding["kind"] in KINDS
        assert set(finding["subject"]) == {"class", "id"}
        for key in ("measure", "limit"):
            amount = finding[key]
            assert amount is None or set(amount) == {"value", "unit", "text"}
        assert finding["ratio"] is None or isinstance(finding["ratio"], int | float)
        assert finding["citation"].startswith("NEC 2023 ") or finding["citation"]
        assert finding["message"]
        assert all(isinstance(fix, str) and fix for fix in finding["fixes"])
        assert finding["decision"] is None
        for step in finding["steps"]:
            assert {"name", "text", "value", "unit"} <= set(step)
        place = finding["location"]
        assert place["file"] == str(EXAMPLE)
        assert 1 <= place["line"] <= len(lines)
        assert 1 <= place["column"] <= len(lines[place["line"] - 1])


def test_rule_ids_and_their_subject_classes(report: dict[str, Any]) -> None:
    for rule, classes in FAMILIES.items():
        judged = {f["subject"]["class"] for f in report["findings"] if f["rule"] == rule}
        assert judged == classes, rule


def test_every_finding_is_in_the_json_whatever_show_says(report: dict[str, Any]) -> None:
    _, out = said("check", str(EXAMPLE), "--format", "json", "--show", "fail")
    assert json.loads(out)["findings"] == report["findings"]
    assert report["summary"]["pass"] > 10


# rule, element: kind, measure, limit, unit
NUMBERS: list[tuple[str, str, str, float, float, str]] = [
    ("raceway-fill", "R1", "pass", 3, 16, "1"),
    ("raceway-fill", "R2", "pass", 3, 16, "1"),
    ("conductor-ampacity", "W1", "pass", 20, 25, "A"),
    ("small-conductor", "W1", "pass", 20, 20, "A"),
    ("circuit-load", "2C1-7", "pass", 6, 20, "A"),
    # Two conductors, one grounding conductor and two for the yoke at 2.25 in³; 30.3 and the ring.
    ("box-fill", "B1", "pass", 11.25, 33.8, "in³"),
    ("box-fill", "JB1", "pass", 6.75, 42, "in³"),
    # 90 + 15 + 2 × 30 + 2 × 45 + 4 × 30 in R1 and 90 in R2.
    ("bend-total", "R1+R2", "fail", 465, 360, "deg"),
    ("branch-separation", "R1", "pass", 1, 1, "1"),
    ("branch-separation", "B1", "pass", 1, 1, "1"),
]


@pytest.mark.parametrize(("rule", "on", "kind", "measure", "limit", "unit"), NUMBERS)
def test_numbers_of_the_example(
    rule: str, on: str, kind: str, measure: float, limit: float, unit: str, report: dict[str, Any]
) -> None:
    finding = found(report, rule, on)
    assert finding["kind"] == kind
    assert finding["measure"]["value"] == pytest.approx(measure)
    assert finding["limit"]["value"] == pytest.approx(limit)
    assert finding["measure"]["unit"] == finding["limit"]["unit"] == unit
    assert finding["ratio"] == pytest.approx(measure / limit, abs=1e-6)
    if kind == "fail":
        assert finding["fixes"]


def test_steps_of_conductor_ampacity(report: dict[str, Any]) -> None:
    steps = {s["name"]: s for s in found(report, "conductor-ampacity", "W1")["steps"]}
    expected = {
        "table_ampacity": (30, "A"),
        "ambient_factor": (1, "1"),
        "adjustment_factor": (1, "1"),
        "corrected_ampacity": (30, "A"),
        "termination_ampacity": (25, "A"),
        "usable_ampacity": (25, "A"),
        "current_carrying": (2, "1"),
    }
    assert {n: (steps[n]["value"], steps[n]["unit"]) for n in expected} == expected
    assert all(steps[name]["text"] for name in expected)


def test_a_finding_points_at_the_file(report: dict[str, Any]) -> None:
    lines = EXAMPLE.read_text(encoding="utf-8").splitlines()
    for rule, on, words in (
        ("raceway-fill", "R2", "R2"),
        ("box-fill", "B1", "outlet"),
        ("circuit-load", "2C1-7", "720 VA"),
    ):
        place = found(report, rule, on)["location"]
        assert words in lines[place["line"] - 1]
        assert lines[place["line"] - 1][place["column"] - 1] != " "


@pytest.mark.parametrize("edition", ["nec-2017", "nec-2020"])
def test_edition_option_wins_over_the_file(edition: str) -> None:
    _, out = said("check", str(EXAMPLE), "--format", "json", "--edition", edition)
    report = json.loads(out)
    assert report["basis"]["edition"] == edition
    year = edition.removeprefix("nec-")
    assert found(report, "raceway-fill", "R1")["citation"] == f"NEC {year} Chapter 9 Table 1"


# -- ways of writing the same ----------------------------------------------------------------


LOADER = Loader(argparse.Namespace(edition=None, amend=[], decisions=None, as_of=None))


def summary_of(text: str, path: Path) -> list[tuple[Any, ...]]:
    """What is found in an assembly, without its places."""
    path.write_text(text, encoding="utf-8")
    return sorted(
        (f.rule.id, f.subject_id, f.kind, str(f.measure), str(f.limit))
        for f in LOADER.load(str(path)).findings
    )


def test_json_is_read_as_the_yaml_that_it_is(tmp_path: Path) -> None:
    import yaml

    text = EXAMPLE.read_text(encoding="utf-8")
    data = yaml.load(text, yaml.BaseLoader)
    data["quantity"] = 18
    data["basis"]["health_care"] = True
    data["circuits"][0]["nonlinear"] = False
    data["boxes"][0]["internal_clamps"] = 0
    data["boxes"][0]["devices"][0]["gangs"] = 1
    expected = summary_of(text, tmp_path / "a.yaml")
    assert len(expected) > 40
    for name, style in (("b.json", {}), ("c.json", {"indent": 2, "ensure_ascii": False})):
        assert summary_of(json.dumps(data, **style), tmp_path / name) == expected


# Every line: what stands in the example, and the same written otherwise.
@pytest.mark.parametrize(
    ("there", "instead"),
    [
        ("ambient: 30 degC", "ambient: 86 degF"),
        ("size: 3/4                      #", "size: metric 21 #"),
        ("volume: 30.3 in³", "volume: 30.3 in3"),
        ("volume: 30.3 in³", "volume: 30.3 in^3"),
        ("length: 4 ft 2 in", "length: 4'-2\""),
        ("length: 4 ft 2 in", "length: 50 in"),
        ("length: 4 ft 2 in", "length: 1270 mm"),
        ("breaker: 20 A", "breaker: 0.02 kA"),
        ("load: 720 VA ", "load: 0.72 kVA "),
        ("trade_size: 4-11/16 x 2-1/8 square", "trade_size: 4 11/16 x 2 1/8 square"),
        ("{role: phase, phase: A, size: 12 AWG", "{role: phase, phase: A, size: '#12'"),
        ("circuit: 2C1-7\n    through", "circuit: [2C1-7]\n    through"),
    ],
)
def test_the_same_written_otherwise(there: str, instead: str, tmp_path: Path) -> None:
    text = EXAMPLE.read_text(encoding="utf-8")
    if "through" in there:
        text = re.sub(r"circuit: 2C1-7 +#.*\n", "circuit: 2C1-7\n", text)
    assert text.count(there) == 1
    expected = summary_of(text, tmp_path / "a.yaml")
    assert summary_of(text.replace(there, instead), tmp_path / "b.yaml") == expected


# -- several files ---------------------------------------------------------------------------


def test_several_files_are_one_compact_report_a_line_in_order(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = EXAMPLE.read_text(encoding="utf-8")
    paths = []
    for name in ("zeta", "alpha", "mid"):
        path = tmp_path / f"{name}.yaml"
        path.write_text(text.replace("assembly: RB-2", f"assembly: {name}"), encoding="utf-8")
        paths.append(str(path))
    status, out, _ = run(capsys, "check", *paths, "--format", "json")
    assert status == 1
    lines = out.splitlines()
    assert [json.loads(line)["assembly"]["id"] for line in lines] == ["zeta", "alpha", "mid"]
    assert all(": " not in line[:40] for line in lines)  # compact


# -- exit statuses ---------------------------------------------------------------------------


def test_status_0_and_1_and_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    clean, wrong = SAMPLES / "overhead-rack.yaml", tmp_path / "wrong.yaml"
    wrong.write_text("assembly: wrong\nbox: []\n", encoding="utf-8")
    assert run(capsys, "check", str(clean))[0] == 0
    assert run(capsys, "check", str(EXAMPLE))[0] == 1
    status, out, err = run(capsys, "check", str(wrong))
    assert (status, out) == (2, "")
    assert f"{wrong}:2:1 error: unknown key `box`" in err
    # Several files: the highest.
    assert run(capsys, "check", str(clean), str(EXAMPLE))[0] == 1
    assert run(capsys, "check", str(clean), str(wrong), str(EXAMPLE))[0] == 2


def test_status_1_for_what_is_open(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "open.yaml"
    path.write_text(
        "assembly: open\n"
        "raceways: [{id: R1, method: EMT, size: 3/4, from: field, to: field}]\n"
        "pulls: [{id: W1, through: [R1], wires: [{role: spare, size: 12 AWG, count: 3}]}]\n",
        encoding="utf-8",
    )
    status, out, _ = run(capsys, "check", str(path), "--format", "json")
    assert status == 1
    finding = found(json.loads(out), "raceway-fill", "R1")
    assert finding["kind"] == "open"
    assert "`insulation`" in finding["message"]
    assert any("insulation" in gap for gap in finding["missing"])


# What is not stated is named: file without it, rule, element, the words that name it.
@pytest.mark.parametrize(
    ("there", "instead", "rule", "on", "words"),
    [
        ("    length: 4 ft 2 in\n", "", "raceway-fill",
         "R1", "`length` of raceway R1"),
        ("    circuit: 2C1-7                 # or", "    # or", "conductor-ampacity", "W1",
         "`circuit` of pull W1"),
        ("breaker: 20 A", "", "conductor-ampacity", "W1", "`breaker` of circuit 2C1-7"),
        ("  ambient: 30 degC ", "  # ", "conductor-ampacity", "W1", "basis.ambient"),
        ("{kind: kick, angle: 15 deg}", "{kind: kick}", "bend-total", "R1+R2", "`angle` of a kick"),
        ("load: 720 VA ", "# ", "circuit-load", "2C1-7", "`load` of circuit 2C1-7"),
        ("branch: critical, ", "", "branch-separation", "R1", "`branch` of panel 2C1"),
        ("method: EMT                    #", "#", "raceway-fill", "R1", "`method` of raceway R1"),
        ("size: 3/4                      #", "#", "raceway-fill", "R1", "`size` of raceway R1"),
        (", trade_size: 4-11/16 x 2-1/8 square}", "}", "box-fill", "JB1", "`volume` of box JB1"),
    ],
)  # fmt: skip
def test_an_unstated_quantity_is_open_and_named(
    there: str, instead: str, rule: str, on: str, words: str, tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    text = EXAMPLE.read_text(encoding="utf-8")
    assert text.count(there) == 1
    path = tmp_path / "open.yaml"
    path.write_text(text.replace(there, instead), encoding="utf-8")
    status, out, err = run(capsys, "explain", str(path), rule, on, "--format", "json")
    assert (status, err) == (1, "")
    finding = json.loads(out)
    assert finding["kind"] == "open"
    assert words in finding["message"]
    assert run(capsys, "check", str(path))[0] == 1


def test_status_3_for_a_defect_of_the_program(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: Any, **__: Any) -> Any:
        raise RuntimeError("a bolt is loose")

    monkeypatch.setattr("checker.cli.loading.evaluate", broken)
    status, out, err = run(capsys, "check", str(EXAMPLE))
    assert (status, out) == (3, "")
    assert "a defect of the program, not of your file" in err
    assert "a bolt is loose" in err
    assert "Traceback" not in err


# A rule of an amendment that cannot be evaluated on any raceway.
UNABLE = """\
amendment: unable
title: Rules that cannot be evaluated
jurisdiction: Kestrel County
effective: 2026-01-01
reference: Ordinance
changes:
  - add:
      rule: by-zero
      title: A quotient by nothing
      topic: bends
      each: raceway
      why: w
      values: {some: {is: 5 ft, cite: s, note: n}}
      steps: {share: {is: some / (raceway.length - raceway.length), unit: count, note: n}}
      judge: {measure: share, limit: 1, unit: count, fail: m}
      cite: {any: s}
    reason: r
    reference: s
"""


def test_a_rule_that_cannot_be_evaluated_is_open_and_the_others_go_on(
    report: dict[str, Any], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The contract of rules: such a finding never passes, says so, and the status is 3."""
    amendment = tmp_path / "unable.yaml"
    amendment.write_text(UNABLE, encoding="utf-8")
    status, out, err = run(
        capsys, "check", str(EXAMPLE), "--amend", str(amendment), "--format", "json"
    )
    assert (status, err) == (3, "")
    findings = json.loads(out)["findings"]
    unable = [f for f in findings if f["rule"] == "by-zero"]
    assert [f["kind"] for f in unable] == ["open", "open"]
    assert all("division by zero" in f["message"] for f in unable)
    assert len(findings) - len(unable) == len(report["findings"])


def test_status_2_for_a_wrong_command(capsys: pytest.CaptureFixture[str]) -> None:
    status, _, err = run(capsys, "chekc", str(EXAMPLE))
    assert status == 2
    assert "nearest: check" in err
    with pytest.raises(SystemExit) as raised:
        guarded(["check"])
    assert raised.value.code == 2
    capsys.readouterr()


def test_nothing_is_written_when_the_input_is_wrong(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong, output = tmp_path / "wrong.yaml", tmp_path / "report.json"
    wrong.write_text("assembly: wrong\nbox: []\n", encoding="utf-8")
    arguments = ["check", str(EXAMPLE), str(wrong), "--output", str(output)]
    assert run(capsys, *arguments)[:2] == (2, "")
    assert not output.exists()
    output.write_text("what was there", encoding="utf-8")
    assert run(capsys, *arguments)[0] == 2
    assert output.read_text(encoding="utf-8") == "what was there"


def test_output_holds_what_stdout_would(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    output = tmp_path / "report.json"
    _, direct = said("check", str(EXAMPLE), "--format", "json")
    status, out, _ = run(capsys, "check", str(EXAMPLE), "--format", "json", "--output", str(output))
    assert (status, out) == (1, "")
    assert output.read_text(encoding="utf-8") == direct


def test_same_input_same_bytes(capsys: pytest.CaptureFixture[str]) -> None:
    first = said("check", str(EXAMPLE), "--format", "json")
    assert run(capsys, "check", str(EXAMPLE), "--format", "json")[:2] == first


# -- text ------------------------------------------------------------------------------------

ESCAPE = "\x1b"


def test_text_without_escape_codes_when_not_a_terminal() -> None:
    done = command("check", str(EXAMPLE))
    assert done.returncode == 1
    assert "bend-total" in done.stdout
    assert "R1+R2" in done.stdout
    assert ESCAPE not in done.stdout + done.stderr


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="needs a pseudo-terminal")
def test_no_color_is_obeyed_on_a_terminal() -> None:
    def on_a_terminal(**environment: str) -> str:
        leader, follower = os.openpty()
        base = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "FORCE_COLOR")}
        with subprocess.Popen(
            [sys.executable, "-m", "checker", "check", str(EXAMPLE)],
            cwd=ROOT, stdout=follower, stderr=subprocess.DEVNULL,
            env={**base, "TERM": "xterm-256color", **environment},
        ) as process:  # fmt: skip
            os.close(follower)
            chunks = []
            while True:
                try:
                    chunk = os.read(leader, 65536)
                except OSError:  # the other end is closed
                    break
                if not chunk:
                    break
                chunks.append(chunk)
            assert process.wait(60) == 1
        os.close(leader)
        return b"".join(chunks).decode("utf-8")

    assert ESCAPE in on_a_terminal()
    assert ESCAPE not in on_a_terminal(NO_COLOR="1")


def test_show_all_lists_what_passes(capsys: pytest.CaptureFixture[str]) -> None:
    _, some, _ = run(capsys, "check", str(EXAMPLE))
    _, every, _ = run(capsys, "check", str(EXAMPLE), "--show", "all")
    assert "small-conductor" not in some
    assert "small-conductor" in every


@pytest.mark.parametrize("word", ["compliant", "compliance", "approved", "approval"])
def test_the_program_never_says_that_it_complies(word: str) -> None:
    for path in (EXAMPLE, SAMPLES / "recovery-wall-rev-b.yaml"):
        assert word not in said("check", str(path), "--show", "all")[1].lower()
        assert word not in said("check", str(path), "--format", "json")[1].lower()


# -- explain ---------------------------------------------------------------------------------


def test_explain_shows_every_step() -> None:
    status, out = said("explain", str(EXAMPLE), "conductor-ampacity", "W1")
    assert status == 0
    for words in ("30 A", "25 A", "table ampacity", "usable ampacity"):
        assert words in out.replace("_", " ")
    status, out = said("explain", str(EXAMPLE), "bend-total", "R1+R2")
    assert status == 1
    assert "465°" in out


def test_explain_names_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    status, _, err = run(capsys, "explain", str(EXAMPLE), "bend-totl", "R1+R2")
    assert status == 2
    assert "bend-total" in err
    status, _, err = run(capsys, "explain", str(EXAMPLE), "bend-total", "R1")
    assert status == 2
    assert "R1+R2" in err


# -- imports ---------------------------------------------------------------------------------

HEAVY = {
    "pint", "jsonschema", "typst", "tabulate", "asyncio", "email", "http", "urllib", "xml", "html",
    "jinja2", "markupsafe", "hypothesis", "pytest", "socket", "ssl", "multiprocessing", "logging",
    "unittest",
}  # fmt: skip


@pytest.mark.parametrize(("form", "kept"), [("json", False), ("text", True)])
def test_a_plain_check_imports_nothing_heavy(form: str, kept: bool) -> None:
    """Neither the first check, which compiles the rules, nor those after it."""
    arguments = ["-X", "importtime", "-m", "checker", "check", "samples/recovery-wall.yaml",
                 "--format", form]  # fmt: skip
    more = {} if kept else {"PULLPOINT_CACHE": "off"}
    for _ in range(2 if kept else 1):
        done = subprocess.run(
            [sys.executable, *arguments], cwd=ROOT, capture_output=True, text=True, check=False,
            encoding="utf-8", env={**os.environ, **more},
        )  # fmt: skip
    names = {
        line.rpartition("|")[2].strip().partition(".")[0]
        for line in done.stderr.splitlines()
        if line.startswith("import time:")
    }
    assert "checker" in names
    assert "yaml" in names
    assert not (names - _at_start()) & HEAVY


def _at_start() -> set[str]:
    """What the interpreter imports by itself here; an editable installation may bring more."""
    code = "import sys; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return {name.partition(".")[0] for name in done.stdout.split()}


# -- golden reports --------------------------------------------------------------------------


def test_golden(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    assert set(golden.SAMPLES) == {path.stem for path in SAMPLES.glob("*.yaml")}
    for path, text in golden.golden().items():
        assert text == (ROOT / path).read_text(encoding="utf-8"), path


@pytest.mark.parametrize("name", sorted(p.stem for p in SAMPLES.glob("*.yaml")))
def test_relation_says_on_which_side_the_limit_lies(name: str) -> None:
    """Against the numbers: what fails is beyond its limit on the side that the key names."""
    _, out = said("check", str(SAMPLES / f"{name}.yaml"), "--format", "json")
    findings = json.loads(out)["findings"]
    told = 0
    for found in findings:
        assert (found["relation"] is None) == (found["limit"] is None)
        values = [(found[key] or {}).get("value") for key in ("measure", "limit")]
        if found["kind"] in ("pass", "fail") and all(isinstance(v, int | float) for v in values):
            measure, limit = values
            beyond = measure < limit if found["relation"] == "at least" else measure > limit
            near = measure == pytest.approx(limit, rel=1e-6)
            assert near or beyond == (found["kind"] == "fail"), found
            told += not near
    assert told > 50
