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
    AREA,
    CURRENT,
    DIFFERENCE,
    LENGTH,
    MASS,
    NONE,
    POWER,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
)

Length = Annotated[float, LENGTH]
Area = Annotated[float, AREA]
Volume = Annotated[float, VOLUME]
Current = Annotated[float, CURRENT]
Power = Annotated[float, POWER]
Voltage = Annotated[float, VOLTAGE]
Share = Annotated[float, NONE]
Temperature = Annotated[float, TEMPERATURE]
Angle = Annotated[float, ANGLE]
Weight = Annotated[float, MASS]
Difference = Annotated[float, DIFFERENCE]
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
Air = Literal["none", "plenum", "duct"]
Fitting = Literal["insulating", "rounded_metal", "hub", "plain"]
BoxKind = Literal[
    "outlet",
    "junction",
    "pull",
    "conduit_body",
    "cabinet",
    "panelboard",
    "luminaire",
    "transfer_equipment",
]
Wall = Literal["left", "right", "top", "bottom", "back", "front"]
#: What permits flexible metal raceway or metal-sheathed cable in place of nonflexible raceway.
Permission = Literal[
    "none",
    "listed_headwall",
    "listed_furnishing",
    "fished",
    "flexible_connection",
    "movement",
    "luminaire",
]
#: Cable types as marked, without their size.
CableType = Literal[
    "CL2P", "CL2R", "CL2", "CL2X", "CL3P", "CL3R", "CL3", "CL3X", "PLTC",
    "FPLP", "FPLR", "FPL", "CMP", "CMR", "CMG", "CM", "CMX",
]  # fmt: skip
#: Receptacle configurations (NEMA WD 6), without the R.
Configuration = Literal[
    "5-15", "5-20", "5-30", "5-50", "6-15", "6-20", "6-30", "6-50", "14-20", "14-30", "14-50",
    "L5-15", "L5-20", "L5-30", "L6-15", "L6-20", "L6-30", "L14-20", "L14-30", "L21-20", "L21-30",
    "x_ray", "other",
]  # fmt: skip
#: Loads as the lists of the essential branches name them, in own words.
Load = Literal[
    "egress_lighting",
    "exit_signs",
    "alarms",
    "emergency_communications",
    "generator_set",
    "elevator_cab",
    "egress_doors",
    "task_lighting",
    "care_receptacles",
    "fixed_care_equipment",
    "nurse_call",
    "isolated_power",
    "telecommunications",
    "suction_and_air",
    "ventilation",
    "heating",
    "smoke_control",
    "elevator",
    "pumps",
    "kitchen_hood",
    "sterilizer",
    "general_lighting",
    "general_receptacles",
    "other",
]
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
class Passage(Record):
    """An opening that the sections pass on their way: a door, an elevator, a hoist.

    id: what it is
    width: clear width
    height: clear height
    depth: clear depth inside, of an elevator car or where the way turns
    load: the weight that it carries
    """

    id: Identifier = given()
    width: Length = given()
    height: Length = given()
    depth: Length | Missing = unstated("depth")
    load: Weight | Missing = unstated("load")


@element
class Basis(Record):
    """What the design is judged on.

    edition: the adopted edition, such as nec-2023
    amendments: amendment files, relative to this file
    permit_date: the date on which amendments in force are judged (YYYY-MM-DD)
    authority: the authority having jurisdiction
    health_care: whether the assembly serves a health care facility
    facility: the kind of facility, where it is one of health care
    essential_system: the type of its essential electrical system
    construction: whether concealed parts can be inspected on site (open) or not without taking it
        apart (closed)
    inspection: who inspects concealed parts, and where
    inspection_record: the agency, label, insignia or listing file that shows it
    route: the narrowest openings on the way to the room
    ambient: the highest ambient temperature around the conductors
    location: where the wiring is; taken as dry where it is not stated, which is reported
    temperature_change: from the coldest to the hottest that raceways get, such as 60 delta_degF
    air: whether the space around the wiring is a plenum or a duct for environmental air, or none
    building: what amendments ask about the building, in their words, such as fire zone
    voltage_drop: the largest voltage drop of a circuit that the project permits, such as 3 %
    """

    edition: str = given("nec-2023")
    amendments: tuple[str, ...] = given(())
    permit_date: Date | Missing = unstated("basis.permit_date")
    authority: Authority = given(blank(Authority))
    health_care: bool | Missing = unstated("basis.health_care")
    facility: (
        Literal[
            "hospital",
            "nursing_home",
            "limited_care",
            "ambulatory",
            "clinic",
            "office",
            "other",
        ]
        | Missing
    ) = unstated("basis.facility")
    essential_system: Literal["type_1", "type_2", "none"] | Missing = unstated(
        "basis.essential_system"
    )
    construction: Literal["open", "closed"] | Missing = unstated(
        "basis.construction", detail="inspection"
    )
    inspection: (
        Literal["site_open_face", "shop_ahj", "third_party", "listed", "field_evaluation"] | Missing
    ) = unstated("basis.inspection", detail="inspection")
    inspection_record: str = given("")
    route: tuple["Passage", ...] = given(())
    ambient: Temperature | Missing = unstated("basis.ambient")
    location: Location | Missing = unstated("basis.location")
    temperature_change: Difference | Missing = unstated("basis.temperature_change")
    air: Air | Missing = unstated("basis.air", detail="air")
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
    fitting: what raceways enter boxes and panels with
    bonded: whether the metal of raceways and cables is bonded at every box and panel as circuits
        of over 250 V to ground need it
    free_conductor: length of free conductor left in every box
    labels: what the labels of all devices name, unless a device has its own
    stock: length of the conduit and tubing that the shop buys
    tolerance: how far the shop may be off a typed length or place
    """

    wire: WireDefaults = given(blank(WireDefaults))
    terminals: Temperature | Missing = unstated("defaults.terminals")
    fitting: Fitting | Missing = unstated("defaults.fitting")
    bonded: bool | Missing = unstated("defaults.bonded")
    free_conductor: Length | Missing = unstated("defaults.free_conductor", detail="free_conductor")
    labels: Literal["panel_and_circuit", "none"] | Missing = unstated(
        "defaults.labels", detail="labels"
    )
    stock: Length | Missing = unstated("defaults.stock")
    tolerance: Length | Missing = unstated("defaults.tolerance")


@element
class ColorScheme(Record):
    """The conductor colors that the project has settled for one system.

    system: the system the colors belong to
    A: colors that phase A may have
    B: colors that phase B may have
    C: colors that phase C may have
    neutral: colors of the neutral
    ground: colors of the equipment grounding conductor
    isolated_ground: colors of an isolated grounding conductor
    """

    system: System = given(detail="color_schemes")
    A: tuple[str, ...] | Missing = unstated("A")
    B: tuple[str, ...] | Missing = unstated("B")
    C: tuple[str, ...] | Missing = unstated("C")
    neutral: tuple[str, ...] | Missing = unstated("neutral")
    ground: tuple[str, ...] | Missing = unstated("ground")
    isolated_ground: tuple[str, ...] | Missing = unstated("isolated_ground")


@element
class BranchScheme(Record):
    """How the project tells one branch from the others, beyond what the code asks for.

    branch: the branch
    devices: colors that the faces of its receptacles may have, in small letters
    mark: what its boxes are marked with
    """

    branch: Branch = given()
    devices: tuple[str, ...] = given(())
    mark: str = given("")


@element
class PanelBond(Record):
    """A bonding conductor between the equipment grounding buses of two panelboards.

    to: the other panelboard
    size: size of the insulated copper conductor
    """

    to: Annotated[str, refers("panel")] = given()
    size: WireSize = given(detail="panel_bonds")


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
    isolated_power: whether it is an isolated power system (an isolation transformer)
    bonded: bonding conductors to the equipment grounding buses of other panelboards
    line_voltage: between two phases
    phase_voltage: from phase to neutral
    wye: whether it is a 4-wire wye
    feeders: the circuits that feed it
    bonds: its bonding conductors, stated here or at the other panelboard
    bond_group: the first name, in order of the alphabet, of those that bonding conductors join it
        with, directly or over others; its own where there are none
    """

    id: Identifier = given()
    branch: Branch | Missing = unstated("branch")
    system: System | Missing = unstated("system")
    transfer_switch: str | Missing = unstated("transfer_switch")
    phases: int | Missing = unstated("phases")
    rating: Current | Missing = unstated("rating")
    main: Current | Missing = unstated("main")
    terminals: Temperature | Missing = unstated("terminals")
    isolated_power: bool = given(False)
    bonded: tuple["PanelBond", ...] = given(())
    line_voltage: Voltage | Missing = derived()
    phase_voltage: Voltage | Missing = derived()
    wye: bool | Missing = derived()
    feeders: tuple["Circuit", ...] = derived()
    bonds: tuple["PanelBond", ...] = derived()
    bond_group: str = derived()


