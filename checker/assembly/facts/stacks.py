"""What lies behind a box at one place, for the depth of its section."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from itertools import combinations
from typing import Any

from checker.documents.fields import closed

from ..geometry.distance import Box as Room
from ..geometry.distance import between_lines, line_to_box
from ..records import Box, Stack
from .gaps import new
from .things import HAIR, Thing

_MOST_BEHIND = 12  # raceways behind one box that are looked at together


def stack_facts(found: list[tuple[Thing, Thing]]) -> None:
    """What lies behind each box at one place with no depth stated."""
    behind: dict[Box, list[Thing]] = {}
    opposite: dict[Box, list[Box | None]] = {}
    for a, b in found:
        if a.line and not b.line:
            if not a.deep and line_to_box(a.flat, b.flat_room, HAIR)[0] <= 0:
                behind.setdefault(b.element, []).append(a)
        elif not a.line and a.element.side != b.element.side and _overlap(a.room, b.room):
            opposite.setdefault(a.element, []).append(b.element)
            opposite.setdefault(b.element, []).append(a.element)
    nothing: list[Box | None] = [None]
    for box in dict.fromkeys((*behind, *opposite)):
        facing = opposite.get(box, [])
        ends = {one.id for one in (box, *facing) if one is not None}
        ways = [t for t in behind.get(box, []) if not ends & {t.element.from_, t.element.to}]
        groups = _together(ways[:_MOST_BEHIND]) or [()]
        made = []
        for group in groups:
            for other in facing or nothing:
                stack: Any = new(Stack)
                stack.raceways = tuple(thing.element for thing in group)
                stack.boxes = () if other is None else (other,)
                made.append(closed(stack))
        box.stacks = tuple(made)


def _overlap(a: Room, b: Room) -> bool:
    return all(a[0][n] < b[1][n] and b[0][n] < a[1][n] for n in (0, 1))


def _together(ways: list[Thing]) -> list[tuple[Thing, ...]]:
    """Raceways that lie over each other in elevation: one, two or three at a time."""
    over = {
        (n, m)
        for (n, a), (m, b) in combinations(enumerate(ways), 2)
        if between_lines(a.flat, b.flat, a.reach + b.reach)[0] < a.reach + b.reach
    }
    groups: list[tuple[Thing, ...]] = [(one,) for one in ways]
    groups += [(ways[n], ways[m]) for n, m in sorted(over)]
    groups += [
        (ways[n], ways[m], ways[k])
        for n, m, k in combinations(range(len(ways)), 3)
        if {(n, m), (n, k), (m, k)} <= over
    ]
    return groups
