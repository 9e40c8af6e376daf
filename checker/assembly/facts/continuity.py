"""Circuits followed from where they are supplied to every device on them.

A circuit is a graph: places (boxes, panels, the field) joined by the pulls that carry it.  What a
pull carries of a circuit is a set of lines, kept as bits: each pole by its phase, the neutral,
switched conductors, travelers.  A line is followed on its own, so that a pull without the neutral
carries the phases on and ends the neutral.  A conductor that is looped in a box is connected
there; one that passes it is not.

Supply comes from a panel or from the field where a pull ends there, from a box that houses the
circuit's panel, and from boxes that the circuit names as ``fed_at``; where that names raceways or
cables, from the field by these alone.  Switched conductors and
travelers are live from a switch of the circuit that is itself supplied.

Where the wires of a pull do not say which circuit or phase they belong to and are too few for all
of them, each of them may be there: the outcome is open where it depends on that.
"""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known

from ..records import Box, Break, Circuit, Coupling, Device, Pull, Wire
from ..structure import FIELD, Index, Way
from .gaps import gap, new

#: Lines of a circuit, as bits.  ``SWITCHED`` is a switched conductor of whatever phase.
PHASES = {"A": 1, "B": 2, "C": 4}
NEUTRAL, SWITCHED, TRAVELER, SIGNAL, ISOLATED = 8, 16, 32, 64, 128
#: Switched conductors of a known phase, beside ``SWITCHED``: the bits of the phases, shifted.
_LEG_SHIFT = 8
_POLES = 1 | 2 | 4
_LEGS = _POLES << _LEG_SHIFT
_LINE_OF = {"neutral": NEUTRAL, "switched": SWITCHED, "traveler": TRAVELER}
_ALL = 2047
_UNSWITCHED = _ALL & ~(SWITCHED | TRAVELER | _LEGS)
#: Lines that supply a device.
_SUPPLYING = _POLES | SWITCHED | TRAVELER | SIGNAL
#: Devices that use no conductor.
_IDLE = ("blank",)
#: Devices that may be connected to a neutral.
_LOADS = ("receptacle", "luminaire", "disconnect", "other")
_SIGNAL_DEVICES = ("nurse_call", "data", "other")
#: Boxes in which conductors end at equipment that is not described device by device.
_EQUIPMENT = ("panelboard", "cabinet", "transfer_equipment")

Lines = tuple[int, int]
Place = Any
"""A box, a panel, or ``field``."""


@dataclass(slots=True)
class _Edge:
    """A pull as a link of a circuit: its certain and its possible lines, and what it connects."""

    pull: Pull
    certain: int
    possible: int
    places: tuple[Place, ...]


@dataclass(slots=True)
class _Ends:
    """What connects in each box: lines of a circuit by one pull, by two, at all; signal pulls.

    by_devices, by_any: lines that devices take, of their circuit or, where they name none, of any;
    loads: how many devices use power of a circuit; unstated: what a pull there does not state.
    """

    once: dict[tuple[Box, Circuit], int] = field(default_factory=dict)
    twice: dict[tuple[Box, Circuit], int] = field(default_factory=dict)
    signals: dict[Box, int] = field(default_factory=dict)
    taken: dict[tuple[Box, Circuit], int] = field(default_factory=dict)
    by_devices: dict[tuple[Box, Circuit], int] = field(default_factory=dict)
    by_any: dict[Box, int] = field(default_factory=dict)
    loads: dict[tuple[Box, Circuit], int] = field(default_factory=dict)
    unstated: dict[Box, Any] = field(default_factory=dict)


@dataclass(slots=True)
class _Followed:
    """A circuit as it was followed: the lines that reach each place, for certain and possibly.

    described: likewise possibly, where boxes under ``fed_at`` bring nothing that a switch made.
    """

    sources: tuple[Place, ...]
    certain: dict[Place, int]
    possible: dict[Place, int]
    described: dict[Place, int]


