"""Checks an expression completely before it is ever run: names, fields, tables, dimensions.

Every node gets its type.  All that is wrong with an expression is reported at once, each with its
place in the author's text, what was found there and what was expected.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from math import prod

from checker.documents.errors import nearest
from checker.quantities.designations import box_designation, trade_size, wire_size
from checker.quantities.dimension import DIFFERENCE, NONE, TEMPERATURE, Dimension
from checker.quantities.notation import NotationError

from .functions import FUNCTIONS
from .parse import ExpressionError, Trouble, parse, span
from .types import (
    ANYTHING,
    COUNT,
    FLAG,
    Anything,
    Designation,
    Flag,
    List,
    Number,
    Record,
    Text,
    Type,
    Vocabulary,
    joined,
    same_kind,
)

_MAX_NESTED = 4  # collections gone through inside each other
_MAX_FREE = 3  # of those, such as do not come from the item of another
_DEEP = 3  # from here on the items are counted while a rule runs
_MAX_PARTS = 64  # collections joined to one, or items written out

#: Of a name that means nothing where it stands: why, what to write, and the nearest name.
Elsewhere = Callable[[str], "tuple[str, str, str] | None"]

#: What people who know other languages write, and what is meant here.
_OTHER_WORDS = {
    "if": "`a if condition else b`",
    "iif": "`a if condition else b`",
    "len": "count(x for x in … if …)",
    "length": "count(x for x in … if …)",
    "average": "sum(…) / count(…)",
    "avg": "sum(…) / count(…)",
    "mean": "sum(…) / count(…)",
    "round": "floor(a / b) or ceil(a / b)",
    "vlookup": "a look-up in a table: table.column(key=…)",
    "lookup": "a look-up in a table: table.column(key=…)",
    "isblank": "stated(element.field)",
    "exists": "stated(element.field)",
    "and": "`a and b`",
    "or": "`a or b`",
    "not": "`not a`",
}
_FLAG_WORDS = ("true", "false", "yes", "no", "on", "off")
_ABSENT_WORDS = ("none", "null", "nil", "blank", "empty", "missing")
_SIZE = re.compile(r"[0-9]+(?:\s*[-/]\s*[0-9]+)*")


@dataclass(slots=True)
class Checked:
    """An expression that was found sound.

    tree: its syntax tree; kind: the type of its value; kinds: the type of every node;
    constants: texts to be replaced by their canonical designation; uses: the names that it takes
    from its surroundings; tables: (table, column) look-ups ("" for rows);
    fields: (record, field) accesses; deep: comprehensions whose items are counted when they run.
    """

    text: str
    tree: ast.expr
    kind: Type
    kinds: dict[ast.AST, Type]
    constants: dict[ast.AST, str]
    uses: set[str] = field(default_factory=set)
    tables: set[tuple[str, str]] = field(default_factory=set)
    fields: set[tuple[str, str]] = field(default_factory=set)
    deep: set[ast.AST] = field(default_factory=set)


def check(
    text: str,
    names: Mapping[str, Type],
    vocabulary: Vocabulary,
    elsewhere: Elsewhere | None = None,
) -> Checked:
    """Check ``text``; ``names`` are the values, steps and subjects that it may use.

    ``elsewhere`` says of other names why they mean nothing here.  Raises ExpressionError with
    every trouble found.
    """
    tree = parse(text)
    return _Checker(text, dict(names), vocabulary, elsewhere).run(tree)


class _Checker:
    def __init__(
        self,
        text: str,
        names: dict[str, Type],
        vocabulary: Vocabulary,
        elsewhere: Elsewhere | None = None,
    ) -> None:
        self.text = text
        self.flat = "".join(" " if c.isspace() else c for c in text)
        self.names = names
        self.vocabulary = vocabulary
        self.elsewhere = elsewhere
        self.troubles: list[Trouble] = []
        self.local: dict[str, Type] = {}
        self.passes = 0
        self.free = 0
        self.parts = 1
        self.wide = 0
        self.done = Checked(text, ast.Constant(0), ANYTHING, {}, {})

    def run(self, tree: ast.expr) -> Checked:
        kind = self.infer(tree)
        if self.troubles:
            raise ExpressionError(*sorted(self.troubles, key=lambda t: t.offset))
        self.done.tree, self.done.kind = tree, kind
        return self.done

    # -- reporting -------------------------------------------------------------------------

    def source(self, node: ast.AST) -> str:
        offset, length = span(node, self.flat)
        return self.text[offset : offset + length]

    def trouble(
        self, node: ast.AST, message: str, found: str = "", expected: str = "", suggestion: str = ""
    ) -> Anything:
        offset, length = span(node, self.flat)
        self.troubles.append(Trouble(offset, length, message, found, expected, suggestion))
        return ANYTHING

    def trouble_at_end(
        self, node: ast.AST, word: str, message: str, expected: str = "", suggestion: str = ""
    ) -> Anything:
        """A trouble with the last word of a node, such as a field's name."""
        offset, length = span(node, self.flat)
        at = offset + max(0, length - len(word))
        self.troubles.append(
            Trouble(at, min(len(word), length), message, word, expected, suggestion)
        )
        return ANYTHING

    def unlike(
        self, node: ast.AST, a: ast.expr, b: ast.expr, ka: Type, kb: Type, verb: str
    ) -> Type:
        return self.trouble(
            node,
            f"cannot {verb} {a_kind(ka)} and {a_kind(kb)}",
            f"`{_short(self.source(a))}` is {a_kind(ka)}; "
            f"`{_short(self.source(b))}` is {a_kind(kb)}",
            "two values of the same kind",
        )

    # -- inference -------------------------------------------------------------------------

    def infer(self, node: ast.expr) -> Type:
        method = getattr(self, "_" + type(node).__name__)
        kind: Type = method(node)
        self.done.kinds[node] = kind
        return kind

    def _Constant(self, node: ast.Constant) -> Type:  # noqa: N802
        value = node.value
        if isinstance(value, bool):
            return FLAG
        if isinstance(value, (int, float)) and not isinstance(value, complex):
            if type(value) is int and value in (0, 1, 2):
                return COUNT
            return self.trouble(
                node,
                "a number without a name",
                str(value)[:40],
                "a name: declare it under `values:` with its unit and citation (only 0, 1 and 2 "
                "may stand in an expression)",
            )
        if isinstance(value, str):
            return Text((value,))
        if value is None:
            message, expected, _ = self._unknown("None", [])
            return self.trouble(node, message, "None", expected)
        return self.trouble(node, "this value is not part of the language", repr(value)[:40])

    def _Name(self, node: ast.Name) -> Type:  # noqa: N802
        if node.id in self.local:
            return self.local[node.id]
        if node.id in self.names:
            self.done.uses.add(node.id)
            return self.names[node.id]
        known = [*self.local, *self.names]
        if node.id in self.vocabulary.tables:
            columns = ", ".join(self.vocabulary.tables[node.id].column_types)
            return self.trouble(
                node,
                f"`{node.id}` is a table; look something up in it",
                node.id,
                f"`{node.id}.column(key=…)`, with one of its columns {columns}, or "
                f"`{node.id}.rows()`",
            )
        if node.id in FUNCTIONS:
            return self.trouble(
                node, f"`{node.id}` is a function", node.id, FUNCTIONS[node.id].usage
            )
        message, expected, close = self._unknown(node.id, known)
        return self.trouble(node, message, node.id, expected, close)

    def _unknown(self, name: str, known: list[str]) -> tuple[str, str, str]:
        """Why a name means nothing, what would, and the nearest name that does."""
        told = self.elsewhere(name) if self.elsewhere else None
        if told is not None:
            return told
        low = name.casefold()
        close = nearest(name, [*known, *self.vocabulary.tables, *FUNCTIONS]) or ""
        if low in _FLAG_WORDS:
            plain = "the field alone, or `not` before it, as in `not w.bare`"
            return f"nothing is compared with `{name}`", plain, ""
        if low in _ABSENT_WORDS:
            return f"`{name}` means nothing here", "stated(element.field) or not stated(…)", ""
        if name in self._options():
            quoted = f"'{name}'"
            return f"`{name}` is a text, and texts stand in quotes", quoted, quoted
        return f"nothing here is called `{name}`", "one of " + _names(known), close

    def _options(self) -> set[str]:
        """Every text that some field may be."""
        return {
            option
            for fields in self.vocabulary.records.values()
            for kind in fields.values()
            if isinstance(kind, Text)
            for option in kind.options
        }

    def _Attribute(self, node: ast.Attribute) -> Type:  # noqa: N802
        if self._table_of(node) is not None:
            return self._Name(node.value)  # type: ignore[arg-type]
        base = self.infer(node.value)
        if isinstance(base, Anything):
            return base
        if not isinstance(base, Record):
            hint = "one item at a time, as in [x.id for x in …]" if isinstance(base, List) else ""
            return self.trouble(
                node,
                f"{a_kind(base)} has no fields",
                f"`.{node.attr}` of `{_short(self.source(node.value))}`",
                hint or "a field of an element",
            )
        fields = self.vocabulary.records[base.name]
        kind = fields.get(node.attr)
        if kind is None:
            close = nearest(node.attr, fields) or ""
            return self.trouble_at_end(
                node,
                node.attr,
                f"{a_kind(base)} has no field `{node.attr}`",
                "one of " + _names(fields, close),
                close,
            )
        self.done.fields.add((base.name, node.attr))
        return kind

    def _table_of(self, node: ast.expr) -> str | None:
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            name = node.value.id
            known = name in self.local or name in self.names
            if not known and name in self.vocabulary.tables:
                return name
        return None

    def _Call(self, node: ast.Call) -> Type:  # noqa: N802
        table = self._table_of(node.func)
        if table is not None:
            assert isinstance(node.func, ast.Attribute)
            return self._lookup(node, table, node.func.attr)
        if not isinstance(node.func, ast.Name):
            if isinstance(node.func, ast.Attribute) and isinstance(node.func.value, ast.Name):
                name = node.func.value.id
                if name not in self.local and name not in self.names:
                    close = nearest(name, self.vocabulary.tables)
                    return self.trouble(
                        node.func.value,
                        f"there is no table `{name}`",
                        name,
                        "one of " + _names(self.vocabulary.tables, close or ""),
                        close or "",
                    )
            return self.trouble(
                node.func,
                "only functions of the language and tables can be called",
                _short(self.source(node.func)),
                "one of " + _names(FUNCTIONS),
            )
        function = FUNCTIONS.get(node.func.id)
        if function is None:
            name = node.func.id
            if name in self.vocabulary.tables:
                return self._Name(node.func)
            meant = _OTHER_WORDS.get(name.casefold(), "")
            return self.trouble(
                node.func,
                f"there is no function `{name}`",
                name,
                meant or "one of " + _names(FUNCTIONS),
                "" if meant else nearest(name, [*FUNCTIONS, *self.vocabulary.tables]) or "",
            )
        for keyword in node.keywords:
            self.trouble(
                keyword.value, f"`{function.name}` takes no named values", keyword.arg or ""
            )
        low, high = function.arguments
        if not low <= len(node.args) <= high:
            return self.trouble(
                node, f"`{function.name}` is written {function.usage}", f"{len(node.args)} values"
            )
        kinds = [self.infer(argument) for argument in node.args]
        if function.name == "stated" and not isinstance(node.args[0], ast.Attribute):
            return self.trouble(
                node.args[0],
                "`stated` asks for a field",
                _short(self.source(node.args[0])),
                "a field, such as stated(box.volume)",
            )
        kinds = self._zeroes(node.args, kinds) if function.name in ("max", "min") else kinds
        for argument, kind in zip(node.args, kinds, strict=True):
            if isinstance(kind, List) and not isinstance(argument, _COMPREHENSIONS):
                self._use(argument, kind)
        result = function.result(kinds)
        if isinstance(result, str):
            if any(isinstance(kind, Anything) for kind in kinds):
                return ANYTHING
            return self.trouble(
                node.args[0],
                f"`{function.name}` takes {result}",
                f"`{_short(self.source(node.args[0]))}` is {a_kind(kinds[0])}",
                function.usage,
            )
        return result

    def _zeroes(self, nodes: list[ast.expr], kinds: list[Type]) -> list[Type]:
        """A literal 0 takes the kind of its neighbours."""
        other = next(
            (
                k.item if isinstance(k, List) else k
                for n, k in zip(nodes, kinds, strict=True)
                if not _is_zero(n)
            ),
            None,
        )
        if not isinstance(other, Number):
            return kinds
        return [
            Number(other.dimension, other.whole) if _is_zero(n) else k
            for n, k in zip(nodes, kinds, strict=True)
        ]

    def _lookup(self, node: ast.Call, name: str, column: str) -> Type:
        table = self.vocabulary.tables[name]
        keys = table.key_types
        given = {}
        misspelt = False
        for argument in node.args:
            self.infer(argument)
            self.trouble(
                argument,
                f"the keys of `{name}` are given by name",
                _short(self.source(argument)),
                f"{name}.{column}(" + ", ".join(f"{key}=…" for key in keys) + ")",
            )
        for keyword in node.keywords:
            kind = self.infer(keyword.value)
            if keyword.arg is None or keyword.arg not in keys:
                wrong = keyword.arg or "**"
                offset, _ = span(keyword, self.flat)
                self.troubles.append(
                    Trouble(
                        offset,
                        len(wrong),
                        f"table `{name}` has no key `{wrong}`",
                        wrong,
                        "one of " + _names(keys),
                        nearest(wrong, [key for key in keys if key not in given])
                        or nearest(wrong, keys)
                        or "",
                    )
                )
                misspelt = True
                continue
            given[keyword.arg] = kind
            self._fits(keyword.value, kind, keys[keyword.arg], f"key `{keyword.arg}` of `{name}`")
        if column == "rows":
            self.done.tables.add((name, ""))
            return List(Record("row:" + name))
        if column not in table.column_types:
            return self.trouble_at_end(
                node.func,
                column,
                f"table `{name}` has no column `{column}`",
                "one of " + _names(table.column_types) + ", or rows",
                nearest(column, table.column_types) or "",
            )
        lacking = [key for key in keys if key not in given]
        if lacking and not node.args and not misspelt:
            self.trouble(
                node,
                f"the look-up in `{name}` lacks " + ", ".join(f"`{key}`" for key in lacking),
                _short(self.source(node)),
                f"{name}.{column}(" + ", ".join(f"{key}=…" for key in keys) + ")",
            )
        self.done.tables.add((name, column))
        return table.column_types[column]

    def _fits(self, node: ast.expr, kind: Type, wanted: Type, what: str) -> None:
        if isinstance(wanted, Designation) and self._designate(node, kind, wanted):
            return
        if not same_kind(kind, wanted):
            self.trouble(
                node,
                f"{what} takes {a_kind(wanted)}",
                f"`{_short(self.source(node))}` is {a_kind(kind)}",
                a_kind(wanted),
            )

    def _designate(self, node: ast.expr, kind: Type, wanted: Designation) -> bool:
        """A quoted wire or trade size where one is compared; True when the text was taken."""
        if not (isinstance(node, ast.Constant) and isinstance(node.value, str)):
            return False
        read = {"wire_size": wire_size, "trade_size": trade_size, "box_size": box_designation}[
            wanted.name
        ]
        try:
            self.done.constants[node] = read(node.value)
        except NotationError as error:
            self.trouble(
                node,
                f"this is not {a_kind(wanted)}",
                node.value,
                error.expected,
                error.suggestion or "",
            )
        self.done.kinds[node] = wanted
        return True

    def _BinOp(self, node: ast.BinOp) -> Type:  # noqa: N802
        left, right = self.infer(node.left), self.infer(node.right)
        if isinstance(left, Anything) or isinstance(right, Anything):
            return ANYTHING
        adding = isinstance(node.op, (ast.Add, ast.Sub))
        if isinstance(left, List) and isinstance(right, List) and isinstance(node.op, ast.Add):
            if same_kind(left, right):
                together = joined(left, right)
                assert isinstance(together, List)
                return self._parts(node, replace(together, parts=left.parts + right.parts))
            return self.unlike(node, node.left, node.right, left, right, "join")
        if not isinstance(left, Number) or not isinstance(right, Number):
            return self.unlike(
                node, node.left, node.right, left, right, "add" if adding else "calculate with"
            )
        if adding:
            return self._sum(node, left, right)
        if TEMPERATURE in (left.dimension, right.dimension):
            return self.trouble(
                node,
                "a temperature cannot be multiplied or divided",
                _short(self.source(node)),
                "a difference of two temperatures",
            )
        if isinstance(node.op, ast.Pow):
            return Number(left.dimension.power(2), left.whole)
        if isinstance(node.op, ast.Mult):
            return Number(left.dimension.times(right.dimension), left.whole and right.whole)
        return Number(left.dimension.over(right.dimension))

    def _parts(self, node: ast.AST, kind: List) -> List:
        """A joined collection, if it is not joined of too many."""
        if kind.parts > _MAX_PARTS:
            self.trouble(
                node, "too many collections are joined", "", f"{_MAX_PARTS} at most, in all steps"
            )
        return kind

    def _sum(self, node: ast.BinOp, left: Number, right: Number) -> Type:
        a, b = left.dimension, right.dimension
        minus = isinstance(node.op, ast.Sub)
        if a == b == TEMPERATURE:
            if minus:
                return Number(DIFFERENCE)
            return self.trouble(
                node, "two temperatures cannot be added", _short(self.source(node)), "a difference"
            )
        if a == TEMPERATURE and b == DIFFERENCE:
            return Number(TEMPERATURE)
        if _is_zero(node.right) or _is_zero(node.left):
            return left if _is_zero(node.right) else right
        if a != b:
            return self.unlike(
                node, node.left, node.right, left, right, "subtract" if minus else "add"
            )
        return Number(a, left.whole and right.whole)

    def _UnaryOp(self, node: ast.UnaryOp) -> Type:  # noqa: N802
        kind = self.infer(node.operand)
        if isinstance(kind, Anything):
            return kind
        if isinstance(node.op, ast.Not):
            if not isinstance(kind, Flag):
                return self._not_a_flag(node.operand, kind, "not")
            return FLAG
        if not isinstance(kind, Number):
            return self.trouble(
                node, f"{a_kind(kind)} has no sign", _short(self.source(node)), "a number"
            )
        return kind

    def _not_a_flag(self, node: ast.expr, kind: Type, word: str) -> Type:
        hint = "a comparison"
        if isinstance(kind, Number):
            hint = f"a comparison, such as {_short(self.source(node))} > 0"
        elif isinstance(kind, List):
            hint = f"a comparison, such as count({_short(self.source(node))}) > 0"
        return self.trouble(
            node,
            f"`{word}` takes yes-or-no values",
            f"`{_short(self.source(node))}` is {a_kind(kind)}",
            hint,
        )

    def _BoolOp(self, node: ast.BoolOp) -> Type:  # noqa: N802
        word = "and" if isinstance(node.op, ast.And) else "or"
        for operand in node.values:
            kind = self.infer(operand)
            if not isinstance(kind, (Flag, Anything)):
                self._not_a_flag(operand, kind, word)
        return FLAG

    def _IfExp(self, node: ast.IfExp) -> Type:  # noqa: N802
        test = self.infer(node.test)
        if not isinstance(test, (Flag, Anything)):
            self._not_a_flag(node.test, test, "if")
        a, b = self.infer(node.body), self.infer(node.orelse)
        for one, other in ((node.body, b), (node.orelse, a)):
            if isinstance(other, Designation):
                self._designate(one, self.done.kinds[one], other)
        a, b = self.done.kinds[node.body], self.done.kinds[node.orelse]
        if _is_zero(node.body) or _is_zero(node.orelse):
            return b if _is_zero(node.body) else a
        if not same_kind(a, b):
            return self.unlike(node, node.body, node.orelse, a, b, "choose between")
        return joined(a, b)

    def _Compare(self, node: ast.Compare) -> Type:  # noqa: N802
        operands = [node.left, *node.comparators]
        bare = [o for o in operands if _SIZE.fullmatch(self.source(o))]
        for operand in operands:
            if operand not in bare:
                self.infer(operand)
        known = [self.done.kinds[o] for o in operands if o not in bare]
        size = next((k for k in known if isinstance(k, Designation)), None)
        for operand in bare:
            if size is None:
                self.infer(operand)
                continue
            text = f"'{self.source(operand)}'"
            self.done.kinds[operand] = self.trouble(
                operand, f"{a_kind(size)} stands in quotes", self.source(operand), text, text
            )
        for index, op in enumerate(node.ops):
            self._pair(node, operands[index], operands[index + 1], op)
        return FLAG

    def _pair(self, node: ast.Compare, a: ast.expr, b: ast.expr, op: ast.cmpop) -> None:
        ka, kb = self.done.kinds[a], self.done.kinds[b]
        if isinstance(ka, Anything) or isinstance(kb, Anything):
            return
        if isinstance(op, (ast.In, ast.NotIn)):
            if not isinstance(kb, List):
                self.trouble(
                    b, "`in` looks into a collection", f"`{_short(self.source(b))}` is {a_kind(kb)}"
                )
                return
            if not isinstance(b, (ast.List, ast.Tuple, *_COMPREHENSIONS)):
                self._use(b, kb)
            if isinstance(kb.item, Designation) and self._designate(a, ka, kb.item):
                return
            if isinstance(ka, Designation) and isinstance(b, (ast.List, ast.Tuple)):
                for item in b.elts:
                    self._designate(item, self.done.kinds[item], ka)
                return
            if not same_kind(ka, kb.item):
                self.unlike(node, a, b, ka, kb, "look for one in the other:")
            elif isinstance(b, (ast.List, ast.Tuple)):
                for item in b.elts:
                    self._option(item, self.done.kinds[item], ka, a)
            else:
                self._option(a, ka, kb.item, b)
            return
        if isinstance(kb, Designation) and self._designate(a, ka, kb):
            ka = kb
        if isinstance(ka, Designation) and self._designate(b, kb, ka):
            kb = ka
        zero = _is_zero(a) or _is_zero(b)
        if zero and isinstance(ka, Number) and isinstance(kb, Number):
            return
        if not same_kind(ka, kb):
            self.unlike(node, a, b, ka, kb, "compare")
            return
        if isinstance(ka, List):
            self.trouble(
                node,
                "two lists cannot be compared",
                _short(self.source(node)),
                "a comparison of items, such as all(x in … for x in …)",
            )
        elif isinstance(op, (ast.Eq, ast.NotEq)):
            self._option(a, ka, kb, b)
            self._option(b, kb, ka, a)
        elif not isinstance(ka, (Number, Designation)):
            self.trouble(
                node, f"{a_kind(ka)} has no order", _short(self.source(node)), "`==`, `!=` or `in`"
            )

    def _option(self, node: ast.expr, kind: Type, other: Type, beside: ast.expr) -> None:
        """A quoted text must be one that the other side can be."""
        if not (isinstance(node, ast.Constant) and isinstance(node.value, str)):
            return
        if isinstance(other, Text) and other.options and node.value not in other.options:
            self.trouble(
                node,
                f"`{_short(self.source(beside))}` is never '{node.value}'",
                node.value,
                "one of " + _names(other.options),
                nearest(node.value, other.options) or "",
            )

    def _List(self, node: ast.List | ast.Tuple) -> Type:  # noqa: N802
        if not node.elts:
            return self.trouble(node, "the list is empty", "[]", "one item at least")
        kinds = [self.infer(item) for item in node.elts]
        result = kinds[0]
        for item, kind in zip(node.elts[1:], kinds[1:], strict=True):
            if not same_kind(result, kind):
                self.unlike(node, node.elts[0], item, result, kind, "list together")
                return ANYTHING
            result = joined(result, kind)
        # Going through a list of one item is only a way to give an intermediate result a name.
        return self._parts(node, List(result, False, 0, len(kinds)))

    _Tuple = _List

    def _comprehension(self, node: ast.GeneratorExp | ast.ListComp | ast.SetComp) -> Type:
        before, wide_before = dict(self.local), self.wide
        passes_before, free_before, parts_before = self.passes, self.free, self.parts
        wide = False
        through: list[List] = []
        for generator in node.generators:
            kind = self.infer(generator.iter)
            item: Type = ANYTHING
            if isinstance(kind, List):
                item = kind.item
                through.append(kind)
                self._enter(generator.iter, kind)
                if kind.wide:
                    wide = True
                    self.wide += 1
                    if self.wide > 1:
                        self.trouble(
                            generator.iter,
                            "a pass of the whole assembly inside another one",
                            _short(self.source(generator.iter)),
                            "the element's own collections, or one pass in a step of its own",
                        )
            elif not isinstance(kind, Anything):
                self.trouble(
                    generator.iter,
                    "`for … in` goes through a collection",
                    f"`{_short(self.source(generator.iter))}` is {a_kind(kind)}",
                    "a collection, such as raceway.wires",
                )
            if isinstance(generator.target, ast.Name):
                name = generator.target.id
                if name in self.names or name in self.vocabulary.tables or name in FUNCTIONS:
                    self.trouble(
                        generator.target,
                        f"`{name}` already has a meaning here",
                        name,
                        "another name for the item",
                    )
                self.local[name] = item
                self.done.kinds[generator.target] = item
            else:
                self.trouble(
                    generator.target, "`for` takes one name", self.source(generator.target)
                )
            for condition in generator.ifs:
                test = self.infer(condition)
                if not isinstance(test, (Flag, Anything)):
                    self._not_a_flag(condition, test, "if")
        result = self.infer(node.elt)
        if self.passes >= _DEEP:
            self.done.deep.add(node)
        self.local = before
        self.wide = wide_before
        self.passes, self.free, self.parts = passes_before, free_before, parts_before
        passes, parts = sum(k.passes for k in through), prod(k.parts for k in through)
        return self._parts(node, List(result, wide, passes, parts))

    def _enter(self, node: ast.expr, kind: List) -> None:
        """Go through a collection, perhaps inside others; refused where it may take too long."""
        self.passes += kind.passes
        self.free += 0 if _root(node) in self.local else kind.passes
        self.parts *= kind.parts
        if self.passes > _MAX_NESTED or self.free > _MAX_FREE or self.parts > _MAX_PARTS:
            self._too_many(node)

    def _use(self, node: ast.expr, kind: List) -> None:
        """A collection used as a whole, inside others perhaps, where its items are not counted."""
        if kind.passes and self.passes + kind.passes > _DEEP:
            self._too_many(node)

    def _too_many(self, node: ast.expr) -> None:
        self.trouble(
            node,
            "too many collections are gone through inside each other",
            _short(self.source(node)),
            f"{_MAX_FREE} at most, or {_MAX_NESTED} where some are fields of the others' items; "
            "or an inner one as a step with a name",
        )

    _GeneratorExp = _ListComp = _SetComp = _comprehension


