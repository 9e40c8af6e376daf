"""Collections, and how much may be gone through inside each other."""

from __future__ import annotations

import ast
from math import prod

from ..functions import FUNCTIONS
from ..types import ANYTHING, Anything, Flag, List, Type, joined, same_kind
from .state import Checking
from .words import a_kind, short

_MAX_NESTED = 4  # collections gone through inside each other
_MAX_FREE = 3  # of those, such as do not come from the item of another
_DEEP = 3  # from here on the items are counted while a rule runs
_MAX_PARTS = 64  # collections joined to one, or items written out
COMPREHENSIONS = (ast.GeneratorExp, ast.ListComp, ast.SetComp)


def infer_list(c: Checking, node: ast.List | ast.Tuple) -> Type:
    """Items written out, all of one kind."""
    if not node.elts:
        return c.trouble(node, "the list is empty", "[]", "one item at least")
    kinds = [c.infer(item) for item in node.elts]
    result = kinds[0]
    for item, kind in zip(node.elts[1:], kinds[1:], strict=True):
        if not same_kind(result, kind):
            c.unlike(node, node.elts[0], item, result, kind, "list together")
            return ANYTHING
        result = joined(result, kind)
    # Going through a list of one item is only a way to give an intermediate result a name.
    return bounded(c, node, List(result, False, 0, len(kinds)))


def infer_comprehension(c: Checking, node: ast.GeneratorExp | ast.ListComp | ast.SetComp) -> Type:
    """A collection made of others: its items' type, and what going through it comes to."""
    local, depth = dict(c.local), c.depth
    through: list[List] = []
    for generator in node.generators:
        kind = c.infer(generator.iter)
        if isinstance(kind, List):
            through.append(kind)
            _enter(c, generator.iter, kind)
        elif not isinstance(kind, Anything):
            c.trouble(
                generator.iter,
                "`for … in` goes through a collection",
                f"`{short(c.source(generator.iter))}` is {a_kind(kind)}",
                "a collection, such as raceway.wires",
            )
        _name_item(c, generator.target, kind.item if isinstance(kind, List) else ANYTHING)
        for condition in generator.ifs:
            test = c.infer(condition)
            if not isinstance(test, (Flag, Anything)):
                c.not_a_flag(condition, test, "if")
    item = c.infer(node.elt)
    if c.depth.passes >= _DEEP:
        c.done.deep.add(node)
    c.local, c.depth = local, depth
    return bounded(
        c,
        node,
        List(
            item,
            any(kind.wide for kind in through),
            sum(kind.passes for kind in through),
            prod(kind.parts for kind in through),
        ),
    )


def _name_item(c: Checking, target: ast.expr, item: Type) -> None:
    """Give the items of a collection the name that the author gives them."""
    if not isinstance(target, ast.Name):
        c.trouble(target, "`for` takes one name", c.source(target))
        return
    name = target.id
    if name in c.names or name in c.vocabulary.tables or name in FUNCTIONS:
        c.trouble(target, f"`{name}` already has a meaning here", name, "another name for the item")
    c.local[name] = item
    c.done.kinds[target] = item


def _enter(c: Checking, node: ast.expr, kind: List) -> None:
    """Go through a collection, perhaps inside others; refused where it may take too long."""
    depth = c.depth = c.depth.inside(kind, free=_root(node) not in c.local)
    if depth.passes > _MAX_NESTED or depth.free > _MAX_FREE or depth.parts > _MAX_PARTS:
        _too_many(c, node)
    if kind.wide and depth.wide > 1:
        c.trouble(
            node,
            "a pass of the whole assembly inside another one",
            short(c.source(node)),
            "the element's own collections, or one pass in a step of its own",
        )


def use(c: Checking, node: ast.expr, kind: List) -> None:
    """A collection used as a whole, inside others perhaps, where its items are not counted."""
    if kind.passes and c.depth.passes + kind.passes > _DEEP:
        _too_many(c, node)


def _too_many(c: Checking, node: ast.expr) -> None:
    c.trouble(
        node,
        "too many collections are gone through inside each other",
        short(c.source(node)),
        f"{_MAX_FREE} at most, or {_MAX_NESTED} where some are fields of the others' items; "
        "or an inner one as a step with a name",
    )


def bounded(c: Checking, node: ast.AST, kind: List) -> List:
    """A joined collection, if it is not joined of too many."""
    if kind.parts > _MAX_PARTS:
        c.trouble(
            node, "too many collections are joined", "", f"{_MAX_PARTS} at most, in all steps"
        )
    return kind


def _root(node: ast.expr) -> str:
    """The name that a chain of fields starts from, "" for anything else."""
    while isinstance(node, ast.Attribute):
        node = node.value
    return node.id if isinstance(node, ast.Name) else ""
