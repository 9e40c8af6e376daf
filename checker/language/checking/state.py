"""What is known while an expression is checked, and what was found wrong with it."""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from ..checked import Checked
from ..formulas import MAX_EXPANDED, MAX_LEVELS, TOO_LARGE
from ..nodes import Constant, Node, Span
from ..parse import ExpressionError, Trouble, span
from ..types import ANYTHING, Formula, List, Number, Type, Vocabulary
from .words import a_kind, short

#: Of a name that means nothing where it stands: why, what to write, and the nearest name.
Elsewhere = Callable[[str], "tuple[str, str, str] | None"]

#: What stands where something is wrong, so that it is reported once.
WRONG = Constant(ANYTHING, (0, 0), None)


@dataclass(frozen=True, slots=True)
class Depth:
    """Collections gone through inside each other.

    passes: all of them; free: such as do not come from the item of another; wide: such as hold a
    kind of element of the whole assembly; parts: the product of the parts that they are joined of.
    """

    passes: int = 0
    free: int = 0
    wide: int = 0
    parts: int = 1

    def inside(self, kind: List, *, free: bool) -> Depth:
        """The depth of what is looked at for every item of one collection more."""
        return Depth(
            self.passes + kind.passes,
            self.free + (kind.passes if free else 0),
            self.wide + kind.wide,
            self.parts * kind.parts,
        )


@dataclass(frozen=True, slots=True)
class Bound:
    """An item of a collection: its slot and its kind."""

    slot: int
    kind: Type


@dataclass(frozen=True, slots=True)
class Given:
    """What a formula is given for a parameter: an expression, and the scope that it stands in."""

    tree: ast.expr
    scope: Scope


@dataclass(frozen=True, slots=True)
class Scope:
    """The names that a part of an expression may use beside those of the whole.

    A formula has a scope of its own, which knows its parameters and nothing of its caller's items.
    formula: its name; at: where the author called it; formulas: those that may be called here.
    """

    formulas: Mapping[str, Formula]
    local: Mapping[str, Bound | Given] = field(default_factory=dict)
    formula: str = ""
    at: Span | None = None

    def with_item(self, name: str, item: Bound) -> Scope:
        """The scope of what is looked at for every item of one collection more."""
        return Scope(self.formulas, {**self.local, name: item}, self.formula, self.at)


Handler = Callable[["Checking", Any], Node]


