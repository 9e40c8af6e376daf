"""Going through syntax trees and copying them, several times quicker than ``ast`` and ``copy`` do.

Checking and compiling a rulebook is little else.
"""

from __future__ import annotations

import ast
from typing import Any


def walk(tree: ast.AST) -> list[ast.AST]:
    """The tree and every node below it, in the order of ``ast.walk``."""
    found = [tree]
    for node in found:
        for name in node._fields:
            value = getattr(node, name, None)
            if value.__class__ is list:
                found += [item for item in value if isinstance(item, ast.AST)]
            elif isinstance(value, ast.AST):
                found.append(value)
    return found


def names_below(tree: ast.AST) -> set[str]:
    """Every name that a tree mentions."""
    return {node.id for node in walk(tree) if node.__class__ is ast.Name}


def copied(tree: Any) -> Any:
    """A copy of the tree and of every node below it, with all that they know of themselves."""
    made: Any = tree.__class__()
    known = made.__dict__
    for name, value in tree.__dict__.items():
        if isinstance(value, ast.expr_context):
            known[name] = value  # says nothing of its own
        elif isinstance(value, ast.AST):
            known[name] = copied(value)
        elif value.__class__ is list:
            known[name] = [copied(v) if isinstance(v, ast.AST) else v for v in value]
        else:
            known[name] = value
    return made
