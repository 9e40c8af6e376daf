"""Calculations as they are written out: a reader with a pocket calculator gets the same result."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import pytest
from expressions import traced
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from checker.documents.missing import Missing
from checker.language.check import check
from checker.language.trace import EvaluationError, Tracer
from checker.language.types import FLAG, PLAIN, WIRE_SIZE, List, Number, Record, Vocabulary
from checker.language.unknown import Unknown
from checker.language.worked import NOT_STATED, Worker, show_value
from checker.quantities.dimension import AREA, CURRENT, LENGTH

WIRE = {"area": Number(AREA), "bare": FLAG, "size": WIRE_SIZE}
VOCABULARY = Vocabulary({"wire": WIRE}, {})
KINDS = {"bore": Number(AREA), "share": PLAIN, "length": Number(LENGTH), "rating": Number(CURRENT),
         "wires": List(Record("wire")), "a": PLAIN, "b": PLAIN, "c": PLAIN, "d": PLAIN}  # fmt: skip
WIRES = tuple(
    SimpleNamespace(area=area, bare=bare, size="12 AWG")
    for area, bare in ((0.0133, False), (0.0133, False), (0.0133, False), (0.0211, True))
)
VALUES: dict[str, Any] = {"bore": 0.304, "share": 0.4, "length": 24.0, "rating": 20.0,
                          "wires": WIRES, "a": 2.0, "b": 3.0, "c": 4.0, "d": 0.5}  # fmt: skip


def written(text: str, **more: Any) -> str:
    values = VALUES | more
    worker = Worker(Tracer(VOCABULARY, values, lambda e: "wire W"), {"share": "40 %"})
    return worker.write(check(text, KINDS, VOCABULARY))


@pytest.mark.parametrize(
    ("text", "calculation"),
    [
        ("bore * share", "0.304 in² × 40 %"),
        ("length", "24 in"),
        ("sum(w.area for w in wires)", "3 × 0.0133 in² + 0.0211 in²"),
        ("sum(w.area for w in wires if not w.bare)", "3 × 0.0133 in²"),
        ("sum(w.area for w in wires) / bore", "(3 × 0.0133 in² + 0.0211 in²) ÷ 0.304 in²"),
        ("sum(2 * w.area for w in wires if w.bare)", "2 × 0.0211 in²"),
        ("(a + b) ** 2", "(2 + 3)²"),
        ("length ** 2", "(24 in)²"),
        # Of a choice the branch that was taken.
        ("bore * share if rating > 2 * rating else bore", "0.304 in²"),
        ("a * (b + c)", "2 × (3 + 4)"),
        ("a * b + c", "2 × 3 + 4"),
        ("a - (b - c)", "2 − (3 − 4)"),
        ("a - b - c", "2 − 3 − 4"),
        ("a / (b / c)", "2 ÷ (3 ÷ 4)"),
        ("a / (b * c)", "2 ÷ (3 × 4)"),
        ("a / b * c", "2 ÷ 3 × 4"),
        ("-(a + b)", "−(2 + 3)"),
        ("floor(a / d)", "(2 ÷ 0.5) rounded down"),
        ("sqrt(a * b)", "√(2 × 3)"),
        ("a > b", "2 > 3"),
        ("a > b and c > d", "(2 > 3)"),
        ("a < b and c > d", "(2 < 3) and (4 > 0.5)"),
        ("a < b or c > d", "(2 < 3)"),
        ("max(a, b)", "largest of (2, 3)"),
        ("max(w.area for w in wires)", "largest of (0.0133 in², 0.0211 in²)"),
        ("sum(w.area for w in wires if w.area > bore)", "0 (none)"),
    ],
)
def test_calculation(text: str, calculation: str) -> None:
    assert written(text) == calculation


def test_what_is_not_stated_is_said() -> None:
    lacking = (*WIRES, SimpleNamespace(area=Missing("area"), bare=False, size="12 AWG"))
    assert NOT_STATED in written("sum(w.area for w in wires)", wires=lacking)
    assert isinstance(
        traced(check("sum(w.area for w in wires)", KINDS, VOCABULARY), {"wires": lacking}), Unknown
    )


def test_values_as_text() -> None:
    assert show_value(0.4, PLAIN, "%") == "40 %"
    assert show_value(True, FLAG) == "yes"
    assert show_value((), List(PLAIN)) == "none"
    assert show_value(["12 AWG", "12 AWG", "10 AWG"], List(WIRE_SIZE)) == "12 AWG, 10 AWG"
    assert show_value(None, PLAIN) == NOT_STATED
    long = [float(n) for n in range(40)]
    assert show_value(long, List(PLAIN)).endswith("and 28 more")


names = st.sampled_from("abcd")


def combine(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return st.one_of(
        st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda t: f"({' '.join(t)})"),
        inner.map(lambda e: f"-{e}"),
        inner.map(lambda e: f"({e}) ** 2"),
    )


@settings(max_examples=300, deadline=None, derandomize=True)
@given(
    st.recursive(names, combine, max_leaves=8).filter(lambda e: len(e) < 300),
    st.fixed_dictionaries(dict.fromkeys("abcd", st.integers(1, 40).map(lambda n: n / 4))),
)
def test_a_reader_gets_the_same_result(text: str, values: dict[str, float]) -> None:
    """The written calculation, taken literally, has the value of the expression."""
    try:
        value = traced(check(text, KINDS, VOCABULARY), values, VOCABULARY)
    except EvaluationError:
        assume(False)
    plain = written(text, **values).translate(
        str.maketrans({"×": "*", "÷": "/", "−": "-", "²": "**2"})
    )
    assert math.isclose(eval(plain), value, rel_tol=1e-9, abs_tol=1e-9), plain
