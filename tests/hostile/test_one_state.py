"""A report is of one state of the rules and tables, whoever saves a file meanwhile."""

from __future__ import annotations

import errno
import os
from pathlib import Path
from typing import Any

import pytest
from small_world import HEAD, settle

from checker.cli.main import guarded
from checker.rulebook import build, compiled, reading, store
from checker.rulebook.book import Rulebook, load_rulebook
from checker.tables import loader

FAULTY = str(Path(__file__).resolve().parents[2] / "samples" / "recovery-wall-rev-b.yaml")


@pytest.fixture
def world(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The small world with a cache of its own."""
    monkeypatch.setenv("PULLPOINT_CACHE", str(tmp_path / "kept"))
    settle(tmp_path, **{"county.yaml": HEAD + "terms: {raceway: run}\n"})
    return tmp_path


def _load(world: Path, *amendments: str) -> Rulebook:
    return load_rulebook(
        "code-1",
        [str(world / name) for name in amendments],
        date="2026-06-01",
        folder=str(world / "rules"),
        tables=str(world / "tables"),
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
    said = rule.draft.values["longest"].part.value
    bores = book.tables["bores"]
    return (
        form.fast.__code__.co_consts, facts.text, said, rule.draft.digest, book.digest,
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
    real = build.build

    def meanwhile(*given: Any, **more: Any) -> Rulebook:
        if "90 ft" not in (world / "rules/routing/reach.yaml").read_text("utf-8"):
            _edit(world)
        return real(*given, **more)

    monkeypatch.setattr(build, "build", meanwhile)
    assert _told(_load(world, *amendments)) == before


def test_a_report_from_a_kept_book_compiles_and_reads_nothing_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PULLPOINT_CACHE", str(tmp_path / "kept"))
    first, second = tmp_path / "first", tmp_path / "second"
    words = ["check", FAULTY, "--format", "json", "--output"]
    assert guarded([*words, str(first)]) == 1

    def again(*_: Any, **__: Any) -> Any:
        raise AssertionError("once more")

    for module in (build, compiled):
        monkeypatch.setattr(module, "compile_form", again)
    monkeypatch.setattr(reading, "read_file", again)
    monkeypatch.setattr(loader, "read_table", again)
    assert guarded([*words, str(second)]) == 1
    assert second.read_bytes() == first.read_bytes()
    for form in ("csv", "sarif", "junit", "markdown", "text"):
        assert guarded(["check", FAULTY, "--format", form, "--output", str(second)]) == 1
    assert guarded(["report", FAULTY, "--output", str(tmp_path / "x.html")]) == 1


@pytest.mark.parametrize("step", ["replace", "fdopen"])
def test_a_full_disk_leaves_no_half_of_a_kept_book(
    step: str, world: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: Any) -> Any:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patch:
        patch.setattr(store.os, step, full)
        _load(world)
    assert list((world / "kept").iterdir()) == []
    _load(world)
    assert len(list((world / "kept").iterdir())) == 1
