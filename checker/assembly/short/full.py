"""An expanded design in the full form: without the keys that only the expansion needed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

#: Keys that say how wires are made; the wires are there now.
_SPENT = {"circuits": "wire", "panels": "neutral"}


def full_form(root: Mapping[str, Any]) -> dict[str, Any]:
    """The design as plain mappings and lists, in the order that it has; ``root`` is expanded."""
    made: dict[str, Any] = dict(root)
    for collection, key in _SPENT.items():
        value = made.get(collection)
        if isinstance(value, Mapping):
            value = [value]
        if isinstance(value, list):
            made[collection] = [_without(one, key) for one in value]
    defaults = made.get("defaults")
    wire = defaults.get("wire") if isinstance(defaults, Mapping) else None
    if isinstance(defaults, Mapping) and isinstance(wire, Mapping):
        kept = _without(wire, "size")
        made["defaults"] = {k: v for k, v in {**defaults, "wire": kept or None}.items() if v}
        if not made["defaults"]:
            del made["defaults"]
    return made


def _without(one: Any, key: str) -> Any:
    return {k: v for k, v in one.items() if k != key} if isinstance(one, Mapping) else one
