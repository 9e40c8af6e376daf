"""Which described spaces boxes, devices, circuits, pulls and raceways serve."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import known

from ..records import Box, Circuit, Device, Space
from ..structure import Index, ways_of
from .gaps import gap, if_known, lack_of


def space_facts(index: Index) -> None:
    """What every described space holds, and what serves it."""
    by_circuit: dict[Circuit, dict[Space, None]] = {}
    by_device: dict[Circuit, dict[Space, None]] = {}
    devices: dict[Circuit, list[Device]] = {}
    serving: dict[Space, list[Box]] = {}
    for box in index.assembly.boxes:
        space = index.spaces.get(box.space) if known(box.space) else None
        box.serves = space if space is not None else gap(box, "space")
        for device in box.devices:
            device.box = box
            circuit = index.circuits.get(device.circuit) if known(device.circuit) else None
            device.source = circuit if circuit is not None else gap(device, "circuit")
            if circuit is None:
                continue
            devices.setdefault(circuit, []).append(device)
            if space is not None:
                by_circuit.setdefault(circuit, {})[space] = None
                by_device.setdefault(circuit, {})[space] = None
        if space is None:
            continue
        serving.setdefault(space, []).append(box)
        for pull in box.pulls:
            if box in pull.ends and known(pull.circuits):
                for circuit in pull.circuits:
                    by_circuit.setdefault(circuit, {})[space] = None
    for space in index.assembly.spaces:
        boxes = tuple(serving.get(space, ()))
        space.boxes = boxes
        space.devices = tuple(device for box in boxes for device in box.devices)
        elsewhere = space.receptacles_elsewhere
        brought = list(space.branches_elsewhere)
        brought += ["normal"] if elsewhere.normal else []
        brought += ["critical"] if elsewhere.critical else []
        space.branches_elsewhere = tuple(dict.fromkeys(brought))
        space.branches = _branches(space)
    for circuit in index.assembly.circuits:
        circuit.spaces = tuple(by_circuit.get(circuit, ()))
        circuit.device_spaces = tuple(by_device.get(circuit, ()))
        circuit.devices = tuple(devices.get(circuit, ()))
    _beyond(index)
    if not index.assembly.spaces:
        return  # none was found anywhere
    for pull in index.assembly.pulls:
        if known(pull.circuits):
            found = {s: None for c in pull.circuits for s in by_circuit.get(c, ())}
            pull.spaces = tuple(found)
        else:
            unknown: Any = pull.circuits
            pull.spaces = unknown
    for way in ways_of(index.assembly):
        serves = [pull.spaces for pull in way.pulls]
        lack = lack_of(*serves)
        every = lack if lack is not None else tuple({s: None for some in serves for s in some})
        way.spaces = every


def _beyond(index: Index) -> None:
    """The spaces that the panel of every feeder serves."""
    served: dict[str, dict[Space, None]] = {}
    for circuit in index.assembly.circuits:
        if known(circuit.panel):
            served.setdefault(circuit.panel, {}).update(dict.fromkeys(circuit.device_spaces))
    for circuit in index.assembly.circuits:
        circuit.beyond = tuple(served.get(circuit.feeds, ())) if known(circuit.feeds) else ()


def _branches(space: Space) -> Any:
    """Branches of the circuits that its devices state, and those that other wiring brings."""
    branches = [d.source.branch if known(d.source) else d.source for d in space.devices if _fed(d)]
    return if_known(lambda: tuple(dict.fromkeys([*space.branches_elsewhere, *branches])), *branches)


def _fed(device: Device) -> bool:
    """Whether a branch circuit supplies it: signal devices and blanks may be without one."""
    return device.kind not in ("nurse_call", "data", "blank", "other") or known(device.circuit)
