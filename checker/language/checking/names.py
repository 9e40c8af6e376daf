"""Names and fields."""

from __future__ import annotations

import ast

from checker.documents.errors import nearest

from ..functions import FUNCTIONS
from ..types import COUNT, FLAG, Anything, List, Record, Text, Type
from .state import Checking
from .words import a_kind, short, some_of

_FLAG_WORDS = ("true", "false", "yes", "no", "on", "off")
_ABSENT_WORDS = ("none", "null", "nil", "blank", "empty", "missing")


def infer_constant(c: Checking, node: ast.Constant) -> Type:
    """Numbers, of which only 0, 1 and 2 stand for themselves, and quoted texts."""
    value = node.value
    if isinstance(value, bool):
        return FLAG
    if isinstance(value, (int, float)) and not isinstance(value, complex):
        if type(value) is int and value in (0, 1, 2):
            return COUNT
        return c.trouble(
            node,
            "a number without a name",
            str(value)[:40],
            "a name: declare it under `values:` with its unit and citation (only 0, 1 and 2 "
            "may stand in an expression)",
        )
    if isinstance(value, str):
        return Text((value,))
    if value is None:
        message, expected, _ = _unknown(c, "None", [])
        return c.trouble(node, message, "None", expected)
    return c.trouble(node, "this value is not part of the language", repr(value)[:40])


def infer_name(c: Checking, node: ast.Name) -> Type:
    """A name: an item, a value, a step, or the element."""
    if node.id in c.local:
        return c.local[node.id]
    if node.id in c.names:
        c.done.uses.add(node.id)
        return c.names[node.id]
    known = [*c.local, *c.names]
    if node.id in c.vocabulary.tables:
        columns = ", ".join(c.vocabulary.tables[node.id].column_types)
        return c.trouble(
            node,
            f"`{node.id}` is a table; look something up in it",
            node.id,
            f"`{node.id}.column(key=…)`, with one of its columns {columns}, or `{node.id}.rows()`",
        )
    if node.id in FUNCTIONS:
        return c.trouble(node, f"`{node.id}` is a function", node.id, FUNCTIONS[node.id].usage)
    if node.id in c.vocabulary.formulas:
        usage = c.vocabulary.formulas[node.id].usage
        return c.trouble(node, f"`{node.id}` is a formula", node.id, usage)
    message, expected, close = _unknown(c, node.id, known)
    return c.trouble(node, message, node.id, expected, close)


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


def infer_attribute(c: Checking, node: ast.Attribute) -> Type:
    """A field of an element."""
    if table_of(c, node) is not None:
        return infer_name(c, node.value)  # type: ignore[arg-type]
    base = c.infer(node.value)
    if isinstance(base, Anything):
        return base
    if not isinstance(base, Record):
        hint = "one item at a time, as in [x.id for x in …]" if isinstance(base, List) else ""
        return c.trouble(
            node,
            f"{a_kind(base)} has no fields",
            f"`.{node.attr}` of `{short(c.source(node.value))}`",
            hint or "a field of an element",
        )
    fields = c.vocabulary.records[base.name]
    kind = fields.get(node.attr)
    if kind is None:
        close = nearest(node.attr, fields) or ""
        return c.trouble_at_end(
            node,
            node.attr,
            f"{a_kind(base)} has no field `{node.attr}`",
            "one of " + some_of(fields, close),
            close,
        )
    c.done.fields.add((base.name, node.attr))
    return kind


def table_of(c: Checking, node: ast.expr) -> str | None:
    """The table of which a node names a column, if it does."""
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        name = node.value.id
        known = name in c.local or name in c.names
        if not known and name in c.vocabulary.tables:
            return name
    return None
