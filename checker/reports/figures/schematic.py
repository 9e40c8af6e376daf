"""A one-line diagram, laid out by itself, of boxes and raceways that the file gives no places for.

It starts at the panels and follows every raceway outward.  A row continues to the right; what
branches off starts a row of its own below, with a line down from where it branches.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from checker.assembly.records import Assembly, Box, Cable, Coupling
from checker.assembly.structure import Way, ways_of

from .branches import STYLES, branch_of, legend
from .elevation import JUNCTIONS
from .marks import Marks, draw_coupling, draw_row, marks_legend, row_size
from .svg import FAINT, PAPER, Drawing, Point, clipped, shortened, text_width

_COLUMNS = 5
_ACROSS, _DOWN = 99.0, 37.0
_NODE, _TALL = 42.0, 17.0
ROWS = 14  # on one drawing
_MARKS = 3  # numbers that have room over a raceway; the schedules have all of them


@dataclass(frozen=True, slots=True)
class Cell:
    """A node at a column of a row. ``way`` leads to it from the node before."""

    column: int
    name: str
    element: Any
    way: Way | None = None
    again: bool = False  # drawn elsewhere: shown to say what the row hangs on, or where it leads
    goes_on: bool = False


@dataclass(slots=True)
class Row:
    """Nodes from left to right; ``hangs`` is the row of the node that the first one hangs on."""

    cells: list[Cell] = field(default_factory=list)
    hangs: int | None = None


def rows(assembly: Assembly, unplaced: set[str]) -> list[Row]:
    """The rows of every part of the assembly that has an element without a place."""
    graph = _Graph(assembly)
    made: list[Row] = []
    for root in graph.roots():
        if root not in graph.reached:
            part = graph.tree(root)
            if any(_names(row) & unplaced for row in part):
                offset = len(made)
                for row in part:
                    row.hangs = None if row.hangs is None else row.hangs + offset
                made += part
    return made


def _names(row: Row) -> set[str]:
    found = set()
    for cell in row.cells:
        found.add(cell.name)
        if cell.way is not None:
            found.add(cell.way.id)
    return found


class _Graph:
    """Boxes, panels and couplings as nodes; raceways and cables as edges."""

    def __init__(self, assembly: Assembly) -> None:
        self.nodes: dict[str, Any] = {p.id: p for p in assembly.panels}
        self.nodes |= {b.id: b for b in assembly.boxes}
        self.nodes |= {c.id: c for c in assembly.couplings}
        self.at: dict[str, list[Way]] = {}
        for way in ways_of(assembly):
            for end in dict.fromkeys((way.from_, way.to)):
                if end in self.nodes:
                    self.at.setdefault(end, []).append(way)
        self.loose = [
            way
            for way in ways_of(assembly)
            if way.from_ not in self.nodes and way.to not in self.nodes
        ]
        self.reached: set[str] = set()
        self.used: set[str] = set()

    def roots(self) -> list[str]:
        """Where trees may start: panels, panelboards, what the field feeds, then all others."""
        names = list(self.nodes)
        panels = [n for n in names if type(self.nodes[n]).__name__ == "Panel"]
        boards = [n for n in names if getattr(self.nodes[n], "kind", "") == "panelboard"]
        fed = [n for n in names if any("field" in (w.from_, w.to) for w in self.at.get(n, ()))]
        return [n for n in dict.fromkeys((*panels, *boards, *fed, *names)) if n in self.at]

    def tree(self, root: str) -> list[Row]:
        """The rows of everything that hangs on ``root``, each way drawn once."""
        self.reached.add(root)
        made = [Row([Cell(0, root, self.nodes[root])])]
        # What remains to be followed: the node, its row and column.  Taken from the end, so that
        # the way named first goes on in the same row and the others follow below it.
        waiting: list[tuple[str, int, int]] = [(root, 0, 0)]
        later: list[str] = []  # what goes on beyond the last column, in rows of its own
        while waiting or later:
            if not waiting:
                made.append(Row([Cell(0, later[0], self.nodes[later[0]], again=True)]))
                waiting.append((later.pop(0), len(made) - 1, 0))
            name, row, column = waiting.pop()
            ways = [w for w in self.at.get(name, ()) if w.id not in self.used]
            if not ways:
                continue
            if column + 1 >= _COLUMNS:
                last = made[row].cells[-1]
                made[row].cells[-1] = Cell(
                    last.column, last.name, last.element, last.way, last.again, True
                )
                later.append(name)
                continue
            way = ways[0]
            self.used.add(way.id)
            if len(ways) > 1:
                waiting.append((name, row, column))
            target = row
            if made[row].cells[-1].column != column or made[row].cells[-1].name != name:
                target = len(made)
                made.append(Row(hangs=row))
            end = way.to if way.from_ == name else way.from_
            known = end in self.nodes
            again = known and end in self.reached
            made[target].cells.append(Cell(column + 1, end, self.nodes.get(end), way, again))
            if known and not again:
                self.reached.add(end)
                waiting.append((end, target, column + 1))
        return made


def pages(listed: list[Row]) -> list[list[Row]]:
    """The rows in portions of one drawing each; what a portion hangs on is repeated in it."""
    found = []
    for start in range(0, len(listed), ROWS):
        portion = []
        for row in listed[start : start + ROWS]:
            hangs = row.hangs
            cells = row.cells
            if hangs is not None and hangs < start:
                column = cells[0].column - 1
                parent = next(c for c in listed[hangs].cells if c.column == column)
                cells = [Cell(column, parent.name, parent.element, again=True), *cells]
                hangs = None
            portion.append(Row(cells, None if hangs is None else hangs - start))
        found.append(portion)
    return found


def marked(page: list[Row], marks: Marks) -> bool:
    """Whether an element on this portion has a finding to be marked."""
    return any(
        marks.at((kind, name))
        for row in page
        for name in _names(row)
        for kind in ("box", "raceway", "cable", "coupling", "panel")
    )


def draw(page: list[Row], marks: Marks, name: str) -> Drawing:
    """One portion."""
    high = 16 + len(page) * _DOWN
    drawing = Drawing(504, high + 40, name)
    used: list[str] = []
    for place, row in enumerate(page):
        if row.hangs is not None:
            column = row.cells[0].column - 1
            x = _x(column) + _NODE / 2
            drawing.line((x, _y(row.hangs) + _TALL / 2), (x, _y(place)), width=0.8)
        for cell in row.cells:
            if cell.way is not None:
                used.append(_way(drawing, cell, place, row.hangs is not None, row, marks))
    for place, row in enumerate(page):
        for cell in row.cells:
            _node(drawing, cell, place, marks)
    y = high + 8
    y += legend(drawing, (4, y), used, across=496)
    if marked(page, marks):
        marks_legend(drawing, (4, y + 2))
        y += 14
    drawing.height = y
    return drawing


def _x(column: int) -> float:
    return 4 + column * _ACROSS


def _y(place: int) -> float:
    return 22 + place * _DOWN


def _way(drawing: Drawing, cell: Cell, place: int, hanging: bool, row: Row, marks: Marks) -> str:
    way = cell.way
    assert way is not None
    kind = "cable" if isinstance(way, Cable) else "raceway"
    branch = branch_of(way.wires)
    first = row.cells[0] is cell and hanging
    start = _x(cell.column - 1) + (_NODE / 2 if first else _NODE)
    y = _y(place)
    ends = [(start, y), (_x(cell.column), y)]
    with marks.group(drawing, (kind, way.id), f"{kind} {way.id}, {way.from_} to {way.to}"):
        found = marks.at((kind, way.id))
        if found:
            drawing.polyline(ends, stroke="#d4d4d4", width=8)
        STYLES[branch].draw(drawing, ends)
        left = _x(cell.column - 1) + _NODE + 3
        text = f"{shortened(way.id, 11)} {STYLES[branch].letters}"
        drawing.text((left, y - 4), text, size=6.4, bold=True)
        size = str(way.size) if isinstance(way.size, str) and kind == "raceway" else ""
        method = str(way.method) if isinstance(way.method, str) else ""
        wires = f"{len(way.wires)} cond" if way.wires else ""
        words = clipped(" ".join(part for part in (method, size, wires) if part), 15)
        drawing.text((left, y + 9), words, size=5.8)
    if found:
        most = _MARKS if len(found) <= _MARKS else _MARKS - 1
        wide = row_size(found, most)[0]
        corner = (max(left - 2, _x(cell.column) - wide - 2), y - 16)
        if text_width(text, 6.4) + wide > _ACROSS - _NODE - 4:
            corner = (corner[0], y + 10)
        with marks.label(drawing, (kind, way.id)):
            draw_row(drawing, corner, found, most)
    return branch


def _node(drawing: Drawing, cell: Cell, place: int, marks: Marks) -> None:
    x, y = _x(cell.column), _y(place)
    element = cell.element
    if element is None:
        drawing.polyline([(x, y - 3.5), (x + 6, y), (x, y + 3.5)], width=1.1)
        drawing.text((x + 9, y + 2.3), shortened(cell.name, 9), size=6.4)
        return
    kind = _kind(element)
    with marks.group(drawing, (kind, cell.name), f"{kind} {cell.name}"):
        _shape(drawing, cell, (x, y), kind)
    if cell.goes_on:
        drawing.text((x + _NODE + 2, y + 2.3), "▸ below", size=5.8)
    found = [] if cell.again else marks.at((kind, cell.name))
    if found:
        with marks.label(drawing, (kind, cell.name)):
            draw_row(drawing, (x, y + _TALL / 2 + 0.5), found, _MARKS)


def _shape(drawing: Drawing, cell: Cell, at: Point, kind: str) -> None:
    x, y = at
    if kind == "coupling":
        middle = x + _NODE / 2
        drawing.line((x, y), (x + _NODE, y), width=0.8)
        draw_coupling(drawing, (middle, y))
        drawing.text((middle, y + 11), shortened(cell.name, 10), size=5.8, anchor="middle")
        return
    dash = "3 2" if cell.again else ""
    stroke = FAINT if cell.again else "#1a1a1a"
    drawing.rect((x, y - _TALL / 2), (_NODE, _TALL), fill=PAPER, dash=dash, stroke=stroke)
    if kind == "panel":
        drawing.rect((x + 2, y - _TALL / 2 + 2), (_NODE - 4, _TALL - 4), width=0.6, stroke=stroke)
    elif isinstance(cell.element, Box) and cell.element.kind in JUNCTIONS:
        for down in (-_TALL / 2, _TALL / 2):
            drawing.line((x, y + down), (x + _NODE, y - down), width=0.4, stroke=FAINT)
    text = shortened(cell.name, 9)
    half = text_width(text, 6.4) / 2 + 1
    drawing.rect((x + _NODE / 2 - half, y - 4), (half * 2, 8), fill=PAPER, stroke="none")
    drawing.text((x + _NODE / 2, y + 2.3), text, size=6.4, anchor="middle", bold=True)


def _kind(element: Any) -> str:
    if isinstance(element, Coupling):
        return "coupling"
    return "box" if isinstance(element, Box) else "panel"
