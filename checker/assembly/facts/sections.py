"""Which sections of the assembly a raceway reaches into."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import Missing, known

from ..records import Box, Coupling, Raceway, Run
from ..structure import Index
from .gaps import gap
from .supports import along


def reaches(run: Run, index: Index) -> None:
    """The sections that each raceway of a run reaches into.

    A raceway fits in a section that holds both of its ends.  A coupling at a joint is held by both
    of the sections that it joins; one that states neither joint nor section leaves open where it
    is, so what it joins is taken together.
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
