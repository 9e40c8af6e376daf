"""The starting file for decisions: empty it decides nothing, and its example can be used."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from checker.cli.main import guarded

WALL = "samples/recovery-wall.yaml"


@pytest.fixture
def started(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    path = tmp_path / "RB-2.decisions.yaml"
    assert guarded(["new", "decisions", str(path)]) == 0
    assert "--decisions" in capsys.readouterr().out
    return path


def test_it_decides_nothing(started: Path, capsys: pytest.CaptureFixture[str]) -> None:
    guarded(["check", WALL])
    without = capsys.readouterr().out
    assert guarded(["check", WALL, "--decisions", str(started), "--as-of", "2026-03-02"]) == 0
    assert capsys.readouterr().out == without


@pytest.mark.parametrize(
    ("day", "said"), [("2026-12-31", "(accepted)"), ("2027-01-01", "does not count")]
)
def test_its_example_is_a_decision(
    day: str, said: str, started: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = started.read_text(encoding="utf-8").replace("decisions: []", "decisions:")
    head, _, example = text.partition("In place of the `[]` above:\n")
    started.write_text(head + "\n" + re.sub(r"(?m)^#", "", example), encoding="utf-8")
    guarded(["check", WALL, "--decisions", str(started), "--as-of", day])
    out = capsys.readouterr()
    assert said in out.out, out.err
