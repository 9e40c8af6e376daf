"""Raceways and cables, and the runs that couplings join them to."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

from typing import TYPE_CHECKING, Annotated, Literal

from checker.documents.fields import derived, element, given, refers, unstated
from checker.documents.missing import Missing

from .kinds import (
    Air,
    Angle,
    Branch,
    EndKind,
    Fitting,
    Identifier,
    Length,
    Location,
    Permission,
    Point,
    Temperature,
    TradeSize,
    Wall,
)
from .record import Record

if TYPE_CHECKING:
    from .paths import Bender, Course
    from .sections import Section, Space
    from .wiring import Pull, Wire


@element
class Bend(Record):
    """One bend of a raceway, as the shop makes it."""

    kind: Literal["bend", "kick", "offset", "saddle3", "saddle4"] = given(
        "bend, kick, offset, saddle3 or saddle4"
    )
    angle: Angle | Missing = unstated(
        "the angle of the bend, of an offset's two bends, of a saddle's center bend"
    )
    radius: Length | Missing = unstated("to the centerline", detail="bend_radius")
    total: Angle | Missing = derived("the degrees that it adds to the run")
    assumed: bool = derived(
        "whether its radius is stated nowhere and was taken as the least that its bender makes"
    )

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
    bender: Annotated[str, refers("bender")] | Missing = unstated(
        "what bends it: a bender of the shop by its name, one_shot for a one-shot or "
        "full-shoe bender, or other"
    )
    radius: Length | Missing = unstated(
        "radius of the corners of its path, to the center line, where its bender does not tell",
        detail="bend_radius",
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
    path: tuple[Point, ...] | Missing = unstated(
        "the corners of its center line in the section, from its start to its end: across, "
        "up, and depth from the front face of the framing; its length, bends and walls of "
        "entry follow from it where they are not stated"
    )
    section: Annotated[str, refers("section")] | Missing = unstated("the section it is in")
    side: Literal["front", "back"] = given("the face of the section it is on", default="front")
    reserved: bool = given(
        "whether it is left empty on purpose, as a spare or for others to pull", default=False
    )
    permission: Permission = given(
        "what permits it where nonflexible metal raceway is asked for", default="none"
    )
    concealed: bool = given("whether the finish hides it", default=False)
    by: Literal["shop", "site"] = given(
        "whether the shop or the field crew makes it", default="shop"
    )
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
        "length between the enclosures at its ends: that of its run, over every coupling; "
        "without what the field crew makes to no stated length"
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
    open_ended: bool = derived(
        "whether an end of that length is completed on site, or the field crew makes a part "
        "of it whose length is not stated"
    )
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
    tool: "Bender | Missing" = derived("the record of its bender")
    shoe: Literal["one_shot", "other"] | Missing = derived(
        "whether a one-shot or full-shoe bender bends it, or another"
    )
    course: "Course | Missing" = derived("what its path comes to")
    frame: "Section | Missing" = derived("the section's record")


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
    by: Literal["shop", "site"] = given(
        "whether the shop or the field crew makes it", default="shop"
    )
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
    open_ended: bool = derived(
        "whether an end of that length is completed on site, or the field crew makes it and "
        "its length is not stated"
    )
    sheathed: bool = derived("whether it is a cable")
    bundled: tuple["Cable", ...] = derived("the cables of its bundle, itself among them")
    bundle_wires: tuple["Wire", ...] = derived("the conductors of these, one item a conductor")
    bundle_carrying: int | Missing = derived("how many current-carrying conductors these have")
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
