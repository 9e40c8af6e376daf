"""What follows from the description: contents, runs, current-carrying counts, branches present.

Every derived fact is computed here, once, and set on its record: the records are still open, and
frozen to everybody once this is done.  A fact that the description does not determine is a
``Missing`` that names what is lacking.
"""

# mypy: disable-error-code="misc"
# Everybody else has these records read-only; this is where they are written.

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from checker.documents.fields import closed, opened
from checker.documents.missing import Missing, MissingData, known
from checker.quantities.designations import TRADE_RANK, WIRE_RANK

from .aspects import coat, described, finish, normal_colors, settled_colors
from .records import (
    Assembly,
    Box,
    Cable,
    Circuit,
    Coupling,
    Device,
    Entry,
    Panel,
    Pull,
    Raceway,
    Record,
    Run,
    SharedEntry,
    Space,
    Wire,
)
from .structure import FIELD, Index, Route, Way, ways_of

#: What each kind of bend adds to the run, as multiples of its stated angle.  Common practice, no
#: source: a three-bend saddle has two side bends of half the centre angle.
_MULTIPLES = {"bend": 1, "kick": 1, "offset": 2, "saddle3": 2, "saddle4": 4}

_OPPOSITE = {
    "left": "right",
    "right": "left",
    "top": "bottom",
    "bottom": "top",
    "back": "front",
    "front": "back",
}
_ACROSS = {
    "left": "width",
    "right": "width",
    "top": "height",
    "bottom": "height",
    "back": "depth",
    "front": "depth",
}
GROUNDS = ("ground", "isolated_ground")
#: Roles of conductors that a circuit's overcurrent device protects.
UNGROUNDED = ("phase", "switched", "traveler")


def derive(index: Index) -> None:
    """Fill in every derived field of the assembly that ``index`` describes."""
    assembly = index.assembly
    _panels(assembly.panels)
    for circuit in assembly.circuits:
        _circuit(circuit, index)
    for way in ways_of(assembly):
        _way_shape(way, assembly)
    shared = _Shared(index)
    for pull in assembly.pulls:
        _pull(pull, index, shared)
    for circuit, pulls in shared.pulls.items():
        circuit.pulls = tuple(pulls)
    _contents(index, shared.resting)
    _spaces(index)
    for box in assembly.boxes:
        box.own_branch = _own_branch(box)
        lights = box.kind == "luminaire" or any(d.kind == "luminaire" for d in box.devices)
        box.luminaire = lights
        box.elevation = _elevation(box)
        _devices(box)
        _entries(box, index)
    assembly.runs = tuple(_runs(index))
    for cable in assembly.cables:
        cable.span = cable.length if known(cable.length) else gap(cable, "length")
        cable.open_ended = FIELD in (cable.from_, cable.to)
    assembly.described = described(assembly)
    assembly.normal_colors = normal_colors(assembly)


def _new(record: type[Record], node: Any = None) -> Any:
    """A record of which every field is derived; whoever makes it sets them all."""
    made = object.__new__(opened(record))
    made.node = node
    return made


def gap(element: Record, key: str) -> Missing:
    """A fact that lacks ``key`` of ``element``."""
    return Missing(key, owner=element)


def describe(element: Record) -> str:
    """An element in words, such as ``raceway R1``."""
    return element.describe()


def _lack(*values: Any, of: Any = None) -> Missing | None:
    """One ``Missing`` that names every gap among the values, or None."""
    missing = [value for value in values if type(value) is Missing]
    if not missing:
        return None
    if len(missing) == 1 and of is None:
        return missing[0]
    return Missing(missing[0].field, parts=missing, owner=of)


def _or(make: Callable[[], Any], *values: Any) -> Any:
    """What ``make`` gives where nothing is missing among the values, else what is missing."""
    lack = _lack(*values)
    return make() if lack is None else lack


def _sum(values: list[Any]) -> Any:
    """The sum, or what is missing of it."""
    try:
        return sum(values)
    except MissingData:
        return _lack(*values)


# -- panels and circuits ---------------------------------------------------------------------


