"""Names and fields."""

from __future__ import annotations

import ast

from checker.documents.errors import nearest

from ..functions import FUNCTIONS
from ..nodes import Constant, Field, Item, Name, Node
from ..types import COUNT, FLAG, Anything, List, Number, Record, Text
from .state import Bound, Checking, Given
from .words import a_kind, short, some_of

_FLAG_WORDS = ("true", "false", "yes", "no", "on", "off")
_ABSENT_WORDS = ("none", "null", "nil", "blank", "empty", "missing")
_LITERAL = Number(COUNT.dimension, whole=True, digits=1)


def infer_constant(c: Checking, tree: ast.Constant) -> Node:
    """Numbers, of which only 0, 1 and 2 stand for themselves, and quoted texts."""
    value = tree.value
    if isinstance(value, bool):
        return Constant(FLAG, c.place(tree), value)
    if isinstance(value, (int, float)) and not isinstance(value, complex):
        if type(value) is int and value in (0, 1, 2):
            return Constant(_LITERAL, c.place(tree), value)
        return c.trouble(
            tree,
            "a number without a name",
            str(value)[:40],
            "a name: declare it under `values:` with its unit and citation (only 0, 1 and 2 "
            "may stand in an expression)",
        )
    if isinstance(value, str):
        return Constant(Text((value,)), c.place(tree), value)
    if value is None:
        message, expected, _ = _unknown(c, "None", [])
        return c.trouble(tree, message, "None", expected)
    return c.trouble(tree, "this value is not part of the language", repr(value)[:40])


def infer_name(c: Checking, tree: ast.Name) -> Node:
    """A name: an item, a value, a step, the element, or what a formula is given."""
    name = tree.id
    local = c.scope.local.get(name)
    if isinstance(local, Bound):
        return Item(local.kind, c.place(tree), local.slot, name)
    if isinstance(local, Given):
        return c.within(local.scope, local.tree)
    kind = c.names.get(name)
    if kind is not None:
        c.uses.add(name)
        return Name(kind, c.place(tree), name)
    known = [*c.scope.local, *c.names]
    if name in c.vocabulary.tables:
        columns = ", ".join(c.vocabulary.tables[name].column_types)
        return c.trouble(
            tree,
            f"`{name}` is a table; look something up in it",
            name,
            f"`{name}.column(key=…)`, with one of its columns {columns}, or `{name}.rows()`",
        )
    if name in FUNCTIONS:
        return c.trouble(tree, f"`{name}` is a function", name, FUNCTIONS[name].usage)
    if name in c.scope.formulas:
        return c.trouble(tree, f"`{name}` is a formula", name, c.scope.formulas[name].usage)
    message, expected, close = _unknown(c, name, known)
    return c.trouble(tree, message, name, expected, close)


def _unknown(c: Checking, name: str, known: list[str]) -> tuple[str, str, str]:
    """Why a name means nothing, what would, and the nearest name that does."""
    told = c.elsewhere(name) if c.elsewhere else None
    if told is not None:
        return told
    low = name.casefold()
    close = nearest(name, [*known, *c.vocabulary.tables, *FUNCTIONS]) or ""
    if low in _FLAG_WORDS:
        plain = "the field alone, or `not` before it, as in `not w.bare`"
        return f"nothing is compared with `{name}`", plain, ""
    if low in _ABSENT_WORDS:
        return f"`{name}` means nothing here", "stated(element.field) or not stated(…)", ""
    if name in _options(c):
        quoted = f"'{name}'"
        return f"`{name}` is a text, and texts stand in quotes", quoted, quoted
    return f"nothing here is called `{name}`", "one of " + some_of(known), close


def _options(c: Checking) -> set[str]:
    """Every text that some field may be."""
    return {
        option
        for fields in c.vocabulary.records.values()
        for kind in fields.values()
        if isinstance(kind, Text)
        for option in kind.options
    }


def infer_attribute(c: Checking, tree: ast.Attribute) -> Node:
    """A field of an element."""
    if table_of(c, tree) is not None:
        return infer_name(c, tree.value)  # type: ignore[arg-type]
    of = c.infer(tree.value)
    base = of.kind
    if isinstance(base, Anything):
        return of
    if not isinstance(base, Record):
        hint = "one item at a time, as in [x.id for x in …]" if isinstance(base, List) else ""
        return c.trouble(
            tree,
            f"{a_kind(base)} has no fields",
            f"`.{tree.attr}` of `{short(c.source(tree.value))}`",
            hint or "a field of an element",
        )
    fields = c.vocabulary.records[base.name]
    kind = fields.get(tree.attr)
    if kind is None:
        close = nearest(tree.attr, fields) or ""
        return c.trouble_at_end(
            tree,
            tree.attr,
            f"{a_kind(base)} has no field `{tree.attr}`",
            "one of " + some_of(fields, close),
            close,
        )
    c.fields.add((base.name, tree.attr))
    return Field(kind, c.place(tree), of, tree.attr)


def table_of(c: Checking, tree: ast.expr) -> str | None:
    """The table of which a part names a column, if it does."""
    if isinstance(tree, ast.Attribute) and isinstance(tree.value, ast.Name):
        name = tree.value.id
        known = name in c.scope.local or name in c.names
        if not known and name in c.vocabulary.tables:
            return name
    return None
