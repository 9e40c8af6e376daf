"""Resolves the names in an assembly and checks that it hangs together.

Everything wrong is reported to the reader that read the file, together with its own errors:
duplicate names, unknown references, couplings that do not join two raceways.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from checker.documents.missing import Missing, known
from checker.documents.reader import Reader

from .names import FIELD, Names, check_references, item_mark, mark_of, refuse, stated
from .records import Assembly, Box, Cable, Compartment, Coupling, Joint, Panel, Pull, Raceway

__all__ = ["FIELD", "End", "Index", "Route", "Way", "ways_of"]

#: Kinds of benders that a raceway may name where the shop's own are not listed.
TOOLS = ("one_shot", "other")
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
        self.panels = self._named(assembly.panels)
        self.circuits = self._named(assembly.circuits)
        self.sections = self._named(assembly.sections)
        self.joints = self._named(assembly.joints)
        self.spaces = self._named(assembly.spaces)
        # Boxes, panels and couplings share one set of names: a raceway's end may be any of them.
        self.ends = Names({FIELD: FIELD})
        for group in (assembly.panels, assembly.couplings, assembly.boxes):
            self.ends.keep(group, reader)
        self.ways = self._named(ways_of(assembly))
        self.pulls = self._named(assembly.pulls)
        self.rows = self._named(assembly.rows)
        self.benders = Names(dict.fromkeys((*assembly.benders, *TOOLS)))
        self._named([device for box in assembly.boxes for device in box.devices])
        self._named([part for box in assembly.boxes for part in _parts(box)])
        self.at: dict[str, list[Way]] = {}
        #: Of every pull, once ``find_routes`` has found it.
        self.routes: dict[Pull, Route] = {}
        check_references(assembly, self._names_of, reader)
        self._fed_at()
        self._joints()
        self._compartments()
        for way in ways_of(assembly):
            self._way(way)
        self._couplings()
        self._rings()

    def joint_of(self, coupling: Coupling) -> Joint | None:
        """The joint that a coupling crosses: the one it states, or that between its raceways."""
        if known(coupling.joint):
            named: Joint = self.joints[coupling.joint]
            return named
        sections = {way.section for way in self.at.get(coupling.id, ()) if stated(way.section)}
        if len(sections) < 2:
            return None
        crossed = [joint for joint in self.assembly.joints if set(joint.between) == sections]
        return crossed[0] if crossed else None

    # -- names and references --------------------------------------------------------------

    def _named(self, group: Iterable[Any]) -> Names:
        names = Names()
        names.keep(group, self.reader)
        return names

    def _names_of(self, target: str) -> Names:
        """What a reference with that declared target may name."""
        by_target = {
            "panel": self.panels,
            "circuit": self.circuits,
            "section": self.sections,
            "joint": self.joints,
            "space": self.spaces,
            "pull": self.pulls,
            "row": self.rows,
            "bender": self.benders,
            "raceway|cable": self.ways,
        }
        return self.ends if FIELD in target.split("|") else by_target[target]

    def _fed_at(self) -> None:
        """Circuits come in at boxes, and by ways that go on to the field."""
        if not any(circuit.fed_at for circuit in self.assembly.circuits):
            return
        outer = {name: w for name, w in self.ways.items() if FIELD in (w.from_, w.to)}
        boxes = {name: end for name, end in self.ends.items() if isinstance(end, Box)}
        places = Names(outer | boxes)
        for circuit in self.assembly.circuits:
            for place, name in enumerate(circuit.fed_at):
                if name not in places:
                    mark = item_mark(circuit, "fed_at", place)
                    what = "a box, or a way to the field"
                    refuse(circuit, "fed_at", name, places, what, self.reader, mark)

    def _joints(self) -> None:
        for joint in self.assembly.joints:
            names = joint.between or ()
            if joint.between is not None and len(set(names)) != 2:
                self.reader.report(
                    mark_of(joint, "between"),
                    f"joint `{joint.id}` does not join two sections",
                    found=f"{len(set(names))}: " + ", ".join(names),
                    expected="two different sections",
                )

    def _compartments(self) -> None:
        """A compartment mounts devices of its own box."""
        for box in self.assembly.boxes:
            mounted = Names({device.id: device for device in box.devices if device.id is not None})
            for part in _parts(box):
                for index, name in enumerate(part.mounts):
                    if name not in mounted:
                        mark = item_mark(part, "mounts", index)
                        what = "a device of the box"
                        refuse(part, "mounts", name, mounted, what, self.reader, mark)

    # -- raceways and couplings ------------------------------------------------------------

    def _way(self, way: Way) -> None:
        for key, name in (("from", way.from_), ("to", way.to)):
            if name not in self.ends:
                continue
            if isinstance(way, Cable) and isinstance(self.ends[name], Coupling):
                self.reader.report_value(
                    way.node,
                    key,
                    f"cable `{way.id}` cannot end in a coupling",
                    found=name,
                    expected="a box, a panel, or field",
                )
                continue
            self.at.setdefault(name, []).append(way)
        if way.from_ == way.to and way.from_ in self.ends and way.from_ != FIELD:
            self.reader.report_value(
                way.node,
                "to",
                f"`{way.id}` would be in two places at once: it starts and ends in `{way.to}`",
                found=way.to,
                expected="another end",
            )

    def _couplings(self) -> None:
        for coupling in self.assembly.couplings:
            if coupling.id is None or self.ends.get(coupling.id) is not coupling:
                continue
            joined = [way for way in self.at.get(coupling.id, []) if isinstance(way, Raceway)]
            if len(joined) != 2:
                self.reader.report_value(
                    coupling.node,
                    "id",
                    f"coupling `{coupling.id}` joins {len(joined)} raceway"
                    + ("" if len(joined) == 1 else "s"),
                    found=", ".join(way.id or "one without a name" for way in joined) or "none",
                    expected="exactly two raceways, each with an end in it",
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
            mark_of(ring[0], "to"),
            f"raceways {names} join in a ring, and conductors can be pulled in nowhere",
            found="a coupling at every end",
            expected="an end in a box, in a panel or in `field`",
        )


def _parts(box: Box) -> tuple[Compartment, ...]:
    """The compartments that a box states."""
    return () if isinstance(box.compartments, Missing) else box.compartments
