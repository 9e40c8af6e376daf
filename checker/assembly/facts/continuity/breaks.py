"""Where the lines end that do not reach a device."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.fields import closed

from ...records import Box, Break, Circuit, Device, Pull
from ..gaps import new
from .followed import Followed, Link, Place
from .lines import LEG_SHIFT, NEUTRAL, PHASES


def breaks(
    circuit: Circuit,
    edges: list[Link],
    followed: Followed,
    broken: list[tuple[Device, list[str]]],
) -> None:
    """Where each line that does not reach a device ends."""
    tree = _Tree(circuit, edges, followed)
    made: dict[Device, list[Any]] = {}
    for device, lines in broken:
        for line in lines:
            bit = NEUTRAL if line == "neutral" else PHASES[line[-1]]
            if bit != NEUTRAL:
                bit |= bit << LEG_SHIFT
            found: Any = new(Break, device.node)
            found.device, found.line = device.id, line
            found.last, found.pull = tree.end(device.box, bit)
            made.setdefault(device, []).append(closed(found))
    for device, breaks in made.items():
        device.breaks = tuple(breaks)


class _Tree:
    """The shortest ways of a circuit from its supply, whatever lines its pulls carry."""

    def __init__(self, circuit: Circuit, edges: list[Link], followed: Followed) -> None:
        self.reached = followed.certain
        self.before: dict[Place, tuple[Place, Pull] | None] = {}
        self.loaded = {device.box for device in circuit.devices}
        self.links: dict[Place, list[Link]] = {}
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
