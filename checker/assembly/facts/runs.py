"""Raceways and their runs: what lies between two places where conductors can be pulled."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known

from ..records import Assembly, Coupling, Raceway, Run, Section
from ..structure import FIELD, Index, Way
from .gaps import describe, gap, if_known, new, sum_of
from .supports import gaps_of

#: What each kind of bend adds to the run, as multiples of its stated angle.  Common practice, no
#: source: a three-bend saddle has two side bends of half the center angle.
_MULTIPLES = {"bend": 1, "kick": 1, "offset": 2, "saddle3": 2, "saddle4": 4}


def way_shape(way: Way, assembly: Assembly, sections: dict[str, Section]) -> None:
    """Bends, supports and surroundings of a raceway or cable; its contents are found later."""
    for name in ("wires", "pulls", "spaces", "own_branch"):
        setattr(way, name, ())
    way.barrier = way.barrier_listed = False
    way.transfer_equipment = way.two_sources = False
    way.luminaire = False
    if not known(way.location):
        # Where nobody states it, the basis is incomplete, which one rule reports for all of them.
        usual: Any = assembly.basis.location
        way.location = usual if known(usual) else "dry"
    section = sections.get(way.section) if known(way.section) else None
    way.framing = gap(way, "section") if section is None else section.framing
    if section is not None and not known(section.framing):
        way.framing = gap(section, "framing")
    if not known(way.air):
        nearest = (section, assembly.basis) if section is not None else (assembly.basis,)
        way.air = next((one.air for one in nearest if known(one.air)), gap(way, "air"))
    if not known(way.bonded) and known(assembly.defaults.bonded):
        way.bonded = assembly.defaults.bonded
    if isinstance(way, Raceway):
        usual = assembly.defaults.fitting
        for end in ("from_fitting", "to_fitting"):
            if known(usual) and not known(getattr(way, end)):
                setattr(way, end, usual)
    totals: list[Any] = []
    for bend in way.bends if known(way.bends) else ():
        angle = bend.angle
        total: Any = (
            angle * _MULTIPLES[bend.kind]
            if known(angle)
            else Missing("angle", f"`angle` of {describe(bend)} of {describe(way)}")
        )
        bend.total = total
        totals.append(total)
    if isinstance(way, Raceway):
        way.angle = sum_of(totals) if known(way.bends) else gap(way, "bends")
    gaps_of(way)


def rise_within(raceway: Raceway, index: Index) -> None:
    """A raceway in one section, from box to box, rises no more than the section is high."""
    if known(raceway.rise) or not known(raceway.section):
        return
    if any(isinstance(index.ends[end], Coupling | str) for end in (raceway.from_, raceway.to)):
        return
    section = index.sections[raceway.section]
    if known(section.height):
        raceway.rise = section.height


def runs_of(index: Index) -> Iterable[Run]:
    """Every run, each raceway in one of them, in the order in which the file names them."""
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
    run: Any = new(Run, chain[0].node)
    run.raceways = tuple(chain)
    lengths = [r.length if known(r.length) else gap(r, "length") for r in chain]
    bends = [r.bends if known(r.bends) else gap(r, "bends") for r in chain]
    supports = [r.supports if known(r.supports) else gap(r, "supports") for r in chain]
    methods = [r.method if known(r.method) else gap(r, "method") for r in chain]
    if len(chain) == 1:
        (only,) = chain
        run.id, run.bends, run.angle, run.length = only.id, bends[0], only.angle, lengths[0]
    else:
        run.id = "+".join([r.id for r in chain])
        run.bends = if_known(lambda: tuple([b for one in bends for b in one]), *bends)
        run.angle = sum_of([r.angle for r in chain])
        run.length = sum_of(lengths)
    run.start = ends[0]
    run.finish = ends[1]
    run.field = FIELD in ends
    run.crosses = len(chain) - 1
    run.methods = if_known(lambda: tuple(dict.fromkeys(methods)), *methods)
    supported, bent = _in_any(supports), _in_any(bends)
    # Of what the field crew makes no length is asked: it goes on, as an end in the field does.
    theirs = [r for r in chain if r.by == "site" and not known(r.length)]
    unfinished = run.field or bool(theirs)
    span = run.length
    if theirs and len(theirs) < len(chain):
        span = sum_of([one for r, one in zip(chain, lengths, strict=True) if r not in theirs])
    for raceway in chain:
        raceway.span = span
        raceway.supported = supported
        raceway.straight = not bent if known(bent) else bent
        raceway.open_ended = unfinished
    return closed(run)


def _in_any(found: list[Any]) -> Any:
    """Whether one raceway of a chain has some; one that has decides, whatever is not stated."""
    if any(known(one) and one for one in found):
        return True
    return if_known(lambda: False, *found)
