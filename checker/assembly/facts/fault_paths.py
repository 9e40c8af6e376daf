"""How much flexible metal raceway lies in the fault path of each circuit, from panel to outlet.

A fault at the end of a circuit returns through every raceway between it and the panel, over all the
pulls of the circuit.  Lengths are in inches.
"""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from checker.documents.missing import known

from ..records import Circuit, Raceway
from ..structure import FIELD, Index, Way, ways_of
from .gaps import gap, lack_of, sum_of

#: Methods that are flexible metal raceways.
_FLEXIBLE_METAL = ("FMC", "LFMC")

Edge = tuple[str, str, Any]  # two places, and the length that counts between them


def flexible_paths(index: Index) -> None:
    """Fill in ``flexible_path`` and ``bare_flexible_path`` of every raceway and cable."""
    ways = ways_of(index.assembly)
    for way in ways:
        way.flexible_path = way.bare_flexible_path = 0.0
    raceways = index.assembly.raceways
    if all(known(r.method) and r.method not in _FLEXIBLE_METAL for r in raceways):
        return
    for name, length in (("flexible_path", _length), ("bare_flexible_path", _bare_length)):
        found: dict[Way, list[Any]] = {}
        for circuit in index.assembly.circuits:
            _through(circuit, index, length, found)
        for way in ways:
            unknown = [
                gap(p, "circuit") for p in way.pulls if p.ungrounded and not known(p.circuits)
            ]
            own = [] if way in found else [length(way)]
            setattr(way, name, _most([*found.get(way, ()), *own, *unknown]))


def _length(way: Way) -> Any:
    """The length of a flexible metal raceway; nothing of anything else."""
    if not isinstance(way, Raceway):
        return 0.0
    if not known(way.method):
        return gap(way, "method")
    if way.method not in _FLEXIBLE_METAL:
        return 0.0
    return way.length if known(way.length) else gap(way, "length")


def _bare_length(way: Way) -> Any:
    """The same, where no grounding conductor runs beside its metal."""
    return 0.0 if any(w.role == "ground" for w in way.wires) else _length(way)


def _through(
    circuit: Circuit, index: Index, length: Callable[[Way], Any], found: dict[Way, list[Any]]
) -> None:
    """Add to ``found``, for each way of a circuit, the most that lies in a path through it."""
    routes = [index.routes[pull] for pull in circuit.pulls if pull in index.routes]
    edges = {way: _edge(way, length(way)) for route in routes for way in route.ways}
    places = {place for edge in edges.values() for place in edge[:2]}
    # The panel is the source.  Where the circuit does not reach it, any end in the field may be.
    sources = [circuit.panel] if known(circuit.panel) and circuit.panel in places else []
    sources = sources or [place for place in places if place.startswith(FIELD + " ")]
    reached = [_from(source, edges) for source in sources]
    total = sum_of([edge[2] for edge in edges.values()])
    for way in edges:
        most = [one[way] for one in reached if way in one]
        found.setdefault(way, []).append(_most(most) if most else total)


def _edge(way: Way, length: Any) -> Edge:
    """A way between its two places; ends in the field are places of their own."""
    first, second = (
        f"{FIELD} {way.id} {number}" if end == FIELD else end
        for number, end in enumerate((way.from_, way.to))
    )
    return first, second, length


def _from(source: str, edges: dict[Way, Edge]) -> dict[Way, Any]:
    """For each way that is reached from a source, the most in a path from there through it.

    Paths go from the source outward, the shortest by the number of ways; of several alike the one
    with the most counts, so that the order of the file says nothing.
    """
    at: dict[str, list[Edge]] = {}
    for edge in edges.values():
        at.setdefault(edge[0], []).append(edge)
        at.setdefault(edge[1], []).append((edge[1], edge[0], edge[2]))
    rank, layers = {source: 0}, [[source]]
    while layers[-1]:
        ahead = {other for place in layers[-1] for _, other, _ in at.get(place, ())} - rank.keys()
        rank.update(dict.fromkeys(ahead, len(layers)))
        layers.append(list(ahead))
    before: dict[str, Any] = {}
    beyond: dict[str, Any] = {}
    for gathered, step, order in ((before, -1, layers), (beyond, 1, layers[::-1])):
        for place in (place for layer in order for place in layer):
            gathered[place] = _most(
                [
                    sum_of([gathered[other], length])
                    for _, other, length in at.get(place, ())
                    if rank[other] == rank[place] + step
                ]
            )
    found = {}
    for way, (first, second, length) in edges.items():
        if first not in rank:
            continue
        near, far = (first, second) if rank[first] <= rank[second] else (second, first)
        paths = [sum_of([before[near], length, beyond[far]])]
        if rank[near] == rank[far]:
            paths.append(sum_of([before[far], length, beyond[near]]))
        found[way] = _most(paths)
    return found


def _most(lengths: list[Any]) -> Any:
    """The largest, 0 of none; what is missing of them where something is."""
    lack = lack_of(*lengths)
    return max(lengths, default=0.0) if lack is None else lack
