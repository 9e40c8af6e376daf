"""Files written whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from checker.documents.errors import InputError
from checker.documents.writing import STALE, Pending, finish, write_bytes, write_text


def message_of(path: Path | str, text: str = "new") -> str:
    with pytest.raises(InputError) as raised:
        write_text(path, text)
    (problem,) = raised.value.problems
    assert problem.file == str(path)
    return problem.message


def test_written_and_replaced(tmp_path: Path) -> None:
    path = tmp_path / "out.txt"
    write_text(path, "in³\n")
    assert path.read_bytes() == b"in\xc2\xb3\n"
    path.chmod(0o640)
    write_bytes(path, b"two")
    assert path.read_bytes() == b"two"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert os.listdir(tmp_path) == ["out.txt"]


def test_a_new_file_has_the_usual_mode(tmp_path: Path) -> None:
    (tmp_path / "usual").write_text("")
    write_text(tmp_path / "ours", "")
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "usual").stat().st_mode


def test_a_link_is_followed(tmp_path: Path) -> None:
    real = tmp_path / "real"
    real.write_text("old")
    link = tmp_path / "link"
    link.symlink_to(real)
    write_text(link, "new")
    assert link.is_symlink()
    assert real.read_text() == "new"


@pytest.mark.parametrize("step", ["fsync", "replace"])
@pytest.mark.parametrize(
    ("number", "words"), [(errno.ENOSPC, "disk is full"), (errno.EACCES, "permission denied")]
)
def test_a_failure_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str, number: int, words: str
) -> None:
    path = tmp_path / "out.txt"
    path.write_text("old")

    def fail(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, step, fail)
    assert words in message_of(path)
    assert path.read_text() == "old"
    assert os.listdir(tmp_path) == ["out.txt"]


def test_an_interrupt_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_text(tmp_path / "out.txt", "new")
    assert os.listdir(tmp_path) == []


def test_a_full_disk_for_real() -> None:
    if not Path("/dev/full").exists():
        pytest.skip("this system has no /dev/full")
    assert "disk is full" in message_of("/dev/full")


def test_where_nothing_can_be_written(tmp_path: Path) -> None:
    assert "this is a folder" in message_of(tmp_path)
    assert "does not exist" in message_of(tmp_path / "none" / "out.txt")
    (tmp_path / "file").write_text("")
    assert "part of the path" in message_of(tmp_path / "file" / "out.txt")
    assert "file name" in message_of("")
    assert "too long" in message_of(tmp_path / ("x" * 300))
    assert os.listdir(tmp_path) == ["file"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_read_only_folder(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    assert "permission denied" in message_of(tmp_path / "out.txt")


def test_a_device_is_written_to_directly() -> None:
    write_text("/dev/null", "new")
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)


def _part(folder: Path, number: int, age: float) -> Path:
    """What a program that was killed leaves."""
    path = folder / f".part-{number}-{number:012x}"
    path.write_bytes(b"half of a rep")
    then = time.time() - age
    os.utime(path, (then, then))
    return path


@pytest.mark.skipif(os.name != "posix", reason="locks of another kind")
def test_parts_left_behind_are_removed_and_others_are_not(tmp_path: Path) -> None:
    fcntl = pytest.importorskip("fcntl")
    old, young = _part(tmp_path, 1, 2 * STALE), _part(tmp_path, 2, 0)
    written = _part(tmp_path, 3, 2 * STALE)  # by another program, which is slow
    named = tmp_path / ".part-1-notes"
    named.write_text("a person's own")
    os.utime(named, (0, 0))
    folder = tmp_path / ".part-4-000000000004"
    folder.mkdir()
    link = tmp_path / ".part-5-000000000005"
    link.symlink_to(named)
    with written.open("r+b") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        write_text(tmp_path / "out.txt", "new")
    assert not old.exists()
    assert young.exists()
    assert written.exists()
    assert named.exists()
    assert folder.exists()
    assert link.is_symlink()


@pytest.mark.skipif(os.name != "posix", reason="signals of another kind")
def test_a_killed_write_is_cleaned_up_by_a_later_one(tmp_path: Path) -> None:
    code = (
        "import os, signal, sys\n"
        "from checker.documents.writing import Pending\n"
        "file = Pending(sys.argv[1])\n"
        "file.write('half of a rep')\n"
        "os.kill(os.getpid(), signal.SIGKILL)\n"
    )
    target = tmp_path / "out.txt"
    subprocess.run([sys.executable, "-c", code, str(target)], check=False)
    (left,) = tmp_path.iterdir()
    write_text(target, "one")
    assert left.exists(), "it is too young to be sure"
    os.utime(left, (0, 0))
    write_text(target, "two")
    assert os.listdir(tmp_path) == ["out.txt"]


def test_a_file_on_its_way_is_not_taken_for_left_behind(tmp_path: Path) -> None:
    with Pending(tmp_path / "slow.txt") as slow:
        slow.write("one ")
        (part,) = tmp_path.iterdir()
        os.utime(part, (0, 0))
        write_text(tmp_path / "quick.txt", "new")
        slow.write("two")
        finish(slow)
    assert (tmp_path / "slow.txt").read_text() == "one two"
    assert sorted(os.listdir(tmp_path)) == ["quick.txt", "slow.txt"]


@pytest.mark.parametrize("links", [True, False])
@pytest.mark.parametrize("before", ["old", None])
def test_of_two_files_both_are_put_in_place_or_none(
    links: bool, before: str | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    if before:
        one.write_text(before)
    two.write_text("second")
    real = os.replace

    def replace(source: str, target: str) -> None:
        if target == str(two):
            raise OSError(errno.EIO, "input/output error")
        real(source, target)

    def no_links(*_: object) -> None:
        raise OSError(errno.EPERM, "no links here")

    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", replace)
        if not links:
            patch.setattr(os, "link", no_links)
        with Pending(one) as first, Pending(two) as second:
            first.write("new")
            second.write("new")
            with pytest.raises(InputError, match="cannot write"):
                finish(first, second)
    assert two.read_text() == "second"
    assert one.exists() == bool(before)
    assert not before or one.read_text() == before
    assert sorted(os.listdir(tmp_path)) == (["one", "two"] if before else ["two"])
    with Pending(one) as first, Pending(two) as second:
        first.write("new")
        second.write("new")
        finish(first, second)
    assert [one.read_text(), two.read_text(), len(os.listdir(tmp_path))] == ["new", "new", 2]


def test_two_names_of_one_file_are_not_written_both(tmp_path: Path) -> None:
    """As on a disk that takes capitals and small letters for the same."""
    one = tmp_path / "one"
    one.write_text("old")
    with Pending(one) as first, Pending(tmp_path / "One") as second:
        first.write("a")
        second.write("b")
        second.target = str(one)
        with pytest.raises(InputError, match="one file"):
            finish(first, second)
    assert one.read_text() == "old"
    assert os.listdir(tmp_path) == ["one"]
