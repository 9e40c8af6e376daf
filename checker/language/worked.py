"""Writes a calculation out as a person would: names replaced by numbers with their units.

``area * share`` becomes ``0.304 in² × 40 %``; a sum over equal items becomes ``9 × 0.0133 in²``;
of a choice only the branch that was taken is shown.  A reviewer can repeat every line with a
pocket calculator.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from typing import Any

from checker.quantities.dimension import (
    ANGLE,
    AREA,
    CURRENT,
    DIFFERENCE,
    LENGTH,
    MASS,
    NONE,
    POWER,
    RESISTANCE,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
    Dimension,
)

from .checked import Checked
from .showing import NOT_STATED, show_any
from .trace import Maybe, Tracer, Unknown, alone
from .types import List, Number, Type

UNIT_OF: dict[Dimension, str] = {
    NONE: "1",
    LENGTH: "in",
    AREA: "in²",
    VOLUME: "in³",
    CURRENT: "A",
    POWER: "VA",
    VOLTAGE: "V",
    RESISTANCE: "ohm",
    TEMPERATURE: "degC",
    DIFFERENCE: "delta_degC",
    ANGLE: "deg",
    MASS: "lb",
}
_SIGNS: dict[type[ast.AST], tuple[str, int]] = {
    ast.Add: ("+", 1),
    ast.Sub: ("−", 1),
    ast.Mult: ("×", 2),
    ast.Div: ("÷", 2),
    ast.Pow: ("²", 3),
}
_RELATIONS: dict[type[ast.AST], str] = {
    ast.Eq: "=",
    ast.NotEq: "≠",
    ast.Lt: "<",
    ast.LtE: "≤",
    ast.Gt: ">",
    ast.GtE: "≥",
    ast.In: "among",
    ast.NotIn: "not among",
}
_MANY = 12


def default_unit(kind: Type) -> str:
    """The unit that a value of that kind is written in unless another is chosen; "" for none."""
    item = kind.item if isinstance(kind, List) else kind
    unit = UNIT_OF.get(item.dimension, "") if isinstance(item, Number) else ""
    return "" if unit == "1" else unit


def show_value(value: Any, kind: Type, unit: str = "") -> str:
    """Any value of the language as text, a number in ``unit`` or in its dimension's usual one."""
    if isinstance(value, (Unknown, Maybe)) or value is None:
        return NOT_STATED
    return show_any(value, unit or default_unit(kind))


