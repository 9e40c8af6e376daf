"""Collections, and how much may be gone through inside each other."""

from __future__ import annotations

import ast
from math import prod

from ..functions import FUNCTIONS
from ..nodes import Comprehension, Field, Item, Level, Listed, Node, one_by_one
from ..types import ANYTHING, Anything, Flag, List, Type, joined, same_kind
from .state import Bound, Checking
from .words import a_kind, short

_MAX_NESTED = 4  # collections gone through inside each other
_MAX_FREE = 3  # of those, such as do not come from the item of another
_DEEP = 3  # from here on the items are counted while a rule runs
_MAX_PARTS = 64  # collections joined to one, or items written out


def infer_list(c: Checking, tree: ast.List | ast.Tuple) -> Node:
    """Items written out, all of one kind."""
    if not tree.elts:
        return c.trouble(tree, "the list is empty", "[]", "one item at least")
    items = [c.infer(item) for item in tree.elts]
    kind = items[0].kind
    for part, item in zip(tree.elts[1:], items[1:], strict=True):
        if not same_kind(kind, item.kind):
            return c.unlike(tree, tree.elts[0], part, kind, item.kind, "list together")
        kind = joined(kind, item.kind)
    # Going through a list of one item is only a way to give an intermediate result a name.
    whole = bounded(c, tree, List(kind, False, 0, len(items)))
    return Listed(whole, c.place(tree), tuple(items))


def infer_comprehension(c: Checking, tree: ast.GeneratorExp | ast.ListComp | ast.SetComp) -> Node:
    """A collection made of others: its items' type, and what going through it comes to."""
    scope, depth = c.scope, c.depth
    through: list[List] = []
    levels = []
    for generator in tree.generators:
        source = c.infer(generator.iter)
        kind = source.kind
        if isinstance(kind, List):
            through.append(kind)
            _enter(c, generator.iter, source, kind)
        elif not isinstance(kind, Anything):
            c.trouble(
                generator.iter,
                "`for … in` goes through a collection",
                f"`{short(c.source(generator.iter))}` is {a_kind(kind)}",
                "a collection, such as raceway.wires",
            )
        item_kind = kind.item if isinstance(kind, List) else ANYTHING
        slot, name = _name_item(c, generator.target, item_kind)
        conditions: list[Node] = []
        for part in generator.ifs:
            test = c.infer(part)
            if not isinstance(test.kind, (Flag, Anything)):
                c.not_a_flag(part, test.kind, "if")
            conditions += one_by_one(test)
        levels.append(Level(slot, name, source, tuple(conditions)))
    item = c.infer(tree.elt)
    counted = c.depth.passes >= _DEEP
    c.deep |= counted
    c.scope, c.depth = scope, depth
    whole = List(
        item.kind,
        any(kind.wide for kind in through),
        sum(kind.passes for kind in through),
        prod(kind.parts for kind in through),
    )
    distinct = isinstance(tree, ast.SetComp)
    kind = bounded(c, tree, whole)
    return Comprehension(kind, c.place(tree), item, tuple(levels), counted, distinct)


def _name_item(c: Checking, target: ast.expr, kind: Type) -> tuple[int, str]:
    """Give the items of a collection the name that the author gives them, and a slot."""
    slot = c.slot()
    if not isinstance(target, ast.Name):
        c.trouble(target, "`for` takes one name", c.source(target))
        return slot, ""
    name = target.id
    if name in c.names or name in c.vocabulary.tables or name in FUNCTIONS:
        c.trouble(target, f"`{name}` already has a meaning here", name, "another name for the item")
    c.scope = c.scope.with_item(name, Bound(slot, kind))
    return slot, name


def _enter(c: Checking, tree: ast.expr, source: Node, kind: List) -> None:
    """Go through a collection, perhaps inside others; refused where it may take too long."""
    root = source
    while isinstance(root, Field):
        root = root.of
    depth = c.depth = c.depth.inside(kind, free=not isinstance(root, Item))
    if depth.passes > _MAX_NESTED or depth.free > _MAX_FREE or depth.parts > _MAX_PARTS:
        _too_many(c, tree)
    if kind.wide and depth.wide > 1:
        c.trouble(
            tree,
            "a pass of the whole assembly inside another one",
            short(c.source(tree)),
            "the element's own collections, or one pass in a step of its own",
        )


def use(c: Checking, tree: ast.expr, kind: List) -> None:
    """A collection used as a whole, inside others perhaps, where its items are not counted."""
    if kind.passes and c.depth.passes + kind.passes > _DEEP:
        _too_many(c, tree)


def _too_many(c: Checking, tree: ast.expr) -> None:
    c.trouble(
        tree,
        "too many collections are gone through inside each other",
        short(c.source(tree)),
        f"{_MAX_FREE} at most, or {_MAX_NESTED} where some are fields of the others' items; "
        "or an inner one as a step with a name",
    )


def bounded(c: Checking, tree: ast.AST, kind: List) -> List:
    """A joined collection, if it is not joined of too many."""
    if kind.parts > _MAX_PARTS:
        c.trouble(
            tree, "too many collections are joined", "", f"{_MAX_PARTS} at most, in all steps"
        )
    return kind
