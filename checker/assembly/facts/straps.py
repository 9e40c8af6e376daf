"""Where the supports of a raceway come to lie on its path."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known
from checker.quantities.tolerance import EPSILON

from ..geometry.polyline import Bent
from ..geometry.walking import arc_at, place_of
from ..records import Raceway, Strap
from .gaps import describe, gap, new


def straps_of(line: Bent, raceway: Raceway) -> Any:
    """The straps of a raceway, or what is not known of them."""
    if not known(raceway.supports):
        return gap(raceway, "supports")
    if not line.has_radii or line.overlaps:
        return Missing("radius", f"`radius` of {describe(raceway)} with which its bends fit")
    arcs, length = line.arcs, line.developed * (1 + EPSILON)
    made = []
    for along in raceway.supports:
        strap: Any = new(Strap)
        strap.along = along
        strap.on_arc = arc_at(arcs, along) is not None
        strap.past = along > length
        strap.off = _from_framing(along, line, raceway.frame)
        made.append(closed(strap))
    return tuple(made)


def _from_framing(along: float, line: Bent, frame: Any) -> Any:
    """How far a place along the conduit is from the nearest stud or rail of its section."""
    off: Any = frame if not known(frame) else gap(frame, "studs")
    if known(frame) and (known(frame.studs) or known(frame.rails)):
        place = place_of(line, along)
        found = [abs(place[0] - one) for one in (frame.studs if known(frame.studs) else ())]
        found += [abs(place[1] - one) for one in (frame.rails if known(frame.rails) else ())]
        off = min(found) if found else off
    return off
