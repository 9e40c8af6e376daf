"""Distances, sweeps and walls against dense sampling and brute force; sizes against the tables."""

from __future__ import annotations

import math
import random

import pytest

from checker.assembly.facts.extents import _THICKER, size_of
from checker.assembly.geometry.distance import (
    between_boxes,
    between_segments,
    segment_to_box,
)
from checker.assembly.geometry.sweep import near_pairs
from checker.assembly.geometry.vectors import Vector, moved
from checker.assembly.geometry.walls import touch
from checker.documents.fields import blank, opened
from checker.documents.missing import Missing, known
from checker.paths import tables_folder
from checker.quantities.designations import TRADE_RANK
from checker.tables import load_tables

STEPS = 60


def points(count: int, seed: int) -> list[Vector]:
    dice = random.Random(seed)
    return [(dice.uniform(0, 20), dice.uniform(0, 20), dice.uniform(0, 6)) for _ in range(count)]


def along(p: Vector, q: Vector) -> list[Vector]:
    return [moved(p, (q[0] - p[0], q[1] - p[1], q[2] - p[2]), n / STEPS) for n in range(STEPS + 1)]


@pytest.mark.parametrize("seed", range(60))
def test_segments_are_no_farther_apart_than_any_of_their_points(seed: int) -> None:
    p, q, r, s = points(4, seed)
    found, here = between_segments(p, q, r, s)
    sampled = min(math.dist(a, b) for a in along(p, q) for b in along(r, s))
    step = max(math.dist(p, q), math.dist(r, s)) / STEPS
    assert found - 1e-9 <= sampled <= found + step
    assert min(math.dist(here, b) for b in along(r, s)) <= found + step


def test_parallel_crossing_and_point_like_segments() -> None:
    assert between_segments((0, 0, 0), (9, 0, 0), (3, 2, 0), (20, 2, 0))[0] == 2
    assert between_segments((0, 0, 0), (9, 0, 0), (12, 4, 0), (20, 4, 0))[0] == 5
    assert between_segments((0, 0, 0), (4, 0, 0), (2, -1, 3), (2, 1, 3))[0] == 3
    assert between_segments((1, 1, 1), (1, 1, 1), (4, 5, 1), (4, 5, 1))[0] == 5


def outside(point: Vector, low: Vector, high: Vector) -> float:
    return math.hypot(*[max(low[n] - point[n], 0, point[n] - high[n]) for n in range(3)])


@pytest.mark.parametrize("seed", range(60))
def test_a_segment_is_no_farther_from_a_box_than_any_of_its_points(seed: int) -> None:
    p, q, a, b = points(4, seed)
    low = (min(a[0], b[0]), min(a[1], b[1]), min(a[2], b[2]))
    high = (max(a[0], b[0]), max(a[1], b[1]), max(a[2], b[2]))
    found, place = segment_to_box(p, q, (low, high))
    sampled = min(outside(point, low, high) for point in along(p, q))
    assert found - 1e-9 <= sampled <= found + math.dist(p, q) / STEPS
    assert outside(place, low, high) == pytest.approx(found)


def test_boxes_apart_touching_and_over_each_other() -> None:
    first = ((0, 0, 0), (4, 4, 2))
    assert between_boxes(first, ((7, 8, 0), (9, 9, 2))) == 5
    assert between_boxes(first, ((4, 0, 0), (8, 4, 2))) == 0
    assert between_boxes(first, ((3, 1, 0), (8, 4, 2))) == -1
    assert between_boxes(first, first) == -2


@pytest.mark.parametrize("seed", range(8))
def test_the_sweep_finds_every_pair(seed: int) -> None:
    corners = points(80, seed)
    boxes = [(c, (c[0] + 2, c[1] + 3, c[2] + 1)) for c in corners]

    def meet(a: int, b: int, axes: int) -> bool:
        (al, ah), (bl, bh) = boxes[a], boxes[b]
        return all(al[n] <= bh[n] and bl[n] <= ah[n] for n in range(axes))

    for axes in (2, 3):
        brute = {(a, b) for a in range(80) for b in range(a + 1, 80) if meet(a, b, axes)}
        assert set(near_pairs(boxes, axes)) == brute
        assert brute


@pytest.mark.parametrize(
    ("end", "wall", "off", "inset"),
    [
        ((10, 44, 1), "right", 0, 1), ((6, 44, 1), "left", 0, 1), ((8, 46, 1.5), "top", 0, 0.625),
        ((8, 42, 1), "bottom", 0, 1), ((8, 44, 2.125), "back", 0, 2), ((8, 44, 0), "front", 0, 2),
        ((13, 44, 1), "right", 3, 1), ((9, 50, 1), "top", 4, 0),
    ],
)  # fmt: skip
def test_walls_by_depth(end: Vector, wall: str, off: float, inset: float) -> None:
    found = touch(end, ((6, 42, 0), (10, 46, 2.125)), depth=True, back=False)
    assert (found.wall, found.off) == (wall, pytest.approx(off))
    if off < 1:
        assert found.inset == pytest.approx(inset)


def test_walls_without_depth_and_from_the_back_face() -> None:
    room = ((6, 42, 0), (10, 46, 2))
    assert touch((10, 44, 0), room, depth=False, back=False).wall == "right"
    assert touch((8, 44, 0), room, depth=False, back=False).wall == ""  # enters at the back
    behind = ((6, 42, 4), (10, 46, 6))
    assert touch((8, 44, 4), behind, depth=True, back=True).wall == "back"
    assert touch((8, 44, 6), behind, depth=True, back=True).wall == "front"


# -- sizes that names tell ---------------------------------------------------------------------


def test_boxes_are_as_large_as_the_table_says() -> None:
    """Every row of the table of standard boxes, whose dimensions are those of the designation."""
    from checker.assembly.records import Box

    table = load_tables(tables_folder(), missing=Missing("cell"))["standard_boxes"]
    names = [column.name for column in table.columns]
    compared = 0
    for row in table.rows:
        box = opened(Box)
        made = object.__new__(box)
        for key in Box.__dataclass_fields__:  # type: ignore[attr-defined]
            setattr(made, key, getattr(blank(Box), key, None))
        made.trade_size = row[0]
        cells = dict(zip(names, row[1:], strict=True))
        wide, high, deep = size_of(made)
        if wide is None:
            assert row[0] in ("FS", "FD")
            continue
        compared += 1
        assert [wide, high, deep] == [cells["width"], cells["height"], cells["depth"]], row[0]
    assert compared > 15


def test_no_raceway_is_thicker_than_the_sweep_takes_it_for() -> None:
    table = load_tables(tables_folder(), missing=Missing("cell"))["raceway_dimensions"]
    place = [column.name for column in table.columns].index("outside_diameter") + 2
    thick = [(row[1], row[place]) for row in table.rows if known(row[place])]
    assert len(thick) > 40
    assert all(diameter <= TRADE_RANK[size] + _THICKER for size, diameter in thick)
