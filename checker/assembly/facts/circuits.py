"""Feeders, motor circuits and taps; how far circuits go; what is marked on their terminals."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known

from ..records import Circuit, CircuitLeg, CircuitPath, Panel, Pull
from ..structure import FIELD, Index
from .gaps import gap, lack_of, new, sum_of
from .roles import UNGROUNDED

#: A place that pulls meet in, by name; every end in the field is a place of its own.
Place = str | tuple[str, str]
#: The legs that leave a place, each with the place where it leads.
Graph = dict[Place, list[tuple[CircuitLeg, Place]]]
_CARRYING = (*UNGROUNDED, "neutral")
#: Ends between any two of which a way is looked for.
_MOST_STARTS = 12


def feeder_facts(index: Index) -> None:
    """Which circuits feed which panels, supply motors, or are taps of which."""
    feeders: dict[str, list[Circuit]] = {}
    for circuit in index.assembly.circuits:
        stated = (circuit.motor_current, circuit.mca, circuit.mocp)
        circuit.motor = any(known(value) for value in stated)
        if known(circuit.feeds) and not known(circuit.outlets):
            circuit.outlets = "feeder"
        circuit.feeder = known(circuit.outlets) and circuit.outlets == "feeder"
        circuit.paths = ()
        tapped: Any = index.circuits.get(circuit.tap_of) if known(circuit.tap_of) else None
        circuit.tapped = tapped if tapped is not None else gap(circuit, "tap_of")
        if known(circuit.feeds):
            feeders.setdefault(circuit.feeds, []).append(circuit)
    for panel in index.assembly.panels:
        panel.feeders = tuple(feeders.get(panel.id, ()))


def terminal_facts(pull: Pull, index: Index) -> None:
    """The length of a pull, and the temperatures marked where its wires may be terminated."""
    pull.length = sum_of([w.length if known(w.length) else gap(w, "length") for w in pull.path])
    circuits = pull.circuits if known(pull.circuits) else ()
    names = {circuit.id for circuit in circuits}
    marked = [
        d.terminals
        for box in pull.ends
        for d in box.devices
        if known(d.circuit) and d.circuit in names
    ]
    marked += [panel.terminals for panel in _panels(pull, circuits, index)]
    pull.marked_terminals = tuple(sorted({t for t in marked if known(t)}))


def _panels(pull: Pull, circuits: Iterable[Circuit], index: Index) -> list[Panel]:
    """Panels at the ends of a pull; where it ends in the field, those that its circuits have."""
    ends = {pull.start, pull.finish}
    if FIELD in ends:
        for circuit in circuits:
            ends.update(name for name in (circuit.panel, circuit.feeds) if known(name))
    return [panel for panel in index.assembly.panels if panel.id in ends]


def path_facts(circuit: Circuit) -> None:
    """Every way of a circuit from its panel, or from where it enters, to an end.

    Where neither the panel nor the field is an end, the way between any two ends may be the one
    that is used.  Pulls that meet in a ring, or that have very many ends, are taken one after the
    other: no way is longer than that.
    """
    graph = _graph(circuit)
    panel = circuit.panel if known(circuit.panel) else ""
    found: list[CircuitPath] = []
    seen: set[Place] = set()
    for place in graph:
        if place in seen:
            continue
        reached = _reached(graph, place)
        seen.update(reached)
        legs = tuple({leg: None for one in reached for leg, _ in graph[one]})
        ahead: Any = circuit.upstream if known(circuit.upstream) else gap(circuit, "upstream")
        ends = [one for one in reached if len(graph[one]) == 1]
        field: list[Place] = [one for one in ends if isinstance(one, tuple)]
        starts = field or ends
        sources: list[Place] = [one for one in reached if one == panel or one in _origins(circuit)]
        if sources:
            starts = sources
            ahead = circuit.upstream if known(circuit.upstream) else 0.0
        if len(legs) >= len(reached) or len(starts) > _MOST_STARTS:
            found.append(_path(legs, "every end", ahead))
            continue
        pairs: set[frozenset[Place]] = set()
        for start in starts:
            ways = _ways(graph, start)
            for end in ends:
                pair = frozenset((start, end))
                if end != start and pair not in pairs:
                    pairs.add(pair)
                    finish = end if isinstance(end, str) else FIELD
                    found.append(_path(ways[end], finish, ahead))
    circuit.paths = tuple(found)


def _origins(circuit: Circuit) -> set[str]:
    """The places that the circuit which a tap is made from reaches."""
    tapped = circuit.tapped
    if not known(tapped):
        return set()
    return {name for pull in tapped.pulls for name in (pull.start, pull.finish)}


def neutral_facts(circuits: Iterable[Circuit], pulls: Iterable[Pull]) -> None:
    """Which circuits share a neutral, and which are multiwire for it or by their own poles.

    Circuits of a pull that no neutral names share those that name none, where these are fewer;
    circuits that state that they need none do not.
    """
    with_neutral: set[Circuit] = set()
    sharing: dict[Circuit, dict[Circuit, None]] = {}
    for pull in pulls:
        neutrals = [wire for wire in pull.wires if wire.role == "neutral"]
        if not neutrals or not known(pull.circuits):
            continue
        named = {wire.circuit for wire in neutrals if known(wire.circuit)}
        rest = [c for c in pull.circuits if c.id not in named and not _without_neutral(c)]
        unnamed = sum(wire.count for wire in neutrals if not known(wire.circuit))
        with_neutral.update(c for c in pull.circuits if c.id in named or unnamed)
        if 0 < unnamed < len(rest):
            for circuit in rest:
                sharing.setdefault(circuit, {}).update(dict.fromkeys(rest))
    for circuit in circuits:
        others = [other for other in sharing.get(circuit, ()) if other is not circuit]
        circuit.neutral_partners = tuple(sorted(others, key=lambda other: str(other.id)))
        circuit.multiwire = bool(others) and not circuit.feeder
        if not others and circuit in with_neutral and not circuit.feeder:
            poles = circuit.poles
            circuit.multiwire = poles > 1 if known(poles) else gap(circuit, "phases")


def _without_neutral(circuit: Circuit) -> bool:
    """Whether it says that nothing on it is connected to a neutral."""
    return known(circuit.neutral) and not circuit.neutral


def _graph(circuit: Circuit) -> Graph:
    """How the legs of a circuit hang together; of several between two places, the longest."""
    longest: dict[frozenset[Place], tuple[CircuitLeg, list[Place]]] = {}
    for pull in circuit.pulls:
        leg = _leg(circuit, pull)
        if leg is None:
            continue
        ends: list[Place] = [
            (FIELD, f"{pull.id} {side}") if name == FIELD else name
            for side, name in (("start", pull.start), ("finish", pull.finish))
        ]
        earlier = longest.get(frozenset(ends))
        if earlier is None or _extent(pull) > _extent(earlier[0].pull):
            longest[frozenset(ends)] = leg, ends
    graph: Graph = {}
    for leg, ends in longest.values():
        graph.setdefault(ends[0], []).append((leg, ends[1]))
        graph.setdefault(ends[1], []).append((leg, ends[0]))
    return graph


def _extent(pull: Pull) -> tuple[bool, float, str]:
    """Orders pulls by length, those of unknown length last."""
    length = pull.length
    return (False, length, pull.id) if known(length) else (True, 0.0, pull.id)


def _reached(graph: Graph, start: Place) -> list[Place]:
    """The places that pulls connect with one, itself among them."""
    reached = {start: None}
    queue = deque([start])
    while queue:
        for _, place in graph[queue.popleft()]:
            if place not in reached:
                reached[place] = None
                queue.append(place)
    return list(reached)


def _ways(graph: Graph, start: Place) -> dict[Place, tuple[CircuitLeg, ...]]:
    """The legs from a place to every other one of its tree."""
    ways: dict[Place, tuple[CircuitLeg, ...]] = {start: ()}
    queue = deque([start])
    while queue:
        here = queue.popleft()
        for leg, place in graph[here]:
            if place not in ways:
                ways[place] = (*ways[here], leg)
                queue.append(place)
    return ways


def _leg(circuit: Circuit, pull: Pull) -> CircuitLeg | None:
    """The part of a circuit in a pull, or None where no wire there carries its load."""
    named = [w for w in pull.wires if not known(w.circuit) or w.circuit == circuit.id]
    wires = tuple([wire for wire in named if wire.role in _CARRYING])
    if not wires:
        return None
    leg = new(CircuitLeg)
    leg.pull = pull
    leg.length = pull.length
    leg.wires = wires
    made: CircuitLeg = closed(leg)
    return made


def _path(legs: tuple[CircuitLeg, ...], finish: str, ahead: float | Missing) -> CircuitPath:
    path = new(CircuitPath)
    path.legs = legs
    path.finish = finish
    path.ahead = ahead
    lengths = [leg.length for leg in legs]
    lack = lack_of(ahead, *lengths)
    path.length = sum_of([ahead, *lengths]) if lack is None else lack
    made: CircuitPath = closed(path)
    return made
