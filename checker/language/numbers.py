"""Arithmetic at a limit: a limit met exactly is met, however its two sides were reached.

Numbers closer than ``EPSILON`` times the larger of the two count as equal.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from checker.quantities.tolerance import EPSILON


def equal(a: float, b: float) -> bool:
    """``a == b`` within the stated tolerance."""
    return a == b or abs(a - b) <= EPSILON * max(abs(a), abs(b))


def at_most(a: float, b: float) -> bool:
    """``a <= b`` within the stated tolerance."""
    return a <= b or a - b <= EPSILON * max(abs(a), abs(b))


def less(a: float, b: float) -> bool:
    """``a < b`` and not equal within the stated tolerance."""
    return a < b and b - a > EPSILON * max(abs(a), abs(b))


#: What each sign means between two measures.
COMPARED: dict[str, Callable[[float, float], bool]] = {
    "==": equal,
    "!=": lambda a, b: not equal(a, b),
    "<": less,
    "<=": at_most,
    ">": lambda a, b: less(b, a),
    ">=": lambda a, b: at_most(b, a),
}


def floor(x: float) -> int:
    """The whole number not above ``x``; just below a whole number counts as that number."""
    return math.floor(x + EPSILON * max(1.0, abs(x)))


def ceil(x: float) -> int:
    """The whole number not below ``x``; just above a whole number counts as that number."""
    return math.ceil(x - EPSILON * max(1.0, abs(x)))


def whole_from(x: float, share: float) -> int:
    """``floor(x)``, and one more where the remainder reaches ``share``."""
    base = floor(x)
    return base + 1 if at_most(share, x - base) else base
