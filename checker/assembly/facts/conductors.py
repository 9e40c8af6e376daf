"""Pulls and wires: circuits, branches, what carries current, colours.

Which neutrals and travelers carry current follows from what is pulled together.
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
    facts: dict[tuple[str, ...], tuple[Any, Any, Any]] = field(default_factory=dict)
    pulls: dict[Circuit, list[Pull]] = field(default_factory=dict)
    paint: dict[str, tuple[str, str, str]] = field(default_factory=dict)
    resting: dict[Pull, int] = field(default_factory=dict)

    def of(self, pull: Pull, names: tuple[str, ...]) -> tuple[Any, Any, Any]:
        """The circuits, their branches, the largest breaker."""
        found = self.facts.get(names)
        if found is None:
            circuits = tuple([self.index.circuits[name] for name in names])
            breakers = [c.breaker if known(c.breaker) else gap(c, "breaker") for c in circuits]
            none = gap(pull, "circuit")
            breaker = if_known(lambda: max(breakers, default=none), *breakers)
            found = circuits, _branches(circuits), breaker
            if names:
                self.facts[names] = found
        for circuit in found[0]:
            self.pulls.setdefault(circuit, []).append(pull)
        return found


def _ambient(path: tuple[Any, ...], usual: Any) -> Any:
    """The highest ambient temperature along a route; the basis's where a raceway states none."""
    if not any(known(way.ambient) for way in path):
        return usual if known(usual) else Missing("basis.ambient", "`basis.ambient`")
    around = [way.ambient if known(way.ambient) else usual for way in path]
    return if_known(lambda: max(around), *around)


def pull_facts(pull: Pull, index: Index, shared: Shared) -> None:
    """Where a pull goes, what it belongs to, and the facts of its wires."""
    route = index.routes[pull]
    places = route.places
    first, last = places[0], places[-1]
    path: tuple[Any, ...] = tuple(route.ways)
    pull.path = path
    if pull.by == "site":
        pull.pulled = "site"
    pull.ambient = _ambient(path, index.assembly.basis.ambient)
    pull.boxes = tuple([p for p in places if isinstance(p, Box)])
    pull.ends = tuple([p for p in (first, last) if isinstance(p, Box)])
    pull.start = _place_name(first)
    pull.finish = _place_name(last)
    pull.spaces = ()
    pull.blind = tuple([p for p in (first, last) if isinstance(p, Coupling)])
    pull.joints = ()
    if len(places) > 2:
        joints = [index.joint_of(p) for p in places[1:-1] if isinstance(p, Coupling)]
        pull.joints = tuple([joint for joint in joints if joint is not None])
    circuits: Any
    if known(pull.circuit):
        circuits, branches, breaker = shared.of(pull, pull.circuit)
    else:
        # Signal wires need no branch circuit; any other wire without one is a gap.
        signals = all(wire.role == "signal" for wire in pull.wires)
        circuits = () if signals else gap(pull, "circuit")
        branches = _branches(circuits)
        breaker = gap(pull, "circuit")
    pull.circuits = circuits
    pull.breaker = breaker
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
    several: Any = ()
    if known(circuits) and len(circuits) > 1:
        # Whichever the file names first: what is not stated is reported in one order.
        several = tuple(sorted(circuits, key=lambda c: c.id))
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
        if known(circuits) and (type(wire.circuit) is not Missing or len(circuits) > 1):
            own = _candidates(wire, circuits, several)
            if own is not several:
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


def parallel_facts(pull: Pull) -> None:
    """The pulls and wires that are in parallel with those of a pull."""
    pull.parallel_pulls = ()
    pull.parallel_wires = ()
    circuits = [c for c in pull.circuits if c.parallel > 1] if known(pull.circuits) else []
    if not circuits:
        return
    ends = {pull.start, pull.finish}
    found = dict.fromkeys([p for c in circuits for p in c.pulls if {p.start, p.finish} == ends])
    pull.parallel_pulls = tuple(found)
    pull.parallel_wires = tuple(
        [w for p in found for w in p.conductors if any(c in circuits for c in w.circuits)]
    )


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