@element
class Circuit(Record):
    """A branch circuit or feeder, protected by one overcurrent device.

    id: the circuit's name
    panel: the panel it comes from
    phases: one phase a pole; several for a multipole or multiwire circuit
    breaker: rating of the overcurrent device
    load: total load
    continuous_load: the part of the load that runs three hours or more
    outlets: several or a single one; lighting where all it supplies is lighting; feeder
    parallel: how many conductors are connected in parallel for each pole
    neutral_load: largest load between the neutral and one phase, for a neutral of several poles
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
    gfci: whether its overcurrent device protects people against ground faults (Class A)
    afci: whether its overcurrent device protects against arc faults
    serves: what it supplies, by the lists of loads of the essential branches
    fire_protection: what protects it against fire on its way
    neutral: whether anything on it is connected to the neutral
    fed_at: boxes in which wiring that is not part of this description brings it in, or the raceway
        or cable by which it comes from the field where it goes on to the field by others
    source: the panel's record
    branch: the panel's branch
    voltage: between the circuit's ungrounded conductors, or to neutral with one pole
    poles: how many phases the circuit has
    pulls: the pulls that carry it
    spaces: the spaces that it serves, by its devices and by the boxes that its pulls end in
    device_spaces: the spaces of the devices that it supplies
    beyond: the spaces of the devices that circuits of the panel it feeds supply
    devices: the devices that it supplies
    feeder: whether it is a feeder, as feeds: or outlets: feeder says
    motor: whether it supplies a motor or a compressor, as its motor_current, mca or mocp says
    tapped: the record of the circuit that it is a tap of
    neutral_partners: the other circuits that share a neutral with it in a pull
    multiwire: whether it is a branch circuit of several poles with a neutral, or shares one
    paths: its ways from its panel, or from where it enters the assembly, to every end
    sources: where it is supplied from: its panel, field, or boxes that it is fed at
    poles_pulled: how many of its poles at least one pull carries
    neutral_pulled: whether at least one pull carries its neutral
    incomplete: whether a device that it is followed to does without one of its conductors
    """

    id: Identifier = given()
    panel: Annotated[str, refers("panel")] | Missing = unstated("panel")
    phases: tuple[Phase, ...] | Missing = unstated("phases")
    breaker: Current | Missing = unstated("breaker")
    load: Power | Missing = unstated("load")
    continuous_load: Power | Missing = unstated("continuous_load")
    outlets: Literal["several", "single", "lighting", "feeder"] | Missing = unstated("outlets")
    parallel: Positive = given(1)
    neutral_load: Power | Missing = unstated("neutral_load")
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
    gfci: bool = given(False)
    afci: bool = given(False)
    serves: tuple[Load, ...] | Missing = unstated("serves")
    fire_protection: Literal["none", "sprinklered", "rated_cable", "rated_assembly", "concrete"] = (
        given("none")
    )
    neutral: bool | Missing = unstated("neutral")
    fed_at: tuple[Annotated[str, refers("box|raceway|cable")], ...] = given(())
    source: "Panel | Missing" = derived()
    branch: Branch | Missing = derived()
    voltage: Voltage | Missing = derived()
    poles: int | Missing = derived()
    pulls: tuple["Pull", ...] = derived()
    spaces: tuple["Space", ...] = derived()
    device_spaces: tuple["Space", ...] = derived()
    beyond: tuple["Space", ...] = derived()
    devices: tuple["Device", ...] = derived()
    feeder: bool = derived()
    motor: bool = derived()
    tapped: "Circuit | Missing" = derived()
    neutral_partners: tuple["Circuit", ...] = derived()
    multiwire: bool | Missing = derived()
    paths: tuple["CircuitPath", ...] = derived()
    sources: tuple[str, ...] = derived()
    poles_pulled: int | Missing = derived()
    neutral_pulled: bool | Missing = derived()
    incomplete: bool = derived()


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
    riser: whether its wiring passes through a floor, or runs up a shaft
    finish: thickness of the finish in front of the framing; 0 in where it has none
    combustible: whether that finish can burn
    fire_rating: fire-resistance rating of the wall that it becomes
    boxes: the boxes in it
    weight: computed weight as shipped
    weight_marked: whether weight, center of gravity and lift points are marked on it
    framing: what it is framed of: wood or metal studs, or none where there is no finish to fasten
    air: whether the space in it is a plenum or a duct for environmental air, or none
    cavity: clear depth inside its framing; its depth unless stated
    studs: places across, from its left edge, of the studs or struts that run up
    rails: heights, from its lower edge, of the framing members that run across
    open_faces: the faces that have no finish yet when the sections are joined on site
    """

    id: Identifier = given()
    width: Length | Missing = unstated("width", detail="section_sizes")
    height: Length | Missing = unstated("height", detail="section_sizes")
    depth: Length | Missing = unstated("depth", detail="section_sizes")
    riser: bool | Missing = unstated("riser")
    finish: Length | Missing = unstated("finish", detail="finish")
    combustible: bool | Missing = unstated("combustible", detail="finish")
    fire_rating: Literal["none", "1 h", "2 h", "3 h", "4 h"] | Missing = unstated(
        "fire_rating", detail="fire_ratings"
    )
    boxes: tuple["Box", ...] = derived()
    weight: Weight | Missing = unstated("weight")
    weight_marked: bool = given(False)
    framing: Literal["wood", "metal", "none"] | Missing = unstated("framing", detail="framing")
    air: Air | Missing = unstated("air", detail="air")
    cavity: Length | Missing = unstated("cavity")
    studs: tuple[Length, ...] | Missing = unstated("studs")
    rails: tuple[Length, ...] | Missing = unstated("rails")
    open_faces: tuple[Literal["front", "back"], ...] | Missing = unstated("open_faces")


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
    joint: the joint it crosses; that between the sections of its raceways where it states none
    at: place in the section, from its lower left corner: across, up
    section: the section that the place is measured in
    concealed: whether the building must be opened to reach it after the sections are joined
    listed: whether it is listed and identified for a concealed connection of building components
    screws: the side to which its set screws or compression nuts are turned
    raceways: the two raceways that it joins
    halves: how the ends of their paths lie at it
    """

    id: Identifier = given()
    joint: Annotated[str, refers("joint")] | Missing = unstated("joint")
    at: Point | Missing = unstated("at")
    section: Annotated[str, refers("section")] | Missing = unstated("section")
    concealed: bool = given(True)
    listed: bool = given(False)
    screws: Literal["front", "back", "top", "bottom"] | Missing = unstated("screws")
    raceways: tuple["Raceway", ...] = derived()
    halves: "Halves | Missing" = derived()


