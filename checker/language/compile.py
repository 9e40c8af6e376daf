"""From a checked expression to plain Python that runs on plain floats.

The emitted code reads declared record fields, adds and compares numbers, and calls the language's
own functions; there is nothing else it could do.  Unstated fields are ``Missing`` objects, which
raise at any use, so the code needs no tests for them.  Comparisons are tolerant: the tolerance is
only looked at when the plain comparison has gone against the limit, so it costs nothing otherwise.

Going through a collection becomes a loop of statements, and what was looked up or gone through
before on the way to a statement is not done again.  That may ask for a field which the expression
as written would not have asked for; an unstated one then raises, and the traced evaluation, which
goes by the expression as written, decides.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from typing import Any

from checker.quantities.designations import TRADE_RANK, WIRE_RANK

from .block import Block, Shape, call, name, shape
from .checked import Checked
from .loops import WAYS, collections, loop
from .runtime import GLOBALS, Memory
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
        self.often: dict[Shape, int] = {}
        self._variables = 0

    def look(self, checked: Checked) -> None:
        """Note what an expression goes through, so that a list which several need is made once."""
        for found in collections(checked):
            self.often[found] = self.often.get(found, 0) + 1

    def emit(
        self,
        checked: Checked,
        names: Mapping[str, str],
        constants: Mapping[str, Any],
        block: Block,
    ) -> ast.expr:
        """The Python tree of one expression, at the end of ``block``, which may grow by it.

        ``names`` maps steps and subjects to Python variables; ``constants`` maps the rule's values
        to what they are.
        """
        return _Rewrite(self, checked, names, constants, block).visit(checked.tree)

    @staticmethod
    def start() -> ast.stmt:
        """The statement that code starts with where items are counted."""
        return ast.Expr(call("f_begin"))

    def variable(self, start: str) -> str:
        """A variable that nothing else has."""
        self._variables += 1
        return f"{start}_{self._variables}"

    def table(self, name: str, column: str, keys: tuple[str, ...]) -> str:
        """The global that looks up ``column`` (or rows by ``keys``) of a table.

        The dots keep column ``fill_area`` of ``box`` apart from column ``area`` of ``box_fill``.
        """
        table = self.vocabulary.tables[name]
        if column:
            variable = f"t_{name}.{column}"
            if variable not in self.globals:
                self.globals[variable] = Memory(table.getter(column))
                self.needs[variable] = ("cell", name, column)
        else:
            variable = ".".join((f"r_{name}", *keys))
            if variable not in self.globals:
                self.globals[variable] = Memory(table.rows_getter(keys))
                self.needs[variable] = ("rows", name, keys)
        return variable


class _Rewrite:
    def __init__(
        self,
        emitter: Emitter,
        checked: Checked,
        names: Mapping[str, str],
        constants: Mapping[str, Any],
        block: Block,
    ) -> None:
        self.emitter = emitter
        self.checked = checked
        self.names = names
        self.constants = constants
        self.block = block
        self.items: dict[str, str] = {}
        self.often = emitter.often
        self.variable = emitter.variable

    def kind(self, node: ast.AST) -> Type:
        return self.checked.kinds[node]

    def counts(self) -> None:
        self.emitter.counts = True

    def visit(self, node: ast.expr) -> ast.expr:
        method: Callable[[Any], ast.expr] = getattr(self, "_" + type(node).__name__)
        return method(node)

    def _kept(self, value: ast.expr) -> ast.Name:
        """The value in a variable: the one that has it already, or a new one."""
        if isinstance(value, ast.Name):
            return value
        key = shape(value)
        variable = self.block.known.get(key)
        if variable is None:
            variable = self.block.known[key] = self.variable("x")
            self.block.set(variable, value)
        return name(variable)

    def _apart(self, node: ast.expr) -> tuple[Block, ast.expr]:
        """What an expression comes to in a block of its own, which need not be run."""
        outer, self.block = self.block, self.block.inner()
        try:
            return self.block, self.visit(node)
        finally:
            self.block = outer

    # -- what stands by itself -------------------------------------------------------------

    def _Constant(self, node: ast.Constant) -> ast.expr:  # noqa: N802
        return ast.Constant(self.checked.constants.get(node, node.value))

    def _Name(self, node: ast.Name) -> ast.expr:  # noqa: N802
        if node.id in self.items:
            return name(self.items[node.id])
        if node.id in self.names:
            return name(self.names[node.id])
        value = self.constants[node.id]
        if isinstance(value, (float, int, str)):
            return ast.Constant(value)
        if isinstance(value, tuple) and len(value) <= _INLINE:
            return ast.Tuple([ast.Constant(item) for item in value], ast.Load())
        self.emitter.globals["v_" + node.id] = value
        self.emitter.needs["v_" + node.id] = ("value", value)
        return name("v_" + node.id)

    def _Attribute(self, node: ast.Attribute) -> ast.expr:  # noqa: N802
        return ast.Attribute(self.visit(node.value), node.attr, ast.Load())

    def _List(self, node: ast.List | ast.Tuple) -> ast.expr:  # noqa: N802
        return ast.Tuple([self.visit(item) for item in node.elts], ast.Load())

    _Tuple = _List

    # -- calls -----------------------------------------------------------------------------

    def _Call(self, node: ast.Call) -> ast.expr:  # noqa: N802
        if isinstance(node.func, ast.Attribute):
            return self._lookup(node, node.func)
        assert isinstance(node.func, ast.Name)
        function = node.func.id
        if function == "stated":
            return ast.Compare(
                call("f_type", self.visit(node.args[0])), [ast.IsNot()], [name("f_Missing")]
            )
        if function in ("max", "min"):
            return self._extreme(function, node.args)
        if function in WAYS and isinstance(node.args[0], _GONE_THROUGH):
            return loop(self, function, node.args[0])
        arguments = [self.visit(argument) for argument in node.args]
        if function == "distinct":
            return _distinct(arguments[0])
        return call("f_len" if function == "count" else "f_" + function, *arguments)

    def _extreme(self, function: str, arguments: list[ast.expr]) -> ast.expr:
        kinds = [self.kind(argument) for argument in arguments]
        items = [k.item if isinstance(k, List) else k for k in kinds]
        rank = next((k for k in items if isinstance(k, Designation)), None)
        if len(arguments) == 1 and isinstance(arguments[0], _GONE_THROUGH):
            return loop(self, function, arguments[0], "" if rank is None else _RANKS[rank.name])
        keywords = []
        if rank is not None:
            by = ast.Attribute(name(_RANKS[rank.name]), "__getitem__", ast.Load())
            keywords.append(ast.keyword("key", by))
        visited = [self.visit(argument) for argument in arguments]
        if len(arguments) > 1 and any(isinstance(k, List) for k in kinds):
            parts: list[ast.expr] = [
                ast.Starred(value, ast.Load()) if isinstance(kind, List) else value
                for value, kind in zip(visited, kinds, strict=True)
            ]
            visited = [ast.List(parts, ast.Load())]
        elif len(arguments) == 2:
            # Quicker than a call, and the same one where they are equal.
            first, second = (v if _simple(v) else self._kept(v) for v in visited)
            a, b = (v if rank is None else _rank(rank, v) for v in (first, second))
            order = ast.Gt() if function == "max" else ast.Lt()
            return ast.IfExp(ast.Compare(b, [order], [a]), second, first)
        return ast.Call(name("f_" + function), visited, keywords)

    def _lookup(self, node: ast.Call, func: ast.Attribute) -> ast.expr:
        assert isinstance(func.value, ast.Name)
        table, column = func.value.id, func.attr
        given = {keyword.arg: keyword.value for keyword in node.keywords}
        order = [k for k in self.emitter.vocabulary.tables[table].key_types if k in given]
        variable = self.emitter.table(table, "" if column == "rows" else column, tuple(order))
        keys = [self.visit(given[key]) for key in order]
        wanted = keys[0] if len(keys) == 1 else ast.Tuple(keys, ast.Load())
        return self._kept(ast.Subscript(name(variable), wanted, ast.Load()))

    # -- operators -------------------------------------------------------------------------

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
        ends = isinstance(node.op, ast.Or)
        ready: list[ast.expr] = [self.visit(node.values[0])]
        for place, operand in enumerate(node.values[1:], start=1):
            block, value = self._apart(operand)
            if block.body:
                # Only where the operands before it leave it open.
                return self._rest(node, place, _joined(node.op, ready), block, value)
            if not (isinstance(value, ast.Constant) and bool(value.value) is not ends):
                ready.append(value)
        return _joined(node.op, ready)

    def _rest(
        self, node: ast.BoolOp, place: int, before: ast.expr, block: Block, value: ast.expr
    ) -> ast.expr:
        found = self.variable("x")
        self.block.set(found, before)
        block.set(found, value)
        following = node.values[place + 1 :]
        if following:
            outer, self.block = self.block, block
            then_block, then = self._apart(_joined(node.op, following))
            self.block = outer
            then_block.set(found, then)
            block.add(ast.If(_unless(node.op, name(found)), then_block.body, []))
        self.block.add(ast.If(_unless(node.op, name(found)), block.body, []))
        return name(found)

    def _IfExp(self, node: ast.IfExp) -> ast.expr:  # noqa: N802
        test = self.visit(node.test)
        (first, body), (second, orelse) = self._apart(node.body), self._apart(node.orelse)
        if not first.body and not second.body:
            return ast.IfExp(test, body, orelse)
        found = self.variable("x")
        first.set(found, body)
        second.set(found, orelse)
        self.block.add(ast.If(test, first.body, second.body))
        return name(found)

    def _Compare(self, node: ast.Compare) -> ast.expr:  # noqa: N802
        operands = [node.left, *node.comparators]
        parts = [self._pair(operands[i], operands[i + 1], op) for i, op in enumerate(node.ops)]
        return parts[0] if len(parts) == 1 else ast.BoolOp(ast.And(), parts)

    def _pair(self, a: ast.expr, b: ast.expr, op: ast.cmpop) -> ast.expr:
        left, right = self.visit(a), self.visit(b)
        ka, kb = self.kind(a), self.kind(b)
        if isinstance(op, (ast.In, ast.NotIn)):
            if isinstance(left, ast.Constant) or _constants(right):
                return ast.Compare(left, [op], [right])
            found = call("f_in", left, right)
            return found if isinstance(op, ast.In) else ast.UnaryOp(ast.Not(), found)
        if isinstance(ka, Designation) and not isinstance(op, (ast.Eq, ast.NotEq)):
            return ast.Compare(_rank(ka, left), [op], [_rank(ka, right)])
        whole = isinstance(ka, Number) and isinstance(kb, Number) and ka.whole and kb.whole
        if whole or not isinstance(ka, Number):
            return ast.Compare(left, [op], [right])
        return self._tolerant(left, right, op)

    def _tolerant(self, left: ast.expr, right: ast.expr, op: ast.cmpop) -> ast.expr:
        if not _simple(left):
            left = self._kept(left)
        if not _simple(right):
            right = self._kept(right)
        plain = ast.Compare(left, [op], [right])
        swapped = isinstance(op, (ast.Gt, ast.GtE))
        a, b = (right, left) if swapped else (left, right)
        if isinstance(op, (ast.LtE, ast.GtE)):
            return ast.BoolOp(ast.Or(), [plain, call("f_le", a, b)])
        if isinstance(op, (ast.Lt, ast.Gt)):
            return ast.BoolOp(ast.And(), [plain, call("f_lt", a, b)])
        same = ast.BoolOp(
            ast.Or(), [ast.Compare(left, [ast.Eq()], [right]), call("f_eq", left, right)]
        )
        return same if isinstance(op, ast.Eq) else ast.UnaryOp(ast.Not(), same)

    # -- going through collections ---------------------------------------------------------

    def _comprehension(self, node: Any) -> ast.expr:
        """A list of what a comprehension gives, in a variable."""
        found = loop(self, "list", node)
        return _distinct(found) if isinstance(node, ast.SetComp) else found

    _GeneratorExp = _ListComp = _SetComp = _comprehension


_GONE_THROUGH = (ast.GeneratorExp, ast.ListComp)
_RANKS = {"wire_size": "f_wire", "trade_size": "f_trade"}

#: A list of the rule's own that is written into the code; a longer one is kept beside it.
_INLINE = 16


def _distinct(items: ast.expr) -> ast.expr:
    """The items without repetitions, in order."""
    return ast.Tuple([ast.Starred(call("f_unique", items), ast.Load())], ast.Load())


def _joined(op: ast.boolop, values: list[ast.expr]) -> ast.expr:
    return values[0] if len(values) == 1 else ast.BoolOp(op, values)


def _unless(op: ast.boolop, value: ast.expr) -> ast.expr:
    """Whether the operands so far leave it open."""
    return value if isinstance(op, ast.And) else ast.UnaryOp(ast.Not(), value)


def _rank(kind: Designation, node: ast.expr) -> ast.expr:
    """Where a size stands among its kind, found now where the size is written in the rule."""
    ranks = WIRE_RANK if kind.name == "wire_size" else TRADE_RANK
    if isinstance(node, ast.Constant) and node.value in ranks:
        return ast.Constant(ranks[node.value])
    return ast.Subscript(name(_RANKS[kind.name]), node, ast.Load())


def _constants(node: ast.expr) -> bool:
    return isinstance(node, ast.Tuple) and all(isinstance(n, ast.Constant) for n in node.elts)


def _simple(node: ast.expr) -> bool:
    return isinstance(node, (ast.Name, ast.Constant)) or (
        isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name)
    )
