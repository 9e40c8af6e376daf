"""Which of many things can be near each other at all: a sweep over their bounding boxes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .distance import Box
from .vectors import Vector


def bounds(points: Sequence[Vector], margin: float) -> Box:
    """The box around points, with a margin on every side."""
    low = tuple(min(point[n] for point in points) - margin for n in range(3))
    high = tuple(max(point[n] for point in points) + margin for n in range(3))
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])


def near_pairs(boxes: Sequence[Box], axes: int = 3) -> Iterator[tuple[int, int]]:
    """Pairs of places in ``boxes`` whose boxes meet, the lower place first; ``axes`` 2 leaves out
    depth."""
    order = sorted(range(len(boxes)), key=lambda n: boxes[n][0][0])
    active: list[int] = []
    for n in order:
        low, high = boxes[n]
        active = [m for m in active if boxes[m][1][0] >= low[0]]
        for m in active:
            other_low, other_high = boxes[m]
            if all(low[k] <= other_high[k] and other_low[k] <= high[k] for k in range(1, axes)):
                yield (m, n) if m < n else (n, m)
        active.append(n)
