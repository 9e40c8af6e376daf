"""Files written whole or not at all."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from checker.documents.errors import InputError
from checker.documents.writing import write_bytes, write_text


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
