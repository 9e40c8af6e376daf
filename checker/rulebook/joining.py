"""Conditions made of others."""

from __future__ import annotations

from checker.language.checked import Checked
from checker.language.nodes import TOLERANT, Comparison, Logic, Name, Node, Relation
from checker.language.types import FLAG, Designation


def keeping(at_least: bool, measure: Checked) -> Checked:
    """Whether the measure keeps to the limit, or reaches it: a limit met exactly is met."""
    kind, sign = measure.kind, ">=" if at_least else "<="
    mode = kind.name if isinstance(kind, Designation) else TOLERANT
    operands = tuple(Name(kind, (0, 0), name) for name in ("measure", "limit"))
    node = Comparison(FLAG, (0, 0), operands, (Relation(sign, mode),))
    return Checked(f"measure {sign} limit", node, frozenset(("measure", "limit")))


def either(conditions: list[Checked], other: Checked) -> Checked:
    """One condition that holds where all of ``conditions`` hold, or where ``other`` does."""
    nodes = tuple(c.node for c in conditions)
    both: Node = nodes[0] if len(nodes) == 1 else Logic(FLAG, nodes[0].at, False, nodes)
    texts = [c.text for c in conditions]
    text = texts[0] if len(texts) == 1 else " and ".join(f"({t})" for t in texts)
    every = (*conditions, other)
    return Checked(
        f"({text}) or ({other.text})",
        Logic(FLAG, both.at, True, (both, other.node)),
        frozenset().union(*(c.uses for c in every)),
        frozenset().union(*(c.tables for c in every)),
        frozenset().union(*(c.fields for c in every)),
        max(c.digits for c in every),
        any(c.deep for c in every),
    )
