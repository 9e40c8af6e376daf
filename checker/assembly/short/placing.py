"""Placements: the elements of a group, made for one place of the wall after the other."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.documents.errors import Mark, nearest
from checker.documents.nodes import Mapping, Sequence

from .files import Files, Placement, base_of
from .groups import Group
from .lengths import inches
from .moving import Move
from .problems import Notes
from .shelf import is_parameter, mapping_of, texts_within
from .template import RECORD, Budget, Made, Site, size_of

#: Elements of a design after placing.
MOST_ELEMENTS = 20_000
_KEYS = ("group", "id", "with", "mirror", "shift")

#: By collection, the elements with their places.
Elements = dict[str, list[tuple[Mapping, int]]]


class Placer:
    """Places groups.  ``own`` is how many elements the design has itself."""

    def __init__(self, groups: dict[str, Group], files: Files, notes: Notes, own: int) -> None:
        self.groups = groups
        self.files = files
        self.notes = notes
        self.budget = Budget(notes)
        self.count = own
        self.made: Elements = {}
        self._first: dict[str, Mark] = {}
        self._sizes: dict[int, int] = {}
        self._moves: dict[tuple[Fraction | None, Fraction, Fraction], Move] = {}

    def place_all(self, root: Mapping) -> Elements:
        """The elements of every placement, by collection, in order."""
        value = root.get("place")
        if value is None:
            return self.made
        listed: Any = value
        if isinstance(value, Mapping):
            self._place(value)
        elif not isinstance(listed, Sequence):
            expected = "a list, each item `{group: NAME, id: NAME, with: {…}}`"
            mark = root.value_mark("place")
            self.notes.add(mark, "`place` cannot be read", found=str(value), expected=expected)
        else:
            for at, one in enumerate(listed):
                if isinstance(one, Mapping):
                    self._place(one)
                    continue
                found = "nothing" if one is None else "a list or text"
                expected = "`{group: NAME, id: NAME}`"
                mark = listed.value_mark(at)
                self.notes.add(mark, "a placement cannot be read", found=found, expected=expected)
        return self.made

    def _place(self, node: Mapping) -> None:
        for key in node:
            if key not in _KEYS:
                self._wrong(
                    node.key_mark(key),
                    f"unknown key `{key[:200]}` in a placement",
                    key,
                    "one of " + ", ".join(_KEYS),
                    nearest(key, _KEYS) or "",
                )
        name, group = self._id(node), self._group(node)
        if group is None or name is None:
            return
        self.count += len(group.templates)
        if self.count > MOST_ELEMENTS:
            message = f"more than {MOST_ELEMENTS} elements"
            found = f"{self.count} with placement `{name}`"
            expected = "fewer placements, or several designs"
            self.notes.add(node.mark, message, found=found, expected=expected)
            self.notes.stop()
        arguments = self._arguments(node, group, name)
        if arguments is None:
            return
        weight = group.weight
        for key, (value, _) in arguments.items():
            if not isinstance(value, str):
                weight += self._size(value) * group.used.get(key, 0)
        self.budget.spend(weight, node.mark)
        mirrored = node["mirror"] if isinstance(node.get("mirror"), str) else ""
        placed = Placement(name, group.name, node.mark, mirrored)
        self.files.told.placements.append(placed)
        site = Site(self.files, placed, name + ".", arguments, self._move(node))
        for key, template in group.templates:
            made = template.make(site)
            self.made.setdefault(key, []).append((made, made.places[0]))

    def _size(self, value: Any) -> int:
        """What an argument comes to; all of it may be records."""
        size = self._sizes.get(id(value))
        if size is None:
            size = self._sizes[id(value)] = RECORD * size_of(value)
        return size

    def _wrong(
        self, mark: Mark, message: str, found: str, expected: str, suggestion: str = ""
    ) -> None:
        self.notes.add(
            mark,
            message,
            found=found[:200],
            expected=expected,
            suggestion=suggestion,
            length=len(found),
        )

    def _id(self, node: Mapping) -> str | None:
        name = node.get("id")
        if not isinstance(name, str) or not name.strip() or len(name) > 100:
            mark = node.value_mark("id") if "id" in node else node.mark
            found = "no `id:`" if "id" not in node else str(name)[:100] or "an empty text"
            expected = "`id:` with a name of 100 characters at most, such as bay1"
            self._wrong(mark, "a placement has no id", found, expected)
            return None
        first = self._first.setdefault(name, node.value_mark("id"))
        if first != node.value_mark("id"):
            message = f"there are two placements `{name}`"
            found = f"`{name}` again; first on line {first.line}, column {first.column}"
            expected = "a name of its own for each placement"
            self.notes.add(node.value_mark("id"), message, found=found, expected=expected)
            return None
        return str(name)

    def _group(self, node: Mapping) -> Group | None:
        name = node.get("group")
        if isinstance(name, str) and name in self.groups:
            return self.groups[name]
        mark = node.value_mark("group") if "group" in node else node.mark
        text = name if isinstance(name, str) else "no `group:`" if name is None else "a list"
        known = ", ".join(list(self.groups)[:12]) or "none is described"
        close = nearest(text, self.groups) if isinstance(name, str) else ""
        message = "a placement names no group that is described"
        self._wrong(mark, message, text, f"`group:` with the name of a group: {known}", close or "")
        return None

    def _arguments(self, node: Mapping, group: Group, name: str) -> dict[str, Made] | None:
        given = mapping_of(node, "with", self.notes, "parameters of the group with their values")
        if given is None and node.get("with") is not None:
            return None
        found = {key: made for key, made in group.takes.items() if made is not None}
        sound = True
        if given is not None:
            sound = self._given(given, group, found)
        lacking = [key for key in group.takes if key not in found]
        for key in lacking if sound else ():
            known = ", ".join(given or ()) or "nothing"
            expected = f"`{key}:` under `with:`, which group `{group.name}` has no default for"
            self._wrong(node.mark, f"placement `{name}` is without `{key}`", known, expected)
        return found if sound and not lacking else None

    def _given(self, given: Mapping, group: Group, found: dict[str, Made]) -> bool:
        """Take the arguments of a placement; whether all of them can be taken."""
        base, sound = base_of(given.source), True
        for at, (key, value) in enumerate(given.items()):
            if key not in group.takes:
                takes = ", ".join(group.takes) or "nothing"
                message = f"group `{group.name}` takes no `{key[:200]}`"
                close = nearest(key, group.takes) or ""
                self._wrong(given.key_mark(key), message, key, f"one of its: {takes}", close)
                sound = False
            elif value is None:
                if group.takes[key] is None:
                    message = f"`{key}` is empty, and group `{group.name}` has no default for it"
                    self._wrong(given.key_mark(key), message, "nothing", "a value")
                    sound = False
            else:
                found[key] = (value, base + given.places[2 * at + 2])
        for text, mark in texts_within(given):
            if is_parameter(text):
                message = "a parameter stands outside a group"
                self._wrong(mark, message, text, 'a value; "$…" in quotes is text')
                sound = False
        return sound

    def _move(self, node: Mapping) -> Move | None:
        width = shift = None
        if node.get("mirror") is not None:
            width = inches(node["mirror"])
            if width is None or width <= 0:
                expected = "the width that it is mirrored in, such as 72 in"
                text = str(node["mirror"])
                self._wrong(node.value_mark("mirror"), "`mirror` cannot be read", text, expected)
                width = None
        if node.get("shift") is not None:
            value = node["shift"]
            if isinstance(value, Sequence) and len(value) == 2:
                shift = [inches(one) for one in value]
            if shift is None or None in shift:
                expected = "how far across and up, such as [0 in, 2 in]"
                text = ", ".join(map(str, value)) if isinstance(value, Sequence) else str(value)
                self._wrong(node.value_mark("shift"), "`shift` cannot be read", text, expected)
                shift = None
        if width is None and shift is None:
            return None
        across, up = shift or (None, None)
        key = (width, across or Fraction(0), up or Fraction(0))
        return self._moves.setdefault(key, Move(*key))
