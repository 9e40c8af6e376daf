"""The elements of a prefabricated assembly as typed records.

Each class docstring describes the element on its first line and then each field, one a line, as
``name: text``; the published schema, the editor help and the language reference quote those lines.
Lengths are in inches, areas in², volumes in³, currents in A, power in VA, temperatures in °C,
angles in degrees.  Records are made by the reader and by ``derive`` only, so they need no
constructor of their own, which also keeps a check quick to start.  Fields declared ``derived()``
follow from the others; ``derive`` fills them in.
"""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from typing import TYPE_CHECKING, Annotated, Any, Literal

from checker.documents.fields import (
    BOX_SIZE,
    DATE,
    IDENTIFIER,
    INSULATION,
    POSITIVE,
    SIGNED,
    SYSTEM,
    TRADE_SIZE,
    WIRE_SIZE,
    WORDS,
    Frozen,
    blank,
    derived,
    element,
    given,
    given_fields,
    refers,
    unstated,
)
from checker.documents.missing import Missing
from checker.quantities.dimension import (
    ANGLE,
    CURRENT,
    LENGTH,
    NONE,
    POWER,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
)

Length = Annotated[float, LENGTH]
Volume = Annotated[float, VOLUME]
Current = Annotated[float, CURRENT]
Power = Annotated[float, POWER]
Voltage = Annotated[float, VOLTAGE]
Share = Annotated[float, NONE]
Temperature = Annotated[float, TEMPERATURE]
Angle = Annotated[float, ANGLE]
WireSize = Annotated[str, WIRE_SIZE]
TradeSize = Annotated[str, TRADE_SIZE]
BoxSize = Annotated[str, BOX_SIZE]
Identifier = Annotated[str, IDENTIFIER]
Positive = Annotated[int, POSITIVE]
Date = Annotated[str, DATE]
Insulation = Annotated[str, INSULATION]
System = Annotated[str, SYSTEM]
Words = Annotated[str, WORDS]

Branch = Literal[
    "normal",
    "life_safety",
    "critical",
    "equipment",
    "emergency",
    "legally_required",
    "optional_standby",
]
Phase = Literal["A", "B", "C"]
Material = Literal["copper", "aluminum"]
Location = Literal["dry", "damp", "wet"]
Wall = Literal["left", "right", "top", "bottom", "back", "front"]
EndKind = Literal["box", "panel", "coupling", "field"]
Point = tuple[Annotated[float, LENGTH, SIGNED], ...]


@element
class Record(Frozen):
    """What every record carries: its place in the file."""

    node: Any = None
    """The mapping of the file that the record was read from; keeps line and column of each key."""

    def describe(self) -> str:
        """The element in words, such as ``raceway R1``."""
        name = type(self).__name__
        words = "".join(" " + c.lower() if c.isupper() else c for c in name).strip()
        if words in ("basis", "assembly", "defaults", "wire defaults"):
            return "the assembly"
        own = getattr(self, "id", None)
        return f"{words} {own}" if isinstance(own, str) else f"the {words}"


@element
class Authority(Record):
    """The authority having jurisdiction, as the report shall name it.

    name: who has jurisdiction
    reference: permit, application or agreement number
    """

    name: str = given("")
    reference: str = given("")


@element
class Basis(Record):
    """What the design is judged on.

    edition: the adopted edition, such as nec-2023
    amendments: amendment files, relative to this file
    permit_date: the date on which amendments in force are judged (YYYY-MM-DD)
    authority: the authority having jurisdiction
    health_care: whether the assembly serves a health care facility
    ambient: the highest ambient temperature around the conductors
    location: where the wiring is, dry unless stated
    building: what amendments ask about the building, in their words, such as fire zone
    voltage_drop: the largest voltage drop of a circuit that the project permits, such as 3 %
    """

    edition: str = given("nec-2023")
    amendments: tuple[str, ...] = given(())
    permit_date: Date | Missing = unstated("basis.permit_date")
    authority: Authority = given(blank(Authority))
    health_care: bool | Missing = unstated("basis.health_care")
    ambient: Temperature | Missing = unstated("basis.ambient")
    location: Location = given("dry")
    building: tuple[str, ...] | Missing = unstated("basis.building")
    voltage_drop: Share | Missing = unstated("basis.voltage_drop")


@element
class WireDefaults(Record):
    """What a wire is made of where it does not say.

    material: conductor material
    insulation: insulation type as marked, such as THHN
    """

    material: Material | Missing = unstated("defaults.wire.material")
    insulation: Insulation | Missing = unstated("defaults.wire.insulation")


