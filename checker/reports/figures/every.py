"""Every drawing of a report, in order, with what was left out said in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from checker.assembly.structure import ways_of
from checker.findings.finding import Finding, Report

from .. import cautions
from . import cross_section, ratios, schematic
from .elevation import Elevation
from .marks import Key, Marks
from .places import BoxTable, Face, faces, outside
from .ratios import Bar
from .svg import Drawing, Point

_CLOSEST = f"{cautions.RATIO} At most three findings of each rule; the numbers are theirs."
#: Most drawings of each sort; those with findings come first when there are more.
MOST_FACES, MOST_PAGES, MOST_SECTIONS = 24, 12, 36


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing. ``alt`` says in words what it shows; lengths are in points.

    ``key`` says what the letters in it stand for, where it has any.
    """

    sort: str
    title: str
    caption: str
    alt: str
    svg: str
    width: float
    height: float
    key: str = ""


@dataclass(slots=True)
class Figures:
    """The drawings by sort, and what is not drawn."""

    elevations: list[Figure] = field(default_factory=list)
    schematics: list[Figure] = field(default_factory=list)
    sections: list[Figure] = field(default_factory=list)
    ratios: Figure | None = None
    notes: list[str] = field(default_factory=list)


def draw_all(
    report: Report, marks: Marks, findings: dict[Key, list[Finding]], bars: Sequence[Bar]
) -> Figures:
    """Draw everything that the description allows."""
    done = Figures()
    placed, left = faces(report.assembly, _box_table(report))
    _elevations(report, placed, marks, done)
    if left or not placed:
        _schematics(report, {element.id for element in left}, marks, done)
    _sections(report, marks, findings, done)
    if bars:
        drawing = ratios.draw(bars, marks, "ratios")
        worst = bars[0]
        alt = (
            f"Bar chart of measure over limit for {len(bars)} findings; the greatest is "
            f"{worst.ratio:.2f}, {worst.rule} on {worst.key[0]} {worst.key[1]}"
        )
        done.ratios = _figure(drawing, "ratios", "Closest to their limits", _CLOSEST, alt)
    return done


def _figure(
    drawing: Drawing, sort: str, title: str, caption: str, alt: str, key: str = ""
) -> Figure:
    svg = drawing.render(alt)
    return Figure(sort, title, caption, alt, svg, drawing.width, drawing.height, key)


def _box_table(report: Report) -> BoxTable:
    if "standard_boxes" not in report.book.tables:
        return lambda name: None
    table = report.book.tables["standard_boxes"]
    wide, high = table.getter("width"), table.getter("height")

    def find(name: str) -> Point | None:
        try:
            return float(wide(name)), float(high(name))
        except (LookupError, TypeError):
            return None

    return find


def _elevations(report: Report, placed: list[Face], marks: Marks, done: Figures) -> None:
    kept = _keep(placed, [_face_marked(face, marks) for face in placed], MOST_FACES)
    if len(kept) < len(placed):
        done.notes.append(
            f"{len(placed) - len(kept)} of {len(placed)} section faces are not drawn; those with "
            "findings are drawn first. The schedules list every element."
        )
    panels = {panel.id: panel for panel in report.assembly.panels}
    for place in kept:
        face = placed[place]
        elevation = Elevation(face, marks, panels, f"face{place}")
        drawing = elevation.draw()
        side = "" if face.side == "front" else f", {face.side} face"
        title = f"Section {face.section.id}{side}"
        alt = (
            f"Elevation of section {face.section.id}, {face.side} face: {len(face.boxes)} boxes, "
            f"{len(face.ways)} raceways and cables, {len(face.couplings)} couplings"
        )
        caption = "Places as the file gives them, from the lower left corner of the section."
        if len(face.boxes) + len(face.ways) > 160:
            caption += " Only elements with findings are named; there are too many to name all."
        key = "; ".join(f"{letter}: {name}" for letter, name in elevation.keyed)
        if key:
            key = f"Letters stand for names that have no room. {key}."
        lost = outside(face)
        if lost:
            caption += " Beyond the outline by the places given, so not or half drawn: "
            caption += ", ".join(lost[:20]) + (f" and {len(lost) - 20} more" if lost[20:] else "")
        done.elevations.append(_figure(drawing, "elevation", title, caption, alt, key))


def _face_marked(face: Face, marks: Marks) -> bool:
    keys = [("box", b.box.id) for b in face.boxes] + [("section", face.section.id)]
    keys += [(kind, w.way.id) for w in face.ways for kind in ("raceway", "cable")]
    keys += [("coupling", c.id) for c, _ in face.couplings]
    return any(marks.at(key) for key in keys)


def _keep(things: Sequence[object], first: Sequence[bool], most: int) -> list[int]:
    """The places of at most ``most`` things, in order; those with ``first`` are preferred."""
    ranked = sorted(range(len(things)), key=lambda place: (not first[place], place))
    return sorted(ranked[:most])


def _schematics(report: Report, unplaced: set[str], marks: Marks, done: Figures) -> None:
    pages = schematic.pages(schematic.rows(report.assembly, unplaced))
    kept = _keep(pages, [schematic.marked(page, marks) for page in pages], MOST_PAGES)
    if len(kept) < len(pages):
        done.notes.append(
            f"{len(pages) - len(kept)} of {len(pages)} sheets of the one-line diagram are not "
            "drawn; those with findings are drawn first. The schedules list every element."
        )
    for place in kept:
        page = pages[place]
        drawing = schematic.draw(page, marks, f"line{place}")
        title = f"One-line diagram, sheet {place + 1} of {len(pages)}"
        alt = (
            "One-line diagram of boxes and raceways, "
            + ", ".join(row.cells[0].name for row in page[:4])
            + (" and others" if len(page) > 4 else "")
        )
        caption = (
            "Not to scale: laid out from the connections, since the file does not place "
            "everything. Dashed outlines repeat an element that is drawn elsewhere."
        )
        done.schematics.append(_figure(drawing, "schematic", title, caption, alt))
    loose = [way.id for way in ways_of(report.assembly) if way.from_ == way.to == "field"]
    if loose:
        done.notes.append("Both ends are completed on site, so not drawn: " + ", ".join(loose))


def _sections(
    report: Report, marks: Marks, findings: dict[Key, list[Finding]], done: Figures
) -> None:
    sizes = cross_section.Sizes(report.book.tables)
    found, left = cross_section.drawn_sections(report.assembly.raceways, findings, sizes)
    flagged = [any(marks.at(("raceway", name)) for name in group.members) for group in found]
    kept = _keep(found, flagged, MOST_SECTIONS)
    if len(kept) < len(found):
        done.notes.append(
            f"{len(found) - len(kept)} of {len(found)} cross-sections are not drawn: the emptiest."
        )
    if left:
        shown = ", ".join(left[:30]) + (f" and {len(left) - 30} more" if len(left) > 30 else "")
        done.notes.append(
            "No cross-section, since a size, method, insulation or diameter is not stated or not "
            f"in the tables: {shown}"
        )
    for place in kept:
        group = found[place]
        drawing = cross_section.draw(group, marks, f"bore{place}")
        title = f"{group.method} {group.size}: {', '.join(group.members)}"
        alt = (
            f"Cross-section of {group.method} trade size {group.size} with "
            + ", ".join(cross_section.contents(group))
            + f"; {group.fill:.0%} of the internal area is taken up"
            + (f", {group.share:.0%} is permitted" if group.share is not None else "")
        )
        done.sections.append(_figure(drawing, "cross-section", title, "", alt))
