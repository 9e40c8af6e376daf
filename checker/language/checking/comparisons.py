"""Comparisons: both sides of one kind, and texts that can be there."""

from __future__ import annotations

import ast
import re

from ..types import FLAG, Anything, Designation, List, Number, Type, has_order, same_kind
from .collections import COMPREHENSIONS, use
from .state import Checking
from .texts import designate, option
from .words import a_kind, is_zero, short

_SIZE = re.compile(r"[0-9]+(?:\s*[-/]\s*[0-9]+)*")


def infer_comparison(c: Checking, node: ast.Compare) -> Type:
    """A comparison, of any number of operands."""
    operands = [node.left, *node.comparators]
    bare = [o for o in operands if _SIZE.fullmatch(c.source(o))]
    for operand in operands:
        if operand not in bare:
            c.infer(operand)
    known = [c.done.kinds[o] for o in operands if o not in bare]
    size = next((k for k in known if isinstance(k, Designation)), None)
    for operand in bare:
        if size is None:
            c.infer(operand)
            continue
        text = f"'{c.source(operand)}'"
        c.done.kinds[operand] = c.trouble(
            operand, f"{a_kind(size)} stands in quotes", c.source(operand), text, text
        )
    for index, op in enumerate(node.ops):
        _pair(c, node, operands[index], operands[index + 1], op)
    return FLAG


def _pair(c: Checking, node: ast.Compare, a: ast.expr, b: ast.expr, op: ast.cmpop) -> None:
    ka, kb = c.done.kinds[a], c.done.kinds[b]
    if isinstance(ka, Anything) or isinstance(kb, Anything):
        return
    if isinstance(op, (ast.In, ast.NotIn)):
        if not isinstance(kb, List):
            c.trouble(b, "`in` looks into a collection", f"`{short(c.source(b))}` is {a_kind(kb)}")
            return
        if not isinstance(b, (ast.List, ast.Tuple, *COMPREHENSIONS)):
            use(c, b, kb)
        if isinstance(kb.item, Designation) and designate(c, a, ka, kb.item):
            return
        if isinstance(ka, Designation) and isinstance(b, (ast.List, ast.Tuple)):
            for item in b.elts:
                designate(c, item, c.done.kinds[item], ka)
            return
        if not same_kind(ka, kb.item):
            c.unlike(node, a, b, ka, kb, "look for one in the other:")
        elif isinstance(b, (ast.List, ast.Tuple)):
            for item in b.elts:
                option(c, item, c.done.kinds[item], ka, a)
        else:
            option(c, a, ka, kb.item, b)
        return
    if isinstance(kb, Designation) and designate(c, a, ka, kb):
        ka = kb
    if isinstance(ka, Designation) and designate(c, b, kb, ka):
        kb = ka
    zero = is_zero(a) or is_zero(b)
    if zero and isinstance(ka, Number) and isinstance(kb, Number):
        return
    if not same_kind(ka, kb):
        c.unlike(node, a, b, ka, kb, "compare")
        return
    if isinstance(ka, List):
        c.trouble(
            node,
            "two lists cannot be compared",
            short(c.source(node)),
            "a comparison of items, such as all(x in … for x in …)",
        )
    elif isinstance(op, (ast.Eq, ast.NotEq)):
        option(c, a, ka, kb, b)
        option(c, b, kb, ka, a)
    elif not has_order(ka):
        c.trouble(node, f"{a_kind(ka)} has no order", short(c.source(node)), "`==`, `!=` or `in`")
