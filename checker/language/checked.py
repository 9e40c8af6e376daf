"""An expression that was found sound, with all that is known of it."""

from __future__ import annotations

import ast
from dataclasses import dataclass, field

from .types import Type


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
