"""``wires: by circuit``: the wires of a pull as they follow from its circuits.

One phase wire for each pole, a neutral for each circuit with a load to neutral, and one equipment
grounding conductor.  Sizes are those of the circuits, colors those of the project's scheme.

The grounding conductor is as large as the largest wire of the pull's circuits.  It needs to be no
larger (250.122(A)), and where the circuit was made larger against voltage drop it has to follow
(250.122(B)): no other size is right without the table, which is for rules to look into.  A smaller
one is written out: ``wires:`` as a list.
"""

from __future__ import annotations

from typing import Any

from checker.documents.nodes import Mapping, Sequence
from checker.quantities.designations import wire_rank, wire_size
from checker.quantities.notation import NotationError

from .asked import asks_by_circuit
from .files import Files, base_of
from .problems import Notes
from .scope import elements
from .shelf import Entry, entries_of
from .template import RECORD, Budget

_PHASES = ("A", "B", "C")


class Wiring:
    """Writes out the wires of pulls; ``root`` is the design with all its elements."""

    def __init__(self, root: Mapping, files: Files, notes: Notes, budget: Budget) -> None:
        self.files = files
        self.notes = notes
        self.budget = budget
        self.circuits = _by_id(root, "circuits")
        self.panels = _by_id(root, "panels")
        self.schemes: dict[str, Mapping] = {}
        for scheme in elements(root, "colors"):
            system = scheme.get("system")
            if isinstance(system, str):
                self.schemes.setdefault(system, scheme)
        self.usual = _usual_size(root)
        self._colors: dict[int, dict[str, Entry]] = {}
        self._known: dict[tuple[tuple[str, ...], int], tuple[list[Mapping], bool]] = {}

    def wired(self, pull: Mapping) -> Mapping:
        """The pull with its wires written out; itself where it states them."""
        wires = pull.get("wires")
        if not asks_by_circuit(wires):
            return pull
        place = list(pull).index("wires") * 2 + 2
        at = base_of(pull.source) + pull.places[place]
        names = self._circuits_of(pull)
        made, colored = self._wires(names, at)
        items: list[Any] = list(made)
        places = [at, *[at] * len(made)]
        if isinstance(wires, Sequence):
            base = base_of(wires.source)
            items += wires[1:]
            places += [base + one for one in wires.places[2:]]
        self.budget.spend(RECORD * len(made), pull.mark)
        if colored and isinstance(pull.get("id"), str):
            self.files.told.by_scheme.append(pull["id"])
        changed = Mapping.joined(pull, pull.source, pull.places)
        changed["wires"] = Sequence.joined(items, self.files, places)
        return changed

    def _circuits_of(self, pull: Mapping) -> tuple[str, ...]:
        """The names of a pull's circuits; what cannot be wired by them is reported."""
        value = pull.get("circuit")
        listed = [value] if isinstance(value, str) else value if isinstance(value, Sequence) else ()
        names = tuple([str(name) for name in listed if isinstance(name, str)])
        if not names:
            self.notes.add(
                pull.value_mark("wires"),
                "`wires: by circuit` in a pull without a circuit",
                found="no `circuit:`",
                expected="`circuit:` with a circuit or a list of them, or the wires as a list",
            )
        for name in names:
            circuit = self.circuits.get(name)
            if circuit is not None and not _phases(circuit):
                self.notes.add(
                    pull.value_mark("wires"),
                    f"`wires: by circuit`, and circuit `{name}` states no phases",
                    found=f"circuit `{name}` without `phases:`",
                    expected="`phases:` on the circuit, one for each pole",
                )
        return names

    def _wires(self, names: tuple[str, ...], at: int) -> tuple[list[Mapping], bool]:
        """The wires of a pull and whether colors of the scheme are among them; made once."""
        known = self._known.get((names, at))
        if known is None:
            known = self._known[names, at] = self._made(names, at)
        return known

    def _made(self, names: tuple[str, ...], at: int) -> tuple[list[Mapping], bool]:
        origin = self.files
        made: list[Mapping] = []
        ground: Entry | None = ("", at, at)
        colored = False
        scheme: Mapping | None = None
        for name in names:
            circuit = self.circuits.get(name)
            if circuit is None:
                continue  # a name that is not there is reported by who looks up names
            panel = self.panels.get(str(circuit.get("panel")))
            scheme = self.schemes.get(str(panel.get("system"))) if panel is not None else None
            size = self._size(circuit)
            ground = _larger(ground, size)
            common = {"size": size}
            if len(names) > 1:
                common["circuit"] = (name, at, at)
            for phase in _phases(circuit):
                fields = {"role": ("phase", at, at), "phase": (phase, at, at), **common}
                fields["color"] = self._color(scheme, phase)
                made.append(_wire(fields, origin, at))
            if _has_neutral(circuit, panel):
                fields = {"role": ("neutral", at, at), **common}
                given = panel is not None and isinstance(panel.get("neutral"), str)
                fields["color"] = (
                    entries_of(panel)["neutral"]
                    if panel is not None and given
                    else self._color(scheme, "neutral")
                )
                made.append(_wire(fields, origin, at))
        if made:
            size = ground if ground is not None and ground[0] else None
            fields = {
                "role": ("ground", at, at),
                "size": size,
                "color": self._color(scheme, "ground"),
            }
            made.append(_wire(fields, origin, at))
            colored = any("color" in wire for wire in made)
        return made, colored

    def _size(self, circuit: Mapping) -> Entry | None:
        """The size of a circuit's wires; None where nothing states it."""
        if circuit.get("wire") is None:
            return self.usual
        return entries_of(circuit)["wire"]

    def _color(self, scheme: Mapping | None, role: str) -> Entry | None:
        """The first color that the scheme gives for a phase or a role."""
        if scheme is None:
            return None
        colors = self._colors.get(id(scheme))
        if colors is None:
            colors = self._colors[id(scheme)] = entries_of(scheme)
        found = colors.get(role)
        if found is None:
            return None
        value, _, place = found
        if isinstance(value, Sequence):
            if not value:
                return None
            value, place = value[0], base_of(value.source) + value.places[1]
        return (value, place, place) if isinstance(value, str) else None


