"""Four of the rules written out by hand in straight-line Python, as somebody in a hurry would.

They read the same records and tables as the program and give the same measures and limits; a test
compares them.  The benchmark compares their speed with that of the compiled rules.
"""

from __future__ import annotations

import math
from typing import Any

from checker.documents.missing import known
from checker.paths import tables_folder
from checker.quantities.designations import WIRE_RANK
from checker.tables.collection import load_tables

EPSILON = 1e-9
_tables = load_tables(tables_folder()).for_edition("nec-2023")
_bore = _tables["raceway_dimensions"].getter("area")
_wire = _tables["conductor_dimensions"].getter("area")
_bare = _tables["conductor_properties"].getter("area")
_solid = _tables["conductor_properties"].getter("solid_area")
_allowance = _tables["volume_allowance"].getter("volume")
_box = _tables["standard_boxes"].getter("volume")
GROUNDS = ("ground", "isolated_ground")
LOW_VOLTAGE = ("nurse_call", "data", "blank")
_SIX = WIRE_RANK["6 AWG"]


def circuit_load(circuit: Any) -> tuple[Any, ...]:
    """Load with a quarter of its continuous part, in amperes, against the breaker."""
    counted = circuit.load + 0.25 * circuit.continuous_load
    volts = circuit.voltage * math.sqrt(circuit.poles) if circuit.poles > 2 else circuit.voltage
    amperes = counted / volts
    ok = amperes <= circuit.breaker or amperes - circuit.breaker <= EPSILON * circuit.breaker
    return ok, amperes, circuit.breaker, counted, volts


def bend_total(run: Any) -> tuple[Any, ...]:
    """Degrees between pull points against 360."""
    bent = sum([bend.total for bend in run.bends])
    return bent <= 360 or bent - 360 <= EPSILON * 360, bent, 360.0


def raceway_fill(raceway: Any) -> tuple[Any, ...] | None:
    """Conductors against the bore, by count where all are alike."""
    wires = raceway.wires
    if not wires:
        return None
    bore = _bore(raceway.method, raceway.size)
    areas = []
    for wire in wires:
        if wire.bare:
            areas.append(_solid(wire.size) if wire.solid else _bare(wire.size))
        elif known(wire.diameter):
            areas.append(0.7854 * wire.diameter**2)
        else:
            areas.append(_wire(wire.insulation, wire.size))
    total = len(areas)
    share = 0.53 if total == 1 else 0.31 if total == 2 else 0.40
    if not raceway.open_ended and raceway.span <= 24:
        share = max(share, 0.60)
    largest = max(areas)
    if largest == min(areas):
        exact = share * bore / largest
        room = math.floor(exact + EPSILON * max(1.0, exact))
        if exact - room >= 0.8 - EPSILON:
            room += 1
        return total <= room, total, room, bore, largest, share
    fill = sum(areas) / bore
    return fill <= share or fill - share <= EPSILON, fill, share, bore, largest


def box_fill(box: Any) -> tuple[Any, ...] | None:
    """Volume required against volume available, NEC 2023."""
    if box.kind not in ("outlet", "junction", "conduit_body") or not (box.wires or box.devices):
        return None
    if not any(w.role != "signal" for w in box.wires) and not any(
        d.kind not in LOW_VOLTAGE for d in box.devices
    ):
        return None
    if box.kind == "conduit_body" and not known(box.volume) and not box.ending:
        return None
    if not all(WIRE_RANK[w.size] <= _SIX for w in box.wires if w.role not in GROUNDS):
        return None
    needed = 0.0
    grounds = []
    for wire in box.ending + box.passing:
        if wire.role in GROUNDS:
            grounds.append(wire.size)
        elif not (wire.role == "signal" and known(wire.diameter) and not known(wire.size)):
            needed += _allowance(wire.size)
    for wire in box.looped:
        if wire.role in GROUNDS:
            grounds.append(wire.size)
        else:
            needed += 2 * _allowance(wire.size)
    if grounds:
        needed += max(map(_allowance, grounds)) * (1 + 0.25 * max(0, len(grounds) - 4))
    for device in box.devices:
        if device.kind not in ("blank", "luminaire"):
            needed += 2 * device.gangs * _allowance(device.largest)
    clamps, supports = box.internal_clamps, box.support_fittings
    fittings = (1 if known(clamps) and clamps else 0) + (supports if known(supports) else 0)
    fittings += box.terminal_blocks
    if fittings:
        needed += fittings * max(_allowance(wire.size) for wire in box.wires)
    room = box.volume if known(box.volume) else _box(box.trade_size)
    for ring in box.rings:
        room += ring.volume
    return needed <= room or needed - room <= EPSILON * room, needed, room
