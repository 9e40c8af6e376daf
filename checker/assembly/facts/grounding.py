"""Grounding conductors: which conductors each is there for, and what protects these."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import Missing, known
from checker.quantities.designations import WIRE_RANK

from ..records import Pull, Wire
from ..structure import Index, Way, ways_of
from .gaps import gap
from .roles import GROUNDS, UNGROUNDED


def breakers_of_wires(pull: Pull) -> None:
    """What protects each wire of a pull, and whether its wires are alike."""
    shared: Any = pull.breaker
    for wire in pull.wires:
        rating = shared
        if known(wire.circuit) and known(wire.circuits) and len(wire.circuits) == 1:
            own = wire.circuits[0]
            rating = own.breaker if known(own.breaker) else gap(own, "breaker")
        wire.breaker = rating
        wire.serves = ()
    pull.uniform = _uniform([w for w in pull.wires if w.role in UNGROUNDED])


def _uniform(wires: list[Wire]) -> Any:
    """Whether wires are alike, in themselves and in what protects them."""
    lacks: list[Any] = []
    for name in ("size", "material", "insulation"):
        lacks += [gap(w, name) for w in wires if not known(getattr(w, name))]
    if not lacks and len({(w.size, w.material, w.insulation) for w in wires}) > 1:
        return False
    if len({w.circuit if known(w.circuit) else "" for w in wires}) > 1:
        lacks += [w.breaker for w in wires if not known(w.breaker)]
        if not lacks and len({w.breaker for w in wires}) > 1:
            return False
    return Missing("wires", parts=lacks) if lacks else True


def ground_facts(index: Index) -> None:
    """Which conductors every grounding conductor is there for.

    Those of its own circuits in its pull.  Those of pulls without one that share a raceway with it:
    they are counted to the largest grounding conductor there, the first of several.
    """
    extra: dict[Wire, dict[Wire, None]] = {}
    for way in ways_of(index.assembly):
        if len(way.pulls) < 2:
            continue  # nothing is shared
        leader, bare = _in_way(way)
        if leader is not None and bare:
            live = (w for pull in bare for w in pull.wires if w.role in UNGROUNDED)
            extra.setdefault(leader, {}).update(dict.fromkeys(live))
    for pull in index.assembly.pulls:
        grounds = [w for w in pull.wires if w.role in GROUNDS]
        for wire in grounds:
            circuits = _own_circuits(wire, grounds, pull)
            served = circuits
            if known(circuits):
                mine = set(circuits)
                found = {
                    w: None
                    for w in pull.wires
                    if w.role in UNGROUNDED
                    and known(w.circuits)
                    and not mine.isdisjoint(w.circuits)
                }
                more = extra.get(wire)
                served = tuple(found | more if more else found)
            wire.serves = served


def _in_way(way: Way) -> tuple[Wire | None, list[Pull]]:
    """The largest grounding conductor in a raceway or cable, and the pulls without one."""
    leader: Wire | None = None
    without: list[Pull] = []
    for pull in way.pulls:
        grounds = [w for w in pull.wires if w.role == "ground"]
        if not grounds and pull.ungrounded:
            without.append(pull)
        for wire in grounds:
            if leader is None or _rank(wire) > _rank(leader):
                leader = wire
    return leader, without


def _rank(wire: Wire) -> float:
    return WIRE_RANK[wire.size] if known(wire.size) else -1


def _own_circuits(wire: Wire, grounds: list[Wire], pull: Pull) -> Any:
    """The circuits of its pull that a grounding conductor is there for, as a collection.

    Those that no other one names.  Where all of them name a circuit, the largest is there for the
    circuits that are left over; an isolated one beside an ordinary one is not.
    """
    circuits = pull.circuits
    if not known(circuits) or len(circuits) < 2:
        return circuits
    alike = [w for w in grounds if w.role == wire.role]
    if len(alike) < len(grounds) and wire.role == "isolated_ground" and known(wire.circuit):
        return tuple(c for c in circuits if c.id == wire.circuit)
    named = {w.circuit for w in alike if known(w.circuit)}
    rest = tuple(c for c in circuits if c.id not in named)
    free = [w for w in alike if not known(w.circuit)]
    if not known(wire.circuit):
        sizes = {w.size for w in free if known(w.size)}
        return gap(wire, "circuit") if len(sizes) > 1 else rest or circuits
    own = tuple(c for c in circuits if c.id == wire.circuit)
    return own + rest if not free and wire is max(alike, key=_rank) else own
