"""Arithmetic, logic and choices."""

from __future__ import annotations

import ast
from dataclasses import replace

from checker.quantities.dimension import DIFFERENCE, TEMPERATURE

from ..nodes import Arithmetic, Choice, Joined, Logic, Node, Not, Signed
from ..types import (
    FLAG,
    LOST,
    Anything,
    Flag,
    List,
    Number,
    Type,
    joined,
    same_kind,
)
from .collections import bounded
from .state import WRONG, Checking
from .texts import designated
from .words import a_kind, is_zero, short

_SIGNS: dict[type[ast.operator], str] = {
    ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**",
}  # fmt: skip


def infer_arithmetic(c: Checking, tree: ast.BinOp) -> Node:
    """Sums, products and powers, with their dimensions; collections joined."""
    a, b = c.infer(tree.left), c.infer(tree.right)
    left, right = a.kind, b.kind
    if isinstance(left, Anything) or isinstance(right, Anything):
        return WRONG
    sign = _SIGNS[tree.op.__class__]
    if isinstance(left, List) and isinstance(right, List) and sign == "+":
        if not same_kind(left, right):
            return c.unlike(tree, tree.left, tree.right, left, right, "join")
        together = joined(left, right)
        assert isinstance(together, List)
        together = replace(together, parts=left.parts + right.parts)
        return Joined(bounded(c, tree, together), c.place(tree), a, b)
    if not isinstance(left, Number) or not isinstance(right, Number):
        verb = "add" if sign in "+-" else "calculate with"
        return c.unlike(tree, tree.left, tree.right, left, right, verb)
    kind = _sum(c, tree, a, b) if sign in "+-" else _product(c, tree, sign, left, right)
    return WRONG if kind is None else Arithmetic(kind, c.place(tree), sign, a, b)


def _product(c: Checking, tree: ast.BinOp, sign: str, left: Number, right: Number) -> Number | None:
    if TEMPERATURE in (left.dimension, right.dimension):
        c.trouble(
            tree,
            "a temperature cannot be multiplied or divided",
            short(c.source(tree)),
            "a difference of two temperatures",
        )
        return None
    digits = left.digits + right.digits
    if sign == "**":
        return Number(left.dimension.power(2), left.whole, 2 * left.digits)
    if sign == "*":
        whole = left.whole and right.whole
        return Number(left.dimension.times(right.dimension), whole, digits)
    return Number(left.dimension.over(right.dimension), digits=digits)


def _sum(c: Checking, tree: ast.BinOp, left: Node, right: Node) -> Type | None:
    assert isinstance(left.kind, Number)
    assert isinstance(right.kind, Number)
    a, b = left.kind.dimension, right.kind.dimension
    minus = isinstance(tree.op, ast.Sub)
    digits = max(left.kind.digits, right.kind.digits) + (LOST if minus else 0)
    if a == b == TEMPERATURE:
        if minus:
            return Number(DIFFERENCE, digits=digits)
        c.trouble(tree, "two temperatures cannot be added", short(c.source(tree)), "a difference")
        return None
    if a == TEMPERATURE and b == DIFFERENCE:
        return Number(TEMPERATURE, digits=digits)
    if is_zero(right) or is_zero(left):
        kind = left.kind if is_zero(right) else right.kind
        return Number(kind.dimension, kind.whole, digits)
    if a != b:
        verb = "subtract" if minus else "add"
        c.unlike(tree, tree.left, tree.right, left.kind, right.kind, verb)
        return None
    return Number(a, left.kind.whole and right.kind.whole, digits)


def infer_unary(c: Checking, tree: ast.UnaryOp) -> Node:
    """A sign or `not`."""
    of = c.infer(tree.operand)
    kind = of.kind
    if isinstance(kind, Anything):
        return of
    if isinstance(tree.op, ast.Not):
        if not isinstance(kind, Flag):
            return c.not_a_flag(tree.operand, kind, "not")
        return Not(FLAG, c.place(tree), of)
    if not isinstance(kind, Number):
        return c.trouble(tree, f"{a_kind(kind)} has no sign", short(c.source(tree)), "a number")
    return Signed(kind, c.place(tree), isinstance(tree.op, ast.USub), of)


def infer_logic(c: Checking, tree: ast.BoolOp) -> Node:
    """`and` and `or`."""
    either = isinstance(tree.op, ast.Or)
    parts = []
    for operand in tree.values:
        part = c.infer(operand)
        if not isinstance(part.kind, (Flag, Anything)):
            c.not_a_flag(operand, part.kind, "or" if either else "and")
        parts.append(part)
    return Logic(FLAG, c.place(tree), either, tuple(parts))


def infer_choice(c: Checking, tree: ast.IfExp) -> Node:
    """One of two values of a kind."""
    test = c.infer(tree.test)
    if not isinstance(test.kind, (Flag, Anything)):
        c.not_a_flag(tree.test, test.kind, "if")
    a, b = c.infer(tree.body), c.infer(tree.orelse)
    before = a.kind
    a = designated(c, tree.body, a, b.kind)
    b = designated(c, tree.orelse, b, before)
    if is_zero(a) or is_zero(b):
        kind = b.kind if is_zero(a) else a.kind
    elif not same_kind(a.kind, b.kind):
        return c.unlike(tree, tree.body, tree.orelse, a.kind, b.kind, "choose between")
    else:
        kind = joined(a.kind, b.kind)
    return Choice(kind, c.place(tree), test, a, b)
