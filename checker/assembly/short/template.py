"""Elements as templates: worked out once, made again for every placement of their group.

Only what differs between placements is made anew: ids, names of the group's own elements, values of
parameters and, where a placement is mirrored or shifted, places.  All else is shared.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from checker.documents.nodes import Mapping, Sequence

from .files import Files, Origin, Placement, base_of
from .kinds import Kind
from .moving import MOVED, Move
from .problems import Notes
from .scope import Scope
from .shelf import Shelf, entries_of, is_parameter

#: A value and the number of its place.
Made = tuple[Any, int]
#: What a short form may come to: its values, and records such as devices and wires several times.
MOST = 2_000_000
RECORD = 5


@dataclass(slots=True)
class Budget:
    """How much may still be made."""

    notes: Notes
    left: int = MOST

    def spend(self, number: int, mark: Any) -> None:
        """Take some; the design is refused where there are not so many left."""
        self.left -= number
        if self.left < 0:
            self.notes.add(
                mark,
                "the design comes to too many values",
                found="more than a million, in elements with their devices, bends and wires",
                expected="fewer placements, or smaller groups",
            )
            self.notes.stop()


@dataclass(slots=True)
class Site:
    """Where elements are made: for a placement, or for the design itself (``placed`` is None)."""

    files: Files
    placed: Placement | None = None
    prefix: str = ""
    arguments: dict[str, Made] = field(default_factory=dict)
    move: Move | None = None
    _origins: dict[tuple[str, int] | None, Origin] = field(default_factory=dict)

    def origin(self, like: tuple[str, int] | None) -> Origin:
        """The source of what is made here and is like a type."""
        found = self._origins.get(like)
        if found is None:
            found = self._origins[like] = Origin(self.files, self.placed, like)
        return found


Maker = Callable[[Site], Made]


class Template:
    """One element, or one record within an element."""

    __slots__ = ("edits", "items", "like", "moves", "places", "plain", "weight")

    def __init__(self, start: int, like: tuple[str, int] | None, plain: bool) -> None:
        self.items: dict[str, Any] = {}
        self.places = [start]
        self.edits: list[tuple[str, int, Maker]] = []
        self.moves: list[tuple[str, int]] = []
        self.like = like
        self.plain = plain
        self.weight = RECORD

    @property
    def constant(self) -> bool:
        """Whether it is the same everywhere, and as it is written."""
        return self.plain and not self.edits and not self.moves

    def make(self, site: Site) -> Mapping:
        """The element as it is at one site."""
        made = Mapping.joined(self.items, site.origin(self.like), self.places)
        if self.edits:
            places = self.places.copy()
            made._places = places
            for key, at, maker in self.edits:
                made[key], places[at] = maker(site)
        if site.move is not None:
            for key, at in self.moves:
                made[key] = site.move.moved(key, made[key], site.origin(None), made.places[at])
        return made


class Compiler:
    """Makes templates from the mappings of a design; ``scope`` is that of a group, or None."""

    def __init__(self, shelf: Shelf, files: Files) -> None:
        self.shelf = shelf
        self.notes = shelf.notes
        self.files = files

    def template(self, node: Mapping, kind: Kind, scope: Scope | None) -> Template:
        """The template of an element."""
        plain = self.shelf.is_plain(node, kind)
        entries, like = (entries_of(node), None) if plain else self.shelf.merged(node, kind)
        made = Template(base_of(node.source) + node.places[0], like, plain)
        for at, (key, (value, key_place, place)) in enumerate(entries.items()):
            made.items[key] = value
            made.places += (key_place, place)
            maker, weight = self._maker(key, value, place, kind, scope)
            made.weight += weight or size_of(value)
            if maker is not None:
                made.edits.append((key, 2 * at + 2, maker))
            if scope is not None and key in MOVED:
                made.moves.append((key, 2 * at + 2))
        return made

    def _maker(
        self, key: str, value: Any, place: int, kind: Kind, scope: Scope | None
    ) -> tuple[Maker | None, int]:
        """What makes the value of a key at a site; None where it is the same everywhere."""
        if key in kind.inner:
            return self._inner(value, place, kind.inner[key], scope)
        if scope is None:
            return None, 0
        if key == "id" and kind.named:
            return self._id(value, place, scope), 0
        if is_parameter(value):
            return self._argument(value, place, kind.refers.get(key), scope), 0
        if key in kind.refers:
            return self._reference(value, place, kind.refers[key], scope), 0
        return self._deep(value, place, scope), 0

    def _id(self, value: Any, place: int, scope: Scope) -> Maker | None:
        if is_parameter(value):
            self.notes.add(
                self.files.mark(place),
                "an id in a group is a name of its own, not a parameter",
                found=value,
                expected="a name; outside the group it is PLACEMENT.NAME",
            )
        if not isinstance(value, str):
            return None
        kept = type(value)
        return lambda site: (kept(site.prefix + value), place)

    def _argument(
        self, value: str, place: int, targets: tuple[str, ...] | None, scope: Scope
    ) -> Maker | None:
        """The value of a parameter; a name in it may be one of the group's."""
        name = scope.use(value, place, self.notes)
        if name is None:
            return None
        if targets is None:
            return lambda site: site.arguments[name]
        local = scope.local(targets)

        def make(site: Site) -> Made:
            given, at = site.arguments[name]
            return _named(given, local, site), at

        return make

    def _reference(
        self, value: Any, place: int, targets: tuple[str, ...], scope: Scope
    ) -> Maker | None:
        """A name, or a list of names, each of the group's own element or of the design's."""
        local = scope.local(targets)
        if isinstance(value, str):
            return (lambda site: (site.prefix + value, place)) if value in local else None
        if not isinstance(value, Sequence):
            return None
        makers = [
            self._argument(one, base_of(value.source) + at, targets, scope)
            if is_parameter(one)
            else self._reference(one, base_of(value.source) + at, targets, scope)
            for one, at in zip(value, value.places[1:], strict=True)
        ]
        return _several(value, place, makers)

    def _inner(
        self, value: Any, place: int, kind: Kind, scope: Scope | None
    ) -> tuple[Maker | None, int]:
        """The records that an element holds, one or a list."""
        if isinstance(value, Mapping):
            template = self.template(value, kind, scope)
            if template.constant:
                return None, template.weight
            return (lambda site: (template.make(site), place)), template.weight
        if scope is not None and is_parameter(value):
            return self._records(value, place, kind, scope), 1
        if not isinstance(value, Sequence):
            return None, 0
        base = base_of(value.source)
        found = [
            self._inner(one, base + at, kind, scope)
            for one, at in zip(value, value.places[1:], strict=True)
        ]
        return _several(value, place, [maker for maker, _ in found]), sum(w for _, w in found)

    def _records(self, value: str, place: int, kind: Kind, scope: Scope) -> Maker | None:
        """Records that are an argument: they are the group's own, though written elsewhere."""
        name = scope.use(value, place, self.notes)
        if name is None:
            return None
        known: dict[int, Maker | None] = {}

        def make(site: Site) -> Made:
            given, at = site.arguments[name]
            if id(given) not in known:
                known[id(given)] = self._inner(given, at, kind, scope)[0]
            maker = known[id(given)]
            return (given, at) if maker is None else maker(site)

        return make

    def _deep(self, value: Any, place: int, scope: Scope) -> Maker | None:
        """A list or mapping without records, with parameters in it."""
        if not isinstance(value, (Mapping, Sequence)):
            return None
        base = base_of(value.source)
        places = value.places[2::2] if isinstance(value, Mapping) else value.places[1:]
        inner = value.values() if isinstance(value, Mapping) else value
        makers = [
            self._argument(one, base + at, None, scope)
            if is_parameter(one)
            else self._deep(one, base + at, scope)
            for one, at in zip(inner, places, strict=True)
        ]
        if isinstance(value, Sequence):
            return _several(value, place, makers)
        edits = [(key, m) for key, m in zip(value, makers, strict=True) if m is not None]
        if not edits:
            return None
        start = [base + at for at in value.places]
        index = {key: 2 * at + 2 for at, key in enumerate(value)}

        def make(site: Site) -> Made:
            changed = start.copy()
            made = Mapping.joined(value, site.origin(None), changed)
            for key, maker in edits:
                made[key], changed[index[key]] = maker(site)
            return made, place

        return make


def size_of(value: Any) -> int:
    """How many values there are in one, itself among them."""
    size, waiting = 0, [value]
    while waiting:
        one = waiting.pop()
        size += 1
        if isinstance(one, Mapping):
            waiting += one.values()
        elif isinstance(one, Sequence):
            waiting += one
    return size


def _several(value: Sequence, place: int, makers: list[Maker | None]) -> Maker | None:
    """A list with some items made at each site."""
    edits = [(at, maker) for at, maker in enumerate(makers) if maker is not None]
    if not edits:
        return None
    base = base_of(value.source)
    places = [base + at for at in value.places]

    def make(site: Site) -> Made:
        changed = places.copy()
        made = Sequence.joined(value, site.origin(None), changed)
        for at, maker in edits:
            made[at], changed[at + 1] = maker(site)
        return made, place

    return make


def _named(given: Any, local: Any, site: Site) -> Any:
    """An argument that names elements, with those of the group by their full names."""
    if isinstance(given, str):
        return site.prefix + given if given in local else given
    if isinstance(given, Sequence):
        base = base_of(given.source)
        names = [_named(one, local, site) for one in given]
        return Sequence.joined(names, site.origin(None), [base + at for at in given.places])
    return given
