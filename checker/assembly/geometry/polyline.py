"""A bent center line: corners as typed, with the arcs that a radius puts in their place.

Named tuples, since every check imports them and they are made faster than frozen dataclasses.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from .formulas import arc_length, gain, tangent
from .vectors import Vector, cross, degrees_between, minus, moved, size, unit

#: Corners that turn less than this are no bends: typed points are rounded, and nobody bends half a
#: degree.  Common practice, no source.
LEAST_TURN = 0.5
#: A path turned back on itself has no arc; it is measured as one that very nearly is.
_TURNED_BACK = 179.0


class Corner(NamedTuple):
    """A corner of a path: where, by how many degrees, about which axis, with which radius."""

    at: Vector
    angle: float
    axis: Vector
    radius: float | None

    @property
    def cut(self) -> float:
        """From the corner to either end of its arc."""
        return tangent(self.radius or 0.0, min(self.angle, _TURNED_BACK))


class Arc(NamedTuple):
    """An arc on the way: start, center and end as distances along the developed conduit."""

    start: float
    middle: float
    end: float
    begins: Vector
    ends: Vector
    corner: Corner


def as_points(path: Sequence[Sequence[float]]) -> list[Vector] | None:
    """The points of a path without repetitions; None where one has no height.

    A path whose points have no depth lies at depth 0, and so does what one point leaves out.
    """
    points: list[Vector] = []
    for given in path:
        if len(given) < 2:
            return None
        point = (given[0], given[1], given[2] if len(given) > 2 else 0.0)
        if not points or point != points[-1]:
            points.append(point)
    return points if len(points) > 1 else None


def corners_of(points: Sequence[Vector], radii: Sequence[float | None]) -> list[Corner]:
    """The corners at which a path turns; ``radii`` one for each, the last for those that follow."""
    found: list[Corner] = []
    last = points[0]
    for at, after in pairwise(points[1:]):
        before, ahead = minus(at, last), minus(after, at)
        angle = degrees_between(before, ahead)
        if angle < LEAST_TURN:
            continue
        place = min(len(found), len(radii) - 1)
        axis = unit(cross(before, ahead))
        found.append(Corner(at, angle, axis, radii[place] if place >= 0 else None))
        last = at
    return found


class Bent(NamedTuple):
    """A path with its corners: straight pieces, arcs and developed length."""

    points: tuple[Vector, ...]
    corners: tuple[Corner, ...]

    @property
    def has_radii(self) -> bool:
        """Whether every corner has a radius; without corners none is needed."""
        return all(corner.radius is not None for corner in self.corners)

    @property
    def vertices(self) -> list[Vector]:
        """The ends and the corners."""
        return [self.points[0], *[corner.at for corner in self.corners], self.points[-1]]

    @property
    def straights(self) -> list[float]:
        """Straight pieces between arcs, first to last; negative where two bends overlap."""
        cuts = [0.0, *[corner.cut for corner in self.corners], 0.0]
        legs = [size(minus(b, a)) for a, b in pairwise(self.vertices)]
        return [leg - cuts[n] - cuts[n + 1] for n, leg in enumerate(legs)]

    @property
    def overlaps(self) -> int:
        """How many straight pieces are too short for the bends at their ends."""
        return sum(straight < 0 for straight in self.straights)

    @property
    def developed(self) -> float:
        """Conduit from end to end along the center line."""
        legs = sum(size(minus(b, a)) for a, b in pairwise(self.vertices))
        return legs - sum(gain(corner.radius or 0.0, corner.angle) for corner in self.corners)

    @property
    def arcs(self) -> list[Arc]:
        """The arcs in order, with their places along the straight piece that they are bent from."""
        found: list[Arc] = []
        along, vertices = 0.0, self.vertices
        for place, (corner, straight) in enumerate(
            zip(self.corners, self.straights, strict=False), start=1
        ):
            start = along + straight
            end = start + arc_length(corner.radius or 0.0, corner.angle)
            back = unit(minus(vertices[place - 1], corner.at))
            ahead = unit(minus(vertices[place + 1], corner.at))
            begins = moved(corner.at, back, corner.cut)
            ends = moved(corner.at, ahead, corner.cut)
            found.append(Arc(start, (start + end) / 2, end, begins, ends, corner))
            along = end
        return found
