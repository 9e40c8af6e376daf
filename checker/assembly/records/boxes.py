"""Enclosures in which conductors can be reached, and what is in and on them."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from typing import TYPE_CHECKING, Annotated, Literal

from checker.documents.fields import SIGNED, derived, element, given, refers, unstated
from checker.documents.missing import Missing
from checker.quantities.dimension import LENGTH

from .kinds import (
    Area,
    BoxKind,
    BoxSize,
    Branch,
    Identifier,
    Insulation,
    Length,
    Location,
    Point,
    Positive,
    TradeSize,
    Voltage,
    Volume,
    Wall,
    Weight,
    WireSize,
)
from .paths import Knockouts
from .record import Record

if TYPE_CHECKING:
    from .devices import Device
    from .paths import DeviceRow, PathEnd, Stack
    from .raceways import Raceway
    from .sections import Section, Space
    from .wiring import Pull, Wire


@element
class Ring(Record):
    """A plaster ring, extension or domed cover with a marked volume."""

    volume: Volume | Missing = unstated("marked volume")
    rise: Length | Missing = unstated("how far it stands out from the box")
    gangs: int | Missing = unstated("how many gangs wide its opening is")


@element
class Spacing(Record):
    """The distance between two raceway entries of a pull or junction box."""

    between: tuple[Annotated[str, refers("raceway|cable")], ...] = given("the two raceways")
    distance: Length = given(
        "from the nearest edge of one entry to that of the other", detail="entry_spacings"
    )


@element
class Entry(Record):
    """Where a raceway enters a box, as the box sees it (derived)."""

    raceway: "Raceway" = derived("the raceway")
    size: TradeSize = derived("its trade size")
    wall: Wall | Missing = derived("the wall it enters, where the raceway states it")
    row: int = derived("the row on that wall")
    facing: Length | Missing = derived("depth of the box from that wall to the opposite one")
    straight: tuple[TradeSize, ...] | Missing = derived(
        "trade sizes of raceways on the opposite wall that the same pull goes on to"
    )
    angled: bool | Missing = derived(
        "whether a pull through it turns to another wall, to its own wall, or is spliced"
    )
    neighbours: tuple[TradeSize, ...] | Missing = derived(
        "trade sizes of the other raceways of the same row and wall"
    )


@element
class SharedEntry(Record):
    """Two entries of one box that enclose the same conductors (derived)."""

    first: "Raceway" = derived("one raceway")
    second: "Raceway" = derived("the other raceway")
    larger: TradeSize = derived("trade size of the larger of the two")
    distance: Length | Missing = derived(
        "the stated distance between the entries, or that of the paths"
    )
    drawn: Length | Missing = derived(
        "the distance between them by the paths that end there; where these have no depth, in "
        "elevation, which is no more"
    )
    stated: Length | Missing = derived("the distance that the box states")
    wires: tuple["Wire", ...] = derived("the wires of the pulls that go through both")


@element
class Box(Record):
    """Any enclosure in which a conductor can be reached."""

    id: Identifier = given("the box's name")
    section: Annotated[str, refers("section")] | Missing = unstated(
        "the section it is in", detail="box_sections"
    )
    space: Annotated[str, refers("space")] | Missing = unstated(
        "the space it serves", detail="spaces"
    )
    kind: BoxKind = given("what the enclosure is")
    trade_size: BoxSize | Missing = unstated(
        "a row of the standard-box table, such as 4 x 2-1/8 square"
    )
    volume: Volume | Missing = unstated("marked volume; wins over the table")
    rings: tuple["Ring", ...] = given(
        "plaster rings, extensions and domed covers with a marked volume", default=()
    )
    gangs: Positive = given("how many gangs, where the table's volume is per gang", default=1)
    internal_clamps: int | Missing = unstated(
        "how many cable clamps inside, asked for where cables enter; any number counts once"
    )
    support_fittings: int | Missing = unstated(
        "how many kinds of studs or hickeys inside, asked for where it carries a luminaire"
    )
    terminal_blocks: int = given("how many terminal block assemblies inside", default=0)
    devices: tuple["Device", ...] = given("what is mounted on it", default=())
    width: Length | Missing = unstated("inside, left to right")
    height: Length | Missing = unstated("inside, bottom to top")
    depth: Length | Missing = unstated("inside, front to back")
    opening: Length | Missing = unstated("smallest dimension of the opening")
    free_conductor: Length | Missing = unstated(
        "shortest free conductor left, from where it leaves raceway or sheath",
        detail="free_conductor",
    )
    free_outside: Length | Missing = unstated(
        "how far the free conductor reaches outside the opening", detail="free_outside"
    )
    spacings: tuple["Spacing", ...] = given(
        "distances between entries that enclose the same conductors", default=()
    )
    branch: Branch | Missing = unstated("the branch of a panelboard or cabinet")
    panel: Annotated[str, refers("panel")] | Missing = unstated(
        "the panel that a panelboard or cabinet houses"
    )
    material: Literal["metal", "nonmetallic"] | Missing = unstated(
        "metal or nonmetallic, as the defaults say unless stated"
    )
    concealed: bool | Missing = unstated(
        "whether the building must be opened to reach it", detail="access"
    )
    barrier: bool = given(
        "whether a barrier keeps power and signal wiring apart in it", default=False
    )
    barrier_listed: bool = given(
        "whether the enclosure is listed with a barrier that separates branches, as lighting "
        "controllers may be",
        default=False,
    )
    compartments: tuple["Compartment", ...] | Missing = unstated(
        "what is on each side of its barriers"
    )
    barrier_volume: Volume | Missing = unstated("marked volume of each barrier")
    barrier_material: Literal["metal", "nonmetallic"] | Missing = unstated(
        "material of the barriers"
    )
    cross_section: Area | Missing = unstated("internal cross-sectional area of a conduit body")
    short_radius: bool = given(
        "whether it is a short-radius conduit body, such as a capped elbow", default=False
    )
    listing: tuple[
        Literal[
            "smaller_dimensions",
            "opening_protection",
            "distribution_block",
            "luminaire",
            "air_space",
        ],
        ...,
    ] = given("special purposes that the box is listed for", default=())
    marked_for: tuple["MarkedFor", ...] | Missing = unstated(
        "conductors that it is marked for; an empty list where it has no such marking"
    )
    marked_weight: Weight | Missing = unstated("marked weight of the luminaire that it may support")
    setback: Annotated[float, LENGTH, SIGNED] | Missing = unstated(
        "from the finished surface back to its front edge or that of its ring; negative in front",
        detail="finish",
    )
    mounting: Literal["flush", "surface"] | Missing = unstated(
        "set in a finished surface, or on a surface"
    )
    location: Location | Missing = unstated("where it is, as the basis says unless stated")
    cover: Literal["in_use", "closed", "ordinary"] | Missing = unstated(
        "what closes a receptacle's enclosure in a damp or wet location"
    )
    gutter: Area | Missing = unstated(
        "cross-sectional area of the wiring space of a cabinet, wireway or gutter"
    )
    splice_area: Area | Missing = unstated(
        "cross-sectional area of the largest group of splices in that space"
    )
    bending_space: Length | Missing = unstated(
        "shortest way from a terminal of a cabinet to what its conductors are bent before"
    )
    leaves_opposite: bool | Missing = unstated(
        "whether conductors leave by the wall opposite their terminals"
    )
    distribution_blocks: int = given("how many power distribution blocks are inside", default=0)
    marking: str | Missing = unstated("what is permanently marked on it, such as EMERGENCY")
    reserved: bool = given(
        "whether it is left empty on purpose, as a spare or for others to wire", default=False
    )
    grounded: bool | Missing = unstated(
        "whether the grounding conductor is connected to a metal box", detail="grounding"
    )
    grounds_joined: bool | Missing = unstated(
        "whether the grounding conductors that end in it are joined, so that taking a device "
        "out leaves them whole; as the defaults say unless stated",
        detail="grounding",
    )
    at: Point | Missing = unstated(
        "place of its center in the section, from its lower left corner: across, up; a third "
        "number is the depth of its front edge from the front face of the framing, where it "
        "is not set with that edge at the face of its side"
    )
    side: Literal["front", "back"] = given("the face of the section it is on", default="front")
    row: Annotated[str, refers("row")] | Missing = unstated("the row of devices that it belongs to")
    knockouts: tuple["Knockouts", ...] | Missing = unstated("its knockouts, by wall and trade size")
    elevation: Length | Missing = derived("height of its place above the lower edge of its section")
    wires: tuple["Wire", ...] = derived("every wire that ends in the box or passes it, once each")
    ending: tuple["Wire", ...] = derived("the wires that end in it")
    passing: tuple["Wire", ...] = derived("the wires that pass it unbroken")
    looped: tuple["Wire", ...] = derived(
        "the wires that pass it in a loop of at least twice the free length"
    )
    pulls: tuple["Pull", ...] = derived("the pulls that end in it or pass it")
    raceways: tuple["Raceway", ...] = derived("the raceways and cables that enter it")
    entries: tuple["Entry", ...] | Missing = derived("its raceway entries")
    shared_entries: tuple["SharedEntry", ...] | Missing = derived(
        "pairs of entries that enclose the same conductors"
    )
    serves: "Space | Missing" = derived("the space's record")
    own_branch: tuple[Branch, ...] | Missing = derived(
        "the branch of a panelboard, or of a cabinet that states one; else none"
    )
    luminaire: bool = derived("whether it is a luminaire or the box attached to one")
    transfer_equipment: bool = derived("whether it is transfer equipment")
    two_sources: bool = derived(
        "whether it holds, or is attached to, a luminaire that two sources supply"
    )
    frame: "Section | Missing" = derived("the section's record")
    unplaced: tuple[str, ...] | Missing = derived(
        "pulls and devices that no compartment names, where there are compartments"
    )
    neighbors: tuple["Neighbors", ...] = derived(
        "pairs of its devices that no barrier separates, with the voltage between them"
    )
    opposite: tuple["Opposite", ...] | Missing = derived(
        "boxes on the other face of its section, with the distance across"
    )
    beyond: Length | Missing = derived(
        "how far it reaches beyond its section, across, up or in depth; 0 in within it"
    )
    device_row: "DeviceRow | Missing" = derived("the record of its row")
    path_ends: tuple["PathEnd", ...] = derived("ends of paths at it")
    full_depth: Length | Missing = derived("its depth, by its size or its designation")
    stacks: tuple["Stack", ...] = derived(
        "raceways and boxes that lie behind it at one place, for the depth of its section"
    )


@element
class Compartment(Record):
    """One side of a box that barriers divide."""

    id: Identifier = given("the compartment's name")
    volume: Volume | Missing = unstated("its share of the volume of the box")
    wiring: tuple[Annotated[str, refers("pull")], ...] = given(
        "the pulls whose conductors are in it", default=()
    )
    mounts: tuple[Annotated[str, refers("device", narrower=True)], ...] = given(
        "the devices mounted in it", default=()
    )
    box: "Box" = derived("the box")
    kind: BoxKind = derived("what the box is")
    trade_size: BoxSize | Missing = derived("never; its volume is stated")
    material: Literal["metal", "nonmetallic"] | Missing = derived("that of the box")
    width: Length | Missing = derived("never; boxes only have one")
    height: Length | Missing = derived("never; boxes only have one")
    depth: Length | Missing = derived("never; boxes only have one")
    rings: tuple["Ring", ...] = derived(
        "none; those of the box are in the volumes of its compartments"
    )
    gangs: Positive = derived("one")
    internal_clamps: int | Missing = derived("those of the box")
    support_fittings: int | Missing = derived("those of the box")
    terminal_blocks: int = derived("those of the box")
    barrier: bool = derived("no; the box has it")
    compartments: tuple["Compartment", ...] = derived("none")
    unplaced: tuple[str, ...] = derived("none")
    devices: tuple["Device", ...] = derived("the devices' records")
    ending: tuple["Wire", ...] = derived("the wires in it that end in the box")
    passing: tuple["Wire", ...] = derived("the wires in it that pass the box unbroken")
    looped: tuple["Wire", ...] = derived("the wires in it that pass the box in a loop")
    wires: tuple["Wire", ...] = derived("all of them")
    pulls: tuple["Pull", ...] = derived("the pulls' records")


@element
class MarkedFor(Record):
    """Conductors that a box or conduit body smaller than its raceways ask for is marked for."""

    size: WireSize = given("largest size")
    count: Positive = given("how many of that size")
    insulation: Insulation = given("insulation type that the marking is based on", default="XHHW")


@element
class Neighbors(Record):
    """Two devices of one box that no barrier separates (derived)."""

    first: "Device" = derived("one device")
    second: "Device" = derived("the other device")
    one_panel: bool | Missing = derived("whether one panel supplies both")
    voltage: Voltage | Missing = derived(
        "the largest voltage between their ungrounded conductors; the sum of the voltages to "
        "neutral where two panels supply them"
    )


@element
class Opposite(Record):
    """A box on the other face of the same section (derived)."""

    box: "Box" = derived("that box")
    distance: Length | Missing = derived("across, from the place of one to that of the other")
