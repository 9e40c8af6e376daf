"""How drawings distinguish branches: by line style and by letters, color only helps."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from checker.assembly.records import Wire
from checker.documents.missing import known

from .svg import FAINT, INK, PAPER, Drawing, Point


@dataclass(frozen=True, slots=True)
class LineStyle:
    """How the wiring of one branch is drawn. ``letters`` stand beside every line."""

    letters: str
    words: str
    stroke: str
    width: float
    dash: str = ""
    cap: str = ""
    hollow: bool = False

    def draw(self, drawing: Drawing, points: list[Point]) -> None:
        """Draw a line in this style."""
        drawing.polyline(points, stroke=self.stroke, width=self.width, dash=self.dash, cap=self.cap)
        if self.hollow:
            drawing.polyline(points, stroke=PAPER, width=self.width - 1.6)


# The colors differ in lightness as well, and each is dark enough on white for thin lines.
STYLES: dict[str, LineStyle] = {
    "normal": LineStyle("N", "normal", INK, 1.8),
    "life_safety": LineStyle("LS", "life safety", "#8a5200", 2.2, "10 2.5 2 2.5"),
    "critical": LineStyle("CR", "critical", "#a3123a", 2.2, "7 3"),
    "equipment": LineStyle("EQ", "equipment", "#1f5d3a", 2.0, "2.4 2.4"),
    "emergency": LineStyle("EM", "emergency", "#7a1fa0", 2.2, "14 4"),
    "legally_required": LineStyle("LR", "legally required", "#14507d", 2.2, "9 2.5 2 2.5 2 2.5"),
    "optional_standby": LineStyle("OS", "optional standby", "#4d4d4d", 2.0, "4.5 4.5"),
    "signal": LineStyle("SG", "signal", "#14507d", 1.9, "0.1 3.4", "round"),
    "mixed": LineStyle("MX", "several branches together", INK, 3.6, hollow=True),
    "unknown": LineStyle("?", "branch not stated", FAINT, 1.6, "1.5 5"),
    "empty": LineStyle("0", "no conductors described", FAINT, 0.9),
}


def branch_of(wires: tuple[Wire, ...]) -> str:
    """The style for these wires: a branch, or what they are instead."""
    if not wires:
        return "empty"
    power = [wire for wire in wires if wire.role != "signal"]
    if not power:
        return "signal"
    found: dict[str, None] = {}
    for wire in power:
        branches: Any = wire.branches
        if not known(branches):
            return "unknown"
        found.update(dict.fromkeys(branches))
    if len(power) < len(wires):
        found["signal"] = None
    if not found:
        return "unknown"
    return next(iter(found)) if len(found) == 1 else "mixed"


def legend(drawing: Drawing, place: Point, names: list[str], *, across: float) -> float:
    """Draw the legend of the styles used, in rows; the height that it took."""
    x, y = place
    start = x
    for name in (n for n in STYLES if n in names):
        style = STYLES[name]
        text = f"{style.letters} {style.words}"
        needed = 44 + len(text) * 4.3
        if x + needed > start + across and x > start:
            x, y = start, y + 12
        style.draw(drawing, [(x, y - 2.3), (x + 32, y - 2.3)])
        drawing.text((x + 37, y), text, size=6.8)
        x += needed + 8
    return y - place[1] + 12
