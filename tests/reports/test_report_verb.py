"""``pullpoint report``: what it writes, what it refuses, and that it writes all or nothing."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from submittals import SAMPLES

from checker.cli.main import guarded

WALL = os.fspath(SAMPLES / "recovery-wall-rev-b.yaml")
SOUND = os.fspath(SAMPLES / "overhead-rack.yaml")


@pytest.mark.parametrize(("ending", "start"), [("pdf", b"%PDF-1.7"), ("html", b"<!DOCTYPE html>")])
def test_writes_the_form_that_the_ending_asks_for(
    ending: str, start: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / f"out.{ending}"
    status = guarded(["report", SOUND, "--output", os.fspath(path), "--date", "2026-03-09"])
    assert status == 0
    assert path.read_bytes().startswith(start)
    assert os.listdir(tmp_path) == [path.name]
    assert "no failed or open checks" in capsys.readouterr().out
    assert guarded(["verify", os.fspath(path)]) == 0, "what it carries can be read again"
    assert "unchanged" in capsys.readouterr().out


def test_the_status_is_that_of_a_check(tmp_path: Path) -> None:
    assert guarded(["report", WALL, "--output", os.fspath(tmp_path / "x.html")]) == 1


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ([SOUND, "--output", "x.docx"], "ends in .pdf or .html"),
        ([SOUND, "--output", "x"], "ends in .pdf or .html"),
        (["no-such-file.yaml", "--output", "x.html"], "no-such-file.yaml"),
        ([SOUND, "--output", "no/such/folder/x.html"], "does not exist"),
        ([SOUND, "--edition", "nec-1897", "--output", "x.html"], "nec-1897"),
    ],
)
def test_refuses_and_writes_nothing(
    arguments: list[str],
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert guarded(["report", *arguments]) == 2
    assert said in capsys.readouterr().err
    assert os.listdir(tmp_path) == []


@pytest.mark.parametrize("day", ["2026-02-30", "yesterday", "2026-3-9", ""])
def test_refuses_what_is_no_date(day: str, tmp_path: Path) -> None:
    with pytest.raises(SystemExit) as error:
        guarded(["report", SOUND, "--output", os.fspath(tmp_path / "x.pdf"), "--date", day])
    assert error.value.code == 2
    assert os.listdir(tmp_path) == []


def test_an_old_report_stands_until_the_new_one_is_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "x.html"
    path.write_text("old")
    from checker.reports import html_form

    def fail(report: object) -> str:
        raise MemoryError

    monkeypatch.setattr(html_form, "render", fail)
    assert guarded(["report", SOUND, "--output", os.fspath(path)]) == 3
    assert path.read_text() == "old"
    assert os.listdir(tmp_path) == ["x.html"]


def test_without_the_typesetter_it_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(__import__("sys").modules, "typst", None)
    assert guarded(["report", SOUND, "--output", os.fspath(tmp_path / "x.pdf")]) == 2
    assert "typst" in capsys.readouterr().err
    assert guarded(["report", SOUND, "--output", os.fspath(tmp_path / "x.html")]) == 0
