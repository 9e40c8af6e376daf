"""What a name means inside a group: a parameter, one of its own elements, or one of the design."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Any

from checker.documents.errors import nearest
from checker.documents.nodes import Mapping, Sequence

from .kinds import COLLECTIONS, GROUPED
from .problems import Notes

_LETTERS = frozenset("abcdefghijklmnopqrstuvwxyz0123456789_")
#: Devices are mounted in the box that names them, so their names are always the group's own.
_ALWAYS = "device"


class _Every(Collection[str]):
    """Every name."""

    def __contains__(self, name: object) -> bool:
        return True

    def __iter__(self) -> Any:
        return iter(())

    def __len__(self) -> int:
        return 1


@dataclass(slots=True)
class Scope:
    """The names of one group.

    parameters: those that it takes; names: its elements by class and id; used: how often each
    parameter stands in it.
    """

    group: str
    parameters: tuple[str, ...]
    names: dict[str, dict[str, Mapping]]
    used: dict[str, int] = field(default_factory=dict)
    _local: dict[tuple[str, ...], Collection[str]] = field(default_factory=dict)

    def local(self, targets: tuple[str, ...]) -> Collection[str]:
        """The names of the group's elements of some classes."""
        found = self._local.get(targets)
        if found is None:
            found = {name for target in targets for name in self.names.get(target, ())}
            found = self._local[targets] = _Every() if _ALWAYS in targets else found
        return found

    def use(self, value: str, place: int, notes: Notes) -> str | None:
        """The parameter that a value stands for; reported where it is none."""
        name = value[1:]
        if name in self.parameters:
            self.used[name] = self.used.get(name, 0) + 1
            return name
        close = nearest(name, self.parameters)
        if close:
            self.used[close] = 1  # it is meant here
        if not name or not _LETTERS.issuperset(name) or name[0].isdigit():
            expected = '`$` and a name of small letters; "$…" in quotes is text'
        else:
            takes = ", ".join(self.parameters) or "nothing"
            expected = f"a parameter that the group takes: {takes}"
        notes.add(
            notes.files.mark(place),
            f"group `{self.group}` takes no `{name[:200]}`",
            found=value[:200],
            expected=expected,
            suggestion=f"${close}" if close else "",
            length=len(value),
        )
        return None


def is_name(name: str) -> bool:
    """Whether a parameter may be called so."""
    return bool(name) and _LETTERS.issuperset(name) and not name[0].isdigit()


def names_of(node: Mapping, keys: Collection[str] = GROUPED) -> dict[str, dict[str, Mapping]]:
    """The elements of a group, or of a design, by class and id."""
    found: dict[str, dict[str, Mapping]] = {}
    for key in keys:
        names = found.setdefault(COLLECTIONS[key].name, {})
        for one in elements(node, key):
            name = one.get("id")
            if isinstance(name, str):
                names.setdefault(name, one)
    return found


def elements(node: Mapping, key: str) -> list[Mapping]:
    """The elements of a collection; one may stand for a list of one."""
    value = node.get(key)
    if isinstance(value, Mapping):
        return [value]
    if isinstance(value, Sequence):
        return [one for one in value if isinstance(one, Mapping)]
    return []
