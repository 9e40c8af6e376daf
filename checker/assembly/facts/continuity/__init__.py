"""Circuits followed from where they are supplied to every device on them.

A circuit is a graph: places (boxes, panels, the field) joined by the pulls that carry it.  What a
pull carries of a circuit is a set of lines, kept as bits: each pole by its phase, the neutral,
switched conductors, travelers.  A line is followed on its own, so that a pull without the neutral
carries the phases on and ends the neutral.  A conductor that is looped in a box is connected
there; one that passes it is not.

Supply comes from a panel or from the field where a pull ends there, from a box that houses the
circuit's panel, and from boxes that the circuit names as ``fed_at``; where that names raceways or
cables, from the field by these alone.  Switched conductors and
travelers are live from a switch of the circuit that is itself supplied.

Where the wires of a pull do not say which circuit or phase they belong to and are too few for all
of them, each of them may be there: the outcome is open where it depends on that.
"""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from checker.documents.missing import known

from ...records import Box, Circuit, Coupling, Pull
from ...structure import Index, Way
from .followed import Connections, Link, Place, follow
from .lines import LEG_SHIFT, PHASES, POLES, carried
from .reach import device_lines, unsupplied
from .wires import taken_by, wire_ends


def continuity(index: Index) -> None:
    """Follow every circuit, then find where each wire ends without use."""
    assembly = index.assembly
    edges: dict[Circuit, list[Link]] = {circuit: [] for circuit in assembly.circuits}
    along: dict[tuple[Way, Circuit], int] = {}
    ends = Connections()
    for pull, route in index.routes.items():
        places = _connected(pull, route.places, index)
        if any(wire.role == "signal" for wire in pull.wires):
            for place in places:
                if isinstance(place, Box):
                    ends.signals[place] = ends.signals.get(place, 0) + 1
        for circuit, (certain, possible) in carried(pull).items():
            edges[circuit].append(Link(pull, certain, possible, places))
            # A switched conductor or traveler of a phase goes with the others as the phase does.
            here = possible | possible >> LEG_SHIFT & POLES | _travelers(pull, circuit)
            for way in route.ways:
                along[way, circuit] = along.get((way, circuit), 0) | here
            for place in places:
                if isinstance(place, Box):
                    key = place, circuit
                    before = ends.once.get(key, 0)
                    ends.once[key] = before | possible
                    if before & possible:
                        ends.twice[key] = ends.twice.get(key, 0) | before & possible
    for box in assembly.boxes:
        for device in box.devices:
            taken_by(device, box, ends)
    housed = _housed(assembly.boxes)
    followed = {}
    for circuit in assembly.circuits:
        followed[circuit] = follow(circuit, edges[circuit], housed, index)
        device_lines(circuit, edges[circuit], followed[circuit], ends)
    for box in assembly.boxes:
        for device in box.devices:
            lack: Any = device.source
            if not known(lack):
                unsupplied(device, lack)
    for pull in assembly.pulls:
        pull.phases_along = _phases_along(pull, along)
        wire_ends(pull, followed, ends, index)


def _phases_along(pull: Pull, along: dict[tuple[Way, Circuit], int]) -> tuple[Any, ...]:
    """The phases of a pull's circuits that are in every raceway or cable of its route."""
    if not known(pull.circuits) or not any(c.poles != 1 for c in pull.circuits if known(c.poles)):
        return ()
    lines = POLES
    for way in pull.path:
        here = 0
        for circuit in pull.circuits:
            here |= along.get((way, circuit), 0)
        lines &= here
    return tuple([phase for phase, bit in PHASES.items() if lines & bit])


def _travelers(pull: Pull, circuit: Circuit) -> int:
    """The phases of a circuit's travelers in a pull, as bits."""
    lines = 0
    for wire in pull.wires:
        if wire.role == "traveler" and circuit in wire.circuits and known(wire.phase):
            lines |= PHASES[wire.phase]
    return lines


def _connected(pull: Pull, places: list[Any], index: Index) -> tuple[Place, ...]:
    """The places in which the conductors of a pull can be connected: its ends and its loops."""
    found = [p for p in (places[0], places[-1]) if not isinstance(p, Coupling)]
    return tuple(found + [index.ends[name] for name in pull.loops])


def _housed(boxes: Iterable[Box]) -> tuple[dict[str, list[Box]], list[Box]]:
    """Boxes by the panel that they house, and panelboards that do not say which."""
    by_panel: dict[str, list[Box]] = {}
    unsaid = []
    for box in boxes:
        if known(box.panel):
            by_panel.setdefault(box.panel, []).append(box)
        elif box.kind == "panelboard":
            unsaid.append(box)
    return by_panel, unsaid


__all__ = ["continuity"]