def continuity(index: Index) -> None:
    """Follow every circuit, then find where each wire ends without use."""
    assembly = index.assembly
    edges: dict[Circuit, list[_Edge]] = {circuit: [] for circuit in assembly.circuits}
    along: dict[tuple[Way, Circuit], int] = {}
    ends = _Ends()
    for pull, route in index.routes.items():
        places = _connected(pull, route.places, index)
        if any(wire.role == "signal" for wire in pull.wires):
            for place in places:
                if isinstance(place, Box):
                    ends.signals[place] = ends.signals.get(place, 0) + 1
        for circuit, (certain, possible) in _carried(pull).items():
            edges[circuit].append(_Edge(pull, certain, possible, places))
            # A switched conductor or traveler of a phase goes with the others as the phase does.
            here = possible | possible >> _LEG_SHIFT & _POLES | _travelers(pull, circuit)
            for way in route.ways:
                along[way, circuit] = along.get((way, circuit), 0) | here
            for place in places:
                if isinstance(place, Box):
                    key = place, circuit
                    before = ends.once.get(key, 0)
                    ends.once[key] = before | possible
                    if before & possible:
                        ends.twice[key] = ends.twice.get(key, 0) | before & possible
    for box in assembly.boxes:
        for device in box.devices:
            _taken_by(device, box, ends)
    housed = _housed(assembly.boxes)
    followed = {}
    for circuit in assembly.circuits:
        followed[circuit] = _follow(circuit, edges[circuit], housed, index)
        _devices(circuit, edges[circuit], followed[circuit], ends)
    for box in assembly.boxes:
        for device in box.devices:
            lack: Any = device.source
            if not known(lack):
                _unsupplied(device, lack)
    for pull in assembly.pulls:
        pull.phases_along = _phases_along(pull, along)
        _wires(pull, followed, ends, index)


def _phases_along(pull: Pull, along: dict[tuple[Way, Circuit], int]) -> tuple[Any, ...]:
    """The phases of a pull's circuits that are in every raceway or cable of its route."""
    if not known(pull.circuits) or not any(c.poles != 1 for c in pull.circuits if known(c.poles)):
        return ()
    lines = _POLES
    for way in pull.path:
        here = 0
        for circuit in pull.circuits:
            here |= along.get((way, circuit), 0)
        lines &= here
    return tuple([phase for phase, bit in PHASES.items() if lines & bit])


def _travelers(pull: Pull, circuit: Circuit) -> int:
    """The phases of a circuit's travelers in a pull, as bits."""
    lines = 0
    for wire in pull.wires:
        if wire.role == "traveler" and circuit in wire.circuits and known(wire.phase):
            lines |= PHASES[wire.phase]
    return lines


def _connected(pull: Pull, places: list[Any], index: Index) -> tuple[Place, ...]:
    """The places in which the conductors of a pull can be connected: its ends and its loops."""
    found = [p for p in (places[0], places[-1]) if not isinstance(p, Coupling)]
    return tuple(found + [index.ends[name] for name in pull.loops])


def _housed(boxes: Iterable[Box]) -> tuple[dict[str, list[Box]], list[Box]]:
    """Boxes by the panel that they house, and panelboards that do not say which."""
    by_panel: dict[str, list[Box]] = {}
    unsaid = []
    for box in boxes:
        if known(box.panel):
            by_panel.setdefault(box.panel, []).append(box)
        elif box.kind == "panelboard":
            unsaid.append(box)
    return by_panel, unsaid


# -- what a pull carries ---------------------------------------------------------------------


def _carried(pull: Pull) -> dict[Circuit, Lines]:
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
                    found[owner] |= PHASES[wire.phase] << _LEG_SHIFT
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
    wanted = _poles_of(circuit)
    number = loose.get((circuit, 0), 0)
    for bit in PHASES.values():
        if number and wanted & ~found[circuit] & bit:
            found[circuit] |= bit
            number -= 1
    number = legs.get(circuit, 0)
    if number:
        rest = wanted << _LEG_SHIFT & ~found[circuit]
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
        rest = [c for c in circuits if _poles_of(c) & ~found[c] & bit]
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
                lines[circuit] |= line | (_LEGS if line == SWITCHED else 0)
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


def _poles_of(circuit: Circuit) -> int:
    """The phases of a circuit; A stands for the one that is not stated."""
    phases = circuit.phases
    if not known(phases):
        return 1
    return PHASES[phases[0]] if len(phases) == 1 else sum([PHASES[p] for p in set(phases)])


# -- following a circuit ---------------------------------------------------------------------


