"""The check verb as a person meets it: several files, all-or-nothing writing, roll-ups."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from checker.cli.main import guarded

ROOT = Path(__file__).resolve().parents[2]
CLEAN = str(ROOT / "samples" / "recovery-wall.yaml")
FAULTY = str(ROOT / "samples" / "recovery-wall-rev-b.yaml")


def test_highest_status_of_several_files_counts(capsys: pytest.CaptureFixture[str]) -> None:
    assert guarded(["check", CLEAN]) == 0
    assert guarded(["check", CLEAN, FAULTY]) == 1
    assert guarded(["check", FAULTY, str(ROOT / "nothing.yaml"), CLEAN]) == 2
    out, err = capsys.readouterr()
    assert "nothing.yaml" in err
    assert out.count("no check fails and none is open") == 3


def test_json_of_several_files_is_one_compact_report_a_line(
    capsys: pytest.CaptureFixture[str],
) -> None:
    guarded(["check", FAULTY, CLEAN, "--format", "json"])
    lines = capsys.readouterr().out.splitlines()
    assert [json.loads(line)["assembly"]["revision"] for line in lines] == ["B", "C"]


@pytest.mark.parametrize("form", ["text", "json", "sarif", "junit", "csv", "markdown"])
def test_a_wrong_input_writes_nothing(form: str, tmp_path: Path) -> None:
    target = tmp_path / "out"
    target.write_text("kept")
    wrong = tmp_path / "wrong.yaml"
    wrong.write_text("assembly: X\nboxs: []\n")
    assert guarded(["check", CLEAN, str(wrong), "--format", form, "--output", str(target)]) == 2
    assert target.read_text() == "kept"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["out", "wrong.yaml"]


@pytest.mark.parametrize("form", ["text", "json", "sarif", "junit", "csv", "markdown"])
def test_output_holds_what_would_have_been_printed(
    form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    guarded(["check", FAULTY, "--format", form])
    printed = capsys.readouterr().out
    target = tmp_path / "out"
    assert guarded(["check", FAULTY, "--format", form, "--output", str(target)]) == 1
    assert target.read_bytes().decode() == printed
    assert capsys.readouterr().out == ""


def test_an_unwritable_place_is_said_and_gives_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert guarded(["check", CLEAN, "--output", str(tmp_path)]) == 2
    assert guarded(["check", CLEAN, "--output", str(tmp_path / "no" / "such" / "x.txt")]) == 2
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize("ending", ["txt", "json", "html"])
def test_roll_up_adds_assemblies_and_units(ending: str, tmp_path: Path) -> None:
    target = tmp_path / f"all.{ending}"
    assert guarded(["check", CLEAN, FAULTY, "--roll-up", str(target)]) == 1
    text = target.read_text()
    assert "raceway-fill" in text
    if ending == "json":
        total = json.loads(text)
        assert (total["assemblies"], total["units"], total["units_affected"]) == (2, 36, 18)
        assert total["rules"][0]["fail"] + total["rules"][0]["open"] >= 1
    if ending == "html":
        assert "<script" not in text


def test_unknown_verb_and_edition_name_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert guarded(["chek", CLEAN]) == 2
    assert guarded(["check", CLEAN, "--edition", "nec-2032"]) == 2
    assert guarded(["explain", CLEAN, "bend-totl", "R1"]) == 2
    err = capsys.readouterr().err
    assert "nearest: check" in err
    assert "nec-20" in err
    assert "bend-total" in err


def test_edition_option_wins_over_the_file(capsys: pytest.CaptureFixture[str]) -> None:
    guarded(["check", FAULTY, "--edition", "nec-2017", "--format", "json"])
    assert json.loads(capsys.readouterr().out)["basis"]["edition"] == "nec-2017"
