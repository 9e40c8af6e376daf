"""Which wall of a box the end of a path touches, and how far from the edges of that wall."""

from __future__ import annotations

from typing import NamedTuple

from .distance import Box
from .vectors import Vector

#: Axis of each wall, and whether it is the lower or the higher side of it.
_WALLS = {"left": (0, 0), "right": (0, 1), "bottom": (1, 0), "top": (1, 1)}
_FACES = {"front": (2, 0), "back": (2, 1)}


class Touch(NamedTuple):
    """Where an end meets a box.

    wall: the wall that it is nearest to, "" where only the depth would tell; off: how far the end
    is from that wall, or from the outline; inset: from the end to the nearest edge of the wall,
    negative beyond it.
    """

    wall: str
    off: float
    inset: float


def touch(end: Vector, box: Box, *, depth: bool, back: bool) -> Touch:
    """Where an end meets a box; ``depth``: whether the depth of both is known.

    ``back``: the box opens to the back face, so that its back wall is the one nearer the front.
    """
    walls = dict(_WALLS)
    if depth:
        walls |= {"back": _FACES["front"], "front": _FACES["back"]} if back else _FACES
    axes = range(3 if depth else 2)
    found: list[tuple[float, str, float]] = []
    for wall, (axis, side) in walls.items():
        straight = abs(end[axis] - box[side][axis])
        insets = [min(end[n] - box[0][n], box[1][n] - end[n]) for n in axes if n != axis]
        inset = min(insets)
        beyond = [max(0.0, -one) for one in insets]
        off = (straight**2 + sum(one * one for one in beyond)) ** 0.5
        found.append((off, wall, inset))
    off, wall, inset = min(found, key=lambda one: one[0])
    within = all(box[0][n] < end[n] < box[1][n] for n in (0, 1))
    if not depth and within and off > _ENTERS:
        return Touch("", 0.0, inset)
    return Touch(wall, off, inset)


#: An end further than this inside an outline without depth is taken to enter at the back.
_ENTERS = 0.25