@element
class Halves(Record):
    """How the paths of two raceways meet at a coupling (derived).

    apart: how far their ends are from each other, measured along the edges of their sections where
        the coupling is at a joint: in height and, where both state it, in depth
    off: how far the end that is further away lies from the place of the coupling
    from_edge: how far the end that is further away lies from the nearest edge of its section, where
        the coupling is at a joint
    """

    apart: Length | Missing = derived()
    off: Length | Missing = derived()
    from_edge: Length | Missing = derived()


@element
class Elsewhere(Record):
    """Receptacles of a space that other work brings; a number alone leaves their source open.

    count: how many in all, where their source is not stated
    normal: how many of them are on normal circuits
    critical: how many of them are on critical circuits
    """

    SHORT = "count"

    count: int = given(0)
    normal: int = given(0)
    critical: int = given(0)


@element
class Space(Record):
    """A room or patient bed location that boxes serve.

    id: the space's name
    kind: what the space is
    category: 1 to 4, as the facility's governing body assigned it
    pediatric: whether it is a designated pediatric location, an infant nursery aside
    wet_procedure: whether it is a wet procedure location by the facility's risk assessment
    exempt: the use that takes it out of the wiring requirements for patient care
    receptacles_elsewhere: receptacles of it that are not part of this assembly: how many, or how
        many on normal and on critical circuits
    branches_elsewhere: branches that reach it by wiring that is not part of this assembly, with
        those of receptacles_elsewhere
    sink: whether a sink is in it
    boxes: the boxes that serve it
    devices: the devices in those boxes
    branches: the branches that reach it, by its devices or by other wiring
    """

    id: Identifier = given()
    kind: Literal[
        "patient_bed", "operating_room", "exam", "treatment", "corridor", "nurse_station", "other"
    ] = given()
    category: int | Missing = unstated("category")
    pediatric: bool | Missing = unstated("pediatric", detail="space_uses")
    wet_procedure: bool | Missing = unstated("wet_procedure", detail="space_uses")
    exempt: Literal["none", "office_area", "sleeping_room", "minor_treatment"] = given("none")
    receptacles_elsewhere: Elsewhere = given(blank(Elsewhere))
    branches_elsewhere: tuple[Branch, ...] = given(())
    sink: bool | Missing = unstated("sink", detail="sinks")
    boxes: tuple["Box", ...] = derived()
    devices: tuple["Device", ...] = derived()
    branches: tuple[Branch, ...] | Missing = derived()


@element
class Ring(Record):
    """A plaster ring, extension or domed cover with a marked volume.

    volume: marked volume
    rise: how far it stands out from the box
    gangs: how many gangs wide its opening is
    """

    volume: Volume | Missing = unstated("volume")
    rise: Length | Missing = unstated("rise")
    gangs: int | Missing = unstated("gangs")


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
    color: color of its face
    marked: whether it or its plate carries a mark that tells the branch
    isolated_ground: whether its grounding terminal is isolated from the yoke
    depth: how far it reaches behind its yoke
    weight: weight of a luminaire that the box supports
    independent: whether the building supports it, not the box
    grounding: what connects the grounding terminal of a receptacle to the grounding conductor
    weather_resistant: whether a receptacle is listed as weather resistant
    sink_distance: shortest way of a cord from a receptacle to the bowl of a sink
    terminals: marked temperature rating of its terminals, where it differs from the defaults
    special_purpose: whether it is a special-purpose outlet, such as one for portable X-ray
    two_sources: whether it is an exit or emergency luminaire that two sources supply
    configuration: the form of its contacts, such as 5-20
    tamper_resistant: whether it, or its cover, is listed as tamper resistant
    gfci: whether it protects people against ground faults, or is protected so ahead of it
    label: what its label says of the panel and the circuit
    phases: the phases of its circuit that it is connected to, all of them unless stated
    neutral_free: whether it needs no neutral
    feed_through: whether the neutral goes on to other devices through its terminals, not a splice
    controls: what a switch controls, where the devices on its circuit do not tell
    neutral_omitted: why the box of a switch for lighting may do without the neutral
    source: the circuit's record
    largest: size of the largest conductor connected to the yoke
    base_color: the color in small letters; gray for grey
    labeled: whether its label names its panel and circuit
    box: the box it is in
    connected: whether a phase, switched or traveler wire of its circuit is connected in its box
    pole_count: how many phases it is connected to
    fed: how many of these reach its box from where the circuit is supplied, switched or not
    takes_neutral: whether it is connected to the neutral: a load on one pole is, and one on
        several where the circuit has a neutral
    neutral_arrives: whether the circuit's neutral reaches its box from there
    neutral_goes_on: whether the neutral of its circuit, or one shared with it, is joined on in its
        box from one pull to another
    lighting: whether it is a switch for lighting, as it says or a luminaire on its circuit does
    switching: whether its box has a switched or traveler wire, or another device, of its circuit
    breaks: where the conductors end that do not reach it
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
    depth: Length | Missing = unstated("depth", detail="device_depths")
    weight: Weight | Missing = unstated("weight", detail="device_weights")
    independent: bool = given(False)
    grounding: (
        Literal["jumper", "self_grounding", "isolated", "surface_contact", "floor_box"] | Missing
    ) = unstated("grounding", detail="receptacle_bonding")
    weather_resistant: bool = given(False)
    sink_distance: Length | Missing = unstated("sink_distance", detail="sinks")
    terminals: Temperature | Missing = unstated("terminals")
    special_purpose: bool = given(False)
    two_sources: bool = given(False)
    configuration: Configuration | Missing = unstated("configuration")
    tamper_resistant: bool | Missing = unstated("tamper_resistant")
    gfci: bool = given(False)
    label: str | Missing = unstated("label", detail="labels")
    phases: tuple[Phase, ...] | Missing = unstated("phases")
    neutral_free: bool = given(False)
    feed_through: bool | Missing = unstated("feed_through")
    controls: tuple[Literal["lighting", "receptacles", "other"], ...] | Missing = unstated(
        "controls"
    )
    neutral_omitted: Literal["no", "reachable", "not_habitable", "seen_elsewhere", "automatic"] = (
        given("no")
    )
    source: "Circuit | Missing" = derived()
    largest: WireSize | Missing = derived()
    base_color: str | Missing = derived()
    labeled: bool | Missing = derived()
    box: "Box" = derived()
    connected: bool | Missing = derived()
    pole_count: int | Missing = derived()
    fed: int | Missing = derived()
    takes_neutral: bool | Missing = derived()
    neutral_arrives: bool | Missing = derived()
    neutral_goes_on: bool | Missing = derived()
    lighting: bool | Missing = derived()
    switching: bool | Missing = derived()
    breaks: tuple["Break", ...] = derived()


