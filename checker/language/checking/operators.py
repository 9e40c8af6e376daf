"""Arithmetic, logic and choices."""

from __future__ import annotations

import ast
from dataclasses import replace

from checker.quantities.dimension import DIFFERENCE, TEMPERATURE

from ..types import (
    ANYTHING,
    FLAG,
    Anything,
    Designation,
    Flag,
    List,
    Number,
    Type,
    joined,
    same_kind,
)
from .collections import bounded
from .state import Checking
from .texts import designate
from .words import a_kind, is_zero, short


def infer_arithmetic(c: Checking, node: ast.BinOp) -> Type:
    """Sums, products and powers, with their dimensions; collections joined."""
    left, right = c.infer(node.left), c.infer(node.right)
    if isinstance(left, Anything) or isinstance(right, Anything):
        return ANYTHING
    adding = isinstance(node.op, (ast.Add, ast.Sub))
    if isinstance(left, List) and isinstance(right, List) and isinstance(node.op, ast.Add):
        if same_kind(left, right):
            together = joined(left, right)
            assert isinstance(together, List)
            return bounded(c, node, replace(together, parts=left.parts + right.parts))
        return c.unlike(node, node.left, node.right, left, right, "join")
    if not isinstance(left, Number) or not isinstance(right, Number):
        return c.unlike(
            node, node.left, node.right, left, right, "add" if adding else "calculate with"
        )
    if adding:
        return _sum(c, node, left, right)
    if TEMPERATURE in (left.dimension, right.dimension):
        return c.trouble(
            node,
            "a temperature cannot be multiplied or divided",
            short(c.source(node)),
            "a difference of two temperatures",
        )
    if isinstance(node.op, ast.Pow):
        return Number(left.dimension.power(2), left.whole)
    if isinstance(node.op, ast.Mult):
        return Number(left.dimension.times(right.dimension), left.whole and right.whole)
    return Number(left.dimension.over(right.dimension))


def _sum(c: Checking, node: ast.BinOp, left: Number, right: Number) -> Type:
    a, b = left.dimension, right.dimension
    minus = isinstance(node.op, ast.Sub)
    if a == b == TEMPERATURE:
        if minus:
            return Number(DIFFERENCE)
        return c.trouble(
            node, "two temperatures cannot be added", short(c.source(node)), "a difference"
        )
    if a == TEMPERATURE and b == DIFFERENCE:
        return Number(TEMPERATURE)
    if is_zero(node.right) or is_zero(node.left):
        return left if is_zero(node.right) else right
    if a != b:
        return c.unlike(node, node.left, node.right, left, right, "subtract" if minus else "add")
    return Number(a, left.whole and right.whole)


def infer_unary(c: Checking, node: ast.UnaryOp) -> Type:
    """A sign or `not`."""
    kind = c.infer(node.operand)
    if isinstance(kind, Anything):
        return kind
    if isinstance(node.op, ast.Not):
        if not isinstance(kind, Flag):
            return c.not_a_flag(node.operand, kind, "not")
        return FLAG
    if not isinstance(kind, Number):
        return c.trouble(node, f"{a_kind(kind)} has no sign", short(c.source(node)), "a number")
    return kind


def infer_logic(c: Checking, node: ast.BoolOp) -> Type:
    """`and` and `or`."""
    word = "and" if isinstance(node.op, ast.And) else "or"
    for operand in node.values:
        kind = c.infer(operand)
        if not isinstance(kind, (Flag, Anything)):
            c.not_a_flag(operand, kind, word)
    return FLAG


def infer_choice(c: Checking, node: ast.IfExp) -> Type:
    """One of two values of a kind."""
    test = c.infer(node.test)
    if not isinstance(test, (Flag, Anything)):
        c.not_a_flag(node.test, test, "if")
    a, b = c.infer(node.body), c.infer(node.orelse)
    for one, other in ((node.body, b), (node.orelse, a)):
        if isinstance(other, Designation):
            designate(c, one, c.done.kinds[one], other)
    a, b = c.done.kinds[node.body], c.done.kinds[node.orelse]
    if is_zero(node.body) or is_zero(node.orelse):
        return b if is_zero(node.body) else a
    if not same_kind(a, b):
        return c.unlike(node, node.body, node.orelse, a, b, "choose between")
    return joined(a, b)