@element
class Defaults(Record):
    """What holds for every element that does not say otherwise.

    wire: material and insulation of the wires
    terminals: marked temperature rating of the terminations
    free_conductor: length of free conductor left in every box
    """

    wire: WireDefaults = given(blank(WireDefaults))
    terminals: Temperature | Missing = unstated("defaults.terminals")
    free_conductor: Length | Missing = unstated("defaults.free_conductor", detail="free_conductor")


@element
class ColorScheme(Record):
    """The conductor colours that the project has settled for one system.

    system: the system the colours belong to
    A: colours that phase A may have
    B: colours that phase B may have
    C: colours that phase C may have
    neutral: colours of the neutral
    ground: colours of the equipment grounding conductor
    isolated_ground: colours of an isolated grounding conductor
    """

    system: System = given()
    A: tuple[str, ...] = given(())
    B: tuple[str, ...] = given(())
    C: tuple[str, ...] = given(())
    neutral: tuple[str, ...] = given(())
    ground: tuple[str, ...] = given(())
    isolated_ground: tuple[str, ...] = given(())


@element
class Panel(Record):
    """A panelboard, in or outside the assembly, from which circuits come.

    id: the panel's name
    branch: the branch it belongs to
    system: the system's voltages, such as 208Y/120
    transfer_switch: the transfer switch that feeds it
    phases: how many phases its system has, 1 or 3, where the voltages leave it open
    rating: current rating of the panelboard
    main: rating of the overcurrent device that protects it, in it or just ahead of it
    terminals: marked temperature rating of its terminals, where it differs from the defaults
    line_voltage: between two phases
    phase_voltage: from phase to neutral
    wye: whether it is a 4-wire wye
    feeders: the circuits that feed it
    """

    id: Identifier = given()
    branch: Branch | Missing = unstated("branch")
    system: System | Missing = unstated("system")
    transfer_switch: str | Missing = unstated("transfer_switch")
    phases: int | Missing = unstated("phases")
    rating: Current | Missing = unstated("rating")
    main: Current | Missing = unstated("main")
    terminals: Temperature | Missing = unstated("terminals")
    line_voltage: Voltage | Missing = derived()
    phase_voltage: Voltage | Missing = derived()
    wye: bool | Missing = derived()
    feeders: tuple["Circuit", ...] = derived()


@element
class Circuit(Record):
    """A branch circuit or feeder, protected by one overcurrent device.

    id: the circuit's name
    panel: the panel it comes from
    phases: one phase a pole; several for a multipole or multiwire circuit
    breaker: rating of the overcurrent device
    load: total load
    continuous_load: the part of the load that runs three hours or more
    outlets: several outlets, or a single one
    nonlinear: whether most of the load is nonlinear
    feeds: the panel that it supplies, where it is a feeder
    tap_of: the circuit that it is a tap of; its own breaker is the device that it ends in
    protection: what kind of device protects it
    disconnect: how the devices of its ungrounded conductors, or of the circuits that share its
        neutral, are opened: all by one handle and trip, by a handle tie, or each by itself
    motor_current: full-load current of the motor that it supplies, from the code's tables
    mca: minimum circuit ampacity on the nameplate of the equipment that it supplies
    mocp: maximum overcurrent protection on that nameplate
    upstream: length of the circuit ahead of the assembly
    source: the panel's record
    branch: the panel's branch
    voltage: between the circuit's ungrounded conductors, or to neutral with one pole
    poles: how many phases the circuit has
    pulls: the pulls that carry it
    spaces: the spaces that it serves, by its devices and by the boxes that its pulls end in
    device_spaces: the spaces of the devices that it supplies
    devices: the devices that it supplies
    feeder: whether it supplies a panel
    motor: whether it supplies a motor or a compressor, as its motor_current, mca or mocp says
    tapped: the record of the circuit that it is a tap of
    neutral_partners: the other circuits that share a neutral with it in a pull
    multiwire: whether it is a branch circuit of several poles with a neutral, or shares one
    paths: its ways from its panel, or from where it enters the assembly, to every end
    """

    id: Identifier = given()
    panel: Annotated[str, refers("panel")] | Missing = unstated("panel")
    phases: tuple[Phase, ...] | Missing = unstated("phases")
    breaker: Current | Missing = unstated("breaker")
    load: Power | Missing = unstated("load")
    continuous_load: Power | Missing = unstated("continuous_load")
    outlets: Literal["several", "single"] | Missing = unstated("outlets")
    nonlinear: bool | Missing = unstated("nonlinear")
    feeds: Annotated[str, refers("panel")] | Missing = unstated("feeds")
    tap_of: Annotated[str, refers("circuit")] | Missing = unstated("tap_of")
    protection: (
        Literal[
            "inverse_time",
            "instantaneous_trip",
            "time_delay_fuse",
            "nontime_delay_fuse",
            "class_cc",
            "class_cf",
            "class_j",
            "class_t",
            "marked_18_awg",
            "marked_16_awg",
        ]
        | Missing
    ) = unstated("protection")
    disconnect: Literal["common", "handle_tie", "independent"] | Missing = unstated("disconnect")
    motor_current: Current | Missing = unstated("motor_current")
    mca: Current | Missing = unstated("mca")
    mocp: Current | Missing = unstated("mocp")
    upstream: Length | Missing = unstated("upstream")
    source: "Panel | Missing" = derived()
    branch: Branch | Missing = derived()
    voltage: Voltage | Missing = derived()
    poles: int | Missing = derived()
    pulls: tuple["Pull", ...] = derived()
    spaces: tuple["Space", ...] = derived()
    device_spaces: tuple["Space", ...] = derived()
    devices: tuple["Device", ...] = derived()
    feeder: bool = derived()
    motor: bool = derived()
    tapped: "Circuit | Missing" = derived()
    neutral_partners: tuple["Circuit", ...] = derived()
    multiwire: bool | Missing = derived()
    paths: tuple["CircuitPath", ...] = derived()


