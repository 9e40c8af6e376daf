"""Lays circles into a round bore as conductors settle in a raceway: each as low as it can lie.

Circles are laid from the largest to the smallest.  A place is a candidate where the circle touches
two others, or the wall and another, or the wall at the bottom; of those that are free the lowest
wins, then the one nearest the middle, then the left one.  Same circles, same picture.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot, sqrt

#: Center and radius; the bore's center is 0, 0 and "up" is positive.
Circle = tuple[float, float, float]

_SLACK = 1e-7
MOST = 400


def pack(bore: float, radii: Sequence[float]) -> list[Circle | None]:
    """A place for each radius in a bore of that radius; None for what finds no room.

    Lengths are in any one unit.  Takes at most ``MOST`` circles; further ones get None.
    """
    order = sorted(range(len(radii)), key=lambda i: (-radii[i], i))
    places: list[Circle | None] = [None] * len(radii)
    pile = _Pile(bore, max(radii, default=0.0))
    full = float("inf")  # what found no room will not fit later either, unless it is smaller
    for index in order[:MOST]:
        radius = radii[index]
        if not 0 < radius < full:
            continue
        spot = pile.lowest(radius)
        if spot is None:
            full = radius
            continue
        pile.add(spot)
        places[index] = spot
    return places


class _Pile:
    """The circles laid so far, and the free places for one more of the radius asked for last.

    Circles are kept in a grid, so that neighbours are found quickly.  A new circle takes away the
    free places that it covers and adds those that touch it, which is all that changes.
    """

    def __init__(self, bore: float, largest: float) -> None:
        self.bore = bore
        self.cell = max(2 * largest, bore / 50, 1e-9)
        self.circles: list[Circle] = []
        self.grid: dict[tuple[int, int], list[int]] = {}
        self.radius = 0.0
        self.free: list[tuple[float, float]] = []

    def add(self, circle: Circle) -> None:
        """Lay a circle; the caller has found the place free."""
        x, y, r = circle
        key = (int(x // self.cell), int(y // self.cell))
        self.grid.setdefault(key, []).append(len(self.circles))
        self.circles.append(circle)
        reach = r + self.radius - self.bore * _SLACK
        self.free = [p for p in self.free if hypot(p[0] - x, p[1] - y) >= reach]
        self.free += self._touching(len(self.circles) - 1)

    def lowest(self, radius: float) -> Circle | None:
        """The place that a circle of this radius settles in."""
        if radius != self.radius:
            self.radius = radius
            inner = self.bore - radius
            bottom = (0.0, -max(inner, 0.0))
            self.free = [bottom] if inner > -_SLACK and self._is_free(*bottom) else []
            for index in range(len(self.circles)):
                self.free += self._touching(index)
        if not self.free:
            return None
        x, y = min(self.free, key=lambda p: (round(p[1], 6), round(abs(p[0]), 6), p[0]))
        return x, y, radius

    def _touching(self, index: int) -> list[tuple[float, float]]:
        """Free places that touch this circle, and the wall or a circle laid before it."""
        x, y, r = self.circles[index]
        reach = r + self.radius
        found = list(_meet((0.0, 0.0, max(self.bore - self.radius, 0.0)), (x, y, reach)))
        for other in self._near(x, y, 2):
            if other < index:
                ox, oy, other_r = self.circles[other]
                found += _meet((x, y, reach), (ox, oy, other_r + self.radius))
        return [place for place in found if self._is_free(*place)]

    def _near(self, x: float, y: float, cells: int) -> Iterable[int]:
        column, row = int(x // self.cell), int(y // self.cell)
        for i in range(column - cells, column + cells + 1):
            for j in range(row - cells, row + cells + 1):
                yield from self.grid.get((i, j), ())

    def _is_free(self, x: float, y: float) -> bool:
        radius = self.radius
        if hypot(x, y) + radius > self.bore * (1 + _SLACK):
            return False
        slack = self.bore * _SLACK
        for other in self._near(x, y, 1):
            ox, oy, r = self.circles[other]
            if hypot(ox - x, oy - y) < r + radius - slack:
                return False
        return True


def _meet(one: Circle, two: Circle) -> Iterable[tuple[float, float]]:
    """The points where two circles cut each other."""
    x, y, r = one
    ox, oy, s = two
    across, up = ox - x, oy - y
    apart = hypot(across, up)
    if apart == 0 or apart > r + s + _SLACK or apart < abs(r - s) - _SLACK:
        return
    along = (r * r - s * s + apart * apart) / (2 * apart)
    aside = sqrt(max(r * r - along * along, 0.0))
    middle = (x + across * along / apart, y + up * along / apart)
    yield middle[0] - up * aside / apart, middle[1] + across * aside / apart
    yield middle[0] + up * aside / apart, middle[1] - across * aside / apart
