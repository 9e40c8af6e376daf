"""Pulls and wires: circuits, branches, what carries current, colours.

Which neutrals and travelers carry current follows from what is drawn in together.
"""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from checker.documents.missing import Missing, known

from ..aspects import coat, finish, settled_colors
from ..records import Box, Circuit, Coupling, Pull, Wire
from ..structure import Index
from .gaps import gap, if_known, lack_of
from .roles import LIVE, UNGROUNDED


@dataclass(slots=True)
class Shared:
    """What pulls of the same circuits share, and the pulls of each circuit.

    paint: colours as written, with base, stripe and finish; resting: how many travelers of a pull
    are without current.
    """

    index: Index
    facts: dict[tuple[str, ...], tuple[Any, Any, Any, Any]] = field(default_factory=dict)
    pulls: dict[Circuit, list[Pull]] = field(default_factory=dict)
    paint: dict[str, tuple[str, str, str]] = field(default_factory=dict)
    resting: dict[Pull, int] = field(default_factory=dict)

    def of(self, pull: Pull, names: tuple[str, ...]) -> tuple[Any, Any, Any, Any]:
        """The circuits, their branches, the largest breaker, the outlets."""
        found = self.facts.get(names)
        if found is None:
            circuits = tuple([self.index.circuits[name] for name in names])
            breakers = [c.breaker if known(c.breaker) else gap(c, "breaker") for c in circuits]
            none = gap(pull, "circuit")
            breaker = if_known(lambda: max(breakers, default=none), *breakers)
            found = circuits, _branches(circuits), breaker, _outlets(circuits)
            if names:
                self.facts[names] = found
        for circuit in found[0]:
            self.pulls.setdefault(circuit, []).append(pull)
        return found


def pull_facts(pull: Pull, index: Index, shared: Shared) -> None:
    """Where a pull goes, what it belongs to, and the facts of its wires."""
    route = index.routes[pull]
    places = route.places
    first, last = places[0], places[-1]
    path: tuple[Any, ...] = tuple(route.ways)
    pull.path = path
    pull.boxes = tuple([p for p in places if isinstance(p, Box)])
    pull.ends = tuple([p for p in (first, last) if isinstance(p, Box)])
    pull.start = _place_name(first)
    pull.finish = _place_name(last)
    pull.spaces = ()
    pull.blind = tuple([p for p in (first, last) if isinstance(p, Coupling)])
    pull.joints = ()
    if len(places) > 2:
        joints = [p.joint for p in places[1:-1] if isinstance(p, Coupling) and known(p.joint)]
        pull.joints = tuple([index.joints[name] for name in joints])
    circuits: Any
    if known(pull.circuit):
        circuits, branches, breaker, outlets = shared.of(pull, pull.circuit)
    else:
        # Signal wires need no branch circuit; any other wire without one is a gap.
        signals = all(wire.role == "signal" for wire in pull.wires)
        circuits = () if signals else gap(pull, "circuit")
        branches = _branches(circuits)
        breaker = outlets = gap(pull, "circuit")
        if signals:
            outlets = _outlets(())
    pull.circuits = circuits
    pull.breaker = breaker
    pull.outlets = outlets
    _wires(pull, index, branches, shared)


def _wires(pull: Pull, index: Index, branches: Any, shared: Shared) -> None:
    """The facts of a pull's wires; what they share is found once."""
    conductors: list[Wire] = []
    add = conductors.append
    defaults = index.assembly.defaults.wire
    material: Any = defaults.material
    insulation = defaults.insulation
    colors = index.assembly.colors
    paint = shared.paint
    circuits = pull.circuits
    travelers = False
    sole: Any = None
    if known(circuits) and len(circuits) == 1:
        phases = circuits[0].phases
        sole = phases[0] if known(phases) and len(phases) == 1 else None
    for wire in pull.wires:
        wire.pull = pull
        if type(wire.material) is Missing and known(material):
            wire.material = material
        if type(wire.insulation) is Missing and known(insulation):
            wire.insulation = insulation
        if wire.count == 1:
            add(wire)
        else:
            conductors.extend([wire] * wire.count)
        own, own_branches, only = circuits, branches, sole
        if type(wire.circuit) is not Missing and known(circuits):
            own = tuple([c for c in circuits if c.id == wire.circuit])
            own_branches = _branches(own)
            phases = own[0].phases if len(own) == 1 else ()
            only = phases[0] if known(phases) and len(phases) == 1 else None
        wire.circuits = own
        wire.branches = own_branches
        role = wire.role
        if role == "phase":
            counted: Any = 1
            if only is not None and type(wire.phase) is Missing:
                wire.phase = only
        else:
            counted = 1 if role in LIVE else 0
            travelers = travelers or role == "traveler"
        wire.current_carrying = counted
        _paint(wire, paint)
        wire.settled_colors = settled_colors(wire, colors) if colors else ()
    for wire in pull.wires:
        # Neutrals last: which phases go with them is known once every wire has its phase.
        if wire.role == "neutral":
            counted = 1 if sole is not None else _neutral(wire, pull)
            wire.current_carrying = counted
    if travelers:
        shared.resting[pull] = _resting(pull)
    pull.conductors = tuple(conductors)
    pull.ungrounded = tuple([w for w in conductors if w.role in UNGROUNDED])


