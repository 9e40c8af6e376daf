"""The README shows what the program really prints."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.cli.main import VERBS, guarded

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = README.split("```")[1::2]


@pytest.fixture
def printed(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.chdir(ROOT)
    guarded(["check", "samples/recovery-wall.yaml"])
    guarded(["check", "samples/recovery-wall-rev-b.yaml"])
    guarded(["explain", "samples/recovery-wall-rev-b.yaml", "box-fill", "N21"])
    return capsys.readouterr().out


def test_shown_output_is_real(printed: str) -> None:
    shown = [b for b in BLOCKS if "failing" in b or "FAIL" in b or "box-fill  box N21" in b]
    assert len(shown) == 3
    for block in shown:
        for line in block.strip().splitlines():
            if line.startswith(("…", "$ ", "Written:")) or not line.strip():
                continue
            assert line.rstrip() in printed, line


def test_shown_verbs_exist() -> None:
    lines = [line for block in BLOCKS for line in block.splitlines() if "pullpoint " in line]
    used = {line.split("pullpoint ")[1].split()[0] for line in lines}
    assert used <= set(VERBS)
    assert used >= {"check", "report", "explain", "rules", "tables", "new", "verify"}


def test_cautions_are_there_and_nothing_is_called_so() -> None:
    assert "## Cautions" in README
    assert "authority having jurisdiction" in README
    for word in ("compliant", "approved"):
        assert word not in README.lower()