@element
class CircuitLeg(Record):
    """The part of a circuit that one pull carries (derived).

    pull: the pull
    length: its length
    wires: its wires that carry the circuit's load: phase, neutral, switched and travelers
    """

    pull: "Pull" = derived()
    length: Length | Missing = derived()
    wires: tuple["Wire", ...] = derived()


@element
class CircuitPath(Record):
    """One way of a circuit from its source to an end (derived).

    legs: its parts, one a pull
    finish: the box, panel or field where it ends
    ahead: length ahead of these pulls: none where they start at the circuit's panel
    length: the sum of their lengths and of what is ahead
    """

    legs: tuple["CircuitLeg", ...] = derived()
    finish: str = derived()
    ahead: Length | Missing = derived()
    length: Length | Missing = derived()


@element
class Section(Record):
    """A part of the assembly that ships in one piece.

    id: the section's name
    width: from left to right
    height: from bottom to top
    depth: from front to back
    """

    id: Identifier = given()
    width: Length | Missing = unstated("width", detail="section_sizes")
    height: Length | Missing = unstated("height", detail="section_sizes")
    depth: Length | Missing = unstated("depth", detail="section_sizes")


@element
class Joint(Record):
    """Where two sections meet on site.

    id: the joint's name
    between: the two sections
    """

    id: Identifier = given()
    between: tuple[Annotated[str, refers("section")], ...] = given()


@element
class Coupling(Record):
    """Joins two raceways without giving access; never a pull point.

    id: the coupling's name
    joint: the joint it crosses, where it crosses one
    at: place in the section, from its lower left corner: across, up
    section: the section that the place is measured in
    """

    id: Identifier = given()
    joint: Annotated[str, refers("joint")] | Missing = unstated("joint")
    at: Point | Missing = unstated("at")
    section: Annotated[str, refers("section")] | Missing = unstated("section")


@element
class Space(Record):
    """A room or patient bed location that boxes serve.

    id: the space's name
    kind: what the space is
    category: 1 to 4, as the facility's governing body assigned it
    receptacles_elsewhere: receptacles of it that are not part of this assembly
    branches_elsewhere: branches that reach it by wiring that is not part of this assembly
    boxes: the boxes that serve it
    devices: the devices in those boxes
    """

    id: Identifier = given()
    kind: Literal[
        "patient_bed", "operating_room", "exam", "treatment", "corridor", "nurse_station", "other"
    ] = given()
    category: int | Missing = unstated("category")
    receptacles_elsewhere: int = given(0)
    branches_elsewhere: tuple[Branch, ...] = given(())
    boxes: tuple["Box", ...] = derived()
    devices: tuple["Device", ...] = derived()


@element
class Ring(Record):
    """A plaster ring, extension or domed cover with a marked volume.

    volume: marked volume
    rise: how far it stands out from the box
    """

    volume: Volume | Missing = unstated("volume")
    rise: Length | Missing = unstated("rise")


