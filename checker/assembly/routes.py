"""The routes of pulls: where they go, whether they hang together, and what they would bring."""

from __future__ import annotations

from typing import Any

from checker.documents.errors import nearest
from checker.documents.missing import Missing

from .names import FIELD, item_mark, mark_of
from .records import Box, Pull
from .structure import Index, Route, Way

#: Wires in one raceway or cable; no raceway holds a tenth of it, and ``count`` is soon written.
MOST_WIRES = 2000


def find_routes(index: Index) -> None:
    """Find the route of every pull; report what is wrong with it, or with what it brings."""
    inside: dict[str, int] = {}
    for pull in index.assembly.pulls:
        circuits = pull.circuit if isinstance(pull.circuit, tuple) else ()
        for wire in pull.wires or ():
            if type(wire.circuit) is not Missing:
                _wire(wire, pull, circuits, index)
        route = _route(pull, index)
        if _crowded(pull, inside, index):
            continue
        if route is not None:
            index.routes[pull] = route
            if pull.loops:
                _loops(pull, route, index)


def _crowded(pull: Pull, inside: dict[str, int], index: Index) -> bool:
    """Whether a pull brings more wires than can be meant; ``inside`` counts them by raceway."""
    wires = pull.wires or ()
    total = most = sum([wire.count for wire in wires])
    for name in pull.through or ():
        here = inside[name] = inside.get(name, 0) + total
        most = max(most, here)
    if most <= MOST_WIRES or not wires:  # without wires it adds nothing to what was reported
        return False
    largest = max(wires, key=lambda wire: int(wire.count))
    index.reader.report(
        mark_of(largest, "count"),
        f"pull `{pull.id}` makes more than {MOST_WIRES} wires in one place",
        found=f"{most} wires",
        expected="`count:` with the wires that are pulled",
    )
    return True


def _wire(wire: Any, pull: Pull, circuits: tuple[str, ...], index: Index) -> None:
    if isinstance(wire.circuit, str) and wire.circuit not in circuits:
        index.reader.report_value(
            wire.node,
            "circuit",
            f"a wire of pull `{pull.id}` belongs to a circuit that the pull does not carry",
            found=wire.circuit,
            expected="one of " + (", ".join(circuits) or "the pull's own `circuit:`"),
            suggestion=nearest(wire.circuit, circuits) or "",
        )


def _route(pull: Pull, index: Index) -> Route | None:
    ways: list[Way] = []
    sound = True
    seen: set[str] = set()
    for at, name in enumerate(pull.through or ()):
        if name not in index.ways:
            sound = False  # and was told
            continue
        if name in seen:
            index.reader.report(
                item_mark(pull, "through", at),
                f"pull `{pull.id}` would have `{name}` in two places at once",
                found=f"`{name}` twice in the route",
                expected="every raceway once",
                length=len(name),
            )
            sound = False
        seen.add(name)
        ways.append(index.ways[name])
    if not sound or not ways:
        if pull.through is not None and not ways and sound:
            index.reader.report(
                mark_of(pull, "through"),
                f"pull `{pull.id}` goes through nothing",
                found="an empty list",
                expected="the raceways or the cable that it goes through, in order",
            )
        return None
    for way in ways:
        if way.from_ not in index.ends or way.to not in index.ends:
            return None
    for start in (ways[0].from_, ways[0].to):
        places = _walk(ways, start)
        if places is not None:
            return Route(ways, [index.ends[name] for name in places])
    _disconnected(pull, ways, index)
    return None


def _disconnected(pull: Pull, ways: list[Way], index: Index) -> None:
    for at in range(1, len(ways)):
        # The first place where the walk breaks from either end of the first raceway.
        if all(_walk(ways[: at + 1], s) is None for s in (ways[0].from_, ways[0].to)):
            before, after = ways[at - 1], ways[at]
            shared = {before.from_, before.to} & {after.from_, after.to} - {FIELD}
            reason = (
                f"`{after.id}` turns back to where `{before.id}` came from"
                if shared
                else f"`{before.id}` ends in {before.from_} and {before.to}, "
                f"`{after.id}` in {after.from_} and {after.to}"
            )
            near = [
                w.id
                for w in index.at.get(before.to, []) + index.at.get(before.from_, [])
                if w not in ways
            ]
            index.reader.report(
                item_mark(pull, "through", at),
                f"the route of pull `{pull.id}` is not connected",
                found=reason,
                expected="each raceway to start where the one before it ends",
                suggestion=near[0] if near else "",
                length=len(after.id),
            )
            return


def _loops(pull: Pull, route: Route, index: Index) -> None:
    passed = {p.id for p in route.places[1:-1] if isinstance(p, Box)}
    for at, name in enumerate(pull.loops):
        if name not in passed:
            index.reader.report(
                item_mark(pull, "loops", at),
                f"pull `{pull.id}` is looped in a box that it does not pass",
                found=name,
                expected="one of " + ", ".join(sorted(passed))
                if passed
                else "no `loops:`, since its route passes no box between its ends",
                suggestion=nearest(name, passed) or "",
                length=len(name),
            )


def _walk(ways: list[Way], start: str) -> list[str] | None:
    """The places along a route from ``start``, or None where it breaks."""
    places = [start]
    for way in ways:
        if way.from_ == places[-1]:
            places.append(way.to)
        elif way.to == places[-1]:
            places.append(way.from_)
        else:
            return None
        # A route cannot leave the wall to be completed on site and come back.
        if places[-1] == FIELD and way is not ways[-1]:
            return None
    return places
