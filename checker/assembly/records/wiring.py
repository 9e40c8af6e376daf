"""Conductors, and the pulls that they are in."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Any, Literal

from checker.documents.fields import derived, element, given, refers, unstated
from checker.documents.missing import Missing

from .kinds import (
    Branch,
    CableType,
    Current,
    Identifier,
    Insulation,
    Length,
    Material,
    Phase,
    Positive,
    Temperature,
    Voltage,
    WireSize,
)
from .record import Record

if TYPE_CHECKING:
    from .boxes import Box
    from .raceways import Raceway
    from .sections import Coupling, Joint, Space
    from .supply import Circuit


#: Ungrounded conductors first, then the neutral, then the grounds, by the first letters.
_ORDER = {"phase ": 0, "phase": 0, "switch": 1, "travel": 1, "neutra": 2, "ground": 4, "isolat": 4}


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
    circuit: Annotated[str, refers("circuit", narrower=True)] | Missing = unstated(
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

    @staticmethod
    def together(elements: Sequence[Any]) -> list[str]:
        """Wires by their pulls: ``W1 (phase A, phase B, neutral ×2)``."""
        pulls: dict[str, dict[str, int]] = {}
        # Collections have a wire once, or an item for each of its conductors.
        times = Counter(map(id, elements))
        for wire in {id(one): one for one in elements}.values():
            phase = "" if type(wire.phase) is Missing else f" {wire.phase}"
            counts = pulls.setdefault(wire.pull.id, {})
            number = max(times[id(wire)], wire.count)
            counts[wire.role + phase] = counts.get(wire.role + phase, 0) + number
        return [
            f"{pull} ({', '.join(f'{what} ×{n}' if n > 1 else what for what, n in counted)})"
            for pull, counts in pulls.items()
            for counted in [sorted(counts.items(), key=lambda c: (_ORDER.get(c[0][:6], 3), c[0]))]
        ]

    def describe(self) -> str:
        """Its role, phase and pull."""
        phase = "" if type(self.phase) is Missing else f" {self.phase}"
        return f"the {self.role}{phase} wire of pull {self.pull.id}"


@element
class Pull(Record):
    """Conductors pulled together along one route."""

    id: Identifier = given("the pull's name")
    circuit: tuple[Annotated[str, refers("circuit")], ...] | Missing = unstated(
        "the circuit, or a list of circuits that share a neutral or a grounding conductor"
    )
    through: tuple[Annotated[str, refers("raceway|cable")], ...] = given(
        "the raceways or the cable, in order"
    )
    wires: tuple["Wire", ...] = given("its conductors")
    loops: tuple[Annotated[str, refers("box", narrower=True)], ...] = given(
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
    tail: Length | Missing = unstated(
        "length of the conductors coiled at the first joint on its route for the part beyond it"
    )
    by: Literal["shop", "site"] = given(
        "whether the shop or the field crew makes it; what the field crew makes, it pulls",
        default="shop",
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
    beyond_joint: Length | Missing = derived("the length of its route beyond the first joint")
