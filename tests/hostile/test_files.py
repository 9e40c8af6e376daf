"""Files from strangers: bombs, floods, wrong bytes and names that want to act on a terminal."""

from __future__ import annotations

import json
import os
import re
import time
from pathlib import Path
from typing import Any

import pytest
from small_world import settle

from checker.cli.main import guarded
from checker.rulebook import build, store

BASE = """\
assembly: {name}
title: "{title}"
revision: A
basis: {{edition: nec-2023, ambient: 30 degC}}
defaults: {{wire: {{material: copper, insulation: THHN}}}}
panels: [{{id: P, branch: normal, system: 208Y/120}}]
circuits: [{{id: "{circuit}", panel: P, phases: [A], breaker: 20 A}}]
boxes: [{{id: B1, kind: junction}}, {{id: B2, kind: junction}}]
raceways: [{{id: "{raceway}", method: EMT, size: 1/2, from: B1, to: B2, length: 10 ft}}]
pulls:
  - {{id: W, circuit: "{circuit}", through: ["{raceway}"], wires: [{{role: phase, size: 12 AWG, count: 12}}]}}
"""

NAMES = [
    "<script>alert(1)</script>",
    "=HYPERLINK(0)",
    "@SUM(1)",
    "[x](javascript:alert(1))",
    "`rm -rf`",
    "*bold* _it_ | cell |",
    "&lt;b&gt; & ]]>",
    "{raceway.__class__}",
    "%s%n {0}",
    "\u05d0\u05d1\u05d2 rtl",
    "x" * 199,
]