@element
class Device(Record):
    """What is mounted on one yoke or strap.

    id: the device's name
    kind: what the device is
    circuit: the circuit that supplies it
    gangs: how many gangs wide it mounts
    receptacles: how many receptacles on the yoke (a duplex has two)
    rating: marked current rating
    listing: what it is listed as
    color: colour of its face
    marked: whether it or its plate carries a mark that tells the branch
    isolated_ground: whether its grounding terminal is isolated from the yoke
    terminals: marked temperature rating of its terminals, where it differs from the defaults
    source: the circuit's record
    largest: size of the largest conductor connected to the yoke
    base_color: the colour in small letters; gray for grey
    """

    id: Identifier = given()
    kind: Literal[
        "receptacle", "switch", "luminaire", "nurse_call", "data", "disconnect", "blank", "other"
    ] = given()
    circuit: Annotated[str, refers("circuit")] | Missing = unstated("circuit")
    gangs: Positive = given(1)
    receptacles: int | Missing = unstated("receptacles", detail="receptacles")
    rating: Current | Missing = unstated("rating", detail="ratings")
    listing: Literal["hospital_grade", "general", "weather_resistant", "other"] | Missing = (
        unstated("listing", detail="listings")
    )
    color: str | Missing = unstated("color", detail="device_colors")
    marked: bool = given(False)
    isolated_ground: bool = given(False)
    terminals: Temperature | Missing = unstated("terminals")
    source: "Circuit | Missing" = derived()
    largest: WireSize | Missing = derived()
    base_color: str | Missing = derived()


@element
class Spacing(Record):
    """The distance between two raceway entries of a pull or junction box.

    between: the two raceways
    distance: from the nearest edge of one entry to that of the other
    """

    between: tuple[Annotated[str, refers("raceway|cable")], ...] = given()
    distance: Length = given(detail="entry_spacings")


@element
class Entry(Record):
    """Where a raceway enters a box, as the box sees it (derived).

    raceway: the raceway
    size: its trade size
    wall: the wall it enters, where the raceway states it
    row: the row on that wall
    facing: depth of the box from that wall to the opposite one
    straight: trade sizes of raceways on the opposite wall that the same pull goes on to
    angled: whether a pull through it turns to another wall, to its own wall, or is spliced
    neighbours: trade sizes of the other raceways of the same row and wall
    """

    raceway: "Raceway" = derived()
    size: TradeSize = derived()
    wall: Wall | Missing = derived()
    row: int = derived()
    facing: Length | Missing = derived()
    straight: tuple[TradeSize, ...] | Missing = derived()
    angled: bool | Missing = derived()
    neighbours: tuple[TradeSize, ...] | Missing = derived()


@element
class SharedEntry(Record):
    """Two entries of one box that enclose the same conductors (derived).

    first: one raceway
    second: the other raceway
    larger: trade size of the larger of the two
    distance: the stated distance between the entries
    wires: the wires of the pulls that go through both
    """

    first: "Raceway" = derived()
    second: "Raceway" = derived()
    larger: TradeSize = derived()
    distance: Length | Missing = derived()
    wires: tuple["Wire", ...] = derived()


@element
class Box(Record):
    """Any enclosure in which a conductor can be reached.

    id: the box's name
    section: the section it is in
    space: the space it serves
    kind: what the enclosure is
    trade_size: a row of the standard-box table, such as 4 x 2-1/8 square
    volume: marked volume; wins over the table
    rings: plaster rings, extensions and domed covers with a marked volume
    gangs: how many gangs, where the table's volume is per gang
    internal_clamps: how many cable clamps inside; any number counts once
    support_fittings: how many kinds of studs or hickeys inside
    terminal_blocks: how many terminal block assemblies inside
    devices: what is mounted on it
    width: inside, left to right
    height: inside, bottom to top
    depth: inside, front to back
    opening: smallest dimension of the opening
    free_conductor: shortest free conductor left, from where it leaves raceway or sheath
    free_outside: how far the free conductor reaches outside the opening
    spacings: distances between entries that enclose the same conductors
    branch: the branch of a panelboard or cabinet
    material: metal or nonmetallic
    concealed: whether the building must be opened to reach it
    barrier: whether a barrier keeps power and signal wiring apart in it
    reserved: whether it is left empty on purpose, as a spare or for others to wire
    grounded: whether the grounding conductor is connected to a metal box
    at: place in the section, from its lower left corner: across, up
    side: the face of the section it is on
    elevation: height of its place above the lower edge of its section
    wires: every wire that ends in the box or passes it, once each
    ending: the wires that end in it
    passing: the wires that pass it unbroken
    looped: the wires that pass it in a loop of at least twice the free length
    pulls: the pulls that end in it or pass it
    raceways: the raceways and cables that enter it
    entries: its raceway entries
    shared_entries: pairs of entries that enclose the same conductors
    serves: the space's record
    own_branch: the branch of a panelboard, or of a cabinet that states one; else none
    luminaire: whether it is a luminaire or the box attached to one
    """

    id: Identifier = given()
    section: Annotated[str, refers("section")] | Missing = unstated(
        "section", detail="box_sections"
    )
    space: Annotated[str, refers("space")] | Missing = unstated("space", detail="spaces")
    kind: Literal[
        "outlet", "junction", "pull", "conduit_body", "cabinet", "panelboard", "luminaire"
    ] = given()
    trade_size: BoxSize | Missing = unstated("trade_size")
    volume: Volume | Missing = unstated("volume")
    rings: tuple["Ring", ...] = given(())
    gangs: Positive = given(1)
    internal_clamps: int = given(0)
    support_fittings: int = given(0)
    terminal_blocks: int = given(0)
    devices: tuple["Device", ...] = given(())
    width: Length | Missing = unstated("width")
    height: Length | Missing = unstated("height")
    depth: Length | Missing = unstated("depth")
    opening: Length | Missing = unstated("opening")
    free_conductor: Length | Missing = unstated("free_conductor", detail="free_conductor")
    free_outside: Length | Missing = unstated("free_outside", detail="free_outside")
    spacings: tuple["Spacing", ...] = given(())
    branch: Branch | Missing = unstated("branch")
    material: Literal["metal", "nonmetallic"] | Missing = unstated("material")
    concealed: bool = given(False)
    barrier: bool = given(False)
    reserved: bool = given(False)
    grounded: bool | Missing = unstated("grounded", detail="grounding")
    at: Point | Missing = unstated("at")
    side: Literal["front", "back"] = given("front")
    elevation: Length | Missing = derived()
    wires: tuple["Wire", ...] = derived()
    ending: tuple["Wire", ...] = derived()
    passing: tuple["Wire", ...] = derived()
    looped: tuple["Wire", ...] = derived()
    pulls: tuple["Pull", ...] = derived()
    raceways: tuple["Raceway", ...] = derived()
    entries: tuple["Entry", ...] | Missing = derived()
    shared_entries: tuple["SharedEntry", ...] | Missing = derived()
    serves: "Space | Missing" = derived()
    own_branch: tuple[Branch, ...] | Missing = derived()
    luminaire: bool = derived()