def _panels(panels: Iterable[Panel]) -> None:
    for panel in panels:
        if not known(panel.system):
            lack = gap(panel, "system")
            for name in ("line_voltage", "phase_voltage", "wye"):
                setattr(panel, name, lack)
            continue
        high, _, low = str(panel.system).partition("/")
        wye = high.endswith("Y")
        # Either order is in use: 208Y/120 with that between phases first, 120/240 with it last.
        voltages = [float(v) for v in (high.rstrip("YD"), low) if v]
        panel.wye = wye
        panel.line_voltage = max(voltages)
        panel.phase_voltage = min(voltages) if low else _no_neutral(panel)


def _no_neutral(panel: Panel) -> Missing:
    return Missing("system", f"a voltage to neutral in `system` of {describe(panel)}")


def _circuit(circuit: Circuit, index: Index) -> None:
    circuit.pulls = ()
    phases = circuit.phases
    circuit.poles = gap(circuit, "phases") if not known(phases) else len(set(phases))
    source: Any = index.panels.get(circuit.panel) if known(circuit.panel) else None
    if source is None:
        for name in ("source", "branch", "voltage"):
            setattr(circuit, name, gap(circuit, "panel"))
        return
    circuit.source = source
    circuit.branch = source.branch if known(source.branch) else gap(source, "branch")
    if not known(circuit.poles):
        circuit.voltage = circuit.poles
    else:
        circuit.voltage = source.phase_voltage if circuit.poles == 1 else source.line_voltage


# -- raceways --------------------------------------------------------------------------------


def _way_shape(way: Way, assembly: Assembly) -> None:
    for name in ("wires", "pulls", "spaces", "own_branch"):
        setattr(way, name, ())
    way.barrier = False
    way.luminaire = False
    if not known(way.location):
        way.location = assembly.basis.location
    totals: list[Any] = []
    for bend in way.bends:
        angle = bend.angle
        total: Any = (
            angle * _MULTIPLES[bend.kind]
            if known(angle)
            else Missing("angle", f"`angle` of {describe(bend)} of {describe(way)}")
        )
        bend.total = total
        totals.append(total)
    if isinstance(way, Raceway):
        way.angle = _sum(totals)
    _supports(way)


def _supports(way: Way) -> None:
    lack = _lack(way.supports, way.length, of=way)
    if lack is not None:
        for name in ("longest_gap", "start_gap", "end_gap"):
            setattr(way, name, lack)
        return
    points = sorted(way.supports)
    length = float(way.length)
    edges = [0.0, *points, length]
    way.longest_gap = max(b - a for a, b in pairwise(edges))
    way.start_gap = points[0] if points else length
    way.end_gap = length - points[-1] if points else length


# -- pulls and wires -------------------------------------------------------------------------


@dataclass(slots=True)
class _Shared:
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
            breaker = _or(lambda: max(breakers, default=none), *breakers)
            found = circuits, _branches(circuits), breaker, _outlets(circuits)
            if names:
                self.facts[names] = found
        for circuit in found[0]:
            self.pulls.setdefault(circuit, []).append(pull)
        return found


def _pull(pull: Pull, index: Index, shared: _Shared) -> None:
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


def _wires(pull: Pull, index: Index, branches: Any, shared: _Shared) -> None:
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
            counted = 1 if role in _LIVE else 0
            travelers = travelers or role == "traveler"
        wire.current_carrying = counted
        color: Any = wire.color
        if type(color) is Missing:
            wire.base_color = wire.stripe = wire.finish = color
        else:
            if color not in paint:
                paint[color] = (*coat(color), finish(color))
            wire.base_color, wire.stripe, wire.finish = paint[color]
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
    return _or(lambda: "single", *stated)


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
    return _or(lambda: tuple(dict.fromkeys(branches)), *branches)


#: Roles of wires that always count as current-carrying.
_LIVE = frozenset(("phase", "switched", "spare", "traveler"))


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
    lack = _lack(*[gap(c, "phases") for c in circuits if not known(c.phases)])
    if lack is not None:
        return lack
    there = _phases_there(wire, pull, {phase for c in circuits for phase in c.phases})
    if there <= 1 or not poles:
        return 1
    sources = [c.source for c in circuits]
    lack = _lack(*sources)
    if lack is not None:
        return lack
    if there == 2:
        wyes = [s.wye for s in sources]
        return _or(lambda: int(any(wyes)), *wyes)
    nonlinear = [c.nonlinear if known(c.nonlinear) else gap(c, "nonlinear") for c in circuits]
    if any(known(n) and n for n in nonlinear):
        return 1
    return _or(lambda: 0, *nonlinear)


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


