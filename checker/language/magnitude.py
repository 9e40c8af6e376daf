"""How far calculations may carry a value, judged by their form alone.

Compiled code does not look whether a number has left the range of floats: an infinity would decide
comparisons without anybody having known.  A stated quantity lies within 1e±33 (``notation`` sees to
that), so a value that few of them are multiplied or divided into cannot.
"""

from __future__ import annotations

import ast
import math
from collections.abc import Mapping
from typing import Any

from .checked import Checked

_STATED = 33  # decimal digits, before the point or behind it, of any quantity
_LOST = 17  # further digits behind the point of what two nearly equal values differ by
#: The range of floats has 308; what adding many values needs is left over.
MOST_DIGITS = 290
_WHOLE = frozenset(("count", "any", "all", "stated", "joined"))


class Digits:
    """Counts how many digits values may have at most, before the point or behind it.

    most: of any value met so far, those inside an expression too.  ``values`` are a rule's own.
    """

    def __init__(self, values: Mapping[str, Any]) -> None:
        self.most = 0
        self._of_names = {name: _of_value(value) for name, value in values.items()}

    def step(self, name: str, checked: Checked) -> None:
        """Look at a step, which later expressions may name."""
        self._of_names[name] = self.look(checked)

    def look(self, checked: Checked) -> int:
        """Look at an expression; gives the digits of its own value."""
        return self._count(checked.tree, self._of_names)

    def _count(self, node: ast.expr, names: Mapping[str, int]) -> int:
        found = self._of(node, names)
        self.most = max(self.most, found)
        return found

    def _of(self, node: ast.expr, names: Mapping[str, int]) -> int:
        if isinstance(node, ast.Constant):
            return 1
        if isinstance(node, ast.Name):
            return names.get(node.id, _STATED)
        if isinstance(node, (ast.GeneratorExp, ast.ListComp, ast.SetComp)):
            inside = dict(names)
            for generator in node.generators:
                assert isinstance(generator.target, ast.Name)
                source = self._count(generator.iter, inside)
                inside[generator.target.id] = source
                for condition in generator.ifs:
                    self._count(condition, inside)
            return self._count(node.elt, inside)
        parts = [self._count(part, names) for part in _parts(node)]
        if isinstance(node, ast.BinOp):
            if isinstance(node.op, (ast.Mult, ast.Div)):
                return sum(parts)
            if isinstance(node.op, ast.Pow):
                return 2 * parts[0]
            return max(parts) + (_LOST if isinstance(node.op, ast.Sub) else 0)
        if isinstance(node, ast.Call):
            looked_up = not isinstance(node.func, ast.Name) or node.func.id in _WHOLE
            return _STATED if looked_up else max(parts)
        if isinstance(node, (ast.Attribute, ast.Compare, ast.BoolOp)):
            return _STATED
        return max(parts, default=_STATED)


def _of_value(value: Any) -> int:
    if isinstance(value, (list, tuple)):
        return max((_of_value(item) for item in value), default=1)
    if isinstance(value, (int, float)) and value:
        return math.ceil(abs(math.log10(abs(value)))) + 1
    return 1


def _parts(node: ast.expr) -> list[ast.expr]:
    """The expressions inside one; of a call its arguments."""
    if isinstance(node, ast.Call):
        return [*node.args, *(keyword.value for keyword in node.keywords)]
    return [part for part in ast.iter_child_nodes(node) if isinstance(part, ast.expr)]
