"""What a description says that cannot be meant: told as input errors, with their place.

A rule would take such a thing for what it says and give a number that nobody asked for.
"""

from __future__ import annotations

from typing import Any

from checker.documents.missing import known
from checker.quantities.patterns import Lazy
from checker.quantities.tolerance import EPSILON

from .facts.roles import UNGROUNDED
from .names import mark_of
from .records import Cable, Circuit, Device, Pull, Raceway, Record, Wire
from .structure import Index, ways_of

_INSULATED = (*UNGROUNDED, "neutral")
_HORSEPOWER = Lazy(r"(?i)\b(?:hp|horsepower)\b|\d\s*hp\b")


def check_sense(index: Index) -> None:
    """Report what cannot be meant to the reader of ``index``."""
    _omissions(index)
    for panel in index.assembly.panels:
        system = panel.system
        if known(system) and any(not part.strip("0YD") for part in system.split("/") if part):
            message = f"the system of panel `{panel.id}` has no voltage"
            _refuse(index, panel, "system", message, "voltages such as 208Y/120 or 120/240")
        if known(panel.phases) and panel.phases not in (1, 3):
            message = f"the system of panel `{panel.id}` has an impossible number of phases"
            _refuse(index, panel, "phases", message, "1 or 3")
    for circuit in index.assembly.circuits:
        _circuit(circuit, index)
    for box in index.assembly.boxes:
        for device in box.devices:
            _device(device, index)
    for way in ways_of(index.assembly):
        if known(way.length) and way.length == 0:
            expected = "its length; leave `length:` out where it is not known"
            _refuse(index, way, "length", f"`{way.id}` has no length", expected)
        _supports(way, index)
    for pull in index.assembly.pulls:
        _pull(pull, index)


def _refuse(
    index: Index, element: Record, key: str, message: str, expected: str, found: str = ""
) -> None:
    """Report the value of a key; ``found`` is what is written unless stated."""
    found = found or str(element.node[key])
    index.reader.report(mark_of(element, key), message, found=found, expected=expected)


def _omissions(index: Index) -> None:
    """Each kind of detail is left out once, with one reason."""
    first: dict[str, int] = {}
    for omission in index.assembly.not_covered:
        topic, node = omission.topic, omission.node
        if topic in first:
            message = f"`not_covered` names `{topic}` twice"
            expected = "each topic once, with one reason"
            found = f"`{topic}` again; first on line {first[topic]}"
            _refuse(index, omission, "topic", message, expected, found)
        elif topic is not None:
            first[topic] = node.value_mark("topic").line


def _circuit(circuit: Circuit, index: Index) -> None:
    phases, name = circuit.phases, f"circuit `{circuit.id}`"
    if known(phases) and len(set(phases)) != len(phases):
        message = f"{name} has a phase twice"
        _refuse(index, circuit, "phases", message, "each of its phases once", ", ".join(phases))
    if known(phases) and not phases and not _has_items(circuit.node["phases"]):
        expected = "A, B or C; several for a circuit of several poles"
        _refuse(index, circuit, "phases", f"{name} has no phase", expected, "an empty list")
    if known(circuit.breaker) and circuit.breaker == 0:
        expected = "its rating; leave `breaker:` out where it is not known"
        message = f"the overcurrent device of {name} has no rating"
        _refuse(index, circuit, "breaker", message, expected)
    for key in ("motor_current", "mca", "mocp"):
        value = getattr(circuit, key)
        if known(value) and value == 0:
            expected = f"its value; leave `{key}:` out where it does not apply"
            _refuse(index, circuit, key, f"`{key}` of {name} is zero", expected)
    for key in ("load", "continuous_load"):
        if known(getattr(circuit, key)) and _HORSEPOWER.search(str(circuit.node[key])):
            message = f"`{key}` of {name} in horsepower leaves out efficiency and power factor"
            expected = "`motor_current:` with its full-load current, and the load in VA"
            _refuse(index, circuit, key, message, expected)
    if known(circuit.feeds) and known(circuit.panel) and circuit.feeds == circuit.panel:
        message = f"{name} feeds the panel that it comes from"
        _refuse(index, circuit, "feeds", message, "the panel that it supplies")
    if known(circuit.feeds) and known(circuit.outlets) and circuit.outlets != "feeder":
        message = f"{name} feeds panel `{circuit.feeds}` and has outlets"
        _refuse(index, circuit, "outlets", message, "feeder, or no `feeds:`")
    if known(circuit.tap_of) and circuit.tap_of == circuit.id:
        message = f"{name} is a tap of itself"
        _refuse(index, circuit, "tap_of", message, "the circuit that it is tapped from")
    load, part = circuit.load, circuit.continuous_load
    if known(load) and known(part) and part > load * (1 + EPSILON):
        expected = f"the part of `load: {circuit.node['load']}` that is continuous"
        message = f"the continuous load of {name} is more than its load"
        _refuse(index, circuit, "continuous_load", message, expected)


