"""Evaluates an expression step by step, knowing what it does not know.

The compiled code is for speed; this is for people.  It gives the same values, and where the
description leaves something unstated it gives an ``Unknown`` that names the gap, in three-valued
logic: ``False and unknown`` is false, ``True or unknown`` is true.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator, Mapping
from itertools import islice
from typing import Any

from checker.documents.missing import Missing

from . import functions, nodes, numbers
from .checked import Checked
from .nodes import AMONG, EXACT, TOLERANT, Node, Relation, items_of, ways
from .runtime import RANKS, Budget, distinct
from .showing import NO_ENTRY_IN
from .types import List, Vocabulary
from .unknown import Maybe, Unknown, alone, contains, counted, lacking, merge, quantified


class EvaluationError(Exception):
    """An expression that has no value: a division by zero, a result that is not finite."""


class Tracer:
    """Evaluates expressions over one subject.

    names: values, steps and subjects by name; describe: an element in words, for gaps; budget: how
    many items may still be gone through; items: those that are being looked at, by their slots.
    """

    def __init__(
        self,
        vocabulary: Vocabulary,
        names: Mapping[str, Any],
        describe: Callable[[Any], str],
        budget: Budget | None = None,
    ) -> None:
        self.vocabulary = vocabulary
        self.names = names
        self.describe = describe
        self.budget = Budget() if budget is None else budget
        self.items: dict[int, Any] = {}

    def evaluate(self, checked: Checked) -> Any:
        """The value of an expression, or an ``Unknown``.  Raises EvaluationError."""
        # A step may be asked for in the middle of another expression, whose items have slots too.
        outer, self.items = self.items, {}
        try:
            value = self.visit(checked.node)
        finally:
            self.items = outer
        if isinstance(value, float) and (value != value or value in (_ENDLESS, -_ENDLESS)):
            raise EvaluationError("the result is not a finite number")
        return value

    def visit(self, node: Node) -> Any:
        """The value of a part, or an ``Unknown``."""
        return _WAYS[node.__class__](self, node)

    # -- what stands by itself -------------------------------------------------------------

    def _constant(self, node: nodes.Constant) -> Any:
        return node.value

    def _name(self, node: nodes.Name) -> Any:
        return self.names[node.name]

    def _item(self, node: nodes.Item) -> Any:
        return self.items[node.slot]

    def _field(self, node: nodes.Field) -> Any:
        base = self.visit(node.of)
        if isinstance(base, Unknown):
            return base
        value = getattr(base, node.field)
        if type(value) is Missing:
            return Unknown(value.gaps or value.words_of(self.describe(base)))
        return value

    def _stated(self, node: nodes.Stated) -> Any:
        base = self.visit(node.of)
        if isinstance(base, Unknown):
            return base
        return type(getattr(base, node.field)) is not Missing

    def _listed(self, node: nodes.Listed) -> Any:
        return [self.visit(item) for item in node.items]

    # -- operators -------------------------------------------------------------------------

    def _joined(self, node: nodes.Joined) -> Any:
        left, right = self.visit(node.left), self.visit(node.right)
        if isinstance(left, Unknown) or isinstance(right, Unknown):
            return merge(left, right)
        return [*left, *right]

    def _arithmetic(self, node: nodes.Arithmetic) -> Any:
        left, right = self.visit(node.left), self.visit(node.right)
        if isinstance(left, Unknown) or isinstance(right, Unknown):
            return merge(left, right)
        try:
            return _ARITHMETIC[node.sign](float(left) if node.in_floats else left, right)
        except ZeroDivisionError:
            raise EvaluationError("a division by zero") from None
        except OverflowError:
            raise EvaluationError("a result that is too large") from None

    def _signed(self, node: nodes.Signed) -> Any:
        value = self.visit(node.of)
        return -value if node.minus and not isinstance(value, Unknown) else value

    def _not(self, node: nodes.Not) -> Any:
        value = self.visit(node.of)
        return value if isinstance(value, Unknown) else not value

    def _logic(self, node: nodes.Logic) -> Any:
        unsure = []
        for part in node.parts:
            value = self.visit(part)
            if isinstance(value, Unknown):
                unsure.append(value)
            elif bool(value) is node.either:
                return node.either
        return merge(*unsure) if unsure else not node.either

    def _choice(self, node: nodes.Choice) -> Any:
        test = self.visit(node.test)
        if isinstance(test, Unknown):
            a, b = self.visit(node.then), self.visit(node.otherwise)
            same = not isinstance(a, Unknown) and not isinstance(b, Unknown) and a == b
            return a if same else merge(test)
        return self.visit(node.then if test else node.otherwise)

    def _comparison(self, node: nodes.Comparison) -> Any:
        unsure = []
        for place, relation in enumerate(node.relations):
            left, right = (self.visit(part) for part in node.operands[place : place + 2])
            value = _related(relation, left, right)
            if isinstance(value, Unknown):
                unsure.append(value)
            elif not value:
                return False
        return merge(*unsure) if unsure else True

    # -- functions and look-ups ------------------------------------------------------------

    def _call(self, node: nodes.Call) -> Any:
        name = node.function
        through = items_of(node.arguments[0])
        if name in _AS_FAR_AS_NEEDED and through is not None:
            return self._going_through(name, through)
        values = [self.visit(argument) for argument in node.arguments]
        if name in ("any", "all"):
            return quantified(values[0], name == "all")
        if name == "count" and isinstance(values[0], (list, tuple)):
            return counted(values[0])
        if name == "first" and isinstance(values[0], (list, tuple)) and values[0]:
            # What comes after the first item does not matter.
            values = [values[0][:1]]
        return _function(name, values)

    def _going_through(self, name: str, node: nodes.Comprehension) -> Any:
        """A function that stops where it is decided, or that only counts.

        Items after that are not looked at, as the compiled code does not: a calculation on one of
        them may have no result.
        """
        items = self._generate(node, 0, (), valued=name != "count")
        try:
            if name in ("any", "all"):
                return quantified(items, name == "all")
            if name == "first":
                return _function(name, [list(islice(items, 1))])
            return counted(list(items))
        except _SourceUnknown as unknown:
            return unknown.why

    def _extreme(self, node: nodes.Extreme) -> Any:
        flat: list[Any] = []
        values = [self.visit(part) for part in node.parts]
        for part, value in zip(node.parts, values, strict=True):
            if isinstance(value, Unknown):
                return value
            flat.extend(value if isinstance(part.kind, List) else [value])
        unsure = lacking(flat)
        if unsure is not None:
            return unsure
        call: Any = max if node.largest else min
        if not flat:
            return Unknown((f"there is nothing to take the {call.__name__} of",))
        return call(flat, key=RANKS[node.rank].__getitem__) if node.rank else call(flat)

    def _lookup(self, node: nodes.Lookup) -> Any:
        table = self.vocabulary.tables[node.table]
        given = {name: self.visit(value) for name, value in node.keys}
        unsure = lacking(given.values())
        if unsure is not None:
            return unsure
        names = node.names
        get = table.getter(node.column) if node.column else table.rows_getter(names)
        try:
            return get(*[given[name] for name in names])
        except LookupError:
            return Unknown((f"{NO_ENTRY_IN} {table.no_entry(given)}",))

    # -- going through collections ---------------------------------------------------------

    def _comprehension(self, node: nodes.Comprehension) -> Any:
        try:
            items = list(self._generate(node, 0, ()))
        except _SourceUnknown as unknown:
            return unknown.why
        if node.distinct:
            unsure = lacking(items)
            return unsure if unsure is not None else distinct(items)
        return items

    def _generate(
        self, node: nodes.Comprehension, place: int, unsure: tuple[str, ...], *, valued: bool = True
    ) -> Iterator[Any]:
        """The items of a comprehension, one after the other; what each is only where ``valued``.

        Raises _SourceUnknown where the first collection is unknown.
        """
        level = node.levels[place]
        innermost = place == len(node.levels) - 1
        source = self.visit(level.source)
        if isinstance(source, Unknown):
            if place == 0:
                raise _SourceUnknown(source)
            # What the other outer items hold may decide already.
            yield Maybe(source, (*unsure, *source.gaps))
            return
        last: Any = node  # no item is this
        kept: list[Any] = []
        for item in source:
            if node.counted and innermost:
                self._spend()
            if item is last:
                # The same wire again, as often as its count says: it gives the same again.
                for made in kept:
                    if node.counted and not innermost:
                        self._spend()
                    yield made
                continue
            last, kept = item, []
            self.items[level.slot] = alone(item)
            gaps = (*unsure, *item.gaps) if isinstance(item, Maybe) else unsure
            tests = self._conditions(level.conditions)
            if tests is None:
                continue
            gaps = (*gaps, *tests)
            if innermost:
                value = self.visit(node.item) if valued else None
                kept.append(Maybe(value, gaps) if gaps else value)
                yield kept[0]
                continue
            for made in self._generate(node, place + 1, gaps, valued=valued):
                kept.append(made)
                yield made

    def _conditions(self, conditions: tuple[Node, ...]) -> tuple[str, ...] | None:
        """What is unknown of conditions that may all be met; None where one is not."""
        gaps: tuple[str, ...] = ()
        for condition in conditions:
            test = self.visit(condition)
            if isinstance(test, Unknown):
                gaps = (*gaps, *test.gaps)
            elif not test:
                return None
        return gaps

    def _spend(self) -> None:
        try:
            self.budget.spend()
        except OverflowError as error:
            raise EvaluationError(str(error)) from None


class _SourceUnknown(Exception):  # noqa: N818 - nothing went wrong: a collection is not known
    """Ends going through a collection that is itself unknown; ``why`` says what lacks."""

    def __init__(self, why: Unknown) -> None:
        super().__init__()
        self.why = why


def _function(name: str, values: list[Any]) -> Any:
    unsure = lacking(values)
    if unsure is not None:
        return unsure
    try:
        return functions.FUNCTIONS[name].call(*values)
    except LookupError as error:
        return Unknown((str(error),))
    except (ValueError, OverflowError) as error:
        raise EvaluationError(str(error)) from None


def _related(relation: Relation, left: Any, right: Any) -> Any:
    """How one value stands to another, in three-valued logic."""
    sign, mode = relation.sign, relation.mode
    if mode == AMONG:
        found = contains(left, right)
        return found if isinstance(found, Unknown) or sign == "in" else not found
    if isinstance(left, Unknown) or isinstance(right, Unknown):
        return merge(left, right)
    if mode == TOLERANT:
        return numbers.COMPARED[sign](left, right)
    if mode != EXACT:
        left, right = RANKS[mode][left], RANKS[mode][right]
    return bool(_EXACT[sign](left, right))


_ENDLESS = float("inf")
_AS_FAR_AS_NEEDED = ("any", "all", "first", "count")
_ARITHMETIC: dict[str, Callable[[Any, Any], Any]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    "**": lambda left, _: float(left) ** 2,
}
_EXACT: dict[str, Callable[[Any, Any], Any]] = {
    "==": operator.eq,
    "!=": operator.ne,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
}
_WAYS = ways(Tracer)

__all__ = ["EvaluationError", "Maybe", "Tracer", "Unknown", "alone", "merge"]
