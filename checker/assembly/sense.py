"""What a description says that cannot be meant: told as input errors, with their place.

A rule would take such a thing for what it says and give a number that nobody asked for.
"""

from __future__ import annotations

from typing import Any

from checker.documents.missing import known

from .derive import UNGROUNDED
from .records import Cable, Circuit, Pull, Raceway, Wire
from .structure import Index, ways_of

_INSULATED = (*UNGROUNDED, "neutral")
#: Equal within it, as in the comparisons of rules: 0.72 kVA is 720 VA.
_TOLERANCE = 1e-9


def check_sense(index: Index) -> None:
    """Report what cannot be meant to the reader of ``index``."""
    for panel in index.assembly.panels:
        system = panel.system
        if known(system) and any(not part.strip("0YD") for part in system.split("/") if part):
            index.reader.report(
                panel.node.value_mark("system"),
                f"the system of panel `{panel.id}` has no voltage",
                found=str(panel.node["system"]),
                expected="voltages such as 208Y/120, 480Y/277 or 120/240",
            )
    for circuit in index.assembly.circuits:
        _circuit(circuit, index)
    for way in ways_of(index.assembly):
        if known(way.length) and way.length == 0:
            index.reader.report(
                way.node.value_mark("length"),
                f"`{way.id}` has no length",
                found=str(way.node["length"]),
                expected="its length; leave `length:` out where it is not known",
            )
        _supports(way, index)
    for pull in index.assembly.pulls:
        _pull(pull, index)


def _circuit(circuit: Circuit, index: Index) -> None:
    phases = circuit.phases
    if known(phases) and len(set(phases)) != len(phases):
        index.reader.report(
            circuit.node.value_mark("phases"),
            f"circuit `{circuit.id}` has a phase twice",
            found=", ".join(phases),
            expected="each of its phases once",
        )
    if known(phases) and not phases and not _has_items(circuit.node["phases"]):
        index.reader.report(
            circuit.node.value_mark("phases"),
            f"circuit `{circuit.id}` has no phase",
            found="an empty list",
            expected="A, B or C; several for a circuit of several poles",
        )
    if known(circuit.breaker) and circuit.breaker == 0:
        index.reader.report(
            circuit.node.value_mark("breaker"),
            f"the overcurrent device of circuit `{circuit.id}` has no rating",
            found=str(circuit.node["breaker"]),
            expected="its rating; leave `breaker:` out where it is not known",
        )
    load, part = circuit.load, circuit.continuous_load
    if known(load) and known(part) and part > load * (1 + _TOLERANCE):
        index.reader.report(
            circuit.node.value_mark("continuous_load"),
            f"the continuous load of circuit `{circuit.id}` is more than its load",
            found=str(circuit.node["continuous_load"]),
            expected=f"the part of `load: {circuit.node['load']}` that is continuous",
        )


def _supports(way: Raceway | Cable, index: Index) -> None:
    """Supports are measured from the start: one beyond the end would hold nothing, and satisfy."""
    if not known(way.length) or way.length == 0 or not known(way.supports):
        return
    for place, support in enumerate(way.supports):
        if support > way.length * (1 + _TOLERANCE):
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
    if pull.wires is not None and not pull.wires:
        index.reader.report(
            pull.node.value_mark("wires") if "wires" in pull.node else pull.node.mark,
            f"pull `{pull.id}` has no wires",
            found="an empty list",
            expected="the wires that are drawn in together",
        )
    if known(pull.circuit) and pull.circuit and len(set(pull.circuit)) != len(pull.circuit):
        index.reader.report(
            pull.node.value_mark("circuit"),
            f"pull `{pull.id}` names a circuit twice",
            found=", ".join(pull.circuit),
            expected="each of its circuits once",
        )
    for wire in pull.wires or ():
        if wire.bare and wire.role in _INSULATED:
            index.reader.report(
                wire.node.value_mark("bare"),
                f"a {wire.role} wire of pull `{pull.id}` cannot be bare",
                found="bare: true",
                expected="`bare:` with grounding conductors only",
            )
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
        index.reader.report(
            wire.node.value_mark("phase"),
            f"a wire of pull `{pull.id}` is on a phase that its circuit has not",
            found=str(wire.phase),
            expected="one of " + ", ".join(sorted(phases)),
        )