def _by_id(root: Mapping, key: str) -> dict[str, Mapping]:
    found: dict[str, Mapping] = {}
    for one in elements(root, key):
        name = one.get("id")
        if isinstance(name, str):
            found.setdefault(name, one)
    return found


def _usual_size(root: Mapping) -> Entry | None:
    defaults = root.get("defaults")
    wire = defaults.get("wire") if isinstance(defaults, Mapping) else None
    size = entries_of(wire).get("size") if isinstance(wire, Mapping) else None
    return size if size is not None and size[0] is not None else None


def _phases(circuit: Mapping) -> tuple[str, ...]:
    value = circuit.get("phases")
    listed = [value] if isinstance(value, str) else value if isinstance(value, Sequence) else ()
    return tuple([phase for phase in listed if isinstance(phase, str)])


def _has_neutral(circuit: Mapping, panel: Mapping | None) -> bool:
    """Whether a neutral is pulled for a circuit.

    Unless the circuit says otherwise it has one, where its system has a neutral at all.
    """
    stated = circuit.get("neutral")
    if stated in ("true", "True", "false", "False"):
        return str(stated).lower() == "true"
    if panel is None:
        return True
    system = panel.get("system")
    isolated = str(panel.get("isolated_power")).lower() == "true"
    return not isolated and not (isinstance(system, str) and "/" not in system)


def _larger(one: Entry | None, other: Entry | None) -> Entry | None:
    """The larger of two sizes; None where one of them is not known."""
    if one is None or other is None:
        return None
    if not one[0]:
        return other
    try:
        ranks = [wire_rank(wire_size(entry[0])) for entry in (one, other)]
    except (NotationError, KeyError, TypeError):
        return None  # what cannot be read is reported where the circuit states it
    return other if ranks[1] > ranks[0] else one


def _wire(fields: dict[str, Entry | None], origin: Any, at: int) -> Mapping:
    """A wire of these fields; those without a value are left out."""
    items: dict[str, Any] = {}
    places = [at]
    for key, entry in fields.items():
        if entry is not None:
            items[key] = entry[0]
            places += (at, entry[2])
    return Mapping.joined(items, origin, places)
