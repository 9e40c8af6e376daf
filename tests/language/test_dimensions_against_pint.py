"""The dimension checker against pint: what it refuses, what it gives, and the numbers.

Random expressions over quantities are computed by pint, which knows nothing of this program.  An
expression that pint cannot compute (unlike units added or compared, an absolute temperature
multiplied) must be refused at load; one that it computes must be accepted, with pint's dimension
and pint's number.
"""

from __future__ import annotations

import math
from collections import Counter
from functools import cache
from typing import Any

import pytest
from expressions import value_of
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from checker.language.check import check, dimension_of
from checker.language.parse import ExpressionError
from checker.language.types import FLAG, Number, Vocabulary
from checker.quantities.dimension import (
    AREA,
    CURRENT,
    DIFFERENCE,
    LENGTH,
    MASS,
    NONE,
    POWER,
    RESISTANCE,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
    Dimension,
)

# Units of pint that are the base units of the program, so that magnitudes are plain values.
UNITS = {
    LENGTH: "inch",
    AREA: "inch**2",
    VOLUME: "inch**3",
    CURRENT: "ampere",
    POWER: "volt*ampere",
    VOLTAGE: "volt",
    RESISTANCE: "ohm",
    MASS: "pound",
    NONE: "",
}
NAMES = {
    "length": LENGTH, "gap": LENGTH, "area": AREA, "volume": VOLUME, "amps": CURRENT,
    "rating": CURRENT, "load": POWER, "volts": VOLTAGE, "ohms": RESISTANCE, "weight": MASS,
    "share": NONE, "factor": NONE,
}  # fmt: skip
KINDS = {name: Number(dimension) for name, dimension in NAMES.items()}
NOTHING = Vocabulary({}, {})


@cache
def registry() -> Any:
    import pint

    return pint.UnitRegistry()


def quantities(values: dict[str, float]) -> dict[str, Any]:
    made = registry().Quantity
    return {name: made(value, UNITS[NAMES[name]]) for name, value in values.items()}


names = st.sampled_from(sorted(NAMES))
leaves = names | st.sampled_from(["1", "2"])