@element
class Bend(Record):
    """One bend of a raceway, as the shop makes it.

    kind: bend, kick, offset, saddle3 or saddle4
    angle: the angle of the bend, of an offset's two bends, of a saddle's centre bend
    radius: to the centerline
    total: the degrees that it adds to the run
    """

    kind: Literal["bend", "kick", "offset", "saddle3", "saddle4"] = given()
    angle: Angle | Missing = unstated("angle")
    radius: Length | Missing = unstated("radius", detail="bend_radius")
    total: Angle | Missing = derived()

    def describe(self) -> str:
        """Its kind."""
        return f"an {self.kind}" if self.kind == "offset" else f"a {self.kind}"


@element
class Raceway(Record):
    """One continuous piece of conduit or tubing with its bends, from end to end.

    id: the raceway's name
    method: the wiring method
    size: trade size
    from_: where it starts: a box, a panel, a coupling, or field
    to: where it ends
    length: end to end along the centerline
    bends: its bends, in order
    supports: where it is fastened, as distances from its start
    threaded: whether it runs straight with threaded couplings
    bender: whether a one-shot or full-shoe bender makes the bends
    location: where it runs, as the basis says unless stated
    from_wall: the wall of the box it starts at
    to_wall: the wall of the box it ends at
    from_row: the row of entries on that wall
    to_row: the row of entries on that wall
    path: its points in the section, for the drawings
    section: the section it is in
    side: the face of the section it is on
    reserved: whether it is left empty on purpose, as a spare or for others to pull
    wires: every wire in it, one item a conductor
    pulls: the pulls that go through it
    current_carrying: how many current-carrying conductors it holds
    angle: the sum of its bends
    longest_gap: the longest distance between supports, or to an end; it goes on through couplings
    start_gap: from its start to the next support, beyond couplings where it has none itself
    end_gap: from its end back to the next support, likewise
    spaces: the spaces that its circuits serve
    span: length between the enclosures at its ends: that of its run, over every coupling
    open_ended: whether an end of that length is completed on site
    reaches: the sections that it reaches into; one where a single section can hold it
    from_kind: what it starts at
    to_kind: what it ends at
    own_branch: none; a panelboard has one
    barrier: no; a box may have one
    luminaire: no; a box may be one
    """

    id: Identifier = given()
    method: (
        Literal["EMT", "IMC", "RMC", "FMC", "LFMC", "LFNC", "ENT", "PVC40", "PVC80"] | Missing
    ) = unstated("method")
    size: TradeSize | Missing = unstated("size")
    from_: Annotated[str, refers("box|panel|coupling|field")] = given(key="from")
    to: Annotated[str, refers("box|panel|coupling|field")] = given()
    length: Length | Missing = unstated("length")
    bends: tuple["Bend", ...] = given(())
    supports: tuple[Length, ...] | Missing = unstated("supports", detail="supports")
    threaded: bool = given(False)
    bender: Literal["one_shot", "other"] | Missing = unstated("bender")
    location: Location | Missing = unstated("location")
    from_wall: Wall | Missing = unstated("from_wall", detail="entry_walls")
    to_wall: Wall | Missing = unstated("to_wall", detail="entry_walls")
    from_row: int = given(1)
    to_row: int = given(1)
    path: tuple[Point, ...] | Missing = unstated("path")
    section: Annotated[str, refers("section")] | Missing = unstated("section")
    side: Literal["front", "back"] = given("front")
    reserved: bool = given(False)
    wires: tuple["Wire", ...] = derived()
    pulls: tuple["Pull", ...] = derived()
    current_carrying: int | Missing = derived()
    angle: Angle | Missing = derived()
    longest_gap: Length | Missing = derived()
    start_gap: Length | Missing = derived()
    end_gap: Length | Missing = derived()
    spaces: tuple["Space", ...] | Missing = derived()
    span: Length | Missing = derived()
    open_ended: bool = derived()
    reaches: tuple[str, ...] | Missing = derived()
    from_kind: EndKind = derived()
    to_kind: EndKind = derived()
    own_branch: tuple[Branch, ...] = derived()
    barrier: bool = derived()
    luminaire: bool = derived()


