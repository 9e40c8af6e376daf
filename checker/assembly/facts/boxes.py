"""Boxes and what is mounted in them: their own branch, the largest conductors of yokes."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import Missing, known
from checker.quantities.designations import WIRE_RANK
from checker.quantities.patterns import Lazy

from ..aspects import coat
from ..records import Box, Device
from .gaps import describe, gap
from .roles import GROUNDS

#: Names and numbers in a label.
_PARTS = Lazy(r"[a-z0-9]+")
#: Roles of wires that no yoke is counted by.
_UNCONNECTED = (*GROUNDS, "signal")


def own_branch(box: Box) -> Any:
    """The branch that a box is of itself: a panelboard's, or that of a cabinet which states one."""
    if box.kind == "panelboard":
        return (box.branch,) if known(box.branch) else gap(box, "branch")
    return (box.branch,) if box.kind == "cabinet" and known(box.branch) else ()


def elevation(box: Box) -> Any:
    """The upper coordinate of its place; a place of one coordinate tells no height."""
    at = box.at
    return at[1] if not isinstance(at, Missing) and len(at) > 1 else gap(box, "at")


def device_facts(box: Box, labels: str | Missing) -> None:
    """Largest conductor, plain colour and label of every device; ``labels`` as by default."""
    for device in box.devices:
        device.largest = _largest(device, box)
        color = device.color
        device.base_color = coat(color)[0] if known(color) else color
        device.labeled = _labeled(device, labels)


def _labeled(device: Device, labels: str | Missing) -> Any:
    """Whether its label names panel and circuit: ``P-1``, ``P/1`` and ``Panel P, circuit 1``."""
    if type(device.label) is Missing:
        return labels == "panel_and_circuit" if known(labels) else gap(device, "label")
    source = device.source
    if not known(source):
        return source
    if not known(source.panel):
        return gap(source, "panel")
    words = _PARTS.findall(str(device.label).lower())
    named = _PARTS.findall(f"{source.panel} {source.id}".lower())
    return set(named) <= set(words)


def _largest(device: Device, box: Box) -> Any:
    """The largest conductor on a yoke: that of its circuit's wires that end or loop in the box."""
    kind = "signal" if device.kind in ("nurse_call", "data") else ""
    connected = box.ending + box.looped if box.looped else box.ending
    ending = [w for w in connected if w.role == kind] if kind else []
    if not ending:
        ending = [w for w in connected if w.role not in _UNCONNECTED]
    source = device.source
    sourced = known(source)
    sizes: set[str] = set()
    own_sizes: set[str] = set()
    for wire in ending:
        size: Any = wire.size
        circuits = wire.circuits
        if type(size) is not Missing:
            sizes.add(size)
            if sourced and type(circuits) is not Missing and source in circuits:
                own_sizes.add(size)
    if sourced:
        if own_sizes:
            return max(own_sizes, key=WIRE_RANK.__getitem__)
        if len(sizes) == 1 and connected:
            return sizes.pop()
        return Missing(
            "circuit", f"a wire of circuit {device.circuit} that ends in {describe(box)}"
        )
    if len(sizes) == 1:
        return sizes.pop()
    return Missing("circuit", f"`circuit` of {describe(device)}")
