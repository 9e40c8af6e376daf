"""Writes SVG as plain text: fixed decimals, a fixed order, every text escaped.

The same drawing stands inside the HTML page and becomes vector graphics in the PDF, so it uses only
what both draw alike: attributes instead of style sheets, no markers, no text on paths.
Lengths are in points.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TypedDict, Unpack

from checker.documents.errors import printable

_FAMILY = "'DejaVu Sans Mono','Liberation Mono',Consolas,monospace"
_ADVANCE = 0.602  # width of every sign of the font, as a share of its size

INK = "#1a1a1a"
PAPER = "#ffffff"
FAINT = "#8a8a8a"

Point = tuple[float, float]


def number(value: float) -> str:
    """A coordinate with at most two decimals."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def escape(text: str) -> str:
    """Text for XML, with control signs made visible."""
    shown = printable(text)
    for sign, entity in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;")):
        if sign in shown:
            shown = shown.replace(sign, entity)
    return shown


def clipped(text: str, most: int) -> str:
    """A label of at most ``most`` signs."""
    return text if len(text) <= most else text[: most - 1] + "…"


def shortened(name: str, most: int) -> str:
    """A name of at most ``most`` signs, without its middle: names often differ at their ends."""
    if len(name) <= most:
        return name
    tail = (most - 1) // 2
    return name[: most - 1 - tail] + "…" + name[len(name) - tail :]


def text_width(text: str, size: float) -> float:
    """How wide a label is; signs of the far East are twice as wide."""
    wide = 0 if text.isascii() else sum(ord(c) >= 0x1100 for c in text)
    return (len(text) + wide) * size * _ADVANCE


class Stroke(TypedDict, total=False):
    """How a line is drawn: its color, width, dashes and ends."""

    stroke: str
    width: float
    dash: str
    cap: str


@dataclass(slots=True)
class Drawing:
    """A drawing in the making. ``hatched`` collects the patterns that it needs."""

    width: float
    height: float
    name: str
    parts: list[str] = field(default_factory=list)
    hatched: dict[str, None] = field(default_factory=dict)

    # -- shapes ----------------------------------------------------------------------------

    def line(self, start: Point, end: Point, **stroke: Unpack[Stroke]) -> None:
        """A straight line."""
        self.parts.append(
            f'<line x1="{number(start[0])}" y1="{number(start[1])}" x2="{number(end[0])}" '
            f'y2="{number(end[1])}"{_stroke(INK, **stroke)}/>'
        )

    def polyline(self, points: Iterable[Point], **stroke: Unpack[Stroke]) -> None:
        """A line through several points, with round corners."""
        self.parts.append(
            f'<polyline points="{_listed(points)}" fill="none" stroke-linejoin="round"'
            f"{_stroke(INK, **stroke)}/>"
        )

    def polygon(
        self, points: Iterable[Point], *, fill: str = INK, **stroke: Unpack[Stroke]
    ) -> None:
        """A filled shape."""
        self.parts.append(
            f'<polygon points="{_listed(points)}" fill="{fill}"{_stroke("none", **stroke)}/>'
        )

    def rect(
        self,
        corner: Point,
        size: Point,
        *,
        fill: str = "none",
        round_: float = 0.0,
        **stroke: Unpack[Stroke],
    ) -> None:
        """A rectangle from its upper left corner."""
        rounded = f' rx="{number(round_)}"' if round_ else ""
        self.parts.append(
            f'<rect x="{number(corner[0])}" y="{number(corner[1])}" width="{number(size[0])}" '
            f'height="{number(size[1])}"{rounded} fill="{fill}"{_stroke(INK, **stroke)}/>'
        )

    def circle(
        self, center: Point, radius: float, *, fill: str = "none", **stroke: Unpack[Stroke]
    ) -> None:
        """A circle."""
        self.parts.append(
            f'<circle cx="{number(center[0])}" cy="{number(center[1])}" r="{number(radius)}" '
            f'fill="{fill}"{_stroke(INK, **stroke)}/>'
        )

    def text(
        self,
        place: Point,
        text: str,
        *,
        size: float = 7.0,
        anchor: str = "start",
        bold: bool = False,
        fill: str = INK,
        turned: bool = False,
    ) -> None:
        """A text on its baseline; ``turned`` reads from below."""
        x, y = number(place[0]), number(place[1])
        more = "" if anchor == "start" else f' text-anchor="{anchor}"'
        more += ' font-weight="bold"' if bold else ""
        more += f' transform="rotate(-90 {x} {y})"' if turned else ""
        self.parts.append(
            f'<text x="{x}" y="{y}" font-size="{number(size)}" fill="{fill}"{more}>'
            f"{escape(text)}</text>"
        )

    def hatch(self, name: str) -> str:
        """The fill of a pattern: ``rising``, ``falling``, ``crossed`` or ``dots``."""
        self.hatched[name] = None
        return f"url(#{self.name}-{name})"

    # -- groups ----------------------------------------------------------------------------

    @contextmanager
    def group(
        self, *, anchor: str = "", link: str = "", title: str = "", passed_over: bool = False
    ) -> Iterator[None]:
        """A group: ``anchor`` names it, ``link`` makes it lead to an element.

        ``passed_over`` keeps the keyboard from stopping at it: another link leads there too.
        """
        name = f' id="{anchor}"' if anchor else ""
        name += ' tabindex="-1"' if passed_over else ""
        self.parts.append(f'<a href="#{link}"{name}>' if link else f"<g{name}>")
        if title:
            self.parts.append(f"<title>{escape(title)}</title>")
        yield
        self.parts.append("</a>" if link else "</g>")

    # -- the whole -------------------------------------------------------------------------

    def render(self, label: str) -> str:
        """The SVG element; ``label`` says in words what the drawing shows."""
        patterns = "".join(
            _PATTERNS[pattern].format(id=f"{self.name}-{pattern}") for pattern in self.hatched
        )
        defs = f"<defs>{patterns}</defs>" if patterns else ""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(self.width)}" '
            f'height="{number(self.height)}" viewBox="0 0 {number(self.width)} '
            f'{number(self.height)}" role="group" aria-label="{escape(label)}" '
            f'font-family="{_FAMILY}">{defs}' + "".join(self.parts) + "</svg>"
        )