def _file(tmp_path: Path, name: str) -> str:
    path = tmp_path / "a.yaml"
    escaped = name.replace("\\", "\\\\").replace('"', '\\"')
    text = BASE.format(name='"' + escaped + '"', title=escaped, circuit=escaped, raceway=escaped)
    path.write_text(text, encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("form", ["text", "json", "csv", "markdown", "junit", "sarif"])
def test_names_stay_text(
    name: str, form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status = guarded(["check", _file(tmp_path, name), "--format", form])
    out, err = capsys.readouterr()
    assert status in (1, 2), err
    assert "\x1b" not in out + err
    if form in ("junit",):
        assert "<script>" not in out
    if form == "markdown":
        assert "<script>" not in out
        assert not re.search(r"(?<!\\)\]\(javascript:", out)
    if form == "csv" and status == 1:
        for row in out.splitlines():
            assert not any(cell.lstrip('"')[:1] in ("=", "@") for cell in row.split(","))
    if form in ("json", "sarif") and status == 1:
        json.loads(out)


@pytest.mark.parametrize(
    "raw",
    [
        "\\e[2J\\e[31mRED",
        "bell\\a",
        "back\\b\\b\\b",
        "\\x9b31m",
        "line\\nbreak",
        "\\u202eevil",
        "\\r gone",
    ],
)
def test_terminal_escapes_are_shown_not_sent(
    raw: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "a.yaml"
    path.write_text(
        BASE.format(name="X", title=raw, circuit="C", raceway="R").replace("title: ", "title: "),
        encoding="utf-8",
    )
    guarded(["check", str(path)])
    out, err = capsys.readouterr()
    for sent in ("\x1b", "\x07", "\x08", "\x9b", "\u202e", "\r"):
        assert sent not in out + err


DEEP = "a: " + "[" * 400 + "]" * 400
BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{chr(98 + i)}: &{chr(98 + i)} [{', '.join(['*' + chr(97 + i)] * 9)}]\n" for i in range(9)
)


@pytest.mark.parametrize(
    "data",
    [
        BOMB.encode(),
        DEEP.encode(),
        b"assembly: X\n" + b"- " * 5000,
        b"? [a]\n: b\n",
        b"!!python/object/apply:os.system ['true']",
        b"assembly: !!binary aGk=",
        b"assembly: X\n---\nassembly: Y\n",
        b"%TAG ! tag:x,2000:\n--- !x\na: 1",
        b"a: *nothing",
        b"<<: {a: 1}\n",
        b"\xff\xfe\x00a",
        b"\x00\x01\x02",
        b"assembly: \xc3\x28",
        b"a" * 100_000,
        b"assembly: X\nassembly: Y\n" * 2000,
        b"{" * 20_000,
        b"key: |\n" + b"  x\n" * 50_000,
        b"assembly: X\nboxes:\n" + b"  - {id: B, kind: junction}\n" * 3000,
        b"assembly: X\nquantity: 99999999999999999999\n",
        b"assembly: X\nbasis: {ambient: 1e999 degC}\n",
        b"assembly: X\nbasis: {ambient: 1/0 degC}\n",
        b"assembly: X\nbasis: {amendments: ['/dev/zero']}\n",
        b"assembly: X\nbasis: {amendments: ['../../../../etc/passwd']}\n",
        b"assembly: X\nbasis: {amendments: ['.']}\n",
    ],
)
@pytest.mark.parametrize("verb", ["check", "rules"])
def test_files_are_refused_soon(
    data: bytes, verb: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "x.yaml"
    path.write_bytes(data)
    start = time.process_time()
    arguments = ["check", str(path)] if verb == "check" else ["rules", "test", str(path)]
    status = guarded(arguments)
    err = capsys.readouterr().err
    assert status == 2
    assert err.strip()
    assert "Traceback" not in err
    assert time.process_time() - start < 20


def test_a_relative_cache_folder_is_ignored(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """XDG Base Directory Specification: all paths have to be absolute; others are ignored."""
    path = _file(tmp_path, "plain")
    monkeypatch.delenv("PULLPOINT_CACHE", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("XDG_CACHE_HOME", "here")
    work = tmp_path / "work"
    work.mkdir()
    monkeypatch.chdir(work)
    guarded(["check", path])
    assert capsys.readouterr().err == ""
    assert list(work.iterdir()) == []
    assert list((tmp_path / "home" / ".cache" / "pullpoint").iterdir())


def test_a_damaged_kept_rulebook_is_made_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    home = tmp_path / "kept"
    monkeypatch.setenv("PULLPOINT_CACHE", str(home))
    path = _file(tmp_path, "plain")
    guarded(["check", path])
    first = capsys.readouterr().out
    (kept,) = list(home.iterdir())
    whole = kept.read_bytes()
    flipped = bytes([*whole[:70_000], whole[70_000] ^ 4, *whole[70_001:]])
    for damage in (b"", b"x" * 40, whole[:-7], whole[:32] + b"\x00" * 500, flipped):
        kept.write_bytes(damage)
        guarded(["check", path])
        assert capsys.readouterr().out == first
        assert kept.stat().st_size > 1000


def test_kept_rulebooks_do_not_pile_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """An author who edits a rule makes a new one with every run; only the last ones stay."""
    home = tmp_path / "kept"
    home.mkdir(mode=0o700)
    monkeypatch.setenv("PULLPOINT_CACHE", str(home))
    for number in range(store._MOST_KEPT + 5):
        old = home / f"{number:02}.rulebook"
        old.write_bytes(b"old")
        os.utime(old, (number, number))
    killed = home / "00.rulebook.4711"  # left half-written
    killed.write_bytes(b"ol")
    os.utime(killed, (0, 0))
    (home / "note.txt").write_text("not ours", encoding="utf-8")
    guarded(["check", _file(tmp_path, "plain")])
    capsys.readouterr()
    left = {path.name for path in home.iterdir()}
    assert len(left) == store._MOST_KEPT + 1
    assert "note.txt" in left
    assert killed.name not in left
    assert "05.rulebook" not in left
    assert "06.rulebook" in left


def test_a_rule_saved_while_it_is_compiled_is_not_kept_as_what_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Taken back again, the old text must not bring the new rule with it."""
    monkeypatch.setenv("PULLPOINT_CACHE", str(tmp_path / "kept"))
    settle(tmp_path)
    rules, tables = str(tmp_path / "rules"), str(tmp_path / "tables")
    rule = tmp_path / "rules" / "routing" / "reach.yaml"
    before = rule.read_text("utf-8")
    real = build.build

    def slow(*names: Any, **more: Any) -> Any:
        rule.write_text(before.replace("20 ft", "90 ft"), "utf-8")
        return real(*names, **more)

    monkeypatch.setattr(build, "build", slow)
    store.fetch("code-1", None, rules, tables)
    monkeypatch.setattr(build, "build", real)
    rule.write_text(before, "utf-8")
    (found,) = store.fetch("code-1", None, rules, tables).rules
    assert found.forms["raceway"].values["longest"].text == "20 ft"
    assert found.forms["raceway"].fast.__code__ == (
        build.build("code-1", folder=rules, tables=tables).rules[0].forms["raceway"].fast.__code__
    )


@pytest.mark.skipif(os.name != "posix", reason="names of bytes")
@pytest.mark.parametrize("form", ["text", "json", "csv", "markdown", "junit", "sarif"])
def test_a_name_that_is_not_utf_8(
    form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "w\udcff.yaml"  # how Python names the file b"w\xff.yaml" (PEP 383)
    path.write_text(BASE.format(name="X", title="T", circuit="C", raceway="R"), encoding="utf-8")
    out = tmp_path / "out"
    assert guarded(["check", str(path), "--format", form, "--output", str(out)]) == 1
    written = out.read_bytes().decode("utf-8")
    assert "defect" not in capsys.readouterr().err
    if form == "sarif":
        # RFC 8089 section 4 and RFC 3986 section 2.5: an octet that is no character is %FF.
        (run,) = json.loads(written)["runs"]
        assert run["artifacts"][0]["location"]["uri"].endswith("/w%FF.yaml")
    if form == "json":
        assert json.loads(written)["file"] == str(path)
        assert guarded(["verify", str(out)]) == 0


@pytest.mark.skipif(os.name != "posix", reason="names of bytes")
@pytest.mark.parametrize("form", ["html", "pdf"])
def test_the_submittal_of_a_name_that_is_not_utf_8(
    form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, out = tmp_path / "w\udcff.yaml", tmp_path / f"out.{form}"
    path.write_text(BASE.format(name="X", title="T", circuit="C", raceway="R"), encoding="utf-8")
    assert guarded(["report", str(path), "--output", str(out)]) == 1, capsys.readouterr().err
    assert guarded(["verify", str(out)]) == 0
    assert "unchanged" in capsys.readouterr().out


@pytest.mark.parametrize("ending", ["txt", "html"])
def test_a_roll_up_shows_names_and_does_not_send_them(ending: str, tmp_path: Path) -> None:
    path, out = tmp_path / "w\x1b[2J.yaml", tmp_path / f"all.{ending}"
    path.write_text(BASE.format(name="X", title="T", circuit="C", raceway="R"), encoding="utf-8")
    assert guarded(["check", str(path), "--roll-up", str(out)]) == 1
    text = out.read_text("utf-8")
    assert "\x1b" not in text
    assert "w\\x1b[2J.yaml" in text