@element
class Break(Record):
    """Where a conductor of a circuit ends on its way to a device (derived).

    device: the device that it does not reach
    line: the conductor: phase A, phase B, phase C or neutral
    last: the last place that it reaches
    pull: the next pull on the way, which does not carry it; empty where there is none
    """

    device: str = derived()
    line: str = derived()
    last: str = derived()
    pull: str = derived()


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
    distance: the stated distance between the entries, or that of the paths
    drawn: the distance between them by the paths that end there; where these have no depth, in
        elevation, which is no more
    stated: the distance that the box states
    wires: the wires of the pulls that go through both
    """

    first: "Raceway" = derived()
    second: "Raceway" = derived()
    larger: TradeSize = derived()
    distance: Length | Missing = derived()
    drawn: Length | Missing = derived()
    stated: Length | Missing = derived()
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
    panel: the panel that a panelboard or cabinet houses
    material: metal or nonmetallic
    concealed: whether the building must be opened to reach it
    marking: what is permanently marked on it, such as EMERGENCY
    barrier: whether a barrier keeps power and signal wiring apart in it
    compartments: what is on each side of its barriers
    barrier_volume: marked volume of each barrier
    barrier_material: material of the barriers
    cross_section: internal cross-sectional area of a conduit body
    short_radius: whether it is a short-radius conduit body, such as a capped elbow
    listing: special purposes that the box is listed for
    marked_for: conductors that it is marked for; an empty list where it has no such marking
    marked_weight: marked weight of the luminaire that it may support
    setback: from the finished surface back to its front edge or that of its ring; negative in front
    mounting: set in a finished surface, or on a surface
    location: where it is, as the basis says unless stated
    cover: what closes a receptacle's enclosure in a damp or wet location
    gutter: cross-sectional area of a cabinet's wiring space
    distribution_blocks: how many power distribution blocks are inside
    barrier_listed: whether the enclosure is listed with a barrier that separates branches, as
        lighting controllers may be
    reserved: whether it is left empty on purpose, as a spare or for others to wire
    grounded: whether the grounding conductor is connected to a metal box
    at: place of its center in the section, from its lower left corner: across, up; a third number
        is the depth of its front edge from the front face of the framing, where it is not set with
        that edge at the face of its side
    side: the face of the section it is on
    row: the row of devices that it belongs to
    knockouts: its knockouts, by wall and trade size
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
    frame: the section's record
    unplaced: pulls and devices that no compartment names, where there are compartments
    neighbors: pairs of its devices that no barrier separates, with the voltage between them
    opposite: boxes on the other face of its section, with the distance across
    transfer_equipment: whether it is transfer equipment
    two_sources: whether it holds, or is attached to, a luminaire that two sources supply
    beyond: how far it reaches beyond its section, across, up or in depth; 0 in within it
    device_row: the record of its row
    path_ends: ends of paths at it
    stacks: raceways and boxes that lie behind it at one place, for the depth of its section
    full_depth: its depth, by its size or its designation
    """

    id: Identifier = given()
    section: Annotated[str, refers("section")] | Missing = unstated(
        "section", detail="box_sections"
    )
    space: Annotated[str, refers("space")] | Missing = unstated("space", detail="spaces")
    kind: BoxKind = given()
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
    panel: Annotated[str, refers("panel")] | Missing = unstated("panel")
    material: Literal["metal", "nonmetallic"] | Missing = unstated("material")
    concealed: bool | Missing = unstated("concealed", detail="access")
    barrier: bool = given(False)
    barrier_listed: bool = given(False)
    compartments: tuple["Compartment", ...] | Missing = unstated("compartments")
    barrier_volume: Volume | Missing = unstated("barrier_volume")
    barrier_material: Literal["metal", "nonmetallic"] | Missing = unstated("barrier_material")
    cross_section: Area | Missing = unstated("cross_section")
    short_radius: bool = given(False)
    listing: tuple[
        Literal["smaller_dimensions", "opening_protection", "distribution_block"], ...
    ] = given(())
    marked_for: tuple["MarkedFor", ...] | Missing = unstated("marked_for")
    marked_weight: Weight | Missing = unstated("marked_weight")
    setback: Annotated[float, LENGTH, SIGNED] | Missing = unstated("setback", detail="finish")
    mounting: Literal["flush", "surface"] | Missing = unstated("mounting")
    location: Location | Missing = unstated("location")
    cover: Literal["in_use", "closed", "ordinary"] | Missing = unstated("cover")
    gutter: Area | Missing = unstated("gutter")
    distribution_blocks: int = given(0)
    marking: str | Missing = unstated("marking")
    reserved: bool = given(False)
    grounded: bool | Missing = unstated("grounded", detail="grounding")
    at: Point | Missing = unstated("at")
    side: Literal["front", "back"] = given("front")
    row: Annotated[str, refers("row")] | Missing = unstated("row")
    knockouts: tuple["Knockouts", ...] | Missing = unstated("knockouts")
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
    transfer_equipment: bool = derived()
    two_sources: bool = derived()
    frame: "Section | Missing" = derived()
    unplaced: tuple[str, ...] | Missing = derived()
    neighbors: tuple["Neighbors", ...] = derived()
    opposite: tuple["Opposite", ...] | Missing = derived()
    beyond: Length | Missing = derived()
    device_row: "DeviceRow | Missing" = derived()
    path_ends: tuple["PathEnd", ...] = derived()
    full_depth: Length | Missing = derived()
    stacks: tuple["Stack", ...] = derived()


@element
class Knockouts(Record):
    """Knockouts of one trade size in one wall of a box.

    wall: the wall
    size: trade size
    count: how many
    """

    wall: Wall = given()
    size: TradeSize = given()
    count: Positive = given(1)


@element
class Stack(Record):
    """What lies behind a box at one place in elevation, with no depth stated (derived).

    raceways: raceways there that do not end in it
    boxes: boxes of the other face there
    """

    raceways: tuple["Raceway", ...] = derived()
    boxes: tuple["Box", ...] = derived()


