"""Raceways and boxes that come near each other, by their paths and places."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known
from checker.quantities.show import show_length

from ..geometry.distance import Box as Room
from ..geometry.distance import between_boxes, between_lines, line_to_box
from ..geometry.sweep import bounds, near_pairs
from ..geometry.vectors import Vector
from ..geometry.walking import chords
from ..records import Box, Pair, Raceway, Stack
from ..structure import Index
from .courses import line_of
from .extents import room_of, widest
from .gaps import new

#: Pairs that are looked at: a real section has a hundred, and a grid of conduit has no end of them.
_MOST = 20_000


@dataclass(slots=True)
class _Thing:
    """A raceway by its center line, or a box by its room; ``deep``: whether depths are known."""

    element: Any
    line: list[Vector]
    room: Room
    deep: bool
    reach: float


def near_facts(index: Index) -> None:
    """Pairs that come near each other, and what lies behind boxes where depths are not stated."""
    assembly = index.assembly
    by_section: dict[str, list[_Thing]] = {}
    for thing in (*_raceways(index), *_boxes(index)):
        by_section.setdefault(thing.element.section, []).append(thing)
    spare = assembly.clearance if known(assembly.clearance) else 0.0
    pairs: list[Any] = []
    for box in assembly.boxes:
        box.stacks = ()
    for things in by_section.values():
        found = []
        for a, b in _near(things, spare):
            made = _pair(a, b, spare)
            if made is None:
                continue
            if len(pairs) >= _MOST:
                _refuse(index, a.element.section)
            pairs.append(made)
            found.append((a, b))
        _stacks(found)
    assembly.pairs = tuple(pairs)


def _refuse(index: Index, section: str) -> None:
    """More places than anybody means: a mistake of units, or a file made to take long."""
    node = index.assembly.node
    index.reader.report(
        node.value_mark("raceways") if "raceways" in node else node.mark,
        f"raceways and boxes of section `{section}` meet in more than {_MOST} places",
        found="paths and places that cross each other again and again",
        expected="the paths of one section, in the units that they are meant in",
    )
    index.reader.finish()


def _raceways(index: Index) -> Iterator[_Thing]:
    for raceway in index.assembly.raceways:
        course: Any = raceway.course
        if known(course) and known(raceway.section):
            line = line_of(raceway)
            assert line is not None
            points = chords(line)
            yield _Thing(raceway, points, bounds(points, 0.0), course.deep, widest(raceway) / 2)


def _boxes(index: Index) -> Iterator[_Thing]:
    for box in index.assembly.boxes:
        if known(box.section):
            room = room_of(box, index.sections[box.section])
            if not isinstance(room, Missing):
                yield _Thing(box, [], room[0], room[1], 0.0)


def _near(things: list[_Thing], spare: float) -> Iterator[tuple[_Thing, _Thing]]:
    """Pairs whose bounding boxes meet in elevation and that are not joined to each other."""
    grown = [bounds(thing.room, thing.reach + spare / 2) for thing in things]
    for first, second in near_pairs(grown, axes=2):
        a, b = things[first], things[second]
        if not _joined(a, b):
            yield a, b


def _joined(a: _Thing, b: _Thing) -> bool:
    """Whether one ends in the other, or both in one coupling."""
    if a.line and b.line:
        return _coupled(a.element, b.element)
    return bool(a.line) and b.element.id in (a.element.from_, a.element.to)


def _coupled(a: Raceway, b: Raceway) -> bool:
    """Whether the end of one is that of the other, as at a coupling."""
    shared = {a.from_, a.to} & {b.from_, b.to}
    return any(kind == "coupling" for kind in _kinds(a, shared))


def _kinds(raceway: Raceway, names: set[str]) -> Iterator[str]:
    for name, kind in ((raceway.from_, raceway.from_kind), (raceway.to, raceway.to_kind)):
        if name in names:
            yield kind


def _pair(a: _Thing, b: _Thing, spare: float) -> Any:
    """The pair, or None where the two are further apart in elevation than could matter."""
    flat, place = _distance(a, b, flat=True)
    if flat > a.reach + b.reach + spare:
        return None
    deep = a.deep and b.deep
    distance, nearest = _distance(a, b, flat=False) if deep else (flat, place)
    pair: Any = new(Pair, a.element.node)
    pair.id = f"{a.element.id} & {b.element.id}"
    pair.raceways = tuple(thing.element for thing in (a, b) if thing.line)
    pair.boxes = tuple(thing.element for thing in (a, b) if not thing.line)
    pair.kind = ("boxes", "raceway_box", "raceways")[len(pair.raceways)]
    where = nearest if deep else place
    pair.place = f"{show_length(where[0])} across, {show_length(where[1])} up"
    pair.in_elevation = flat
    pair.distance = distance
    if not deep:
        pair.distance = Missing("path", _lacking(a, b, pair.place))
    return closed(pair)


def _lacking(a: _Thing, b: _Thing, place: str) -> str:
    """The depth that is not stated, in words."""
    first, second = a.element.id, b.element.id
    if not a.deep and not b.deep:
        return f"depth of {first} and {second} where they meet in elevation, {place}"
    flat, other = (second, first) if a.deep else (first, second)
    return f"depth of {flat} where it meets {other} in elevation, {place}"


def _distance(a: _Thing, b: _Thing, *, flat: bool) -> tuple[float, Vector]:
    first, second = (_flat(a), _flat(b)) if flat else (a, b)
    if first.line and second.line:
        return between_lines(first.line, second.line)
    if first.line:
        return line_to_box(first.line, second.room)
    low, high = first.room
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, 0.0)
    if flat:
        return max(0.0, between_boxes(_thick(first.room), _thick(second.room))), middle
    return between_boxes(first.room, second.room), middle


def _flat(thing: _Thing) -> _Thing:
    low, high = thing.room
    room = (low[0], low[1], 0.0), (high[0], high[1], 0.0)
    line = [(point[0], point[1], 0.0) for point in thing.line]
    return _Thing(thing.element, line, room, thing.deep, thing.reach)


def _thick(room: Room) -> Room:
    """A flat room with some depth, so that two of them can overlap."""
    return (*room[0][:2], -1000.0), (*room[1][:2], 1000.0)


# -- depth budget ----------------------------------------------------------------------------------


_MOST_BEHIND = 12  # raceways behind one box that are looked at together


def _stacks(found: list[tuple[_Thing, _Thing]]) -> None:
    """What lies behind each box at one place with no depth stated."""
    behind: dict[Box, list[_Thing]] = {}
    opposite: dict[Box, list[Box | None]] = {}
    for a, b in found:
        if a.line and not b.line:
            if not a.deep and line_to_box(_flat(a).line, _flat(b).room)[0] <= 0:
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


def _together(ways: list[_Thing]) -> list[tuple[_Thing, ...]]:
    """Raceways that lie over each other in elevation: one, two or three at a time."""
    over = {
        (n, m)
        for (n, a), (m, b) in combinations(enumerate(ways), 2)
        if between_lines(_flat(a).line, _flat(b).line)[0] < a.reach + b.reach
    }
    groups: list[tuple[_Thing, ...]] = [(one,) for one in ways]
    groups += [(ways[n], ways[m]) for n, m in sorted(over)]
    groups += [
        (ways[n], ways[m], ways[k])
        for n, m, k in combinations(range(len(ways)), 3)
        if {(n, m), (n, k), (m, k)} <= over
    ]
    return groups