# -- contents --------------------------------------------------------------------------------


def _contents(index: Index, resting: dict[Pull, int]) -> None:
    in_way: dict[Way, list[Pull]] = {}
    in_box: dict[Box, list[tuple[Pull, str]]] = {}
    for pull, route in index.routes.items():
        for way in route.ways:
            in_way.setdefault(way, []).append(pull)
        last = len(route.places) - 1
        for place, end in enumerate(route.places):
            if isinstance(end, Box):
                loop = end.id in pull.loops
                how = "ending" if place in (0, last) else "looped" if loop else "passing"
                in_box.setdefault(end, []).append((pull, how))
    for way in ways_of(index.assembly):
        pulls = in_way.get(way)
        if pulls is None:
            way.current_carrying = 0
            continue
        wires = tuple([w for pull in pulls for w in pull.conductors])
        way.pulls = tuple(pulls)
        way.wires = wires
        carrying = _sum([w.current_carrying for w in wires])
        if resting and known(carrying):
            carrying -= sum([resting.get(pull, 0) for pull in pulls])
        way.current_carrying = carrying
    for box in index.assembly.boxes:
        _box_contents(box, in_box.get(box, ()), index)


def _box_contents(box: Box, found: Iterable[tuple[Pull, str]], index: Index) -> None:
    groups: dict[str, list[Wire]] = {"ending": [], "passing": [], "looped": []}
    for pull, how in found:
        groups[how] += pull.conductors
    box.ending = ending = tuple(groups["ending"])
    box.passing = passing = tuple(groups["passing"])
    box.looped = looped = tuple(groups["looped"])
    box.wires = ending + passing + looped
    box.pulls = tuple(dict.fromkeys([pull for pull, _ in found]))
    entering: Any = index.at.get(box.id, ())
    box.raceways = tuple(entering)


def _spaces(index: Index) -> None:
    by_circuit: dict[Circuit, dict[Space, None]] = {}
    by_device: dict[Circuit, dict[Space, None]] = {}
    devices: dict[Circuit, list[Device]] = {}
    serving: dict[Space, list[Box]] = {}
    for box in index.assembly.boxes:
        space = index.spaces.get(box.space) if known(box.space) else None
        box.serves = space if space is not None else gap(box, "space")
        for device in box.devices:
            circuit = index.circuits.get(device.circuit) if known(device.circuit) else None
            device.source = circuit if circuit is not None else gap(device, "circuit")
            if circuit is None:
                continue
            devices.setdefault(circuit, []).append(device)
            if space is not None:
                by_circuit.setdefault(circuit, {})[space] = None
                by_device.setdefault(circuit, {})[space] = None
        if space is None:
            continue
        serving.setdefault(space, []).append(box)
        for pull in box.pulls:
            if box in pull.ends and known(pull.circuits):
                for circuit in pull.circuits:
                    by_circuit.setdefault(circuit, {})[space] = None
    for space in index.assembly.spaces:
        boxes = tuple(serving.get(space, ()))
        space.boxes = boxes
        space.devices = tuple(device for box in boxes for device in box.devices)
    for circuit in index.assembly.circuits:
        circuit.spaces = tuple(by_circuit.get(circuit, ()))
        circuit.device_spaces = tuple(by_device.get(circuit, ()))
        circuit.devices = tuple(devices.get(circuit, ()))
    if not index.assembly.spaces:
        return  # none was found anywhere
    for pull in index.assembly.pulls:
        if known(pull.circuits):
            found = {s: None for c in pull.circuits for s in by_circuit.get(c, ())}
            pull.spaces = tuple(found)
        else:
            unknown: Any = pull.circuits
            pull.spaces = unknown
    for way in ways_of(index.assembly):
        serves = [pull.spaces for pull in way.pulls]
        lack = _lack(*serves)
        every = lack if lack is not None else tuple({s: None for some in serves for s in some})
        way.spaces = every


