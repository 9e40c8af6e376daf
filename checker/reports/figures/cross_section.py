"""Cross-sections of raceways: conductors to scale in the bore, and the permitted share."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import pi, sqrt
from typing import Any

from checker.assembly.records import Raceway, Wire
from checker.documents.missing import known
from checker.findings.finding import Finding
from checker.quantities.show import show, show_number
from checker.quantities.tolerance import EPSILON
from checker.tables.collection import TableSet

from .marks import Key, Marks, draw_row, row_size
from .packing import pack
from .svg import FAINT, INK, PAPER, Drawing, clipped, text_width

WIDE, HIGH = 164.0, 214.0
_BORE = 51.0  # points: radius that every bore is drawn with
_RULE = "raceway-fill"
_LETTERS = {
    "neutral": "N",
    "ground": "G",
    "isolated_ground": "IG",
    "switched": "sw",
    "traveler": "tr",
    "spare": "sp",
    "signal": "sg",
}


@dataclass(frozen=True, slots=True)
class Conductor:
    """One conductor as drawn: diameter and area in inches, and what is written on it."""

    diameter: float
    area: float
    letters: str
    words: str
    bare: bool


@dataclass(frozen=True, slots=True)
class DrawnSection:
    """Raceways of one method and size with the same contents, judged alike.

    share and fill are shares of the bore, None where unknown.
    """

    method: str
    size: str
    bore: float
    area: float
    conductors: tuple[Conductor, ...]
    members: tuple[str, ...]
    finding: Finding | None
    share: float | None

    @property
    def fill(self) -> float:
        """The share of the bore that the conductors take up."""
        return sum(c.area for c in self.conductors) / self.area


class Sizes:
    """Dimensions from the tables in force."""

    def __init__(self, tables: TableSet) -> None:
        self._raceways = tables["raceway_dimensions"]
        self._insulated = tables["conductor_dimensions"]
        self._bare = tables["conductor_properties"]

    def bore(self, raceway: Raceway) -> tuple[float, float] | None:
        """Diameter and area of the bore."""
        if not known(raceway.method) or not known(raceway.size):
            return None
        key = (raceway.method, raceway.size)
        try:
            area = float(self._raceways.getter("area")(*key))
        except LookupError:
            return None
        return 2 * sqrt(area / pi), area

    def fill(self, raceway: Raceway) -> float | None:
        """The share of the bore that its wires take up; None where something is not known."""
        bore = self.bore(raceway)
        areas = [self._area(wire) for wire in raceway.wires]
        known_areas = [area for area in areas if area is not None]
        if bore is None or not areas or len(known_areas) < len(areas):
            return None
        return sum(known_areas) / bore[1]

    def conductor(self, wire: Wire) -> Conductor | None:
        """A wire as it is drawn, from the same column that its fill is judged by."""
        area = self._area(wire)
        if area is None or area <= 0:
            return None
        phase = wire.phase if known(wire.phase) else ""
        letters = _LETTERS.get(wire.role) or str(phase) or "?"
        size = str(wire.size) if known(wire.size) else ""
        kind = "bare" if wire.bare else str(wire.insulation) if known(wire.insulation) else ""
        if wire.role == "signal" and known(wire.diameter):
            size, kind = f"{show_number(float(wire.diameter), 3)} in", "signal"
        words = " ".join(part for part in (size, kind) if part)
        return Conductor(2 * sqrt(area / pi), area, letters, words, wire.bare)

    def _area(self, wire: Wire) -> float | None:
        try:
            if wire.bare:
                column = "solid_area" if wire.solid else "area"
                return float(self._bare.getter(column)(wire.size))
            if known(wire.diameter):
                return pi / 4 * float(wire.diameter) ** 2
            if not known(wire.insulation) or not known(wire.size):
                return None
            return float(self._insulated.getter("area")(wire.insulation, wire.size))
        except (LookupError, TypeError):
            return None


def drawn_sections(
    raceways: Iterable[Raceway], findings: dict[Key, list[Finding]], sizes: Sizes
) -> tuple[list[DrawnSection], list[str]]:
    """Groups of raceways, the fullest first, and the names of those that cannot be drawn."""
    found: dict[tuple[Any, ...], tuple[list[str], tuple[Any, ...]]] = {}
    left: list[str] = []
    for raceway in raceways:
        if not raceway.wires:
            continue
        bore = sizes.bore(raceway)
        conductors = [sizes.conductor(wire) for wire in raceway.wires]
        drawn = tuple(c for c in conductors if c is not None)
        if bore is None or len(drawn) < len(conductors):
            left.append(raceway.id)
            continue
        finding = next(
            (f for f in findings.get(("raceway", raceway.id), ()) if f.rule.id == _RULE), None
        )
        share = step_value(finding, "share")
        # The letters of the phases do not make another cross-section.
        alike = tuple(
            sorted((c.words, "" if c.letters in ("A", "B", "C") else c.letters) for c in drawn)
        )
        key = (raceway.method, raceway.size, share, finding and finding.kind, alike)
        if key in found:
            found[key][0].append(raceway.id)
        else:
            found[key] = ([raceway.id], (raceway, bore, drawn, finding, share))
    made = [
        DrawnSection(
            str(way.method), str(way.size), bore[0], bore[1], drawn, tuple(names), finding, share
        )
        for names, (way, bore, drawn, finding, share) in found.values()
    ]
    made.sort(key=lambda g: (-_closeness(g), g.members))
    return made, left


def _closeness(group: DrawnSection) -> float:
    ratio = group.finding.ratio if group.finding is not None else None
    if ratio is not None:
        return ratio
    return group.fill / group.share if group.share else group.fill


def step_value(finding: Finding | None, name: str) -> float | None:
    """The result of one of the rule's steps, where the rule has a step of that name."""
    case = finding.case if finding is not None else None
    if finding is None or case is None:
        return None
    for place, value in zip(case.steps, finding.values, strict=False):
        if finding.form.steps[place].name == name and isinstance(value, (int, float)):
            return float(value)
    return None


