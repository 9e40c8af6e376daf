"""Where paths end: at which walls of which boxes, and how two of them meet at a coupling."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known

from ..geometry.polyline import as_points
from ..geometry.walls import touch
from ..records import Box, Coupling, Halves, PathEnd, Raceway
from ..structure import Index
from .extents import room_of
from .gaps import describe, gap, lack_of, new

#: An end as near to a wall is taken to enter it; how near it has to be is for a rule to say.
ENTERS = 0.5


def path_end_facts(index: Index) -> None:
    """The ends of every path at boxes, the walls that follow from them, and meetings at joints."""
    at: dict[Box, list[Any]] = {}
    for raceway in index.assembly.raceways:
        course: Any = raceway.course
        if not known(course):
            continue
        path: Any = raceway.path
        points = as_points(path) or []
        ends: list[Any] = []
        for name, end, key in (
            (raceway.from_, points[0], "from_wall"),
            (raceway.to, points[-1], "to_wall"),
        ):
            box = index.ends[name]
            if isinstance(box, Box):
                made = _end(raceway, box, end, key, index, deep=course.deep)
                ends.append(made)
                at.setdefault(box, []).append(made)
        course.ends = tuple(ends)
        closed(course)
    for box in index.assembly.boxes:
        box.path_ends = tuple(at.get(box, ()))


def _end(raceway: Raceway, box: Box, end: Any, key: str, index: Index, *, deep: bool) -> Any:
    made: Any = new(PathEnd)
    made.raceway, made.box = raceway, box
    made.spot = tuple(end) if deep else tuple(end[:2])
    stated: Any = getattr(raceway, key)
    made.stated_wall = stated
    made.section = lack_of(
        *[one.section if known(one.section) else gap(one, "section") for one in (raceway, box)]
    )
    if made.section is None:
        made.section = raceway.section == box.section
    room = room_of(box, index.sections.get(box.section) if known(box.section) else None)
    if isinstance(room, Missing):
        made.off = made.inset = made.wall = room
        return closed(made)
    space, depth = room
    found = touch(end, space, depth=deep and depth, back=box.side == "back")
    made.off, made.inset = found.off, found.inset
    words = f"the depth at which `path` of {describe(raceway)} ends at {describe(box)}"
    made.wall = found.wall or Missing("path", words)
    if not known(stated) and found.wall and found.off <= ENTERS and made.section is not False:
        setattr(raceway, key, found.wall)
    return closed(made)


def coupling_facts(index: Index) -> None:
    """How the paths on both sides of each coupling meet."""
    for coupling in index.assembly.couplings:
        ways = [way for way in index.at.get(coupling.id, ()) if isinstance(way, Raceway)]
        coupling.raceways = tuple(ways)
        coupling.halves = _halves(coupling, ways, index)


def _halves(coupling: Coupling, ways: Sequence[Raceway], index: Index) -> Any:
    lack = lack_of(*[way.course for way in ways])
    if lack is not None:
        return lack
    made: Any = new(Halves)
    ends = [_point_at(way, coupling) for way in ways]
    deep = all(len(end) > 2 for end in ends)
    sections: Any = [way.section if known(way.section) else gap(way, "section") for way in ways]
    lack = lack_of(*sections)
    if lack is not None:
        made.apart = made.off = made.from_edge = lack
        return closed(made)
    crosses = sections[0] != sections[1]
    frames = [index.sections[name] for name in sections]
    if crosses:
        edges = [_edge(end, frame) for end, frame in zip(ends, frames, strict=True)]
        lack = lack_of(*edges)
        if lack is not None:
            made.apart = made.from_edge = lack
        else:
            made.from_edge = max(edge[0] for edge in edges)
            free = 1 if edges[0][1] == 0 else 0
            made.apart = _apart(ends, [free, 2] if deep else [free])
    else:
        made.from_edge = 0.0
        made.apart = _apart(ends, [0, 1, 2] if deep else [0, 1])
    made.off = _off(coupling, ends, sections)
    return closed(made)


def _point_at(way: Raceway, coupling: Coupling) -> Any:
    path: Any = way.path
    return path[0] if way.from_ == coupling.id else path[-1]


def _edge(end: Any, frame: Any) -> Any:
    """How far an end is from the nearest edge of its section, and across (0) or up (1) of it."""
    sizes: Any = [
        getattr(frame, key) if known(getattr(frame, key)) else gap(frame, key)
        for key in ("width", "height")
    ]
    lack = lack_of(*sizes)
    if lack is not None:
        return lack
    return min((min(abs(end[n]), abs(end[n] - sizes[n])), n) for n in (0, 1))


def _apart(ends: Sequence[Any], axes: Sequence[int]) -> float:
    return float(sum((ends[0][n] - ends[1][n]) ** 2 for n in axes) ** 0.5)


def _off(coupling: Coupling, ends: Sequence[Any], sections: Sequence[str]) -> Any:
    """How far the end that lies in the section of the coupling's place is from that place."""
    at: Any = coupling.at
    if not known(at) or len(at) < 2:
        return gap(coupling, "at")
    if not known(coupling.section):
        return gap(coupling, "section")
    offs = [
        sum((end[n] - at[n]) ** 2 for n in range(min(len(end), len(at), 3))) ** 0.5
        for end, section in zip(ends, sections, strict=True)
        if section == coupling.section
    ]
    words = f"a raceway of {describe(coupling)} in section {coupling.section}"
    return max(offs) if offs else Missing("section", words)
