"""Circles in a bore: apart, inside, always the same, and as many as can be expected."""

from __future__ import annotations

from math import cos, hypot, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.reports.figures.packing import MOST, pack

radius = st.floats(0.02, 0.6)


@settings(max_examples=60, deadline=None)
@given(st.lists(radius, max_size=40))
def test_circles_stay_inside_and_apart(radii: list[float]) -> None:
    placed = pack(1.0, radii)
    assert len(placed) == len(radii)
    laid = [circle for circle in placed if circle is not None]
    for place, (x, y, r) in enumerate(laid):
        assert hypot(x, y) + r <= 1 + 1e-6
        for other_x, other_y, other in laid[:place]:
            assert hypot(x - other_x, y - other_y) >= r + other - 1e-5
    assert pack(1.0, radii) == placed


@settings(max_examples=60, deadline=None)
@given(st.lists(radius, min_size=1, max_size=40))
def test_every_circle_rests_on_something(radii: list[float]) -> None:
    """On the wall below it, or on circles: none hangs in the air."""
    laid = [circle for circle in pack(1.0, radii) if circle is not None]
    for x, y, r in laid:
        wall = abs(hypot(x, y) + r - 1) < 1e-5 and y <= 1e-9
        below = [
            o
            for o in laid
            if o != (x, y, r) and abs(hypot(x - o[0], y - o[1]) - r - o[2]) < 1e-5 and o[1] <= y + r
        ]
        assert wall or below


@pytest.mark.parametrize(
    ("count", "share"),
    [(1, 1.0), (2, 1 / 2), (3, 1 / (1 + 2 / 3**0.5))],
)
def test_the_largest_that_fit(count: int, share: float) -> None:
    """The greatest radius for 1, 2 and 3 equal circles in a unit circle (elementary geometry:
    1, 1/2, and 1 ÷ (1 + 2/√3) for three whose centers are the corners of a triangle)."""
    assert all(pack(1.0, [share * (1 - 1e-9)] * count))
    if count != 2:  # two settle side by side at the bottom only when both still fit on a diameter
        assert not all(pack(1.0, [share * 1.01] * count))


def test_a_fill_that_is_permitted_is_drawn_whole() -> None:
    """40 % of the bore in equal circles; Chapter 9 Table 1's share for more than two."""
    for count in (3, 4, 6, 9, 12, 20, 40, 90):
        assert all(pack(1.0, [(0.40 / count) ** 0.5] * count))


def test_they_lie_at_the_bottom() -> None:
    laid = [circle for circle in pack(1.0, [0.2] * 6) if circle is not None]
    assert min(y for _, y, _ in laid) == pytest.approx(-0.8)
    assert all(y < 0 for _, y, _ in laid)


def test_what_cannot_fit_is_told() -> None:
    assert pack(1.0, [1.2, 0.5]) == [None, pytest.approx((0.0, -0.5, 0.5))]
    assert pack(0.0, [0.1]) == [None]
    assert pack(1.0, []) == []
    assert pack(1.0, [0.0, -1.0, float("nan")]) == [None, None, None]


def test_many_are_bounded() -> None:
    placed = pack(1.0, [0.02] * (MOST + 50))
    assert sum(circle is not None for circle in placed) == MOST


def test_unit_does_not_matter() -> None:
    inches = pack(0.622 / 2, [0.13 / 2] * 9)
    millimetres = pack(15.8 / 2, [0.13 / 2 * 15.8 / 0.622] * 9)
    for one, other in zip(inches, millimetres, strict=True):
        assert one is not None
        assert other is not None
        assert [value * 15.8 / 0.622 for value in one] == pytest.approx(list(other), abs=1e-5)


def test_a_ring_around_one() -> None:
    """Seven equal circles of a third of the radius: six around one (a known packing)."""
    ring = [(2 / 3 * cos(i * pi / 3), 2 / 3 * sin(i * pi / 3)) for i in range(6)]
    assert all(hypot(x, y) + 1 / 3 <= 1 + 1e-12 for x, y in ring)
    laid = pack(1.0, [0.33] * 7)
    assert sum(circle is not None for circle in laid) >= 6
