"""What reaches each device of a circuit."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import Missing, known

from ...records import Box, Circuit, Device
from ..gaps import gap
from .breaks import breaks
from .followed import Connections, Followed, Link, either, poles_in
from .lines import (
    IDLE,
    LEG_SHIFT,
    LOADS,
    NEUTRAL,
    PHASES,
    POLES,
    SIGNAL,
    SUPPLYING,
    SWITCHED,
    TRAVELER,
    poles_of,
)


def device_lines(
    circuit: Circuit, edges: list[Link], followed: Followed, ends: Connections
) -> None:
    """What reaches each device of a circuit, and where the rest ends."""
    broken: list[tuple[Device, list[str]]] = []
    incomplete = False
    poles = poles_of(circuit)
    exact = followed.possible is followed.certain
    for device in circuit.devices:
        box = device.box
        own = device.phases
        wanted = sum([PHASES[p] for p in set(own)]) if known(own) else poles
        settled = known(own) or known(circuit.phases)
        device.pole_count = wanted.bit_count() if settled else gap(circuit, "phases")
        sure = followed.certain.get(box, 0)
        fed, neutral = _fed(device, sure, wanted), bool(sure & NEUTRAL)
        if exact:
            device.fed, device.neutral_arrives = fed, neutral
        else:
            maybe = followed.possible.get(box, 0)
            device.fed = either(fed, _fed(device, maybe, wanted), edges)
            device.neutral_arrives = either(neutral, bool(maybe & NEUTRAL), edges)
        here = ends.once.get((box, circuit), 0)
        device.connected = True if here & SUPPLYING else _unstated_pull(box, ends)
        if not known(device.connected) and not edges:
            device.fed = device.neutral_arrives = device.connected
        others = ends.loads.get((box, circuit), 0) - (device.kind != "switch")
        device.switching = bool(here & (SWITCHED | TRAVELER)) or others > 0
        device.takes_neutral = _takes_neutral(device, circuit)
        device.neutral_goes_on = any(
            ends.twice.get((box, other), 0) & NEUTRAL
            for other in (circuit, *circuit.neutral_partners)
        )
        device.lighting = _for_lighting(device, circuit)
        device.breaks = ()
        lacking = []
        if device.kind not in IDLE:
            if fed < wanted.bit_count():
                lacking += [f"phase {p}" for p, bit in PHASES.items() if _lacks(bit, wanted, sure)]
            if not neutral and known(device.takes_neutral) and device.takes_neutral:
                lacking.append("neutral")
        if lacking:
            broken.append((device, lacking))
            incomplete = incomplete or not edges or bool(here & SUPPLYING)
    circuit.incomplete = incomplete
    if broken:
        breaks(circuit, edges, followed, broken)


def _takes_neutral(device: Device, circuit: Circuit) -> Any:
    """Whether a device is connected to the neutral of its circuit.

    A load on one pole is, unless it says that it needs none; one on several is taken to be where
    the circuit has a neutral at all.
    """
    if device.kind not in LOADS or device.neutral_free:
        return False
    if known(circuit.neutral):
        return circuit.neutral
    pulled = circuit.neutral_pulled
    if known(pulled) and pulled:
        return True
    if not known(device.pole_count):
        return device.pole_count
    return device.pole_count == 1 or pulled


def _for_lighting(device: Device, circuit: Circuit) -> Any:
    """Whether a device is a switch for lighting; unknown where nothing on its circuit tells."""
    if device.kind != "switch":
        return False
    if known(device.controls):
        return "lighting" in device.controls
    if any(other.kind == "luminaire" for other in circuit.devices):
        return True
    return gap(device, "controls")


def _lacks(bit: int, wanted: int, lines: int) -> bool:
    return bool(wanted & bit & ~(lines | lines >> LEG_SHIFT))


def _fed(device: Device, lines: int, wanted: int) -> int:
    """How many of the poles that a device is on reach it."""
    number = wanted.bit_count()
    if device.kind == "switch":
        return number if lines & (POLES | SWITCHED | TRAVELER) else 0
    if device.kind in ("nurse_call", "data") and lines & SIGNAL:
        return number
    if number == 1 and lines & SWITCHED:
        return 1
    return poles_in(lines, wanted)


def _unstated_pull(box: Box, ends: Connections) -> Any:
    """Whether a pull in a box may be of any circuit, since it states none."""
    if box not in ends.unstated:
        lacks = [pull.circuits for pull in box.pulls if not known(pull.circuits)]
        ends.unstated[box] = lacks[0] if lacks else False
    return ends.unstated[box]


def unsupplied(device: Device, lack: Missing) -> None:
    """A device that names no circuit: nothing is known of what reaches it."""
    device.pole_count = device.fed = device.neutral_arrives = lack
    device.connected = device.switching = device.takes_neutral = lack
    device.neutral_goes_on = device.lighting = lack
    device.breaks = ()
