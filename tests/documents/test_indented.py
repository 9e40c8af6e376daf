"""Indented JSON is what the standard library writes, to the byte."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.cli.main import guarded
from checker.documents import indented as module
from checker.documents.indented import indented

LEAVES = st.none() | st.booleans() | st.integers() | st.floats() | st.text()
VALUES = st.recursive(
    LEAVES, lambda v: st.lists(v) | st.dictionaries(st.text(), v) | st.tuples(v, v), max_leaves=30
)


@given(VALUES)
def test_the_bytes_are_those_of_the_standard_library(value: Any) -> None:
    assert indented(value) == json.dumps(value, ensure_ascii=False, indent=1)


def test_what_is_remembered_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_MOST_KEPT", 2)
    value = [{"a": "x", "b": [1, "y"]}, {"a": "%s", "%": {}}, {"c": "x"}, {"a": "x", "b": []}]
    assert indented(value) == json.dumps(value, ensure_ascii=False, indent=1)


def test_a_report_does_not_go_through_the_slow_encoder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def slow(*_: Any, **__: Any) -> Any:
        raise AssertionError("the encoder in plain Python")

    monkeypatch.setattr(json.encoder, "_make_iterencode", slow)
    design = tmp_path / "wall.yaml"
    design.write_text("assembly: X\nboxes: [{id: B1, kind: junction}]\n")
    words = ["--output", str(tmp_path / "x"), "--roll-up", str(tmp_path / "all.json")]
    assert guarded(["check", str(design), "--format", "json", *words]) == 1
    assert json.loads((tmp_path / "x").read_text("utf-8"))["findings"]
