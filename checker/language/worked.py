"""Writes a calculation out as a person would: names replaced by numbers with their units.

``area * share`` becomes ``0.304 in² × 40 %``; a sum over equal items becomes ``9 × 0.0133 in²``;
of a choice only the branch that was taken is shown.  A reviewer can repeat every line with a
pocket calculator.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from checker.quantities.dimension import AREA
from checker.quantities.show import USUAL
from checker.quantities.units import BASE_TEXT

from . import nodes
from .checked import Checked
from .nodes import Node, items_of, ways
from .showing import NOT_STATED, show_any
from .trace import Tracer
from .types import List, Number, Type
from .types import Record as Element
from .unknown import Maybe, Unknown, alone

#: The unit that a value is written in unless another is chosen, by its dimension.
UNIT_OF = BASE_TEXT
_SIGNS = {"+": ("+", 1), "-": ("−", 1), "*": ("×", 2), "/": ("÷", 2), "**": ("²", 3)}
_RELATIONS = {
    "==": "=",
    "!=": "≠",
    "<": "<",
    "<=": "≤",
    ">": ">",
    ">=": "≥",
    "in": "among",
    "not in": "not among",
}
#: Functions that are written otherwise than by their name.
_WORDS = {
    "floor": "({}) rounded down",
    "ceil": "({}) rounded up",
    "sqrt": "√({})",
    "abs": "|{}|",
    "whole_from": "({}) rounded up from a remainder of {}",
}
_MANY = 12


def default_unit(kind: Type) -> str:
    """The unit that a value of that kind is written in unless another is chosen; "" for none."""
    item = kind.item if isinstance(kind, List) else kind
    unit = UNIT_OF.get(item.dimension, "") if isinstance(item, Number) else ""
    return "" if unit == "1" else unit


def show_value(value: Any, kind: Type, unit: str = "", digits: int = USUAL) -> str:
    """Any value of the language as text, a number in ``unit`` or in its dimension's usual one."""
    if isinstance(value, (Unknown, Maybe)) or value is None:
        return NOT_STATED
    return show_any(value, unit or default_unit(kind), digits)


