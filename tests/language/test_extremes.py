"""What is accepted is compiled and evaluated, however much of it there is inside each other."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from expressions import value_of

from checker.language.formulas import read_formula
from checker.language.parse import ExpressionError
from checker.language.types import COUNT, FLAG, List, Number, Record, Vocabulary

WIRE = {"count": COUNT, "bare": FLAG}
KINDS = {"ws": List(Record("wire")), "n": Number(), "k": COUNT, "flag": FLAG}
WIRES = tuple(SimpleNamespace(count=c, bare=b) for c, b in ((1, False), (2, True)))
VALUES = {"ws": WIRES, "n": 1.0, "k": 1, "flag": True}
ANY = "any(w.bare for w in ws if w.count > k)"

#: Ways to put an expression into itself, each from the innermost part.
NESTED = {
    "not": ("flag", lambda inside: f"not {inside}"),
    "brackets": ("n", lambda inside: f"({inside})"),
    "minus": ("n", lambda inside: f"-{inside}"),
    "product": ("k", lambda inside: f"k * ({inside})"),
    "square": ("k", lambda inside: f"({inside}) ** 2"),
    "choice": ("n", lambda inside: f"(n if flag else {inside})"),
    "choice of loops": ("0", lambda inside: f"(count(w for w in ws) if {ANY} else {inside})"),
    "and of loops": (ANY, lambda inside: f"({ANY} and ({inside}))"),
    "or of loops": ("flag", lambda inside: f"(not {ANY} or ({inside}))"),
    "names": ("n", lambda inside: f"sum(x for x in [{inside}])"),
    "names with conditions": (
        "n",
        lambda inside: f"sum(x for x in [n] if {inside} >= 0)",
    ),
    "loops": ("k", lambda inside: f"sum(w.count for w in ws if ({inside}) >= 0)"),
    "least": ("n", lambda inside: f"min(n, {inside})"),
    "comparison": ("n", lambda inside: f"(n if n <= {inside} else n)"),
    "lists": ("k", lambda inside: f"max([k, {inside}])"),
}


@pytest.mark.parametrize("way", NESTED)
def test_inside_each_other(way: str) -> None:
    """As deep as it is accepted, and one level deeper it is refused."""
    innermost, put = NESTED[way]
    text, levels = innermost, 0
    while levels < 400:
        text = put(text)
        try:
            value_of(text, KINDS, VALUES, Vocabulary({"wire": WIRE}, {}))
        except ExpressionError:
            break
        levels += 1
    assert 2 <= levels < 400


@pytest.mark.parametrize("way", NESTED)
def test_formulas_inside_each_other(way: str) -> None:
    """Formulas reach deeper than what is written out."""
    innermost, put = NESTED[way]
    kind = "flag" if innermost in ("flag", ANY) else "n"
    depth = 0
    while depth < 400:
        text = put("a")
        for _ in range(depth):
            text = put(text)
        try:
            formula = read_formula("f", ("a",), text, {})
            known = Vocabulary({"wire": WIRE}, {}, {"f": formula})
            value_of(f"f(f({kind}))", KINDS, VALUES, known)
        except ExpressionError:
            break
        depth += 1
    assert 1 <= depth < 400


@pytest.mark.parametrize("many", [2, 20, 60])
def test_beside_each_other(many: int) -> None:
    vocabulary = Vocabulary({"wire": WIRE}, {})
    for text in (
        " and ".join(["flag"] * many),
        "count(w for w in ws if " + " and ".join(["flag"] * many) + ")",
        "count(w for w in ws" + " if flag" * many + ")",
        "sum(x for x in [n]" + " if flag" * many + ")",
        "flag" + " == flag" * many,
    ):
        assert value_of(text, KINDS, VALUES, vocabulary)