def _listed(points: Iterable[Point]) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in points)


def _stroke(
    usual: str, *, stroke: str = "", width: float = 1.0, dash: str = "", cap: str = ""
) -> str:
    stroke = stroke or usual
    if stroke == "none":
        return ""
    text = f' stroke="{stroke}"'
    if width != 1.0:
        text += f' stroke-width="{number(width)}"'
    if dash:
        text += f' stroke-dasharray="{dash}"'
    return text + (f' stroke-linecap="{cap}"' if cap else "")


def _pattern(inside: str, size: int = 4, turn: int = 0) -> str:
    turned = f' patternTransform="rotate({turn})"' if turn else ""
    return (
        f'<pattern id="{{id}}" width="{size}" height="{size}" patternUnits="userSpaceOnUse"'
        f'{turned}><rect width="{size}" height="{size}" fill="{PAPER}"/>{inside}</pattern>'
    )


_STRIPE = f'<line x1="1" y1="0" x2="1" y2="4" stroke="{INK}" stroke-width="{{w}}"/>'
_PATTERNS = {
    "rising": _pattern(_STRIPE.replace("{w}", "0.9"), turn=45),
    "falling": _pattern(_STRIPE.replace("{w}", "0.9"), turn=135),
    "crossed": _pattern(
        _STRIPE.replace("{w}", "0.8")
        + f'<line x1="0" y1="1" x2="4" y2="1" stroke="{INK}" stroke-width="0.8"/>',
        turn=45,
    ),
    "dots": _pattern(f'<circle cx="2" cy="2" r="0.7" fill="{INK}"/>'),
}


def bounds(points: Sequence[Point]) -> tuple[float, float, float, float]:
    """The least and greatest coordinates: left, top, right, bottom."""
    across, down = [x for x, _ in points], [y for _, y in points]
    return min(across), min(down), max(across), max(down)
