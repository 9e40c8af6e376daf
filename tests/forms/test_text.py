"""The report on a terminal: lines fit it, and what is open for one reason is told once."""

from __future__ import annotations

import argparse
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.cli.loading import Loader
from checker.cli.main import guarded
from checker.documents.wrapping import WIDTH, wrapped
from checker.findings.finding import Report
from checker.reports.style import Style
from checker.reports.text_form import render

FAULTY = "samples/recovery-wall-rev-b.yaml"


@given(st.lists(st.text("abc[]0.,", min_size=1, max_size=12), max_size=20), st.integers(30, 120))
def test_wrapping_keeps_every_word_and_the_width(words: list[str], width: int) -> None:
    text = " ".join(words)
    lines = wrapped(text, width, "  a: ", "     ")
    assert " ".join(lines).split() == ("  a: " + text).split()
    assert all(len(line) <= width for line in lines)


def test_a_number_stays_beside_its_unit() -> None:
    assert wrapped("a box of 30.3 in³, no less", 15) == ["a box of", "30.3 in³, no", "less"]


@pytest.mark.parametrize("width", [60, 80, 100])
def test_lines_fit_a_terminal(width: int) -> None:
    text = render(_report(), Style(width=width))
    long = [line for line in text.splitlines() if len(line) > width]
    assert not long
    assert " ".join(text.split()).count("block release") == 1


def _report() -> Report:
    options = argparse.Namespace(edition=None, amend=[], decisions=None, as_of=None)
    return Loader(options).load(FAULTY)


def test_colour_changes_nothing_but_colour() -> None:
    report = _report()
    for width in (60, WIDTH):
        plain, coloured = render(report, Style(width=width)), render(report, Style(True, width))
        assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain


def test_a_long_title_is_wrapped(tmp_path: Path) -> None:
    design = tmp_path / "wall.yaml"
    title = "Recovery bay service wall with " + "more and " * 20 + "more"
    text = Path(FAULTY).read_text(encoding="utf-8")
    old = "title: Recovery bay service wall, type 2"
    assert old in text
    design.write_text(text.replace(old, f"title: {title}"), encoding="utf-8")
    options = argparse.Namespace(edition=None, amend=[], decisions=None, as_of=None)
    head = render(Loader(options).load(str(design)), Style(width=60)).split("\n\n")[0]
    *lines, place = head.split("\n")
    assert place == str(design)
    assert all(len(line) <= 60 for line in lines)
    assert " ".join(lines) == f"{title} RB-2 · revision B · 18 units · NEC 2023"


def test_open_for_one_reason_is_told_once(capsys: pytest.CaptureFixture[str]) -> None:
    guarded(["check", FAULTY])
    said = capsys.readouterr().out
    assert "OPEN   conductor-load  pull WHN, WTN12L, WN22\n" in said
    assert said.count("OPEN   conductor-load") == 1
    options = argparse.Namespace(edition=None, amend=[], decisions=None, as_of=None)
    every = [f for f in Loader(options).load(FAULTY).findings if f.kind == "open"]
    assert len(every) > said.count("\nOPEN   ")
    assert f", {len(every)} open," in said  # counted, all of them


@pytest.mark.parametrize(
    ("written", "meant"), [("THWN2", "THWN-2"), ("THNH", "THHN"), ("XHHW2", "XHHW-2")]
)
def test_an_insulation_of_another_spelling_names_the_nearest(
    written: str, meant: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    design = tmp_path / "wall.yaml"
    text = Path(FAULTY).read_text(encoding="utf-8")
    design.write_text(text.replace("insulation: THHN", f"insulation: {written}"), encoding="utf-8")
    guarded(["check", str(design)])
    said = " ".join(capsys.readouterr().out.split())
    assert f"no entry in NEC 2023 Table 310.4(1): {written} (nearest: {meant})" in said
