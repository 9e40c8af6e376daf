"""The parts that ship in one piece, how they join, and the spaces that they serve."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from typing import TYPE_CHECKING, Annotated, Literal

from checker.documents.fields import blank, derived, element, given, refers, unstated
from checker.documents.missing import Missing

from .kinds import Air, Branch, Identifier, Length, Point, Weight
from .record import Record

if TYPE_CHECKING:
    from .boxes import Box
    from .devices import Device
    from .paths import Halves
    from .raceways import Raceway


@element
class Section(Record):
    """A part of the assembly that ships in one piece."""

    id: Identifier = given("the section's name")
    width: Length | Missing = unstated("from left to right", detail="section_sizes")
    height: Length | Missing = unstated("from bottom to top", detail="section_sizes")
    depth: Length | Missing = unstated("from front to back", detail="section_sizes")
    riser: bool | Missing = unstated(
        "whether its wiring passes through a floor, or runs up a shaft"
    )
    finish: Length | Missing = unstated(
        "thickness of the finish in front of the framing; 0 in where it has none", detail="finish"
    )
    combustible: bool | Missing = unstated("whether that finish can burn", detail="finish")
    fire_rating: Literal["none", "1 h", "2 h", "3 h", "4 h"] | Missing = unstated(
        "fire-resistance rating of the wall that it becomes", detail="fire_ratings"
    )
    boxes: tuple["Box", ...] = derived("the boxes in it")
    weight: Weight | Missing = unstated("computed weight as shipped")
    weight_marked: bool = given(
        "whether weight, center of gravity and lift points are marked on it", default=False
    )
    framing: Literal["wood", "metal", "none"] | Missing = unstated(
        "what it is framed of: wood or metal studs, or none where there is no finish to fasten",
        detail="framing",
    )
    air: Air | Missing = unstated(
        "whether the space in it is a plenum or a duct for environmental air, or none", detail="air"
    )
    cavity: Length | Missing = unstated("clear depth inside its framing; its depth unless stated")
    studs: tuple[Length, ...] | Missing = unstated(
        "places across, from its left edge, of the studs or struts that run up"
    )
    rails: tuple[Length, ...] | Missing = unstated(
        "heights, from its lower edge, of the framing members that run across"
    )
    open_faces: tuple[Literal["front", "back"], ...] | Missing = unstated(
        "the faces that have no finish yet when the sections are joined on site"
    )


@element
class Joint(Record):
    """Where two sections meet on site."""

    id: Identifier = given("the joint's name")
    between: tuple[Annotated[str, refers("section")], ...] = given("the two sections")


@element
class Coupling(Record):
    """Joins two raceways without giving access; never a pull point."""

    id: Identifier = given("the coupling's name")
    joint: Annotated[str, refers("joint")] | Missing = unstated(
        "the joint it crosses; that between the sections of its raceways where it states none"
    )
    at: Point | Missing = unstated("place in the section, from its lower left corner: across, up")
    section: Annotated[str, refers("section")] | Missing = unstated(
        "the section that the place is measured in"
    )
    concealed: bool = given(
        "whether the building must be opened to reach it after the sections are joined",
        default=True,
    )
    listed: bool = given(
        "whether it is listed and identified for a concealed connection of building components",
        default=False,
    )
    screws: Literal["front", "back", "top", "bottom"] | Missing = unstated(
        "the side to which its set screws or compression nuts are turned"
    )
    raceways: tuple["Raceway", ...] = derived("the two raceways that it joins")
    halves: "Halves | Missing" = derived("how the ends of their paths lie at it")


@element
class Elsewhere(Record):
    """Receptacles of a space that other work brings; a number alone leaves their source open."""

    SHORT = "count"

    count: int = given("how many in all, where their source is not stated", default=0)
    normal: int = given("how many of them are on normal circuits", default=0)
    critical: int = given("how many of them are on critical circuits", default=0)


@element
class Space(Record):
    """A room or patient bed location that boxes serve."""

    id: Identifier = given("the space's name")
    kind: Literal[
        "patient_bed", "operating_room", "exam", "treatment", "corridor", "nurse_station", "other",
        "bathroom", "kitchen", "laundry", "garage", "waiting_room", "public_office",
    ] = given("what the space is")  # fmt: skip
    category: int | Missing = unstated("1 to 4, as the facility's governing body assigned it")
    pediatric: bool | Missing = unstated(
        "whether it is a designated pediatric location, an infant nursery aside",
        detail="space_uses",
    )
    wet_procedure: bool | Missing = unstated(
        "whether it is a wet procedure location by the facility's risk assessment",
        detail="space_uses",
    )
    exempt: Literal["none", "office_area", "sleeping_room", "minor_treatment"] = given(
        "the use that takes it out of the wiring requirements for patient care", default="none"
    )
    receptacles_elsewhere: Elsewhere = given(
        "receptacles of it that are not part of this assembly: how many, or how many on "
        "normal and on critical circuits",
        default=blank(Elsewhere),
    )
    branches_elsewhere: tuple[Branch, ...] = given(
        "branches that reach it by wiring that is not part of this assembly, with those of "
        "receptacles_elsewhere",
        default=(),
    )
    sink: bool | Missing = unstated("whether a sink is in it", detail="sinks")
    boxes: tuple["Box", ...] = derived("the boxes that serve it")
    devices: tuple["Device", ...] = derived("the devices in those boxes")
    branches: tuple[Branch, ...] | Missing = derived(
        "the branches that reach it, by its devices or by other wiring"
    )
