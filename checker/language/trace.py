"""Evaluates a checked expression step by step, knowing what it does not know.

The compiled code is for speed; this is for people.  It gives the same values, and where the
description leaves something unstated it gives an ``Unknown`` that names the gap, in three-valued
logic: ``False and unknown`` is false, ``True or unknown`` is true.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from typing import Any

from checker.documents.missing import Missing, MissingData, gap_in_words
from checker.quantities.designations import TRADE_RANK, WIRE_RANK

from . import functions, numbers, runtime
from .checked import Checked
from .runtime import distinct
from .showing import NO_ENTRY_IN
from .types import Designation, List, Number, Type, Vocabulary


class EvaluationError(Exception):
    """An expression that has no value: a division by zero, a result that is not finite."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """A value that the description does not determine; ``gaps`` names what is lacking."""

    gaps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Maybe:
    """An item of a collection of which it is unknown whether it belongs."""

    value: Any
    gaps: tuple[str, ...]


def merge(*values: Any) -> Unknown:
    """One ``Unknown`` that names every gap of those given."""
    gaps: dict[str, None] = {}
    for value in values:
        if isinstance(value, (Unknown, Maybe)):
            gaps.update(dict.fromkeys(value.gaps))
    return Unknown(tuple(gaps))


class Tracer:
    """Evaluates expressions over one subject.

    names: values, steps and subjects by name; describe: an element in words, for gaps.
    """

    def __init__(
        self, vocabulary: Vocabulary, names: Mapping[str, Any], describe: Callable[[Any], str]
    ) -> None:
        self.vocabulary = vocabulary
        self.names = names
        self.describe = describe
        self.local: dict[str, Any] = {}
        self.checked: Checked

    def evaluate(self, checked: Checked) -> Any:
        """The value of an expression, or an ``Unknown``.  Raises EvaluationError."""
        self.checked = checked
        value = self.visit(checked.tree)
        if isinstance(value, float) and (value != value or value in (float("inf"), -float("inf"))):
            raise EvaluationError("the result is not a finite number")
        return value

    def visit(self, node: ast.expr) -> Any:
        method = getattr(self, "_" + type(node).__name__)
        return method(node)

    def kind(self, node: ast.AST) -> Type:
        return self.checked.kinds[node]

    def _Constant(self, node: ast.Constant) -> Any:  # noqa: N802
        return self.checked.constants.get(node, node.value)

    def _Name(self, node: ast.Name) -> Any:  # noqa: N802
        if node.id in self.local:
            return self.local[node.id]
        return self.names[node.id]

    def _Attribute(self, node: ast.Attribute) -> Any:  # noqa: N802
        base = self.visit(node.value)
        if isinstance(base, Unknown):
            return base
        value = getattr(base, node.attr)
        if type(value) is Missing:
            return Unknown(value.gaps or value.words_of(self.describe(base)))
        return value

    def _Call(self, node: ast.Call) -> Any:  # noqa: N802
        if isinstance(node.func, ast.Attribute):
            return self._lookup(node, node.func)
        assert isinstance(node.func, ast.Name)
        name = node.func.id
        if name == "stated":
            argument = node.args[0]
            assert isinstance(argument, ast.Attribute)
            base = self.visit(argument.value)
            if isinstance(base, Unknown):
                return base
            return type(getattr(base, argument.attr)) is not Missing
        if name in _AS_FAR_AS_NEEDED and isinstance(node.args[0], _COMPREHENSIONS):
            return self._going_through(name, node.args[0])
        values = [self.visit(argument) for argument in node.args]
        if name in ("any", "all"):
            return _quantified(values[0], name == "all")
        if name in ("max", "min"):
            return self._extreme(name, node.args, values)
        if name == "count" and isinstance(values[0], (list, tuple)):
            return _counted(values[0])
        if name == "first" and isinstance(values[0], (list, tuple)) and values[0]:
            # What comes after the first item does not matter.
            values = [values[0][:1]]
        return self._function(name, values)

    def _going_through(self, name: str, node: Any) -> Any:
        """A function that stops where it is decided, or that only counts.

        Items after that are not looked at, as the compiled code does not: a calculation on one of
        them may have no result.
        """
        before = self.local
        items = self._generate(node, 0, (), valued=name != "count")
        try:
            if name in ("any", "all"):
                return _quantified(items, name == "all")
            if name == "first":
                return self._function(name, [list(islice(items, 1))])
            return _counted(list(items))
        except _SourceUnknown as unknown:
            return unknown.why
        finally:
            self.local = before

    def _function(self, name: str, values: list[Any]) -> Any:
        lacking = _lacking(values)
        if lacking is not None:
            return lacking
        try:
            return functions.FUNCTIONS[name].call(*values)
        except LookupError as error:
            return Unknown((str(error),))
        except (ValueError, OverflowError) as error:
            raise EvaluationError(str(error)) from None

    def _extreme(self, name: str, nodes: list[ast.expr], values: list[Any]) -> Any:
        flat: list[Any] = []
        rank: Mapping[str, Any] | None = None
        for node, value in zip(nodes, values, strict=True):
            if isinstance(value, Unknown):
                return value
            kind = self.kind(node)
            item = kind.item if isinstance(kind, List) else kind
            if isinstance(item, Designation):
                rank = WIRE_RANK if item.name == "wire_size" else TRADE_RANK
            flat.extend(value if isinstance(kind, List) else [value])
        lacking = _lacking([flat])
        if lacking is not None:
            return lacking
        if not flat:
            return Unknown((f"there is nothing to take the {name} of",))
        call = max if name == "max" else min
        return call(flat, key=rank.__getitem__) if rank else call(flat)

    def _lookup(self, node: ast.Call, func: ast.Attribute) -> Any:
        assert isinstance(func.value, ast.Name)
        table = self.vocabulary.tables[func.value.id]
        given = {k.arg or "": self.visit(k.value) for k in node.keywords}
        lacking = _lacking(list(given.values()))
        if lacking is not None:
            return lacking
        order = [key for key in table.key_types if key in given]
        try:
            if func.attr == "rows":
                return table.rows_getter(tuple(order))(*[given[key] for key in order])
            return table.getter(func.attr)(*[given[key] for key in order])
        except LookupError:
            return Unknown((f"{NO_ENTRY_IN} {table.no_entry(given)}",))

    def _BinOp(self, node: ast.BinOp) -> Any:  # noqa: N802
        left, right = self.visit(node.left), self.visit(node.right)
        if isinstance(left, Unknown) or isinstance(right, Unknown):
            return merge(left, right)
        if isinstance(self.kind(node), List):
            return [*left, *right]
        try:
            if isinstance(node.op, ast.Add):
                return left + right
            if isinstance(node.op, ast.Sub):
                return left - right
            if isinstance(node.op, ast.Mult):
                kind = self.kind(node)
                whole = isinstance(kind, Number) and kind.whole
                return float(left) * right if whole else left * right
            if isinstance(node.op, ast.Pow):
                return float(left) ** 2
            return left / right
        except ZeroDivisionError:
            raise EvaluationError("a division by zero") from None
        except OverflowError:
            raise EvaluationError("a result that is too large") from None

    def _UnaryOp(self, node: ast.UnaryOp) -> Any:  # noqa: N802
        value = self.visit(node.operand)
        if isinstance(value, Unknown):
            return value
        if isinstance(node.op, ast.Not):
            return not value
        return -value if isinstance(node.op, ast.USub) else value

    def _BoolOp(self, node: ast.BoolOp) -> Any:  # noqa: N802
        stop = isinstance(node.op, ast.Or)
        unsure = []
        for operand in node.values:
            value = self.visit(operand)
            if isinstance(value, Unknown):
                unsure.append(value)
            elif bool(value) is stop:
                return stop
        return merge(*unsure) if unsure else not stop

    def _IfExp(self, node: ast.IfExp) -> Any:  # noqa: N802
        test = self.visit(node.test)
        if isinstance(test, Unknown):
            a, b = self.visit(node.body), self.visit(node.orelse)
            same = not isinstance(a, Unknown) and not isinstance(b, Unknown) and a == b
            return a if same else merge(test)
        return self.visit(node.body if test else node.orelse)

    def _List(self, node: ast.List | ast.Tuple) -> Any:  # noqa: N802
        return [self.visit(item) for item in node.elts]

    _Tuple = _List

    def _Compare(self, node: ast.Compare) -> Any:  # noqa: N802
        operands = [node.left, *node.comparators]
        unsure = []
        for index, op in enumerate(node.ops):
            value = self._pair(operands[index], operands[index + 1], op)
            if isinstance(value, Unknown):
                unsure.append(value)
            elif not value:
                return False
        return merge(*unsure) if unsure else True

    def _pair(self, a: ast.expr, b: ast.expr, op: ast.cmpop) -> Any:
        left, right = self.visit(a), self.visit(b)
        if isinstance(op, (ast.In, ast.NotIn)):
            found = _contains(left, right)
            if isinstance(found, Unknown):
                return found
            return found if isinstance(op, ast.In) else not found
        if isinstance(left, Unknown) or isinstance(right, Unknown):
            return merge(left, right)
        return _compare(left, right, op, self.kind(a), self.kind(b))

    def _comprehension(self, node: Any) -> Any:
        before = self.local
        try:
            items = list(self._generate(node, 0, ()))
        except _SourceUnknown as unknown:
            return unknown.why
        finally:
            self.local = before
        if isinstance(node, ast.SetComp):
            lacking = _lacking([items])
            return lacking if lacking is not None else distinct(items)
        return items

    _GeneratorExp = _ListComp = _SetComp = _comprehension

    def _generate(
        self, node: Any, level: int, unsure: tuple[str, ...], *, valued: bool = True
    ) -> Iterator[Any]:
        """The items of a comprehension, one after the other; what each is only where ``valued``.

        Raises _SourceUnknown where the first collection is unknown.  While an item is out,
        ``local`` is that item's; whoever asked puts back what was before.
        """
        generator = node.generators[level]
        counted = node in self.checked.deep and level == len(node.generators) - 1
        source = self.visit(generator.iter)
        if isinstance(source, Unknown):
            if level == 0:
                raise _SourceUnknown(source)
            # What the other outer items hold may decide already.
            yield Maybe(source, (*unsure, *source.gaps))
            return
        outer = self.local
        innermost = level == len(node.generators) - 1
        last: Any = node  # no item is this
        kept: list[Any] = []
        for item in source:
            if counted:
                _spend()
            if item is last:
                # The same wire again, as often as its count says: it gives the same again.
                for made in kept:
                    if not innermost and node in self.checked.deep:
                        _spend()
                    yield made
                continue
            gaps = (*unsure, *item.gaps) if isinstance(item, Maybe) else unsure
            # A name given again inside means the outer item once more in the next round.
            self.local = {**outer, generator.target.id: alone(item)}
            keep = True
            for condition in generator.ifs:
                test = self.visit(condition)
                if isinstance(test, Unknown):
                    gaps = (*gaps, *test.gaps)
                elif not test:
                    keep = False
                    break
            last, kept = item, []
            if not keep:
                continue
            if innermost:
                value = self.visit(node.elt) if valued else None
                kept.append(Maybe(value, gaps) if gaps else value)
                yield kept[0]
                continue
            for made in self._generate(node, level + 1, gaps, valued=valued):
                kept.append(made)
                yield made


class _SourceUnknown(Exception):  # noqa: N818 - nothing went wrong: a collection is not known
    """Ends going through a collection that is itself unknown; ``why`` says what lacks."""

    def __init__(self, why: Unknown) -> None:
        super().__init__()
        self.why = why


_COMPREHENSIONS = (ast.GeneratorExp, ast.ListComp)
_AS_FAR_AS_NEEDED = ("any", "all", "first", "count")


def _spend() -> None:
    try:
        runtime.spend()
    except OverflowError as error:
        raise EvaluationError(str(error)) from None


def alone(item: Any) -> Any:
    """An item of a collection by itself: whatever is unknown of its belonging, or of its value."""
    value = item.value if isinstance(item, Maybe) else item
    if type(value) is Missing:
        return Unknown(value.gaps or (gap_in_words(f"`{value.field}`", value.detail),))
    return value


def _lacking(values: list[Any]) -> Unknown | None:
    """What is unknown among values and in collections among them."""
    unsure: list[Any] = []
    for value in values:
        if isinstance(value, (Unknown, Maybe)):
            unsure.append(value)
        elif type(value) is Missing:
            unsure.append(alone(value))
        elif isinstance(value, (list, tuple)):
            inner = _lacking(list(value))
            if inner is not None:
                unsure.append(inner)
    return merge(*unsure) if unsure else None


def _counted(items: Sequence[Any]) -> Any:
    """How many there are, whatever they are; unknown where it is unknown of one that it belongs."""
    unsure = [item for item in items if isinstance(item, Maybe)]
    return merge(*unsure) if unsure else len(items)


def _quantified(items: Any, every: bool) -> Any:
    """``all`` and ``any`` in three-valued logic."""
    if isinstance(items, Unknown):
        return items
    unsure = []
    for item in items:
        doubtful = isinstance(item, Maybe)
        value = item.value if doubtful else item
        if isinstance(value, Unknown):
            unsure.append(value)
        elif bool(value) is not every:
            if not doubtful:
                return not every
            unsure.append(merge(item))
    return merge(*unsure) if unsure else every


def _contains(value: Any, items: Any) -> Any:
    if isinstance(items, Unknown):
        return items
    if isinstance(value, Unknown):
        return value if items else False
    unsure = []
    for item in items:
        own = alone(item)
        if isinstance(own, Unknown):
            unsure.append(merge(item, own))
        elif own is value or own == value:
            if not isinstance(item, Maybe):
                return True
            unsure.append(merge(item))
    return merge(*unsure) if unsure else False


def _compare(left: Any, right: Any, op: ast.cmpop, ka: Type, kb: Type) -> bool:
    if isinstance(ka, Designation) and not isinstance(op, (ast.Eq, ast.NotEq)):
        rank = WIRE_RANK if ka.name == "wire_size" else TRADE_RANK
        left, right = rank[left], rank[right]
    elif isinstance(ka, Number) and isinstance(kb, Number) and not (ka.whole and kb.whole):
        return _tolerant(left, right, op)
    try:
        if isinstance(op, ast.Eq):
            return bool(left == right)
        if isinstance(op, ast.NotEq):
            return bool(left != right)
        if isinstance(op, ast.Lt):
            return bool(left < right)
        if isinstance(op, ast.LtE):
            return bool(left <= right)
        if isinstance(op, ast.Gt):
            return bool(left > right)
        return bool(left >= right)
    except MissingData as error:  # pragma: no cover - fields are turned into Unknown above
        raise EvaluationError(str(error)) from None


def _tolerant(left: float, right: float, op: ast.cmpop) -> bool:
    if isinstance(op, ast.Eq):
        return numbers.equal(left, right)
    if isinstance(op, ast.NotEq):
        return not numbers.equal(left, right)
    if isinstance(op, ast.LtE):
        return numbers.at_most(left, right)
    if isinstance(op, ast.GtE):
        return numbers.at_most(right, left)
    if isinstance(op, ast.Lt):
        return numbers.less(left, right)
    return numbers.less(right, left)