def _paint(wire: Wire, known: dict[str, tuple[str, str, str]]) -> None:
    """The parts of a wire's colour; ``known`` has those of every colour that was written before."""
    color: Any = wire.color
    if type(color) is Missing:
        wire.base_color = wire.stripe = wire.finish = color
    else:
        if color not in known:
            known[color] = (*coat(color), finish(color))
        wire.base_color, wire.stripe, wire.finish = known[color]
    mark: Any = wire.reidentified
    if type(mark) is Missing:
        wire.marking_color = "none"
        return
    wire.marking_color = coat(mark)[0]
    wire.finish = finish(mark)


def _resting(pull: Pull) -> int:
    """How many of a pull's travelers carry nothing: one of every two of the same circuit.

    A switch connects one of a pair at a time; conductors that cannot be live together are not
    counted together (310.15 of every edition, from memory).
    """
    together: dict[str, int] = {}
    for wire in pull.wires:
        if wire.role == "traveler":
            name = str(wire.circuit) if known(wire.circuit) else ""
            together[name] = together.get(name, 0) + wire.count
    return sum([number // 2 for number in together.values()])


def _place_name(place: Any) -> str:
    return place if isinstance(place, str) else str(place.id)


def _outlets(circuits: tuple[Circuit, ...]) -> Any:
    stated = [c.outlets if known(c.outlets) else gap(c, "outlets") for c in circuits]
    if any(known(o) and o == "several" for o in stated):
        return "several"
    return if_known(lambda: "single", *stated)


def _circuits_of(wire: Wire, pull: Pull) -> Any:
    if not known(pull.circuits):
        return pull.circuits
    circuits = pull.circuits
    if known(wire.circuit):
        return tuple(c for c in circuits if c.id == wire.circuit)
    return circuits


def _branches(circuits: Any) -> Any:
    """The branches of circuits, each once."""
    if not known(circuits):
        return circuits
    branches = [c.branch for c in circuits]
    if len(branches) == 1:
        return (branches[0],) if known(branches[0]) else branches[0]
    return if_known(lambda: tuple(dict.fromkeys(branches)), *branches)


def _neutral(wire: Wire, pull: Pull) -> Any:
    """1 when a neutral counts as current-carrying, 0 when not (310.15 of every edition)."""
    circuits = _circuits_of(wire, pull)
    if not known(circuits):
        return circuits
    poles = [c.poles for c in circuits]
    if len(circuits) > 1:
        neutrals = sum(
            w.count
            for w in pull.wires
            if w.role == "neutral" and known(w.circuit) == known(wire.circuit)
        )
        if neutrals > 1:
            # Each circuit has a neutral of its own, or it is not told which shares which: counted.
            return 1
    lack = lack_of(*[gap(c, "phases") for c in circuits if not known(c.phases)])
    if lack is not None:
        return lack
    there = _phases_there(wire, pull, {phase for c in circuits for phase in c.phases})
    if there <= 1 or not poles:
        return 1
    sources = [c.source for c in circuits]
    lack = lack_of(*sources)
    if lack is not None:
        return lack
    if there == 2:
        wyes = [s.wye for s in sources]
        return if_known(lambda: int(any(wyes)), *wyes)
    nonlinear = [c.nonlinear if known(c.nonlinear) else gap(c, "nonlinear") for c in circuits]
    if any(known(n) and n for n in nonlinear):
        return 1
    return if_known(lambda: 0, *nonlinear)


def _phases_there(wire: Wire, pull: Pull, phases: set[str]) -> int:
    """How many of its circuits' phases are drawn in with a neutral.

    Where a home run parts, one phase may go on with the neutral alone, which then carries its
    current whole.
    """
    live = [w for w in pull.wires if w.role in ("phase", "switched")]
    if known(wire.circuit):
        live = [w for w in live if not known(w.circuit) or w.circuit == wire.circuit]
    count = sum([w.count for w in live])
    if count >= len(phases):
        return len(phases)
    if all(known(w.phase) for w in live):
        return len({w.phase for w in live})
    return count