@element
class Compartment(Record):
    """One side of a box that barriers divide.

    id: the compartment's name
    volume: its share of the volume of the box
    wiring: the pulls whose conductors are in it
    mounts: the devices mounted in it
    box: the box
    kind: what the box is
    trade_size: never; its volume is stated
    material: that of the box
    width: never; boxes only have one
    height: never; boxes only have one
    depth: never; boxes only have one
    rings: none; those of the box are in the volumes of its compartments
    gangs: one
    internal_clamps: those of the box
    support_fittings: those of the box
    terminal_blocks: those of the box
    barrier: no; the box has it
    compartments: none
    unplaced: none
    devices: the devices' records
    ending: the wires in it that end in the box
    passing: the wires in it that pass the box unbroken
    looped: the wires in it that pass the box in a loop
    wires: all of them
    pulls: the pulls' records
    """

    id: Identifier = given()
    volume: Volume | Missing = unstated("volume")
    wiring: tuple[Annotated[str, refers("pull")], ...] = given(())
    mounts: tuple[Annotated[str, refers("device")], ...] = given(())
    box: "Box" = derived()
    kind: BoxKind = derived()
    trade_size: BoxSize | Missing = derived()
    material: Literal["metal", "nonmetallic"] | Missing = derived()
    width: Length | Missing = derived()
    height: Length | Missing = derived()
    depth: Length | Missing = derived()
    rings: tuple["Ring", ...] = derived()
    gangs: Positive = derived()
    internal_clamps: int = derived()
    support_fittings: int = derived()
    terminal_blocks: int = derived()
    barrier: bool = derived()
    compartments: tuple["Compartment", ...] = derived()
    unplaced: tuple[str, ...] = derived()
    devices: tuple["Device", ...] = derived()
    ending: tuple["Wire", ...] = derived()
    passing: tuple["Wire", ...] = derived()
    looped: tuple["Wire", ...] = derived()
    wires: tuple["Wire", ...] = derived()
    pulls: tuple["Pull", ...] = derived()


@element
class MarkedFor(Record):
    """Conductors that a box or conduit body smaller than its raceways ask for is marked for.

    size: largest size
    count: how many of that size
    insulation: insulation type that the marking is based on
    """

    size: WireSize = given()
    count: Positive = given()
    insulation: Insulation = given("XHHW")


@element
class Neighbors(Record):
    """Two devices of one box that no barrier separates (derived).

    first: one device
    second: the other device
    one_panel: whether one panel supplies both
    voltage: the largest voltage between their ungrounded conductors; the sum of the voltages to
        neutral where two panels supply them
    """

    first: "Device" = derived()
    second: "Device" = derived()
    one_panel: bool | Missing = derived()
    voltage: Voltage | Missing = derived()


@element
class Opposite(Record):
    """A box on the other face of the same section (derived).

    box: that box
    distance: across, from the place of one to that of the other
    """

    box: "Box" = derived()
    distance: Length | Missing = derived()


