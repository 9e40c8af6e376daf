"""Where a distance along the conduit is, and a center line as short straight pieces."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .polyline import Arc, Bent
from .vectors import Vector, cross, minus, moved, unit

#: How far a chord may lie from its arc, in inches: far less than a shop can bend to.
NEAR = 0.02


def on_arc(arc: Arc, share: float) -> Vector:
    """The point of an arc after a share of it, 0 to 1."""
    radius, turn = arc.corner.radius or 0.0, math.radians(arc.corner.angle) * share
    heading = unit(minus(arc.corner.at, arc.begins))
    inward = cross(arc.corner.axis, heading)
    point = moved(arc.begins, heading, radius * math.sin(turn))
    return moved(point, inward, radius * (1 - math.cos(turn)))


def place_of(path: Bent, along: float) -> Vector:
    """The point at a distance along the conduit from its start."""
    last, done = path.points[0], 0.0
    for arc in path.arcs:
        if along <= arc.start:
            break
        if along < arc.end:
            return on_arc(arc, (along - arc.start) / (arc.end - arc.start))
        last, done = arc.ends, arc.end
    target = next((arc.begins for arc in path.arcs if along <= arc.start), path.points[-1])
    return moved(last, unit(minus(target, last)), along - done)


def arc_at(arcs: Sequence[Arc], along: float) -> Arc | None:
    """The arc that a distance along the conduit falls into, its ends not counted."""
    return next((arc for arc in arcs if arc.start < along < arc.end), None)


def chords(path: Bent, near: float = NEAR) -> list[Vector]:
    """The center line as points joined by straight pieces, within ``near`` of every arc.

    A corner without a radius, or one whose arc does not fit, stays a corner.
    """
    if not path.has_radii or path.overlaps:
        return path.vertices
    points = [path.points[0]]
    for arc in path.arcs:
        radius = arc.corner.radius or 0.0
        steps = 1
        if radius > near:
            widest = 2 * math.acos(1 - near / radius)
            steps = max(1, math.ceil(math.radians(arc.corner.angle) / widest))
        points += [on_arc(arc, step / steps) for step in range(steps + 1)]
    points.append(path.points[-1])
    return points
