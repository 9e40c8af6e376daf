"""Raceways and boxes that come near each other, by their paths and places."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known
from checker.quantities.show import show_length

from ..geometry.distance import Box as Room
from ..geometry.distance import between_boxes, between_lines, line_to_box
from ..geometry.sweep import bounds, near_pairs
from ..geometry.vectors import Vector
from ..geometry.walking import chords
from ..records import Pair, Raceway
from ..structure import Index
from .extents import room_of, widest
from .gaps import new
from .stacks import stack_facts
from .things import HAIR, Thing

#: Pairs of a section that are looked at: a real one has a hundred, a grid of conduit has no end.
_MOST = 5_000


def near_facts(index: Index) -> None:
    """Pairs that come near each other, and what lies behind boxes where depths are not stated."""
    assembly = index.assembly
    by_section: dict[str, list[Thing]] = {}
    for thing in (*_raceways(index), *_boxes(index)):
        by_section.setdefault(thing.element.section, []).append(thing)
    spare = assembly.clearance if known(assembly.clearance) else 0.0
    pairs: list[Any] = []
    for box in assembly.boxes:
        box.stacks = ()
    for section, things in by_section.items():
        found, made = [], []
        for a, b in _near(things, spare):
            pair = _pair(a, b, spare)
            if pair is not None:
                made.append(pair)
                found.append((a, b))
            if len(made) > _MOST:
                made, found = [_too_many(index, section)], []
                break
        pairs += made
        stack_facts(found)
    assembly.pairs = tuple(pairs)


def _too_many(index: Index, section: str) -> Any:
    """One pair for all of a section in which things meet in more places than are looked at."""
    pair: Any = new(Pair, index.sections[section].node)
    pair.id = f"section {section}"
    pair.raceways = pair.boxes = ()
    pair.kind = "raceways"
    pair.place = f"more than {_MOST} places"
    words = f"paths and places that meet in fewer than {_MOST} places in section {section}"
    pair.in_elevation = pair.distance = Missing("path", words)
    return closed(pair)


def _raceways(index: Index) -> Iterator[Thing]:
    for raceway in index.assembly.raceways:
        course: Any = raceway.course
        if known(course) and known(raceway.section):
            points = chords(course.line)
            if points[-1] < points[0]:  # whichever way it is drawn, it is the same conduit
                points.reverse()
            yield Thing(raceway, points, bounds(points, 0.0), course.deep, widest(raceway) / 2)


def _boxes(index: Index) -> Iterator[Thing]:
    for box in index.assembly.boxes:
        if known(box.section):
            room = room_of(box, index.sections[box.section])
            if not isinstance(room, Missing):
                yield Thing(box, [], room[0], room[1], 0.0)


def _near(things: list[Thing], spare: float) -> Iterator[tuple[Thing, Thing]]:
    """Pairs whose bounding boxes meet in elevation and that are not joined to each other."""
    grown = [bounds(thing.room, thing.reach + spare / 2) for thing in things]
    for first, second in near_pairs(grown, axes=2):
        a, b = things[first], things[second]
        # Raceways before boxes and then by name, whatever the order of the file.
        if (not b.line, b.element.id) < (not a.line, a.element.id):
            a, b = b, a
        if not _joined(a, b):
            yield a, b


def _joined(a: Thing, b: Thing) -> bool:
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


def _pair(a: Thing, b: Thing, spare: float) -> Any:
    """The pair, or None where the two are further apart in elevation than could matter."""
    most = a.reach + b.reach + spare
    flat, place = _distance(a, b, flat=True, most=most + HAIR)
    if flat > most:
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


def _lacking(a: Thing, b: Thing, place: str) -> str:
    """The depth that is not stated, in words."""
    first, second = a.element.id, b.element.id
    if not a.deep and not b.deep:
        return f"depth of {first} and {second} where they meet in elevation, {place}"
    flat, other = (second, first) if a.deep else (first, second)
    return f"depth of {flat} where it meets {other} in elevation, {place}"


def _distance(a: Thing, b: Thing, *, flat: bool, most: float = math.inf) -> tuple[float, Vector]:
    if a.line and b.line:
        lines = (a.flat, b.flat) if flat else (a.line, b.line)
        return between_lines(*lines, most)
    if a.line:
        return line_to_box(a.flat, b.flat_room, most) if flat else line_to_box(a.line, b.room)
    low, high = a.room
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, 0.0)
    if flat:
        return max(0.0, between_boxes(_thick(a.room), _thick(b.room))), middle
    return between_boxes(a.room, b.room), middle


def _thick(room: Room) -> Room:
    """A flat room with some depth, so that two of them can overlap."""
    return (*room[0][:2], -1000.0), (*room[1][:2], 1000.0)