@element
class Bend(Record):
    """One bend of a raceway, as the shop makes it.

    kind: bend, kick, offset, saddle3 or saddle4
    angle: the angle of the bend, of an offset's two bends, of a saddle's centre bend
    radius: to the centerline
    total: the degrees that it adds to the run
    assumed: whether its radius is stated nowhere and was taken as the least that its bender makes
    """

    kind: Literal["bend", "kick", "offset", "saddle3", "saddle4"] = given()
    angle: Angle | Missing = unstated("angle")
    radius: Length | Missing = unstated("radius", detail="bend_radius")
    total: Angle | Missing = derived()
    assumed: bool = derived()

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
    bends: its bends, in order; [] for a straight piece
    supports: where it is fastened, as distances from its start
    threaded: whether it runs straight with threaded couplings
    bender: what bends it: a bender of the shop by its name, one_shot for a one-shot or full-shoe
        bender, or other
    radius: radius of the corners of its path, to the center line, where its bender does not tell
    from_fitting: what it enters the box or panel at its start with (an insulating throat or
        bushing, a rounded metal fitting listed for it, a hub of the enclosure, or a plain one), as
        the defaults say unless stated
    to_fitting: likewise at its end
    bonded: whether its metal is bonded at both ends as circuits of over 250 V to ground need it, as
        the defaults say unless stated
    expansion: whether an expansion fitting takes up the change of its length
    rise: how far it rises from one enclosure to the next; no more than its section is high unless
        stated, where both of its ends are boxes or panels
    edge_distance: from its nearest surface to the nearest edge of the framing where screws may go
    plates: whether steel plates or sleeves protect it from screws and nails
    air: whether it runs in a plenum or a duct for environmental air, or none; as its section or
        the basis says unless stated
    location: where it runs, as the basis says unless stated
    ambient: the highest ambient temperature around it, as the basis says unless stated
    from_wall: the wall of the box it starts at
    to_wall: the wall of the box it ends at
    from_row: the row of entries on that wall
    to_row: the row of entries on that wall
    path: the corners of its center line in the section, from its start to its end: across, up, and
        depth from the front face of the framing; its length, bends and walls of entry follow from
        it where they are not stated
    section: the section it is in
    side: the face of the section it is on
    reserved: whether it is left empty on purpose, as a spare or for others to pull
    permission: what permits it where nonflexible metal raceway is asked for
    concealed: whether the finish hides it
    marking: the largest distance between marks of the emergency system on it
    wires: every wire in it, one item a conductor
    pulls: the pulls that go through it
    current_carrying: how many current-carrying conductors it holds
    angle: the sum of its bends
    longest_gap: the longest distance between supports, or to an end; it goes on through couplings
    start_gap: from its start to the next support, beyond couplings where it has none itself
    end_gap: from its end back to the next support, likewise
    spaces: the spaces that its circuits serve
    span: length between the enclosures at its ends: that of its run, over every coupling
    supported: whether that length has a support anywhere
    straight: whether that length has no bends
    flexible_path: FMC and LFMC in the fault path through it, from the panel to the last outlet of
        each of its circuits, where there is most
    bare_flexible_path: likewise, of those only that no grounding conductor runs in
    open_ended: whether an end of that length is completed on site
    reaches: the sections that it reaches into; one where a single section can hold it
    framing: what its section is framed of
    from_kind: what it starts at
    to_kind: what it ends at
    own_branch: none; a panelboard has one
    barrier: no; a box may have one
    luminaire: no; a box may be one
    barrier_listed: no; a box may have one
    transfer_equipment: no; a box may be
    two_sources: no; a box may be
    sheathed: no; a cable is
    bundled: none; cables may be in a bundle
    bundle_wires: none; cables may be in a bundle
    bundle_carrying: its own current-carrying conductors; cables may be in a bundle
    tool: the record of its bender
    shoe: whether a one-shot or full-shoe bender bends it, or another
    course: what its path comes to
    frame: the section's record
    """

    id: Identifier = given()
    method: (
        Literal["EMT", "IMC", "RMC", "FMC", "LFMC", "LFNC", "ENT", "PVC40", "PVC80"] | Missing
    ) = unstated("method")
    size: TradeSize | Missing = unstated("size")
    from_: Annotated[str, refers("box|panel|coupling|field")] = given(key="from")
    to: Annotated[str, refers("box|panel|coupling|field")] = given()
    length: Length | Missing = unstated("length")
    bends: tuple["Bend", ...] | Missing = unstated("bends")
    supports: tuple[Length, ...] | Missing = unstated("supports", detail="supports")
    threaded: bool = given(False)
    bender: str | Missing = unstated("bender")
    radius: Length | Missing = unstated("radius", detail="bend_radius")
    from_fitting: Fitting | Missing = unstated("from_fitting")
    to_fitting: Fitting | Missing = unstated("to_fitting")
    bonded: bool | Missing = unstated("bonded")
    expansion: bool = given(False)
    rise: Length | Missing = unstated("rise")
    edge_distance: Length | Missing = unstated("edge_distance")
    plates: bool = given(False)
    air: Air | Missing = unstated("air", detail="air")
    location: Location | Missing = unstated("location")
    ambient: Temperature | Missing = unstated("ambient")
    from_wall: Wall | Missing = unstated("from_wall", detail="entry_walls")
    to_wall: Wall | Missing = unstated("to_wall", detail="entry_walls")
    from_row: int = given(1)
    to_row: int = given(1)
    path: tuple[Point, ...] | Missing = unstated("path")
    section: Annotated[str, refers("section")] | Missing = unstated("section")
    side: Literal["front", "back"] = given("front")
    reserved: bool = given(False)
    permission: Permission = given("none")
    concealed: bool = given(False)
    marking: Length | Missing = unstated("marking")
    wires: tuple["Wire", ...] = derived()
    pulls: tuple["Pull", ...] = derived()
    current_carrying: int | Missing = derived()
    angle: Angle | Missing = derived()
    longest_gap: Length | Missing = derived()
    start_gap: Length | Missing = derived()
    end_gap: Length | Missing = derived()
    spaces: tuple["Space", ...] | Missing = derived()
    span: Length | Missing = derived()
    supported: bool | Missing = derived()
    straight: bool | Missing = derived()
    flexible_path: Length | Missing = derived()
    bare_flexible_path: Length | Missing = derived()
    open_ended: bool = derived()
    sheathed: bool = derived()
    bundled: tuple["Cable", ...] = derived()
    bundle_wires: tuple["Wire", ...] = derived()
    bundle_carrying: int | Missing = derived()
    framing: Literal["wood", "metal", "none"] | Missing = derived()
    reaches: tuple[str, ...] | Missing = derived()
    from_kind: EndKind = derived()
    to_kind: EndKind = derived()
    own_branch: tuple[Branch, ...] = derived()
    barrier: bool = derived()
    luminaire: bool = derived()
    barrier_listed: bool = derived()
    transfer_equipment: bool = derived()
    two_sources: bool = derived()
    tool: "Bender | Missing" = derived()
    shoe: Literal["one_shot", "other"] | Missing = derived()
    course: "Course | Missing" = derived()
    frame: "Section | Missing" = derived()


@element
class Bender(Record):
    """A bender of the shop, under the name that raceways give it.

    size: the trade size that it bends
    radius: radius of its bends, to the center line
    shoe: whether it is a one-shot or full-shoe bender, or another
    take_up: what it takes up of a stub; the deduct marked on it
    straight: least straight conduit that it needs between two bends
    """

    size: TradeSize | Missing = unstated("size")
    radius: Length | Missing = unstated("radius", detail="bend_radius")
    shoe: Literal["one_shot", "other"] | Missing = unstated("shoe")
    take_up: Length | Missing = unstated("take_up")
    straight: Length | Missing = unstated("straight")


@element
class Course(Record):
    """What the path of a raceway comes to (derived).

    deep: whether every point of it has a depth
    length: developed length along the center line
    bends: its bends, as the shop makes them
    angle: the sum of its corners
    turns: how many single bends it has
    stated_length: the length that the raceway states
    stated_angle: the sum of the bends that the raceway states
    stated_turns: how many single bends these come to
    shortest: shortest straight between two bends; negative where they overlap
    at_ends: shortest straight between an end and the bend next to it; negative where they overlap
    stub: shortest leg from an end to the corner of a quarter bend next to it
    ends: where it ends at boxes
    beyond: how far it reaches beyond its section, across or up; 0 in within it
    nearest: least depth of its center line
    farthest: greatest depth of its center line
    straps: where its supports come to lie
    """

    line: Any = None
    """Its center line with arcs, a ``geometry.polyline.Bent``; for facts and drawings."""
    deep: bool = derived()
    length: Length | Missing = derived()
    bends: tuple["Bend", ...] | Missing = derived()
    angle: Angle = derived()
    turns: int = derived()
    stated_length: Length | Missing = derived()
    stated_angle: Angle | Missing = derived()
    stated_turns: int | Missing = derived()
    shortest: Length | Missing = derived()
    at_ends: Length | Missing = derived()
    stub: Length | Missing = derived()
    ends: tuple["PathEnd", ...] = derived()
    beyond: Length | Missing = derived()
    nearest: Length | Missing = derived()
    farthest: Length | Missing = derived()
    straps: tuple["Strap", ...] | Missing = derived()


@element
class PathEnd(Record):
    """Where the path of a raceway ends at a box (derived).

    raceway: the raceway
    box: the box
    wall: the wall that the end touches
    stated_wall: the wall that the raceway states
    off: how far the end is from the walls of the box
    inset: from the end to the nearest edge of that wall; negative beyond it
    section: whether the path and the box are in one section
    spot: the end: across, up, and depth where the path has it
    """

    raceway: "Raceway" = derived()
    box: "Box" = derived()
    wall: Wall | Missing = derived()
    stated_wall: Wall | Missing = derived()
    off: Length | Missing = derived()
    inset: Length | Missing = derived()
    section: bool | Missing = derived()
    spot: Point = derived()


@element
class Strap(Record):
    """Where one support of a raceway comes to lie on its path (derived).

    along: its distance from the start
    on_arc: whether that is within a bend
    past: whether that is past the end
    off: how far it is from the nearest stud, strut or rail that the section states
    """

    along: Length = derived()
    on_arc: bool = derived()
    past: bool = derived()
    off: Length | Missing = derived()


@element
class Pair(Record):
    """Two raceways, a raceway and a box, or two boxes that come near each other (derived).

    id: their names joined by &
    kind: raceways, raceway_box or boxes
    place: where they are nearest, in words
    raceways: the raceways among them
    boxes: the boxes among them
    distance: from center line to center line, from center line to box, or from box to box, by
        their depths; negative where boxes overlap
    in_elevation: the same without depth: they are no nearer, whatever their depths
    """

    id: Identifier = derived()
    kind: Literal["raceways", "raceway_box", "boxes"] = derived()
    place: str = derived()
    raceways: tuple["Raceway", ...] = derived()
    boxes: tuple["Box", ...] = derived()
    distance: Length | Missing = derived()
    in_elevation: Length | Missing = derived()


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
    bends: its bends, with their radius; [] where it has none
    bundle: name of the bundle in which it touches other cables; none where spacing is maintained
    jacketed: whether it has a nonmetallic covering over its armor
    bonded: whether its armor is bonded at both ends as circuits of over 250 V to ground need it, as
        the defaults say unless stated
    edge_distance: from its nearest surface to the nearest edge of the framing where screws may go
    plates: whether steel plates or sleeves protect it from screws and nails
    air: whether it runs in a plenum or a duct for environmental air, or none; as its section or
        the basis says unless stated
    location: where it runs, as the basis says unless stated
    ambient: the highest ambient temperature around it, as the basis says unless stated
    size: the trade size of the raceway that its conductors would need
    from_wall: the wall of the box it starts at
    to_wall: the wall of the box it ends at
    from_row: the row of entries on that wall
    to_row: the row of entries on that wall
    path: its points in the section, for the drawings
    section: the section it is in
    side: the face of the section it is on
    reserved: whether it is left empty on purpose, as a spare or for others to pull
    permission: what permits it where nonflexible metal raceway is asked for
    concealed: whether the finish hides it
    marking: the largest distance between marks of the emergency system on it
    wires: every wire in it, one item a conductor
    pulls: the pulls that go through it
    current_carrying: how many current-carrying conductors it holds
    longest_gap: the longest distance between supports
    start_gap: from its start to the first support
    end_gap: from the last support to its end
    spaces: the spaces that its circuits serve
    span: length between the enclosures at its ends: its own
    supported: whether that length has a support anywhere
    straight: whether that length has no bends
    flexible_path: FMC and LFMC in the fault path through it, from the panel to the last outlet of
        each of its circuits, where there is most
    bare_flexible_path: likewise, of those only that no grounding conductor runs in
    open_ended: whether an end of that length is completed on site
    framing: what its section is framed of
    from_kind: what it starts at
    to_kind: what it ends at
    threaded: never; raceways only may be
    own_branch: none; a panelboard has one
    barrier: no; a box may have one
    luminaire: no; a box may be one
    barrier_listed: no; a box may have one
    transfer_equipment: no; a box may be
    two_sources: no; a box may be
    sheathed: whether it is a cable
    bundled: the cables of its bundle, itself among them
    bundle_wires: the conductors of these, one item a conductor
    bundle_carrying: how many current-carrying conductors these have
    beside: the cables between the same two ends, itself among them
    """

    id: Identifier = given()
    method: Literal["AC", "MC", "AC-HCF", "MC-HCF"] | Missing = unstated("method")
    from_: Annotated[str, refers("box|panel|field")] = given(key="from")
    to: Annotated[str, refers("box|panel|field")] = given()
    length: Length | Missing = unstated("length")
    supports: tuple[Length, ...] | Missing = unstated("supports", detail="supports")
    diameter: Length | Missing = unstated("diameter")
    bends: tuple["Bend", ...] | Missing = unstated("bends")
    bundle: str | Missing = unstated("bundle", detail="bundles")
    jacketed: bool | Missing = unstated("jacketed")
    bonded: bool | Missing = unstated("bonded")
    edge_distance: Length | Missing = unstated("edge_distance")
    plates: bool = given(False)
    air: Air | Missing = unstated("air", detail="air")
    location: Location | Missing = unstated("location")
    ambient: Temperature | Missing = unstated("ambient")
    size: TradeSize | Missing = unstated("size")
    from_wall: Wall | Missing = unstated("from_wall", detail="entry_walls")
    to_wall: Wall | Missing = unstated("to_wall", detail="entry_walls")
    from_row: int = given(1)
    to_row: int = given(1)
    path: tuple[Point, ...] | Missing = unstated("path")
    section: Annotated[str, refers("section")] | Missing = unstated("section")
    side: Literal["front", "back"] = given("front")
    reserved: bool = given(False)
    permission: Permission = given("none")
    concealed: bool = given(False)
    marking: Length | Missing = unstated("marking")
    wires: tuple["Wire", ...] = derived()
    pulls: tuple["Pull", ...] = derived()
    current_carrying: int | Missing = derived()
    longest_gap: Length | Missing = derived()
    start_gap: Length | Missing = derived()
    end_gap: Length | Missing = derived()
    spaces: tuple["Space", ...] | Missing = derived()
    span: Length | Missing = derived()
    supported: bool | Missing = derived()
    straight: bool | Missing = derived()
    flexible_path: Length | Missing = derived()
    bare_flexible_path: Length | Missing = derived()
    open_ended: bool = derived()
    sheathed: bool = derived()
    bundled: tuple["Cable", ...] = derived()
    bundle_wires: tuple["Wire", ...] = derived()
    bundle_carrying: int | Missing = derived()
    beside: tuple["Cable", ...] = derived()
    framing: Literal["wood", "metal", "none"] | Missing = derived()
    from_kind: EndKind = derived()
    to_kind: EndKind = derived()
    threaded: bool = derived()
    own_branch: tuple[Branch, ...] = derived()
    barrier: bool = derived()
    luminaire: bool = derived()
    barrier_listed: bool = derived()
    transfer_equipment: bool = derived()
    two_sources: bool = derived()


