"""Grounding conductors: which conductors each is there for, and what protects these."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import known
from checker.quantities.designations import WIRE_RANK

from ..records import Circuit, Pull, Wire
from ..structure import Index
from .gaps import gap, if_known
from .roles import GROUNDS, UNGROUNDED


def breakers_of_wires(pull: Pull) -> None:
    """What protects each wire of a pull, and one of its power wires of each kind."""
    kinds: dict[Any, Wire] = {}
    shared = pull.circuits
    for wire in pull.wires:
        circuits = wire.circuits
        wire.breaker = pull.breaker if circuits is shared else _largest(circuits, wire)
        wire.serves = ()
        if wire.role in UNGROUNDED or wire.role == "neutral":
            kind = _kind(wire), wire.role == "neutral"
            there = kinds.setdefault(kind, wire)
            if there is not wire and _name(wire) < _name(there):
                kinds[kind] = wire  # whichever the file names first
    ordered = [kinds[kind] for kind in sorted(kinds)] if len(kinds) > 1 else list(kinds.values())
    pull.wire_kinds = tuple([w for w in ordered if w.role != "neutral"])
    pull.power_wires = tuple(ordered)


def _largest(circuits: Any, wire: Wire) -> Any:
    """The largest rating among the overcurrent devices of circuits, or what is missing of it."""
    if not known(circuits):
        return circuits
    ratings = [c.breaker if known(c.breaker) else gap(c, "breaker") for c in circuits]
    return if_known(lambda: max(ratings, default=gap(wire, "circuit")), *ratings)


def _kind(wire: Wire) -> tuple[Any, ...]:
    """What wires have in common that need not be told apart, as something with an order."""
    circuits = wire.circuits
    names = tuple(sorted([c.id for c in circuits])) if known(circuits) else ()
    material = wire.material if known(wire.material) else ""
    return _rank(wire), material, wire.insulation if known(wire.insulation) else "", names


def _name(wire: Wire) -> tuple[str, str]:
    return wire.role, wire.phase if known(wire.phase) else ""


def ground_facts(index: Index) -> None:
    """Which conductors every grounding conductor is there for, and on which a pull relies.

    A grounding conductor is there for the circuits of its own pull.  A pull without an ordinary one
    relies on those of the pulls that share its raceways (one may be there for several circuits,
    250.122(C)): on the largest in each, whichever pull has it.
    """
    for pull in index.assembly.pulls:
        own = [w for w in pull.wires if w.role in GROUNDS]
        for wire in own:
            circuits = _own_circuits(wire, own, pull)
            wire.serves = circuits
            if known(circuits):
                mine = set(circuits)
                wire.serves = tuple(
                    w
                    for w in pull.wires
                    if w.role in UNGROUNDED
                    and known(w.circuits)
                    and not mine.isdisjoint(w.circuits)
                )
                served = {c for w in wire.serves for c in w.circuits}
                wire.breaker = _largest([c for c in circuits if c in served], wire)
        if not pull.wire_kinds or any(w.role == "ground" for w in own):
            relied = own
        else:
            relied = own + [w for way in pull.path for w in _largest_of(way.wires)]
        pull.ground_wires = tuple(sorted(dict.fromkeys(relied), key=_order))


def _largest_of(wires: tuple[Wire, ...]) -> list[Wire]:
    """The largest ordinary grounding conductors of each material among wires."""
    grounds = [w for w in wires if w.role == "ground"]
    largest: dict[Any, float] = {}
    for wire in grounds:
        material = wire.material if known(wire.material) else None
        largest[material] = max(_rank(wire), largest.get(material, -1))
    return [w for w in grounds if _rank(w) == largest[w.material if known(w.material) else None]]


def _order(wire: Wire) -> tuple[Any, ...]:
    """What grounding conductors are put in order by: nothing that the file's order decides."""
    circuit = wire.circuit if known(wire.circuit) else ""
    return _rank(wire), str(wire.material), wire.role, circuit, wire.pull.id


def _rank(wire: Wire) -> float:
    return WIRE_RANK[wire.size] if known(wire.size) else -1


def _own_circuits(wire: Wire, grounds: list[Wire], pull: Pull) -> Any:
    """The circuits of its pull that a grounding conductor is there for, as a collection.

    Those that no other one names.  Where all of them name a circuit, each of the largest is there
    for the circuits that are left over; an isolated one beside an ordinary one is not.
    """
    circuits = pull.circuits
    if not known(circuits) or len(circuits) < 2:
        return circuits
    alike = [w for w in grounds if w.role == wire.role]
    if len(alike) < len(grounds) and wire.role == "isolated_ground" and known(wire.circuit):
        return tuple(c for c in circuits if c.id == wire.circuit)
    named = {w.circuit for w in alike if known(w.circuit)}
    rest: tuple[Circuit, ...] = tuple(c for c in circuits if c.id not in named)
    if not known(wire.circuit):
        return rest or circuits
    own = tuple(c for c in circuits if c.id == wire.circuit)
    if all(known(w.circuit) for w in alike) and _rank(wire) == max(_rank(w) for w in alike):
        return own + rest
    return own
