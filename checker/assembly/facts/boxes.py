"""Boxes and what is mounted in them: their own branch, the largest conductors of yokes, sides."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from itertools import combinations
from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known
from checker.quantities.designations import WIRE_RANK
from checker.quantities.patterns import Lazy

from ..aspects import coat
from ..records import Assembly, Box, Compartment, Device, Neighbors, Opposite
from ..structure import Index
from .gaps import describe, gap, lack_of, new
from .roles import GROUNDS

#: Names and numbers in a label.
_PARTS = Lazy(r"[a-z0-9]+")
#: Roles of wires that no yoke is counted by.
_UNCONNECTED = (*GROUNDS, "signal")


def own_branch(box: Box) -> Any:
    """The branch that a box is of itself: a panelboard's, or that of a cabinet which states one."""
    if box.kind == "panelboard":
        return (box.branch,) if known(box.branch) else gap(box, "branch")
    return (box.branch,) if box.kind == "cabinet" and known(box.branch) else ()


def elevation(box: Box) -> Any:
    """The upper coordinate of its place; a place of one coordinate tells no height."""
    at = box.at
    return at[1] if not isinstance(at, Missing) and len(at) > 1 else gap(box, "at")


def device_facts(box: Box, labels: str | Missing) -> None:
    """Largest conductor, plain color and label of every device; ``labels`` as by default."""
    for device in box.devices:
        device.largest = _largest(device, box)
        color = device.color
        device.base_color = coat(color)[0] if known(color) else color
        device.labeled = _labeled(device, labels)


def _labeled(device: Device, labels: str | Missing) -> Any:
    """Whether its label names panel and circuit: ``P-1``, ``P/1`` and ``Panel P, circuit 1``."""
    if type(device.label) is Missing:
        return labels == "panel_and_circuit" if known(labels) else gap(device, "label")
    source = device.source
    if not known(source):
        return source
    if not known(source.panel):
        return gap(source, "panel")
    words = _PARTS.findall(str(device.label).lower())
    named = _PARTS.findall(f"{source.panel} {source.id}".lower())
    return set(named) <= set(words)


def _largest(device: Device, box: Box) -> Any:
    """The largest conductor on a yoke: that of its circuit's wires that end or loop in the box."""
    kind = "signal" if device.kind in ("nurse_call", "data") else ""
    connected = box.ending + box.looped if box.looped else box.ending
    ending = [w for w in connected if w.role == kind] if kind else []
    if not ending:
        ending = [w for w in connected if w.role not in _UNCONNECTED]
    source = device.source
    sourced = known(source)
    sizes: set[str] = set()
    own_sizes: set[str] = set()
    unsure: set[str] = set()
    for wire in ending:
        size: Any = wire.size
        circuits = wire.circuits
        if type(size) is not Missing:
            sizes.add(size)
            if type(circuits) is Missing:
                unsure.add(size)
            elif sourced and source in circuits:
                own_sizes.add(size)
    if sourced:
        if own_sizes:
            # A wire whose circuit is not stated may be of the same one.
            return max(own_sizes | unsure, key=WIRE_RANK.__getitem__)
        if len(sizes) == 1 and connected:
            return sizes.pop()
        return Missing(
            "circuit", f"a wire of circuit {device.circuit} that ends in {describe(box)}"
        )
    if len(sizes) == 1:
        return sizes.pop()
    return Missing("circuit", f"`circuit` of {describe(device)}")


def place_facts(box: Box, index: Index) -> None:
    """Its section's record, and its location and material where it states none."""
    section = index.sections.get(box.section) if known(box.section) else None
    box.frame = section if section is not None else gap(box, "section")
    if not known(box.location):
        box.location = index.assembly.basis.location
    usual: Any = index.assembly.defaults.box_material
    if not known(box.material) and known(usual):
        box.material = usual


def compartment_facts(box: Box) -> None:
    """What is in each compartment of a box, and what no compartment names."""
    if not known(box.compartments):
        missing: Any = box.compartments
        box.unplaced = missing
        return
    never: Any = Missing("trade_size")
    for part in box.compartments:
        wiring, mounts = set(part.wiring), set(part.mounts)
        part.box = box
        part.kind = box.kind
        part.trade_size = part.width = part.height = part.depth = never
        part.material = box.material
        part.rings = ()
        part.gangs = 1
        part.internal_clamps = box.internal_clamps
        part.support_fittings = box.support_fittings
        part.terminal_blocks = box.terminal_blocks
        part.barrier = False
        part.compartments = part.unplaced = ()
        part.devices = tuple([d for d in box.devices if d.id in mounts])
        part.pulls = tuple([p for p in box.pulls if p.id in wiring])
        for name in ("ending", "passing", "looped"):
            wires = tuple([w for w in getattr(box, name) if w.pull.id in wiring])
            setattr(part, name, wires)
        part.wires = part.ending + part.passing + part.looped
    named = {name for part in box.compartments for name in (*part.wiring, *part.mounts)}
    there = [p.id for p in box.pulls] + [d.id for d in box.devices]
    box.unplaced = tuple([name for name in there if name not in named])


def neighbor_facts(box: Box) -> None:
    """Pairs of devices on circuits that no barrier separates, with the voltage between them."""
    parts = box.compartments if known(box.compartments) else ()
    sides: dict[Device, Compartment] = {d: part for part in parts for d in part.devices}
    powered = [d for d in box.devices if d.kind not in ("blank", "nurse_call", "data")]
    pairs = [
        (a, b)
        for a, b in combinations(powered, 2)
        if a not in sides or b not in sides or sides[a] is sides[b]
    ]
    if box.barrier and not parts and len(box.devices) <= 2:
        pairs = []  # the barrier can only be between the two
    box.neighbors = tuple(_neighbors(a, b) for a, b in pairs)


def _neighbors(first: Device, second: Device) -> Any:
    pair: Any = new(Neighbors)
    pair.first, pair.second = first, second
    a: Any = first.source
    b: Any = second.source
    lack: Any = lack_of(a, b)
    if lack is None:
        phases = [c.phases if known(c.phases) else gap(c, "phases") for c in (a, b)]
        lack = lack_of(a.source, b.source, *phases)
    if lack is not None:
        pair.one_panel = pair.voltage = lack
        return closed(pair)
    pair.one_panel = a.source is b.source
    if pair.one_panel:
        together = {*a.phases, *b.phases}
        panel = a.source
        voltage = panel.line_voltage if len(together) > 1 else 0.0
    else:
        parts = [c.source.phase_voltage for c in (a, b)]
        lack = lack_of(*parts)
        voltage = sum(parts) if lack is None else lack
    pair.voltage = voltage
    return closed(pair)


def opposite_facts(assembly: Assembly) -> None:
    """Which boxes stand on the other face of a box's section, and how far across."""
    by_section: dict[str, list[Box]] = {}
    for box in assembly.boxes:
        box.opposite = ()
        if known(box.section):
            by_section.setdefault(box.section, []).append(box)
    for section in assembly.sections:
        section.boxes = boxes = tuple(by_section.get(section.id, ()))
        for box in boxes:
            others = [o for o in boxes if o.side != box.side]
            box.opposite = tuple(_opposite(box, other) for other in others)


def _opposite(box: Box, other: Box) -> Any:
    found: Any = new(Opposite)
    found.box = other
    parts: list[Any] = [b.at if known(b.at) else gap(b, "at") for b in (box, other)]
    lack: Any = lack_of(*parts)
    found.distance = abs(parts[0][0] - parts[1][0]) if lack is None else lack
    return closed(found)
