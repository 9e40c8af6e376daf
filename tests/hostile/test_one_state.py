"""A report is of one state of the rules and tables, whoever saves a file meanwhile."""

from __future__ import annotations

import builtins
import errno
import os
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from small_world import HEAD, settle

from checker.cli.main import guarded
from checker.rulebook import build, compiled, edition
from checker.rulebook.book import Rulebook, load_rulebook

ROOT = Path(__file__).resolve().parents[2]
FAULTY = str(ROOT / "samples" / "recovery-wall-rev-b.yaml")


@pytest.fixture
def world(tmp_path: Path) -> Path:
    """The small world."""
    settle(tmp_path, **{"county.yaml": HEAD + "terms: {raceway: run}\n"})
    return tmp_path


def _load(world: Path, *amendments: str) -> Rulebook:
    return load_rulebook(
        "code-1",
        [str(world / name) for name in amendments],
        date="2026-06-01",
        folder=str(world / "rules"),
        tables=str(world / "tables"),
        kept=str(world / "kept"),
    )


def _edit(world: Path) -> None:
    """Somebody saves another limit, and another table."""
    for name, was, now in (
        ("rules/routing/reach.yaml", "20 ft", "90 ft"),
        ("tables/bores.yaml", "0.3]", "0.7]"),
    ):
        path = world / name
        text = path.read_text("utf-8")
        assert was in text
        path.write_text(text.replace(was, now), "utf-8")


def _told(book: Rulebook) -> tuple[Any, ...]:
    """What judges, what the report says of it, and its fingerprints."""
    (rule,) = book.rules
    form = rule.forms["raceway"]
    facts = form.values["longest"]
    said = rule.record.values["longest"].part.value
    bores = book.tables["bores"]
    return (
        form.fast.__code__.co_consts, facts.text, said, rule.record.digest, book.digest,
        bores.rows, bores.digest, book.tables_digest,
    )  # fmt: skip


@pytest.mark.parametrize("amendments", [(), ("county.yaml",)])
@pytest.mark.parametrize("kept", [True, False])
def test_a_rule_saved_during_a_check_does_not_mix_with_what_judged(
    kept: bool, amendments: tuple[str, ...], world: Path
) -> None:
    if kept:
        _load(world)
    before = _told(_load(world, *amendments))
    book = _load(world, *amendments)
    _edit(world)
    assert _told(book) == before
    assert _told(_load(world, *amendments)) != before


@pytest.mark.parametrize("amendments", [(), ("county.yaml",)])
def test_a_rule_saved_while_rules_are_read_is_read_once(
    amendments: tuple[str, ...], world: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = _told(_load(world, *amendments))
    for kept in (world / "kept").iterdir():
        kept.unlink()
    real = edition.read

    def meanwhile(*given: Any, **more: Any) -> Any:
        if "90 ft" not in (world / "rules/routing/reach.yaml").read_text("utf-8"):
            _edit(world)
        return real(*given, **more)

    monkeypatch.setattr(edition, "read", meanwhile)
    assert _told(_load(world, *amendments)) == before


@pytest.mark.parametrize(
    "words",
    [
        *(["check", FAULTY, "--format", f] for f in ("json", "csv", "sarif", "junit", "markdown")),
        ["check", FAULTY],
        ["report", FAULTY],
    ],
    ids=lambda words: words[-1] if words[0] == "check" else "report",
)
def test_a_report_from_kept_rules_compiles_nothing_and_opens_no_file_twice(
    words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, second = (
        tmp_path / (name + (".html" if words[0] == "report" else "")) for name in ("one", "two")
    )
    assert guarded([*words, "--output", str(first)]) == 1  # kept now

    def again(*_: Any, **__: Any) -> Any:
        raise AssertionError("once more")

    monkeypatch.setattr(build, "compile_form", again)
    monkeypatch.setattr(compiled, "compile_form", again)
    seen: Counter[str] = Counter()
    real, real_open = os.open, builtins.open

    def watched(path: Any, *given: Any, **more: Any) -> Any:
        seen[os.path.realpath(path)] += 1
        return real(path, *given, **more)

    def watched_open(path: Any, *given: Any, **more: Any) -> Any:
        if isinstance(path, str | os.PathLike):
            seen[os.path.realpath(path)] += 1
        return real_open(path, *given, **more)

    with monkeypatch.context() as patch:
        patch.setattr(os, "open", watched)
        patch.setattr(builtins, "open", watched_open)
        assert guarded([*words, "--output", str(second)]) == 1
    rules = {p: n for p, n in seen.items() if p.startswith((f"{ROOT}/rules/", f"{ROOT}/tables/"))}
    assert len(rules) > 200
    assert {path for path, number in rules.items() if number > 1} == set()
    assert second.read_bytes() == first.read_bytes()


@pytest.mark.parametrize("step", ["replace", "fdopen"])
def test_a_full_disk_leaves_no_half_of_a_kept_book(
    step: str, world: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: Any) -> Any:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patch:
        patch.setattr(os, step, full)
        _load(world)
    assert list((world / "kept").iterdir()) == []
    _load(world)
    assert len(list((world / "kept").iterdir())) == 1