@element
class Wire(Record):
    """One conductor of a pull, from end to end along its route.

    role: what the conductor is for
    phase: the phase of a phase wire; its circuit's where that has one phase only
    size: wire size
    color: color of the insulation
    count: how many such wires
    bare: whether it has no insulation
    material: conductor material, as the defaults say unless stated
    insulation: insulation type, as the defaults say unless stated
    circuit: which of the pull's circuits it belongs to, where they are several
    diameter: overall diameter of a signal cable
    solid: whether it is solid, not stranded
    voltage: voltage rating of its insulation, where it is not the usual 600 V
    cable_type: the type marked on a signal cable, such as CL2P
    service: the kind of limited-energy circuit that a signal cable carries
    reidentified: the color that it is marked with where it can be seen, such as black tape on white
    pull: the pull it belongs to
    current_carrying: 1 when it counts as current-carrying, otherwise 0; of two travelers of a
        circuit one counts, which its raceway knows
    branches: the branches of the circuits that it serves
    circuits: its circuit, or all those of the pull that it may belong to
    breaker: largest rating among the overcurrent devices of these circuits
    serves: the phase and switched wires and travelers that a grounding conductor is there for
    base_color: the color without its stripes, in small letters; gray for grey
    stripe: the color of its stripes, or none
    finish: its color as colors are compared, such as ``white/red`` for ``White with red stripe``;
        that of its marking where it is re-identified
    marking_color: the color it is re-identified with, without stripes; none where it is not
    settled_colors: the colors that the project's scheme gives it, as they are compared; none
        where it gives none
    unused_in: the boxes in which it ends and nothing of its circuit takes it or goes on
    unswitched: whether it is a switched wire or traveler that no switch of its circuit feeds
    switched_elsewhere: whether only a switch that is not described could feed it, by a box under
        fed_at, though a switch of its circuit is described
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
    cable_type: CableType | Missing = unstated("cable_type", detail="signal_cables")
    service: Literal["class_2", "class_3", "fire_alarm", "communications"] | Missing = unstated(
        "service", detail="signal_cables"
    )
    reidentified: str | Missing = unstated("reidentified")
    pull: "Pull" = derived()
    current_carrying: int | Missing = derived()
    branches: tuple[Branch, ...] | Missing = derived()
    circuits: tuple["Circuit", ...] | Missing = derived()
    breaker: Current | Missing = derived()
    serves: tuple["Wire", ...] | Missing = derived()
    base_color: str | Missing = derived()
    stripe: str | Missing = derived()
    finish: str | Missing = derived()
    marking_color: str = derived()
    settled_colors: tuple[str, ...] | Missing = derived()
    unused_in: tuple[str, ...] | Missing = derived()
    unswitched: bool | Missing = derived()
    switched_elsewhere: bool | Missing = derived()

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
    short_part: whether the part of its route with the lowest ampacity is taken at the ampacity of
        the rest, being short (10 ft or 10 percent)
    pulled: whether the shop or the site draws it in
    tail: length of the conductors coiled at the first joint on its route for the part beyond it
    circuits: the circuits' records
    conductors: its wires, one item a conductor
    path: the raceways or cable, as records
    boxes: the boxes that it ends in or passes
    ends: the boxes at its two ends (a panel or the field leaves one out)
    start: what the route starts at: a box, a panel, or field
    finish: what the route ends at
    breaker: largest rating among its circuits' overcurrent devices
    spaces: the spaces that its circuits serve
    ungrounded: its phase and switched wires and travelers, one item a conductor
    wire_kinds: one of these of each size, material, insulation and circuit, the smallest size first
    power_wires: these and its neutrals, likewise
    ground_wires: the grounding conductors that its circuits rely on, the smallest size first: its
        own, and where it has no ordinary one the largest in each raceway or cable on its route
    parallel_pulls: the pulls with conductors in parallel with its own, itself among them: those of
        the same circuits between the same ends; none unless a circuit states parallel conductors
    parallel_wires: the conductors of those circuits in them, one item a conductor
    joints: the joints that it crosses, in order
    blind: the couplings that it ends at, where nothing can be reached
    length: the sum of the lengths of what it goes through
    ambient: the highest ambient temperature along its route
    marked_terminals: the temperatures marked on the devices and panels at its ends
    phases_along: the phases of its circuits that go all its way with it, by any pull
    beyond_joint: the length of its route beyond the first joint
    """

    id: Identifier = given()
    circuit: tuple[Annotated[str, refers("circuit")], ...] | Missing = unstated("circuit")
    through: tuple[Annotated[str, refers("raceway|cable")], ...] = given()
    wires: tuple["Wire", ...] = given()
    loops: tuple[Annotated[str, refers("box")], ...] = given(())
    short_part: bool = given(False)
    pulled: Literal["shop", "site"] = given("shop")
    tail: Length | Missing = unstated("tail")
    circuits: tuple["Circuit", ...] | Missing = derived()
    conductors: tuple["Wire", ...] = derived()
    path: tuple["Raceway", ...] = derived()
    boxes: tuple["Box", ...] = derived()
    ends: tuple["Box", ...] = derived()
    start: str = derived()
    finish: str = derived()
    breaker: Current | Missing = derived()
    spaces: tuple["Space", ...] | Missing = derived()
    ungrounded: tuple["Wire", ...] = derived()
    wire_kinds: tuple["Wire", ...] = derived()
    power_wires: tuple["Wire", ...] = derived()
    ground_wires: tuple["Wire", ...] = derived()
    parallel_pulls: tuple["Pull", ...] = derived()
    parallel_wires: tuple["Wire", ...] = derived()
    joints: tuple["Joint", ...] = derived()
    blind: tuple["Coupling", ...] = derived()
    length: Length | Missing = derived()
    ambient: Temperature | Missing = derived()
    marked_terminals: tuple[Temperature, ...] = derived()
    phases_along: tuple[Phase, ...] = derived()
    beyond_joint: Length | Missing = derived()


