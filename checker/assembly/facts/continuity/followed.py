"""A circuit followed from its supply: the lines that reach each place."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from checker.documents.missing import Missing, known

from ...records import Box, Circuit, Pull
from ...structure import FIELD, Index
from .lines import ALL, LEG_SHIFT, LEGS, NEUTRAL, POLES, SWITCHED, TRAVELER, UNSWITCHED, poles_of

Place = Any
"""A box, a panel, or ``field``."""


@dataclass(slots=True)
class Link:
    """A pull as a link of a circuit: its certain and its possible lines, and what it connects."""

    pull: Pull
    certain: int
    possible: int
    places: tuple[Place, ...]


@dataclass(slots=True)
class Connections:
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
class Followed:
    """A circuit as it was followed: the lines that reach each place, for certain and possibly.

    described: likewise possibly, where boxes under ``fed_at`` bring nothing that a switch made.
    """

    sources: tuple[Place, ...]
    certain: dict[Place, int]
    possible: dict[Place, int]
    described: dict[Place, int]


def follow(
    circuit: Circuit,
    edges: list[Link],
    housed: tuple[dict[str, list[Box]], list[Box]],
    index: Index,
) -> Followed:
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
    wanted = poles_of(circuit)
    circuit.poles_pulled = either(poles_in(sure, wanted), poles_in(maybe, wanted), edges)
    circuit.neutral_pulled = either(bool(sure & NEUTRAL), bool(maybe & NEUTRAL), edges)
    return Followed(tuple(sources), certain, possible, described)


def _fed_by(edge: Link, names: tuple[str, ...]) -> Link:
    """The edge without the field, where it comes from there by a way that brings nothing in."""
    pull = edge.pull
    outer = [way.id for way in pull.path if FIELD in (way.from_, way.to)]
    if not outer or any(name in names for name in outer):
        return edge
    places = tuple([place for place in edge.places if place != FIELD])
    return Link(pull, edge.certain, edge.possible, places)


def _flow(
    edges: list[Link],
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
    reached = dict.fromkeys(sources, ALL)
    for place in unswitched:
        reached[place] = UNSWITCHED | (_switched(UNSWITCHED) if place in switches else 0)
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
        return SWITCHED | TRAVELER | LEGS
    made = lines & POLES
    return made << LEG_SHIFT | SWITCHED | TRAVELER if made else 0


def poles_in(lines: int, wanted: int) -> int:
    """How many of the wanted phases are among lines, as phase or switched conductors."""
    return ((lines | lines >> LEG_SHIFT) & wanted).bit_count()


def either(sure: Any, maybe: Any, edges: list[Link]) -> Any:
    """What is certain, or what has to be stated to know."""
    return sure if sure == maybe else _unclear(edges)


def _unclear(edges: list[Link]) -> Missing:
    names = sorted(e.pull.id for e in edges if e.certain != e.possible)
    if not names:
        return Missing("panel", "`panel` of the panelboard that the circuit may start at")
    return Missing("circuit", f"`circuit` and `phase` of the wires of pull {', '.join(names)}")