# -- boxes -----------------------------------------------------------------------------------


def _own_branch(box: Box) -> Any:
    if box.kind == "panelboard":
        return (box.branch,) if known(box.branch) else gap(box, "branch")
    return (box.branch,) if box.kind == "cabinet" and known(box.branch) else ()


def _elevation(box: Box) -> Any:
    """The upper coordinate of its place; a place of one coordinate tells no height."""
    at = box.at
    return at[1] if not isinstance(at, Missing) and len(at) > 1 else gap(box, "at")


def _devices(box: Box) -> None:
    for device in box.devices:
        device.largest = _largest(device, box)
        color = device.color
        device.base_color = coat(color)[0] if known(color) else color


#: Roles of wires that no yoke is counted by.
_UNCONNECTED = (*GROUNDS, "signal")


def _largest(device: Device, box: Box) -> Any:
    """The largest conductor on a yoke: that of its circuit's wires that end in the box."""
    kind = "signal" if device.kind in ("nurse_call", "data") else ""
    ending = [w for w in box.ending if w.role == kind] if kind else []
    if not ending:
        ending = [w for w in box.ending if w.role not in _UNCONNECTED]
    source = device.source
    sourced = known(source)
    sizes: set[str] = set()
    own_sizes: set[str] = set()
    for wire in ending:
        size: Any = wire.size
        circuits = wire.circuits
        if type(size) is not Missing:
            sizes.add(size)
            if sourced and type(circuits) is not Missing and source in circuits:
                own_sizes.add(size)
    if sourced:
        if own_sizes:
            return max(own_sizes, key=WIRE_RANK.__getitem__)
        if len(sizes) == 1 and box.ending:
            return sizes.pop()
        return Missing(
            "circuit", f"a wire of circuit {device.circuit} that ends in {describe(box)}"
        )
    if len(sizes) == 1:
        return sizes.pop()
    return Missing("circuit", f"`circuit` of {describe(device)}")


def _entries(box: Box, index: Index) -> None:
    ways = box.raceways
    if not ways:
        box.entries = ()
        box.shared_entries = ()
        return
    walls = {way: _wall(way, box) for way in ways}
    unsure = [wall for wall, _ in walls.values() if type(wall) is Missing]
    if len(unsure) == len(ways):
        # Nothing about where anything enters is described, so nothing about entries is known.
        undescribed: Any = _lack(*unsure)
        box.entries = box.shared_entries = undescribed
        return
    turns: dict[Any, list[Any]] = {way: [] for way in ways}
    for pull in box.pulls:
        route = index.routes[pull]
        for place, end in enumerate(route.places):
            if end is box:
                before = route.ways[place - 1] if place else None
                after = route.ways[place] if place < len(route.ways) else None
                if before is not None:
                    turns[before].append(after)
                if after is not None:
                    turns[after].append(before)
    box.entries = tuple(_entry(way, box, walls, turns) for way in ways)
    place_of = {way: place for place, way in enumerate(ways)}
    pairs = [
        (way, other)
        for way in ways
        for other in dict.fromkeys(turns[way])
        if other is not None and place_of[other] >= place_of[way]
    ]
    # Where a wall is not stated, it is not told whether the pull goes straight through.
    lack: Any = _lack(*[walls[way][0] for pair in pairs for way in pair])
    if lack is not None:
        box.shared_entries = lack
        return
    turned = [(a, b) for a, b in pairs if _OPPOSITE[walls[a][0]] != walls[b][0]]
    box.shared_entries = tuple(_shared(a, b, box) for a, b in turned)


def _wall(way: Way, box: Box) -> tuple[Any, int]:
    if way.from_ == box.id:
        return (way.from_wall if known(way.from_wall) else gap(way, "from_wall"), way.from_row)
    return (way.to_wall if known(way.to_wall) else gap(way, "to_wall"), way.to_row)


