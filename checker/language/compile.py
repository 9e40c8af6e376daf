"""From a checked expression to plain Python that runs on plain floats.

The emitted code reads declared record fields, adds and compares numbers, and calls the language's
own functions; there is nothing else it could do.  Unstated fields are ``Missing`` objects, which
raise at any use, so the code needs no tests for them.  Comparisons are tolerant: the tolerance is
only looked at when the plain comparison has gone against the limit, so it costs nothing otherwise.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from typing import Any

from checker.quantities.designations import TRADE_RANK, WIRE_RANK

from .check import Checked
from .runtime import GLOBALS
from .types import Designation, List, Number, Type, Vocabulary


class Emitter:
    """Turns checked expressions into Python trees and collects the globals that they need.

    ``needs`` says of each how to find it again: a table's cell or rows, or a value of the rule.
    ``counts`` is whether items are counted: the code then starts with ``start``.
    """

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.globals: dict[str, Any] = dict(GLOBALS)
        self.needs: dict[str, tuple[Any, ...]] = {}
        self.counts = False

    def emit(
        self, checked: Checked, names: Mapping[str, str], constants: Mapping[str, Any]
    ) -> ast.expr:
        """The Python tree of one expression.

        ``names`` maps steps and subjects to Python variables; ``constants`` maps the rule's values
        to what they are.
        """
        return _Rewrite(self, checked, names, constants).visit(checked.tree)

    @staticmethod
    def start() -> ast.stmt:
        """The statement that code starts with where items are counted."""
        return ast.Expr(_call("f_begin"))

    def table(self, name: str, column: str, keys: tuple[str, ...]) -> str:
        """The global that looks up ``column`` (or rows by ``keys``) of a table."""
        table = self.vocabulary.tables[name]
        if column:
            variable = f"t_{name}_{column}"
            if variable not in self.globals:
                self.globals[variable] = table.getter(column)
                self.needs[variable] = ("cell", name, column)
        else:
            variable = f"r_{name}_" + "_".join(keys)
            if variable not in self.globals:
                self.globals[variable] = table.rows_getter(keys)
                self.needs[variable] = ("rows", name, keys)
        return variable


def _name(identifier: str) -> ast.Name:
    return ast.Name(identifier, ast.Load())


def _call(identifier: str, *arguments: ast.expr) -> ast.Call:
    return ast.Call(_name(identifier), list(arguments), [])


class _Rewrite:
    def __init__(
        self,
        emitter: Emitter,
        checked: Checked,
        names: Mapping[str, str],
        constants: Mapping[str, Any],
    ) -> None:
        self.emitter = emitter
        self.checked = checked
        self.names = names
        self.constants = constants

    def kind(self, node: ast.AST) -> Type:
        return self.checked.kinds[node]

    def visit(self, node: ast.expr) -> ast.expr:
        method: Callable[[Any], ast.expr] = getattr(self, "_" + type(node).__name__)
        return method(node)

    def _Constant(self, node: ast.Constant) -> ast.expr:  # noqa: N802
        return ast.Constant(self.checked.constants.get(node, node.value))

    def _Name(self, node: ast.Name) -> ast.expr:  # noqa: N802
        if node.id in self.checked.uses:
            if node.id in self.names:
                return _name(self.names[node.id])
            value = self.constants[node.id]
            if isinstance(value, (float, int, str)):
                return ast.Constant(value)
            if isinstance(value, tuple) and len(value) <= _INLINE:
                return ast.Tuple([ast.Constant(item) for item in value], ast.Load())
            self.emitter.globals["v_" + node.id] = value
            self.emitter.needs["v_" + node.id] = ("value", value)
            return _name("v_" + node.id)
        return _name("c_" + node.id)

    def _Attribute(self, node: ast.Attribute) -> ast.expr:  # noqa: N802
        return ast.Attribute(self.visit(node.value), node.attr, ast.Load())

    def _Call(self, node: ast.Call) -> ast.expr:  # noqa: N802
        if isinstance(node.func, ast.Attribute):
            return self._lookup(node, node.func)
        assert isinstance(node.func, ast.Name)
        name = node.func.id
        if name == "stated":
            return ast.Compare(
                _call("f_type", self.visit(node.args[0])), [ast.IsNot()], [_name("f_Missing")]
            )
        if name in ("max", "min"):
            return self._extreme(name, node.args)
        if name == "count":
            return _call("f_len", self._listed(node.args[0]))
        if name in ("sum", "distinct"):
            return _call("f_" + name, self._listed(node.args[0]))
        return _call("f_" + name, *[self.visit(argument) for argument in node.args])

    def _listed(self, node: ast.expr) -> ast.expr:
        """A collection; a generator as a list, which is quicker to make and to measure."""
        visited = self.visit(node)
        if isinstance(visited, ast.GeneratorExp):
            return ast.ListComp(visited.elt, visited.generators)
        return visited

    def _extreme(self, name: str, arguments: list[ast.expr]) -> ast.expr:
        kinds = [self.kind(argument) for argument in arguments]
        items = [k.item if isinstance(k, List) else k for k in kinds]
        rank = next((k for k in items if isinstance(k, Designation)), None)
        keywords = []
        if rank is not None:
            keywords.append(
                ast.keyword("key", _name("f_wire" if rank.name == "wire_size" else "f_trade"))
            )
        if len(arguments) == 1:
            joined: list[ast.expr] = [self._listed(arguments[0])]
        elif any(isinstance(k, List) for k in kinds):
            parts: list[ast.expr] = [
                ast.Starred(self._listed(a), ast.Load()) if isinstance(k, List) else self.visit(a)
                for a, k in zip(arguments, kinds, strict=True)
            ]
            joined = [ast.List(parts, ast.Load())]
        else:
            joined = [self.visit(argument) for argument in arguments]
        return ast.Call(_name("f_" + name), joined, keywords)

    def _lookup(self, node: ast.Call, func: ast.Attribute) -> ast.expr:
        assert isinstance(func.value, ast.Name)
        table, column = func.value.id, func.attr
        given = {keyword.arg: keyword.value for keyword in node.keywords}
        order = [k for k in self.emitter.vocabulary.tables[table].key_types if k in given]
        variable = self.emitter.table(table, "" if column == "rows" else column, tuple(order))
        return _call(variable, *[self.visit(given[key]) for key in order])

    def _BinOp(self, node: ast.BinOp) -> ast.expr:  # noqa: N802
        left, right = self.visit(node.left), self.visit(node.right)
        if isinstance(self.kind(node), List):
            return ast.List(
                [ast.Starred(left, ast.Load()), ast.Starred(right, ast.Load())], ast.Load()
            )
        kind = self.kind(node)
        if isinstance(node.op, (ast.Mult, ast.Pow)) and isinstance(kind, Number) and kind.whole:
            # As floats: squares of squares of whole numbers would grow without bound.
            left = ast.BinOp(ast.Constant(1.0), ast.Mult(), left)
        return ast.BinOp(left, node.op, right)

    def _UnaryOp(self, node: ast.UnaryOp) -> ast.expr:  # noqa: N802
        return ast.UnaryOp(node.op, self.visit(node.operand))

    def _BoolOp(self, node: ast.BoolOp) -> ast.expr:  # noqa: N802
        return ast.BoolOp(node.op, [self.visit(value) for value in node.values])

    def _IfExp(self, node: ast.IfExp) -> ast.expr:  # noqa: N802
        return ast.IfExp(self.visit(node.test), self.visit(node.body), self.visit(node.orelse))

    def _List(self, node: ast.List | ast.Tuple) -> ast.expr:  # noqa: N802
        return ast.Tuple([self.visit(item) for item in node.elts], ast.Load())

    _Tuple = _List

    def _Compare(self, node: ast.Compare) -> ast.expr:  # noqa: N802
        operands = [node.left, *node.comparators]
        parts = [self._pair(operands[i], operands[i + 1], op) for i, op in enumerate(node.ops)]
        return parts[0] if len(parts) == 1 else ast.BoolOp(ast.And(), parts)

    def _pair(self, a: ast.expr, b: ast.expr, op: ast.cmpop) -> ast.expr:
        left, right = self.visit(a), self.visit(b)
        ka, kb = self.kind(a), self.kind(b)
        if isinstance(op, (ast.In, ast.NotIn)):
            if isinstance(right, ast.GeneratorExp):
                right = ast.ListComp(right.elt, right.generators)
            if isinstance(left, ast.Constant) or _constants(right):
                return ast.Compare(left, [op], [right])
            found = _call("f_in", left, right)
            return found if isinstance(op, ast.In) else ast.UnaryOp(ast.Not(), found)
        if isinstance(ka, Designation) and not isinstance(op, (ast.Eq, ast.NotEq)):
            return ast.Compare(_rank(ka, left), [op], [_rank(ka, right)])
        whole = isinstance(ka, Number) and isinstance(kb, Number) and ka.whole and kb.whole
        if whole or not isinstance(ka, Number):
            return ast.Compare(left, [op], [right])
        return self._tolerant(left, right, op)

    def _tolerant(self, left: ast.expr, right: ast.expr, op: ast.cmpop) -> ast.expr:
        simple = _simple(left) and _simple(right)
        plain = ast.Compare(left, [op], [right])
        swapped = isinstance(op, (ast.Gt, ast.GtE))
        a, b = (right, left) if swapped else (left, right)
        if isinstance(op, (ast.LtE, ast.GtE)):
            exact = _call("f_le", a, b)
            return ast.BoolOp(ast.Or(), [plain, exact]) if simple else exact
        if isinstance(op, (ast.Lt, ast.Gt)):
            exact = _call("f_lt", a, b)
            return ast.BoolOp(ast.And(), [plain, exact]) if simple else exact
        same = _call("f_eq", a, b)
        return same if isinstance(op, ast.Eq) else ast.UnaryOp(ast.Not(), same)

    def _comprehension(self, node: Any) -> ast.expr:
        generators = []
        for generator in node.generators:
            generators.append(
                ast.comprehension(
                    ast.Name("c_" + generator.target.id, ast.Store()),
                    self.visit(generator.iter),
                    [self.visit(condition) for condition in generator.ifs],
                    0,
                )
            )
        if node in self.checked.deep:
            self.emitter.counts = True
            generators[-1].iter = _call("f_counted", generators[-1].iter)
        element = self.visit(node.elt)
        if isinstance(node, ast.GeneratorExp):
            return ast.GeneratorExp(element, generators)
        if isinstance(node, ast.SetComp):
            return _call("f_distinct", ast.ListComp(element, generators))
        return ast.ListComp(element, generators)

    _GeneratorExp = _ListComp = _SetComp = _comprehension


#: A list of the rule's own that is written into the code; a longer one is kept beside it.
_INLINE = 16


def _rank(kind: Designation, node: ast.expr) -> ast.expr:
    """Where a size stands among its kind, found now where the size is written in the rule."""
    ranks = WIRE_RANK if kind.name == "wire_size" else TRADE_RANK
    if isinstance(node, ast.Constant) and node.value in ranks:
        return ast.Constant(ranks[node.value])
    return _call("f_wire" if kind.name == "wire_size" else "f_trade", node)


def _constants(node: ast.expr) -> bool:
    return isinstance(node, ast.Tuple) and all(isinstance(n, ast.Constant) for n in node.elts)


def _simple(node: ast.expr) -> bool:
    return isinstance(node, (ast.Name, ast.Constant)) or (
        isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name)
    )
