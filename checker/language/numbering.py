"""Which parts of a rule's expressions come to the same: all that are alike have one number.

Rules go through the same few wires and look into the same tables again and again.  Two parts are
alike where they are built alike from the same names, whatever their items are called: an item
counts by the collection that it comes from, and by how many items of the very same collection are
around it.  Within the lines that run for one item, a number therefore means one value.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from .nodes import Comprehension, Constant, Item, Level, Lookup, Name, Node, children, one_by_one

#: Of items around a part, by slot: the number of their collection, and how many of it are around.
_Items = Mapping[int, tuple[int, int]]
_NONE: frozenset[int] = frozenset()


class Numbering:
    """The numbers of the parts that it was shown.

    of: the number of a part, by its identity: the rule keeps it; free: the slots of the items that
    a part speaks of and does not go through itself; often: how many comprehensions go through a
    collection with such conditions, see ``filtered``.
    """

    def __init__(self) -> None:
        self.of: dict[int, int] = {}
        self.free: dict[int, frozenset[int]] = {}
        self.often: dict[tuple[int, ...], int] = {}
        self._known: dict[Any, int] = {}

    def look(self, node: Node, items: _Items | None = None) -> int:
        """Number an expression with all its parts; ``items`` are those around it."""
        around: _Items = items or {}
        if isinstance(node, Comprehension):
            key, free = self._comprehension(node, around)
        elif isinstance(node, Item):
            key, free = (Item, *around[node.slot]), frozenset((node.slot,))
        elif isinstance(node, Name):
            key, free = (Name, node.name), _NONE
        elif isinstance(node, Constant):
            key, free = (Constant, node.value.__class__, node.value), _NONE
        else:
            parts = tuple(children(node))
            key = (node.__class__, *_own(node), *[self.look(part, around) for part in parts])
            free = _NONE.union(*[self.free[id(part)] for part in parts])
        number = self._known.setdefault(key, len(self._known))
        self.of[id(node)], self.free[id(node)] = number, free
        return number

    def filtered(self, level: Level, conditions: Sequence[Node]) -> list[tuple[int, ...]]:
        """The keys of a collection with the first of some conditions, with two, and so on."""
        numbers = [self.of[id(part)] for part in (level.source, *conditions)]
        return [tuple(numbers[:end]) for end in range(2, len(numbers) + 1)]

    def _comprehension(self, node: Comprehension, items: _Items) -> tuple[Any, frozenset[int]]:
        inside = dict(items)
        numbers: list[int] = []
        free: set[int] = set()
        for level in node.levels:
            source = self.look(level.source, inside)
            inside[level.slot] = (source, sum(found == source for found, _ in inside.values()))
            numbers += [source, *(self.look(part, inside) for part in level.conditions), -1]
            free.update(*(self.free[id(part)] for part in (level.source, *level.conditions)))
        numbers.append(self.look(node.item, inside))
        free |= self.free[id(node.item)]
        for level in node.levels:
            # Where it is asked whether there is any, what is asked is a condition too.
            more = one_by_one(node.item) if level is node.levels[-1] else []
            for key in self.filtered(level, (*level.conditions, *more)):
                self.often[key] = self.often.get(key, 0) + 1
        slots = {level.slot for level in node.levels}
        return (Comprehension, node.distinct, node.counted, *numbers), frozenset(free - slots)


def _own(node: Node) -> list[Any]:
    """What a part is beside the parts in it."""
    if isinstance(node, Lookup):
        return [node.table, node.column, *(name for name, _ in node.keys)]
    values = [getattr(node, name) for name in node.__slots__]
    return [v for v in values if not isinstance(v, Node) and not _of_nodes(v)]


def _of_nodes(value: Any) -> bool:
    return value.__class__ is tuple and bool(value) and isinstance(value[0], Node)
