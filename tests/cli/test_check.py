"""The check verb as a person meets it: several files, all-or-nothing writing, roll-ups."""

from __future__ import annotations

import gc
import json
import os
import subprocess
import sys
import weakref
from pathlib import Path
from typing import Any

import pytest

from checker.cli import check, loading
from checker.cli.main import guarded
from checker.findings.finding import Report

ROOT = Path(__file__).resolve().parents[2]
CLEAN = str(ROOT / "samples" / "recovery-wall.yaml")
FAULTY = str(ROOT / "samples" / "recovery-wall-rev-b.yaml")


def test_highest_status_of_several_files_counts(capsys: pytest.CaptureFixture[str]) -> None:
    assert guarded(["check", CLEAN]) == 0
    assert guarded(["check", CLEAN, FAULTY]) == 1
    assert guarded(["check", FAULTY, str(ROOT / "nothing.yaml"), CLEAN]) == 2
    out, err = capsys.readouterr()
    assert "nothing.yaml" in err
    assert out.count("no failed or open checks") == 3


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


def test_a_wrong_input_beside_a_defect_writes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The defect is the higher status; half of what was asked for is written for neither."""
    monkeypatch.setattr(Report, "exit_status", 3)
    target, gone = tmp_path / "out", str(tmp_path / "gone.yaml")
    for form in ("text", "csv"):
        assert guarded(["check", CLEAN, gone, "--format", form, "--output", str(target)]) == 3
        assert not target.exists()


@pytest.mark.skipif(os.name != "posix", reason="pipes of another kind")
@pytest.mark.parametrize("verb", [["check", FAULTY], ["check", FAULTY, "--format", "json"]])
def test_a_reader_that_goes_away_does_not_make_it_clean(verb: list[str]) -> None:
    """141 is what shells tell of a program that wrote to a pipe without a reader."""
    given, taken = os.pipe()
    os.close(given)
    done = subprocess.run(
        [sys.executable, "-m", "checker", *verb],
        stdout=taken, stderr=subprocess.PIPE, cwd=ROOT, check=False,
    )  # fmt: skip
    os.close(taken)
    assert (done.returncode, done.stderr) == (141, b"")


@pytest.mark.parametrize("form", ["json", "csv", "text"])
def test_what_is_printed_is_the_same_bytes_on_every_system(form: str) -> None:
    """Where standard output ends lines with CR LF and has another encoding than UTF-8."""
    verb = ["check", FAULTY, "--format", form]
    other = (
        f"import io, sys; from checker.cli.main import entry; sys.argv[1:] = {verb!r};"
        "sys.stdout = io.TextIOWrapper(sys.stdout.buffer, encoding='cp1252', newline='\\r\\n');"
        "entry()"
    )
    first, second = (
        subprocess.run([sys.executable, *how], capture_output=True, cwd=ROOT, check=False)
        for how in (["-m", "checker", *verb], ["-c", other])
    )
    assert (first.returncode, first.stdout) == (second.returncode, second.stdout)


def test_files_are_read_and_written_where_the_system_has_no_such_flag(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Windows has neither; Python keeps files from other programs by itself (PEP 446)."""
    for flag in ("O_CLOEXEC", "O_NONBLOCK"):
        monkeypatch.delattr(os, flag, raising=False)
    path = str(tmp_path / "wall.yaml")
    assert guarded(["new", "assembly", path]) == 0
    assert guarded(["check", path, "--output", str(tmp_path / "out.txt")]) == 0


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
    if ending != "json":
        said = "1 assembly with findings that block release, 18 units affected"
        assert f"2 assemblies, 36 units; {said}" in text


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


def test_no_output_takes_the_place_of_what_was_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    design = tmp_path / "wall.yaml"
    design.write_bytes(Path(CLEAN).read_bytes())
    link = tmp_path / "out.json"
    link.symlink_to(design)
    for target in (design, link):
        assert guarded(["check", str(design), "--format", "json", "--output", str(target)]) == 2
        assert "this file was read" in capsys.readouterr().err
    assert guarded(["check", str(design), "--roll-up", str(tmp_path / "all.json")]) == 0
    assert guarded(["check", CLEAN, "--output", str(tmp_path / "all.json")]) == 0
    assert design.read_bytes() == Path(CLEAN).read_bytes()


