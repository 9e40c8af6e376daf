"""Resolves the names in an assembly and checks that it hangs together.

Everything wrong is reported to the reader that read the file, so that it is told together with the
reading errors: duplicate names, unknown references, couplings that do not join two raceways, routes
that are not connected.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from checker.documents.errors import Mark, nearest
from checker.documents.missing import Missing, known
from checker.documents.reader import Reader

from .records import (
    Assembly,
    Box,
    Cable,
    Circuit,
    Compartment,
    Coupling,
    Joint,
    Panel,
    Pull,
    Raceway,
    Section,
    Space,
)

FIELD = "field"
#: Kinds of benders that a raceway may name where the shop's own are not listed.
TOOLS = ("one_shot", "other")
#: Wires in one raceway or cable; no raceway holds a tenth of it, and ``count`` is soon written.
MOST_WIRES = 2000
Way = Raceway | Cable
End = Box | Panel | Coupling | str


def ways_of(assembly: Assembly) -> tuple[Way, ...]:
    """Raceways, then cables."""
    raceways: tuple[Way, ...] = assembly.raceways
    return raceways + assembly.cables


@dataclass(slots=True)
class Route:
    """A pull's route in order: its raceways or cables and the places between them.

    ``places`` has one more item than ``ways``: where it starts, what it passes, where it ends.
    """

    ways: list[Way]
    places: list[End]


class Index:
    """Every element of an assembly by name, and how the raceways hang together."""

    def __init__(self, assembly: Assembly, reader: Reader) -> None:
        self.assembly = assembly
        self.reader = reader
        self.panels: dict[str, Panel] = {}
        self.circuits: dict[str, Circuit] = {}
        self.sections: dict[str, Section] = {}
        self.joints: dict[str, Joint] = {}
        self.spaces: dict[str, Space] = {}
        self.ends: dict[str, End] = {FIELD: FIELD}
        self.ways: dict[str, Way] = {}
        self.at: dict[str, list[Way]] = {}
        self.routes: dict[Pull, Route] = {}
        #: By what elements are kept in: the line of the first that lacks its id.
        self._nameless: dict[int, int] = {}
        self._names()
        self._references()
        self._couplings()
        self._rings()
        self._routes()

    def joint_of(self, coupling: Coupling) -> Joint | None:
        """The joint that a coupling crosses: the one it states, or that between its raceways."""
        if known(coupling.joint):
            return self.joints[coupling.joint]
        sections = {way.section for way in self.at.get(coupling.id, ()) if stated(way.section)}
        if len(sections) < 2:
            return None
        crossed = [joint for joint in self.assembly.joints if set(joint.between) == sections]
        return crossed[0] if crossed else None

    # -- names -----------------------------------------------------------------------------

    def _names(self) -> None:
        assembly = self.assembly
        self._keep(assembly.panels, self.panels)
        self._keep(assembly.circuits, self.circuits)
        self._keep(assembly.sections, self.sections)
        self._keep(assembly.joints, self.joints)
        self._keep(assembly.spaces, self.spaces)
        # Boxes, panels and couplings share one set of names: a raceway's end may be any of them.
        for group in (assembly.panels, assembly.couplings, assembly.boxes):
            self._keep(group, self.ends)
        self._keep(ways_of(assembly), self.ways)
        self.pulls: dict[str, Pull] = {}
        self._keep(assembly.pulls, self.pulls)
        self._keep(assembly.rows, {})
        self._keep([d for box in assembly.boxes for d in box.devices], {})
        self._keep([part for box in assembly.boxes for part in _parts(box)], {})

    def _keep(self, group: Any, names: dict[str, Any]) -> None:
        for element in group:
            name = element.id
            if name is None:
                self._nameless.setdefault(id(names), element.node.mark.line)
                continue
            earlier = names.get(name)
            if earlier is None:
                names[name] = element
                continue
            mark = _mark(element, "id")
            if earlier is FIELD:
                self.reader.report(
                    mark,
                    "`field` means the end completed on site and cannot be a name",
                    found=name,
                    expected="another name",
                    length=len(name),
                )
                continue
            first = _mark(earlier, "id")
            self.reader.report(
                mark,
                f"duplicate id `{name}`",
                found=f"`{name}` again; first on line {first.line}, column {first.column}",
                expected="a name of its own for every element",
                length=len(name),
            )

    # -- references ------------------------------------------------------------------------

    def _refer(
        self, element: Any, key: str, name: Any, known: Any, what: str, at: Any = None
    ) -> bool:
        """Whether ``name`` is known; reports it where not."""
        if not isinstance(name, str):
            return False
        if name in known:
            return True
        node = element.node
        mark = at if at is not None else node.value_mark(key)
        close = nearest(name, known)
        ids = [one for one in known if one != FIELD]
        sample = ", ".join(ids[:12]) + (", …" if len(ids) > 12 else "") or "none is declared"
        thing = what
        if FIELD in known:
            thing, what = "an end", what + " or `field`"
        nameless = self._nameless.get(id(known))
        if nameless is not None:
            sample += f"; or perhaps the one on line {nameless}, which lacks its id"
        self.reader.report(
            mark,
            f"`{key}` names {thing} that is not in the file",
            found=name,
            expected=f"the id of {what}: {sample}",
            suggestion=close or "",
            length=len(name),
        )
        return False

    def _references(self) -> None:
        assembly = self.assembly
        for panel in assembly.panels:
            for bond in panel.bonded:
                self._refer(bond, "to", bond.to, self.panels, "a panel")
        places: dict[str, Any] = {}
        if any(circuit.fed_at for circuit in assembly.circuits):
            boxes = {name: end for name, end in self.ends.items() if isinstance(end, Box)}
            outer = {name: w for name, w in self.ways.items() if FIELD in (w.from_, w.to)}
            places = outer | boxes
        for circuit in assembly.circuits:
            self._refer(circuit, "panel", circuit.panel, self.panels, "a panel")
            for place, name in enumerate(circuit.fed_at):
                at = _item(circuit, "fed_at", place)
                self._refer(circuit, "fed_at", name, places, "a box, or a way to the field", at)
            self._refer(circuit, "feeds", circuit.feeds, self.panels, "a panel")
            self._refer(circuit, "tap_of", circuit.tap_of, self.circuits, "a circuit")
        for joint in assembly.joints:
            names = joint.between or ()
            for index, name in enumerate(names):
                self._refer(
                    joint,
                    "between",
                    name,
                    self.sections,
                    "a section",
                    _item(joint, "between", index),
                )
            if joint.between is not None and len(set(names)) != 2:
                self.reader.report(
                    _mark(joint, "between"),
                    f"joint `{joint.id}` does not join two sections",
                    found=f"{len(set(names))}: " + ", ".join(names),
                    expected="two different sections",
                )
        for coupling in assembly.couplings:
            self._refer(coupling, "joint", coupling.joint, self.joints, "a joint")
            self._refer(coupling, "section", coupling.section, self.sections, "a section")
        rows = {row.id: row for row in assembly.rows}
        for box in assembly.boxes:
            self._refer(box, "section", box.section, self.sections, "a section")
            self._refer(box, "space", box.space, self.spaces, "a space")
            self._refer(box, "panel", box.panel, self.panels, "a panel")
            self._refer(box, "row", box.row, rows, "a row")
            for device in box.devices:
                self._refer(device, "circuit", device.circuit, self.circuits, "a circuit")
            self._compartments(box)
            for spacing in box.spacings:
                for index, name in enumerate(spacing.between or ()):
                    at = _item(spacing, "between", index)
                    self._refer(spacing, "between", name, self.ways, "a raceway or cable", at)
        for way in ways_of(assembly):
            self._way(way)

    def _compartments(self, box: Box) -> None:
        mounted = {device.id: device for device in box.devices}
        for part in _parts(box):
            for index, name in enumerate(part.wiring):
                at = _item(part, "wiring", index)
                self._refer(part, "wiring", name, self.pulls, "a pull", at)
            for index, name in enumerate(part.mounts):
                at = _item(part, "mounts", index)
                self._refer(part, "mounts", name, mounted, "a device of the box", at)

    def _way(self, way: Way) -> None:
        self._refer(way, "section", way.section, self.sections, "a section")
        if isinstance(way, Raceway) and stated(way.bender):
            benders = {*self.assembly.benders, *TOOLS}
            self._refer(way, "bender", way.bender, benders, "a bender")
        for key, name in (("from", way.from_), ("to", way.to)):
            if name not in self.ends:
                what = (
                    "a box, a panel, a coupling" if isinstance(way, Raceway) else "a box, a panel"
                )
                self._refer(way, key, name, self.ends, what)
                continue
            if isinstance(way, Cable) and isinstance(self.ends[name], Coupling):
                self.reader.report(
                    way.node.value_mark(key),
                    f"cable `{way.id}` cannot end in a coupling",
                    found=name,
                    expected="a box, a panel, or field",
                    length=len(name),
                )
                continue
            self.at.setdefault(name, []).append(way)
        if way.from_ == way.to and way.from_ in self.ends and way.from_ != FIELD:
            self.reader.report(
                way.node.value_mark("to"),
                f"`{way.id}` would be in two places at once: it starts and ends in `{way.to}`",
                found=way.to,
                expected="another end",
                length=len(way.to),
            )

    def _couplings(self) -> None:
        for coupling in self.assembly.couplings:
            if coupling.id is None or self.ends.get(coupling.id) is not coupling:
                continue
            joined = [way for way in self.at.get(coupling.id, []) if isinstance(way, Raceway)]
            if len(joined) != 2:
                self.reader.report(
                    _mark(coupling, "id"),
                    f"coupling `{coupling.id}` joins {len(joined)} raceway"
                    + ("" if len(joined) == 1 else "s"),
                    found=", ".join(way.id or "one without a name" for way in joined) or "none",
                    expected="exactly two raceways, each with an end in it",
                    length=len(coupling.id),
                )

    def _rings(self) -> None:
        """Raceways that couplings join in a ring are no run: there is no end to pull from."""
        done: set[Way] = set()
        for first in self.assembly.raceways:
            ring: list[Raceway] = []
            way, end = first, first.to
            while way not in done and isinstance(self.ends.get(end), Coupling):
                done.add(way)
                ring.append(way)
                others = [w for w in self.at[end] if w is not way and isinstance(w, Raceway)]
                if len(others) != 1:
                    break
                way = others[0]
                end = way.to if way.from_ == end else way.from_
                if way is first:
                    self._ring(ring)

    def _ring(self, ring: list[Raceway]) -> None:
        names = ", ".join(str(way.id) for way in ring)
        self.reader.report(
            _mark(ring[0], "to"),
            f"raceways {names} join in a ring, and conductors can be pulled in nowhere",
            found="a coupling at every end",
            expected="an end in a box, in a panel or in `field`",
        )

    # -- routes ----------------------------------------------------------------------------

    def _routes(self) -> None:
        inside: dict[str, int] = {}
        for pull in self.assembly.pulls:
            circuits = pull.circuit if isinstance(pull.circuit, tuple) else ()
            for index, name in enumerate(circuits):
                if name not in self.circuits:
                    at = _item(pull, "circuit", index)
                    self._refer(pull, "circuit", name, self.circuits, "a circuit", at)
            for wire in pull.wires or ():
                if type(wire.circuit) is not Missing:
                    self._wire(wire, pull, circuits)
            route = self._route(pull)
            if self._crowded(pull, inside):
                continue
            if route is not None:
                self.routes[pull] = route
                if pull.loops:
                    self._loops(pull, route)

    def _crowded(self, pull: Pull, inside: dict[str, int]) -> bool:
        """Whether a pull brings more wires than can be meant; ``inside`` counts them by raceway."""
        wires = pull.wires or ()
        total = most = sum([wire.count for wire in wires])
        for name in pull.through or ():
            here = inside[name] = inside.get(name, 0) + total
            most = max(most, here)
        if most <= MOST_WIRES or not wires:  # without wires it adds nothing to what was reported
            return False
        largest = max(wires, key=lambda wire: int(wire.count))
        self.reader.report(
            _mark(largest, "count"),
            f"pull `{pull.id}` makes more than {MOST_WIRES} wires in one place",
            found=f"{most} wires",
            expected="`count:` with the wires that are drawn in",
        )
        return True

    def _wire(self, wire: Any, pull: Pull, circuits: tuple[str, ...]) -> None:
        if isinstance(wire.circuit, str) and wire.circuit not in circuits:
            self.reader.report(
                wire.node.value_mark("circuit"),
                f"a wire of pull `{pull.id}` belongs to a circuit that the pull does not carry",
                found=wire.circuit,
                expected="one of " + (", ".join(circuits) or "the pull's own `circuit:`"),
                suggestion=nearest(wire.circuit, circuits) or "",
                length=len(wire.circuit),
            )

    def _route(self, pull: Pull) -> Route | None:
        ways: list[Way] = []
        sound = True
        seen: set[str] = set()
        for index, name in enumerate(pull.through or ()):
            if name not in self.ways:
                at = _item(pull, "through", index)
                self._refer(pull, "through", name, self.ways, "a raceway or cable", at)
                sound = False
                continue
            if name in seen:
                self.reader.report(
                    _item(pull, "through", index),
                    f"pull `{pull.id}` would have `{name}` in two places at once",
                    found=f"`{name}` twice in the route",
                    expected="every raceway once",
                    length=len(name),
                )
                sound = False
            seen.add(name)
            ways.append(self.ways[name])
        if not sound or not ways:
            if pull.through is not None and not ways and sound:
                self.reader.report(
                    _mark(pull, "through"),
                    f"pull `{pull.id}` goes through nothing",
                    found="an empty list",
                    expected="the raceways or the cable that it goes through, in order",
                )
            return None
        for way in ways:
            if way.from_ not in self.ends or way.to not in self.ends:
                return None
        for start in (ways[0].from_, ways[0].to):
            places = _walk(ways, start)
            if places is not None:
                return Route(ways, [self.ends[name] for name in places])
        self._disconnected(pull, ways)
        return None

    def _disconnected(self, pull: Pull, ways: list[Way]) -> None:
        for index in range(1, len(ways)):
            # The first place where the walk breaks from either end of the first raceway.
            if all(_walk(ways[: index + 1], s) is None for s in (ways[0].from_, ways[0].to)):
                before, after = ways[index - 1], ways[index]
                shared = {before.from_, before.to} & {after.from_, after.to} - {FIELD}
                reason = (
                    f"`{after.id}` turns back to where `{before.id}` came from"
                    if shared
                    else f"`{before.id}` ends in {before.from_} and {before.to}, "
                    f"`{after.id}` in {after.from_} and {after.to}"
                )
                near = [
                    w.id
                    for w in self.at.get(before.to, []) + self.at.get(before.from_, [])
                    if w not in ways
                ]
                self.reader.report(
                    _item(pull, "through", index),
                    f"the route of pull `{pull.id}` is not connected",
                    found=reason,
                    expected="each raceway to start where the one before it ends",
                    suggestion=near[0] if near else "",
                    length=len(after.id),
                )
                return

    def _loops(self, pull: Pull, route: Route) -> None:
        passed = {p.id for p in route.places[1:-1] if isinstance(p, Box)}
        for index, name in enumerate(pull.loops):
            at = _item(pull, "loops", index)
            if name not in passed:
                self.reader.report(
                    at,
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


def _parts(box: Box) -> tuple[Compartment, ...]:
    """The compartments that a box states."""
    return () if isinstance(box.compartments, Missing) else box.compartments


def _mark(element: Any, key: str) -> Mark:
    node = element.node
    mark: Mark = node.value_mark(key) if key in node else node.mark
    return mark


def _item(element: Any, key: str, index: int) -> Mark:
    """The place of one item of a list, or of the value where it was written without a list."""
    value = element.node.get(key)
    if hasattr(value, "value_mark"):
        mark: Mark = value.value_mark(index)
        return mark
    return _mark(element, key)


def stated(value: Any) -> bool:
    """Whether a field holds a value."""
    return type(value) is not Missing and value is not None