class Worker:
    """Writes out expressions with the values that ``tracer`` finds.

    shown: text of names whose value has a text of its own (the rule's values as written, steps in
    their declared unit); digits: significant digits of every number.
    """

    def __init__(self, tracer: Tracer, shown: Mapping[str, str], digits: int = USUAL) -> None:
        self.tracer = tracer
        self.shown = shown
        self.digits = digits

    def write(self, checked: Checked) -> str:
        """The calculation of an expression, without its result."""
        return self.text(checked.node)[0]

    def text(self, node: Node) -> tuple[str, int]:
        """Text of a part and how tightly it binds (0 comparison, 1 sum, 2 product, 9 whole).

        Where nothing is to be seen of how its value was reached, that is the value.
        """
        found: tuple[str, int] = _WAYS[node.__class__](self, node)
        return found

    def _other(self, node: Node) -> tuple[str, int]:
        return self._value(node), 9

    def _value(self, node: Node) -> str:
        return show_value(self.tracer.visit(node), node.kind, "", self.digits)

    def _bound(self, node: Node, level: int, strict: bool = False) -> str:
        text, own = self.text(node)
        return f"({text})" if own < level or (strict and own == level) else text

    def _name(self, node: nodes.Name) -> tuple[str, int]:
        return (self.shown[node.name] if node.name in self.shown else self._value(node)), 9

    def _arithmetic(self, node: nodes.Arithmetic) -> tuple[str, int]:
        sign, level = _SIGNS[node.sign]
        if level == 3:
            base = self._bound(node.left, 9)
            # A unit would take the sign of the square for its own: 24 in² is an area.
            return f"({base})²" if " " in base and not base.startswith("(") else f"{base}²", 3
        left = self._bound(node.left, level)
        right = self._bound(node.right, level, strict=node.sign in "-/")
        return f"{left} {sign} {right}", level

    def _signed(self, node: nodes.Signed) -> tuple[str, int]:
        return ("−" + self._bound(node.of, 2), 2) if node.minus else (self._value(node), 9)

    def _choice(self, node: nodes.Choice) -> tuple[str, int]:
        test = self.tracer.visit(node.test)
        if isinstance(test, Unknown):
            return NOT_STATED, 9
        return self.text(node.then if test else node.otherwise)

    def _comparison(self, node: nodes.Comparison) -> tuple[str, int]:
        first, *others = (self._bound(operand, 1) for operand in node.operands)
        signs = [_RELATIONS[relation.sign] for relation in node.relations]
        said = [f"{sign} {other}" for sign, other in zip(signs, others, strict=True)]
        return " ".join([first, *said]), 0

    def _logic(self, node: nodes.Logic) -> tuple[str, int]:
        """Of a conjunction the operands that decided it, so that a reader sees why."""
        texts = []
        for part in node.parts:
            value = self.tracer.visit(part)
            text = self._bound(part, 1)
            if not isinstance(value, Unknown) and bool(value) is node.either:
                return text, 0
            texts.append(text)
        return (" or " if node.either else " and ").join(texts), 0

    def _call(self, node: nodes.Call) -> tuple[str, int]:
        through = items_of(node.arguments[0])
        if node.function == "sum" and through is not None:
            return self._sum(through)
        if node.function in _WORDS:
            texts = [self.text(argument)[0] for argument in node.arguments]
            return _WORDS[node.function].format(*texts), 9
        return self._value(node), 9

    def _extreme(self, node: nodes.Extreme) -> tuple[str, int]:
        texts: list[str] = []
        for part in node.parts:
            through = items_of(part)
            if through is not None:
                texts.extend(self._items(through, lambda n: self.text(n)[0]))
            else:
                texts.append(self.text(part)[0])
        distinct = list(dict.fromkeys(texts))
        if len(distinct) == 1:
            return distinct[0], 9
        if len(distinct) > _MANY:
            return self._value(node), 9
        word = "largest" if node.largest else "smallest"
        return f"{word} of ({', '.join(distinct)})", 9

    def _lookup(self, node: nodes.Lookup) -> tuple[str, int]:
        if not node.column:
            return self._value(node), 9
        table = self.tracer.vocabulary.tables[node.table]
        # Circular mils are no square inches to the reader of a table.
        own = isinstance(node.kind, Number) and node.kind.dimension == AREA
        unit = table.unit_of(node.column) if own else ""
        value = show_value(self.tracer.visit(node), node.kind, unit, self.digits)
        given = {name: self.tracer.visit(key) for name, key in node.keys}
        return f"{value} [{table.cite_lookup(given)}]", 9

    def _sum(self, node: nodes.Comprehension) -> tuple[str, int]:
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

    def _comprehension(self, node: nodes.Comprehension) -> tuple[str, int]:
        """The different items of a collection, each worked out."""
        if node.distinct or isinstance(node.item.kind, Element):
            return self._value(node), 9
        texts = list(dict.fromkeys(self._items(node, lambda n: self.text(n)[0])))
        more = f" and {len(texts) - _MANY} more" if len(texts) > _MANY else ""
        return ((", ".join(texts[:_MANY]) + more) if texts else "none"), 9

    def _items(self, node: nodes.Comprehension, write: Callable[[Node], str]) -> list[str]:
        """Text of what each item of a comprehension is."""
        texts: list[str] = []
        tracer = self.tracer

        def step(place: int) -> None:
            if place == len(node.levels):
                texts.append(write(node.item))
                return
            level = node.levels[place]
            source = tracer.visit(level.source)
            if isinstance(source, Unknown):
                texts.append(NOT_STATED)
                return
            last: Any = node  # no item is this
            kept: list[str] = []
            for item in source:
                if item is last:  # the same wire again, as often as its count says
                    texts.extend(kept)
                    continue
                begin = len(texts)
                tracer.items[level.slot] = alone(item)
                tests = (tracer.visit(condition) for condition in level.conditions)
                if all(isinstance(test, Unknown) or test for test in tests):
                    step(place + 1)
                last, kept = item, texts[begin:]

        step(0)
        return texts


_WAYS = ways(Worker)
