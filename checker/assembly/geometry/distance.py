"""Shortest distances between center lines and boxes, in closed form.

Segment to segment is the clamped solution of C. Ericson, Real-Time Collision Detection (2005),
section 5.1.9.  Segment to box is convex along the segment and piecewise quadratic: its least value
lies where the segment meets a face's plane, at an end, or at the minimum of one of the pieces.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from .vectors import Vector, dot, minus, moved, size

Box = tuple[Vector, Vector]
#: Distances that differ by less, in inches, are told apart by nobody.
_ALIKE = 1e-6


def _clamped(value: float) -> float:
    return min(1.0, max(0.0, value))


def between_segments(p: Vector, q: Vector, r: Vector, s: Vector) -> tuple[float, Vector]:
    """Distance between the segments p-q and r-s, and the nearest point of the first."""
    first, second, gap = minus(q, p), minus(s, r), minus(p, r)
    a, e, f = dot(first, first), dot(second, second), dot(second, gap)
    c, b = dot(first, gap), dot(first, second)
    denominator = a * e - b * b
    t = _clamped((b * f - c * e) / denominator) if denominator > 1e-12 * a * e else 0.0
    u = (b * t + f) / e if e else 0.0
    if not 0.0 <= u <= 1.0 or not e:
        u = _clamped(u)
        t = _clamped((b * u - c) / a) if a else 0.0
    here, there = moved(p, first, t), moved(r, second, u)
    return size(minus(here, there)), here


def _from_box(point: Vector, box: Box) -> float:
    low, high = box
    return math.sqrt(sum(max(low[n] - point[n], 0.0, point[n] - high[n]) ** 2 for n in range(3)))


def segment_to_box(p: Vector, q: Vector, box: Box) -> tuple[float, Vector]:
    """Distance from a segment to a box, 0 inside it, and the nearest point of the segment."""
    low, high = box
    way = minus(q, p)
    marks = {0.0, 1.0}
    for n in range(3):
        if way[n]:
            marks |= {_clamped((face[n] - p[n]) / way[n]) for face in (low, high)}
    cuts = sorted(marks)
    for start, end in pairwise(cuts):
        marks.add(_least_between(p, way, box, start, end))
    best = min(sorted(marks), key=lambda t: _from_box(moved(p, way, t), box))
    nearest = moved(p, way, best)
    return _from_box(nearest, box), nearest


def _least_between(p: Vector, way: Vector, box: Box, start: float, end: float) -> float:
    """Where the distance is least between two marks that no face's plane lies between."""
    low, high = box
    middle = moved(p, way, (start + end) / 2)
    top = bottom = 0.0
    for n in range(3):
        face = low[n] if middle[n] < low[n] else high[n] if middle[n] > high[n] else None
        if face is not None:
            top += way[n] * (face - p[n])
            bottom += way[n] * way[n]
    return min(end, max(start, top / bottom)) if bottom else start


def between_boxes(a: Box, b: Box) -> float:
    """Distance between two boxes; where they overlap, less zero: how far one would have to move."""
    gaps = [max(a[0][n] - b[1][n], b[0][n] - a[1][n]) for n in range(3)]
    if max(gaps) < 0:
        return max(gaps)
    return math.sqrt(sum(max(gap, 0.0) ** 2 for gap in gaps))


def between_lines(
    first: Sequence[Vector], second: Sequence[Vector], most: float = math.inf
) -> tuple[float, Vector]:
    """Distance between two center lines of straight pieces, and the nearest point of the first.

    Lines that are no nearer than ``most`` are told as that far apart.
    """
    best, place = most, first[0]
    others = [(r, s, *_span(r, s)) for r, s in pairwise(second)]
    for p, q in pairwise(first):
        left, right, bottom, top = _span(p, q)
        for r, s, low, high, under, over in others:
            # Most pieces are farther off across or up than the nearest so far.
            if low - right > best or left - high > best:
                continue
            if under - top > best or bottom - over > best:
                continue
            distance, here = between_segments(p, q, r, s)
            if _nearer(distance, here, best, place):
                best, place = distance, here
    return best, place


def _nearer(distance: float, here: Vector, best: float, place: Vector) -> bool:
    """Whether a place is nearer, or as near and further to the left or down."""
    if abs(distance - best) > _ALIKE:
        return distance < best
    return here < place


def _span(p: Vector, q: Vector) -> tuple[float, float, float, float]:
    """Left, right, bottom and top of a segment."""
    left, right = (p[0], q[0]) if p[0] < q[0] else (q[0], p[0])
    bottom, top = (p[1], q[1]) if p[1] < q[1] else (q[1], p[1])
    return left, right, bottom, top


def line_to_box(line: Sequence[Vector], box: Box, most: float = math.inf) -> tuple[float, Vector]:
    """Distance from a center line to a box, and the nearest point of the line; as above."""
    (low, under, _), (high, over, _) = box
    best, place = most, line[0]
    for p, q in pairwise(line):
        left, right, bottom, top = _span(p, q)
        if low - right > best or left - high > best:
            continue
        if under - top > best or bottom - over > best:
            continue
        distance, here = segment_to_box(p, q, box)
        if _nearer(distance, here, best, place):
            best, place = distance, here
    return best, place