def combine(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    pair = st.tuples(inner, inner)
    return st.one_of(
        st.tuples(pair, st.sampled_from("+-*/")).map(lambda t: f"({t[0][0]} {t[1]} {t[0][1]})"),
        inner.map(lambda e: f"({e}) ** 2"),
        inner.map(lambda e: f"sqrt(abs({e}))"),
        inner.map(lambda e: f"abs(-({e}))"),
        pair.map(lambda t: f"max({t[0]}, {t[1]})"),
        pair.map(lambda t: f"min({t[0]}, {t[1]})"),
        st.tuples(pair, pair).map(lambda t: f"({t[0][0]} if {t[1][0]} < {t[1][1]} else {t[0][1]})"),
        inner.map(lambda e: f"(0 + {e})"),
        inner.map(lambda e: f"sum([{e}, {e}])"),
    )


expressions = st.recursive(leaves, combine, max_leaves=6).filter(lambda e: len(e) < 300)
# Quarters, so that sums are exact and only divisions and roots round.
amounts = st.integers(2, 40).map(lambda n: n / 4)
tables = st.fixed_dictionaries(dict.fromkeys(sorted(NAMES), amounts))


class RefusedError(Exception):
    """pint cannot compute it."""


def by_pint(text: str, values: dict[str, float]) -> Any:
    """pint's result.  Raises RefusedError where the units do not fit."""
    import pint

    one = registry().Quantity

    def root(x: Any) -> Any:
        if any(power % 2 for power in x.to_base_units()._units.values()):
            raise RefusedError  # the root of a length has no unit in the program
        return x**0.5

    def extreme(call: Any) -> Any:
        def choose(a: Any, b: Any) -> Any:
            a + b  # unlike units must be refused even where pint could still compare them
            return call(a, b)

        return choose

    def choose(test: Any, a: Any, b: Any) -> Any:
        a + b
        return a if test else b

    space = {
        **quantities(values),
        "sqrt": root,
        "max": extreme(max),
        "min": extreme(min),
        "sum": lambda items: items[0] + items[1],
        "choose": choose,
        "one": one(1.0),
        "two": one(2.0),
    }
    try:
        return eval(compile(_for_pint(text), "<pint>", "eval"), space)
    except (pint.DimensionalityError, pint.OffsetUnitCalculusError):
        raise RefusedError from None


def _for_pint(text: str) -> Any:
    """The same expression with its plain numbers as quantities and its choices as calls."""
    import ast

    class Turn(ast.NodeTransformer):
        def visit_Constant(self, node: ast.Constant) -> ast.expr:
            return ast.Name({1: "one", 2: "two"}[node.value], ast.Load()) if node.value else node

        def visit_BinOp(self, node: ast.BinOp) -> ast.expr:
            if isinstance(node.op, ast.Pow):
                node.left = self.visit(node.left)
                return node
            self.generic_visit(node)
            return node

        def visit_IfExp(self, node: ast.IfExp) -> ast.expr:
            self.generic_visit(node)
            parts = [node.test, node.body, node.orelse]
            return ast.Call(ast.Name("choose", ast.Load()), parts, [])

    return ast.fix_missing_locations(Turn().visit(ast.parse(text, mode="eval")))


def in_base_units(result: Any, dimension: Dimension) -> float:
    """pint's number in the program's base unit of the dimension that the program found."""
    unit = (
        f"inch**{dimension.length} * (volt*ampere)**{dimension.watts} * "
        f"ampere**{dimension.current} * pound**{dimension.mass}"
    )
    return float(result.to(unit).magnitude)


def test_pint_and_checker_agree() -> None:
    outcomes: Counter[str] = Counter()

    @settings(max_examples=300, deadline=None, derandomize=True)
    @given(expressions, tables)
    def agree(text: str, values: dict[str, float]) -> None:
        try:
            expected = by_pint(text, values)
        except RefusedError:
            outcomes["refused"] += 1
            with pytest.raises(ExpressionError):
                check(text, KINDS, NOTHING)
            return
        except ZeroDivisionError:
            assume(False)
        checked = check(text, KINDS, NOTHING)
        dimension = dimension_of(checked.kind)
        number = in_base_units(expected, dimension)  # pint refuses another dimension
        found = value_of(text, KINDS, values)
        # Subtractions of near equals lose digits; everything here is of ordinary size.
        assert math.isclose(found, number, rel_tol=1e-6, abs_tol=1e-6)
        outcomes["accepted"] += 1

    agree()
    assert outcomes["accepted"] > 40
    assert outcomes["refused"] > 40


# Temperatures, one by one: pint keeps absolute temperatures and differences apart too.
@pytest.mark.parametrize(
    ("text", "result"),
    [
        ("warm - cool", DIFFERENCE),
        ("warm + rise", TEMPERATURE),
        ("warm - rise", TEMPERATURE),
        ("max(warm, cool)", TEMPERATURE),
        ("rise * 2", DIFFERENCE),
        ("rise + rise", DIFFERENCE),
        ("rise / rise", NONE),
        ("warm + cool", None),
        ("warm * 2", None),
        ("2 * warm", None),
        ("warm / cool", None),
        ("warm ** 2", None),
        ("sum([warm, cool])", None),
        ("warm + length", None),
        ("warm * length", None),
    ],
)
def test_temperatures(text: str, result: Dimension | None) -> None:
    import pint

    made = registry().Quantity
    space = {
        "warm": made(30.0, "degC"), "cool": made(10.0, "degC"), "rise": made(5.0, "delta_degC"),
        "length": made(1.0, "inch"), "max": max, "sum": sum,
    }  # fmt: skip
    kinds = {
        "warm": Number(TEMPERATURE), "cool": Number(TEMPERATURE), "rise": Number(DIFFERENCE),
        "length": Number(LENGTH),
    }  # fmt: skip
    if result is None:
        with pytest.raises((pint.OffsetUnitCalculusError, pint.DimensionalityError)):
            eval(text, {}, space)
        with pytest.raises(ExpressionError):
            check(text, kinds, NOTHING)
        return
    expected = eval(text, {}, space)
    assert dimension_of(check(text, kinds, NOTHING).kind) == result
    values = {"warm": 30.0, "cool": 10.0, "rise": 5.0, "length": 1.0}
    assert value_of(text, kinds, values) == pytest.approx(expected.magnitude)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(expressions, expressions, tables, st.sampled_from(["<", "<=", ">", ">=", "==", "!="]))
def test_comparisons_need_like_units(a: str, b: str, values: dict[str, float], op: str) -> None:
    import pint

    text = f"{a} {op} {b}"
    try:
        left, right = by_pint(a, values), by_pint(b, values)
        left + right
    except (RefusedError, pint.DimensionalityError):
        with pytest.raises(ExpressionError):
            check(text, KINDS, NOTHING)
        return
    except ZeroDivisionError:
        assume(False)
    assert check(text, KINDS, NOTHING).kind == FLAG
    difference = float((left - right).to_base_units().magnitude)
    assume(abs(difference) > 1e-6)  # nearly equal values are the tolerance's, tested elsewhere
    assert value_of(text, KINDS, values) is {
        "<": difference < 0, "<=": difference < 0, ">": difference > 0, ">=": difference > 0,
        "==": False, "!=": True,
    }[op]  # fmt: skip
