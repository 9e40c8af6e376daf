"""The elevation of one face of a section: boxes and raceways where the file puts them."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from checker.assembly.records import Panel
from checker.quantities.show import show_length

from .branches import STYLES, branch_of, legend
from .labels import Area, Room, along, around
from .marks import Key, Marks, draw_coupling, draw_row, marks_legend, row_size
from .places import Face, PlacedBox, PlacedWay
from .svg import FAINT, INK, PAPER, Drawing, Point, bounds, shortened, text_width

_WIDEST, _HIGHEST = 468.0, 540.0
_LEFT, _TOP = 34.0, 14.0
_LABEL = 6.6
_LONGEST = 18
_CROWD = 160  # elements on a face; beyond that only those with findings are labelled
_HALO = "#d4d4d4"
#: Kinds of boxes drawn with crossed lines.
JUNCTIONS = ("junction", "pull", "conduit_body")


@dataclass(slots=True)
class Elevation:
    """Draws one face.

    ``keyed`` is filled by the drawing: letters that stand for names which have no room in it.
    """

    face: Face
    marks: Marks
    panels: dict[str, Panel]
    name: str
    drawing: Drawing = field(init=False)
    room: Room = field(init=False)
    scale: float = field(init=False)
    high: float = field(init=False)
    crowded: bool = field(init=False)
    keyed: list[tuple[str, str]] = field(default_factory=list)
    _beside: float = field(init=False, default=_LEFT)

    def draw(self) -> Drawing:
        """The whole drawing."""
        face = self.face
        wide, high, _ = face.size
        self.high = high
        self.scale = min(_WIDEST / wide, _HIGHEST / high, 9.0)
        self.crowded = len(face.boxes) + len(face.ways) > _CROWD
        right, bottom = _LEFT + wide * self.scale, _TOP + high * self.scale
        self.drawing = Drawing(max(right + 22, 400), bottom + 76, self.name)
        self.room = Room((4, 2, self.drawing.width - 2, bottom + 12))
        self._outline(wide, high)
        for placed in face.ways:
            self.room.take_line(self._points(placed))
        for box in face.boxes:
            self.room.take(self._area(box))
        for placed in face.ways:
            self._way(placed)
        for coupling, at in face.couplings:
            self._coupling(coupling.id, self._point(at))
        for box in face.boxes:
            self._box(box)
        # Marks come first, since they may not be missed; names take the room that is left.
        for placed in face.ways:
            self._mark(("cable" if _is_cable(placed) else "raceway", placed.way.id), placed)
        for box in face.boxes:
            self._mark(("box", box.box.id), box)
        for coupling, at in face.couplings:
            self._mark_area(("coupling", coupling.id), _square(self._point(at), 3.5))
        self._mark_section()
        for box in face.boxes:
            self._box_label(box)
        for placed in face.ways:
            self._way_label(placed)
        for coupling, at in face.couplings:
            self._coupling_label(coupling.id, self._point(at))
        self._legends(bottom)
        return self.drawing

    # -- geometry --------------------------------------------------------------------------

    def _point(self, at: Point) -> Point:
        return _LEFT + at[0] * self.scale, _TOP + (self.high - at[1]) * self.scale

    def _points(self, placed: PlacedWay) -> list[Point]:
        return [self._point(p) for p in placed.points]

    def _area(self, placed: PlacedBox) -> Area:
        x, y = self._point(placed.center)
        wide = max(placed.size[0] * self.scale, 7.0) / 2
        high = max(placed.size[1] * self.scale, 7.0) / 2
        return x - wide, y - high, x + wide, y + high

    # -- outline and scale -----------------------------------------------------------------

    def _outline(self, wide: float, high: float) -> None:
        drawing, scale = self.drawing, self.scale
        stated = self.face.size[2]
        right, bottom = _LEFT + wide * scale, _TOP + high * scale
        with self.marks.group(
            drawing, ("section", self.face.section.id), f"section {self.face.section.id}"
        ):
            drawing.rect(
                (_LEFT, _TOP), (wide * scale, high * scale), stroke=INK, width=1.4,
                dash="" if stated else "6 3",
            )  # fmt: skip
        self.room.take_line(
            [(_LEFT, _TOP), (right, _TOP), (right, bottom), (_LEFT, bottom), (_LEFT, _TOP)]
        )
        foot = 12 * scale
        step = 1 if foot >= 14 else int(14 / foot) + 1
        for count in range(0, int(wide // 12) + 1, step):
            x = _LEFT + count * foot
            drawing.line((x, bottom), (x, bottom + 3), width=0.7)
            drawing.text((x, bottom + 9.5), str(count), size=6, anchor="middle", fill=INK)
            self.room.take((x - 4, bottom, x + 4, bottom + 11))
        for count in range(0, int(high // 12) + 1, step):
            y = bottom - count * foot
            drawing.line((_LEFT - 3, y), (_LEFT, y), width=0.7)
            drawing.text((_LEFT - 5, y + 2), str(count), size=6, anchor="end", fill=INK)
            self.room.take((_LEFT - 14, y - 3, _LEFT - 1, y + 3))
        drawing.text((_LEFT - 20, _TOP + 3), "ft", size=6)
        size = f"{show_length(wide)} wide, {show_length(high)} high"
        words = size if stated else f"outline not stated; drawn {size}"
        middle = max(_LEFT + wide * scale / 2, _LEFT + text_width(words, 6.8) / 2)
        drawing.text((middle, bottom + 19), words, size=6.8, anchor="middle")
        self._beside = middle + text_width(words, 6.8) / 2 + 6

    # -- elements --------------------------------------------------------------------------

    def _way(self, placed: PlacedWay) -> None:
        way, points = placed.way, self._points(placed)
        kind = "cable" if _is_cable(placed) else "raceway"
        found = self.marks.at((kind, way.id))
        style = STYLES[branch_of(way.wires)]
        title = f"{kind} {way.id}: {style.words}, from {way.from_} to {way.to}"
        with self.marks.group(self.drawing, (kind, way.id), title):
            if found:
                self.drawing.polyline(points, stroke=_HALO, width=8, cap="round")
            style.draw(self.drawing, points)
            for end, at, before in ((way.from_, 0, 1), (way.to, -1, -2)):
                if end == "field" or end in self.panels:
                    self._outward(points[before], points[at], end)

    def _outward(self, before: Point, tip: Point, name: str) -> None:
        """An end that leaves the section: an open arrow with where it goes."""
        across, down = tip[0] - before[0], tip[1] - before[1]
        length = max((across * across + down * down) ** 0.5, 1e-6)
        dx, dy = across / length, down / length
        tail = [
            (tip[0] - 5 * dx + 2.8 * dy, tip[1] - 5 * dy - 2.8 * dx),
            tip,
            (tip[0] - 5 * dx - 2.8 * dy, tip[1] - 5 * dy + 2.8 * dx),
        ]
        self.drawing.polyline(tail, width=1.1)
        if name == "field":  # the legend says it once
            return
        text = shortened(f"to {name}", _LONGEST)
        size = (text_width(text, 6), 7.0)
        spot = self.room.free(size, around(bounds(tail), size))
        if spot is not None:  # the schedules say it too
            self.drawing.text((spot[0], spot[1] + 5.6), text, size=6)

    def _coupling(self, name: str, at: Point) -> None:
        with self.marks.group(self.drawing, ("coupling", name), f"coupling {name}"):
            draw_coupling(self.drawing, at)

    def _box(self, placed: PlacedBox) -> None:
        box, area = placed.box, self._area(placed)
        found = self.marks.at(("box", box.id))
        size = box.trade_size if isinstance(box.trade_size, str) else "size not named"
        with self.marks.group(self.drawing, ("box", box.id), f"{box.kind} box {box.id}, {size}"):
            left, top, right, bottom = area
            middle, center = (left + right) / 2, (top + bottom) / 2
            if found:
                self.drawing.rect(
                    (left - 3, top - 3), (right - left + 6, bottom - top + 6), fill=_HALO,
                    stroke="none", round_=3,
                )  # fmt: skip
            width = 2.0 if found else 1.1
            dash = "" if placed.sized else "3 2"
            if isinstance(box.trade_size, str) and box.trade_size.endswith("octagonal"):
                self.drawing.circle(
                    (middle, center), (right - left) / 2, fill=PAPER, width=width, dash=dash
                )
            else:
                self.drawing.rect(
                    (left, top), (right - left, bottom - top), fill=PAPER, width=width, dash=dash
                )
            if box.kind in JUNCTIONS:
                self.drawing.line((left, top), (right, bottom), width=0.6, stroke=FAINT)
                self.drawing.line((left, bottom), (right, top), width=0.6, stroke=FAINT)
            elif box.devices and right - left >= 9:
                self._devices(area, len(box.devices))

    def _devices(self, area: Area, count: int) -> None:
        left, top, right, bottom = area
        shown = min(count, 4)
        step = (right - left) / shown
        for place in range(shown):
            x = left + step * (place + 0.5)
            middle = (top + bottom) / 2
            self.drawing.rect((x - 1.8, middle - 5), (3.6, 10), width=0.6, stroke=INK, round_=1)

    # -- labels and marks ------------------------------------------------------------------

    def _label(
        self,
        key: Key,
        text: str,
        at: Point,
        size: Point,
        *,
        high: float = _LABEL,
        bold: bool = False,
    ) -> None:
        """A name on white, above what is behind it; it leads where its element does."""
        x, y = at
        with self.marks.label(self.drawing, key):
            self.drawing.rect(
                (x - 0.6, y + 0.4), (size[0] + 1.2, size[1] - 0.6), fill=PAPER, stroke="none"
            )
            self.drawing.text((x, y + size[1] - 1.7), text, size=high, bold=bold)

    def _box_label(self, placed: PlacedBox) -> None:
        if self.crowded and not self.marks.at(("box", placed.box.id)):
            return
        text = shortened(placed.box.id, _LONGEST)
        size = (text_width(text, _LABEL), 8.0)
        left, top, right, bottom = self._area(placed)
        if size[0] + 3 < right - left and not placed.box.devices:
            at = ((left + right - size[0]) / 2, (top + bottom) / 2 - 4)
        else:
            # Two rings of places: farther off, a name would be taken for a neighbour's.
            free = self.room.free(size, around(self._area(placed), size)[:16])
            if free is None:
                text, size = self._letter(placed.box.id)
                free = ((left + right - size[0]) / 2, (top + bottom - size[1]) / 2)
            at = free
        self._label(("box", placed.box.id), text, at, size, bold=True)

    def _letter(self, name: str) -> tuple[str, Point]:
        """A letter in the place of a name that has no room, and its size."""
        count = len(self.keyed)
        text = chr(ord("a") + count % 26)
        if count >= 26:
            text = chr(ord("a") + count // 26 - 1) + text
        self.keyed.append((text, name))
        return text, (text_width(text, _LABEL), 8.0)

    def _way_label(self, placed: PlacedWay) -> None:
        way = placed.way
        kind = "cable" if _is_cable(placed) else "raceway"
        if self.crowded and not self.marks.at((kind, way.id)):
            return
        letters = STYLES[branch_of(way.wires)].letters
        text = f"{shortened(way.id, _LONGEST)} {letters}" + ("" if placed.routed else " ~")
        size = (text_width(text, _LABEL), 8.0)
        at = self.room.free(size, along(self._points(placed), size))
        if at is None:
            text, size = self._letter(way.id)
            at = self.room.place(size, along(self._points(placed), size))
        self._label((kind, way.id), text, at, size)

    def _coupling_label(self, name: str, at: Point) -> None:
        if self.crowded and not self.marks.at(("coupling", name)):
            return
        text = shortened(name, _LONGEST)
        size = (text_width(text, 5.8), 7.0)
        spot = self.room.free(size, around(_square(at, 3.5), size, 1.0))
        if spot is None:
            text, size = self._letter(name)
            spot = self.room.place(size, around(_square(at, 3.5), size, 1.0))
        self._label(("coupling", name), text, spot, size, high=5.8)

    def _mark(self, key: Key, placed: PlacedBox | PlacedWay) -> None:
        if isinstance(placed, PlacedBox):
            self._mark_area(key, self._area(placed))
            return
        found = self.marks.at(key)
        if found:
            points = self._points(placed)
            size = row_size(found)
            x, y = self.room.place(size, along(points, size, 5.0))
            self._leader((x, y, x + size[0], y + size[1]), _middle(points))
            self._row(key, (x, y))

    def _mark_area(self, key: Key, area: Area) -> None:
        found = self.marks.at(key)
        if found:
            size = row_size(found)
            x, y = self.room.place(size, around(area, size, 5.0))
            self._leader(
                (x, y, x + size[0], y + size[1]),
                ((area[0] + area[2]) / 2, (area[1] + area[3]) / 2),
                inside=area,
            )
            self._row(key, (x, y))

    def _mark_section(self) -> None:
        key = ("section", self.face.section.id)
        if self.marks.at(key):
            self._row(key, (self._beside, _TOP + self.high * self.scale + 10))

    def _row(self, key: Key, corner: Point) -> None:
        with self.marks.label(self.drawing, key):
            draw_row(self.drawing, corner, self.marks.at(key))

    def _leader(self, row: Area, to: Point, inside: Area | None = None) -> None:
        start = (min(max(to[0], row[0]), row[2]), min(max(to[1], row[1]), row[3]))
        if inside is not None:
            to = (
                min(max(start[0], inside[0]), inside[2]),
                min(max(start[1], inside[1]), inside[3]),
            )
        self.drawing.line(start, to, width=0.8)

    def _legends(self, bottom: float) -> None:
        used = [branch_of(placed.way.wires) for placed in self.face.ways]
        y = bottom + 33
        taken = legend(self.drawing, (6, y), used, across=self.drawing.width - 12)
        y += taken
        numbered = [
            key
            for key in [("box", b.box.id) for b in self.face.boxes]
            + [("raceway", w.way.id) for w in self.face.ways]
            + [("cable", w.way.id) for w in self.face.ways]
            + [("coupling", c.id) for c, _ in self.face.couplings]
            + [("section", self.face.section.id)]
            if self.marks.at(key)
        ]
        if numbered:
            marks_legend(self.drawing, (6, y + 2))
            y += 14
        if any("field" in (placed.way.from_, placed.way.to) for placed in self.face.ways):
            self.drawing.polyline([(7, y - 5), (12, y - 2.3), (7, y + 0.4)], width=1.1)
            self.drawing.text((18, y), "completed on site", size=6.8)
            y += 12
        if any(not placed.routed for placed in self.face.ways):
            self.drawing.text((6, y), "~ route not stated: drawn straight", size=6.8)
            y += 12
        self.drawing.height = y


def _is_cable(placed: PlacedWay) -> bool:
    return type(placed.way).__name__ == "Cable"


def _square(at: Point, half: float) -> Area:
    return at[0] - half, at[1] - half, at[0] + half, at[1] + half


def _middle(points: list[Point]) -> Point:
    """The middle of the longest part of a line."""
    start, end = max(
        pairwise(points),
        key=lambda p: abs(p[0][0] - p[1][0]) + abs(p[0][1] - p[1][1]),
    )
    return (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
