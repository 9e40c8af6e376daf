"""Distances between supports, within a raceway and through the couplings of its run."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import pairwise
from typing import Any

from checker.documents.missing import known

from ..records import Raceway, Run
from ..structure import Way
from .gaps import if_known, lack_of, sum_of


def gaps_of(way: Way) -> None:
    """How far apart the supports of a raceway or cable are, and the outer ones from its ends."""
    lack = lack_of(way.supports, way.length, of=way)
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


def gaps_at_couplings(run: Run) -> None:
    """A coupling supports nothing: the distance between supports goes on through it."""
    if len(run.raceways) < 2:
        return
    pieces = [(way, *_names(way, place)) for way, place in along(run)]
    before = _beyond(pieces)
    after = _beyond([(way, far, near) for way, near, far in reversed(pieces)])[::-1]
    for (way, near, far), back, ahead in zip(pieces, before, after, strict=True):
        if _bare(way):
            way.longest_gap = sum_of([back, way.longest_gap, ahead])
        else:
            gaps = (
                way.longest_gap,
                sum_of([back, getattr(way, near)]),
                sum_of([getattr(way, far), ahead]),
            )
            way.longest_gap = if_known(partial(max, gaps), *gaps)
    for way, outer, beyond in (
        (pieces[0][0], pieces[0][1], after[0]),
        (pieces[-1][0], pieces[-1][2], before[-1]),
    ):
        if _bare(way):
            setattr(way, outer, sum_of([getattr(way, outer), beyond]))


def _beyond(pieces: list[tuple[Raceway, str, str]]) -> list[Any]:
    """For each raceway, how far back from where the run enters it the last support is.

    The end of the run stands for a support: what lies beyond it is not part of the run.  So does
    a raceway that the field crew makes and fastens.
    """
    found: list[Any] = [0.0]
    for way, _, far in pieces[:-1]:
        if way.by == "site" and not known(way.supports):
            found.append(0.0)  # the field crew fastens it, as an end that it completes
        else:
            found.append(sum_of([found[-1], way.length]) if _bare(way) else getattr(way, far))
    return found


def _bare(way: Raceway) -> bool:
    """Whether it is known to have no support."""
    return known(way.supports) and not way.supports and known(way.length)


def along(run: Run) -> Iterator[tuple[Raceway, str]]:
    """The raceways of a run, each with the place at which the run enters it."""
    place = run.start
    for way in run.raceways:
        yield way, place
        place = way.to if way.from_ == place else way.from_


def _names(way: Raceway, place: str) -> tuple[str, str]:
    """The fields that hold the gaps at the end where a run enters, and at the other."""
    return ("start_gap", "end_gap") if way.from_ == place else ("end_gap", "start_gap")
