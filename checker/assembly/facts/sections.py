"""Which sections of the assembly a raceway reaches into."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import known

from ..records import Box, Coupling, Raceway, Run
from ..structure import Index
from .gaps import gap, lack_of
from .supports import along


def reaches(run: Run, index: Index) -> None:
    """The sections that each raceway of a run reaches into.

    A raceway fits in a section that holds both of its ends.  A coupling at a joint is held by both
    of the sections that it joins, also where the sections of its raceways tell which joint it is.
    Another one that states no section leaves open where it is, so what it joins is taken together.
    """
    piece: list[Raceway] = []
    held: list[Any] = []
    for raceway, place in along(run):
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
        joint = index.joint_of(end)
        if joint is not None:
            return joint.between
        return (end.section,) if known(end.section) else None
    return None


def _common(held: list[Any]) -> Any:
    """The one section that all ends share, or as few as hold every end; by name, not by order."""
    told = [sections for sections in held if sections is not None]
    lack = lack_of(*told)
    if lack is not None:
        return lack
    groups = [set(sections) for sections in told]
    shared = set.intersection(*groups) if groups else set()
    if shared:
        return (min(shared),)
    # Ends in a box decide; of what a coupling at a joint leaves open, as few as will do.
    chosen = {section for group in groups if len(group) == 1 for section in group}
    free = [group for group in groups if not group & chosen]
    while free:
        among = sorted(set.union(*free))
        most = max(among, key=lambda section: sum(section in group for group in free))
        chosen.add(most)
        free = [group for group in free if most not in group]
    return tuple(sorted(chosen))
