"""Formulas with names: what several expressions calculate in the same way is written once.

A formula takes elements or numbers by name.  Checking puts it in wherever it is called
(``checking.calls``): each parameter means the expression that is given for it, in the scope of the
call, and every item that the formula goes through has a slot of its own.  What is compiled, traced
and shown in a report is therefore the calculation itself, and no name can be caught by another.
"""

from __future__ import annotations

import ast
from collections.abc import Mapping

from checker.documents.errors import nearest

from .functions import FUNCTIONS
from .parse import ExpressionError, Trouble, one_line, parse, span
from .types import Formula

#: Parts of an expression once its formulas are put in.
MAX_EXPANDED = 400
#: Levels of such an expression: what goes through it level by level must come to an end.
MAX_LEVELS = 100
TOO_LARGE = "the expression is too large with its formulas put in"


def read_formula(
    name: str, of: tuple[str, ...], text: str, known: Mapping[str, Formula]
) -> Formula:
    """A formula from its text, which may use those in ``known``.  Raises ExpressionError."""
    tree, text = parse(text), one_line(text)
    items = [n for n in ast.walk(tree) if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)]
    clash = next((item for item in items if item.id in of), None)
    if clash is not None:
        message = f"`{clash.id}` is a parameter of the formula already"
        expected = "another name for the item"
        raise ExpressionError(Trouble(*span(clash, text), message, clash.id, expected))
    inside: dict[str, Formula] = {}
    for call in (n for n in ast.walk(tree) if isinstance(n, ast.Call)):
        called = call.func
        if isinstance(called, ast.Name) and called.id not in FUNCTIONS:
            inside[called.id] = _called(name, of, called, text, known)
            _given(call, inside[called.id], text)
    names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    for formula in inside.values():
        names |= formula.free
    free = frozenset(names - {*of, *inside, *(item.id for item in items)})
    parts, *mentions = _size(tree, of, inside)
    if parts + sum(mentions) > MAX_EXPANDED:
        raise ExpressionError(Trouble(0, 1, TOO_LARGE, "", "several named steps"))
    return Formula(name, of, tree, inside, free, parts, tuple(mentions))


def _called(
    name: str, of: tuple[str, ...], called: ast.Name, text: str, known: Mapping[str, Formula]
) -> Formula:
    """The formula that another one calls; one that stands above it."""
    place = span(called, text)
    if called.id not in known:
        what = "a formula cannot use itself" if called.id == name else "there is no such thing"
        message = f"{what}: `{called.id}`"
        expected = "a function, or a formula that stands above this one"
        close = nearest(called.id, [*known, *FUNCTIONS]) or ""
        raise ExpressionError(Trouble(*place, message, called.id, expected, close))
    formula = known[called.id]
    hidden = next((word for word in of if word in formula.free), None)
    if hidden is not None:
        # Each would mean its own; a reader would take them for the same.
        message = f"`{called.id}` speaks of another `{hidden}` than the parameter of this formula"
        raise ExpressionError(Trouble(*place, message, hidden, "another name for the parameter"))
    return formula


def _given(call: ast.Call, formula: Formula, text: str) -> None:
    """A call inside a formula gives what it takes; told here, where its author wrote it."""
    if call.keywords or len(call.args) != len(formula.of):
        found = f"{len(call.args) + len(call.keywords)} values"
        message = f"`{formula.name}` is written {formula.usage}"
        expected = f"{len(formula.of)}, without names"
        raise ExpressionError(Trouble(*span(call, text), message, found, expected))


def _size(tree: ast.AST, of: tuple[str, ...], inside: Mapping[str, Formula]) -> list[int]:
    """How many parts a tree has, with the formulas that it calls put in; then, for each parameter,
    how often it is mentioned: it stands for as many parts as are given for it.
    """
    if isinstance(tree, ast.Name) and tree.id in of:
        return [0, *(int(name == tree.id) for name in of)]
    own, parts = int(isinstance(tree, ast.expr)), list(ast.iter_child_nodes(tree))
    often = (1,) * len(parts)
    if isinstance(tree, ast.Call) and isinstance(tree.func, ast.Name):
        called = inside.get(tree.func.id)
        if called is not None and len(called.of) == len(tree.args):
            own, parts, often = called.parts, [*tree.args], called.mentions
    size = [own, *(0 for _ in of)]
    for number, part in zip(often, parts, strict=True):
        size = [a + number * b for a, b in zip(size, _size(part, of, inside), strict=True)]
    return size


def free_names(formula: Formula) -> set[str]:
    """The names that a formula takes from where it is used, functions and tables among them."""
    return set(formula.free)


__all__ = ["Formula", "free_names", "read_formula"]
