"""Writes a checked expression in the author's syntax again, with its formulas put in.

For those who evaluate the same expressions by other means, and for the tests: what is written, read
again, means the same.  Items are called by their slots.
"""

from __future__ import annotations

from typing import Any

from checker.language import nodes
from checker.language.nodes import Node


def spelled(node: Node) -> str:
    """The text of a part, in parentheses where it is more than one word."""
    match node:
        case nodes.Constant(value=value):
            return repr(value)
        case nodes.Name(name=name):
            return name
        case nodes.Item(slot=slot):
            return f"i_{slot}"
        case nodes.Field(of=of, field=name):
            return f"{spelled(of)}.{name}"
        case nodes.Stated(of=of, field=name):
            return f"stated({spelled(of)}.{name})"
        case nodes.Listed(items=items):
            return f"[{', '.join(map(spelled, items))}]"
        case nodes.Joined(left=left, right=right):
            return f"({spelled(left)} + {spelled(right)})"
        case nodes.Arithmetic(sign=sign, left=left, right=right):
            return f"({spelled(left)} {sign} {spelled(right)})"
        case nodes.Signed(minus=minus, of=of):
            return f"({'-' if minus else '+'}{spelled(of)})"
        case nodes.Not(of=of):
            return f"(not {spelled(of)})"
        case nodes.Logic(either=either, parts=parts):
            return f"({(' or ' if either else ' and ').join(map(spelled, parts))})"
        case nodes.Choice(test=test, then=then, otherwise=otherwise):
            return f"({spelled(then)} if {spelled(test)} else {spelled(otherwise)})"
        case nodes.Comparison(operands=operands, relations=relations):
            first, *others = map(spelled, operands)
            pairs = zip(relations, others, strict=True)
            return f"({first}{''.join(f' {r.sign} {other}' for r, other in pairs)})"
        case nodes.Comprehension(distinct=distinct):
            return f"{{{_inside(node)}}}" if distinct else f"[{_inside(node)}]"
        case nodes.Call(function=name, arguments=arguments):
            return _call(name, arguments)
        case nodes.Extreme(largest=largest, parts=parts):
            return _call("max" if largest else "min", parts)
        case nodes.Lookup(table=table, column=column, keys=keys):
            given = ", ".join(f"{name}={spelled(key)}" for name, key in keys)
            return f"{table}.{column or 'rows'}({given})"
    raise AssertionError(node)


def _inside(node: nodes.Comprehension) -> str:
    text = spelled(node.item)
    for level in node.levels:
        text += f" for i_{level.slot} in {spelled(level.source)}"
        text += "".join(f" if {spelled(condition)}" for condition in level.conditions)
    return text


def _call(name: str, arguments: tuple[Any, ...]) -> str:
    if len(arguments) == 1 and nodes.items_of(arguments[0]) is not None:
        return f"{name}({_inside(arguments[0])})"
    return f"{name}({', '.join(map(spelled, arguments))})"
