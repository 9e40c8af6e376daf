"""Collections gone through as loops of statements, without calls in between.

Rules go through the same few wires again and again: a list that several expressions of a rule
start from is made once.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from .block import Block
from .nodes import Comprehension, Item, Level, Listed, Node, one_by_one
from .numbering import Numbering

#: So many expressions have to go through the same items before a list of them is made.
_OFTEN = 3


class Writing(Protocol):
    """What loops need of the code that they belong to; see ``compile.Emitter``."""

    block: Block
    items: dict[int, str]
    numbering: Numbering
    counts: bool

    def write(self, node: Node) -> str:
        """The Python of a part."""

    def logic(self, either: bool, parts: tuple[Node, ...]) -> str:
        """Flags joined."""

    def variable(self, start: str) -> str:
        """A variable that nothing else has."""


def loop(writing: Writing, way: str, node: Comprehension, rank: str = "") -> str:
    """Loops that do with each item what a way of going through a collection does.

    Gives the variable of the result.  ``rank``: of the sizes that the largest is sought of.
    """
    known = writing.block.known
    key = (way, writing.numbering.of[id(node)])
    if key not in known:
        known[key] = _Loops(writing, node, way, rank).run()
    return known[key]


class _Loops:
    """The loops of one comprehension; ``shared``: how many conditions a shared list may have."""

    def __init__(
        self, writing: Writing, node: Comprehension, way: str, rank: str = "", shared: int = 1000
    ) -> None:
        self.writing = writing
        self.node = node
        self.way = way
        self.rank = rank
        self.shared = shared
        self.found = writing.variable("x")
        self.best = writing.variable("x") if rank else self.found
        self.deep = 0

    def run(self) -> str:
        writing = self.writing
        outer = writing.block
        outer.set(self.best, WAYS[self.way])
        self._level(0)
        writing.block = outer
        if self.way in ("first", "max", "min"):
            # Nothing was found: what Python's own functions raise of nothing at all.
            sign = "is" if self.way == "first" else "=="
            outer.lines += [f"if {self.best} {sign} {WAYS[self.way]}:", f" f_{self.way}(())"]
        return self.found

    def _level(self, place: int) -> None:
        writing = self.writing
        if place == len(self.node.levels):
            self._each()
            return
        level = self.node.levels[place]
        conditions = level.conditions
        last = level is self.node.levels[-1]
        if last and self.way == "any":
            conditions = (*conditions, *one_by_one(self.node.item))
        outer = writing.block
        if last and self.node.counted:
            writing.counts = True
            source = f"f_counted(b, {writing.write(level.source)})"
        elif isinstance(level.source, Listed) and len(level.source.items) == 1:
            # A list of one item only gives an intermediate result a name.
            value = writing.write(level.source.items[0])
            outer.set(self._enter(level), value)
            self._where(conditions, place)
            return
        else:
            source, conditions = self._source(level, conditions)
        variable = self._enter(level)
        body = writing.block = outer.inner()
        self.deep += 1
        self._where(conditions, place)
        self.deep -= 1
        writing.block = outer
        outer.add(f"for {variable} in {source}:", body)
        if self.deep and self.way in _ENDS:
            outer.lines += [f"if {_ENDS[self.way].format(self.found)}:", " break"]

    def _enter(self, level: Level) -> str:
        variable = self.writing.items[level.slot] = self.writing.variable("c")
        return variable

    def _source(self, level: Level, conditions: tuple[Node, ...]) -> tuple[str, tuple[Node, ...]]:
        """What is gone through, and the conditions that are left: a shared list has passed some."""
        writing, numbering = self.writing, self.writing.numbering
        if numbering.free[id(level.source)]:
            return writing.write(level.source), conditions  # another one in every round
        known = writing.block.known
        keys = numbering.filtered(level, conditions[: self.shared])
        for number, key in reversed(list(enumerate(keys, start=1))):
            if self._others(level, conditions[:number]):
                continue
            if key not in known and numbering.often.get(key, 0) >= _OFTEN:
                known[key] = self._made(level, conditions[:number])
            if key in known:
                return known[key], conditions[number:]
        return writing.write(level.source), conditions

    def _others(self, level: Level, conditions: Sequence[Node]) -> bool:
        """Whether conditions speak of items of other collections too."""
        free = self.writing.numbering.free
        return any(free[id(condition)] - {level.slot} for condition in conditions)

    def _made(self, level: Level, conditions: tuple[Node, ...]) -> str:
        """A list of the items of which some conditions hold."""
        item = Item(level.source.kind, level.source.at, level.slot, level.name)
        passed = Level(level.slot, level.name, level.source, conditions)
        node = Comprehension(level.source.kind, level.source.at, item, (passed,), False, False)
        return _Loops(self.writing, node, "list", "", len(conditions) - 1).run()

    def _where(self, conditions: tuple[Node, ...], place: int) -> None:
        """The next level inside the conditions."""
        writing = self.writing
        if self.deep:
            for condition in conditions:
                test = writing.write(condition)
                if test != "True":
                    writing.block.lines += [f"if not {test}:", " continue"]
            self._level(place + 1)
            return
        test = writing.logic(False, conditions) if conditions else "True"
        outer = writing.block
        if test != "True":
            writing.block = outer.inner()
        inside = writing.block
        self._level(place + 1)
        writing.block = outer
        if inside is not outer:
            outer.add(f"if {test}:", inside)

    def _each(self) -> None:
        """What is done with one item."""
        writing, way, found = self.writing, self.way, self.found
        block = writing.block
        if way == "any":
            self._finish("True")
        elif way == "count":
            block.lines.append(f"{found} += 1")
        elif way == "all":
            test = writing.write(self.node.item)
            block.lines.append(f"if not {test}:")
            block.lines.append(f" {found} = False")
            if self.deep:
                block.lines.append(" break")
        elif way == "first":
            self._finish(writing.write(self.node.item))
        elif way == "list":
            block.lines.append(f"{found}.append({writing.write(self.node.item)})")
        else:
            self._extreme(writing.write(self.node.item))

    def _extreme(self, value: str) -> None:
        writing, block = self.writing, self.writing.block
        item = measured = writing.variable("x")
        block.set(item, value)
        if self.rank:
            measured = writing.variable("x")
            block.set(measured, f"f_{self.rank}[{item}]")
        block.lines.append(f"if {measured} {'>' if self.way == 'max' else '<'} {self.best}:")
        block.lines.append(f" {self.found} = {item}")
        if self.rank:
            block.lines.append(f" {self.best} = {measured}")

    def _finish(self, value: str) -> None:
        self.writing.block.set(self.found, value)
        if self.deep:
            self.writing.block.lines.append("break")


#: The ways of going through a collection, and what each of them starts from.
WAYS = {
    "list": "[]",
    "count": "0",
    "any": "False",
    "all": "True",
    "first": "f_Missing",
    "max": "-1e999",
    "min": "1e999",
}

#: When an outer loop ends as well.
_ENDS = {"any": "{}", "all": "not {}", "first": "{} is not f_Missing"}
