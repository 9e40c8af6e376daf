"""Designations against the published lists of sizes.

Sources: wire sizes NEC Chapter 9 Table 8, trade sizes and metric designators NEC Table 300.1(C),
box forms NEC Table 314.16(A); all from memory. Circular mils by AWG: ASTM B258,
d = 0.005 in x 92^((36 - n) / 39).
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.quantities.designations import (
    METRIC,
    WIRE_SIZES,
    box_designation,
    rank,
    trade_rank,
    trade_size,
    wire_rank,
    wire_size,
)
from checker.quantities.notation import NotationError


def circular_mils(size: str) -> float:
    """The area by the standard's own equation, with 1/0 to 4/0 as gauges 0 to -3."""
    name, family = size.split()
    if family == "kcmil":
        return float(name) * 1000
    gauge = 1 - int(name[0]) if "/" in name else int(name)
    return float((5 * 92 ** ((36 - gauge) / 39)) ** 2)


def test_wire_ranks_follow_the_area_of_the_gauge_equation() -> None:
    areas = [circular_mils(size) for size in sorted(WIRE_SIZES, key=wire_rank)]
    assert areas == sorted(areas)
    assert len(set(map(wire_rank, WIRE_SIZES))) == len(WIRE_SIZES) == 30
    assert wire_rank("4/0 AWG") < wire_rank("250 kcmil")


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("12", "12 AWG"), ("#12", "12 AWG"), ("12AWG", "12 AWG"), ("No. 8", "8 AWG"),
        ("4/0", "4/0 AWG"), ("1/0 awg", "1/0 AWG"), ("000", "3/0 AWG"), ("250", "250 kcmil"),
        ("250 MCM", "250 kcmil"), ("250kcmil", "250 kcmil"), ("2000 kcmil", "2000 kcmil"),
    ],
)  # fmt: skip
def test_wire_sizes(text: str, canonical: str) -> None:
    assert wire_size(text) == canonical
    assert wire_size(canonical) == canonical


@pytest.mark.parametrize(
    ("text", "suggestion"),
    [
        ("13", "12 AWG"), ("5/0", "4/0 AWG"), ("260 kcmil", "250 kcmil"), ("9 AWG", "8 AWG"),
        ("250 AWG", "250 kcmil"), ("12 kcmil", "12 AWG"), ("240", "250 kcmil"), ("large", ""),
        ("12 in", ""), ("", ""),
    ],
)  # fmt: skip
def test_sizes_that_do_not_exist(text: str, suggestion: str) -> None:
    with pytest.raises(NotationError) as raised:
        wire_size(text)
    assert raised.value.suggestion == suggestion


# NEC Table 300.1(C), from memory.
PAIRS = {
    "3/8": 12, "1/2": 16, "3/4": 21, "1": 27, "1-1/4": 35, "1-1/2": 41, "2": 53, "2-1/2": 63,
    "3": 78, "3-1/2": 91, "4": 103, "5": 129, "6": 155,
}  # fmt: skip


def test_metric_designators_are_the_published_pairs() -> None:
    assert {trade: int(metric) for metric, trade in METRIC.items()} == PAIRS
    for trade, metric in PAIRS.items():
        assert trade_size(trade) == trade_size(f"metric {metric}") == trade
    ordered = sorted(PAIRS, key=trade_rank)
    assert [PAIRS[size] for size in ordered] == sorted(PAIRS.values())


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("1 1/4", "1-1/4"), ("3/4 in", "3/4"), ('3/4"', "3/4"), ("2 in", "2"),
        ("¾", "3/4"), ("1¼", "1-1/4"), ("2-½ in", "2-1/2"), ("⅜″", "3/8"),
    ],
)  # fmt: skip
def test_trade_sizes(text: str, canonical: str) -> None:
    assert trade_size(text) == canonical


@pytest.mark.parametrize(
    ("text", "suggestion"),
    [
        ("1.25", "1-1/4"), ("21", "metric 21"), ("21 mm", "metric 21"), ("metric 22", "metric 21"),
        ("0.75", "3/4"), ("5/4", "1-1/4"), ("wide", ""), ("1/0", "1/2"),
    ],
)  # fmt: skip
def test_trade_sizes_that_do_not_exist(text: str, suggestion: str) -> None:
    with pytest.raises(NotationError) as raised:
        trade_size(text)
    assert raised.value.suggestion == suggestion


def test_ranks_refuse_what_is_not_canonical() -> None:
    assert rank("3/4") == 0.75
    assert rank("12 AWG") == wire_rank("12 AWG")
    for text in ("12", "metric 21", "0.75"):
        with pytest.raises(KeyError):
            rank(text)


@pytest.mark.parametrize(
    ("text", "canonical"),
    [
        ("4 x 2-1/8 square", "4 x 2-1/8 square"),
        ("4 × 2 1/8 Square box", "4 x 2-1/8 square"),
        ('4" x 2-1/8" square', "4 x 2-1/8 square"),
        ("4 in X 2-1/8 in square", "4 x 2-1/8 square"),
        ("4-11/16 x 1-1/2 square", "4-11/16 x 1-1/2 square"),
        ("4 x 1-1/2 round", "4 x 1-1/2 octagonal"),
        ("3x2x3-1/2 device", "3 x 2 x 3-1/2 device"),
        ("4 x 2-1/8 x 1-7/8 device", "4 x 2-1/8 x 1-7/8 utility"),
        ("3-3/4 x 2 x 3-1/2 masonry", "3-3/4 x 2 x 3-1/2 masonry"),
        ("4 11⁄16 x 2⅛ square", "4-11/16 x 2-1/8 square"),
        ("3 x 2 x 3½ device", "3 x 2 x 3-1/2 device"),
        ("fs", "FS"),
        ("FD", "FD"),
    ],
)
def test_boxes(text: str, canonical: str) -> None:
    assert box_designation(text) == canonical
    assert box_designation(canonical) == canonical


@pytest.mark.parametrize(
    ("text", "suggestion"),
    [
        ("4 x 2-1/8 squar", "4 x 2-1/8 square"),
        ("square 4 x 2-1/8", "4 x 2-1/8 square"),
        ("4 x 2 x 2 square", ""),
        ("4 x 1/0 square", ""),
        ("large", ""),
        ("", ""),
    ],
)
def test_boxes_that_are_not_named_so(text: str, suggestion: str) -> None:
    with pytest.raises(NotationError) as raised:
        box_designation(text)
    assert raised.value.suggestion == suggestion


@given(st.text(max_size=50))
def test_any_text_is_a_designation_or_refused_cleanly(text: str) -> None:
    for read in (wire_size, trade_size, box_designation):
        try:
            canonical = read(text)
        except NotationError:
            continue
        assert read(canonical) == canonical