@dataclass(slots=True)
class Checking:
    """One expression being checked.

    names: what it may use, with types; handlers: how each kind of syntax gets its node; flat: the
    text with every white space a blank; depth: how many collections are being gone through around
    the part being looked at; slots: how many items have had one; digits: of any number so far.
    """

    text: str
    names: Mapping[str, Type]
    vocabulary: Vocabulary
    handlers: Mapping[type[ast.expr], Handler]
    elsewhere: Elsewhere | None = None
    troubles: list[Trouble] = field(default_factory=list)
    uses: set[str] = field(default_factory=set)
    tables: set[tuple[str, str]] = field(default_factory=set)
    fields: set[tuple[str, str]] = field(default_factory=set)
    depth: Depth = Depth()
    slots: int = 0
    digits: int = 0
    deep: bool = False
    flat: str = field(init=False)
    plain: bool = field(init=False)
    scope: Scope = field(init=False)
    parts: int = 0
    level: int = 0

    def __post_init__(self) -> None:
        self.flat = "".join(" " if c.isspace() else c for c in self.text)
        self.plain = self.flat.isascii()
        self.scope = Scope(self.vocabulary.formulas)

    def run(self, tree: ast.expr) -> Checked:
        """Check a whole expression.  Raises ExpressionError with every trouble found."""
        node = self.infer(tree)
        if self.troubles:
            raise ExpressionError(*sorted(self.troubles, key=lambda t: t.offset))
        return Checked(self.text, node, self.uses, self.tables, self.fields, self.digits, self.deep)

    def infer(self, tree: ast.expr) -> Node:
        """What a part of the expression means."""
        self.parts += 1
        self.level += 1
        if self.parts > MAX_EXPANDED or self.level > MAX_LEVELS:
            raise ExpressionError(Trouble(*self.place(tree), TOO_LARGE, "", "several named steps"))
        node = self.handlers[tree.__class__](self, tree)
        self.level -= 1
        kind = node.kind
        if kind.__class__ is Number and kind.digits > self.digits:
            self.digits = kind.digits
        return node

    def within(self, scope: Scope, tree: ast.expr) -> Node:
        """What a part means in another scope: a formula, or what is given to one."""
        outer, self.scope = self.scope, scope
        node = self.infer(tree)
        self.scope = outer
        return node

    def slot(self) -> int:
        """A slot that no other item has."""
        self.slots += 1
        return self.slots

    def place(self, tree: ast.AST) -> Span:
        """Where the author wrote something; of what a formula put in, where it is called."""
        if self.scope.at is not None:
            tree, scope = self._given(tree)
            if scope.at is not None:
                return scope.at
        if self.plain:  # one line, a byte a character
            start: int = tree.col_offset  # type: ignore[attr-defined]
            return start, max(1, tree.end_col_offset - start)  # type: ignore[attr-defined]
        return span(tree, self.flat)

    def _given(self, tree: ast.AST) -> tuple[ast.AST, Scope]:
        """What a part is where it is a parameter, and the scope that it stands in."""
        scope = self.scope
        while isinstance(tree, ast.Name):
            given = scope.local.get(tree.id)
            if not isinstance(given, Given):
                break
            tree, scope = given.tree, given.scope
        return tree, scope

    def source(self, tree: ast.expr) -> str:
        """What the author wrote for a part, or for what a formula put in its place."""
        part, scope = self._given(tree)
        if scope.formula:
            filled = _Filled(scope).visit(ast.parse(ast.unparse(part), mode="eval"))
            return ast.unparse(filled)
        offset, length = self.place(tree)
        return self.text[offset : offset + length]

    def trouble(
        self, tree: ast.AST, message: str, found: str = "", expected: str = "", suggestion: str = ""
    ) -> Node:
        """Report what is wrong with a part; it may be anything then, so this is reported once."""
        formula = self._given(tree)[1].formula
        if formula:
            message += f", in formula `{formula}`"
        self.troubles.append(Trouble(*self.place(tree), message, found, expected, suggestion))
        return WRONG

    def trouble_at_end(
        self, tree: ast.AST, word: str, message: str, expected: str = "", suggestion: str = ""
    ) -> Node:
        """A trouble with the last word of a part, such as a field's name."""
        if self.scope.formula:
            return self.trouble(tree, message, word, expected, suggestion)
        offset, length = self.place(tree)
        at = offset + max(0, length - len(word))
        self.troubles.append(
            Trouble(at, min(len(word), length), message, word, expected, suggestion)
        )
        return WRONG

    def unlike(
        self, tree: ast.AST, a: ast.expr, b: ast.expr, ka: Type, kb: Type, verb: str
    ) -> Node:
        """Tell that two values of different kinds stand together."""
        return self.trouble(
            tree,
            f"cannot {verb} {a_kind(ka)} and {a_kind(kb)}",
            f"`{short(self.source(a))}` is {a_kind(ka)}; `{short(self.source(b))}` is {a_kind(kb)}",
            "two values of the same kind",
        )

    def not_a_flag(self, tree: ast.expr, kind: Type, word: str) -> Node:
        """Tell that something is neither true nor false."""
        hint = "a comparison"
        if isinstance(kind, Number):
            hint = f"a comparison, such as {short(self.source(tree))} > 0"
        elif isinstance(kind, List):
            hint = f"a comparison, such as count({short(self.source(tree))}) > 0"
        return self.trouble(
            tree,
            f"`{word}` takes yes-or-no values",
            f"`{short(self.source(tree))}` is {a_kind(kind)}",
            hint,
        )


class _Filled(ast.NodeTransformer):
    """Writes a formula's text with what it is given in place of its parameters."""

    def __init__(self, scope: Scope) -> None:
        self.scope = scope

    def visit_Name(self, tree: ast.Name) -> ast.AST:
        given = self.scope.local.get(tree.id)
        if not isinstance(given, Given):
            return tree
        copied = ast.parse(ast.unparse(given.tree), mode="eval").body
        filled: ast.AST = _Filled(given.scope).visit(copied)
        return filled
