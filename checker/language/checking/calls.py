"""Functions of the language."""

from __future__ import annotations

import ast

from checker.documents.errors import nearest

from ..functions import FUNCTIONS
from ..types import ANYTHING, Anything, List, Number, Type
from .collections import COMPREHENSIONS, use
from .lookups import infer_lookup
from .names import infer_name, table_of
from .state import Checking
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


def infer_call(c: Checking, node: ast.Call) -> Type:
    """What a function of the language or a look-up in a table gives."""
    table = table_of(c, node.func)
    if table is not None:
        assert isinstance(node.func, ast.Attribute)
        return infer_lookup(c, node, table, node.func.attr)
    if not isinstance(node.func, ast.Name):
        return _not_callable(c, node.func)
    function = FUNCTIONS.get(node.func.id)
    if function is None:
        return _no_function(c, node.func)
    for keyword in node.keywords:
        c.trouble(keyword.value, f"`{function.name}` takes no named values", keyword.arg or "")
    low, high = function.arguments
    if not low <= len(node.args) <= high:
        return c.trouble(
            node, f"`{function.name}` is written {function.usage}", f"{len(node.args)} values"
        )
    kinds = [c.infer(argument) for argument in node.args]
    first = node.args[0]
    if function.name == "stated" and not isinstance(first, ast.Attribute):
        return c.trouble(
            first,
            "`stated` asks for a field",
            short(c.source(first)),
            "a field, such as stated(box.volume)",
        )
    if function.name in ("max", "min"):
        kinds = _zeroes(node.args, kinds)
    for argument, kind in zip(node.args, kinds, strict=True):
        if isinstance(kind, List) and not isinstance(argument, COMPREHENSIONS):
            use(c, argument, kind)
    result = function.result(kinds)
    if not isinstance(result, str):
        return result
    if any(isinstance(kind, Anything) for kind in kinds):
        return ANYTHING
    return c.trouble(
        first,
        f"`{function.name}` takes {result}",
        f"`{short(c.source(first))}` is {a_kind(kinds[0])}",
        function.usage,
    )


def _not_callable(c: Checking, called: ast.expr) -> Type:
    """Tell that what is called is neither a function nor a table's column."""
    if isinstance(called, ast.Attribute) and isinstance(called.value, ast.Name):
        name, tables = called.value.id, c.vocabulary.tables
        if name not in c.local and name not in c.names:
            close = nearest(name, tables) or ""
            expected = "one of " + some_of(tables, close)
            return c.trouble(called.value, f"there is no table `{name}`", name, expected, close)
    return c.trouble(
        called,
        "only functions of the language and tables can be called",
        short(c.source(called)),
        "one of " + some_of(FUNCTIONS),
    )


def _no_function(c: Checking, called: ast.Name) -> Type:
    """Tell that there is no such function, and what people mean by its name."""
    name = called.id
    if name in c.vocabulary.tables:
        return infer_name(c, called)
    meant = _OTHER_WORDS.get(name.casefold(), "")
    known = [*c.vocabulary.formulas, *FUNCTIONS]
    return c.trouble(
        called,
        f"there is no function `{name}`",
        name,
        meant or "one of " + some_of(known),
        "" if meant else nearest(name, [*known, *c.vocabulary.tables]) or "",
    )


def _zeroes(nodes: list[ast.expr], kinds: list[Type]) -> list[Type]:
    """A literal 0 takes the kind of its neighbours."""
    other = next(
        (
            k.item if isinstance(k, List) else k
            for n, k in zip(nodes, kinds, strict=True)
            if not is_zero(n)
        ),
        None,
    )
    if not isinstance(other, Number):
        return kinds
    return [
        Number(other.dimension, other.whole) if is_zero(n) else k
        for n, k in zip(nodes, kinds, strict=True)
    ]
