"""What is mounted in boxes."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from typing import TYPE_CHECKING, Annotated, Literal

from checker.documents.fields import derived, element, given, refers, unstated
from checker.documents.missing import Missing

from .kinds import (
    Configuration,
    Current,
    Identifier,
    Length,
    Phase,
    Positive,
    Temperature,
    Weight,
    WireSize,
)
from .record import Record

if TYPE_CHECKING:
    from .boxes import Box
    from .supply import Circuit


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
    bonding_jumper: WireSize | Missing = unstated(
        "size of the copper jumper from that terminal to the box, as the defaults say unless "
        "stated",
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
