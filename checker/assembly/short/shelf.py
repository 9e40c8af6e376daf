"""Types, groups and defaults of a design and of the files it uses, by name."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from checker.documents.errors import nearest
from checker.documents.nodes import Mapping, Sequence

from .asked import DEFAULT_CLASSES
from .files import base_of
from .kinds import Kind, typed
from .problems import Notes

#: How many types may stand between an element and the last one that it is like.
MOST_LIKES = 8
_SHOWN = 12  # names in a message

#: A key's value, where the key stands and where the value stands.
Entry = tuple[Any, int, int]
Entries = dict[str, Entry]


@dataclass(slots=True)
class Type:
    """A named set of fields: its mapping, where its name stands, and all its fields once known."""

    node: Mapping
    place: int
    entries: Entries | None = None


@dataclass(slots=True)
class Shelf:
    """What elements can be like, by class and name, and the groups that can be placed."""

    notes: Notes
    types: dict[str, dict[str, Type]] = field(default_factory=dict)
    groups: dict[str, Mapping] = field(default_factory=dict)
    defaults: dict[str, Entries] = field(default_factory=dict)
    kinds: dict[str, Kind] = field(default_factory=typed)

    # -- filling it --------------------------------------------------------------------------

    def take_types(self, root: Mapping) -> None:
        """Take the types of one file."""
        classes = mapping_of(root, "types", self.notes, "classes of elements with named types")
        if classes is None:
            return
        for name in classes:
            if name not in self.kinds:
                message = f"there is no class `{name[:200]}` that could have types"
                expected = "one of " + ", ".join(self.kinds)
                close = nearest(name, self.kinds) or ""
                self._at_key(classes, name, message, name, expected, close)
                if not close:
                    continue
            named = mapping_of(classes, name, self.notes, "names with the fields of each type")
            # Taken as what was meant: what is like them is not wrong for their being misspelt.
            kind = name if name in self.kinds else nearest(name, self.kinds) or ""
            for one in () if named is None else named:
                self._take_type(named, kind, one)

    def _take_type(self, named: Any, kind: str, name: str) -> None:
        node = mapping_of(named, name, self.notes, f"the fields of a {kind}")
        if node is None:
            return
        if "id" in node and self.kinds[kind].named:
            message = f"type `{name}` has an id, and every element needs its own"
            self._at_key(node, "id", message, str(node["id"]), "the id on each element")
        self._parameters(node, "a type")
        shelf = self.types.setdefault(kind, {})
        if name in shelf:
            first = shelf[name].node.mark
            message = f"there are two types `{name}` of {kind}"
            found = f"`{name}` again; first on line {first.line} of {_file(shelf[name].node)}"
            self._at_key(named, name, message, found, "a name of its own for each type")
            return
        shelf[name] = Type(node, base_of(named.source) + key_place(named, name))

    def take_groups(self, root: Mapping) -> None:
        """Take the groups of one file."""
        groups = mapping_of(root, "groups", self.notes, "names with the elements of each group")
        if groups is None:
            return
        for name in groups:
            node = mapping_of(groups, name, self.notes, "the elements of a group")
            if node is None:
                continue
            if name in self.groups:
                first = self.groups[name].mark
                message = f"there are two groups `{name}`"
                where = f"line {first.line} of {_file(self.groups[name])}"
                found = f"`{name}` again; first on {where}"
                self._at_key(groups, name, message, found, "a name of its own for each group")
                continue
            self.groups[name] = node

    def take_defaults(self, root: Mapping) -> None:
        """Take the fields that elements of a class have unless they say otherwise."""
        defaults = root.get("defaults")
        if not isinstance(defaults, Mapping):
            return
        for kind in DEFAULT_CLASSES:
            node = mapping_of(defaults, kind, self.notes, f"fields of a {kind}")
            if node is None:
                continue
            if "id" in node:
                message = f"`defaults` gives every {kind} the same id"
                self._at_key(node, "id", message, str(node["id"]), "the id on each element")
            self._parameters(node, "`defaults`")
            entries = entries_of(node)
            self.defaults[kind] = self._with_like(entries, kind, 0, []) or entries

    # -- taking from it ----------------------------------------------------------------------

    def merged(self, node: Mapping, kind: Kind) -> tuple[Entries, tuple[str, int] | None]:
        """All fields of an element: its own, then those of its type, then the defaults.

        With the name and place of the type, where it is like one.
        """
        entries = entries_of(node)
        like = entries.get("like")
        whole = self._with_like(entries, kind.name, 0, []) if like is not None else None
        if whole is None:
            whole = entries
            like = None
        for key, entry in self.defaults.get(kind.name, {}).items():
            whole.setdefault(key, entry)
        name = None if like is None else str(like[0])
        found = self.types[kind.name][name].place if name is not None else 0
        return whole, None if name is None else (name, found)

    def is_plain(self, node: Mapping, kind: Kind) -> bool:
        """Whether an element states all its fields itself."""
        return "like" not in node and kind.name not in self.defaults

    def _with_like(
        self, entries: Entries, kind: str, depth: int, chain: list[str]
    ) -> Entries | None:
        """The entries and, after them, those of what they are like; None where there is no such."""
        like = entries.pop("like", None)
        if like is None:
            return entries
        name, _, place = like
        mark = self.notes.files.mark(place)
        if not isinstance(name, str):
            found = "nothing" if name is None else "a list or a mapping"
            expected = f"`like:` with the name of a type of {kind}"
            self.notes.add(mark, "`like` names no type", found=found, expected=expected)
            return None
        known = self.types.get(kind, {})
        if name not in known:
            self._no_type(mark, name, kind, known)
            return None
        if name in chain:
            circle = " → ".join([*chain[chain.index(name) :], name])
            message = f"type `{name}` of {kind} is like itself"
            self.notes.add(mark, message, found=circle, expected="types without a circle")
            return None
        if depth >= MOST_LIKES:
            message = f"more than {MOST_LIKES} types are like each other"
            found = " → ".join([*chain, name])
            self.notes.add(mark, message, found=found, expected="fewer steps")
            return None
        one = known[name]
        fields = one.entries
        if fields is None or depth:
            fields = self._with_like(entries_of(one.node), kind, depth + 1, [*chain, name])
            if fields is None:
                return None
            if not depth:
                one.entries = fields
        for key, entry in fields.items():
            entries.setdefault(key, entry)
        return entries

    def _no_type(self, mark: Any, name: str, kind: str, known: dict[str, Type]) -> None:
        others = [other for other, types in self.types.items() if name in types]
        message = f"there is no type `{name[:200]}` of {kind}"
        if others:
            message += f"; it is one of {', '.join(others)}"
        self.notes.add(
            mark,
            message,
            found=name[:200],
            expected="a type of " + kind + ": " + (_some(known) or "none is described"),
            suggestion=nearest(name, known) or "",
            length=len(name),
        )

    def _parameters(self, node: Any, what: str) -> None:
        """A parameter means something inside a group only."""
        for value, mark in texts_within(node):
            if is_parameter(value):
                message = f"a parameter in {what}; parameters are for groups"
                self.notes.add(
                    mark, message, found=value, expected='a value; "$…" in quotes is text'
                )

    def _at_key(
        self,
        node: Any,
        key: str,
        message: str,
        found: str,
        expected: str,
        suggestion: str = "",
    ) -> None:
        self.notes.add(
            node.key_mark(key),
            message,
            found=found[:200],
            expected=expected,
            suggestion=suggestion,
            length=len(key),
        )


def mapping_of(node: Mapping, key: str, notes: Notes, what: str) -> Mapping | None:
    """The mapping at a key, None where there is none; what is no mapping is reported."""
    value = node.get(key)
    if value is None or isinstance(value, Mapping):
        return value
    found = "a list" if isinstance(value, Sequence) else str(value)[:200]
    message = f"`{key[:200]}` cannot be read"
    notes.add(node.value_mark(key), message, found=found, expected=f"a mapping: {what}")
    return None


def entries_of(node: Mapping) -> Entries:
    """The keys of a mapping with their values and places."""
    base, places = base_of(node.source), node.places
    return {
        key: (value, base + places[2 * at + 1], base + places[2 * at + 2])
        for at, (key, value) in enumerate(node.items())
    }


def key_place(node: Mapping, key: str) -> int:
    """The number of a key's place in its file."""
    return node.places[2 * list(node).index(key) + 1]


def is_parameter(value: Any) -> bool:
    """Whether a value stands for an argument: plain text that begins with a dollar sign."""
    return value.__class__ is str and value.startswith("$")


def texts_within(node: Any) -> list[tuple[str, Any]]:
    """Every text in a value, with its place."""
    found: list[tuple[str, Any]] = []
    waiting: list[Any] = [node]
    while waiting:
        one = waiting.pop()
        pairs = one.items() if isinstance(one, Mapping) else enumerate(one)
        for key, value in pairs:
            if isinstance(value, str):
                found.append((value, one.value_mark(key)))
            elif isinstance(value, (Mapping, Sequence)):
                waiting.append(value)
    return found[::-1]


def _file(node: Mapping) -> str:
    return node.source.path


def _some(names: Any) -> str:
    listed = list(names)
    return ", ".join(listed[:_SHOWN]) + (", …" if len(listed) > _SHOWN else "")