def _entry(way: Way, box: Box, walls: dict[Any, Any], turns: dict[Any, list[Any]]) -> Any:
    entry: Any = _new(Entry)
    wall, row = walls[way]
    entry.raceway = way
    entry.size = way.size if known(way.size) else gap(way, "size")
    entry.wall = wall
    entry.row = row
    others = [o for o in turns[way] if o is not None]
    lack = _lack(wall, *[walls[o][0] for o in others]) if others else None
    straight = None
    if lack is None:
        straight = tuple(o.size for o in others if walls[o][0] == _OPPOSITE[wall])
    entry.straight = lack if straight is None else straight
    if not known(wall):
        for name in ("facing", "neighbours"):
            setattr(entry, name, wall)
    else:
        facing = getattr(box, _ACROSS[wall])
        entry.facing = facing if known(facing) else gap(box, _ACROSS[wall])
        same = [o for o in walls if o is not way and known(walls[o][0]) and walls[o] == (wall, row)]
        unsure = [walls[o][0] for o in walls if not known(walls[o][0])]
        sizes = [o.size if known(o.size) else gap(o, "size") for o in same]
        entry.neighbours = _or(lambda: tuple(sizes), *unsure, *sizes)
    turned: Any = any(o is None for o in turns[way])
    if not turned:
        turned = lack
        if lack is None:
            turned = any(walls[o][0] != _OPPOSITE[wall] for o in others)
    entry.angled = turned
    return closed(entry)


def _shared(way: Way, other: Way, box: Box) -> Any:
    shared: Any = _new(SharedEntry)
    shared.first = way
    shared.second = other
    shared.wires = tuple(w for p in way.pulls if p in other.pulls for w in p.conductors)
    sizes: list[Any] = [w.size if known(w.size) else gap(w, "size") for w in (way, other)]
    shared.larger = _or(lambda: max(sizes, key=TRADE_RANK.__getitem__), *sizes)
    names = {way.id, other.id}
    stated = [s.distance for s in box.spacings if set(s.between) == names]
    lack = Missing("spacings", f"`spacings` between {way.id} and {other.id} of {describe(box)}")
    shared.distance = stated[0] if stated else lack
    return closed(shared)


# -- runs ------------------------------------------------------------------------------------


def _runs(index: Index) -> Iterable[Run]:
    done: set[Raceway] = set()
    order = {way: place for place, way in enumerate(index.assembly.raceways)}
    for raceway in index.assembly.raceways:
        if raceway in done:
            continue
        # Walk to both ends, then order from the end raceway that the file names first.
        chain, ends = _chain(raceway, index)
        done.update(chain)
        if len(chain) > 1 and order[chain[-1]] < order[chain[0]]:
            chain.reverse()
            ends = (ends[1], ends[0])
        yield _run(chain, ends)


def _chain(raceway: Raceway, index: Index) -> tuple[list[Raceway], tuple[str, str]]:
    chain = [raceway]
    start = _extend(chain, raceway.from_, index, front=True)
    finish = _extend(chain, raceway.to, index, front=False)
    return chain, (start, finish)


def _extend(chain: list[Raceway], end: str, index: Index, *, front: bool) -> str:
    while isinstance(index.ends[end], Coupling):
        here = chain[0] if front else chain[-1]
        following = [w for w in index.at[end] if w is not here and isinstance(w, Raceway)]
        if not following or following[0] in chain:
            break
        other = following[0]
        chain.insert(0, other) if front else chain.append(other)
        end = other.to if other.from_ == end else other.from_
    return end


def _run(chain: list[Raceway], ends: tuple[str, str]) -> Any:
    run: Any = _new(Run, chain[0].node)
    run.raceways = tuple(chain)
    lengths = [r.length if known(r.length) else gap(r, "length") for r in chain]
    if len(chain) == 1:
        (only,) = chain
        run.id, run.bends, run.angle, run.length = only.id, only.bends, only.angle, lengths[0]
    else:
        run.id = "+".join([r.id for r in chain])
        run.bends = tuple([b for r in chain for b in r.bends])
        run.angle = _sum([r.angle for r in chain])
        run.length = _sum(lengths)
    run.start = ends[0]
    run.finish = ends[1]
    run.field = FIELD in ends
    run.crosses = len(chain) - 1
    for raceway in chain:
        raceway.span = run.length
        raceway.open_ended = run.field
    return closed(run)


__all__ = ["Cable", "Route", "derive", "describe"]
