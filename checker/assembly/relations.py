"""How elements depend on one another: supports across couplings, sections, grounding conductors.

These facts follow from others that ``derive`` has filled in, so they come after it.
"""

# mypy: disable-error-code="misc"
# The records are still open; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from checker.documents.missing import Missing, known
from checker.quantities.designations import WIRE_RANK

from .derive import GROUNDS, UNGROUNDED, gap
from .records import Box, Cable, Coupling, Panel, Pull, Raceway, Run, Wire
from .structure import End, Index, Way, ways_of


def relate(index: Index) -> None:
    """Fill in the facts of this module."""
    kinds: dict[str, Any] = {name: _kind(end) for name, end in index.ends.items()}
    for way in ways_of(index.assembly):
        way.from_kind = kinds[way.from_]
        way.to_kind = kinds[way.to]
        if isinstance(way, Cable):
            way.threaded = False
    for run in index.assembly.runs:
        _gaps_at_couplings(run)
        _reaches(run, index)
    for pull in index.assembly.pulls:
        _breakers(pull)
    _grounds(index)


def _kind(end: End) -> str:
    if isinstance(end, str):
        return "field"
    return "box" if isinstance(end, Box) else "panel" if isinstance(end, Panel) else "coupling"


# -- supports --------------------------------------------------------------------------------


def _gaps_at_couplings(run: Run) -> None:
    """A coupling supports nothing: the distance between supports goes on through it."""
    if len(run.raceways) < 2:
        return
    pieces = [(way, *_names(way, place)) for way, place in _along(run)]
    before = _beyond(pieces)
    after = _beyond([(way, far, near) for way, near, far in reversed(pieces)])[::-1]
    for (way, near, far), back, ahead in zip(pieces, before, after, strict=True):
        if _bare(way):
            way.longest_gap = _total(back, way.longest_gap, ahead)
        else:
            gaps = (
                way.longest_gap,
                _total(back, getattr(way, near)),
                _total(getattr(way, far), ahead),
            )
            lack = _first_gap(gaps)
            way.longest_gap = max(gaps) if lack is None else lack
    for way, outer, beyond in (
        (pieces[0][0], pieces[0][1], after[0]),
        (pieces[-1][0], pieces[-1][2], before[-1]),
    ):
        if _bare(way):
            setattr(way, outer, _total(getattr(way, outer), beyond))


def _beyond(pieces: list[tuple[Raceway, str, str]]) -> list[Any]:
    """For each raceway, how far back from where the run enters it the last support is.

    The end of the run stands for a support: what lies beyond it is not part of the run.
    """
    found: list[Any] = [0.0]
    for way, _, far in pieces[:-1]:
        found.append(_total(found[-1], way.length) if _bare(way) else getattr(way, far))
    return found


def _bare(way: Raceway) -> bool:
    """Whether it is known to have no support."""
    return known(way.supports) and not way.supports and known(way.length)


def _along(run: Run) -> Iterator[tuple[Raceway, str]]:
    """The raceways of a run, each with the place at which the run enters it."""
    place = run.start
    for way in run.raceways:
        yield way, place
        place = way.to if way.from_ == place else way.from_


def _names(way: Raceway, place: str) -> tuple[str, str]:
    """The fields that hold the gaps at the end where a run enters, and at the other."""
    return ("start_gap", "end_gap") if way.from_ == place else ("end_gap", "start_gap")


def _first_gap(values: Iterable[Any]) -> Missing | None:
    return next((value for value in values if not known(value)), None)


def _total(*lengths: Any) -> Any:
    lack = _first_gap(lengths)
    return sum(lengths) if lack is None else lack


# -- sections --------------------------------------------------------------------------------


def _reaches(run: Run, index: Index) -> None:
    """The sections that each raceway of a run reaches into.

    A raceway fits in a section that holds both of its ends.  A coupling at a joint is held by both
    of the sections that it joins; one that states neither joint nor section leaves open where it
    is, so what it joins is taken together.
    """
    piece: list[Raceway] = []
    held: list[Any] = []
    for raceway, place in _along(run):
        if not piece:
            held = [_holders(place, index)]
        piece.append(raceway)
        if known(raceway.section):
            held.append((raceway.section,))
        end = _holders(raceway.to if raceway.from_ == place else raceway.from_, index)
        held.append(end)
        if end is not None or raceway is run.raceways[-1]:
            sections = _common(held)
            for part in piece:
                part.reaches = sections
            piece = []


def _holders(place: str, index: Index) -> Any:
    """The sections that may hold an end; None where any may."""
    end = index.ends[place]
    if isinstance(end, Box):
        return (end.section,) if known(end.section) else gap(end, "section")
    if isinstance(end, Coupling):
        if known(end.joint):
            return index.joints[end.joint].between
        return (end.section,) if known(end.section) else None
    return None


def _common(held: list[Any]) -> Any:
    """The one section that all ends share, or one for each end."""
    told = [sections for sections in held if sections is not None]
    lack = next((sections for sections in told if type(sections) is Missing), None)
    if lack is not None:
        return lack
    for section in told[0] if told else ():
        if all(section in sections for sections in told):
            return (section,)
    return tuple(dict.fromkeys(sections[0] for sections in told))


# -- grounding conductors --------------------------------------------------------------------


def _breakers(pull: Pull) -> None:
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


def _grounds(index: Index) -> None:
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


__all__ = ["relate"]
