"""Texts made fit for the fonts and the columns of the PDF."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.reports.glyphs import breakable, breakable_code, drawable, every_sign

BREAK = "\u200b"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("EMT 3/4, 0.304 in² × 40 % ≤ 53 %, Ω", "EMT 3/4, 0.304 in² × 40 % ≤ 53 %, Ω"),
        ("漢", r"\u6f22"),
        ("😀", r"\U0001f600"),
        ("a\u202eb", r"a\u202eb"),
        ("a\nb\tc", r"a\x0ab c"),
        ("é Ж ש", "é Ж ש"),
    ],
)  # fmt: skip
def test_what_cannot_be_drawn_is_written_out(text: str, shown: str) -> None:
    assert drawable(text) == shown


@given(st.text())
def test_only_signs_that_fonts_have_come_out(text: str) -> None:
    assert set(drawable(text)) <= set(every_sign())


@given(st.text(max_size=300))
def test_breaks_change_nothing_else(text: str) -> None:
    assert breakable(text).replace(BREAK, "") == drawable(text)
    assert breakable_code(text).replace(BREAK, "") == drawable(text)


def test_no_word_stays_long() -> None:
    for text in ("N" * 10_000, "a_b." * 3000, "/x" * 5000):
        for part in breakable(text).replace("-", BREAK).split(BREAK):
            assert len(part) <= 28


def test_names_of_usual_length_are_left_alone() -> None:
    for name in ("critical-receptacle-identified", "TX1+TX2+TX3", "2C1-7", "raceway-fill"):
        assert breakable(name) == name
