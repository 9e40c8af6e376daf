"""Comparisons: both sides of one kind, and texts that can be there."""

from __future__ import annotations

import ast
import re

from ..nodes import AMONG, EXACT, TOLERANT, Comparison, Comprehension, Listed, Node, Relation
from ..types import FLAG, Anything, Designation, List, Number, Type, has_order, same_kind
from .collections import use
from .state import WRONG, Checking
from .texts import all_designated, designated, option
from .words import a_kind, is_zero, short

_SIZE = re.compile(r"[0-9]+(?:\s*[-/]\s*[0-9]+)*")
_SIGNS: dict[type[ast.cmpop], str] = {
    ast.Eq: "==", ast.NotEq: "!=", ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=",
    ast.In: "in", ast.NotIn: "not in",
}  # fmt: skip


def infer_comparison(c: Checking, tree: ast.Compare) -> Node:
    """A comparison, of any number of operands."""
    trees = [tree.left, *tree.comparators]
    bare = [place for place, part in enumerate(trees) if _SIZE.fullmatch(c.source(part))]
    nodes = [WRONG if place in bare else c.infer(part) for place, part in enumerate(trees)]
    size = next((n.kind for n in nodes if isinstance(n.kind, Designation)), None)
    for place in bare:
        if size is None:
            nodes[place] = c.infer(trees[place])
            continue
        source = c.source(trees[place])
        text = f"'{source}'"
        c.trouble(trees[place], f"{a_kind(size)} stands in quotes", source, text, text)
    relations = []
    for place, op in enumerate(tree.ops):
        sign = _SIGNS[op.__class__]
        pair = _among if sign in ("in", "not in") else _compared
        nodes[place : place + 2] = a, b = pair(
            c, tree, trees[place : place + 2], nodes[place], nodes[place + 1], sign
        )
        relations.append(relation(sign, a.kind, b.kind))
    return Comparison(FLAG, c.place(tree), tuple(nodes), tuple(relations))


def relation(sign: str, left: Type, right: Type) -> Relation:
    """How two values of one kind are compared: a count exactly, a measure with the tolerance."""
    if sign in ("in", "not in"):
        return Relation(sign, AMONG)
    if isinstance(left, Designation) and sign not in ("==", "!="):
        return Relation(sign, left.name)
    if isinstance(left, Number) and isinstance(right, Number):
        return Relation(sign, EXACT if left.whole and right.whole else TOLERANT)
    return Relation(sign, EXACT)


def _among(
    c: Checking, tree: ast.Compare, trees: list[ast.expr], a: Node, b: Node, sign: str
) -> tuple[Node, Node]:
    """Whether a value is one of a collection."""
    ta, tb = trees
    if isinstance(a.kind, Anything) or isinstance(b.kind, Anything):
        return a, b
    if not isinstance(b.kind, List):
        found = f"`{short(c.source(tb))}` is {a_kind(b.kind)}"
        return a, c.trouble(tb, "`in` looks into a collection", found)
    if not isinstance(b, (Listed, Comprehension)):
        use(c, tb, b.kind)
    one = designated(c, ta, a, b.kind.item)
    if one is not a:
        return one, b
    if isinstance(a.kind, Designation) and isinstance(b, Listed):
        return a, all_designated(c, tb, b, a.kind)
    if not same_kind(a.kind, b.kind.item):
        c.unlike(tree, ta, tb, a.kind, b.kind, "look for one in the other:")
    elif isinstance(b, Listed):
        items = tb.elts if isinstance(tb, (ast.List, ast.Tuple)) else [tb] * len(b.items)
        for part, item in zip(items, b.items, strict=True):
            option(c, part, item, a.kind, ta)
    else:
        option(c, ta, a, b.kind.item, tb)
    return a, b


def _compared(
    c: Checking, tree: ast.Compare, trees: list[ast.expr], a: Node, b: Node, sign: str
) -> tuple[Node, Node]:
    """How one value stands to the next."""
    ta, tb = trees
    if isinstance(a.kind, Anything) or isinstance(b.kind, Anything):
        return a, b
    a = designated(c, ta, a, b.kind)
    b = designated(c, tb, b, a.kind)
    if (is_zero(a) or is_zero(b)) and isinstance(a.kind, Number) and isinstance(b.kind, Number):
        return a, b
    if not same_kind(a.kind, b.kind):
        c.unlike(tree, ta, tb, a.kind, b.kind, "compare")
    elif isinstance(a.kind, List):
        c.trouble(
            tree,
            "two lists cannot be compared",
            short(c.source(tree)),
            "a comparison of items, such as all(x in … for x in …)",
        )
    elif sign in ("==", "!="):
        option(c, ta, a, b.kind, tb)
        option(c, tb, b, a.kind, ta)
    elif not has_order(a.kind):
        message = f"{a_kind(a.kind)} has no order"
        c.trouble(tree, message, short(c.source(tree)), "`==`, `!=` or `in`")
    return a, b