def _follow(
    circuit: Circuit,
    edges: list[_Edge],
    housed: tuple[dict[str, list[Box]], list[Box]],
    index: Index,
) -> _Followed:
    """The lines that reach each place from the circuit's supply; sets the circuit's facts."""
    sources: dict[Place, None] = {}
    brought = [index.ends[name] for name in circuit.fed_at if name in index.ends]
    if len(brought) < len(circuit.fed_at):
        edges = [_fed_by(edge, circuit.fed_at) for edge in edges]
    for edge in edges:
        for place in edge.places:
            if not isinstance(place, Box):
                sources[place] = None
    by_panel, unsaid = housed
    if known(circuit.panel):
        sources.update(dict.fromkeys(by_panel.get(circuit.panel, ())))
    elsewhere = set(brought) - sources.keys()
    sources.update(dict.fromkeys(brought))
    switches = {d.box for d in circuit.devices if d.kind == "switch"}
    certain = _flow(edges, sources, switches, certain=True)
    possible = certain
    perhaps = [box for box in unsaid if box not in sources] if unsaid else []
    if perhaps or any(edge.possible != edge.certain for edge in edges):
        possible = _flow(edges, [*sources, *perhaps], switches, certain=False)
    described = possible
    if switches and elsewhere and any(e.possible & (SWITCHED | TRAVELER) for e in edges):
        inside = [place for place in (*sources, *perhaps) if place not in elsewhere]
        described = _flow(edges, inside, switches, certain=False, unswitched=elsewhere)
    sure = maybe = 0
    for edge in edges:
        sure |= edge.certain
        maybe |= edge.possible
    circuit.sources = tuple(sorted(str(getattr(place, "id", place)) for place in sources))
    wanted = _poles_of(circuit)
    circuit.poles_pulled = _either(_poles_in(sure, wanted), _poles_in(maybe, wanted), edges)
    circuit.neutral_pulled = _either(bool(sure & NEUTRAL), bool(maybe & NEUTRAL), edges)
    return _Followed(tuple(sources), certain, possible, described)


def _fed_by(edge: _Edge, names: tuple[str, ...]) -> _Edge:
    """The edge without the field, where it comes from there by a way that brings nothing in."""
    pull = edge.pull
    outer = [way.id for way in pull.path if FIELD in (way.from_, way.to)]
    if not outer or any(name in names for name in outer):
        return edge
    places = tuple([place for place in edge.places if place != FIELD])
    return _Edge(pull, edge.certain, edge.possible, places)


def _flow(
    edges: list[_Edge],
    sources: Iterable[Place],
    switches: set[Box],
    *,
    certain: bool,
    unswitched: Iterable[Place] = (),
) -> dict[Place, int]:
    """The lines that reach each place; ``unswitched`` places bring no switched ones."""
    at: dict[Place, list[tuple[int, tuple[Place, ...]]]] = {}
    for edge in edges:
        link = (edge.certain if certain else edge.possible, edge.places)
        for place in edge.places:
            at.setdefault(place, []).append(link)
    reached = dict.fromkeys(sources, _ALL)
    for place in unswitched:
        reached[place] = _UNSWITCHED | (_switched(_UNSWITCHED) if place in switches else 0)
    waiting = list(reached.items())
    while waiting:
        place, lines = waiting.pop()
        for carried, places in at.get(place, ()):
            arriving = carried & lines
            if not arriving:
                continue
            for other in places:
                before = reached.get(other, 0)
                after = before | arriving
                if other in switches:
                    after |= _switched(after)
                if after != before:
                    reached[other] = after
                    waiting.append((other, after & ~before))
    return reached


def _switched(lines: int) -> int:
    """What a switch makes of the lines that reach it."""
    if lines & TRAVELER:
        return SWITCHED | TRAVELER | _LEGS
    made = lines & _POLES
    return made << _LEG_SHIFT | SWITCHED | TRAVELER if made else 0


def _poles_in(lines: int, wanted: int) -> int:
    """How many of the wanted phases are among lines, as phase or switched conductors."""
    return ((lines | lines >> _LEG_SHIFT) & wanted).bit_count()


def _either(sure: Any, maybe: Any, edges: list[_Edge]) -> Any:
    """What is certain, or what has to be stated to know."""
    return sure if sure == maybe else _unclear(edges)


def _unclear(edges: list[_Edge]) -> Missing:
    names = sorted(e.pull.id for e in edges if e.certain != e.possible)
    if not names:
        return Missing("panel", "`panel` of the panelboard that the circuit may start at")
    return Missing("circuit", f"`circuit` and `phase` of the wires of pull {', '.join(names)}")


