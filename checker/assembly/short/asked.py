"""Whether a document uses the short form; cheap, since every design is asked."""

from __future__ import annotations

from typing import Any

from checker.documents.nodes import Mapping, Sequence

#: Keys of a document that only the short form has.
ROOT_KEYS = ("types", "groups", "place", "use")
#: Classes that ``defaults`` may give fields for.
DEFAULT_CLASSES = ("box", "device", "raceway", "cable", "circuit", "pull", "coupling")
BY_CIRCUIT = "by circuit"

_COLLECTIONS = ("panels", "circuits", "sections", "joints", "couplings", "spaces", "boxes")
_WAYS = ("raceways", "cables")


def is_short(root: Any) -> bool:
    """Whether a document's root uses a key that has to be expanded."""
    if not isinstance(root, Mapping):
        return False
    if any(key in root for key in ROOT_KEYS):
        return True
    defaults = root.get("defaults")
    if isinstance(defaults, Mapping) and any(key in defaults for key in DEFAULT_CLASSES):
        return True
    if any("like" in one for name in _COLLECTIONS for one in _items(root, name)):
        return True
    if any(
        "like" in one or one.get("supports").__class__ is Mapping
        for name in _WAYS
        for one in _items(root, name)
    ):
        return True
    return any("like" in one or asks_by_circuit(one.get("wires")) for one in _items(root, "pulls"))


def asks_by_circuit(wires: Any) -> bool:
    """Whether the wires of a pull are to follow from its circuits, alone or with others after."""
    if wires.__class__ is Sequence and wires:
        wires = wires[0]
    return isinstance(wires, str) and wires == BY_CIRCUIT


def _items(root: Mapping, name: str) -> list[Any]:
    """The mappings of a collection; one may stand for a list of one."""
    found = root.get(name)
    if isinstance(found, Mapping):
        return [found]
    if not isinstance(found, Sequence):
        return []
    return [one for one in found if one.__class__ is Mapping]
