"""What an expression means: the typed nodes that checking makes and everything else only walks.

Here every question of meaning is answered: what a name stands for, how two values are compared, by
what sizes are ranked, whose fields are read, which formula was meant (it is put in).  The compiler,
the tracer and whoever writes calculations out find it in the nodes and decide nothing again.

**To add a kind of part**, such as a list of cases: a class here; the function of ``checking`` that
makes it from the author's syntax; a method of its name in ``compile`` (the quick way) and one in
``trace`` (the way that knows what it does not know), which tests hold together; one in ``worked``
where the value alone says too little; and ``children``, where its parts are not simply its fields
or tuples of parts.  Nothing else asks which classes there are; see ``ways``.

An item of a collection has a number of its own in its expression, its *slot*: whatever it and
others are called, no two mean the same, and a formula put in cannot catch a name of its caller's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from .types import Type

#: Where the author wrote something: 0-based offset of characters, and length.  What a formula put
#: in stands where it is called.
Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Node:
    """A part of an expression: the kind of its value, and its place in the author's text."""

    kind: Type
    at: Span


@dataclass(frozen=True, slots=True)
class Constant(Node):
    """A number, a flag or a text that is written out; a size in its canonical form."""

    value: Any


@dataclass(frozen=True, slots=True)
class Name(Node):
    """What the surroundings give: a value, a step, an element, ``measure`` or ``limit``."""

    name: str


@dataclass(frozen=True, slots=True)
class Item(Node):
    """An item of a collection that is being gone through; ``name`` is what the author calls it."""

    slot: int
    name: str


@dataclass(frozen=True, slots=True)
class Field(Node):
    """A field of an element."""

    of: Node
    field: str


@dataclass(frozen=True, slots=True)
class Stated(Node):
    """Whether a field of an element is stated."""

    of: Node
    field: str


@dataclass(frozen=True, slots=True)
class Listed(Node):
    """A list that is written out."""

    items: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Joined(Node):
    """Two collections one after the other."""

    left: Node
    right: Node


@dataclass(frozen=True, slots=True)
class Arithmetic(Node):
    """``sign`` is + - * / or **, which is always a square.

    A product of whole numbers is calculated in floats: squares of squares would grow without end.
    """

    sign: str
    left: Node
    right: Node

    @property
    def in_floats(self) -> bool:
        """Whether whole numbers are multiplied."""
        return self.sign in ("*", "**") and bool(getattr(self.kind, "whole", False))


@dataclass(frozen=True, slots=True)
class Signed(Node):
    """A number with a sign before it."""

    minus: bool
    of: Node


@dataclass(frozen=True, slots=True)
class Not(Node):
    """The opposite of a flag."""

    of: Node


@dataclass(frozen=True, slots=True)
class Logic(Node):
    """Flags joined by ``and``, or by ``or`` where ``either``."""

    either: bool
    parts: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Choice(Node):
    """One of two values."""

    test: Node
    then: Node
    otherwise: Node


#: How two values are compared: with the tolerance of limits; as they are; one among others; or by
#: the rank of sizes, named as in ``runtime.RANKS``.
TOLERANT, EXACT, AMONG = "tolerant", "exact", "among"


@dataclass(frozen=True, slots=True)
class Relation:
    """How one value stands to the next: ``sign`` is == != < <= > >= in or not in."""

    sign: str
    mode: str


@dataclass(frozen=True, slots=True)
class Comparison(Node):
    """Operands, one more than relations between them."""

    operands: tuple[Node, ...]
    relations: tuple[Relation, ...]


@dataclass(frozen=True, slots=True)
class Level:
    """One ``for … in … if …``; conditions one by one, those joined by ``and`` too."""

    slot: int
    name: str
    source: Node
    conditions: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Comprehension(Node):
    """A collection made of others.

    counted: the items of the innermost level are counted, since there may be very many; distinct:
    without repetitions.
    """

    item: Node
    levels: tuple[Level, ...]
    counted: bool
    distinct: bool


@dataclass(frozen=True, slots=True)
class Call(Node):
    """A function of the language, by its name in ``functions``."""

    function: str
    arguments: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Extreme(Node):
    """The largest or smallest of values and of the items of collections; ``rank`` of sizes."""

    largest: bool
    parts: tuple[Node, ...]
    rank: str


@dataclass(frozen=True, slots=True)
class Lookup(Node):
    """A column of a table for keys, or its rows (column "").

    keys: as the author wrote them; order: their places in the order of the table's keys.
    """

    table: str
    column: str
    keys: tuple[tuple[str, Node], ...]
    order: tuple[int, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the keys, in the table's order."""
        return tuple(self.keys[place][0] for place in self.order)


def children(node: Node) -> Iterator[Node]:
    """The parts of a node, in the order in which they are written."""
    if isinstance(node, Comprehension):
        for level in node.levels:
            yield level.source
            yield from level.conditions
        yield node.item
    elif isinstance(node, Lookup):
        yield from (value for _, value in node.keys)
    else:
        for name in node.__slots__:
            part = getattr(node, name)
            if isinstance(part, Node):
                yield part
            elif part.__class__ is tuple:
                yield from (inner for inner in part if isinstance(inner, Node))


def items_of(node: Node) -> Comprehension | None:
    """The node as a collection that is gone through item by item, where it is one."""
    return node if isinstance(node, Comprehension) and not node.distinct else None


def one_by_one(test: Node) -> list[Node]:
    """Conditions that all have to hold, each by itself."""
    if isinstance(test, Logic) and not test.either:
        return [inner for part in test.parts for inner in one_by_one(part)]
    return [test]


def ways(walker: type) -> dict[type[Node], Callable[..., Any]]:
    """What a walker does with each kind of part: its method of that name, ``_lookup`` for Lookup.

    ``_other`` is for those that have none.  AttributeError where there is neither.
    """
    return {
        kind: getattr(walker, "_" + kind.__name__.lower(), None) or walker._other  # type: ignore[attr-defined]
        for kind in Node.__subclasses__()
    }
