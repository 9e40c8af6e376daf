"""Statements under way, and what is known where they end."""

from __future__ import annotations

import ast
from collections.abc import Mapping
from typing import Any

from .trees import names_below

#: What an expression is, whatever the places of its nodes: nested tuples.
Shape = tuple[Any, ...]


class Block:
    """Statements that run one after the other.

    ``known`` says what has its value in a variable once they have run, by its shape.
    """

    __slots__ = ("body", "known")

    def __init__(self, known: Mapping[Shape, str] | None = None) -> None:
        self.body: list[ast.stmt] = []
        self.known: dict[Shape, str] = dict(known or {})

    def inner(self) -> Block:
        """A block that runs, if it does, where this one has run so far."""
        return Block(self.known)

    def add(self, statement: ast.stmt) -> None:
        """One statement more."""
        self.body.append(statement)

    def set(self, variable: str, value: ast.expr) -> None:
        """One assignment more."""
        self.body.append(ast.Assign([ast.Name(variable, ast.Store())], value))


def shape(node: Any, item: str = "") -> Shape:
    """The shape of an expression; ``item`` is a name that may as well be another."""
    kind = node.__class__
    if kind is ast.Name:
        return (kind, "…" if node.id == item else node.id)
    if kind is ast.Attribute:
        return (kind, node.attr, shape(node.value, item))
    if kind is ast.Constant:
        return (kind, node.value.__class__, node.value)
    if kind is list:
        return tuple([shape(part, item) for part in node])
    if isinstance(node, ast.AST):
        return (kind, *[shape(getattr(node, f), item) for f in node._fields if f != "ctx"])
    return (kind, node)


def names_in(*nodes: ast.expr) -> set[str]:
    """Every name that expressions mention."""
    return {found for node in nodes for found in names_below(node)}


def name(identifier: str) -> ast.Name:
    """A variable that is read."""
    return ast.Name(identifier, ast.Load())


def call(identifier: str, *arguments: ast.expr) -> ast.Call:
    """A call of one of the language's own functions."""
    return ast.Call(name(identifier), list(arguments), [])
