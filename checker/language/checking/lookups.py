"""Look-ups in tables."""

from __future__ import annotations

import ast

from checker.documents.errors import nearest

from ..parse import Trouble, span
from ..types import Designation, List, Record, Type, same_kind
from .state import Checking
from .texts import designate
from .words import a_kind, short, some_of


def infer_lookup(c: Checking, node: ast.Call, name: str, column: str) -> Type:
    """What a column of a table gives for keys, or its rows for some of them."""
    table = c.vocabulary.tables[name]
    keys = table.key_types
    usage = f"{name}.{column}(" + ", ".join(f"{key}=…" for key in keys) + ")"
    for argument in node.args:
        c.infer(argument)
        c.trouble(
            argument,
            f"the keys of `{name}` are given by name",
            short(c.source(argument)),
            usage,
        )
    given = {keyword.arg for keyword in node.keywords if keyword.arg in keys}
    for keyword in node.keywords:
        _key(c, keyword, name, given)
    if column == "rows":
        c.done.tables.add((name, ""))
        return List(Record("row:" + name))
    if column not in table.column_types:
        return c.trouble_at_end(
            node.func,
            column,
            f"table `{name}` has no column `{column}`",
            "one of " + some_of(table.column_types) + ", or rows",
            nearest(column, table.column_types) or "",
        )
    lacking = [key for key in keys if key not in given]
    # A key that is misspelt or given without a name is told already.
    if lacking and not node.args and len(given) == len(node.keywords):
        c.trouble(
            node,
            f"the look-up in `{name}` lacks " + ", ".join(f"`{key}`" for key in lacking),
            short(c.source(node)),
            usage,
        )
    c.done.tables.add((name, column))
    return table.column_types[column]


def _key(c: Checking, keyword: ast.keyword, table: str, given: set[str | None]) -> None:
    """One key of a look-up: whether the table has it, and what is given for it."""
    keys = c.vocabulary.tables[table].key_types
    kind = c.infer(keyword.value)
    key = keyword.arg
    if key is not None and key in keys:
        _fits(c, keyword.value, kind, keys[key], f"key `{key}` of `{table}`")
        return
    wrong = key or "**"
    offset, _ = span(keyword, c.flat)
    close = nearest(wrong, [key for key in keys if key not in given]) or nearest(wrong, keys)
    message, expected = f"table `{table}` has no key `{wrong}`", "one of " + some_of(keys)
    c.troubles.append(Trouble(offset, len(wrong), message, wrong, expected, close or ""))


def _fits(c: Checking, node: ast.expr, kind: Type, wanted: Type, what: str) -> None:
    if isinstance(wanted, Designation) and designate(c, node, kind, wanted):
        return
    if not same_kind(kind, wanted):
        c.trouble(
            node,
            f"{what} takes {a_kind(wanted)}",
            f"`{short(c.source(node))}` is {a_kind(kind)}",
            a_kind(wanted),
        )