class Worker:
    """Writes out expressions with the values that ``tracer`` finds.

    shown: text of names whose value has a text of its own (the rule's values as written, steps in
    their declared unit).
    """

    def __init__(self, tracer: Tracer, shown: Mapping[str, str]) -> None:
        self.tracer = tracer
        self.shown = shown

    def write(self, checked: Checked) -> str:
        """The calculation of an expression, without its result."""
        self.tracer.checked = checked
        return self._text(checked.tree)[0]

    def _value(self, node: ast.expr) -> str:
        return show_value(self.tracer.visit(node), self.tracer.kind(node))

    def _text(self, node: ast.expr) -> tuple[str, int]:
        """Text of a node and how tightly it binds (1 sum, 2 product, 9 whole)."""
        if isinstance(node, ast.BinOp) and not isinstance(self.tracer.kind(node), List):
            return self._binary(node)
        if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
            return "−" + self._bound(node.operand, 2), 2
        if isinstance(node, ast.IfExp):
            test = self.tracer.visit(node.test)
            if isinstance(test, Unknown):
                return NOT_STATED, 9
            return self._text(node.body if test else node.orelse)
        if isinstance(node, ast.Name):
            if node.id in self.shown and node.id not in self.tracer.local:
                return self.shown[node.id], 9
            return self._value(node), 9
        if isinstance(node, ast.Call):
            return self._call(node)
        if isinstance(node, (ast.ListComp, ast.GeneratorExp)):
            return self._listed(node), 9
        if isinstance(node, ast.Compare):
            return self._compare(node), 0
        if isinstance(node, ast.BoolOp):
            return self._decided(node), 0
        if isinstance(node, ast.UnaryOp):
            return self._value(node), 9
        return self._value(node), 9

    def _listed(self, node: ast.ListComp | ast.GeneratorExp) -> str:
        """The different items of a collection, each worked out."""
        texts = list(dict.fromkeys(self._items(node, lambda n: self._text(n)[0])))
        more = f" and {len(texts) - _MANY} more" if len(texts) > _MANY else ""
        return (", ".join(texts[:_MANY]) + more) if texts else "none"

    def _bound(self, node: ast.expr, level: int, strict: bool = False) -> str:
        text, own = self._text(node)
        return f"({text})" if own < level or (strict and own == level) else text

    def _binary(self, node: ast.BinOp) -> tuple[str, int]:
        sign, level = _SIGNS[type(node.op)]
        if level == 3:
            base = self._bound(node.left, 9)
            # A unit would take the sign of the square for its own: 24 in² is an area.
            return f"({base})²" if " " in base and not base.startswith("(") else f"{base}²", 3
        strict = isinstance(node.op, (ast.Sub, ast.Div))
        return (
            f"{self._bound(node.left, level)} {sign} {self._bound(node.right, level, strict)}",
            level,
        )

    def _compare(self, node: ast.Compare) -> str:
        parts = [self._bound(node.left, 1)]
        for op, operand in zip(node.ops, node.comparators, strict=True):
            parts.append(f"{_RELATIONS[type(op)]} {self._bound(operand, 1)}")
        return " ".join(parts)

    def _decided(self, node: ast.BoolOp) -> str:
        """Of a conjunction the operands that decided it, so that a reader sees why."""
        stop = isinstance(node.op, ast.Or)
        texts = []
        for operand in node.values:
            value = self.tracer.visit(operand)
            text = self._bound(operand, 1)
            if not isinstance(value, Unknown) and bool(value) is stop:
                return text
            texts.append(text)
        return (" or " if stop else " and ").join(texts)

    def _call(self, node: ast.Call) -> tuple[str, int]:
        if isinstance(node.func, ast.Attribute):
            return self._lookup(node, node.func), 9
        assert isinstance(node.func, ast.Name)
        name = node.func.id
        argument = node.args[0]
        if name == "sum" and isinstance(argument, (ast.GeneratorExp, ast.ListComp)):
            return self._sum(argument)
        if name in ("floor", "ceil", "whole_from", "sqrt", "abs"):
            inner = ", ".join(self._text(a)[0] for a in node.args)
            words = {
                "floor": "{} rounded down",
                "ceil": "{} rounded up",
                "sqrt": "√({})",
                "abs": "|{}|",
            }
            if name == "whole_from":
                first, share = (self._text(a)[0] for a in node.args)
                return f"({first}) rounded up from a remainder of {share}", 9
            if name in ("floor", "ceil"):
                inner = f"({inner})"
            return words[name].format(inner), 9
        if name in ("max", "min"):
            return self._extreme(node, "largest" if name == "max" else "smallest")
        return self._value(node), 9

    def _extreme(self, node: ast.Call, word: str) -> tuple[str, int]:
        texts: list[str] = []
        for argument in node.args:
            if isinstance(argument, (ast.GeneratorExp, ast.ListComp)):
                texts.extend(self._items(argument, lambda n: self._text(n)[0]))
            else:
                texts.append(self._text(argument)[0])
        distinct = list(dict.fromkeys(texts))
        if len(distinct) == 1:
            return distinct[0], 9
        if len(distinct) > _MANY:
            return self._value(node), 9
        return f"{word} of ({', '.join(distinct)})", 9

    def _lookup(self, node: ast.Call, func: ast.Attribute) -> str:
        assert isinstance(func.value, ast.Name)
        if func.attr == "rows":
            return self._value(node)
        table = self.tracer.vocabulary.tables[func.value.id]
        kind = self.tracer.kind(node)
        # Circular mils are no square inches to the reader of a table.
        own = isinstance(kind, Number) and kind.dimension == AREA
        unit = table.unit_of(func.attr) if own else ""
        value = show_value(self.tracer.visit(node), kind, unit)
        given = {k.arg or "": self.tracer.visit(k.value) for k in node.keywords}
        return f"{value} [{table.cite_lookup(given)}]"

    def _sum(self, node: ast.GeneratorExp | ast.ListComp) -> tuple[str, int]:
        texts = self._items(node, lambda n: self._bound(n, 2))
        if not texts:
            return "0 (none)", 9
        counts: dict[str, int] = {}
        for text in texts:
            counts[text] = counts.get(text, 0) + 1
        parts = [f"{n} × {text}" if n > 1 else text for text, n in counts.items()]
        if len(parts) > _MANY:
            parts = [*parts[:_MANY], "…"]
        return " + ".join(parts), 1 if len(parts) > 1 else 2

    def _items(self, node: Any, write: Callable[[ast.expr], str]) -> list[str]:
        """Text of the element expression for every item of a comprehension."""
        texts: list[str] = []
        tracer = self.tracer

        def step(level: int) -> None:
            if level == len(node.generators):
                texts.append(write(node.elt))
                return
            generator = node.generators[level]
            source = tracer.visit(generator.iter)
            if isinstance(source, Unknown):
                texts.append(NOT_STATED)
                return
            outer = tracer.local
            last: Any = node  # no item is this
            kept: list[str] = []
            try:
                for item in source:
                    if item is last:  # the same wire again, as often as its count says
                        texts.extend(kept)
                        continue
                    begin = len(texts)
                    tracer.local = {**outer, generator.target.id: alone(item)}
                    tests = (tracer.visit(condition) for condition in generator.ifs)
                    if all(isinstance(test, Unknown) or test for test in tests):
                        step(level + 1)
                    last, kept = item, texts[begin:]
            finally:
                tracer.local = outer

        step(0)
        return texts
