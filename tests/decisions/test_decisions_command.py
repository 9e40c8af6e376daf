"""``check --decisions``: exit statuses, and what is printed."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest
from small_code import DESIGN, RULES, code, decision, file

from checker.cli.main import guarded


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the rule on bends alone in the shipped rules' place, and a design."""
    code(tmp_path)
    for name in RULES:
        if name != "turns":
            os.remove(tmp_path / "rules" / f"{name}.yaml")
    for module in ("book", "build", "folder"):
        monkeypatch.setattr(
            f"checker.rulebook.{module}.rules_folder", lambda: os.fspath(tmp_path / "rules")
        )
    monkeypatch.setenv("PULLPOINT_CACHE", "off")
    (tmp_path / "design.yaml").write_text(DESIGN + "basis: {edition: code-1}\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def checked(capsys: pytest.CaptureFixture[str], text: str, *options: str) -> tuple[int, str, str]:
    """Exit status, output and complaints of a check with a decision file."""
    Path("decisions.yaml").write_text(text, encoding="utf-8")
    status = guarded(["check", "design.yaml", "--decisions", "decisions.yaml", *options])
    return status, *capsys.readouterr()


def test_without_decisions_the_check_fails(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert guarded(["check", "design.yaml"]) == 1


@pytest.mark.parametrize(
    ("text", "options", "status"),
    [
        (file(decision()), (), 0),
        (file(decision(expires="2026-12-31")), ("--as-of", "2026-12-31"), 0),
        (file(decision(expires="2026-12-31")), ("--as-of", "2027-01-01"), 1),
        (file(decision(expires="2026-12-31")), (), 1),
        (file(decision(measure="370 deg")), (), 1),
        (file(decision(), assembly="T-2"), (), 1),
        (file(decision(reason=None)), (), 2),
        (file(decision(date="2026-02-30")), (), 2),
        ("", (), 2),
    ],
)
def test_exit_status(
    place: Path,
    capsys: pytest.CaptureFixture[str],
    text: str,
    options: tuple[str, ...],
    status: int,
) -> None:
    got, out, err = checked(capsys, text, *options)
    assert got == status
    assert bool(err) == (status == 2)
    assert bool(out) == (status != 2)


def test_a_date_that_is_none_is_refused(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("decisions.yaml").write_text(file(decision()), encoding="utf-8")
    arguments = ["check", "design.yaml", "--decisions", "decisions.yaml", "--as-of", "2026-02-30"]
    with pytest.raises(SystemExit) as caught:
        guarded(arguments)
    assert caught.value.code == 2
    assert "2026-02-30" in capsys.readouterr().err


def test_the_json_report_holds_every_decision(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = file(decision(), decision(rule="turn"))
    status, out, _ = checked(capsys, text, "--format", "json", "--as-of", "2026-05-01")
    report: dict[str, Any] = json.loads(out)
    assert status == 0
    assert [d["status"] for d in report["decisions"]] == ["applied", "unmatched"]
    (found,) = [f for f in report["findings"] if f["decision"]]
    assert (found["kind"], found["decision"]) == ("fail", report["decisions"][0])
    assert found["decision"]["judged_on"] == "2026-05-01"
    assert report["summary"]["fail"] == 1
    assert any("nearest: turns" in notice for notice in report["notices"])


@pytest.mark.parametrize("form", ["text", "json", "sarif", "junit", "csv", "markdown"])
def test_every_form_keeps_an_accepted_finding_and_its_reason(
    place: Path, capsys: pytest.CaptureFixture[str], form: str
) -> None:
    status, out, _ = checked(capsys, file(decision()), "--format", form)
    assert status == 0
    for words in ("turns", "BD-2026-114", "pulled before the joint closed"):
        assert words in out