_MOST_NAMES = 16
_COMPREHENSIONS = (ast.GeneratorExp, ast.ListComp, ast.SetComp)


def _root(node: ast.expr) -> str:
    """The name that a chain of fields starts from, "" for anything else."""
    while isinstance(node, ast.Attribute):
        node = node.value
    return node.id if isinstance(node, ast.Name) else ""


def _is_zero(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and type(node.value) in (int, float) and node.value == 0


def a_kind(kind: Type) -> str:
    """A kind of value in words, with its article."""
    if isinstance(kind, Text):
        return "text"
    word = str(kind)
    return ("an " if word[0] in "aeiou" else "a ") + word


def _names(known: Iterable[str], first: str = "") -> str:
    """Names as a list for messages: the likely one first, and not too many of them."""
    listed = [name for name in known if not name.startswith("_")]
    if first in listed:
        listed = [first, *(name for name in listed if name != first)]
    return ", ".join(listed[:_MOST_NAMES]) + (", …" if len(listed) > _MOST_NAMES else "")


def _short(text: str) -> str:
    return text if len(text) <= 60 else text[:57] + "…"


def dimension_of(kind: Type) -> Dimension:
    """The dimension of a numeric type, plain for anything else."""
    return kind.dimension if isinstance(kind, Number) else NONE
