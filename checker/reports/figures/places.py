"""Where the file puts boxes, raceways and couplings: one face of a section at a time.

Coordinates are inches from the lower left corner of the section, across and up.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from checker.assembly.records import Assembly, Box, Coupling, Section
from checker.assembly.structure import Way, ways_of
from checker.documents.missing import known

from .svg import Point

#: Width and height of a standard box by its name, in inches; None where the table has none.
BoxTable = Callable[[str], Point | None]

_NOMINAL = 4.0  # inches: how large a box of unknown size is drawn


@dataclass(frozen=True, slots=True)
class PlacedBox:
    """A box by its center; ``sized`` says whether its size is known."""

    box: Box
    center: Point
    size: Point
    sized: bool


@dataclass(frozen=True, slots=True)
class PlacedWay:
    """A raceway or cable by its points; ``routed`` says whether the file gives them."""

    way: Way
    points: list[Point]
    routed: bool


@dataclass(slots=True)
class Face:
    """One face of a section with what is on it."""

    section: Section
    side: str
    boxes: list[PlacedBox] = field(default_factory=list)
    ways: list[PlacedWay] = field(default_factory=list)
    couplings: list[tuple[Coupling, Point]] = field(default_factory=list)

    @property
    def size(self) -> tuple[float, float, bool]:
        """Width, height, and whether both are stated; else they are taken from what is on it."""
        wide: Any = self.section.width
        high: Any = self.section.height
        stated = bool(known(wide) and known(high) and wide > 0 and high > 0)
        points = [p for way in self.ways for p in way.points]
        points += [box.center for box in self.boxes] + [at for _, at in self.couplings]
        if not known(wide) or wide <= 0:
            wide = max((x for x, _ in points), default=0) + 6
        if not known(high) or high <= 0:
            high = max((y for _, y in points), default=0) + 6
        return max(float(wide), 1.0), max(float(high), 1.0), stated


def outside(face: Face) -> list[str]:
    """The names of what lies wholly beyond the section's outline, so that no drawing shows it."""
    wide, high, _ = face.size

    def beyond(points: list[Point]) -> bool:
        return not any(0 <= x <= wide and 0 <= y <= high for x, y in points)

    names = [placed.box.id for placed in face.boxes if beyond([placed.center])]
    names += [placed.way.id for placed in face.ways if beyond(placed.points)]
    return names + [coupling.id for coupling, at in face.couplings if beyond([at])]


def faces(assembly: Assembly, table: BoxTable) -> tuple[list[Face], list[Any]]:
    """The faces with anything on them, and the boxes, raceways and cables that have no place."""
    found: dict[tuple[str, str], Face] = {}
    sections = {section.id: section for section in assembly.sections}
    spots: dict[str, tuple[str, str, Point]] = {}
    left: list[Any] = []

    def face(section: str, side: str) -> Face:
        key = (section, side)
        if key not in found:
            found[key] = Face(sections[section], side)
        return found[key]

    for box in assembly.boxes:
        at, section = _point(box.at), box.section
        if at is None or not isinstance(section, str):
            left.append(box)
            continue
        size, sized = _box_size(box, table)
        face(section, box.side).boxes.append(PlacedBox(box, at, size, sized))
        spots[box.id] = (section, box.side, at)
    for coupling in assembly.couplings:
        at = _point(coupling.at)
        if at is not None and isinstance(coupling.section, str):
            spots[coupling.id] = (coupling.section, "", at)
    for way in ways_of(assembly):
        placed = _way(way, spots)
        if placed is None:
            left.append(way)
        else:
            where, points, routed = placed
            face(where, way.side).ways.append(PlacedWay(way, points, routed))
    for coupling in assembly.couplings:
        if coupling.id in spots:
            where, _, at = spots[coupling.id]
            sides = [f for (s, _), f in found.items() if s == where]
            for each in sides or [face(where, "front")]:
                joined = {e for w in each.ways for e in (w.way.from_, w.way.to)}
                if coupling.id in joined or len(sides) < 2:
                    each.couplings.append((coupling, at))
    order = {section.id: place for place, section in enumerate(assembly.sections)}
    return [found[k] for k in sorted(found, key=lambda k: (order[k[0]], k[1] != "front"))], left


def _point(value: Any) -> Point | None:
    if not known(value) or len(value) < 2:
        return None
    return float(value[0]), float(value[1])


def _way(
    way: Way, spots: dict[str, tuple[str, str, Point]]
) -> tuple[str, list[Point], bool] | None:
    ends = [spots.get(way.from_), spots.get(way.to)]
    section = way.section if isinstance(way.section, str) else None
    path: Any = way.path
    if known(path):
        points = [p for p in map(_point, path) if p is not None]
        where = section or next((end[0] for end in ends if end), None)
        return (where, points, True) if where is not None and len(points) > 1 else None
    if ends[0] is None or ends[1] is None or ends[0][0] != ends[1][0]:
        return None
    if section is not None and section != ends[0][0]:
        return None
    return ends[0][0], [ends[0][2], ends[1][2]], False


def _box_size(box: Box, table: BoxTable) -> tuple[Point, bool]:
    wide: Any = box.width
    high: Any = box.height
    if known(wide) and known(high) and wide > 0 and high > 0:
        return (float(wide), float(high)), True
    listed = table(str(box.trade_size)) if known(box.trade_size) else None
    if listed is not None:
        return (listed[0] * max(box.gangs, 1) if box.gangs > 1 else listed[0], listed[1]), True
    return (_NOMINAL, _NOMINAL), False
