"""What the path of a raceway comes to: its length, its bends, where its straps lie.

What the description states wins; what it leaves out follows from the path where that tells it.
"""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known

from ..geometry.bends import Made, bends_of
from ..geometry.polyline import Bent, as_points, corners_of
from ..records import Bend, Course, Raceway
from ..structure import Index
from ..trade import Trade
from .gaps import describe, gap, if_known, lack_of, new
from .straps import straps_of

#: Single bends that each kind of bend is made of.  Common practice, no source.
TURNS = {"bend": 1, "kick": 1, "offset": 2, "saddle3": 3, "saddle4": 4}
#: Corners that are stubs: quarter bends, as far as typed points are.
_QUARTER = (80.0, 100.0)


def _line_of(raceway: Raceway) -> Bent | None:
    """The center line of a raceway with the arcs of its bends; None where it has no path."""
    points = as_points(raceway.path) if known(raceway.path) else None
    if points is None:
        return None
    bends = raceway.bends if known(raceway.bends) else ()
    return Bent(tuple(points), tuple(corners_of(points, _radii(raceway, bends))))


def course_facts(index: Index, trade: Trade) -> None:
    """The course of every raceway, and length and bends of those that leave them to their path."""
    for raceway in index.assembly.raceways:
        for bend in raceway.bends if known(raceway.bends) else ():
            bend.assumed = False
        _tool(raceway, index)
        raceway.course = _course(raceway, trade) if known(raceway.path) else gap(raceway, "path")


def close_bends(index: Index) -> None:
    """Freeze the bends that follow from paths, once their totals are made."""
    for raceway in index.assembly.raceways:
        course: Any = raceway.course
        for bend in course.bends if known(course) else ():
            closed(bend)


def _tool(raceway: Raceway, index: Index) -> None:
    section = index.sections.get(raceway.section) if known(raceway.section) else None
    raceway.frame = section if section is not None else gap(raceway, "section")
    name: Any = raceway.bender
    tool: Any = index.assembly.benders.get(name) if known(name) else None
    raceway.tool = tool if tool is not None else gap(raceway, "bender")
    if tool is None:
        raceway.shoe = name if known(name) else gap(raceway, "bender")
    elif known(tool.shoe):
        raceway.shoe = tool.shoe
    else:
        raceway.shoe = Missing("shoe", f"`shoe` of bender {name}")


def _radii(raceway: Raceway, bends: Sequence[Bend]) -> list[float | None]:
    """Radii of the corners of a path: the raceway's own, its bender's, or those of its bends."""
    for own in (raceway.radius, raceway.tool.radius if known(raceway.tool) else Missing("radius")):
        if known(own):
            return [own]
    each: list[float | None] = [
        bend.radius if known(bend.radius) else None
        for bend in bends
        for _ in range(TURNS[bend.kind])
    ]
    return each[:1] if len(set(each)) == 1 else each


def _course(raceway: Raceway, trade: Trade) -> Any:
    line = _line_of(raceway)
    if line is None:
        words = f"two points or more, each across and up, under `path` of {describe(raceway)}"
        return Missing("path", words)
    course: Any = new(Course, raceway.node)
    course.line = line
    stated: Any = raceway.bends
    course.stated_length = raceway.length
    course.stated_angle = course.stated_turns = gap(raceway, "bends")
    if known(stated):
        course.stated_turns = sum(TURNS[bend.kind] for bend in stated)
        angles = [b.angle if known(b.angle) else gap(b, "angle") for b in stated]
        turned = [TURNS[b.kind] - (b.kind == "saddle3") for b in stated]
        course.stated_angle = if_known(
            lambda: sum(a * n for a, n in zip(angles, turned, strict=True)), *angles
        )
    elif not line.has_radii and known(raceway.bender) and _taken(raceway):
        # The tool is named by its kind alone: its size makes no bends tighter than this.
        taken = trade.least_radius(str(raceway.size))
        course.line = line = Bent(line.points, tuple(corners_of(line.points, [taken])))
    assumed = line.has_radii and not known(stated) and not known(raceway.radius)
    assumed = assumed and not known(raceway.tool)
    course.deep = all(len(point) > 2 for point in raceway.path)
    course.angle = sum(corner.angle for corner in line.corners)
    course.turns = len(line.corners)
    course.bends = tuple(_bend(made, raceway, assumed=assumed) for made in bends_of(line))
    _lengths(course, line, raceway)
    _reach(course, line, raceway)
    if not known(raceway.length):
        raceway.length = course.length
    if not known(stated):
        raceway.bends = course.bends
    course.ends = ()
    course.straps = straps_of(line, raceway)
    return course


def _taken(raceway: Raceway) -> bool:
    """Whether the least radius of a one-shot bender stands for one that is not stated."""
    return known(raceway.size) and raceway.bender == "one_shot"


def _bend(made: Made, raceway: Raceway, *, assumed: bool) -> Any:
    bend: Any = new(Bend, raceway.node)
    bend.kind = made.kind
    bend.angle = made.angle
    words = f"`radius` of {describe(raceway)}"
    bend.radius = made.radius if made.radius is not None else Missing("radius", words)
    bend.assumed = assumed
    bend.total = sum(corner.angle for corner in made.corners)
    return bend  # open until ``way_shape`` has added up all bends of the raceway


def _lengths(course: Any, line: Bent, raceway: Raceway) -> None:
    """Developed length and straight pieces, as far as the radii tell."""
    legs = [line.corners[n] for n in (0, -1)] if line.corners else []
    ends = [line.points[0], line.points[-1]]
    stubs = [
        sum((a - b) ** 2 for a, b in zip(corner.at, end, strict=True)) ** 0.5
        for corner, end in zip(legs, ends, strict=False)
        if _QUARTER[0] <= corner.angle <= _QUARTER[1]
    ]
    course.stub = min(stubs) if stubs else Missing("path", "a quarter bend next to an end")
    if not line.has_radii:
        course.length = course.shortest = course.at_ends = Missing(
            "radius", f"`radius` of {describe(raceway)}"
        )
        return
    straights = line.straights
    course.at_ends = min(straights[0], straights[-1])
    course.shortest = min(straights[1:-1]) if len(straights) > 2 else course.at_ends
    if line.overlaps:
        words = f"a `path` of {describe(raceway)} on which its bends fit"
        course.length = Missing("path", words)
    else:
        course.length = line.developed


def _reach(course: Any, line: Bent, raceway: Raceway) -> None:
    """How far the path reaches, across, up and in depth."""
    depths = [point[2] for point in line.points]
    flat = Missing("path", f"depth of the points of `path` of {describe(raceway)}")
    course.nearest = min(depths) if course.deep else flat
    course.farthest = max(depths) if course.deep else flat
    frame: Any = raceway.frame
    if not known(frame):
        course.beyond = frame
        return
    sizes: Any = [
        getattr(frame, key) if known(getattr(frame, key)) else gap(frame, key)
        for key in ("width", "height")
    ]
    lack = lack_of(*sizes)
    if lack is not None:
        course.beyond = lack
        return
    course.beyond = max(
        max(-point[n], point[n] - sizes[n], 0.0) for point in line.points for n in (0, 1)
    )
