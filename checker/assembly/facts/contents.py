"""What is in every raceway, cable and box: pulls, wires, how many carry current."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from checker.documents.missing import known

from ..records import Box, Cable, Pull, Wire
from ..structure import Index, Way, ways_of
from .gaps import sum_of

#: How a cable says that spacing is maintained to every other.
APART = "none"


def contents(index: Index, resting: dict[Pull, int]) -> None:
    """The pulls and wires in every raceway, cable and box; ``resting`` travelers carry nothing."""
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
        carrying = sum_of([w.current_carrying for w in wires])
        if resting and known(carrying):
            carrying -= sum([resting.get(pull, 0) for pull in pulls])
        way.current_carrying = carrying
    _bundles(index)
    for box in index.assembly.boxes:
        _box_contents(box, in_box.get(box, ()), index)


def _bundles(index: Index) -> None:
    """Cables that touch each other."""
    bundles: dict[str, list[Cable]] = {}
    for way in ways_of(index.assembly):
        way.sheathed = isinstance(way, Cable)
        way.bundled = ()
        way.bundle_wires = ()
        way.bundle_carrying = way.current_carrying
    for cable in index.assembly.cables:
        name = cable.bundle if known(cable.bundle) and cable.bundle != APART else f"\n{cable.id}"
        bundles.setdefault(name, []).append(cable)
    for cables in bundles.values():
        wires = tuple([w for cable in cables for w in cable.wires])
        carrying = sum_of([cable.current_carrying for cable in cables])
        for cable in cables:
            cable.bundled = tuple(cables)
            cable.bundle_wires = wires
            cable.bundle_carrying = carrying


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
