"""Where raceways enter a box, and which entries hold the same conductors."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.fields import closed
from checker.documents.missing import Missing, known
from checker.quantities.designations import TRADE_RANK

from ..records import Box, Entry, SharedEntry
from ..structure import Index, Way
from ..trade import Trade
from .gaps import describe, gap, if_known, lack_of, new
from .path_ends import ENTERS

_OPPOSITE = {
    "left": "right",
    "right": "left",
    "top": "bottom",
    "bottom": "top",
    "back": "front",
    "front": "back",
}

_ACROSS = {
    "left": "width",
    "right": "width",
    "top": "height",
    "bottom": "height",
    "back": "depth",
    "front": "depth",
}


def entry_facts(box: Box, index: Index, trade: Trade) -> None:
    """Entries of a box, and which of them hold the same conductors."""
    ways = box.raceways
    if not ways:
        box.entries = ()
        box.shared_entries = ()
        return
    walls = {way: _wall(way, box) for way in ways}
    unsure = [wall for wall, _ in walls.values() if type(wall) is Missing]
    if len(unsure) == len(ways):
        # Nothing about where anything enters is described, so nothing about entries is known.
        undescribed: Any = lack_of(*unsure)
        box.entries = box.shared_entries = undescribed
        return
    turns: dict[Any, list[Any]] = {way: [] for way in ways}
    for pull in box.pulls:
        route = index.routes[pull]
        for place, end in enumerate(route.places):
            if end is box:
                before = route.ways[place - 1] if place else None
                after = route.ways[place] if place < len(route.ways) else None
                if before is not None:
                    turns[before].append(after)
                if after is not None:
                    turns[after].append(before)
    box.entries = tuple(_entry(way, box, walls, turns) for way in ways)
    place_of = {way: place for place, way in enumerate(ways)}
    pairs = [
        (way, other)
        for way in ways
        for other in dict.fromkeys(turns[way])
        if other is not None and place_of[other] >= place_of[way]
    ]
    # Where a wall is not stated, it is not told whether the pull goes straight through.
    lack: Any = lack_of(*[walls[way][0] for pair in pairs for way in pair])
    if lack is not None:
        box.shared_entries = lack
        return
    turned = [(a, b) for a, b in pairs if _OPPOSITE[walls[a][0]] != walls[b][0]]
    box.shared_entries = tuple(_shared(a, b, box, trade) for a, b in turned)


def _wall(way: Way, box: Box) -> tuple[Any, int]:
    if way.from_ == box.id:
        return (way.from_wall if known(way.from_wall) else gap(way, "from_wall"), way.from_row)
    return (way.to_wall if known(way.to_wall) else gap(way, "to_wall"), way.to_row)


def _entry(way: Way, box: Box, walls: dict[Any, Any], turns: dict[Any, list[Any]]) -> Any:
    entry: Any = new(Entry)
    wall, row = walls[way]
    entry.raceway = way
    entry.size = way.size if known(way.size) else gap(way, "size")
    entry.wall = wall
    entry.row = row
    others = [o for o in turns[way] if o is not None]
    lack = lack_of(wall, *[walls[o][0] for o in others]) if others else None
    straight = None
    if lack is None:
        straight = tuple(o.size for o in others if walls[o][0] == _OPPOSITE[wall])
    entry.straight = lack if straight is None else straight
    if not known(wall):
        for name in ("facing", "neighbours"):
            setattr(entry, name, wall)
    else:
        facing = getattr(box, _ACROSS[wall])
        entry.facing = facing if known(facing) else gap(box, _ACROSS[wall])
        same = [o for o in walls if o is not way and known(walls[o][0]) and walls[o] == (wall, row)]
        unsure = [walls[o][0] for o in walls if not known(walls[o][0])]
        sizes = [o.size if known(o.size) else gap(o, "size") for o in same]
        entry.neighbours = if_known(lambda: tuple(sizes), *unsure, *sizes)
    turned: Any = any(o is None for o in turns[way])
    if not turned:
        turned = lack
        if lack is None:
            turned = any(walls[o][0] != _OPPOSITE[wall] for o in others)
    entry.angled = turned
    return closed(entry)


def _shared(way: Way, other: Way, box: Box, trade: Trade) -> Any:
    shared: Any = new(SharedEntry)
    shared.first = way
    shared.second = other
    shared.wires = tuple(w for p in way.pulls if p in other.pulls for w in p.conductors)
    sizes: list[Any] = [w.size if known(w.size) else gap(w, "size") for w in (way, other)]
    shared.larger = if_known(lambda: max(sizes, key=TRADE_RANK.__getitem__), *sizes)
    names = {way.id, other.id}
    stated = [s.distance for s in box.spacings if set(s.between) == names]
    words = f"`spacings` between {way.id} and {other.id} of {describe(box)}"
    lack = Missing("spacings", words, detail="entry_spacings")
    shared.stated = stated[0] if stated else lack
    drawn = _drawn(way, other, box, trade)
    shared.drawn = drawn if drawn is not None else lack
    shared.distance = stated[0] if stated else shared.drawn
    return closed(shared)


def _drawn(way: Way, other: Way, box: Box, trade: Trade) -> float | None:
    """From the nearest edge of one entry to that of the other, by the ends of their paths."""
    edges, spots = 0.0, []
    for each in (way, other):
        end = next((e for e in box.path_ends if e.raceway is each and known(e.wall)), None)
        if end is None or not known(end.off) or end.off > ENTERS:
            return None
        if not known(each.method) or not known(each.size):
            return None
        diameter = trade.outside_diameter(each.method, each.size)
        if diameter is None:
            return None
        edges += diameter / 2
        spots.append(end.spot)
    across = zip(*spots, strict=False)  # two coordinates where one path has no depth
    return max(0.0, float(sum((a - b) ** 2 for a, b in across) ** 0.5) - edges)
