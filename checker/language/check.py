"""Checks an expression completely before it is ever run: names, fields, tables, dimensions.

It gives typed nodes (``nodes``), in which every question of meaning is answered.  All that is wrong
with an expression is reported at once, each with its place in the author's text, what was found
there and what was expected.
"""

from __future__ import annotations

import ast
from collections.abc import Mapping

from checker.quantities.dimension import NONE, Dimension

from .checked import Checked
from .checking.calls import infer_call
from .checking.collections import infer_comprehension, infer_list
from .checking.comparisons import infer_comparison
from .checking.names import infer_attribute, infer_constant, infer_name
from .checking.operators import infer_arithmetic, infer_choice, infer_logic, infer_unary
from .checking.state import Checking, Elsewhere, Handler
from .parse import parse
from .types import Number, Type, Vocabulary

__all__ = ["check", "dimension_of"]

_HANDLERS: dict[type[ast.expr], Handler] = {
    ast.Attribute: infer_attribute,
    ast.BinOp: infer_arithmetic,
    ast.BoolOp: infer_logic,
    ast.Call: infer_call,
    ast.Compare: infer_comparison,
    ast.Constant: infer_constant,
    ast.GeneratorExp: infer_comprehension,
    ast.IfExp: infer_choice,
    ast.List: infer_list,
    ast.ListComp: infer_comprehension,
    ast.Name: infer_name,
    ast.SetComp: infer_comprehension,
    ast.Tuple: infer_list,
    ast.UnaryOp: infer_unary,
}


def check(
    text: str,
    names: Mapping[str, Type],
    vocabulary: Vocabulary,
    elsewhere: Elsewhere | None = None,
) -> Checked:
    """Check ``text``; ``names`` are the values, steps and subjects that it may use.

    ``elsewhere`` says of other names why they mean nothing here.  Raises ExpressionError with
    every trouble found.
    """
    return Checking(text, names, vocabulary, _HANDLERS, elsewhere).run(parse(text))


def dimension_of(kind: Type) -> Dimension:
    """The dimension of a numeric type, plain for anything else."""
    return kind.dimension if isinstance(kind, Number) else NONE
