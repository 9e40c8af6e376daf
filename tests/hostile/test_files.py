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
from checker.rulebook import edition
from checker.rulebook.book import load_rulebook
from checker.rulebook.build import build

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


def test_nothing_is_written_into_the_users_folders(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = _file(tmp_path, "plain")
    home, work = tmp_path / "home", tmp_path / "work"
    for folder in (home, work):
        folder.mkdir()
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.setenv("XDG_CACHE_HOME", str(home))
    monkeypatch.chdir(work)
    guarded(["check", path])
    assert capsys.readouterr().err == ""
    assert [*home.iterdir(), *work.iterdir()] == []


def _world(folder: Path) -> tuple[str, str, str]:
    settle(folder)
    return str(folder / "rules"), str(folder / "tables"), str(folder / "kept")


def test_a_damaged_kept_rulebook_is_made_anew(tmp_path: Path) -> None:
    rules, tables, kept = _world(tmp_path)

    def load() -> str:
        (rule,) = load_rulebook("code-1", folder=rules, tables=tables, kept=kept).rules
        return rule.digest + rule.forms["raceway"].values["longest"].text

    first = load()
    (path,) = Path(kept).iterdir()
    whole = path.read_bytes()
    flipped = bytes([*whole[:900], whole[900] ^ 4, *whole[901:]])
    for damage in (b"", b"x" * 40, whole[:-7], whole[:64], whole[:80] + b"\x00" * 500, flipped):
        path.write_bytes(damage)
        assert load() == first
        assert path.read_bytes() == whole


def test_an_edited_rule_takes_the_place_of_the_kept_one(tmp_path: Path) -> None:
    """An author who edits a rule does not fill the disk: an edition is kept once."""
    rules, tables, kept = _world(tmp_path)
    rule = tmp_path / "rules" / "routing" / "reach.yaml"
    text = rule.read_text("utf-8")
    for feet in range(20, 26):
        rule.write_text(text.replace("20 ft", f"{feet} ft"), "utf-8")
        (found,) = load_rulebook("code-1", folder=rules, tables=tables, kept=kept).rules
        assert found.forms["raceway"].values["longest"].text == f"{feet} ft"
    assert len(list(Path(kept).iterdir())) == 1


def test_a_rule_saved_while_it_is_compiled_is_not_kept_as_what_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Taken back again, the old text must not bring the new rule with it."""
    rules, tables, kept = _world(tmp_path)
    rule = tmp_path / "rules" / "routing" / "reach.yaml"
    before = rule.read_text("utf-8")
    real = edition.read

    def slow(*names: Any, **more: Any) -> Any:
        rule.write_text(before.replace("20 ft", "90 ft"), "utf-8")
        return real(*names, **more)

    with monkeypatch.context() as patch:
        patch.setattr(edition, "read", slow)
        load_rulebook("code-1", folder=rules, tables=tables, kept=kept)
    rule.write_text(before, "utf-8")
    (found,) = load_rulebook("code-1", folder=rules, tables=tables, kept=kept).rules
    assert found.forms["raceway"].values["longest"].text == "20 ft"
    (built,) = build("code-1", folder=rules, tables=tables).rules
    assert found.forms["raceway"].fast.__code__ == built.forms["raceway"].fast.__code__


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
