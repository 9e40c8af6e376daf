"""From an author's text to a checked-size syntax tree of the permitted part of Python."""

from __future__ import annotations

import ast

from .advice import explained, never_valid
from .trouble import ExpressionError, Trouble

MAX_CHARACTERS = 2000
MAX_NODES = 300
MAX_DEPTH = 30

#: Statements of what is not part of the language, by node name, in the author's words.
_REFUSED = {
    "Lambda": "functions cannot be defined here",
    "Await": "`await` is not part of the language",
    "Yield": "`yield` is not part of the language",
    "YieldFrom": "`yield` is not part of the language",
    "JoinedStr": "formatted text belongs in `message`, not in an expression",
    "FormattedValue": "formatted text belongs in `message`, not in an expression",
    "Dict": "a mapping cannot be written here; declare it as a table",
    "DictComp": "a mapping cannot be made here; declare it as a table",
    "Subscript": "`[…]` picks nothing here; use first(…), max(…) or a table look-up",
    "Slice": "`[…]` picks nothing here; use first(…), max(…) or a table look-up",
    "Starred": "`*` before a value is not part of the language",
    "NamedExpr": "`:=` is not part of the language; declare a step",
    "Set": "write [a, b] for a list",
    "Pow": "the only power is a square, x ** 2",
    "MatMult": "`@` is not part of the language",
    "Mod": "`%` is not part of the language; write a percentage as a value with unit %",
    "FloorDiv": "`//` is not part of the language; use floor(a / b)",
    "BitOr": "write `or`, not `|`",
    "BitAnd": "write `and`, not `&`",
    "BitXor": "`^` is not part of the language; squares are written x ** 2",
    "LShift": "`<<` is not part of the language",
    "RShift": "`>>` is not part of the language",
    "Invert": "write `not`, not `~`",
    "Is": "write `==`, not `is`",
    "IsNot": "write `!=`, not `is not`",
}

_PERMITTED = frozenset(
    word
    for words in (
        "Expression BinOp UnaryOp BoolOp Compare IfExp Name Attribute Call Constant List Tuple",
        "GeneratorExp ListComp SetComp comprehension keyword Load Store Not And Or",
        "Add Sub Mult Div Pow UAdd USub Eq NotEq Lt LtE Gt GtE In NotIn",
    )
    for word in words.split()
)


#: What needs no further look: it is permitted, whatever stands in it.
_PLAIN = {getattr(ast, name) for name in _PERMITTED} - {
    ast.BinOp, ast.UnaryOp, ast.Compare, ast.comprehension,
}  # fmt: skip


def span(node: ast.AST, text: str) -> tuple[int, int]:
    """The 0-based character offset of a node in its text and its length."""
    line = getattr(node, "lineno", 1) - 1
    end_line = (getattr(node, "end_lineno", None) or line + 1) - 1
    lines = text.split("\n")

    def offset(row: int, column: int) -> int:
        if row >= len(lines):
            return len(text)
        # ast counts bytes of UTF-8; people and files count characters.
        in_row = len(lines[row].encode()[:column].decode(errors="ignore"))
        return sum(len(part) + 1 for part in lines[:row]) + in_row

    start = offset(line, getattr(node, "col_offset", 0))
    end = offset(end_line, getattr(node, "end_col_offset", None) or 0)
    return start, max(1, end - start)


def parse(text: str) -> ast.expr:
    """Parse an expression.

    Raises ExpressionError for text that is too long or too deep, for a syntax error and for any
    construct outside the language.
    """
    if len(text) > MAX_CHARACTERS:
        raise ExpressionError(
            Trouble(
                0,
                1,
                "the expression is too long",
                f"{len(text)} characters",
                f"at most {MAX_CHARACTERS}; split it into steps",
            )
        )
    flat = one_line(text)
    if not flat.strip():
        raise ExpressionError(Trouble(0, 1, "the expression is empty", "nothing", "an expression"))
    depth = deepest = 0
    for character in flat:
        if character in "([{":
            depth += 1
            deepest = max(deepest, depth)
        elif character in ")]}":
            depth -= 1
    if deepest > MAX_DEPTH:
        raise ExpressionError(
            Trouble(
                0, 1, "the expression is nested too deeply", "", "steps with names of their own"
            )
        )
    never = never_valid(flat)
    if never is not None:
        raise ExpressionError(never)
    try:
        tree = ast.parse(flat, mode="eval")
    except SyntaxError as error:
        raise ExpressionError(explained(flat, max(0, (error.offset or 1) - 1))) from None
    except (RecursionError, MemoryError, ValueError):
        raise ExpressionError(
            Trouble(0, 1, "the expression cannot be read", "", "a shorter expression")
        ) from None
    _bound(tree, flat)
    return tree.body


def one_line(text: str) -> str:
    """Line breaks and odd spaces as plain spaces, one for one, so that offsets stay true."""
    return "".join(" " if c.isspace() else c for c in text.rstrip())


def _bound(tree: ast.Expression, text: str) -> None:
    """Refuse what is outside the language, every instance of it, and trees that are too large."""
    troubles: list[Trouble] = []
    count = 0
    stack: list[tuple[ast.AST, int]] = [(tree, 0)]
    while stack:
        node, depth = stack.pop()
        count += 1
        if count > MAX_NODES or depth > MAX_DEPTH * 2:
            raise ExpressionError(
                Trouble(0, 1, "the expression is too large", "", "several named steps")
            )
        for name in () if node.__class__ in _PLAIN else _constructs(node):
            offset, length = _place(node, name, tree.body, text)
            reason = _REFUSED.get(name, f"`{name}` is not part of the language")
            troubles.append(Trouble(offset, length, reason, text[offset : offset + length][:60]))
        stack += [(child, depth + 1) for child in ast.iter_child_nodes(node)]
    if troubles:
        raise ExpressionError(*sorted(set(troubles), key=lambda t: t.offset))


def _place(node: ast.AST, name: str, whole: ast.expr, text: str) -> tuple[int, int]:
    """Where a refused construct stands: an operator by itself, anything else as a whole."""
    offset, length = span(node if hasattr(node, "col_offset") else whole, text)
    if isinstance(node, ast.BinOp) and type(node.op).__name__ == name:
        start, extent = span(node.left, text)
        after = start + extent
        between = text[after : span(node.right, text)[0]].strip("() ")
        if between and between in text[after:]:
            return text.index(between, after), len(between)
    return offset, length


def _constructs(node: ast.AST) -> list[str]:
    """Names of refused constructs at this node.

    Operators have no place of their own in the tree, so they are judged at what they join.
    """
    if isinstance(node, (ast.operator, ast.unaryop, ast.cmpop, ast.boolop, ast.expr_context)):
        return []
    names = [type(node).__name__]
    if isinstance(node, ast.BinOp):
        square = isinstance(node.right, ast.Constant) and node.right.value == 2
        names.append("" if isinstance(node.op, ast.Pow) and square else type(node.op).__name__)
        if names[-1] == "Pow":
            return ["Pow"]
    elif isinstance(node, ast.UnaryOp):
        names.append(type(node.op).__name__)
    elif isinstance(node, ast.Compare):
        names.extend(type(op).__name__ for op in node.ops)
    elif isinstance(node, ast.comprehension) and node.is_async:
        names.append("Await")
    return [name for name in names if name and name not in _PERMITTED]


__all__ = ["ExpressionError", "Trouble", "one_line", "parse", "span"]
