"""Look-ups in tables."""

from __future__ import annotations

import ast

from checker.documents.errors import nearest

from ..nodes import Lookup, Node
from ..parse import Trouble
from ..types import List, Record, Type, same_kind
from .state import Checking
from .texts import designated
from .words import a_kind, short, some_of


def infer_lookup(c: Checking, tree: ast.Call, name: str, column: str) -> Node:
    """What a column of a table gives for keys, or its rows for some of them."""
    table = c.vocabulary.tables[name]
    keys = table.key_types
    usage = f"{name}.{column}(" + ", ".join(f"{key}=…" for key in keys) + ")"
    for argument in tree.args:
        c.infer(argument)
        c.trouble(
            argument,
            f"the keys of `{name}` are given by name",
            short(c.source(argument)),
            usage,
        )
    given = {keyword.arg for keyword in tree.keywords if keyword.arg in keys}
    values = tuple((k.arg or "", _key(c, k, name, given)) for k in tree.keywords)
    places = {key: place for place, (key, _) in enumerate(values)}
    order = tuple(places[key] for key in keys if key in places)
    if column == "rows":
        c.tables.add((name, ""))
        return Lookup(List(Record("row:" + name)), c.place(tree), name, "", values, order)
    if column not in table.column_types:
        return c.trouble_at_end(
            tree.func,
            column,
            f"table `{name}` has no column `{column}`",
            "one of " + some_of(table.column_types) + ", or rows",
            nearest(column, table.column_types) or "",
        )
    lacking = [key for key in keys if key not in given]
    # A key that is misspelt or given without a name is reported already.
    if lacking and not tree.args and len(given) == len(tree.keywords):
        c.trouble(
            tree,
            f"the look-up in `{name}` lacks " + ", ".join(f"`{key}`" for key in lacking),
            short(c.source(tree)),
            usage,
        )
    c.tables.add((name, column))
    return Lookup(table.column_types[column], c.place(tree), name, column, values, order)


def _key(c: Checking, keyword: ast.keyword, table: str, given: set[str | None]) -> Node:
    """One key of a look-up: whether the table has it, and what is given for it."""
    keys = c.vocabulary.tables[table].key_types
    value = c.infer(keyword.value)
    key = keyword.arg
    if key is not None and key in keys:
        return _fitting(c, keyword.value, value, keys[key], f"key `{key}` of `{table}`")
    wrong = key or "**"
    close = nearest(wrong, [key for key in keys if key not in given]) or nearest(wrong, keys)
    message, expected = f"table `{table}` has no key `{wrong}`", "one of " + some_of(keys)
    offset, _ = c.place(keyword)
    c.troubles.append(Trouble(offset, len(wrong), message, wrong, expected, close or ""))
    return value


def _fitting(c: Checking, tree: ast.expr, value: Node, wanted: Type, what: str) -> Node:
    sized = designated(c, tree, value, wanted)
    if sized is value and not same_kind(value.kind, wanted):
        return c.trouble(
            tree,
            f"{what} takes {a_kind(wanted)}",
            f"`{short(c.source(tree))}` is {a_kind(value.kind)}",
            a_kind(wanted),
        )
    return sized
