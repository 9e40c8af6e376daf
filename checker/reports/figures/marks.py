"""Ties drawings to findings: which numbers stand at an element, and where links lead."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, field

from checker.findings.kinds import ACTION, KINDS

from .svg import INK, PAPER, Drawing, Point, text_width

#: Class and id of an element.
Key = tuple[str, str]

_SIZE = 7.0
_MOST = 5  # numbers at one element; what is more is counted


@dataclass(slots=True)
class Marks:
    """What drawings need to know of findings, and what they say back.

    elements: the number of each element in the report's list of elements
    findings: number and kind of the findings to be marked at a drawn element
    drawn: filled by the drawings: the elements that are in one of them
    """

    elements: dict[Key, int]
    findings: dict[Key, list[tuple[int, str]]]
    drawn: set[Key] = field(default_factory=set)

    def group(self, drawing: Drawing, key: Key, title: str) -> AbstractContextManager[None]:
        """The group of an element, a link where it has findings.

        The first drawing of an element is where links to it lead.
        """
        number = self.elements.get(key)
        if number is None:
            return drawing.group(title=title)
        anchor = "" if key in self.drawn else f"d{number}"
        self.drawn.add(key)
        return drawing.group(anchor=anchor, link=f"e{number}", title=title)

    def label(self, drawing: Drawing, key: Key) -> AbstractContextManager[None]:
        """The group of the name or the marks of an element that is drawn already."""
        number = self.elements.get(key)
        if number is None:
            return drawing.group()
        return drawing.group(link=f"e{number}", passed_over=True)

    def at(self, key: Key) -> list[tuple[int, str]]:
        """The findings to be marked at an element."""
        return self.findings.get(key, [])


def draw_coupling(drawing: Drawing, at: Point) -> None:
    """A coupling: two triangles that meet."""
    x, y = at
    drawing.polygon([(x - 3, y - 3.4), (x + 3, y + 3.4), (x + 3, y - 3.4), (x - 3, y + 3.4)])


def row_size(found: Sequence[tuple[int, str]], most: int = _MOST) -> Point:
    """The size of a row of marks; what is more than ``most`` is counted."""
    return sum(_width(text) + 1.5 for text, _ in _texts(found, most)) - 1.5, 12.5


def draw_row(
    drawing: Drawing, corner: Point, found: Sequence[tuple[int, str]], most: int = _MOST
) -> None:
    """Draw finding numbers: black disc for fail, dashed ring for open, square for review."""
    x, y = corner
    for text, kind in _texts(found, most):
        wide = _width(text)
        draw_mark(drawing, (x, y), wide, text, kind)
        x += wide + 1.5


def draw_mark(drawing: Drawing, corner: Point, wide: float, text: str, kind: str) -> None:
    """One finding number."""
    x, y = corner
    dark = kind == "fail"
    drawing.rect(
        (x, y + 0.25),
        (wide, 12),
        fill=INK if dark else PAPER,
        width=1.1,
        dash="2 1.4" if kind == "open" else "",
        round_=0 if kind == "review" else 6,
    )
    drawing.text(
        (x + wide / 2, y + 8.8),
        text,
        size=_SIZE,
        anchor="middle",
        bold=True,
        fill=PAPER if dark else INK,
    )


def _width(text: str) -> float:
    return max(12.0, text_width(text, _SIZE) + 6)


def _texts(found: Sequence[tuple[int, str]], most: int) -> list[tuple[str, str]]:
    shown = [(str(number), kind) for number, kind in found[:most]]
    if len(found) > most:
        shown.append((f"+{len(found) - most}", "more"))
    return shown


def marks_legend(drawing: Drawing, place: Point) -> None:
    """What the shapes of the marks mean."""
    x, y = place
    for kind in ACTION:
        words = KINDS[kind].one
        draw_mark(drawing, (x, y - 9), 14, "n", kind)
        drawing.text((x + 18, y), words, size=6.8)
        x += 26 + text_width(words, 6.8)
    drawing.text((x, y), "n = number of the finding", size=6.8)
