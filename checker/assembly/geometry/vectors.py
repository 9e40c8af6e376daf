"""Points and directions as plain tuples of three numbers, in inches."""

from __future__ import annotations

import math

Vector = tuple[float, float, float]


def minus(a: Vector, b: Vector) -> Vector:
    """From ``b`` to ``a``."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def moved(a: Vector, direction: Vector, by: float) -> Vector:
    """``a`` moved ``by`` times ``direction``."""
    return (a[0] + direction[0] * by, a[1] + direction[1] * by, a[2] + direction[2] * by)


def dot(a: Vector, b: Vector) -> float:
    """The scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """The vector product: the axis about which ``a`` turns to ``b``."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def size(a: Vector) -> float:
    """The length of a vector."""
    return math.sqrt(dot(a, a))


def unit(a: Vector) -> Vector:
    """The direction of a vector; a vector of no length has none and stays as it is."""
    length = size(a)
    return (a[0] / length, a[1] / length, a[2] / length) if length else a


def degrees_between(a: Vector, b: Vector) -> float:
    """The angle between two directions, 0 to 180; exact also where they are nearly parallel."""
    return math.degrees(math.atan2(size(cross(a, b)), dot(a, b)))
