"""Where each wire of a pull ends without use, and whether a switch feeds it."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import known

from ...records import Box, Circuit, Device, Pull, Wire
from ...structure import Index
from .followed import Connections, Followed
from .lines import (
    ALL,
    EQUIPMENT,
    IDLE,
    ISOLATED,
    LINE_OF,
    NEUTRAL,
    PHASES,
    POLES,
    SIGNAL_DEVICES,
    SWITCHED,
    TRAVELER,
    poles_of,
)


def wire_ends(
    pull: Pull, followed: dict[Circuit, Followed], ends: Connections, index: Index
) -> None:
    """Where each wire of a pull ends without use, and whether a switch feeds it."""
    route = index.routes[pull]
    places = (route.places[0], route.places[-1])
    boxes = [p for p in places if isinstance(p, Box) and not p.reserved]
    # Wires of one line and owner are used alike: those of several circuits are all of the pull's.
    alike: dict[tuple[Circuit | None, int], int] = {}
    for wire in pull.wires:
        key = _owner(wire), _line(wire)
        alike[key] = alike.get(key, 0) + wire.count
    same: dict[tuple[Circuit | None, str, int], tuple[Any, bool, bool]] = {}
    for wire in pull.wires:
        owners: Any = wire.circuits
        if wire.role in ("ground", "spare"):
            wire.unused_in, wire.unswitched, wire.switched_elsewhere = (), False, False
        elif not known(owners):
            wire.unused_in = wire.unswitched = wire.switched_elsewhere = owners
        else:
            line, owner = _line(wire), _owner(wire)
            kind = owner, wire.role, line
            found = same.get(kind)
            if found is None:
                unused = [b.id for b in boxes if not _used(wire, alike[owner, line], b, ends)]
                dead = outside = False
                if wire.role in ("switched", "traveler"):
                    ways = [followed[c] for c in owners]
                    dead = not any(w.possible.get(p, 0) & line for w in ways for p in places)
                    outside = not dead and not any(
                        w.described.get(p, 0) & line for w in ways for p in places
                    )
                found = same[kind] = tuple(sorted(unused)), dead, outside
            wire.unused_in, wire.unswitched, wire.switched_elsewhere = found


def _owner(wire: Wire) -> Circuit | None:
    """The one circuit of a wire."""
    owners = wire.circuits
    return owners[0] if known(owners) and len(owners) == 1 else None


def _used(wire: Wire, number: int, box: Box, ends: Connections) -> bool:
    """Whether something in a box takes a wire that ends there, one of ``number`` alike.

    Wires that do not say which circuit or phase they belong to are used where as many conductors
    of their circuits are.
    """
    role = wire.role
    if box.kind in EQUIPMENT:
        return True
    if role == "signal":
        return ends.signals.get(box, 0) > 1 or any(d.kind in SIGNAL_DEVICES for d in box.devices)
    if box.kind == "luminaire" and role not in ("traveler", "isolated_ground"):
        return True
    wanted = used = 0
    line = _line(wire)
    for circuit in wire.circuits:
        lines = line & poles_of(circuit) if role == "phase" else line
        wanted += lines.bit_count()
        used += (lines & _taken(box, circuit, ends)).bit_count()
    if role == "phase" or role == "neutral":
        return used >= min(number, wanted)
    return used > 0


def _line(wire: Wire) -> int:
    if wire.role == "phase":
        return PHASES[wire.phase] if known(wire.phase) else POLES
    return LINE_OF.get(wire.role, ISOLATED)


def _taken(box: Box, circuit: Circuit, ends: Connections) -> int:
    """The lines of a circuit that are used in a box: spliced on, fed by others, or connected."""
    key = box, circuit
    found = ends.taken.get(key)
    if found is None:
        found = ends.twice.get(key, 0)
        if circuit.fed_at and box.id in circuit.fed_at:
            found = ALL
        found |= ends.by_devices.get(key, 0) | ends.by_any.get(box, 0)
        ends.taken[key] = found
    return found


def taken_by(device: Device, box: Box, ends: Connections) -> None:
    """Count the lines that a device takes; one that names no circuit may take those of any."""
    if device.kind in IDLE:
        return
    source = device.source
    if not known(source):
        if device.kind not in ("nurse_call", "data"):
            ends.by_any[box] = ALL
        return
    key = box, source
    lines = NEUTRAL | SWITCHED
    lines |= sum([PHASES[p] for p in device.phases]) if known(device.phases) else POLES
    if device.kind == "switch":
        lines |= TRAVELER
    else:
        ends.loads[key] = ends.loads.get(key, 0) + 1
    if device.isolated_ground:
        lines |= ISOLATED
    ends.by_devices[key] = ends.by_devices.get(key, 0) | lines
