"""Lines of circuits as bits, and what of them each pull carries."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import known

from ...records import Circuit, Pull

#: Lines of a circuit, as bits.  ``SWITCHED`` is a switched conductor of whatever phase.
PHASES = {"A": 1, "B": 2, "C": 4}
NEUTRAL, SWITCHED, TRAVELER, SIGNAL, ISOLATED = 8, 16, 32, 64, 128
#: Switched conductors of a known phase, beside ``SWITCHED``: the bits of the phases, shifted.
LEG_SHIFT = 8
POLES = 1 | 2 | 4
LEGS = POLES << LEG_SHIFT
LINE_OF = {"neutral": NEUTRAL, "switched": SWITCHED, "traveler": TRAVELER}
ALL = 2047
UNSWITCHED = ALL & ~(SWITCHED | TRAVELER | LEGS)
#: Lines that supply a device.
SUPPLYING = POLES | SWITCHED | TRAVELER | SIGNAL
#: Devices that use no conductor.
IDLE = ("blank",)
#: Devices that may be connected to a neutral.
LOADS = ("receptacle", "luminaire", "disconnect", "other")
SIGNAL_DEVICES = ("nurse_call", "data", "other")
#: Boxes in which conductors end at equipment that is not described device by device.
EQUIPMENT = ("panelboard", "cabinet", "transfer_equipment")

Lines = tuple[int, int]
"""Certain lines, and possible ones."""


def carried(pull: Pull) -> dict[Circuit, Lines]:
    """The lines of each of its circuits that a pull carries: certain, and possible."""
    circuits: Any = pull.circuits
    if not known(circuits) or not circuits:
        return {}
    found = dict.fromkeys(circuits, 0)
    several = len(circuits) > 1
    loose: dict[tuple[Circuit | None, int], int] = {}
    legs: dict[Circuit | None, int] = {}
    for wire in pull.wires:
        role = wire.role
        owners = wire.circuits
        owner = owners[0] if len(owners) == 1 else None
        if role == "phase":
            bit = PHASES[wire.phase] if known(wire.phase) else 0
            if owner is not None and bit:
                found[owner] |= bit
            else:
                loose[owner, bit] = loose.get((owner, bit), 0) + wire.count
        elif role == "switched" or role == "traveler":
            if owner is None:
                key = SWITCHED if role == "switched" else TRAVELER
                loose[None, key] = loose.get((None, key), 0) + wire.count
            elif role == "traveler":
                found[owner] |= TRAVELER
            else:
                found[owner] |= SWITCHED
                if known(wire.phase):
                    found[owner] |= PHASES[wire.phase] << LEG_SHIFT
                else:
                    legs[owner] = legs.get(owner, 0) + wire.count
        elif role != "ground" and role != "spare":
            line = {"neutral": NEUTRAL, "signal": SIGNAL, "isolated_ground": ISOLATED}[role]
            if line == NEUTRAL and owner is None:
                loose[None, NEUTRAL] = loose.get((None, NEUTRAL), 0) + wire.count
            else:
                for circuit in owners:
                    found[circuit] |= line
    if not loose and not legs:
        return {circuit: (lines, lines) for circuit, lines in found.items()}
    maybe = dict.fromkeys(circuits, 0)
    for circuit in circuits:
        _own_loose(circuit, loose, legs, found, maybe)
    if several:
        _shared_loose(circuits, loose, found, maybe)
    return {c: (found[c], found[c] | maybe[c]) for c in circuits}


def _own_loose(
    circuit: Circuit,
    loose: dict[tuple[Circuit | None, int], int],
    legs: dict[Circuit | None, int],
    found: dict[Circuit, int],
    maybe: dict[Circuit, int],
) -> None:
    """Wires of one circuit that do not state their phase: taken to be the next ones by name.

    Too few of them leave a pole without a conductor, whichever it is.  Switched wires may be of
    any phase.
    """
    wanted = poles_of(circuit)
    number = loose.get((circuit, 0), 0)
    for bit in PHASES.values():
        if number and wanted & ~found[circuit] & bit:
            found[circuit] |= bit
            number -= 1
    number = legs.get(circuit, 0)
    if number:
        rest = wanted << LEG_SHIFT & ~found[circuit]
        (found if number >= rest.bit_count() else maybe)[circuit] |= rest


def _shared_loose(
    circuits: tuple[Circuit, ...],
    loose: dict[tuple[Circuit | None, int], int],
    found: dict[Circuit, int],
    maybe: dict[Circuit, int],
) -> None:
    """Wires that name none of a pull's circuits: enough for all that are left, or unclear."""
    unnamed = loose.get((None, 0), 0)
    short = 0
    open_ones: dict[Circuit, int] = {}
    for bit in PHASES.values():
        rest = [c for c in circuits if poles_of(c) & ~found[c] & bit]
        number = loose.get((None, bit), 0)
        lines = found if number >= len(rest) else open_ones
        short += max(0, len(rest) - number)
        for circuit in rest:
            lines[circuit] = lines.get(circuit, 0) | bit
            if number and lines is open_ones:
                maybe[circuit] |= bit
    for circuit, bits in open_ones.items():
        if unnamed >= short:
            found[circuit] |= bits
        elif unnamed:
            maybe[circuit] |= bits
    for line, each in ((SWITCHED, 1), (TRAVELER, 2)):
        number = loose.get((None, line), 0)
        if number:
            lines = found if number >= each * len(circuits) else maybe
            for circuit in circuits:
                lines[circuit] |= line | (LEGS if line == SWITCHED else 0)
    number = loose.get((None, NEUTRAL), 0)
    if number:
        without = [c for c in circuits if not found[c] & NEUTRAL]
        needing = [c for c in without if _needs_neutral(c)]
        enough = number >= _neutrals_for(needing)
        for circuit in without:
            (found if enough or circuit not in needing else maybe)[circuit] |= NEUTRAL


def _needs_neutral(circuit: Circuit) -> bool:
    """Whether a circuit is taken to need a neutral: as it states, else where it has one pole."""
    if known(circuit.neutral):
        return circuit.neutral
    return known(circuit.phases) and len(circuit.phases) == 1


def _neutrals_for(circuits: list[Circuit]) -> int:
    """The fewest neutrals that circuits need: those of one panel on different phases share one."""
    alike: dict[tuple[str, str], int] = {}
    for circuit in circuits:
        if known(circuit.panel) and known(circuit.phases):
            for phase in set(circuit.phases):
                alike[circuit.panel, phase] = alike.get((circuit.panel, phase), 0) + 1
    fewest: dict[str, int] = {}
    for (panel, _), number in alike.items():
        fewest[panel] = max(fewest.get(panel, 1), number)
    return max(sum(fewest.values()), 1)


def poles_of(circuit: Circuit) -> int:
    """The phases of a circuit; A stands for the one that is not stated."""
    phases = circuit.phases
    if not known(phases):
        return 1
    return PHASES[phases[0]] if len(phases) == 1 else sum([PHASES[p] for p in set(phases)])
