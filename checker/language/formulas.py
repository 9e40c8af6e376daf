"""Formulas with names: what several expressions calculate in the same way is written once.

A formula takes elements or numbers by name and is put in wherever it is used, before the
expression is checked: ``column(w)`` becomes what ``column`` is, with ``w`` for its parameter.  What
is compiled, traced and shown in a report is therefore the calculation itself.
"""

from __future__ import annotations

import ast
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from checker.documents.errors import nearest

from .functions import FUNCTIONS
from .parse import ExpressionError, Trouble, one_line, parse, span
from .trees import copied, names_below, walk

#: Nodes of an expression once its formulas are put in.
MAX_EXPANDED = 600
#: Levels of such an expression: what goes through it level by level must come to an end.
MAX_LEVELS = 100
_TOO_LARGE = "the expression is too large with its formulas put in"


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula: its name, its parameters in order, and its tree, without other formulas in it."""

    name: str
    of: tuple[str, ...]
    tree: ast.expr

    @property
    def usage(self) -> str:
        """How it is written."""
        return f"{self.name}({', '.join(self.of)})"


def read_formula(
    name: str, of: tuple[str, ...], text: str, known: Mapping[str, Formula]
) -> Formula:
    """A formula from its text, which may use those in ``known``.  Raises ExpressionError."""
    tree, text = parse(text), one_line(text)
    clash = next((t for t in _bound_in(tree) if t.id in of), None)
    if clash is not None:
        offset, length = span(clash, text)
        message = f"`{clash.id}` is a parameter of the formula already"
        raise ExpressionError(
            Trouble(offset, length, message, clash.id, "another name for the item")
        )
    calls = [node.func for node in walk(tree) if isinstance(node, ast.Call)]
    for called in (func for func in calls if isinstance(func, ast.Name)):
        if called.id not in (*FUNCTIONS, *known):
            offset, length = span(called, text)
            what = "a formula cannot use itself" if called.id == name else "there is no such thing"
            message = f"{what}: `{called.id}`"
            expected = "a function, or a formula that stands above this one"
            close = nearest(called.id, [*known, *FUNCTIONS]) or ""
            raise ExpressionError(Trouble(offset, length, message, called.id, expected, close))
        inside = free_names(known[called.id]) if called.id in known else set()
        hidden = next((word for word in of if word in inside), None)
        if hidden is not None:
            offset, length = span(called, text)
            message = (
                f"`{called.id}` speaks of another `{hidden}` than the parameter of this formula"
            )
            raise ExpressionError(
                Trouble(offset, length, message, hidden, "another name for the parameter")
            )
    return Formula(name, of, expanded(tree, text, known, avoid=frozenset(of)))


def free_names(formula: Formula) -> set[str]:
    """The names that a formula takes from where it is used, functions and tables among them."""
    inner = {*formula.of, *(target.id for target in _bound_in(formula.tree))}
    return names_below(formula.tree) - inner


def expanded(
    tree: ast.expr,
    text: str,
    formulas: Mapping[str, Formula],
    *,
    avoid: frozenset[str] = frozenset(),
) -> ast.expr:
    """The tree of ``text`` with its formulas put in.  Raises ExpressionError.

    ``avoid`` are names that no item of a formula put in may have.
    """
    if not formulas:
        return tree
    expander = _Expander(text, formulas, avoid)
    done: ast.expr = expander.visit(tree)
    if not expander.troubles and _too_large(done):
        expander.troubles.append(Trouble(0, 1, _TOO_LARGE, "", "several named steps"))
    if expander.troubles:
        raise ExpressionError(*sorted(expander.troubles, key=lambda t: t.offset))
    return done


class _Expander(ast.NodeTransformer):
    def __init__(self, text: str, formulas: Mapping[str, Formula], avoid: frozenset[str]) -> None:
        self.text = text
        self.formulas = formulas
        self.avoid = avoid
        self.troubles: list[Trouble] = []

    def visit_Call(self, node: ast.Call) -> ast.AST:
        self.generic_visit(node)
        formula = self.formulas.get(node.func.id) if isinstance(node.func, ast.Name) else None
        if formula is None:
            return node
        if node.keywords or len(node.args) != len(formula.of):
            offset, length = span(node, self.text)
            found = f"{len(node.args) + len(node.keywords)} values"
            message = f"`{formula.name}` is written {formula.usage}"
            self.troubles.append(
                Trouble(offset, length, message, found, f"{len(formula.of)}, without names")
            )
            return node
        done = _put_in(formula, node, self.avoid)
        if _too_large(done):
            # Told here, since the next formula around it would multiply it.
            offset, length = span(node, self.text)
            self.troubles.append(Trouble(offset, length, _TOO_LARGE, "", "several named steps"))
            return ast.copy_location(ast.Constant(0), node)
        return done


def formula_of(node: ast.AST) -> str:
    """The formula that a node was written in, the innermost of several; "" for none."""
    return getattr(node, "formula", "")


def _too_large(tree: ast.expr) -> bool:
    nodes: list[ast.AST] = [tree]
    level = count = 0
    while nodes:
        count, level = count + len(nodes), level + 1
        if count > MAX_EXPANDED or level > MAX_LEVELS:
            return True
        nodes = [inner for node in nodes for inner in ast.iter_child_nodes(node)]
    return False


def _put_in(formula: Formula, call: ast.Call, avoid: frozenset[str]) -> ast.expr:
    """A formula with the values of a call; all of it stands where the call stands."""
    taken = {name for value in call.args for name in names_below(value)}
    inner = {target.id for target in _bound_in(formula.tree)}
    # An item that the formula goes through must not hide one that a value speaks of, nor stand
    # for a parameter of the formula around it.
    taken |= avoid
    others = names_below(formula.tree)
    renamed = {name: _another(name, taken | others | set(formula.of)) for name in inner & taken}
    values = dict(zip(formula.of, call.args, strict=True))
    return _Filler(formula.name, values, renamed, call).visit(copied(formula.tree))  # type: ignore[no-any-return]


def _another(name: str, taken: set[str]) -> str:
    """A name that is not taken; no value, step or element starts as it does."""
    number = 2
    while f"_{name}_{number}" in taken:
        number += 1
    return f"_{name}_{number}"


class _Filler(ast.NodeTransformer):
    def __init__(
        self,
        name: str,
        values: Mapping[str, ast.expr],
        renamed: Mapping[str, str],
        call: ast.Call,
    ) -> None:
        self.values = values
        self.renamed = renamed
        self.name = name
        self.call = call

    def visit_Name(self, node: ast.Name) -> ast.AST:
        if node.id in self.values:
            value: ast.AST = copied(self.values[node.id])
            return value
        node.id = self.renamed.get(node.id, node.id)
        self._place(node)
        return node

    def generic_visit(self, node: ast.AST) -> Any:
        if hasattr(node, "lineno"):
            self._place(node)
        return super().generic_visit(node)

    def _place(self, node: ast.AST) -> None:
        """A node of the formula stands where the call does, and says which formula it is of."""
        ast.copy_location(node, self.call)
        if not formula_of(node):
            node.formula = self.name  # type: ignore[attr-defined]


def _bound_in(tree: ast.expr) -> list[ast.Name]:
    """The names that a tree gives to items of collections."""
    return [
        node.target
        for node in walk(tree)
        if isinstance(node, ast.comprehension) and isinstance(node.target, ast.Name)
    ]
