"""Collections gone through as loops of statements, without calls in between.

Rules go through the same few wires again and again: a list that several expressions of a rule
start from is made once.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from typing import Any, Protocol

from .block import Block, Shape, call, name, names_in, shape
from .checked import Checked
from .trees import walk

#: So many expressions have to go through the same items before a list of them is made.
_OFTEN = 3


class Rewriting(Protocol):
    """What loops need of the expression that they belong to."""

    checked: Checked
    block: Block
    items: dict[str, str]
    often: dict[Shape, int]

    def visit(self, node: ast.expr) -> ast.expr:
        """The Python tree of a part."""

    def variable(self, start: str) -> str:
        """A variable that nothing else has."""

    def counts(self) -> None:
        """Items are counted."""


def collections(checked: Checked) -> list[Shape]:
    """The filtered collections that an expression goes through, by their shapes."""
    found: list[Shape] = []
    for node in walk(checked.tree):
        if not isinstance(node, (ast.GeneratorExp, ast.ListComp, ast.SetComp)):
            continue
        for place, generator in enumerate(node.generators):
            assert isinstance(generator.target, ast.Name)
            conditions = flat(generator.ifs)
            if place == len(node.generators) - 1:
                conditions += flat([node.elt])  # where it is asked whether there is any
            found += _filtered(generator, conditions)
    return found


def loop(rewriting: Rewriting, way: str, node: Any, ranks: str = "") -> ast.Name:
    """Loops that do with each item what a way of going through a collection does.

    Gives the variable of the result.  ``ranks``: the global that sizes are ranked by.
    """
    items = rewriting.items
    free = tuple((n, items[n]) for n in sorted(names_in(node) & items.keys())) if items else ()
    key = (way, shape(node), free)
    if key not in rewriting.block.known:
        found = _Loops(rewriting, node, way, ranks).run()
        rewriting.block.known[key] = found
    return name(rewriting.block.known[key])


class _Loops:
    """The loops of one comprehension; ``shared``: how many conditions a shared list may have."""

    def __init__(
        self, rewriting: Rewriting, node: Any, way: str, ranks: str = "", shared: int = 1000
    ) -> None:
        self.rewriting = rewriting
        self.node = node
        self.way = way
        self.ranks = ranks
        self.shared = shared
        self.found = rewriting.variable("x")
        self.best = rewriting.variable("x") if ranks else self.found
        self.deep = 0

    def run(self) -> str:
        rewriting = self.rewriting
        before = rewriting.items
        rewriting.block.set(self.best, _STARTS[self.way]())
        self._level(0)
        rewriting.items = before
        if self.way in ("first", "max", "min"):
            # Nothing was found: what Python's own functions raise of nothing at all.
            nothing = ast.Compare(name(self.best), [ast.Eq()], [_STARTS[self.way]()])
            if self.way == "first":
                nothing.ops = [ast.Is()]
            fail = ast.Expr(call("f_" + self.way, ast.Tuple([], ast.Load())))
            rewriting.block.add(ast.If(nothing, [fail], []))
        return self.found

    def _level(self, place: int) -> None:
        rewriting = self.rewriting
        if place == len(self.node.generators):
            self._each()
            return
        generator = self.node.generators[place]
        last = place == len(self.node.generators) - 1
        conditions = flat(generator.ifs)
        if last and self.way == "any":
            conditions += flat([self.node.elt])
        outer = rewriting.block
        single = _single(generator.iter)
        if last and self.node in rewriting.checked.deep:
            rewriting.counts()
            source: ast.expr = call("f_counted", rewriting.visit(generator.iter))
        elif single is not None:
            # A list of one item only gives an intermediate result a name.
            value = rewriting.visit(single)
            outer.set(self._enter(generator), value)
            self._where(conditions, place)
            rewriting.block = outer
            return
        else:
            source, conditions = self._source(generator, conditions)
        variable = self._enter(generator)
        rewriting.block = outer.inner()
        body = rewriting.block.body
        self.deep += 1
        self._where(conditions, place)
        self.deep -= 1
        rewriting.block = outer
        outer.add(ast.For(ast.Name(variable, ast.Store()), source, body, []))
        if self.deep and self.way in _ENDS:
            outer.add(ast.If(_ENDS[self.way](self.found), [ast.Break()], []))

    def _enter(self, generator: ast.comprehension) -> str:
        assert isinstance(generator.target, ast.Name)
        variable = self.rewriting.variable("c_" + generator.target.id)
        self.rewriting.items = {**self.rewriting.items, generator.target.id: variable}
        return variable

    def _source(
        self, generator: ast.comprehension, conditions: list[ast.expr]
    ) -> tuple[ast.expr, list[ast.expr]]:
        """What is gone through, and the conditions that are left: a shared list has passed some."""
        rewriting = self.rewriting
        assert isinstance(generator.target, ast.Name)
        items = rewriting.items.keys()
        if names_in(generator.iter) & items:
            return rewriting.visit(generator.iter), conditions  # another one in every round
        outside = items - {generator.target.id}
        keys = _filtered(generator, conditions[: self.shared])
        for number, key in reversed(list(enumerate(keys, start=1))):
            if outside & names_in(*conditions[:number]):
                continue
            if key in rewriting.block.known:
                return name(rewriting.block.known[key]), conditions[number:]
            if rewriting.often.get(key, 0) >= _OFTEN:
                item = ast.Name(generator.target.id, ast.Load())
                parts = ast.comprehension(generator.target, generator.iter, conditions[:number], 0)
                made = _Loops(rewriting, ast.ListComp(item, [parts]), "list", "", number - 1)
                rewriting.block.known[key] = made.run()
                return name(rewriting.block.known[key]), conditions[number:]
        return rewriting.visit(generator.iter), conditions

    def _where(self, conditions: list[ast.expr], place: int) -> None:
        """The next level inside the conditions."""
        rewriting = self.rewriting
        for condition in conditions:
            test = rewriting.visit(condition)
            if not (isinstance(test, ast.Constant) and test.value):
                block = rewriting.block.inner()
                rewriting.block.add(ast.If(test, block.body, []))
                rewriting.block = block
        self._level(place + 1)

    def _each(self) -> None:
        """What is done with one item."""
        rewriting, way, found = self.rewriting, self.way, self.found
        if way == "any":
            self._finish(ast.Constant(True))
        elif way == "count":
            add = ast.AugAssign(ast.Name(found, ast.Store()), ast.Add(), ast.Constant(1))
            rewriting.block.add(add)
        elif way == "all":
            test = ast.UnaryOp(ast.Not(), rewriting.visit(self.node.elt))
            block = rewriting.block.inner()
            rewriting.block.add(ast.If(test, block.body, []))
            rewriting.block = block
            self._finish(ast.Constant(False))
        elif way == "first":
            self._finish(rewriting.visit(self.node.elt))
        elif way == "list":
            append = ast.Attribute(name(found), "append", ast.Load())
            value = rewriting.visit(self.node.elt)
            rewriting.block.add(ast.Expr(ast.Call(append, [value], [])))
        else:
            self._extreme(rewriting.visit(self.node.elt))

    def _extreme(self, value: ast.expr) -> None:
        block = self.rewriting.block
        item = self.rewriting.variable("x")
        block.set(item, value)
        better: list[ast.stmt] = [ast.Assign([ast.Name(self.found, ast.Store())], name(item))]
        measured = item
        if self.ranks:
            measured = self.rewriting.variable("x")
            block.set(measured, ast.Subscript(name(self.ranks), name(item), ast.Load()))
            better.append(ast.Assign([ast.Name(self.best, ast.Store())], name(measured)))
        order = ast.Gt() if self.way == "max" else ast.Lt()
        test = ast.Compare(name(measured), [order], [name(self.best)])
        block.add(ast.If(test, better, []))

    def _finish(self, value: ast.expr) -> None:
        self.rewriting.block.set(self.found, value)
        if self.deep:
            self.rewriting.block.add(ast.Break())


#: What each way of going through a collection starts from.
_STARTS: dict[str, Callable[[], ast.expr]] = {
    "list": lambda: ast.List([], ast.Load()),
    "count": lambda: ast.Constant(0),
    "any": lambda: ast.Constant(False),
    "all": lambda: ast.Constant(True),
    "first": lambda: name("f_Missing"),
    "max": lambda: ast.Constant(float("-inf")),
    "min": lambda: ast.Constant(float("inf")),
}
WAYS = frozenset(_STARTS)

#: When an outer loop ends as well.
_ENDS: dict[str, Callable[[str], ast.expr]] = {
    "any": name,
    "all": lambda found: ast.UnaryOp(ast.Not(), name(found)),
    "first": lambda found: ast.Compare(name(found), [ast.IsNot()], [name("f_Missing")]),
}


def flat(conditions: list[ast.expr]) -> list[ast.expr]:
    """Conditions one by one, those joined by ``and`` too."""
    found: list[ast.expr] = []
    for condition in conditions:
        if isinstance(condition, ast.BoolOp) and isinstance(condition.op, ast.And):
            found += flat(condition.values)
        else:
            found.append(condition)
    return found


def _filtered(generator: ast.comprehension, conditions: list[ast.expr]) -> list[Shape]:
    """The shapes of a collection with one condition, two, and so on, whatever an item is called."""
    assert isinstance(generator.target, ast.Name)
    item = generator.target.id
    source = shape(generator.iter)
    shapes = [shape(condition, item) for condition in conditions]
    return [(source, *shapes[: number + 1]) for number in range(len(shapes))]


def _single(node: ast.expr) -> ast.expr | None:
    """The item of a list that is written out with one item."""
    if isinstance(node, (ast.List, ast.Tuple)) and len(node.elts) == 1:
        return node.elts[0]
    return None
