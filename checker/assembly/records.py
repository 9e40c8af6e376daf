"""The elements of a prefabricated assembly as typed records.

Each field says in its declaration what it is; the published schema, the editor help and the
language reference quote that.
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
    """The authority having jurisdiction, as the report shall name it."""

    name: str = given("who has jurisdiction", default="")
    reference: str = given("permit, application or agreement number", default="")


@element
class Passage(Record):
    """An opening that the sections pass on their way: a door, an elevator, a hoist."""

    id: Identifier = given("what it is")
    width: Length = given("clear width")
    height: Length = given("clear height")
    depth: Length | Missing = unstated(
        "clear depth inside, of an elevator car or where the way turns"
    )
    load: Weight | Missing = unstated("the weight that it carries")


@element
class Basis(Record):
    """What the design is judged on."""

    UNDER = "basis."

    edition: str = given("the adopted edition, such as nec-2023", default="nec-2023")
    amendments: tuple[str, ...] = given("amendment files, relative to this file", default=())
    permit_date: Date | Missing = unstated(
        "the date on which amendments in force are judged (YYYY-MM-DD)"
    )
    authority: Authority = given("the authority having jurisdiction", default=blank(Authority))
    health_care: bool | Missing = unstated("whether the assembly serves a health care facility")
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
    ) = unstated("the kind of facility, where it is one of health care")
    essential_system: Literal["type_1", "type_2", "none"] | Missing = unstated(
        "the type of its essential electrical system"
    )
    construction: Literal["open", "closed"] | Missing = unstated(
        "whether concealed parts can be inspected on site (open) or not without taking it "
        "apart (closed)",
        detail="inspection",
    )
    inspection: (
        Literal["site_open_face", "shop_ahj", "third_party", "listed", "field_evaluation"] | Missing
    ) = unstated("who inspects concealed parts, and where", detail="inspection")
    inspection_record: str = given(
        "the agency, label, insignia or listing file that shows it", default=""
    )
    route: tuple["Passage", ...] = given(
        "the narrowest openings on the way to the room", default=()
    )
    ambient: Temperature | Missing = unstated(
        "the highest ambient temperature around the conductors"
    )
    location: Location | Missing = unstated(
        "where the wiring is; taken as dry where it is not stated, which is reported"
    )
    temperature_change: Difference | Missing = unstated(
        "from the coldest to the hottest that raceways get, such as 60 delta_degF"
    )
    air: Air | Missing = unstated(
        "whether the space around the wiring is a plenum or a duct for environmental air, or none",
        detail="air",
    )
    building: tuple[str, ...] | Missing = unstated(
        "what amendments ask about the building, in their words, such as fire zone"
    )
    voltage_drop: Share | Missing = unstated(
        "the largest voltage drop of a circuit that the project permits, such as 3 %"
    )


@element
class WireDefaults(Record):
    """What a wire is made of where it does not say."""

    UNDER = "defaults.wire."

    material: Material | Missing = unstated("conductor material")
    insulation: Insulation | Missing = unstated("insulation type as marked, such as THHN")


@element
class Defaults(Record):
    """What holds for every element that does not say otherwise."""

    UNDER = "defaults."

    wire: WireDefaults = given("material and insulation of the wires", default=blank(WireDefaults))
    terminals: Temperature | Missing = unstated("marked temperature rating of the terminations")
    fitting: Fitting | Missing = unstated("what raceways enter boxes and panels with")
    bonded: bool | Missing = unstated(
        "whether the metal of raceways and cables is bonded at every box and panel as "
        "circuits of over 250 V to ground need it"
    )
    free_conductor: Length | Missing = unstated(
        "length of free conductor left in every box", detail="free_conductor"
    )
    labels: Literal["panel_and_circuit", "none"] | Missing = unstated(
        "what the labels of all devices name, unless a device has its own", detail="labels"
    )


@element
class ColorScheme(Record):
    """The conductor colors that the project has settled for one system."""

    system: System = given("the system the colors belong to", detail="color_schemes")
    A: tuple[str, ...] | Missing = unstated("colors that phase A may have")
    B: tuple[str, ...] | Missing = unstated("colors that phase B may have")
    C: tuple[str, ...] | Missing = unstated("colors that phase C may have")
    neutral: tuple[str, ...] | Missing = unstated("colors of the neutral")
    ground: tuple[str, ...] | Missing = unstated("colors of the equipment grounding conductor")
    isolated_ground: tuple[str, ...] | Missing = unstated(
        "colors of an isolated grounding conductor"
    )


@element
class BranchScheme(Record):
    """How the project tells one branch from the others, beyond what the code asks for."""

    branch: Branch = given("the branch")
    devices: tuple[str, ...] = given(
        "colors that the faces of its receptacles may have, in small letters", default=()
    )
    mark: str = given("what its boxes are marked with", default="")


@element
class PanelBond(Record):
    """A bonding conductor between the equipment grounding buses of two panelboards."""

    to: Annotated[str, refers("panel")] = given("the other panelboard")
    size: WireSize = given("size of the insulated copper conductor", detail="panel_bonds")


@element
class Panel(Record):
    """A panelboard, in or outside the assembly, from which circuits come."""

    id: Identifier = given("the panel's name")
    branch: Branch | Missing = unstated("the branch it belongs to")
    system: System | Missing = unstated("the system's voltages, such as 208Y/120")
    transfer_switch: str | Missing = unstated("the transfer switch that feeds it")
    phases: int | Missing = unstated(
        "how many phases its system has, 1 or 3, where the voltages leave it open"
    )
    rating: Current | Missing = unstated("current rating of the panelboard")
    main: Current | Missing = unstated(
        "rating of the overcurrent device that protects it, in it or just ahead of it"
    )
    terminals: Temperature | Missing = unstated(
        "marked temperature rating of its terminals, where it differs from the defaults"
    )
    isolated_power: bool = given(
        "whether it is an isolated power system (an isolation transformer)", default=False
    )
    bonded: tuple["PanelBond", ...] = given(
        "bonding conductors to the equipment grounding buses of other panelboards", default=()
    )
    line_voltage: Voltage | Missing = derived("between two phases")
    phase_voltage: Voltage | Missing = derived("from phase to neutral")
    wye: bool | Missing = derived("whether it is a 4-wire wye")
    feeders: tuple["Circuit", ...] = derived("the circuits that feed it")
    bonds: tuple["PanelBond", ...] = derived(
        "its bonding conductors, stated here or at the other panelboard"
    )
    bond_group: str = derived(
        "the first name, in order of the alphabet, of those that bonding conductors join it "
        "with, directly or over others; its own where there are none"
    )


@element
class Circuit(Record):
    """A branch circuit or feeder, protected by one overcurrent device."""

    id: Identifier = given("the circuit's name")
    panel: Annotated[str, refers("panel")] | Missing = unstated("the panel it comes from")
    phases: tuple[Phase, ...] | Missing = unstated(
        "one phase a pole; several for a multipole or multiwire circuit"
    )
    breaker: Current | Missing = unstated("rating of the overcurrent device")
    load: Power | Missing = unstated("total load")
    continuous_load: Power | Missing = unstated(
        "the part of the load that runs three hours or more"
    )
    outlets: Literal["several", "single", "lighting", "feeder"] | Missing = unstated(
        "several or a single one; lighting where all it supplies is lighting; feeder"
    )
    parallel: Positive = given(
        "how many conductors are connected in parallel for each pole", default=1
    )
    neutral_load: Power | Missing = unstated(
        "largest load between the neutral and one phase, for a neutral of several poles"
    )
    nonlinear: bool | Missing = unstated("whether most of the load is nonlinear")
    feeds: Annotated[str, refers("panel")] | Missing = unstated(
        "the panel that it supplies, where it is a feeder"
    )
    tap_of: Annotated[str, refers("circuit")] | Missing = unstated(
        "the circuit that it is a tap of; its own breaker is the device that it ends in"
    )
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
    ) = unstated("what kind of device protects it")
    disconnect: Literal["common", "handle_tie", "independent"] | Missing = unstated(
        "how the devices of its ungrounded conductors, or of the circuits that share its "
        "neutral, are opened: all by one handle and trip, by a handle tie, or each by itself"
    )
    motor_current: Current | Missing = unstated(
        "full-load current of the motor that it supplies, from the code's tables"
    )
    mca: Current | Missing = unstated(
        "minimum circuit ampacity on the nameplate of the equipment that it supplies"
    )
    mocp: Current | Missing = unstated("maximum overcurrent protection on that nameplate")
    upstream: Length | Missing = unstated("length of the circuit ahead of the assembly")
    gfci: bool = given(
        "whether its overcurrent device protects people against ground faults (Class A)",
        default=False,
    )
    afci: bool = given("whether its overcurrent device protects against arc faults", default=False)
    serves: tuple[Load, ...] | Missing = unstated(
        "what it supplies, by the lists of loads of the essential branches"
    )
    fire_protection: Literal["none", "sprinklered", "rated_cable", "rated_assembly", "concrete"] = (
        given("what protects it against fire on its way", default="none")
    )
    neutral: bool | Missing = unstated("whether anything on it is connected to the neutral")
    fed_at: tuple[Annotated[str, refers("box|raceway|cable")], ...] = given(
        "boxes in which wiring that is not part of this description brings it in, or the "
        "raceway or cable by which it comes from the field where it goes on to the field by "
        "others",
        default=(),
    )
    source: "Panel | Missing" = derived("the panel's record")
    branch: Branch | Missing = derived("the panel's branch")
    voltage: Voltage | Missing = derived(
        "between the circuit's ungrounded conductors, or to neutral with one pole"
    )
    poles: int | Missing = derived("how many phases the circuit has")
    pulls: tuple["Pull", ...] = derived("the pulls that carry it")
    spaces: tuple["Space", ...] = derived(
        "the spaces that it serves, by its devices and by the boxes that its pulls end in"
    )
    device_spaces: tuple["Space", ...] = derived("the spaces of the devices that it supplies")
    beyond: tuple["Space", ...] = derived(
        "the spaces of the devices that circuits of the panel it feeds supply"
    )
    devices: tuple["Device", ...] = derived("the devices that it supplies")
    feeder: bool = derived("whether it is a feeder, as feeds: or outlets: feeder says")
    motor: bool = derived(
        "whether it supplies a motor or a compressor, as its motor_current, mca or mocp says"
    )
    tapped: "Circuit | Missing" = derived("the record of the circuit that it is a tap of")
    neutral_partners: tuple["Circuit", ...] = derived(
        "the other circuits that share a neutral with it in a pull"
    )
    multiwire: bool | Missing = derived(
        "whether it is a branch circuit of several poles with a neutral, or shares one"
    )
    paths: tuple["CircuitPath", ...] = derived(
        "its ways from its panel, or from where it enters the assembly, to every end"
    )
    sources: tuple[str, ...] = derived(
        "where it is supplied from: its panel, field, or boxes that it is fed at"
    )
    poles_pulled: int | Missing = derived("how many of its poles at least one pull carries")
    neutral_pulled: bool = derived("whether at least one pull carries its neutral")
    incomplete: bool = derived(
        "whether a device that it is followed to does without one of its conductors"
    )


@element
class CircuitLeg(Record):
    """The part of a circuit that one pull carries (derived)."""

    pull: "Pull" = derived("the pull")
    length: Length | Missing = derived("its length")
    wires: tuple["Wire", ...] = derived(
        "its wires that carry the circuit's load: phase, neutral, switched and travelers"
    )


@element
class CircuitPath(Record):
    """One way of a circuit from its source to an end (derived)."""

    legs: tuple["CircuitLeg", ...] = derived("its parts, one a pull")
    finish: str = derived("the box, panel or field where it ends")
    ahead: Length | Missing = derived(
        "length ahead of these pulls: none where they start at the circuit's panel"
    )
    length: Length | Missing = derived("the sum of their lengths and of what is ahead")


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
        "patient_bed", "operating_room", "exam", "treatment", "corridor", "nurse_station", "other"
    ] = given("what the space is")
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


@element
class Ring(Record):
    """A plaster ring, extension or domed cover with a marked volume."""

    volume: Volume | Missing = unstated("marked volume")
    rise: Length | Missing = unstated("how far it stands out from the box")


@element
class Device(Record):
    """What is mounted on one yoke or strap."""

    id: Identifier = given("the device's name")
    kind: Literal[
        "receptacle", "switch", "luminaire", "nurse_call", "data", "disconnect", "blank", "other"
    ] = given("what the device is")
    circuit: Annotated[str, refers("circuit")] | Missing = unstated("the circuit that supplies it")
    gangs: Positive = given("how many gangs wide it mounts", default=1)
    receptacles: int | Missing = unstated(
        "how many receptacles on the yoke (a duplex has two)", detail="receptacles"
    )
    rating: Current | Missing = unstated("marked current rating", detail="ratings")
    listing: Literal["hospital_grade", "general", "weather_resistant", "other"] | Missing = (
        unstated("what it is listed as", detail="listings")
    )
    color: str | Missing = unstated("color of its face", detail="device_colors")
    marked: bool = given(
        "whether it or its plate carries a mark that tells the branch", default=False
    )
    isolated_ground: bool = given(
        "whether its grounding terminal is isolated from the yoke", default=False
    )
    depth: Length | Missing = unstated("how far it reaches behind its yoke", detail="device_depths")
    weight: Weight | Missing = unstated(
        "weight of a luminaire that the box supports", detail="device_weights"
    )
    independent: bool = given("whether the building supports it, not the box", default=False)
    grounding: (
        Literal["jumper", "self_grounding", "isolated", "surface_contact", "floor_box"] | Missing
    ) = unstated(
        "what connects the grounding terminal of a receptacle to the grounding conductor",
        detail="receptacle_bonding",
    )
    weather_resistant: bool = given(
        "whether a receptacle is listed as weather resistant", default=False
    )
    sink_distance: Length | Missing = unstated(
        "shortest way of a cord from a receptacle to the bowl of a sink", detail="sinks"
    )
    terminals: Temperature | Missing = unstated(
        "marked temperature rating of its terminals, where it differs from the defaults"
    )
    special_purpose: bool = given(
        "whether it is a special-purpose outlet, such as one for portable X-ray", default=False
    )
    two_sources: bool = given(
        "whether it is an exit or emergency luminaire that two sources supply", default=False
    )
    configuration: Configuration | Missing = unstated("the form of its contacts, such as 5-20")
    tamper_resistant: bool | Missing = unstated(
        "whether it, or its cover, is listed as tamper resistant"
    )
    gfci: bool = given(
        "whether it protects people against ground faults, or is protected so ahead of it",
        default=False,
    )
    label: str | Missing = unstated(
        "what its label says of the panel and the circuit", detail="labels"
    )
    phases: tuple[Phase, ...] | Missing = unstated(
        "the phases of its circuit that it is connected to, all of them unless stated"
    )
    neutral_free: bool = given("whether it needs no neutral", default=False)
    feed_through: bool | Missing = unstated(
        "whether the neutral goes on to other devices through its terminals, not a splice"
    )
    controls: tuple[Literal["lighting", "receptacles", "other"], ...] | Missing = unstated(
        "what a switch controls, where the devices on its circuit do not tell"
    )
    neutral_omitted: Literal["no", "reachable", "not_habitable", "seen_elsewhere", "automatic"] = (
        given("why the box of a switch for lighting may do without the neutral", default="no")
    )
    source: "Circuit | Missing" = derived("the circuit's record")
    largest: WireSize | Missing = derived("size of the largest conductor connected to the yoke")
    base_color: str | Missing = derived("the color in small letters; gray for grey")
    labeled: bool | Missing = derived("whether its label names its panel and circuit")
    box: "Box" = derived("the box it is in")
    connected: bool | Missing = derived(
        "whether a phase, switched or traveler wire of its circuit is connected in its box"
    )
    pole_count: int | Missing = derived("how many phases it is connected to")
    fed: int | Missing = derived(
        "how many of these reach its box from where the circuit is supplied, switched or not"
    )
    takes_neutral: bool | Missing = derived(
        "whether it is connected to the neutral: a load on one pole is, and one on several "
        "where the circuit has a neutral"
    )
    neutral_arrives: bool | Missing = derived(
        "whether the circuit's neutral reaches its box from there"
    )
    neutral_goes_on: bool | Missing = derived(
        "whether the neutral of its circuit, or one shared with it, is joined on in its box "
        "from one pull to another"
    )
    lighting: bool | Missing = derived(
        "whether it is a switch for lighting, as it says or a luminaire on its circuit does"
    )
    switching: bool | Missing = derived(
        "whether its box has a switched or traveler wire, or another device, of its circuit"
    )
    breaks: tuple["Break", ...] = derived("where the conductors end that do not reach it")


@element
class Break(Record):
    """Where a conductor of a circuit ends on its way to a device (derived)."""

    device: str = derived("the device that it does not reach")
    line: str = derived("the conductor: phase A, phase B, phase C or neutral")
    last: str = derived("the last place that it reaches")
    pull: str = derived(
        "the next pull on the way, which does not carry it; empty where there is none"
    )


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
    distance: Length | Missing = derived("the stated distance between the entries")
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
    internal_clamps: int = given("how many cable clamps inside; any number counts once", default=0)
    support_fittings: int = given("how many kinds of studs or hickeys inside", default=0)
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
    material: Literal["metal", "nonmetallic"] | Missing = unstated("metal or nonmetallic")
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
        Literal["smaller_dimensions", "opening_protection", "distribution_block"], ...
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
    gutter: Area | Missing = unstated("cross-sectional area of a cabinet's wiring space")
    distribution_blocks: int = given("how many power distribution blocks are inside", default=0)
    marking: str | Missing = unstated("what is permanently marked on it, such as EMERGENCY")
    reserved: bool = given(
        "whether it is left empty on purpose, as a spare or for others to wire", default=False
    )
    grounded: bool | Missing = unstated(
        "whether the grounding conductor is connected to a metal box", detail="grounding"
    )
    at: Point | Missing = unstated("place in the section, from its lower left corner: across, up")
    side: Literal["front", "back"] = given("the face of the section it is on", default="front")
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


@element
class Compartment(Record):
    """One side of a box that barriers divide."""

    id: Identifier = given("the compartment's name")
    volume: Volume | Missing = unstated("its share of the volume of the box")
    wiring: tuple[Annotated[str, refers("pull")], ...] = given(
        "the pulls whose conductors are in it", default=()
    )
    mounts: tuple[Annotated[str, refers("device")], ...] = given(
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
    internal_clamps: int = derived("those of the box")
    support_fittings: int = derived("those of the box")
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


@element
class Bend(Record):
    """One bend of a raceway, as the shop makes it."""

    kind: Literal["bend", "kick", "offset", "saddle3", "saddle4"] = given(
        "bend, kick, offset, saddle3 or saddle4"
    )
    angle: Angle | Missing = unstated(
        "the angle of the bend, of an offset's two bends, of a saddle's centre bend"
    )
    radius: Length | Missing = unstated("to the centerline", detail="bend_radius")
    total: Angle | Missing = derived("the degrees that it adds to the run")

    def describe(self) -> str:
        """Its kind."""
        return f"an {self.kind}" if self.kind == "offset" else f"a {self.kind}"


@element
class Raceway(Record):
    """One continuous piece of conduit or tubing with its bends, from end to end."""

    id: Identifier = given("the raceway's name")
    method: (
        Literal["EMT", "IMC", "RMC", "FMC", "LFMC", "LFNC", "ENT", "PVC40", "PVC80"] | Missing
    ) = unstated("the wiring method")
    size: TradeSize | Missing = unstated("trade size")
    from_: Annotated[str, refers("box|panel|coupling|field")] = given(
        "where it starts: a box, a panel, a coupling, or field"
    )
    to: Annotated[str, refers("box|panel|coupling|field")] = given("where it ends")
    length: Length | Missing = unstated("end to end along the centerline")
    bends: tuple["Bend", ...] | Missing = unstated("its bends, in order; [] for a straight piece")
    supports: tuple[Length, ...] | Missing = unstated(
        "where it is fastened, as distances from its start", detail="supports"
    )
    threaded: bool = given("whether it runs straight with threaded couplings", default=False)
    bender: Literal["one_shot", "other"] | Missing = unstated(
        "whether a one-shot or full-shoe bender makes the bends"
    )
    from_fitting: Fitting | Missing = unstated(
        "what it enters the box or panel at its start with (an insulating throat or bushing, "
        "a rounded metal fitting listed for it, a hub of the enclosure, or a plain one), as "
        "the defaults say unless stated"
    )
    to_fitting: Fitting | Missing = unstated("likewise at its end")
    bonded: bool | Missing = unstated(
        "whether its metal is bonded at both ends as circuits of over 250 V to ground need "
        "it, as the defaults say unless stated"
    )
    expansion: bool = given(
        "whether an expansion fitting takes up the change of its length", default=False
    )
    rise: Length | Missing = unstated(
        "how far it rises from one enclosure to the next; no more than its section is high "
        "unless stated, where both of its ends are boxes or panels"
    )
    edge_distance: Length | Missing = unstated(
        "from its nearest surface to the nearest edge of the framing where screws may go"
    )
    plates: bool = given(
        "whether steel plates or sleeves protect it from screws and nails", default=False
    )
    air: Air | Missing = unstated(
        "whether it runs in a plenum or a duct for environmental air, or none; as its section "
        "or the basis says unless stated",
        detail="air",
    )
    location: Location | Missing = unstated("where it runs, as the basis says unless stated")
    ambient: Temperature | Missing = unstated(
        "the highest ambient temperature around it, as the basis says unless stated"
    )
    from_wall: Wall | Missing = unstated("the wall of the box it starts at", detail="entry_walls")
    to_wall: Wall | Missing = unstated("the wall of the box it ends at", detail="entry_walls")
    from_row: int = given("the row of entries on that wall", default=1)
    to_row: int = given("the row of entries on that wall", default=1)
    path: tuple[Point, ...] | Missing = unstated("its points in the section, for the drawings")
    section: Annotated[str, refers("section")] | Missing = unstated("the section it is in")
    side: Literal["front", "back"] = given("the face of the section it is on", default="front")
    reserved: bool = given(
        "whether it is left empty on purpose, as a spare or for others to pull", default=False
    )
    permission: Permission = given(
        "what permits it where nonflexible metal raceway is asked for", default="none"
    )
    concealed: bool = given("whether the finish hides it", default=False)
    marking: Length | Missing = unstated(
        "the largest distance between marks of the emergency system on it"
    )
    wires: tuple["Wire", ...] = derived("every wire in it, one item a conductor")
    pulls: tuple["Pull", ...] = derived("the pulls that go through it")
    current_carrying: int | Missing = derived("how many current-carrying conductors it holds")
    angle: Angle | Missing = derived("the sum of its bends")
    longest_gap: Length | Missing = derived(
        "the longest distance between supports, or to an end; it goes on through couplings"
    )
    start_gap: Length | Missing = derived(
        "from its start to the next support, beyond couplings where it has none itself"
    )
    end_gap: Length | Missing = derived("from its end back to the next support, likewise")
    spaces: tuple["Space", ...] | Missing = derived("the spaces that its circuits serve")
    span: Length | Missing = derived(
        "length between the enclosures at its ends: that of its run, over every coupling"
    )
    supported: bool | Missing = derived("whether that length has a support anywhere")
    straight: bool | Missing = derived("whether that length has no bends")
    flexible_path: Length | Missing = derived(
        "FMC and LFMC in the fault path through it, from the panel to the last outlet of each "
        "of its circuits, where there is most"
    )
    bare_flexible_path: Length | Missing = derived(
        "likewise, of those only that no grounding conductor runs in"
    )
    open_ended: bool = derived("whether an end of that length is completed on site")
    sheathed: bool = derived("no; a cable is")
    bundled: tuple["Cable", ...] = derived("none; cables may be in a bundle")
    bundle_wires: tuple["Wire", ...] = derived("none; cables may be in a bundle")
    bundle_carrying: int | Missing = derived(
        "its own current-carrying conductors; cables may be in a bundle"
    )
    framing: Literal["wood", "metal", "none"] | Missing = derived("what its section is framed of")
    reaches: tuple[str, ...] | Missing = derived(
        "the sections that it reaches into; one where a single section can hold it"
    )
    from_kind: EndKind = derived("what it starts at")
    to_kind: EndKind = derived("what it ends at")
    own_branch: tuple[Branch, ...] = derived("none; a panelboard has one")
    barrier: bool = derived("no; a box may have one")
    luminaire: bool = derived("no; a box may be one")
    barrier_listed: bool = derived("no; a box may have one")
    transfer_equipment: bool = derived("no; a box may be")
    two_sources: bool = derived("no; a box may be")


@element
class Cable(Record):
    """An armored or metal-clad cable assembly; its conductors are a pull through it."""

    id: Identifier = given("the cable's name")
    method: Literal["AC", "MC", "AC-HCF", "MC-HCF"] | Missing = unstated(
        "the cable type; HCF marks the health care facility types"
    )
    from_: Annotated[str, refers("box|panel|field")] = given(
        "where it starts: a box, a panel, or field"
    )
    to: Annotated[str, refers("box|panel|field")] = given("where it ends")
    length: Length | Missing = unstated("end to end")
    supports: tuple[Length, ...] | Missing = unstated(
        "where it is fastened, as distances from its start", detail="supports"
    )
    diameter: Length | Missing = unstated("outside diameter")
    bends: tuple["Bend", ...] | Missing = unstated(
        "its bends, with their radius; [] where it has none"
    )
    bundle: str | Missing = unstated(
        "name of the bundle in which it touches other cables; none where spacing is maintained",
        detail="bundles",
    )
    jacketed: bool | Missing = unstated("whether it has a nonmetallic covering over its armor")
    bonded: bool | Missing = unstated(
        "whether its armor is bonded at both ends as circuits of over 250 V to ground need "
        "it, as the defaults say unless stated"
    )
    edge_distance: Length | Missing = unstated(
        "from its nearest surface to the nearest edge of the framing where screws may go"
    )
    plates: bool = given(
        "whether steel plates or sleeves protect it from screws and nails", default=False
    )
    air: Air | Missing = unstated(
        "whether it runs in a plenum or a duct for environmental air, or none; as its section "
        "or the basis says unless stated",
        detail="air",
    )
    location: Location | Missing = unstated("where it runs, as the basis says unless stated")
    ambient: Temperature | Missing = unstated(
        "the highest ambient temperature around it, as the basis says unless stated"
    )
    size: TradeSize | Missing = unstated(
        "the trade size of the raceway that its conductors would need"
    )
    from_wall: Wall | Missing = unstated("the wall of the box it starts at", detail="entry_walls")
    to_wall: Wall | Missing = unstated("the wall of the box it ends at", detail="entry_walls")
    from_row: int = given("the row of entries on that wall", default=1)
    to_row: int = given("the row of entries on that wall", default=1)
    path: tuple[Point, ...] | Missing = unstated("its points in the section, for the drawings")
    section: Annotated[str, refers("section")] | Missing = unstated("the section it is in")
    side: Literal["front", "back"] = given("the face of the section it is on", default="front")
    reserved: bool = given(
        "whether it is left empty on purpose, as a spare or for others to pull", default=False
    )
    permission: Permission = given(
        "what permits it where nonflexible metal raceway is asked for", default="none"
    )
    concealed: bool = given("whether the finish hides it", default=False)
    marking: Length | Missing = unstated(
        "the largest distance between marks of the emergency system on it"
    )
    wires: tuple["Wire", ...] = derived("every wire in it, one item a conductor")
    pulls: tuple["Pull", ...] = derived("the pulls that go through it")
    current_carrying: int | Missing = derived("how many current-carrying conductors it holds")
    longest_gap: Length | Missing = derived("the longest distance between supports")
    start_gap: Length | Missing = derived("from its start to the first support")
    end_gap: Length | Missing = derived("from the last support to its end")
    spaces: tuple["Space", ...] | Missing = derived("the spaces that its circuits serve")
    span: Length | Missing = derived("length between the enclosures at its ends: its own")
    supported: bool | Missing = derived("whether that length has a support anywhere")
    straight: bool | Missing = derived("whether that length has no bends")
    flexible_path: Length | Missing = derived(
        "FMC and LFMC in the fault path through it, from the panel to the last outlet of each "
        "of its circuits, where there is most"
    )
    bare_flexible_path: Length | Missing = derived(
        "likewise, of those only that no grounding conductor runs in"
    )
    open_ended: bool = derived("whether an end of that length is completed on site")
    sheathed: bool = derived("whether it is a cable")
    bundled: tuple["Cable", ...] = derived("the cables of its bundle, itself among them")
    bundle_wires: tuple["Wire", ...] = derived("the conductors of these, one item a conductor")
    bundle_carrying: int | Missing = derived("how many current-carrying conductors these have")
    beside: tuple["Cable", ...] = derived("the cables between the same two ends, itself among them")
    framing: Literal["wood", "metal", "none"] | Missing = derived("what its section is framed of")
    from_kind: EndKind = derived("what it starts at")
    to_kind: EndKind = derived("what it ends at")
    threaded: bool = derived("never; raceways only may be")
    own_branch: tuple[Branch, ...] = derived("none; a panelboard has one")
    barrier: bool = derived("no; a box may have one")
    luminaire: bool = derived("no; a box may be one")
    barrier_listed: bool = derived("no; a box may have one")
    transfer_equipment: bool = derived("no; a box may be")
    two_sources: bool = derived("no; a box may be")


@element
class Wire(Record):
    """One conductor of a pull, from end to end along its route."""

    role: Literal[
        "phase", "neutral", "ground", "isolated_ground", "switched", "traveler", "spare", "signal"
    ] = given("what the conductor is for")
    phase: Phase | Missing = unstated(
        "the phase of a phase wire; its circuit's where that has one phase only"
    )
    size: WireSize | Missing = unstated("wire size")
    color: str | Missing = unstated("color of the insulation", detail="wire_colors")
    count: Positive = given("how many such wires", default=1)
    bare: bool = given("whether it has no insulation", default=False)
    material: Material | Missing = unstated("conductor material, as the defaults say unless stated")
    insulation: Insulation | Missing = unstated(
        "insulation type, as the defaults say unless stated"
    )
    circuit: Annotated[str, refers("circuit")] | Missing = unstated(
        "which of the pull's circuits it belongs to, where they are several"
    )
    diameter: Length | Missing = unstated("overall diameter of a signal cable")
    solid: bool = given("whether it is solid, not stranded", default=False)
    voltage: Voltage | Missing = unstated(
        "voltage rating of its insulation, where it is not the usual 600 V"
    )
    cable_type: CableType | Missing = unstated(
        "the type marked on a signal cable, such as CL2P", detail="signal_cables"
    )
    service: Literal["class_2", "class_3", "fire_alarm", "communications"] | Missing = unstated(
        "the kind of limited-energy circuit that a signal cable carries", detail="signal_cables"
    )
    reidentified: str | Missing = unstated(
        "the color that it is marked with where it can be seen, such as black tape on white"
    )
    pull: "Pull" = derived("the pull it belongs to")
    current_carrying: int | Missing = derived(
        "1 when it counts as current-carrying, otherwise 0; of two travelers of a circuit one "
        "counts, which its raceway knows"
    )
    branches: tuple[Branch, ...] | Missing = derived("the branches of the circuits that it serves")
    circuits: tuple["Circuit", ...] | Missing = derived(
        "its circuit, or all those of the pull that it may belong to"
    )
    breaker: Current | Missing = derived(
        "largest rating among the overcurrent devices of these circuits"
    )
    serves: tuple["Wire", ...] | Missing = derived(
        "the phase and switched wires and travelers that a grounding conductor is there for"
    )
    base_color: str | Missing = derived(
        "the color without its stripes, in small letters; gray for grey"
    )
    stripe: str | Missing = derived("the color of its stripes, or none")
    finish: str | Missing = derived(
        "its color as colors are compared, such as ``white/red`` for ``White with red "
        "stripe``; that of its marking where it is re-identified"
    )
    marking_color: str = derived(
        "the color it is re-identified with, without stripes; none where it is not"
    )
    settled_colors: tuple[str, ...] | Missing = derived(
        "the colors that the project's scheme gives it, as they are compared; none where it "
        "gives none"
    )
    unused_in: tuple[str, ...] | Missing = derived(
        "the boxes in which it ends and nothing of its circuit takes it or goes on"
    )
    unswitched: bool | Missing = derived(
        "whether it is a switched wire or traveler that no switch of its circuit feeds"
    )
    switched_elsewhere: bool | Missing = derived(
        "whether only a switch that is not described could feed it, by a box under fed_at, "
        "though a switch of its circuit is described"
    )

    def describe(self) -> str:
        """Its role, phase and pull."""
        phase = "" if type(self.phase) is Missing else f" {self.phase}"
        return f"the {self.role}{phase} wire of pull {self.pull.id}"


@element
class Pull(Record):
    """Conductors drawn in together along one route."""

    id: Identifier = given("the pull's name")
    circuit: tuple[Annotated[str, refers("circuit")], ...] | Missing = unstated(
        "the circuit, or a list of circuits that share a neutral or a grounding conductor"
    )
    through: tuple[Annotated[str, refers("raceway|cable")], ...] = given(
        "the raceways or the cable, in order"
    )
    wires: tuple["Wire", ...] = given("its conductors")
    loops: tuple[Annotated[str, refers("box")], ...] = given(
        "the boxes in which the wires are looped at least twice the free length", default=()
    )
    short_part: bool = given(
        "whether the part of its route with the lowest ampacity is taken at the ampacity of "
        "the rest, being short (10 ft or 10 percent)",
        default=False,
    )
    pulled: Literal["shop", "site"] = given(
        "whether the shop or the site draws it in", default="shop"
    )
    circuits: tuple["Circuit", ...] | Missing = derived("the circuits' records")
    conductors: tuple["Wire", ...] = derived("its wires, one item a conductor")
    path: tuple["Raceway", ...] = derived("the raceways or cable, as records")
    boxes: tuple["Box", ...] = derived("the boxes that it ends in or passes")
    ends: tuple["Box", ...] = derived(
        "the boxes at its two ends (a panel or the field leaves one out)"
    )
    start: str = derived("what the route starts at: a box, a panel, or field")
    finish: str = derived("what the route ends at")
    breaker: Current | Missing = derived("largest rating among its circuits' overcurrent devices")
    spaces: tuple["Space", ...] | Missing = derived("the spaces that its circuits serve")
    ungrounded: tuple["Wire", ...] = derived(
        "its phase and switched wires and travelers, one item a conductor"
    )
    wire_kinds: tuple["Wire", ...] = derived(
        "one of these of each size, material, insulation and circuit, the smallest size first"
    )
    power_wires: tuple["Wire", ...] = derived("these and its neutrals, likewise")
    ground_wires: tuple["Wire", ...] = derived(
        "the grounding conductors that its circuits rely on, the smallest size first: its "
        "own, and where it has no ordinary one the largest in each raceway or cable on its "
        "route"
    )
    parallel_pulls: tuple["Pull", ...] = derived(
        "the pulls with conductors in parallel with its own, itself among them: those of the "
        "same circuits between the same ends; none unless a circuit states parallel "
        "conductors"
    )
    parallel_wires: tuple["Wire", ...] = derived(
        "the conductors of those circuits in them, one item a conductor"
    )
    joints: tuple["Joint", ...] = derived("the joints that it crosses, in order")
    blind: tuple["Coupling", ...] = derived(
        "the couplings that it ends at, where nothing can be reached"
    )
    length: Length | Missing = derived("the sum of the lengths of what it goes through")
    ambient: Temperature | Missing = derived("the highest ambient temperature along its route")
    marked_terminals: tuple[Temperature, ...] = derived(
        "the temperatures marked on the devices and panels at its ends"
    )
    phases_along: tuple[Phase, ...] = derived(
        "the phases of its circuits that go all its way with it, by any pull"
    )


@element
class Run(Record):
    """The chain of raceways, joined by couplings, between two pull points."""

    id: Identifier = derived(
        "its raceways' names joined by +, from the end that the file names first"
    )
    raceways: tuple["Raceway", ...] = derived("its raceways in that order")
    bends: tuple["Bend", ...] | Missing = derived("all its bends")
    methods: tuple[str, ...] | Missing = derived("the wiring methods of its raceways, each once")
    angle: Angle | Missing = derived("the sum of its bends")
    length: Length | Missing = derived("the sum of its lengths")
    start: str = derived("the pull point it starts at, or field")
    finish: str = derived("the pull point it ends at, or field")
    field: bool = derived("whether an end is completed on site")
    crosses: int = derived("how many couplings it goes through")


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
    """A kind of detail that the description leaves out on purpose."""

    topic: Detail = given("the kind of detail")
    reason: Words = given("why it is left out, and where it is settled instead")
    by: Words = given("who decided to leave it out")


@element
class Assembly(Record):
    """One prefabricated unit type: sections, boxes, raceways, cables, conductors, devices."""

    id: Identifier = given("the type's name", key="assembly")
    title: str = given("what it is", default="")
    revision: str = given("the design revision", default="")
    quantity: Positive = given("how many are built", default=1)
    project: str = given("the project it is for", default="")
    listing: Literal["none", "headwall", "furnishing", "other"] = given(
        "what the assembly as a whole is listed as", default="none"
    )
    basis: Basis = given("what the design is judged on", default=blank(Basis))
    defaults: Defaults = given("what holds where an element does not say", default=blank(Defaults))
    not_covered: tuple[Omission, ...] = given(
        "the kinds of detail that the description leaves out on purpose, with reasons", default=()
    )
    colors: tuple[ColorScheme, ...] = given(
        "the conductor colors settled for the project", default=()
    )
    branch_scheme: tuple[BranchScheme, ...] = given(
        "device colors and box marks settled for the project, by branch", default=()
    )
    panels: tuple[Panel, ...] = given("the panels that its circuits come from", default=())
    circuits: tuple[Circuit, ...] = given("the circuits it carries", default=())
    sections: tuple[Section, ...] = given("its shipped parts", default=())
    joints: tuple[Joint, ...] = given("where they meet", default=())
    couplings: tuple[Coupling, ...] = given("couplings between raceways", default=())
    spaces: tuple[Space, ...] = given("the spaces it serves", default=())
    boxes: tuple[Box, ...] = given("its enclosures", default=())
    raceways: tuple[Raceway, ...] = given("its conduit and tubing", default=())
    cables: tuple[Cable, ...] = given("its cable assemblies", default=())
    pulls: tuple[Pull, ...] = given("its conductors", default=())
    runs: tuple[Run, ...] = derived("chains of raceways between pull points")
    compartments: tuple[Compartment, ...] = derived("the compartments of its boxes")
    described: tuple[Detail, ...] = derived("the kinds of detail that one element at least states")
    left_out: tuple[Detail, ...] = derived(
        "the kinds of detail that the description leaves out on purpose"
    )
    normal_colors: tuple[str, ...] = derived(
        "colors of its receptacles on normal circuits, in small letters"
    )


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
}
