"""What is known while an expression is checked, and what was found wrong with it."""

from __future__ import annotations

import ast
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from ..checked import Checked
from ..formulas import formula_of
from ..parse import ExpressionError, Trouble, span
from ..types import ANYTHING, Anything, List, Number, Type, Vocabulary
from .words import a_kind, short

#: Of a name that means nothing where it stands: why, what to write, and the nearest name.
Elsewhere = Callable[[str], "tuple[str, str, str] | None"]


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


Handler = Callable[["Checking", Any], Type]


@dataclass(slots=True)
class Checking:
    """One expression being checked.

    names: what it may use, with types; handlers: how each kind of node gets its type; flat: the
    text with every white space a blank; local: the items of the collections being gone through.
    depth: how many collections are being gone through around the node being looked at.
    """

    text: str
    names: Mapping[str, Type]
    vocabulary: Vocabulary
    handlers: Mapping[type[ast.expr], Handler]
    elsewhere: Elsewhere | None = None
    troubles: list[Trouble] = field(default_factory=list)
    local: dict[str, Type] = field(default_factory=dict)
    depth: Depth = Depth()
    flat: str = field(init=False)
    done: Checked = field(init=False)

    def __post_init__(self) -> None:
        self.flat = "".join(" " if c.isspace() else c for c in self.text)
        self.done = Checked(self.text, ast.Constant(0), ANYTHING, {}, {})

    def run(self, tree: ast.expr) -> Checked:
        """Check a whole expression.  Raises ExpressionError with every trouble found."""
        kind = self.infer(tree)
        if self.troubles:
            raise ExpressionError(*sorted(self.troubles, key=lambda t: t.offset))
        self.done.tree, self.done.kind = tree, kind
        return self.done

    def source(self, node: ast.AST) -> str:
        """What the author wrote for a node, or for what a formula put in its place."""
        if formula_of(node):
            return ast.unparse(node)
        offset, length = span(node, self.flat)
        return self.text[offset : offset + length]

    def trouble(
        self, node: ast.AST, message: str, found: str = "", expected: str = "", suggestion: str = ""
    ) -> Anything:
        """Tell what is wrong with a node; it may be anything then, so that this is told once."""
        offset, length = span(node, self.flat)
        message += self._within(node)
        self.troubles.append(Trouble(offset, length, message, found, expected, suggestion))
        return ANYTHING

    @staticmethod
    def _within(node: ast.AST) -> str:
        """Which formula a node stands in: its place is that of the call."""
        name = formula_of(node)
        return f", in formula `{name}`" if name else ""

    def trouble_at_end(
        self, node: ast.AST, word: str, message: str, expected: str = "", suggestion: str = ""
    ) -> Anything:
        """A trouble with the last word of a node, such as a field's name."""
        if formula_of(node):
            return self.trouble(node, message, word, expected, suggestion)
        offset, length = span(node, self.flat)
        at = offset + max(0, length - len(word))
        self.troubles.append(
            Trouble(at, min(len(word), length), message, word, expected, suggestion)
        )
        return ANYTHING

    def unlike(
        self, node: ast.AST, a: ast.expr, b: ast.expr, ka: Type, kb: Type, verb: str
    ) -> Type:
        """Tell that two values of different kinds stand together."""
        return self.trouble(
            node,
            f"cannot {verb} {a_kind(ka)} and {a_kind(kb)}",
            f"`{short(self.source(a))}` is {a_kind(ka)}; `{short(self.source(b))}` is {a_kind(kb)}",
            "two values of the same kind",
        )

    def infer(self, node: ast.expr) -> Type:
        """The type of a node, kept for whoever asks later."""
        kind = self.handlers[type(node)](self, node)
        self.done.kinds[node] = kind
        return kind

    def not_a_flag(self, node: ast.expr, kind: Type, word: str) -> Type:
        """Tell that something is neither true nor false."""
        hint = "a comparison"
        if isinstance(kind, Number):
            hint = f"a comparison, such as {short(self.source(node))} > 0"
        elif isinstance(kind, List):
            hint = f"a comparison, such as count({short(self.source(node))}) > 0"
        return self.trouble(
            node,
            f"`{word}` takes yes-or-no values",
            f"`{short(self.source(node))}` is {a_kind(kind)}",
            hint,
        )
