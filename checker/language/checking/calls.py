"""Functions of the language, and formulas, which are put in where they are called."""

from __future__ import annotations

import ast

from checker.documents.errors import nearest

from ..functions import FUNCTIONS
from ..nodes import Call, Comprehension, Extreme, Field, Node, Stated
from ..types import Anything, Designation, Formula, List, Number, Type, with_digits
from .collections import use
from .lookups import infer_lookup
from .names import infer_name, table_of
from .state import WRONG, Checking, Given, Scope
from .words import a_kind, is_zero, short, some_of

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
#: Functions whose result has few digits, however large what they are given is.
_FEW = ("count",)


def infer_call(c: Checking, tree: ast.Call) -> Node:
    """What a function of the language, a formula or a look-up in a table gives."""
    table = table_of(c, tree.func)
    if table is not None:
        assert isinstance(tree.func, ast.Attribute)
        return infer_lookup(c, tree, table, tree.func.attr)
    if not isinstance(tree.func, ast.Name):
        return _not_callable(c, tree.func)
    formula = c.scope.formulas.get(tree.func.id)
    if formula is not None:
        return _put_in(c, tree, formula)
    function = FUNCTIONS.get(tree.func.id)
    if function is None:
        return _no_function(c, tree.func)
    for keyword in tree.keywords:
        c.trouble(keyword.value, f"`{function.name}` takes no named values", keyword.arg or "")
    low, high = function.arguments
    if not low <= len(tree.args) <= high:
        return c.trouble(
            tree, f"`{function.name}` is written {function.usage}", f"{len(tree.args)} values"
        )
    arguments = tuple(c.infer(argument) for argument in tree.args)
    return _function(c, tree, function.name, arguments)


def _function(c: Checking, tree: ast.Call, name: str, arguments: tuple[Node, ...]) -> Node:
    function, first = FUNCTIONS[name], tree.args[0]
    kinds = [argument.kind for argument in arguments]
    if name == "stated" and not isinstance(arguments[0], Field):
        if isinstance(kinds[0], Anything) and isinstance(first, ast.Attribute):
            return WRONG
        return c.trouble(
            first,
            "`stated` asks for a field",
            short(c.source(first)),
            "a field, such as stated(box.volume)",
        )
    if name in ("max", "min"):
        kinds = _zeroes(arguments, kinds)
    for part, argument in zip(tree.args, arguments, strict=True):
        if isinstance(argument.kind, List) and not isinstance(argument, Comprehension):
            use(c, part, argument.kind)
    result = function.result(kinds)
    if isinstance(result, str):
        if any(isinstance(kind, Anything) for kind in kinds):
            return WRONG
        return c.trouble(
            first,
            f"`{name}` takes {result}",
            f"`{short(c.source(first))}` is {a_kind(kinds[0])}",
            function.usage,
        )
    if isinstance(result, Number) and name not in _FEW:
        items = [k.item if isinstance(k, List) else k for k in kinds]
        result = with_digits(result, max(k.digits for k in items if isinstance(k, Number)))
    at = c.place(tree)
    if name == "stated":
        asked = arguments[0]
        assert isinstance(asked, Field)
        return Stated(result, at, asked.of, asked.field)
    if name in ("max", "min"):
        rank = result.name if isinstance(result, Designation) else ""
        return Extreme(result, at, name == "max", arguments, rank)
    return Call(result, at, name, arguments)


def _put_in(c: Checking, tree: ast.Call, formula: Formula) -> Node:
    """A formula with what a call gives it; all of it stands where the author called it."""
    if tree.keywords or len(tree.args) != len(formula.of):
        found = f"{len(tree.args) + len(tree.keywords)} values"
        message = f"`{formula.name}` is written {formula.usage}"
        return c.trouble(tree, message, found, f"{len(formula.of)}, without names")
    given = {name: Given(part, c.scope) for name, part in zip(formula.of, tree.args, strict=True)}
    return c.within(Scope(formula.inside, given, formula.name, c.place(tree)), formula.tree)


def _not_callable(c: Checking, called: ast.expr) -> Node:
    """Tell that what is called is neither a function nor a table's column."""
    if isinstance(called, ast.Attribute) and isinstance(called.value, ast.Name):
        name, tables = called.value.id, c.vocabulary.tables
        if name not in c.scope.local and name not in c.names:
            close = nearest(name, tables) or ""
            expected = "one of " + some_of(tables, close)
            return c.trouble(called.value, f"there is no table `{name}`", name, expected, close)
    return c.trouble(
        called,
        "only functions of the language and tables can be called",
        short(c.source(called)),
        "one of " + some_of(FUNCTIONS),
    )


def _no_function(c: Checking, called: ast.Name) -> Node:
    """Tell that there is no such function, and what people mean by its name."""
    name = called.id
    if name in c.vocabulary.tables:
        return infer_name(c, called)
    meant = _OTHER_WORDS.get(name.casefold(), "")
    known = [*c.scope.formulas, *FUNCTIONS]
    return c.trouble(
        called,
        f"there is no function `{name}`",
        name,
        meant or "one of " + some_of(known),
        "" if meant else nearest(name, [*known, *c.vocabulary.tables]) or "",
    )


def _zeroes(nodes: tuple[Node, ...], kinds: list[Type]) -> list[Type]:
    """A literal 0 takes the kind of its neighbours."""
    other = next((n.kind for n in nodes if not is_zero(n)), None)
    other = other.item if isinstance(other, List) else other
    if not isinstance(other, Number):
        return kinds
    return [other if is_zero(n) else k for n, k in zip(nodes, kinds, strict=True)]