def _device(device: Device, index: Index) -> None:
    """A device is on phases that its circuit has."""
    phases = device.phases
    circuit = index.circuits.get(device.circuit) if known(device.circuit) else None
    if not known(phases) or circuit is None or not known(circuit.phases):
        return
    if not phases or set(phases) - set(circuit.phases):
        message = f"device `{device.id}` is on a phase that its circuit does not have"
        expected = "some of " + ", ".join(circuit.phases)
        _refuse(index, device, "phases", message, expected, ", ".join(phases) or "an empty list")


def _supports(way: Raceway | Cable, index: Index) -> None:
    """Supports are measured from the start: one beyond the end would hold nothing, and satisfy."""
    if not known(way.length) or way.length == 0 or not known(way.supports):
        return
    for place, support in enumerate(way.supports):
        if support > way.length * (1 + EPSILON):
            supports = way.node["supports"]
            index.reader.report(
                supports.value_mark(place),
                f"a support lies beyond the end of `{way.id}`",
                found=str(supports[place]),
                expected=f"at most its length, {way.node['length']}, from its start",
            )


def _has_items(value: Any) -> bool:
    """Whether a list as written holds something: what could not be read was told already."""
    return isinstance(value, str) or len(value) > 0


def _pull(pull: Pull, index: Index) -> None:
    name = f"pull `{pull.id}`"
    if pull.wires is not None and not pull.wires:
        expected = "the wires that are pulled together"
        _refuse(index, pull, "wires", f"{name} has no wires", expected, "an empty list")
    if pull.by == "site" and pull.pulled == "shop" and "pulled" in pull.node:
        message = f"the field crew makes {name} and the shop pulls it"
        _refuse(index, pull, "pulled", message, "`pulled: site`, or no `by: site`")
    names = pull.circuit
    if known(names) and names and len(set(names)) != len(names):
        message = f"{name} names a circuit twice"
        _refuse(index, pull, "circuit", message, "each of its circuits once", ", ".join(names))
    for wire in pull.wires or ():
        if wire.bare and wire.role in _INSULATED:
            message = f"a {wire.role} wire of {name} cannot be bare"
            expected = "`bare:` with grounding conductors only"
            _refuse(index, wire, "bare", message, expected, "bare: true")
        if known(wire.phase) and wire.role in UNGROUNDED:
            _phase(wire, pull, index)


def _phase(wire: Wire, pull: Pull, index: Index) -> None:
    """A wire's phase is one of those of its circuits."""
    names = (wire.circuit,) if known(wire.circuit) else pull.circuit
    if not known(names):
        return
    phases: set[str] = set()
    for name in names:
        circuit = index.circuits.get(name)
        if circuit is None or not known(circuit.phases):
            return
        phases.update(circuit.phases)
    if phases and wire.phase not in phases:
        message = f"a wire of pull `{pull.id}` is on a phase that its circuit has not"
        _refuse(index, wire, "phase", message, "one of " + ", ".join(sorted(phases)))