def _candidates(
    wire: Wire, circuits: tuple[Circuit, ...], several: tuple[Circuit, ...]
) -> tuple[Circuit, ...]:
    """The circuits of a pull that a wire may belong to: the one it names, or those of its phase.

    ``several`` are those of the pull in an order that the file does not decide.
    """
    if known(wire.circuit):
        return tuple([c for c in circuits if c.id == wire.circuit])
    if wire.role in UNGROUNDED and known(wire.phase):
        fitting = [c for c in several if not known(c.phases) or wire.phase in c.phases]
        if 0 < len(fitting) < len(circuits):
            return tuple(fitting)
    return several or circuits


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
    circuits: Any = wire.circuits
    if not known(circuits) or not circuits:
        return circuits if not known(circuits) else 1
    neutrals = [w for w in pull.wires if w.role == "neutral"]
    beside = [w for w in neutrals if known(w.circuit) == known(wire.circuit)]
    if known(wire.circuit):
        beside = [w for w in beside if w.circuit == wire.circuit]
    elif len(beside) < len(neutrals) and len(circuits) > 1:
        # Others name their circuit; which of the rest this one serves is not stated.
        return 1
    if sum([w.count for w in beside]) > max(c.parallel for c in circuits):
        # Each phase or circuit has a neutral of its own, or it is not stated which share one.
        return 1
    lack = lack_of(*[gap(c, "phases") for c in circuits if not known(c.phases)])
    if lack is not None:
        return lack
    phases = {phase for c in circuits for phase in c.phases}
    least, most, unclear, unsure = _phases_there(wire, pull, phases)
    fewer = _counted(least, circuits)
    if least == most:
        return fewer
    more = _counted(most, circuits)
    if known(fewer) and known(more) and fewer == more:
        return fewer
    return lack_of(*[gap(w, "phase") for w in unclear], *[gap(w, "circuit") for w in unsure])


def _counted(phases: int, circuits: tuple[Circuit, ...]) -> Any:
    """Whether a neutral counts with so many phases: 1 or 0, or what is missing."""
    if phases <= 1:
        return 1
    sources = [c.source for c in circuits]
    lack = lack_of(*sources)
    if lack is not None:
        return lack
    if phases == 2:
        wyes = [s.wye for s in sources]
        return if_known(lambda: int(any(wyes)), *wyes)
    nonlinear = [c.nonlinear if known(c.nonlinear) else gap(c, "nonlinear") for c in circuits]
    if any(known(n) and n for n in nonlinear):
        return 1
    return if_known(lambda: 0, *nonlinear)


def _phases_there(
    wire: Wire, pull: Pull, phases: set[str]
) -> tuple[int, int, list[Wire], list[Wire]]:
    """At least and at most how many of its circuits' phases go with a neutral.

    Also the wires that leave it unclear, by phase and by circuit.

    Where a home run parts, one phase may go on with the neutral alone, which then carries its
    current whole.  Stated phases decide.  Phase wires that do not state theirs are taken for other
    phases, as common practice draws them, as long as there are phases enough and no stated one
    comes twice.  A switched wire or a traveler without a stated phase is no further phase.
    """
    mine = set(wire.circuits)
    live = [w for w in pull.wires if w.role in UNGROUNDED and not mine.isdisjoint(w.circuits)]
    unsure = [w for w in live if not mine.issuperset(w.circuits)]
    sure = [w for w in live if w not in unsure]
    stated = {w.phase for w in sure if known(w.phase)} & phases
    unclear = [w for w in sure if w.role == "phase" and not known(w.phase)]
    unstated = sum([w.count for w in unclear])
    most = min(len(phases), len(stated) + unstated)
    least = len(stated)
    if unsure:
        also = {w.phase for w in unsure if known(w.phase)} & phases - stated
        unknown = sum([w.count for w in unsure if w.role == "phase" and not known(w.phase)])
        return least, min(len(phases), most + len(also) + unknown), unclear, unsure
    if not stated and (unstated < len(phases) or unstated % max(1, len(phases)) == 0):
        least = most
    elif not stated:
        least = 1
    elif len(stated) + unstated <= len(phases):
        named = sum([w.count for w in sure if w.role == "phase" and known(w.phase)])
        least = most if named == len(stated) else least
    return least, most, unclear, unsure