@element
class Cable(Record):
    """An armored or metal-clad cable assembly; its conductors are a pull through it.

    id: the cable's name
    method: the cable type; HCF marks the health care facility types
    from_: where it starts: a box, a panel, or field
    to: where it ends
    length: end to end
    supports: where it is fastened, as distances from its start
    diameter: outside diameter
    bends: its bends, with their radius
    location: where it runs, as the basis says unless stated
    size: the trade size of the raceway that its conductors would need
    from_wall: the wall of the box it starts at
    to_wall: the wall of the box it ends at
    from_row: the row of entries on that wall
    to_row: the row of entries on that wall
    path: its points in the section, for the drawings
    section: the section it is in
    side: the face of the section it is on
    reserved: whether it is left empty on purpose, as a spare or for others to pull
    wires: every wire in it, one item a conductor
    pulls: the pulls that go through it
    current_carrying: how many current-carrying conductors it holds
    longest_gap: the longest distance between supports
    start_gap: from its start to the first support
    end_gap: from the last support to its end
    spaces: the spaces that its circuits serve
    span: length between the enclosures at its ends: its own
    open_ended: whether an end of that length is completed on site
    from_kind: what it starts at
    to_kind: what it ends at
    threaded: never; raceways only may be
    own_branch: none; a panelboard has one
    barrier: no; a box may have one
    luminaire: no; a box may be one
    """

    id: Identifier = given()
    method: Literal["AC", "MC", "AC-HCF", "MC-HCF"] | Missing = unstated("method")
    from_: Annotated[str, refers("box|panel|field")] = given(key="from")
    to: Annotated[str, refers("box|panel|field")] = given()
    length: Length | Missing = unstated("length")
    supports: tuple[Length, ...] | Missing = unstated("supports", detail="supports")
    diameter: Length | Missing = unstated("diameter")
    bends: tuple["Bend", ...] = given(())
    location: Location | Missing = unstated("location")
    size: TradeSize | Missing = unstated("size")
    from_wall: Wall | Missing = unstated("from_wall", detail="entry_walls")
    to_wall: Wall | Missing = unstated("to_wall", detail="entry_walls")
    from_row: int = given(1)
    to_row: int = given(1)
    path: tuple[Point, ...] | Missing = unstated("path")
    section: Annotated[str, refers("section")] | Missing = unstated("section")
    side: Literal["front", "back"] = given("front")
    reserved: bool = given(False)
    wires: tuple["Wire", ...] = derived()
    pulls: tuple["Pull", ...] = derived()
    current_carrying: int | Missing = derived()
    longest_gap: Length | Missing = derived()
    start_gap: Length | Missing = derived()
    end_gap: Length | Missing = derived()
    spaces: tuple["Space", ...] | Missing = derived()
    span: Length | Missing = derived()
    open_ended: bool = derived()
    from_kind: EndKind = derived()
    to_kind: EndKind = derived()
    threaded: bool = derived()
    own_branch: tuple[Branch, ...] = derived()
    barrier: bool = derived()
    luminaire: bool = derived()


