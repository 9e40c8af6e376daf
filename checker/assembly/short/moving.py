"""Mirroring and shifting the places of elements: points in a section, and walls of boxes."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from checker.documents.nodes import Sequence
from checker.documents.source import Source

from .files import base_of
from .lengths import inches, written

#: Keys whose values follow a placement: one point, several, or the wall of a box.
_POINT, _POINTS, _WALLS = ("at",), ("path",), ("from_wall", "to_wall")
MOVED = frozenset((*_POINT, *_POINTS, *_WALLS))
_OTHER_HAND = {"left": "right", "right": "left"}


@dataclass(slots=True)
class Move:
    """How a placement is turned and moved.

    width: across becomes width - across, None where it is not mirrored; across, up: what is added.
    """

    width: Fraction | None
    across: Fraction = Fraction(0)
    up: Fraction = Fraction(0)
    _known: dict[tuple[int, str], str] = field(default_factory=dict)

    def moved(self, key: str, value: Any, source: Source, place: int) -> Any:
        """The value of a key after the move; what cannot be read is left for the reader."""
        if key in _WALLS:
            turned = self.width is not None and isinstance(value, str)
            return _OTHER_HAND.get(value, value) if turned else value
        if not isinstance(value, Sequence):
            return value
        if key in _POINT:
            return self._point(value, source)
        base = base_of(value.source)
        points = [self._point(one, source) if isinstance(one, Sequence) else one for one in value]
        return Sequence.joined(points, source, [base + at for at in value.places])

    def _point(self, point: Sequence, source: Source) -> Sequence:
        base = base_of(point.source)
        moved = [self._coordinate(axis, value) for axis, value in enumerate(point)]
        return Sequence.joined(moved, source, [base + at for at in point.places])

    def _coordinate(self, axis: int, value: Any) -> Any:
        if axis > 1 or not isinstance(value, str):
            return value  # depth stays
        known = self._known.get((axis, value))
        if known is None:
            known = self._known[axis, value] = self._worked(axis, value)
        return known

    def _worked(self, axis: int, value: str) -> str:
        length = inches(value)
        if length is None:
            return value
        if axis:
            return written(length + self.up) if self.up else value
        if self.width is not None:
            return written(self.width - length + self.across)
        return written(length + self.across) if self.across else value
