"""What a kept rulebook is known by: every file of the program that had a part in it."""

from __future__ import annotations

from pathlib import Path

import pytest

import checker
from checker.rulebook import store

PROGRAM = Path(checker.__file__).parent


def test_every_module_counts_in_whatever_folder() -> None:
    modules = [p for name in store._OWN for p in (PROGRAM / name).rglob("*.py")]
    assert any(len(p.relative_to(PROGRAM).parts) > 2 for p in modules), "no inner folder to test"
    known = sorted(line.split()[0] for line in store._program().splitlines())
    assert known == sorted(p.name for p in modules)


@pytest.mark.parametrize("inner", ["", "facts"])
def test_a_changed_module_is_noticed(inner: str, tmp_path: Path, monkeypatch) -> None:
    for name in store._OWN:
        (tmp_path / "checker" / name).mkdir(parents=True)
    module = tmp_path / "checker" / "assembly" / inner / "one.py"
    module.parent.mkdir(exist_ok=True)
    module.write_text("A = 1\n", encoding="utf-8")
    fake = tmp_path / "checker" / "rulebook" / "store.py"
    monkeypatch.setattr(store, "__file__", str(fake))
    before = store._program()
    module.write_text("A = 12\n", encoding="utf-8")
    assert before != store._program()