@element
class Wire(Record):
    """One conductor of a pull, from end to end along its route.

    role: what the conductor is for
    phase: the phase of a phase wire; its circuit's where that has one phase only
    size: wire size
    color: colour of the insulation
    count: how many such wires
    bare: whether it has no insulation
    material: conductor material, as the defaults say unless stated
    insulation: insulation type, as the defaults say unless stated
    circuit: which of the pull's circuits it belongs to, where they are several
    diameter: overall diameter of a signal cable
    solid: whether it is solid, not stranded
    voltage: voltage rating of its insulation, where it is not the usual 600 V
    pull: the pull it belongs to
    current_carrying: 1 when it counts as current-carrying, otherwise 0; of two travelers of a
        circuit one counts, which its raceway knows
    branches: the branches of the circuits that it serves
    circuits: the circuits that it serves
    breaker: largest rating among the overcurrent devices of these circuits
    serves: the phase and switched wires that a grounding conductor is there for
    base_color: the colour without its stripes, in small letters; gray for grey
    stripe: the colour of its stripes, or none
    finish: its colour as colours are compared, such as ``white/red`` for ``White with red stripe``
    settled_colors: the colours that the project's scheme gives it, as they are compared; none
        where it gives none
    """

    role: Literal[
        "phase", "neutral", "ground", "isolated_ground", "switched", "traveler", "spare", "signal"
    ] = given()
    phase: Phase | Missing = unstated("phase")
    size: WireSize | Missing = unstated("size")
    color: str | Missing = unstated("color", detail="wire_colors")
    count: Positive = given(1)
    bare: bool = given(False)
    material: Material | Missing = unstated("material")
    insulation: Insulation | Missing = unstated("insulation")
    circuit: Annotated[str, refers("circuit")] | Missing = unstated("circuit")
    diameter: Length | Missing = unstated("diameter")
    solid: bool = given(False)
    voltage: Voltage | Missing = unstated("voltage")
    pull: "Pull" = derived()
    current_carrying: int | Missing = derived()
    branches: tuple[Branch, ...] | Missing = derived()
    circuits: tuple["Circuit", ...] | Missing = derived()
    breaker: Current | Missing = derived()
    serves: tuple["Wire", ...] | Missing = derived()
    base_color: str | Missing = derived()
    stripe: str | Missing = derived()
    finish: str | Missing = derived()
    settled_colors: tuple[str, ...] | Missing = derived()

    def describe(self) -> str:
        """Its role, phase and pull."""
        phase = "" if type(self.phase) is Missing else f" {self.phase}"
        return f"the {self.role}{phase} wire of pull {self.pull.id}"


@element
class Pull(Record):
    """Conductors drawn in together along one route.

    id: the pull's name
    circuit: the circuit, or a list of circuits that share a neutral or a grounding conductor
    through: the raceways or the cable, in order
    wires: its conductors
    loops: the boxes in which the wires are looped at least twice the free length
    pulled: whether the shop or the site draws it in
    circuits: the circuits' records
    conductors: its wires, one item a conductor
    path: the raceways or cable, as records
    boxes: the boxes that it ends in or passes
    ends: the boxes at its two ends (a panel or the field leaves one out)
    start: what the route starts at: a box, a panel, or field
    finish: what the route ends at
    breaker: largest rating among its circuits' overcurrent devices
    outlets: several, or single where every circuit of it has a single outlet
    spaces: the spaces that its circuits serve
    ungrounded: its phase and switched wires and travelers, one item a conductor
    uniform: whether these are alike in size, material, insulation and overcurrent device
    joints: the joints that it crosses, in order
    blind: the couplings that it ends at, where nothing can be reached
    length: the sum of the lengths of what it goes through
    marked_terminals: the temperatures marked on the devices and panels at its ends
    """

    id: Identifier = given()
    circuit: tuple[Annotated[str, refers("circuit")], ...] | Missing = unstated("circuit")
    through: tuple[Annotated[str, refers("raceway|cable")], ...] = given()
    wires: tuple["Wire", ...] = given()
    loops: tuple[Annotated[str, refers("box")], ...] = given(())
    pulled: Literal["shop", "site"] = given("shop")
    circuits: tuple["Circuit", ...] | Missing = derived()
    conductors: tuple["Wire", ...] = derived()
    path: tuple["Raceway", ...] = derived()
    boxes: tuple["Box", ...] = derived()
    ends: tuple["Box", ...] = derived()
    start: str = derived()
    finish: str = derived()
    breaker: Current | Missing = derived()
    outlets: Literal["several", "single"] | Missing = derived()
    spaces: tuple["Space", ...] | Missing = derived()
    ungrounded: tuple["Wire", ...] = derived()
    uniform: bool | Missing = derived()
    joints: tuple["Joint", ...] = derived()
    blind: tuple["Coupling", ...] = derived()
    length: Length | Missing = derived()
    marked_terminals: tuple[Temperature, ...] = derived()


