"""The geometry of single bends, offsets and saddles: exact, in inches and degrees.

Trade figures (2.0 times the offset at 30°, 1/4 in of shrink an inch) are rounded forms of these;
lengths are never made from them.
"""

from __future__ import annotations

import math


def tangent(radius: float, angle: float) -> float:
    """From the corner back to where the arc starts."""
    return radius * math.tan(math.radians(angle) / 2)


def arc_length(radius: float, angle: float) -> float:
    """Conduit in an arc, along its center line."""
    return radius * math.radians(angle)


def gain(radius: float, angle: float) -> float:
    """How much shorter the arc is than the way over the corner."""
    return 2 * tangent(radius, angle) - arc_length(radius, angle)


def offset_travel(offset: float, angle: float, radius: float = 0.0) -> float:
    """Between the centers of an offset's two bends, along the conduit; corners without a radius."""
    return offset / math.sin(math.radians(angle)) - gain(radius, angle)


def offset_shrink(offset: float, angle: float, radius: float = 0.0) -> float:
    """How much nearer an offset brings the far end."""
    return offset * math.tan(math.radians(angle) / 2) - 2 * gain(radius, angle)


def saddle_travel(height: float, center: float) -> float:
    """From the center of a three-point saddle's center bend to that of either outer one."""
    return offset_travel(height, center / 2)


def saddle_shrink(height: float, center: float) -> float:
    """How far a three-point saddle moves its center toward the near end."""
    return offset_shrink(height, center / 2)


def parallel_shift(spacing: float, angle: float) -> float:
    """How much further along the next of several parallel offsets starts."""
    return spacing * math.tan(math.radians(angle) / 2)


def next_radius(radius: float, first: float, second: float, clear: float) -> float:
    """Radius of the next of concentric bends, by outside diameters and clear distance."""
    return radius + (first + second) / 2 + clear


def stub_to_arc(stub: float, radius: float, diameter: float) -> float:
    """From the end of a 90° stub to its arc; the stub is measured to the back of the conduit."""
    return stub - radius - diameter / 2


def rolling_offset(rise: float, roll: float) -> float:
    """The offset that goes ``rise`` one way and ``roll`` at a right angle to it."""
    return math.hypot(rise, roll)
