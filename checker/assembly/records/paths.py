"""What paths come to: courses, where they end, what comes near what; and the shop's benders."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from typing import TYPE_CHECKING, Any, Literal

from checker.documents.fields import derived, element, given, unstated
from checker.documents.missing import Missing

from .kinds import Angle, Identifier, Length, Point, Positive, TradeSize, Wall
from .record import Record

if TYPE_CHECKING:
    from .boxes import Box
    from .raceways import Bend, Raceway


@element
class Bender(Record):
    """A bender of the shop, under the name that raceways give it."""

    size: TradeSize | Missing = unstated("the trade size that it bends")
    radius: Length | Missing = unstated(
        "radius of its bends, to the center line", detail="bend_radius"
    )
    shoe: Literal["one_shot", "other"] | Missing = unstated(
        "whether it is a one-shot or full-shoe bender, or another"
    )
    take_up: Length | Missing = unstated("what it takes up of a stub; the deduct marked on it")
    straight: Length | Missing = unstated("least straight conduit that it needs between two bends")


@element
class Course(Record):
    """What the path of a raceway comes to (derived)."""

    line: Any = None
    """Its center line with arcs, a ``geometry.polyline.Bent``; for facts and drawings."""
    deep: bool = derived("whether every point of it has a depth")
    length: Length | Missing = derived("developed length along the center line")
    bends: tuple["Bend", ...] | Missing = derived("its bends, as the shop makes them")
    angle: Angle = derived("the sum of its corners")
    turns: int = derived("how many single bends it has")
    stated_length: Length | Missing = derived("the length that the raceway states")
    stated_angle: Angle | Missing = derived("the sum of the bends that the raceway states")
    stated_turns: int | Missing = derived("how many single bends these come to")
    shortest: Length | Missing = derived(
        "shortest straight between two bends; negative where they overlap"
    )
    at_ends: Length | Missing = derived(
        "shortest straight between an end and the bend next to it; negative where they overlap"
    )
    stub: Length | Missing = derived(
        "shortest leg from an end to the corner of a quarter bend next to it"
    )
    ends: tuple["PathEnd", ...] = derived("where it ends at boxes")
    beyond: Length | Missing = derived(
        "how far it reaches beyond its section, across or up; 0 in within it"
    )
    nearest: Length | Missing = derived("least depth of its center line")
    farthest: Length | Missing = derived("greatest depth of its center line")
    straps: tuple["Strap", ...] | Missing = derived("where its supports come to lie")


@element
class PathEnd(Record):
    """Where the path of a raceway ends at a box (derived)."""

    raceway: "Raceway" = derived("the raceway")
    box: "Box" = derived("the box")
    wall: Wall | Missing = derived("the wall that the end touches")
    stated_wall: Wall | Missing = derived("the wall that the raceway states")
    off: Length | Missing = derived("how far the end is from the walls of the box")
    inset: Length | Missing = derived(
        "from the end to the nearest edge of that wall; negative beyond it"
    )
    section: bool | Missing = derived("whether the path and the box are in one section")
    spot: Point = derived("the end: across, up, and depth where the path has it")


@element
class Strap(Record):
    """Where one support of a raceway comes to lie on its path (derived)."""

    along: Length = derived("its distance from the start")
    on_arc: bool = derived("whether that is within a bend")
    past: bool = derived("whether that is past the end")
    off: Length | Missing = derived(
        "how far it is from the nearest stud, strut or rail that the section states"
    )


@element
class Pair(Record):
    """Two raceways, a raceway and a box, or two boxes that come near each other (derived)."""

    id: Identifier = derived("their names joined by &")
    kind: Literal["raceways", "raceway_box", "boxes"] = derived("raceways, raceway_box or boxes")
    place: str = derived("where they are nearest, in words")
    raceways: tuple["Raceway", ...] = derived("the raceways among them")
    boxes: tuple["Box", ...] = derived("the boxes among them")
    distance: Length | Missing = derived(
        "from center line to center line, from center line to box, or from box to box, by "
        "their depths; negative where boxes overlap"
    )
    in_elevation: Length | Missing = derived(
        "the same without depth: they are no nearer, whatever their depths"
    )


@element
class Halves(Record):
    """How the paths of two raceways meet at a coupling (derived)."""

    apart: Length | Missing = derived(
        "how far their ends are from each other, measured along the edges of their sections "
        "where the coupling is at a joint: in height and, where both state it, in depth"
    )
    off: Length | Missing = derived(
        "how far the end that is further away lies from the place of the coupling"
    )
    from_edge: Length | Missing = derived(
        "how far the end that is further away lies from the nearest edge of its section, "
        "where the coupling is at a joint"
    )


@element
class Stack(Record):
    """What lies behind a box at one place in elevation, with no depth stated (derived)."""

    raceways: tuple["Raceway", ...] = derived("raceways there that do not end in it")
    boxes: tuple["Box", ...] = derived("boxes of the other face there")


@element
class Knockouts(Record):
    """Knockouts of one trade size in one wall of a box."""

    wall: Wall = given("the wall")
    size: TradeSize = given("trade size")
    count: Positive = given("how many", default=1)


@element
class DeviceRow(Record):
    """A row of devices at one height, as the project asks for it."""

    id: Identifier = given("the row's name")
    height: Length = given("height of the centers of its boxes above the lower edge of the section")
    tolerance: Length | Missing = unstated("how far they may be off")