# -- devices ---------------------------------------------------------------------------------


def _devices(circuit: Circuit, edges: list[_Edge], followed: _Followed, ends: _Ends) -> None:
    """What reaches each device of a circuit, and where the rest ends."""
    broken: list[tuple[Device, list[str]]] = []
    incomplete = False
    poles = _poles_of(circuit)
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
            device.fed = _either(fed, _fed(device, maybe, wanted), edges)
            device.neutral_arrives = _either(neutral, bool(maybe & NEUTRAL), edges)
        here = ends.once.get((box, circuit), 0)
        device.connected = True if here & _SUPPLYING else _unstated_pull(box, ends)
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
        if device.kind not in _IDLE:
            if fed < wanted.bit_count():
                lacking += [f"phase {p}" for p, bit in PHASES.items() if _lacks(bit, wanted, sure)]
            if not neutral and known(device.takes_neutral) and device.takes_neutral:
                lacking.append("neutral")
        if lacking:
            broken.append((device, lacking))
            incomplete = incomplete or not edges or bool(here & _SUPPLYING)
    circuit.incomplete = incomplete
    if broken:
        _breaks(circuit, edges, followed, broken)


def _takes_neutral(device: Device, circuit: Circuit) -> Any:
    """Whether a device is connected to the neutral of its circuit.

    A load on one pole is, unless it says that it needs none; one on several is taken to be where
    the circuit has a neutral at all.
    """
    if device.kind not in _LOADS or device.neutral_free:
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
    return bool(wanted & bit & ~(lines | lines >> _LEG_SHIFT))


def _fed(device: Device, lines: int, wanted: int) -> int:
    """How many of the poles that a device is on reach it."""
    number = wanted.bit_count()
    if device.kind == "switch":
        return number if lines & (_POLES | SWITCHED | TRAVELER) else 0
    if device.kind in ("nurse_call", "data") and lines & SIGNAL:
        return number
    if number == 1 and lines & SWITCHED:
        return 1
    return _poles_in(lines, wanted)


def _unstated_pull(box: Box, ends: _Ends) -> Any:
    """Whether a pull in a box may be of any circuit, since it states none."""
    if box not in ends.unstated:
        lacks = [pull.circuits for pull in box.pulls if not known(pull.circuits)]
        ends.unstated[box] = lacks[0] if lacks else False
    return ends.unstated[box]


def _unsupplied(device: Device, lack: Missing) -> None:
    """A device that names no circuit: nothing is known of what reaches it."""
    device.pole_count = device.fed = device.neutral_arrives = lack
    device.connected = device.switching = device.takes_neutral = lack
    device.neutral_goes_on = device.lighting = lack
    device.breaks = ()


def _breaks(
    circuit: Circuit,
    edges: list[_Edge],
    followed: _Followed,
    broken: list[tuple[Device, list[str]]],
) -> None:
    """Where each line that does not reach a device ends."""
    tree = _Tree(circuit, edges, followed)
    made: dict[Device, list[Any]] = {}
    for device, lines in broken:
        for line in lines:
            bit = NEUTRAL if line == "neutral" else PHASES[line[-1]]
            if bit != NEUTRAL:
                bit |= bit << _LEG_SHIFT
            found: Any = new(Break, device.node)
            found.device, found.line = device.id, line
            found.last, found.pull = tree.end(device.box, bit)
            made.setdefault(device, []).append(closed(found))
    for device, breaks in made.items():
        device.breaks = tuple(breaks)


