"""Formulas with names: what several expressions calculate in the same way is written once.

A formula takes elements or numbers by name.  Checking puts it in wherever it is called
(``checking.calls``): each parameter means the expression that is given for it, in the scope of the
call, and every item that the formula goes through has a slot of its own.  What is compiled, traced
and shown in a report is therefore the calculation itself, and no name can be caught by another.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping

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
    for called in (n.func for n in ast.walk(tree) if isinstance(n, ast.Call)):
        if isinstance(called, ast.Name) and called.id not in FUNCTIONS:
            inside[called.id] = _called(name, of, called, text, known)
    names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    for formula in inside.values():
        names |= formula.free
    free = frozenset(names - {*of, *inside, *(item.id for item in items)})
    done = Formula(name, of, tree, inside, free)
    if sum(1 for _ in _parts(done, (1,) * len(of))) > MAX_EXPANDED:
        raise ExpressionError(Trouble(0, 1, TOO_LARGE, "", "several named steps"))
    return done


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


def _parts(formula: Formula, sizes: tuple[int, ...]) -> Iterator[None]:
    """As many as a formula has parts, with those that it calls put in; not many more than allowed.

    sizes: how many parts each of what it is given has.
    """
    given = dict(zip(formula.of, sizes, strict=True))

    def count(tree: ast.AST) -> Iterator[None]:
        if isinstance(tree, ast.Call) and isinstance(tree.func, ast.Name):
            inner = formula.inside.get(tree.func.id)
            if inner is not None and len(inner.of) == len(tree.args):
                least = tuple(_at_most(count(part)) for part in tree.args)
                yield from _parts(inner, least)
                return
        if isinstance(tree, ast.Name) and isinstance(tree.ctx, ast.Load):
            yield from [None] * given.get(tree.id, 1)
            return
        if isinstance(tree, ast.expr):
            yield None
        for part in ast.iter_child_nodes(tree):
            yield from count(part)

    for number, _ in enumerate(count(formula.tree)):
        yield None
        if number > MAX_EXPANDED:
            return


def _at_most(parts: Iterator[None]) -> int:
    return sum(1 for _, _ in zip(range(MAX_EXPANDED + 1), parts, strict=False))


def free_names(formula: Formula) -> set[str]:
    """The names that a formula takes from where it is used, functions and tables among them."""
    return set(formula.free)


__all__ = ["Formula", "free_names", "read_formula"]
