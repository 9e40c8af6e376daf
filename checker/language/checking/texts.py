"""Quoted texts: wire and trade sizes where one is compared, and what a field may be."""

from __future__ import annotations

import ast

from checker.documents.errors import nearest
from checker.quantities.designations import box_designation, trade_size, wire_size
from checker.quantities.notation import NotationError

from ..types import Designation, Text, Type
from .state import Checking
from .words import a_kind, short, some_of


def designate(c: Checking, node: ast.expr, kind: Type, wanted: Designation) -> bool:
    """A quoted wire or trade size where one is compared; True when the text was taken."""
    if not (isinstance(node, ast.Constant) and isinstance(node.value, str)):
        return False
    read = {"wire_size": wire_size, "trade_size": trade_size, "box_size": box_designation}[
        wanted.name
    ]
    try:
        c.done.constants[node] = read(node.value)
    except NotationError as error:
        c.trouble(
            node,
            f"this is not {a_kind(wanted)}",
            node.value,
            error.expected,
            error.suggestion or "",
        )
    c.done.kinds[node] = wanted
    return True


def option(c: Checking, node: ast.expr, kind: Type, other: Type, beside: ast.expr) -> None:
    """A quoted text must be one that the other side can be."""
    if not (isinstance(node, ast.Constant) and isinstance(node.value, str)):
        return
    if isinstance(other, Text) and other.options and node.value not in other.options:
        c.trouble(
            node,
            f"`{short(c.source(beside))}` is never '{node.value}'",
            node.value,
            "one of " + some_of(other.options),
            nearest(node.value, other.options) or "",
        )