def test_an_edition_that_is_not_stated_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    design = tmp_path / "wall.yaml"
    design.write_text("assembly: X\nboxes: [{id: B1, kind: junction}]\n")
    guarded(["check", str(design)])
    assert "the edition is not stated" in capsys.readouterr().out
    guarded(["check", str(design), "--edition", "nec-2020"])
    assert "the edition is not stated" not in capsys.readouterr().out


def test_a_measure_just_over_its_limit_is_told_from_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    design = tmp_path / "run.yaml"
    design.write_text(
        "assembly: X\nboxes: [{id: B1, kind: junction}, {id: B2, kind: junction}]\n"
        "raceways: [{id: R1, method: EMT, size: 1/2, from: B1, to: B2, bends: "
        "[{kind: bend, angle: 360.001 deg}]}]\n"
    )
    assert guarded(["check", str(design)]) == 1
    assert "360.001° (360° max" in capsys.readouterr().out


@pytest.mark.skipif(os.name != "posix", reason="closes a stream in a shell's way")
@pytest.mark.parametrize(
    ("design", "closed", "status"),
    [(CLEAN, ">&-", 0), (FAULTY, ">&-", 1), ("none.yaml", "2>&-", 2)],
)
def test_a_closed_stream_leaves_the_status(design: str, closed: str, status: int) -> None:
    command = f'"$0" -m checker check "$1" {closed}'
    done = subprocess.run(
        ["sh", "-c", command, sys.executable, design], cwd=ROOT, capture_output=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (status, b"", b"")


def test_json_escapes_of_rare_characters_are_read(tmp_path: Path) -> None:
    design = tmp_path / "wall.json"
    design.write_text(json.dumps({"assembly": "X", "title": "Wall \U0001f50c"}))
    assert "\\ud83d\\udd0c" in design.read_text()
    out = tmp_path / "out.json"
    assert guarded(["check", str(design), "--format", "json", "--output", str(out)]) in (0, 1)
    assert json.loads(out.read_text())["assembly"]["title"] == "Wall \U0001f50c"


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("amendment: a\ntitle: b\nchanges: []\n", "this is an amendment, not an assembly"),
        ("rule: r\ntitle: b\n", "this is a rule, not an assembly"),
        ("examples_of: r\nexamples: []\n", "these are examples of a rule, not an assembly"),
        ("decisions_for: r\ndecisions: []\n", "this is a decision file, not an assembly"),
    ],
)
def test_a_file_of_another_kind_is_told_once(
    text: str, what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "other.yaml"
    path.write_text(text)
    assert guarded(["check", str(path)]) == 2
    err = capsys.readouterr().err
    assert what in err
    assert err.count("error: ") == 1


@pytest.mark.parametrize("ending", ["pdf", "html"])
def test_check_leaves_submittals_to_report(
    ending: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / f"wall.{ending}"
    assert guarded(["check", CLEAN, "--output", str(target)]) == 2
    assert "pullpoint report" in capsys.readouterr().err
    assert not target.exists()


FORMS = ["text", "json", "sarif", "junit", "csv", "markdown"]


@pytest.mark.parametrize("form", FORMS)
def test_several_files_are_written_as_they_are_printed(
    form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Also past what waits in memory; the status in SARIF is that of the last file as well."""
    target = tmp_path / "out"
    files = [CLEAN, CLEAN, FAULTY]
    assert guarded(["check", *files, "--format", form]) == 1
    printed = capsys.readouterr().out
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(check, "_IN_MEMORY", 1000)
        assert guarded(["check", *files, "--format", form, "--output", str(target)]) == 1
    assert target.read_bytes().decode() == printed
    if form == "sarif":
        codes = [run["invocations"][0]["exitCode"] for run in json.loads(printed)["runs"]]
        assert codes == [1, 1, 1]


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("to", ["file", "screen"])
def test_only_one_report_is_there_at_a_time(
    form: str, to: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Watched(Report):
        __slots__ = ("__weakref__",)

    alive: weakref.WeakSet[Watched] = weakref.WeakSet()
    most = []

    def made(*given: Any, **more: Any) -> Watched:
        most.append(len(alive))
        report = Watched(*given, **more)
        alive.add(report)
        return report

    monkeypatch.setattr(loading, "Report", made)
    written = ["--output", str(tmp_path / "out")] if to == "file" else []
    assert guarded(["check", *[CLEAN] * 4, "--format", form, *written]) == 0
    assert most == [0, 0, 0, 0]


def test_collecting_does_not_look_through_the_rules_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    looked_through = []
    real = gc.collect

    def collect() -> int:
        looked_through.append(len(gc.get_objects()))
        return real()

    monkeypatch.setattr(check.gc, "collect", collect)
    frozen = gc.get_freeze_count()
    guarded(["check", *[CLEAN] * 4])
    assert len(looked_through) == 4
    assert max(looked_through[1:]) < looked_through[0] / 2
    assert gc.get_freeze_count() == frozen, "nothing of it stays when the command ends"


@pytest.mark.parametrize("other", ["same", "link", "way"])
def test_an_output_and_a_roll_up_are_two_files(
    other: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "out"
    target.write_text("kept")
    (tmp_path / "link").symlink_to(target)
    roll_up = {"same": target, "link": tmp_path / "link", "way": tmp_path / "." / "out"}[other]
    words = ["--output", str(target), "--roll-up", f"{tmp_path}/./{roll_up.name}"]
    assert guarded(["check", CLEAN, *words]) == 2
    assert "one file" in capsys.readouterr().err
    assert target.read_text() == "kept"


def test_both_may_go_nowhere() -> None:
    assert guarded(["check", CLEAN, "--output", os.devnull, "--roll-up", os.devnull]) == 0


@pytest.mark.parametrize("wrong", ["no/such/all.json", "."])
def test_an_unwritable_roll_up_leaves_the_output_as_it_was(
    wrong: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "out"
    words = ["--output", str(target), "--roll-up", str(tmp_path / wrong)]
    assert guarded(["check", CLEAN, *words]) == 2
    assert "cannot write" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_roll_up_that_would_replace_a_design_leaves_the_output_as_it_was(
    tmp_path: Path,
) -> None:
    target, design = tmp_path / "out", tmp_path / "wall.yaml"
    design.write_bytes(Path(CLEAN).read_bytes())
    words = ["--output", str(target), "--roll-up", str(design)]
    assert guarded(["check", str(design), *words]) == 2
    assert design.read_bytes() == Path(CLEAN).read_bytes()
    assert [p.name for p in tmp_path.iterdir()] == ["wall.yaml"]


@pytest.mark.skipif(os.name != "posix", reason="signals of another kind")
def test_an_interrupt_during_the_start_prints_no_traceback(tmp_path: Path) -> None:
    """Ctrl-C while modules are still imported: status 130 as shells know it, and one line."""
    code = (
        "import sys, os, signal, importlib.abc\n"
        "class Late(importlib.abc.MetaPathFinder):\n"
        "    def find_spec(self, name, path, target=None):\n"
        "        if name == late: os.kill(os.getpid(), signal.SIGINT)\n"
        "sys.meta_path.insert(0, Late())\n"
        "late, sys.argv[1:] = sys.argv[1], ['check', sys.argv[2]]\n"
        "from checker.start import entry\n"
        "entry()\n"
    )
    for module in ("argparse", "checker.cli.main", "checker.cli.check", "checker.rulebook.store"):
        done = subprocess.run(
            [sys.executable, "-c", code, module, CLEAN],
            cwd=ROOT, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert (module, done.returncode, done.stdout) == (module, 130, "")
        assert "Traceback" not in done.stderr
        assert done.stderr.startswith("interrupted")


def test_rulebooks_of_many_permit_dates_do_not_pile_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    most = []
    real = loading.Loader.load

    def load(loader: loading.Loader, path: str) -> Report:
        report = real(loader, path)
        most.append(len(loader.books))
        return report

    monkeypatch.setattr(loading.Loader, "load", load)
    designs = []
    for day in range(10, 25):
        designs.append(tmp_path / f"{day}.yaml")
        basis = f"permit_date: 2026-01-{day}, health_care: false, location: dry, ambient: 30 degC"
        designs[-1].write_text(f"assembly: X\nrevision: A\nbasis: {{{basis}}}\n")
    assert guarded(["check", *map(str, designs)]) == 0, capsys.readouterr()
    assert len(most) == 15
    assert max(most) == loading._MOST_BOOKS
