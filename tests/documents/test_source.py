"""Files as found on disks: missing, huge, binary, special; each refused cleanly and quickly."""

from __future__ import annotations

import hashlib
import os
import socket
import time
from pathlib import Path

import pytest

from checker.documents.errors import InputError, Mark, Problem
from checker.documents.loader import load
from checker.documents.source import Source, read_source


def refused(path: Path | str, **more: int) -> Problem:
    begin = time.process_time()
    with pytest.raises(InputError) as raised:
        read_source(path, **more)
    assert time.process_time() - begin < 0.5
    (problem,) = raised.value.problems
    return problem


def test_a_file(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"\xef\xbb\xbfa: 30.3 in\xc2\xb3\r\nb: 1")
    source = read_source(path)
    assert source.text == "a: 30.3 in³\r\nb: 1"
    assert source.path == str(path)
    assert source.digest == "sha256:" + hashlib.sha256(path.read_bytes()).hexdigest()
    assert source.line(1) == "a: 30.3 in³"
    assert source.line(2) == "b: 1"
    assert source.line(3) == source.line(0) == ""


def test_places() -> None:
    source = Source.of_text("ab\ncd\r\n\r\ne\n")
    assert [source.mark(n) for n in (0, 2, 3, 7, 9, 11)] == [
        Mark(1, 1), Mark(1, 3), Mark(2, 1), Mark(3, 1), Mark(4, 1), Mark(5, 1),
    ]  # fmt: skip
    assert Source.of_text("").mark(0) == Mark(1, 1)
    assert Source.of_text("ab").mark(2) == Mark(1, 3)


def test_a_missing_file_has_a_nearest_name(tmp_path: Path) -> None:
    (tmp_path / "recovery-bay.yaml").write_text("a: 1")
    problem = refused(tmp_path / "recovery-bya.yaml")
    assert problem.message == "no such file"
    assert problem.suggestion == str(tmp_path / "recovery-bay.yaml")
    assert refused(tmp_path / "none" / "a.yaml").message.startswith("no such file: its folder")
    assert "part of the path" in refused(tmp_path / "recovery-bay.yaml" / "x").message


def test_a_folder(tmp_path: Path) -> None:
    assert "folder" in refused(tmp_path).message


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_an_unreadable_file(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("a: 1")
    path.chmod(0)
    assert "permission" in refused(path).message


def test_permission_denied_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("a: 1")

    def deny(*_: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "open", deny)
    assert "permission denied" in refused(path).message


@pytest.mark.parametrize(
    ("text", "words"), [("", "empty"), (" \n\n", "empty"), ("# a\n  # b\n", "only comments")]
)
def test_nothing_in_it(tmp_path: Path, text: str, words: str) -> None:
    path = tmp_path / "a.yaml"
    path.write_text(text)
    assert words in refused(path).message


def test_not_utf_8(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"a: 1\nb: caf\xe9 x\n")
    problem = refused(path)
    assert (problem.line, problem.column) == (2, 7)
    assert "byte 11 " in problem.message
    assert problem.found == "byte 0xe9"
    assert problem.excerpt == "b: caf\\xe9 x"
    path.write_bytes("a: ü1\n".encode("utf-16"))
    problem = refused(path)
    assert "NUL" in problem.message
    assert "UTF-16" in problem.suggestion


def test_the_standard_input_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    problem = refused(Path("-"))
    assert problem.message == "no such file"
    assert "standard input is not read" in problem.expected


def test_nul_bytes(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"a: 1\0")
    problem = refused(path)
    assert "NUL" in problem.message
    assert problem.found == "byte 4"


def test_a_huge_file_is_refused_before_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.yaml"
    with open(path, "wb") as file:
        file.truncate(50_000_000)

    def opened(*_: object) -> int:
        raise AssertionError("it is opened")

    with monkeypatch.context() as patch:
        patch.setattr(os, "open", opened)
        problem = refused(path)
    assert problem.message == "the file is too large"
    assert problem.found == "50.0 MB"
    path.write_text("a: 123")
    assert refused(path, limit=5).message == "the file is too large"
    assert read_source(path, limit=6).text == "a: 123"


def test_special_files_do_not_hang(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fifo = tmp_path / "fifo"
    os.mkfifo(fifo)
    assert "pipe" in refused(fifo).message
    assert "device" in refused("/dev/zero").message
    plug = socket.socket(socket.AF_UNIX)
    monkeypatch.chdir(tmp_path)  # a socket's path must be short
    plug.bind("plug")
    assert "socket" in refused("plug").message
    plug.close()


@pytest.mark.parametrize("name", ["", "a\0b", "x" * 5000])
def test_names_that_are_none(name: str) -> None:
    assert refused(name).message


def test_lines_may_end_in_carriage_returns_alone(tmp_path: Path) -> None:
    """YAML 1.1 section 5.4: a carriage return alone is a line break."""
    path = tmp_path / "a.yaml"
    path.write_bytes(b"# who wrote it\r# and when\rassembly: X\rrevision: B\r")
    assert load(read_source(path)).root == {"assembly": "X", "revision": "B"}
    path.write_bytes(b"# who wrote it\r# and when\r")
    assert refused(path).message == "the file holds only comments"
