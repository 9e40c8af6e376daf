"""What the corners of a path are in the shop's words: bends, kicks, offsets and saddles."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from .polyline import Bent, Corner
from .vectors import degrees_between, dot

#: Two bends are of one angle when they differ by no more, in degrees: points are typed rounded.
_ALIKE = 0.5
#: A single bend of no more than this is called a kick.  Common practice, no source.
_KICK = 45.0
#: Two bends of more than this that undo each other are two bends, not an offset: trade charts of
#: offsets end at 60°.  Common practice, no source.
_STEEPEST = 75.0


class Made(NamedTuple):
    """A bend as the shop makes it, with the corners that it comes from.

    kind: bend, kick, offset, saddle3 or saddle4; angle: as a description states it for that kind.
    """

    kind: str
    angle: float
    corners: tuple[Corner, ...]

    @property
    def radius(self) -> float | None:
        """The radius of its tightest corner; None where one has none."""
        radii = [corner.radius for corner in self.corners]
        known = [radius for radius in radii if radius is not None]
        return min(known) if len(known) == len(radii) else None


def bends_of(path: Bent) -> list[Made]:
    """The bends of a path in order, offsets and saddles found by their angles and planes."""
    found: list[Made] = []
    straights = path.straights
    place = 0
    while place < len(path.corners):
        made = _at(path.corners, place, straights)
        found.append(made)
        place += len(made.corners)
    return found


def _at(corners: Sequence[Corner], place: int, straights: Sequence[float]) -> Made:
    four, three, two = (tuple(corners[place : place + count]) for count in (4, 3, 2))
    if len(four) == 4 and _signs(four) == [1, -1, -1, 1] and _equal(four):
        # Two offsets far apart turn alike; a saddle's top is shorter than the pieces beside it.
        top, outer = straights[place + 2], (straights[place], straights[place + 4])
        if top < min(outer):
            return Made("saddle4", four[0].angle, four)
    if len(three) == 3 and _signs(three) == [1, -1, 1]:
        side, center, other = (corner.angle for corner in three)
        if _same(side, other) and _same(2 * side, center):
            return Made("saddle3", center, three)
    if len(two) == 2 and _signs(two) == [1, -1] and _equal(two):
        return Made("offset", two[0].angle, two)
    only = corners[place]
    return Made("kick" if only.angle <= _KICK else "bend", only.angle, (only,))


def _same(a: float, b: float) -> bool:
    return abs(a - b) <= _ALIKE


def _equal(corners: Sequence[Corner]) -> bool:
    first = corners[0].angle
    return first <= _STEEPEST and all(_same(corner.angle, first) for corner in corners)


def _signs(corners: Sequence[Corner]) -> list[int]:
    """How each turns against the first: 1 the same way, -1 the other way, 0 in another plane."""
    turns = [dot(corners[0].axis, corner.axis) for corner in corners]
    return [1 if turn > 0.9999 else -1 if turn < -0.9999 else 0 for turn in turns]


def twists(path: Bent) -> list[float]:
    """Degrees that the conduit is turned in the bender from each bend to the next, 0 to 180."""
    axes = [corner.axis for corner in path.corners]
    return [degrees_between(a, b) for a, b in pairwise(axes)]
