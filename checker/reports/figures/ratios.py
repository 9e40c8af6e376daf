"""A bar chart: how close the closest elements are to their limits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from checker.findings.kinds import KINDS
from checker.quantities.show import show_number
from checker.quantities.tolerance import EPSILON

from .marks import Key, Marks
from .svg import FAINT, INK, PAPER, Drawing, clipped, shortened

WIDE = 504.0
_ROW = 14.0
_LEFT, _BAR = 186.0, 168.0  # where bars begin, and how long the axis is
_FAR = 1.6  # ratio at the end of the axis; longer bars are cut


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar. ``ratio`` over 1 is beyond the limit."""

    number: int
    kind: str
    key: Key
    rule: str
    ratio: float
    words: str


def draw(bars: Sequence[Bar], marks: Marks, name: str) -> Drawing:
    """The chart, one row a bar, in the order given."""
    top = 22.0
    bottom = top + _ROW * len(bars)
    drawing = Drawing(WIDE, bottom + 30, name)
    unit = _BAR / _FAR
    for share in (0.25, 0.5, 0.75, 1.25, 1.5):
        x = _LEFT + share * unit
        drawing.line((x, top - 2), (x, bottom), stroke=FAINT, width=0.4, dash="1.5 2")
        drawing.text((x, top - 6), show_number(share), size=6, anchor="middle")
    for row, bar in enumerate(bars):
        _bar(drawing, bar, top + row * _ROW, unit, marks)
    limit = _LEFT + unit
    drawing.line((_LEFT, top - 2), (_LEFT, bottom), width=0.8)
    drawing.line((limit, top - 4), (limit, bottom + 4), width=1.8)
    drawing.text((limit, top - 6), "limit", size=6.4, anchor="middle", bold=True)
    _key(drawing, bottom + 18)
    return drawing


def _bar(drawing: Drawing, bar: Bar, y: float, unit: float, marks: Marks) -> None:
    number = marks.elements.get(bar.key)
    link = f"e{number}" if number is not None else ""
    title = f"{bar.key[0]} {bar.key[1]}, {bar.rule}: {bar.words}"
    with drawing.group(link=link, title=title):
        text = f"{bar.number:>3} {shortened(bar.key[1], 18)}"
        drawing.text((2, y + 9), text, size=6.8, bold=bar.kind == "fail")
        drawing.text((_LEFT - 4, y + 9), clipped(bar.rule, 21), size=6.2, anchor="end")
        long = min(bar.ratio, _FAR) * unit
        fill = drawing.hatch("crossed") if bar.kind == "fail" else "#cfcfcf"
        if bar.kind not in ("fail", "pass"):
            fill = drawing.hatch("rising")
        drawing.rect((_LEFT, y + 2), (max(long, 0.5), _ROW - 4.5), fill=fill, width=0.8)
        if bar.ratio > _FAR:
            x = _LEFT + long
            drawing.polygon(
                [(x - 7, y), (x - 3, y), (x - 6, y + _ROW), (x - 10, y + _ROW)], fill=PAPER
            )
        ratio = f"{bar.ratio:.2f}"
        drawing.text((_LEFT + _BAR + 4, y + 9), ratio, size=6.8, bold=bar.ratio > 1 + EPSILON)
        drawing.text((_LEFT + _BAR + 32, y + 9), clipped(bar.words, 30), size=6.2)


def _key(drawing: Drawing, y: float) -> None:
    x = 2.0
    for fill, words in (
        (drawing.hatch("crossed"), KINDS["fail"].one),
        (drawing.hatch("rising"), "needs review, open, or for information"),
        ("#cfcfcf", KINDS["pass"].one),
    ):
        drawing.rect((x, y - 7), (18, 8.5), fill=fill, width=0.8)
        drawing.text((x + 22, y), words, size=6.8)
        x += 34 + len(words) * 4.2
    drawing.text((x, y), "beyond 1 is beyond the limit", size=6.8, fill=INK)
