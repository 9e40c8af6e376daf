"""How much room a box takes in its section, by its stated size or by its designation."""

from __future__ import annotations

from typing import Any

from checker.documents.missing import Missing, known
from checker.quantities.designations import TRADE_RANK
from checker.quantities.notation import number

from ..geometry.distance import Box as Room
from ..records import Box, Raceway, Section
from .gaps import describe, gap

#: No outside diameter is larger than its trade size by more; a test compares the table.
_THICKER = 0.75


def size_of(box: Box) -> tuple[float | None, float | None, float | None]:
    """Width, height and depth of a box; None for what is not known.

    A standard box is named by its dimensions: width and height first where it is square or
    octagonal, height and width of one gang where it is a device box.
    """
    sides: tuple[float | None, float | None, float | None] = (None, None, None)
    if known(box.trade_size) and " " in box.trade_size:
        measures, form = box.trade_size.rsplit(" ", 1)
        numbers = [float(number(one)) for one in measures.split(" x ")]
        if len(numbers) == 2:
            sides = (numbers[0], numbers[0], numbers[1])
        elif len(numbers) == 3:
            sides = (numbers[1] * (box.gangs if form != "utility" else 1), numbers[0], numbers[2])
    wide, high, deep = (
        stated if known(stated) else side
        for stated, side in zip((box.width, box.height, box.depth), sides, strict=True)
    )
    return wide, high, deep


def room_of(box: Box, section: Section | None) -> tuple[Room, bool] | Missing:
    """The space that a box fills, and whether its depth is known; what lacks, where it is not told.

    Its front edge is flush with the framing of its face unless its place has a depth.  One on the
    surface, or with an unknown depth, fills no known depth.
    """
    at: Any = box.at
    if not known(at) or len(at) < 2:
        return gap(box, "at")
    wide, high, deep = size_of(box)
    if wide is None or high is None:
        words = f"`trade_size`, or `width` and `height`, of {describe(box)}"
        return Missing("trade_size", words)
    low, top = (at[0] - wide / 2, at[1] - high / 2), (at[0] + wide / 2, at[1] + high / 2)
    front = _front(box, deep, section)
    if front is None or deep is None:
        return ((*low, 0.0), (*top, 0.0)), False
    return ((*low, front), (*top, front + deep)), True


def _front(box: Box, deep: float | None, section: Section | None) -> float | None:
    at: Any = box.at
    if len(at) > 2:
        return float(at[2])
    if deep is None or (known(box.mounting) and box.mounting == "surface"):
        return None
    if box.side == "front":
        return 0.0
    if section is None or not known(section.cavity):
        return None
    return float(section.cavity) - deep


def widest(raceway: Raceway) -> float:
    """A bound for its outside diameter; the largest there is where its size is not stated."""
    size: Any = raceway.size
    return (TRADE_RANK[size] if known(size) else max(TRADE_RANK.values())) + _THICKER
