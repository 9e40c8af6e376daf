"""Puts labels where they cover nothing that matters, in the same places every time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from .svg import Point

#: Left, top, right, bottom.
Area = tuple[float, float, float, float]

_CELL = 24.0
_LINE_STEP = 3.0
_COVERS = 60.0  # what it costs at least to cover something solid or to leave the drawing


@dataclass(slots=True)
class Room:
    """A drawing's area with what is taken: ``solid`` may never be covered, lines rather not."""

    limits: Area
    _solid: dict[tuple[int, int], list[Area]] = field(default_factory=dict)
    _lines: dict[tuple[int, int], list[Point]] = field(default_factory=dict)

    def take(self, area: Area) -> None:
        """Mark an area as taken."""
        for cell in _cells(area):
            self._solid.setdefault(cell, []).append(area)

    def take_line(self, points: list[Point]) -> None:
        """Mark a line as something that labels keep off where they can."""
        for (x, y), (to_x, to_y) in pairwise(points):
            steps = int(max(abs(to_x - x), abs(to_y - y)) / _LINE_STEP) + 1
            for step in range(steps + 1):
                spot = (x + (to_x - x) * step / steps, y + (to_y - y) * step / steps)
                key = (int(spot[0] // _CELL), int(spot[1] // _CELL))
                self._lines.setdefault(key, []).append(spot)

    def cost(self, area: Area) -> float:
        """How bad it is to cover this area; 0 where it is free."""
        left, top, right, bottom = area
        total = 0.0
        if (
            left < self.limits[0]
            or top < self.limits[1]
            or right > self.limits[2]
            or bottom > self.limits[3]
        ):
            total += 500.0
        seen: set[Area] = set()
        for cell in _cells(area):
            for other in self._solid.get(cell, ()):
                if other in seen:
                    continue
                seen.add(other)
                wide = min(right, other[2]) - max(left, other[0])
                high = min(bottom, other[3]) - max(top, other[1])
                if wide > 0 and high > 0:
                    total += _COVERS + wide * high
            for x, y in self._lines.get(cell, ()):
                if left < x < right and top < y < bottom:
                    total += 2.0
        return total

    def place(self, size: Point, spots: Iterable[Point]) -> Point:
        """The best of several upper left corners for a label, which is then taken.

        Of equally good ones the first is used, so they are given from the best on.
        """
        x, y = self._best(size, spots)
        self.take((x, y, x + size[0], y + size[1]))
        return x, y

    def free(self, size: Point, spots: Iterable[Point]) -> Point | None:
        """As ``place``, but None, and nothing taken, where every corner covers what is solid."""
        x, y = self._best(size, spots)
        area = (x, y, x + size[0], y + size[1])
        if self.cost(area) >= _COVERS:
            return None
        self.take(area)
        return x, y

    def _best(self, size: Point, spots: Iterable[Point]) -> Point:
        best: tuple[float, Point] | None = None
        for rank, (x, y) in enumerate(spots):
            cost = self.cost((x, y, x + size[0], y + size[1])) + rank * 0.35
            if best is None or cost < best[0]:
                best = (cost, (x, y))
            if cost <= rank * 0.35:
                break
        assert best is not None
        return best[1]


def _cells(area: Area) -> Iterator[tuple[int, int]]:
    for column in range(int(area[0] // _CELL), int(area[2] // _CELL) + 1):
        for row in range(int(area[1] // _CELL), int(area[3] // _CELL) + 1):
            yield column, row


def around(area: Area, size: Point, gap: float = 2.0) -> list[Point]:
    """Upper left corners for a label beside an area: below, above, right, left, then farther."""
    left, top, right, bottom = area
    wide, high = size
    middle, center = (left + right - wide) / 2, (top + bottom - high) / 2
    spots: list[Point] = []
    for far in (gap, gap + high + 2, gap + 2.4 * high):
        spots += [
            (middle, bottom + far),
            (middle, top - far - high),
            (right + far, center),
            (left - far - wide, center),
            (right + far, top - far - high),
            (left - far - wide, top - far - high),
            (right + far, bottom + far),
            (left - far - wide, bottom + far),
        ]
    return spots


def along(points: list[Point], size: Point, gap: float = 1.5) -> list[Point]:
    """Upper left corners for a label beside a line, the middle of its longest part first."""
    wide, high = size
    parts = sorted(
        pairwise(points),
        key=lambda p: -(abs(p[0][0] - p[1][0]) + abs(p[0][1] - p[1][1])),
    )
    spots: list[Point] = []
    for (x, y), (to_x, to_y) in parts[:3]:
        flat = abs(to_x - x) >= abs(to_y - y)
        for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92):
            at = (x + (to_x - x) * share, y + (to_y - y) * share)
            if flat:
                spots += [
                    (at[0] - wide / 2, at[1] - high - gap),
                    (at[0] - wide / 2, at[1] + gap),
                ]
            else:
                spots += [
                    (at[0] + gap, at[1] - high / 2),
                    (at[0] - gap - wide, at[1] - high / 2),
                ]
    return spots