def contents(group: DrawnSection) -> list[str]:
    """What is in a raceway, such as ``9 × 12 AWG THHN``, the largest first."""
    counts: dict[str, list[float]] = {}
    for conductor in group.conductors:
        counts.setdefault(conductor.words or "?", []).append(conductor.diameter)
    ordered = sorted(counts.items(), key=lambda item: (-item[1][0], item[0]))
    return [f"{len(each)} × {words}" for words, each in ordered]


def draw(group: DrawnSection, marks: Marks, name: str) -> Drawing:
    """The cross-section of a group."""
    drawing = Drawing(WIDE, HIGH, name)
    found = [pair for member in group.members for pair in marks.at(("raceway", member))]
    found = [p for i, p in enumerate(found) if p not in found[:i]]
    first = group.members[0]
    with marks.group(drawing, ("raceway", first), f"raceway {first}"):
        drawing.text((4, 10), f"{group.method} {group.size}", size=8.5, bold=True)
    if found:
        size = row_size(found)
        draw_row(drawing, (WIDE - size[0] - 3, 1), found)
    listed = contents(group)
    for row, line in enumerate(listed[:2]):
        more = f" + {len(listed) - 2} more" if row == 1 and len(listed) > 2 else ""
        drawing.text((4, 20 + row * 8.5), clipped(line, 36 - len(more)) + more, size=6.4)
    not_drawn = _bore(drawing, group)
    _gauge(drawing, group, not_drawn)
    return drawing


def _bore(drawing: Drawing, group: DrawnSection) -> int:
    x, y = WIDE / 2, 92.0
    scale = _BORE / (group.bore / 2)
    drawing.circle((x, y), _BORE + 2.6, fill="#b9b9b9", width=0.8)
    drawing.circle((x, y), _BORE, fill=PAPER, width=0.8)
    spots = pack(group.bore / 2, [c.diameter / 2 for c in group.conductors])
    for conductor, spot in zip(group.conductors, spots, strict=True):
        if spot is None:
            continue
        center = (x + spot[0] * scale, y - spot[1] * scale)
        radius = spot[2] * scale
        dark = conductor.letters in ("G", "IG")
        fill = drawing.hatch("dots") if conductor.bare else "#d9d9d9" if dark else PAPER
        drawing.circle(center, radius, fill=fill, width=1.0)
        if radius >= 3.6 and not conductor.bare:
            size = min(7.0, radius * 1.5 / max(len(conductor.letters), 1.2))
            drawing.text(
                (center[0], center[1] + size * 0.36), conductor.letters, size=size, anchor="middle"
            )
    drawing.text(
        (x + _BORE * 0.72 + 4, y - _BORE * 0.86), f"⌀ {show_number(group.bore, 3)} in", size=6
    )
    return sum(spot is None for spot in spots)


def _gauge(drawing: Drawing, group: DrawnSection, not_drawn: int) -> None:
    left, top, wide, high = 12.0, 164.0, WIDE - 24.0, 9.0
    fill = min(group.fill, 1.0)
    over = group.share is not None and group.fill > group.share * (1 + EPSILON)
    pattern = drawing.hatch("crossed" if over else "rising")
    drawing.rect((left, top), (wide, high), fill=PAPER, width=0.8)
    drawing.rect((left, top), (wide * fill, high), fill=pattern, width=0.8)
    if group.share is not None:
        at = left + wide * group.share
        drawing.line((at, top - 4), (at, top + high + 4), width=1.8)
        text = f"{show(group.share, '%')} permitted"
        half = text_width(text, 6.2) / 2
        middle = min(max(at, left + half - 8), WIDE - half - 4)
        drawing.text((middle, top + high + 11), text, size=6.2, anchor="middle")
    drawing.text(
        (left, top - 5.5), f"{show(group.fill, '%')} of {show(group.area, 'in²')}", size=6.2
    )
    lines = [_judged(group)] if group.finding is not None else []
    if not_drawn:
        lines.append(f"{not_drawn} of {len(group.conductors)} find no room in the drawing")
    lines.append(_names(group.members))
    for row, line in enumerate(lines[:3]):
        drawing.text((4, top + high + 21 + row * 8.6), clipped(line, 40), size=6.4, fill=INK)
    drawing.line((4, HIGH - 1), (WIDE - 4, HIGH - 1), stroke=FAINT, width=0.4)


def _judged(group: DrawnSection) -> str:
    finding = group.finding
    assert finding is not None
    case = finding.case
    measure, limit = finding.measure, finding.limit
    if case is None or not isinstance(measure, (int, float)) or not isinstance(limit, (int, float)):
        return "not judged: see the finding" if finding.kind == "open" else ""
    if case.unit == "count":
        many = "conductor" if measure == 1 else "conductors"
        return f"{show_number(measure)} {many}; {show_number(limit)} permitted"
    return f"filled {show(measure, case.unit)}; {show(limit, case.unit)} permitted"


def _names(members: tuple[str, ...]) -> str:
    text = members[0]
    for place, name in enumerate(members[1:], 1):
        if len(text) + len(name) > 28:
            return f"{text} and {len(members) - place} more"
        text += f", {name}"
    return text
