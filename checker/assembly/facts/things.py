"""Raceways and boxes as they stand in a section, for distances between them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from ..geometry.distance import Box as Room
from ..geometry.vectors import Vector

HAIR = 0.001  # inches: separates what is just within reach from what is not


@dataclass(slots=True)
class Thing:
    """A raceway by its center line, or a box by its room.

    flat and flat_room: the same in elevation; deep: whether depths are known; reach: half of the
    outside diameter at most.
    """

    element: Any
    line: list[Vector]
    room: Room
    deep: bool
    reach: float
    flat: list[Vector] = field(init=False)
    flat_room: Room = field(init=False)

    def __post_init__(self) -> None:
        low, high = self.room
        self.flat = [(point[0], point[1], 0.0) for point in self.line]
        self.flat_room = (low[0], low[1], 0.0), (high[0], high[1], 0.0)
