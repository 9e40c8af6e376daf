"""Panelboards, and the circuits that come from them."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from typing import TYPE_CHECKING, Annotated, Literal

from checker.documents.fields import derived, element, given, refers, unstated
from checker.documents.missing import Missing

from .kinds import (
    Branch,
    Current,
    Identifier,
    Length,
    Load,
    Phase,
    Positive,
    Power,
    System,
    Temperature,
    Voltage,
    WireSize,
)
from .record import Record

if TYPE_CHECKING:
    from .devices import Device
    from .sections import Space
    from .wiring import Pull, Wire


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
    neutral: str | Missing = unstated(
        "color of the neutrals that `wires: by circuit` makes for its circuits"
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
    wire: WireSize | Missing = unstated("size of the wires that `wires: by circuit` makes for it")
    fed_at: tuple[Annotated[str, refers("box|raceway|cable", narrower=True)], ...] = given(
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
    neutral_pulled: bool | Missing = derived("whether at least one pull carries its neutral")
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