class _Tree:
    """The shortest ways of a circuit from its supply, whatever lines its pulls carry."""

    def __init__(self, circuit: Circuit, edges: list[_Edge], followed: _Followed) -> None:
        self.reached = followed.certain
        self.before: dict[Place, tuple[Place, Pull] | None] = {}
        self.loaded = {device.box for device in circuit.devices}
        self.links: dict[Place, list[_Edge]] = {}
        for edge in sorted(edges, key=lambda e: e.pull.id):
            for place in edge.places:
                self.links.setdefault(place, []).append(edge)
        self.order = self._walk(sorted(followed.sources, key=_name))
        self.ends: dict[int, dict[Place, tuple[str, str]]] = {}
        self.without: dict[Place, str] = {}

    def _walk(self, starts: list[Place]) -> list[Place]:
        """Everything that hangs together with ``starts``, nearest first."""
        order = list(starts)
        self.before.update(dict.fromkeys(starts))
        for place in order:
            for edge in self.links.get(place, ()):
                for other in edge.places:
                    if other not in self.before:
                        self.before[other] = place, edge.pull
                        order.append(other)
        return order

    def end(self, box: Box, bit: int) -> tuple[str, str]:
        """The last place that a line reaches on its way to a box, and the pull that ends it."""
        if not self.order:
            return self._loose(box), ""
        ends = self.ends.get(bit)
        if ends is None:
            ends = self.ends[bit] = {}
            for place in self.order:
                way = self.before[place]
                if self.reached.get(place, 0) & bit or way is None:
                    ends[place] = _name(place), ""
                elif self.reached.get(way[0], 0) & bit:
                    ends[place] = _name(way[0]), way[1].id
                else:
                    ends[place] = ends[way[0]]
        return ends.get(box) or (self._last(self.order), "")

    def _loose(self, box: Box) -> str:
        """Where a circuit without a supply ends, beyond a box of it."""
        if box not in self.without:
            together = self._walk([box])
            last = self._last(together)
            self.without.update(dict.fromkeys(together, last))
        return self.without[box]

    def _last(self, places: list[Place]) -> str:
        """The places at which a part of a circuit ends: those with one pull, without a device."""
        tips = [p for p in places if len(self.links.get(p, ())) < 2 and isinstance(p, Box)]
        bare = [p for p in tips if p not in self.loaded]
        return ", ".join(sorted(map(_name, bare or tips or places[-1:])))


def _name(place: Place) -> str:
    return place if isinstance(place, str) else str(place.id)


# -- wires -----------------------------------------------------------------------------------


def _wires(pull: Pull, followed: dict[Circuit, _Followed], ends: _Ends, index: Index) -> None:
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


def _used(wire: Wire, number: int, box: Box, ends: _Ends) -> bool:
    """Whether something in a box takes a wire that ends there, one of ``number`` alike.

    Wires that do not say which circuit or phase they belong to are used where as many conductors
    of their circuits are.
    """
    role = wire.role
    if box.kind in _EQUIPMENT:
        return True
    if role == "signal":
        return ends.signals.get(box, 0) > 1 or any(d.kind in _SIGNAL_DEVICES for d in box.devices)
    if box.kind == "luminaire" and role not in ("traveler", "isolated_ground"):
        return True
    wanted = used = 0
    line = _line(wire)
    for circuit in wire.circuits:
        lines = line & _poles_of(circuit) if role == "phase" else line
        wanted += lines.bit_count()
        used += (lines & _taken(box, circuit, ends)).bit_count()
    if role == "phase" or role == "neutral":
        return used >= min(number, wanted)
    return used > 0


def _line(wire: Wire) -> int:
    if wire.role == "phase":
        return PHASES[wire.phase] if known(wire.phase) else _POLES
    return _LINE_OF.get(wire.role, ISOLATED)


def _taken(box: Box, circuit: Circuit, ends: _Ends) -> int:
    """The lines of a circuit that are used in a box: spliced on, fed by others, or connected."""
    key = box, circuit
    found = ends.taken.get(key)
    if found is None:
        found = ends.twice.get(key, 0)
        if circuit.fed_at and box.id in circuit.fed_at:
            found = _ALL
        found |= ends.by_devices.get(key, 0) | ends.by_any.get(box, 0)
        ends.taken[key] = found
    return found


def _taken_by(device: Device, box: Box, ends: _Ends) -> None:
    """Count the lines that a device takes; one that names no circuit may take those of any."""
    if device.kind in _IDLE:
        return
    source = device.source
    if not known(source):
        if device.kind not in ("nurse_call", "data"):
            ends.by_any[box] = _ALL
        return
    key = box, source
    lines = NEUTRAL | SWITCHED
    lines |= sum([PHASES[p] for p in device.phases]) if known(device.phases) else _POLES
    if device.kind == "switch":
        lines |= TRAVELER
    else:
        ends.loads[key] = ends.loads.get(key, 0) + 1
    if device.isolated_ground:
        lines |= ISOLATED
    ends.by_devices[key] = ends.by_devices.get(key, 0) | lines


__all__ = ["continuity"]
