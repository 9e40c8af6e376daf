"""Raceways and their runs: what lies between two places where conductors can be pulled."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known

from ..records import Assembly, Coupling, Raceway, Run
from ..structure import FIELD, Index, Way
from .gaps import describe, gap, new, sum_of
from .supports import gaps_of

#: What each kind of bend adds to the run, as multiples of its stated angle.  Common practice, no
#: source: a three-bend saddle has two side bends of half the centre angle.
_MULTIPLES = {"bend": 1, "kick": 1, "offset": 2, "saddle3": 2, "saddle4": 4}


def way_shape(way: Way, assembly: Assembly) -> None:
    """Bends and supports of one raceway or cable; its contents are found later."""
    for name in ("wires", "pulls", "spaces", "own_branch"):
        setattr(way, name, ())
    way.barrier = way.barrier_listed = False
    way.transfer_equipment = way.two_sources = False
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
        way.angle = sum_of(totals)
    gaps_of(way)


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
    if len(chain) == 1:
        (only,) = chain
        run.id, run.bends, run.angle, run.length = only.id, only.bends, only.angle, lengths[0]
    else:
        run.id = "+".join([r.id for r in chain])
        run.bends = tuple([b for r in chain for b in r.bends])
        run.angle = sum_of([r.angle for r in chain])
        run.length = sum_of(lengths)
    run.start = ends[0]
    run.finish = ends[1]
    run.field = FIELD in ends
    run.crosses = len(chain) - 1
    for raceway in chain:
        raceway.span = run.length
        raceway.open_ended = run.field
    return closed(run)
