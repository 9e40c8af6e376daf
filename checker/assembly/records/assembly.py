"""The whole assembly, and what its description leaves out on purpose."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from typing import TYPE_CHECKING, Literal

import checker.assembly.records.basis as basis
import checker.assembly.records.boxes as boxes
import checker.assembly.records.devices as devices
import checker.assembly.records.paths as paths
import checker.assembly.records.raceways as raceways
import checker.assembly.records.sections as sections
import checker.assembly.records.supply as supply
import checker.assembly.records.wiring as wiring
from checker.documents.fields import blank, derived, element, given, given_fields, unstated
from checker.documents.missing import Missing

from .basis import Basis, BranchScheme, ColorScheme, Defaults
from .boxes import Box, Compartment
from .kinds import Identifier, Length, Positive, Words
from .paths import Bender, DeviceRow, Pair
from .raceways import Cable, Raceway, Run
from .record import Record
from .sections import Coupling, Joint, Section, Space
from .supply import Circuit, Panel
from .wiring import Pull

_TOPICS = (basis, supply, sections, devices, boxes, raceways, paths, wiring)


def _details() -> tuple[str, ...]:
    """The kinds of detail that fields are declared with, each once."""
    records = [one for topic in _TOPICS for one in vars(topic).values() if isinstance(one, type)]
    named = [f.detail for one in records if issubclass(one, Record) for f in given_fields(one)]
    return tuple(dict.fromkeys(detail for detail in named if detail))


if TYPE_CHECKING:
    Detail = str
else:
    #: Kinds of detail that a description may leave out as a whole: those of the fields.
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
    benders: dict[str, Bender] = given("the benders of the shop, by their names", default={})
    clearance: Length | Missing = unstated(
        "least clear distance between raceways, and between raceways and boxes, that the "
        "project asks for"
    )
    rows: tuple[DeviceRow, ...] = given("the rows of devices that the project asks for", default=())
    runs: tuple[Run, ...] = derived("chains of raceways between pull points")
    pairs: tuple[Pair, ...] = derived(
        "raceways and boxes that come near each other, where paths and places tell"
    )
    compartments: tuple[Compartment, ...] = derived("the compartments of its boxes")
    described: tuple[Detail, ...] = derived("the kinds of detail that one element at least states")
    left_out: tuple[Detail, ...] = derived(
        "the kinds of detail that the description leaves out on purpose"
    )
    normal_colors: tuple[str, ...] = derived(
        "colors of its receptacles on normal circuits, in small letters"
    )
