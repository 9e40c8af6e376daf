"""What is wrong with a table file is said in one go, each with its line and column."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.documents.errors import InputError, Problem
from checker.documents.source import Source
from checker.tables import Table, load_table, read_table

GOOD = """\
table: demo
title: Demonstration
cite: {nec-2017: NEC 2017 X, nec-2023: NEC 2023 X}
note: none
keys:
  insulation: {type: text, also: {THWN: THHN}}
  size: {type: wire_size}
columns:
  area: {unit: in², source: a book, checked: not checked}
  thick: {unit: mm, source: a book, checked: not checked}
  share: {unit: "%", source: a book, checked: not checked}
  solid: {type: flag, source: a book, checked: not checked}
rows:
  - [THHN, 14 AWG, 0.0097, 25.4, 40, true]
  - [THHN, 12 AWG, 0.0133, ~, 80, false]
rows_in:
  nec-2023:
    - [THHN, 10 AWG, 0.0211, 1, 1, true]
"""


def read(text: str) -> Table:
    return read_table(Source.of_text(text, "demo.yaml"))


def problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        read(text)
    return caught.value.problems


def only(old: str, new: str) -> Problem:
    assert GOOD.count(old) == 1, old
    found = problems(GOOD.replace(old, new))
    assert len(found) == 1, found
    return found[0]


def test_cells_are_read_into_base_units_and_canonical_texts() -> None:
    table = read(GOOD)
    assert table.rows == (
        ("THHN", "14 AWG", 0.0097, 1.0, 0.4, True),
        ("THHN", "12 AWG", 0.0133, None, 0.8, False),
    )
    assert table.names == ("insulation", "size", "area", "thick", "share", "solid")
    assert read(GOOD.replace("14 AWG", "'#14'")).rows == table.rows


def test_empty_cells_hold_the_object_passed_in() -> None:
    nothing = object()
    table = read_table(Source.of_text(GOOD, "demo.yaml"), missing=nothing)
    assert table.rows[1][3] is nothing


def test_places_of_cells_are_kept() -> None:
    table = read(GOOD)
    assert table.mark(1, "area") == (15, 20)
    assert table.for_edition("nec-2023").mark(2, "insulation") == (18, 8)


def test_a_row_with_too_few_cells() -> None:
    problem = only("  - [THHN, 12 AWG, 0.0133, ~, 80, false]", "  - [THHN, 12 AWG, 0.0133, 80]")
    assert (problem.line, problem.column) == (15, 5)
    assert problem.message == "a row has the wrong number of cells"
    assert problem.found == "4 cells"
    assert problem.expected == "6 cells: insulation, size, area, thick, share, solid"


@pytest.mark.parametrize(
    ("old", "new", "line", "column", "part"),
    [
        ("0.0133", "12 in", 15, 20, "a number without a unit, in in²"),
        ("0.0133", "[1, 2]", 15, 20, ""),
        ("80, false", "80, no", 15, 35, "true or false"),
        ("12 AWG", "13 AWG", 15, 12, "a wire size from 18 AWG"),
        ("THHN, 12 AWG", "THHN, 14 AWG", 15, 6, "line 14"),
        ("[THHN, 14", "[~, 14", 14, 5, ""),
        ("type: wire_size", "type: wire_sise", 7, 16, "one of text, wire_size"),
        ("{type: wire_size}", "{type: wire_size, match: from}", 7, 34, "exact"),
        ("unit: mm", "unit: mmm", 10, 17, "a unit"),
        (
            "{unit: mm, source: a book, ",
            "{unit: mm, ",
            10,
            10,
            "`source:` with where its values come from",
        ),
        ("thick: {unit: mm,", "thick: {", 10, 10, "unit: in, A"),
        ("solid: {type: flag,", "solid: {type: flag, unit: in,", 12, 29, ""),
        ("  thick:", "  class:", 10, 3, "snake_case"),
        ("0.0133", "1e99", 15, 20, ""),
        ("0.0133", "9" * 400, 15, 20, "a number without a unit"),
        ("  thick:", "  Thick:", 10, 3, "snake_case"),
        ("  thick:", "  size:", 10, 3, "another name"),
        ("THWN: THHN", "THWN: THHM", 6, 41, ""),
        ("THWN: THHN", "THHN: THHN", 6, 41, "a name without rows"),
        ("table: demo", "table: dem0", 1, 8, "demo"),
        ("note: none", "notes: none", 4, 1, "one of table, title"),
        ("  nec-2023:\n", "  nec-2032:\n", 18, 5, "one of nec-2017, nec-2023"),
    ],
)
def test_each_mistake_has_its_place(old: str, new: str, line: int, column: int, part: str) -> None:
    found = problems(GOOD.replace(old, new, 1))
    assert (line, column) in [(p.line, p.column) for p in found], found
    at = next(p for p in found if (p.line, p.column) == (line, column))
    assert part in at.expected
    assert at.file == "demo.yaml"


@pytest.mark.parametrize(
    ("old", "new", "suggestion"),
    [
        ("type: wire_size", "type: wire_sise", "wire_size"),
        ("unit: mm", "unit: mmm", "mm"),
        ("THWN: THHN", "THWN: THHM", "THHN"),
    ],
)
def test_the_nearest_name_is_suggested(old: str, new: str, suggestion: str) -> None:
    assert only(old, new).suggestion == suggestion


def test_a_missing_citation_is_told() -> None:
    found = problems(GOOD.replace("cite: {nec-2017: NEC 2017 X, nec-2023: NEC 2023 X}\n", ""))
    assert "a table file lacks `cite`" in [p.message for p in found]
    assert (found[0].line, found[0].column) == (1, 1)


def test_rows_out_of_order_are_told() -> None:
    """Rules take the first row that holds, so the order is part of the meaning."""
    lines = GOOD.splitlines(keepends=True)
    lines[13], lines[14] = lines[14], lines[13]
    found = problems("".join(lines))
    assert [(p.line, p.column) for p in found] == [(15, 12)]
    assert found[0].message == "rows are not in the order of size"


def test_a_range_may_only_be_the_last_key() -> None:
    text = GOOD.replace("{type: text, also: {THWN: THHN}}", "{type: number, unit: A, match: up_to}")
    text = text.replace("[THHN,", "[1,")
    assert [(p.line, p.column, p.message) for p in problems(text)] == [
        (6, 46, "only the last key may be a range")
    ]


def test_all_problems_of_a_file_are_told_together_in_its_order() -> None:
    text = GOOD.replace("0.0097", "x").replace("0.0133", "y").replace("unit: mm", "unit: mm, a: b")
    found = problems(text)
    assert [p.line for p in found] == [10, 14, 15]
    assert [p.found for p in found[1:]] == ["x", "y"]


@pytest.mark.parametrize(
    "text",
    ["- a\n- b\n", "table: demo\n", "table: demo\nkeys: 3\ncolumns: []\nrows: x\n",
     GOOD.replace("{type: flag, source: a book, checked: not checked}", "flag"),
     GOOD[: GOOD.index("rows:")] + "rows: []\n",
     GOOD[: GOOD.index("rows:")] + "rows:\n  - 3\n",
     GOOD[: GOOD.index("rows:")] + "rows:\n  - [THHN, 14 AWG, 1, 1, 1, {a: b}]\n"],
)  # fmt: skip
def test_anything_else_is_an_input_error_too(text: str) -> None:
    assert problems(text)


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_no_damaged_file_does_anything_but_read_or_be_refused(data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(GOOD)))
    end = data.draw(st.integers(start, min(len(GOOD), start + 40)))
    pieces = st.sampled_from(
        [*GOOD.split(), "\n", "  - ", "[", "]", "{", "}", ": ", "~", "-1", "&a", "*a"]
    )
    text = data.draw(st.one_of(st.text(max_size=20), st.lists(pieces, max_size=5).map("".join)))
    with suppress(InputError):
        assert read(GOOD[:start] + text + GOOD[end:]).rows


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputError):
        load_table(tmp_path / "none.yaml")
