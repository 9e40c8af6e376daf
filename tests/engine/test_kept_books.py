"""What is kept of a rulebook: where, by what it is known, and that nothing else is ever loaded."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import checker
from checker.rulebook.book import Rulebook, load_rulebook
from checker.rulebook.build import build

PROGRAM = Path(checker.__file__).parent

RULE = """\
rule: reach
title: A raceway is not longer than the shop may make it
topic: routing
each: raceway
values: {longest: {is: 20 ft, cite: "31", note: invented}}
judge: {measure: raceway.length, limit: longest, fail: "{raceway.length} of {longest}"}
cite: {any: CODE 31}
"""
DRAFT = RULE.replace("reach", "later") + "effective: 2027-01-01\n"
AMENDMENT = """\
amendment: county
title: Trial
jurisdiction: Kestrel County
effective: 2026-01-01
reference: Ordinance 1
changes:
  - {rule: reach, set: {longest: 9 ft}, reason: r, reference: "7"}
"""


def _rules(folder: Path) -> None:
    for name, text in (
        ("rules/editions/code-1.yaml", "edition: code-1\ntitle: Code of trial\nshort: CODE 1\n"),
        ("rules/routing/reach.yaml", RULE),
        ("rules/routing/later.yaml", DRAFT),
        ("tables/none.txt", ""),
        ("county.yaml", AMENDMENT),
    ):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A copy of the program with a small code of its own, as an installation has it."""
    shutil.copytree(
        PROGRAM, tmp_path / "checker", ignore=shutil.ignore_patterns("__pycache__", "kept")
    )
    _rules(tmp_path)
    return tmp_path


def _run(place: Path, *amendments: str, **more: str) -> str:
    """The fingerprint of the effective rules, from a process of its own."""
    code = (
        "import sys; from checker.rulebook.book import load_rulebook\n"
        "book = load_rulebook('code-1', sys.argv[1:], date='2026-06-01')\n"
        "form = book.find('reach').forms['raceway']\n"
        "print(book.digest, form.fast.__code__.co_consts, form.values['longest'].text)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *amendments],
        cwd=place, capture_output=True, text=True, check=True, encoding="utf-8",
        env={**os.environ, "PYTHONPATH": str(place), "HOME": str(place / "home"),
             "XDG_CACHE_HOME": str(place / "cache"), **more},
    )  # fmt: skip
    return done.stdout


def _kept(place: Path) -> Path:
    (path,) = (place / "checker" / "kept").iterdir()
    return path


def test_rules_are_kept_beside_the_program_and_nowhere_else(place: Path) -> None:
    first = _run(place)
    before = _kept(place).stat()
    assert _run(place) == first
    after = _kept(place).stat()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)
    assert not (place / "home").exists()
    assert not (place / "cache").exists()


def test_what_is_kept_may_be_written_by_its_owner_alone(place: Path) -> None:
    _run(place)
    assert not _kept(place).stat().st_mode & 0o022
    assert not _kept(place).parent.stat().st_mode & 0o022


def test_a_kept_edition_serves_amended_rules(place: Path) -> None:
    plain, amended = _run(place), _run(place, "county.yaml")
    assert "9 ft" in amended
    assert amended != plain
    assert _run(place, "county.yaml", PULLPOINT_CACHE="off") == amended


def test_nothing_of_an_amendment_is_kept(place: Path) -> None:
    _run(place)
    before = _kept(place).read_bytes()
    _run(place, "county.yaml")
    assert _kept(place).read_bytes() == before


def test_off_keeps_nothing(place: Path) -> None:
    plain = _run(place, PULLPOINT_CACHE="off")
    assert not (place / "checker" / "kept").exists()
    assert _run(place) == plain


def test_a_program_that_cannot_be_written_does_without(place: Path) -> None:
    # A file where the folder would be: nobody can make it, not even who may write anywhere.
    (place / "checker" / "kept").write_text("", encoding="utf-8")
    first = _run(place)
    assert _run(place) == first
    assert (place / "checker" / "kept").read_text(encoding="utf-8") == ""


@pytest.mark.parametrize(
    "part",
    ["assembly", "assembly/facts", "documents", "language", "language/checking", "quantities",
     "rulebook", "tables"],
)  # fmt: skip
def test_a_changed_module_is_noticed(part: str, place: Path) -> None:
    """In every part of the program that a compiled rule comes from, in inner folders too."""
    _run(place)
    before = _kept(place).read_bytes()
    module = max((place / "checker" / part).glob("*.py"))
    module.write_text(module.read_text("utf-8") + "\n# changed\n", encoding="utf-8")
    _run(place)
    assert _kept(place).read_bytes() != before


@pytest.mark.parametrize("name", ["rules/routing/reach.yaml", "rules/editions/code-1.yaml"])
def test_a_changed_file_is_noticed_whatever_its_time_and_size(name: str, place: Path) -> None:
    _run(place)
    before, path = _kept(place).read_bytes(), place / name
    facts, text = path.stat(), path.read_text("utf-8")
    path.write_text(text.replace("20 ft", "30 ft").replace("trial", "trail"), encoding="utf-8")
    os.utime(path, ns=(facts.st_atime_ns, facts.st_mtime_ns))
    assert path.stat().st_size == facts.st_size
    _run(place)
    assert _kept(place).read_bytes() != before


def _load(place: Path, date: str | None = None, *amendments: str) -> Rulebook:
    return load_rulebook(
        "code-1",
        [str(place / name) for name in amendments],
        date=date,
        folder=str(place / "rules"),
        tables=str(place / "tables"),
        kept=str(place / "kept"),
    )


@pytest.mark.parametrize("amendments", [(), ("county.yaml",)])
@pytest.mark.parametrize("date", [None, "2026-06-01", "2027-06-01"])
def test_a_kept_edition_is_what_is_built(
    amendments: tuple[str, ...], date: str | None, tmp_path: Path
) -> None:
    """With a rule that is not yet in force, and without; fingerprints, notices, and texts."""
    _rules(tmp_path)
    built = build(
        "code-1",
        [str(tmp_path / name) for name in amendments],
        date=date,
        folder=str(tmp_path / "rules"),
        tables=str(tmp_path / "tables"),
    )
    for _ in range(2):
        kept = _load(tmp_path, date, *amendments)
        assert (kept.digest, kept.tables_digest) == (built.digest, built.tables_digest)
        assert (kept.notices, kept.terms) == (built.notices, built.terms)
        assert [rule.id for rule in kept.rules] == [rule.id for rule in built.rules]
        for one, other in zip(kept.rules, built.rules, strict=True):
            assert one.digest == one.record.digest == other.digest
            assert (one.title, one.citation) == (other.title, other.citation)
            assert one.record.history == other.record.history
            code = [rule.forms["raceway"].fast.__code__ for rule in (one, other)]
            assert code[0] == code[1]


def test_other_rules_than_the_shipped_are_not_kept(tmp_path: Path) -> None:
    _rules(tmp_path)
    before = sorted(PROGRAM.glob("kept/code-1*"))
    load_rulebook("code-1", folder=str(tmp_path / "rules"), tables=str(tmp_path / "tables"))
    assert sorted(PROGRAM.glob("kept/code-1*")) == before == []
