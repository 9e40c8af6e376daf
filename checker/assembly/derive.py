"""Fills in every derived fact, each computed in one place, in an order in which each finds its own.

The records are still open here, and frozen to everybody once this is done.  A fact that the
description does not determine is a ``Missing`` that names what is lacking.
"""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import known

from .aspects import normal_colors
from .details import described, left_out
from .facts.box_places import box_places
from .facts.boxes import (
    compartment_facts,
    device_facts,
    elevation,
    neighbor_facts,
    opposite_facts,
    own_branch,
    place_facts,
)
from .facts.circuits import feeder_facts, neutral_facts, path_facts, terminal_facts
from .facts.conductors import Shared, parallel_facts, pull_facts
from .facts.contents import contents
from .facts.continuity import continuity
from .facts.courses import close_bends, course_facts
from .facts.entries import entry_facts
from .facts.fault_paths import flexible_paths
from .facts.gaps import gap
from .facts.grounding import breakers_of_wires, ground_facts
from .facts.near import near_facts
from .facts.path_ends import coupling_facts, path_end_facts
from .facts.runs import rise_within, runs_of, way_shape
from .facts.sections import reaches
from .facts.sources import circuit_facts, panel_facts
from .facts.spaces import space_facts
from .facts.supports import gaps_at_couplings
from .facts.tails import tail_facts
from .records import Box, Panel
from .structure import FIELD, End, Index, ways_of
from .trade import Trade

__all__ = ["derive"]


def derive(index: Index, trade: Trade) -> None:
    """Fill in every derived field of the assembly that ``index`` describes.

    ``trade`` knows radii and diameters by trade size, which a description may leave to it.
    """
    assembly = index.assembly
    for section in assembly.sections:
        if not known(section.cavity) and known(section.depth):
            section.cavity = section.depth
    course_facts(index, trade)
    path_end_facts(index)
    coupling_facts(index)
    box_places(index)
    panel_facts(assembly.panels)
    for circuit in assembly.circuits:
        circuit_facts(circuit, index)
    feeder_facts(index)
    for way in ways_of(assembly):
        way_shape(way, assembly, index.sections)
    close_bends(index)
    shared = Shared(index)
    for pull in assembly.pulls:
        pull_facts(pull, index, shared)
    for circuit, pulls in shared.pulls.items():
        circuit.pulls = tuple(pulls)
    for pull in assembly.pulls:
        parallel_facts(pull)
        terminal_facts(pull, index)
    tail_facts(index)
    for circuit in assembly.circuits:
        path_facts(circuit)
    neutral_facts(assembly.circuits, assembly.pulls)
    contents(index, shared.resting)
    space_facts(index)
    for box in assembly.boxes:
        _box(box, index, trade)
    opposite_facts(assembly)
    parts = [box.compartments for box in assembly.boxes if known(box.compartments)]
    assembly.compartments = tuple([part for some in parts for part in some])
    assembly.runs = tuple(runs_of(index))
    for run in assembly.runs:
        gaps_at_couplings(run)
        reaches(run, index)
    for cable in assembly.cables:
        cable.span = cable.length if known(cable.length) else gap(cable, "length")
        cable.supported = bool(cable.supports) if known(cable.supports) else gap(cable, "supports")
        cable.straight = not cable.bends if known(cable.bends) else gap(cable, "bends")
        cable.open_ended = FIELD in (cable.from_, cable.to) or (
            cable.by == "site" and not known(cable.length)
        )
        cable.threaded = False
    flexible_paths(index)
    _kinds_of_ends(index)
    near_facts(index)
    for pull in assembly.pulls:
        breakers_of_wires(pull)
    ground_facts(index)
    continuity(index)
    assembly.described = described(assembly)
    assembly.left_out = left_out(assembly)
    assembly.normal_colors = normal_colors(assembly)


def _box(box: Box, index: Index, trade: Trade) -> None:
    box.own_branch = own_branch(box)
    box.luminaire = box.kind == "luminaire" or any(d.kind == "luminaire" for d in box.devices)
    box.transfer_equipment = box.kind == "transfer_equipment"
    box.two_sources = any(d.kind == "luminaire" and d.two_sources for d in box.devices)
    box.elevation = elevation(box)
    device_facts(box, index.assembly.defaults.labels)
    place_facts(box, index)
    compartment_facts(box)
    neighbor_facts(box)
    entry_facts(box, index, trade)


def _kinds_of_ends(index: Index) -> None:
    kinds: dict[str, Any] = {name: _kind(end) for name, end in index.ends.items()}
    for way in ways_of(index.assembly):
        way.from_kind = kinds[way.from_]
        way.to_kind = kinds[way.to]
    for raceway in index.assembly.raceways:
        rise_within(raceway, index)


def _kind(end: End) -> str:
    if isinstance(end, str):
        return "field"
    return "box" if isinstance(end, Box) else "panel" if isinstance(end, Panel) else "coupling"
