"""Quoted texts: wire and trade sizes where one is compared, and what a field may be."""

from __future__ import annotations

import ast

from checker.documents.errors import nearest
from checker.quantities.designations import box_designation, trade_size, wire_size
from checker.quantities.notation import NotationError

from ..nodes import Constant, Listed, Node
from ..types import Designation, List, Text, Type
from .state import WRONG, Checking
from .words import a_kind, short, some_of

_READERS = {"wire_size": wire_size, "trade_size": trade_size, "box_size": box_designation}


def designated(c: Checking, tree: ast.expr, node: Node, wanted: Type) -> Node:
    """A quoted wire or trade size where one is compared, as that size; anything else as it is."""
    if not isinstance(wanted, Designation) or not _quoted(node):
        return node
    assert isinstance(node, Constant)
    try:
        return Constant(wanted, node.at, _READERS[wanted.name](node.value))
    except NotationError as error:
        message, suggestion = f"this is not {a_kind(wanted)}", error.suggestion or ""
        return c.trouble(tree, message, node.value, error.expected, suggestion)


def all_designated(c: Checking, tree: ast.expr, node: Listed, wanted: Designation) -> Node:
    """A list that is written out, its quoted texts as sizes."""
    trees = tree.elts if isinstance(tree, (ast.List, ast.Tuple)) else [tree] * len(node.items)
    items = [designated(c, t, n, wanted) for t, n in zip(trees, node.items, strict=True)]
    if WRONG in items:
        return WRONG
    assert isinstance(node.kind, List)
    return Listed(node.kind, node.at, tuple(items))


def option(c: Checking, tree: ast.expr, node: Node, other: Type, beside: ast.expr) -> None:
    """A quoted text must be one that the other side can be."""
    if not _quoted(node):
        return
    assert isinstance(node, Constant)
    if isinstance(other, Text) and other.options and node.value not in other.options:
        c.trouble(
            tree,
            f"`{short(c.source(beside))}` is never '{node.value}'",
            node.value,
            "one of " + some_of(other.options),
            nearest(node.value, other.options) or "",
        )


def _quoted(node: Node) -> bool:
    return isinstance(node, Constant) and isinstance(node.value, str)
