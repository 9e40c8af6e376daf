"""What a design is judged on, and what holds where an element does not say otherwise."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from typing import Literal

from checker.documents.fields import blank, element, given, unstated
from checker.documents.missing import Missing

from .kinds import (
    Air,
    Branch,
    Date,
    Difference,
    Fitting,
    Identifier,
    Insulation,
    Length,
    Location,
    Material,
    Share,
    System,
    Temperature,
    Weight,
    WireSize,
)
from .record import Record


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
    category_by: Literal["governing_body", "others"] | Missing = unstated(
        "who assigned the categories of the spaces", detail="space_uses"
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
    size: WireSize | Missing = unstated(
        "size of the wires that `wires: by circuit` makes, where the circuit has none"
    )


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
    grounds_joined: bool | Missing = unstated("defaults.grounds_joined", detail="grounding")
    bonding_jumper: WireSize | Missing = unstated(
        "defaults.bonding_jumper", detail="receptacle_bonding"
    )
    box_material: Literal["metal", "nonmetallic"] | Missing = unstated(
        "what boxes are made of that do not say"
    )
    free_conductor: Length | Missing = unstated(
        "length of free conductor left in every box", detail="free_conductor"
    )
    labels: Literal["panel_and_circuit", "none"] | Missing = unstated(
        "what the labels of all devices name, unless a device has its own", detail="labels"
    )
    stock: Length | Missing = unstated("length of the conduit and tubing that the shop buys")
    tolerance: Length | Missing = unstated("how far the shop may be off a typed length or place")


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