@element
class Run(Record):
    """The chain of raceways, joined by couplings, between two pull points.

    id: its raceways' names joined by +, from the end that the file names first
    raceways: its raceways in that order
    bends: all its bends
    methods: the wiring methods of its raceways, each once
    angle: the sum of its bends
    length: the sum of its lengths
    start: the pull point it starts at, or field
    finish: the pull point it ends at, or field
    field: whether an end is completed on site
    crosses: how many couplings it goes through
    """

    id: Identifier = derived()
    raceways: tuple["Raceway", ...] = derived()
    bends: tuple["Bend", ...] | Missing = derived()
    methods: tuple[str, ...] | Missing = derived()
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
class DeviceRow(Record):
    """A row of devices at one height, as the project asks for it.

    id: the row's name
    height: height of the centers of its boxes above the lower edge of the section
    tolerance: how far they may be off
    """

    id: Identifier = given()
    height: Length = given()
    tolerance: Length | Missing = unstated("tolerance")


@element
class Assembly(Record):
    """One prefabricated unit type: sections, boxes, raceways, cables, conductors, devices.

    id: the type's name
    title: what it is
    revision: the design revision
    quantity: how many are built
    project: the project it is for
    listing: what the assembly as a whole is listed as
    basis: what the design is judged on
    defaults: what holds where an element does not say
    not_covered: the kinds of detail that the description leaves out on purpose, with reasons
    colors: the conductor colors settled for the project
    branch_scheme: device colors and box marks settled for the project, by branch
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
    benders: the benders of the shop, by their names
    clearance: least clear distance between raceways, and between raceways and boxes, that the
        project asks for
    rows: the rows of devices that the project asks for
    runs: chains of raceways between pull points
    pairs: raceways and boxes that come near each other, where paths and places tell
    compartments: the compartments of its boxes
    described: the kinds of detail that one element at least states
    left_out: the kinds of detail that the description leaves out on purpose
    normal_colors: colors of its receptacles on normal circuits, in small letters
    """

    id: Identifier = given(key="assembly")
    title: str = given("")
    revision: str = given("")
    quantity: Positive = given(1)
    project: str = given("")
    listing: Literal["none", "headwall", "furnishing", "other"] = given("none")
    basis: Basis = given(blank(Basis))
    defaults: Defaults = given(blank(Defaults))
    not_covered: tuple[Omission, ...] = given(())
    colors: tuple[ColorScheme, ...] = given(())
    branch_scheme: tuple[BranchScheme, ...] = given(())
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
    benders: dict[str, Bender] = given({})
    clearance: Length | Missing = unstated("clearance")
    rows: tuple[DeviceRow, ...] = given(())
    runs: tuple[Run, ...] = derived()
    pairs: tuple[Pair, ...] = derived()
    compartments: tuple[Compartment, ...] = derived()
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
    "branch_scheme": BranchScheme,
    "omission": Omission,
    "panel": Panel,
    "circuit": Circuit,
    "section": Section,
    "joint": Joint,
    "coupling": Coupling,
    "space": Space,
    "box": Box,
    "compartment": Compartment,
    "marked_for": MarkedFor,
    "neighbors": Neighbors,
    "opposite": Opposite,
    "ring": Ring,
    "device": Device,
    "break": Break,
    "spacing": Spacing,
    "entry": Entry,
    "shared_entry": SharedEntry,
    "raceway": Raceway,
    "bend": Bend,
    "cable": Cable,
    "pull": Pull,
    "wire": Wire,
    "run": Run,
    "passage": Passage,
    "panel_bond": PanelBond,
    "elsewhere": Elsewhere,
    "circuit_leg": CircuitLeg,
    "circuit_path": CircuitPath,
    "bender": Bender,
    "course": Course,
    "path_end": PathEnd,
    "strap": Strap,
    "pair": Pair,
    "halves": Halves,
    "knockouts": Knockouts,
    "stack": Stack,
    "row": DeviceRow,
}


#: Elements that are part of another: in rules on them that one goes by its class, as by itself.
HOLDERS: dict[str, str] = {"compartment": "box"}

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
    "compartment": "compartments",
    "raceway": "raceways",
    "cable": "cables",
    "pull": "pulls",
    "run": "runs",
    "pair": "pairs",
}