@element
class Run(Record):
    """The chain of raceways, joined by couplings, between two pull points.

    id: its raceways' names joined by +, from the end that the file names first
    raceways: its raceways in that order
    bends: all its bends
    angle: the sum of its bends
    length: the sum of its lengths
    start: the pull point it starts at, or field
    finish: the pull point it ends at, or field
    field: whether an end is completed on site
    crosses: how many couplings it goes through
    """

    id: Identifier = derived()
    raceways: tuple["Raceway", ...] = derived()
    bends: tuple["Bend", ...] = derived()
    angle: Angle | Missing = derived()
    length: Length | Missing = derived()
    start: str = derived()
    finish: str = derived()
    field: bool = derived()
    crosses: int = derived()


def _details() -> tuple[str, ...]:
    """The kinds of detail that fields are declared with, each once."""
    records = [one for one in globals().values() if isinstance(one, type)]
    named = [f.detail for one in records if issubclass(one, Record) for f in given_fields(one)]
    return tuple(dict.fromkeys(detail for detail in named if detail))


if TYPE_CHECKING:
    Detail = str
else:
    #: Kinds of detail that a description may leave out as a whole: those of the fields above.
    Detail = Literal[_details()]


@element
class Omission(Record):
    """A kind of detail that the description leaves out on purpose.

    topic: the kind of detail
    reason: why it is left out, and where it is settled instead
    by: who decided to leave it out
    """

    topic: Detail = given()
    reason: Words = given()
    by: Words = given()


@element
class Assembly(Record):
    """One prefabricated unit type: sections, boxes, raceways, cables, conductors, devices.

    id: the type's name
    title: what it is
    revision: the design revision
    quantity: how many are built
    project: the project it is for
    basis: what the design is judged on
    defaults: what holds where an element does not say
    not_covered: the kinds of detail that the description leaves out on purpose, with reasons
    colors: the conductor colours settled for the project
    panels: the panels that its circuits come from
    circuits: the circuits it carries
    sections: its shipped parts
    joints: where they meet
    couplings: couplings between raceways
    spaces: the spaces it serves
    boxes: its enclosures
    raceways: its conduit and tubing
    cables: its cable assemblies
    pulls: its conductors
    runs: chains of raceways between pull points
    described: the kinds of detail that one element at least states
    left_out: the kinds of detail that the description leaves out on purpose
    normal_colors: colours of its receptacles on normal circuits, in small letters
    """

    id: Identifier = given(key="assembly")
    title: str = given("")
    revision: str = given("")
    quantity: Positive = given(1)
    project: str = given("")
    basis: Basis = given(blank(Basis))
    defaults: Defaults = given(blank(Defaults))
    not_covered: tuple[Omission, ...] = given(())
    colors: tuple[ColorScheme, ...] = given(())
    panels: tuple[Panel, ...] = given(())
    circuits: tuple[Circuit, ...] = given(())
    sections: tuple[Section, ...] = given(())
    joints: tuple[Joint, ...] = given(())
    couplings: tuple[Coupling, ...] = given(())
    spaces: tuple[Space, ...] = given(())
    boxes: tuple[Box, ...] = given(())
    raceways: tuple[Raceway, ...] = given(())
    cables: tuple[Cable, ...] = given(())
    pulls: tuple[Pull, ...] = given(())
    runs: tuple[Run, ...] = derived()
    described: tuple[Detail, ...] = derived()
    left_out: tuple[Detail, ...] = derived()
    normal_colors: tuple[str, ...] = derived()


#: Every record class by the name that rules and reports use for it.
CLASSES: dict[str, type[Record]] = {
    "assembly": Assembly,
    "basis": Basis,
    "authority": Authority,
    "defaults": Defaults,
    "wire_defaults": WireDefaults,
    "color_scheme": ColorScheme,
    "omission": Omission,
    "panel": Panel,
    "circuit": Circuit,
    "circuit_leg": CircuitLeg,
    "circuit_path": CircuitPath,
    "section": Section,
    "joint": Joint,
    "coupling": Coupling,
    "space": Space,
    "box": Box,
    "ring": Ring,
    "device": Device,
    "spacing": Spacing,
    "entry": Entry,
    "shared_entry": SharedEntry,
    "raceway": Raceway,
    "bend": Bend,
    "cable": Cable,
    "pull": Pull,
    "wire": Wire,
    "run": Run,
}

#: The classes whose elements a rule may be checked on, and where the assembly keeps them.
SUBJECTS: dict[str, str] = {
    "assembly": "",
    "panel": "panels",
    "circuit": "circuits",
    "section": "sections",
    "joint": "joints",
    "coupling": "couplings",
    "space": "spaces",
    "box": "boxes",
    "raceway": "raceways",
    "cable": "cables",
    "pull": "pulls",
    "run": "runs",
}
