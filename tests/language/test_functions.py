"""What each function of the language gives, compiled and traced alike; hand arithmetic."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from expressions import compiled, traced, value_of

from checker.documents.missing import Missing, MissingData
from checker.language.check import check
from checker.language.functions import FUNCTIONS
from checker.language.trace import EvaluationError
from checker.language.types import (
    COUNT,
    FLAG,
    PLAIN,
    TEXT,
    TRADE_SIZE,
    WIRE_SIZE,
    List,
    Number,
    Record,
    Vocabulary,
)
from checker.language.unknown import Unknown
from checker.quantities.dimension import AREA, LENGTH

WIRE = {"size": WIRE_SIZE, "trade": TRADE_SIZE, "area": Number(AREA), "bare": FLAG, "color": TEXT,
        "count": COUNT, "inner": List(COUNT), "length": Number(LENGTH)}  # fmt: skip
VOCABULARY = Vocabulary({"wire": WIRE}, {})
KINDS = {"wires": List(Record("wire")), "none": List(Record("wire")), "x": PLAIN, "n": COUNT,
         "length": Number(LENGTH), "area": Number(AREA)}  # fmt: skip


def wire(size: str, area: float, **more: Any) -> SimpleNamespace:
    fields = {"trade": "1/2", "bare": False, "color": "black", "count": 1, "inner": (1, 2),
              "length": 12.0}  # fmt: skip
    return SimpleNamespace(size=size, area=area, **(fields | more))


WIRES = (
    wire("12 AWG", 0.25),
    wire("1/0 AWG", 0.5, trade="2-1/2", bare=True, color="red"),
    wire("250 kcmil", 0.125, trade="2", inner=(3,)),
    wire("14 AWG", 0.25, trade="1-1/4"),
)
VALUES = {"wires": WIRES, "none": (), "x": 2.5, "n": 3, "length": 24.0, "area": 16.0}


def give(text: str, **values: Any) -> Any:
    return value_of(text, KINDS, VALUES | values, VOCABULARY)


@pytest.mark.parametrize(
    ("text", "result"),
    [
        ("count(wires)", 4),
        ("count(none)", 0),
        ("count(w for w in wires if w.bare)", 1),
        ("sum(w.area for w in wires)", 1.125),
        ("sum(w.area for w in none)", 0),
        ("sum(w.count for w in wires)", 4),
        ("any(w.bare for w in wires)", True),
        ("any(w.bare for w in none)", False),
        ("all(w.bare for w in wires)", False),
        ("all(w.bare for w in none)", True),
        # Wire sizes in the trade's order: 14 is thinner than 12, 1/0 thicker than both, kcmil last.
        ("max(w.size for w in wires)", "250 kcmil"),
        ("min(w.size for w in wires)", "14 AWG"),
        # Trade sizes: 2 is larger than 1-1/4, though not as text.
        ("max(w.trade for w in wires)", "2-1/2"),
        ("min(w.trade for w in wires)", "1/2"),
        ("max(x, 1)", 2.5),
        ("min(x, 1, 2)", 1),
        ("max([w.area for w in none], area)", 16.0),
        ("max(w.area for w in wires)", 0.5),
        ("first(w.size for w in wires if w.area > 0)", "12 AWG"),
        ("count(distinct(w.color for w in wires))", 2),
        ("joined(w.size for w in wires if not w.bare)", "12 AWG, 250 kcmil, 14 AWG"),
        ("joined(w.color for w in wires)", "black, red"),
        ("floor(x)", 2),
        ("ceil(x)", 3),
        ("floor(-x)", -3),
        ("ceil(-x)", -2),
        ("whole_from(x, 1 / 2)", 3),
        ("whole_from(x, 1 / (x / 2))", 2),
        ("sqrt(area)", 4.0),
        ("abs(x - 2 * x)", 2.5),
        ("length ** 2", 576.0),
        ("x if n > 2 else 1", 2.5),
        ("'12 AWG' in [w.size for w in wires]", True),
        ("'10 AWG' not in [w.size for w in wires]", True),
        ("count([w.size for w in wires] + [w.size for w in wires])", 8),
        ("count(i for w in wires for i in w.inner)", 7),
        ("n == 2 + 1", True),
        ("1 < x < n", True),
        ("1 < x < 2", False),
        ("any(w.size >= '1/0 AWG' for w in wires)", True),
        ("all(w.size < '2/0' for w in wires)", False),
        ("not (n > 2 and x > 2) or n == 2", False),
    ],
)
def test_functions(text: str, result: Any) -> None:
    assert give(text) == result


def test_every_function_is_documented_and_known_here() -> None:
    assert set(FUNCTIONS) == {
        "count", "sum", "any", "all", "max", "min", "first", "distinct", "joined", "stated",
        "floor", "ceil", "whole_from", "sqrt", "abs",
    }  # fmt: skip
    for name, function in FUNCTIONS.items():
        assert function.usage.startswith(name + "(")
        assert function.says


# Rounding at a limit: a hair below a whole number, from arithmetic, is that whole number.
@pytest.mark.parametrize(
    ("x", "floor", "ceil"),
    [(2.9999999999999996, 3, 3), (3.0000000000000004, 3, 3), (2.999, 2, 3), (0.0, 0, 0),
     (-0.0000000000000001, 0, 0)],
)  # fmt: skip
def test_rounding_is_tolerant(x: float, floor: int, ceil: int) -> None:
    assert give("floor(x)", x=x) == floor
    assert give("ceil(x)", x=x) == ceil


# Chapter 9 note 7: a remainder of 0.8 or more counts one more.
@pytest.mark.parametrize(
    ("x", "whole"), [(7.8, 8), (7.79, 7), (7.7999999999999, 8), (15.78, 15), (8.97, 9), (0.8, 1)]
)
def test_whole_from(x: float, whole: int) -> None:
    assert value_of("whole_from(x, share)", KINDS | {"share": PLAIN},
                    VALUES | {"x": x, "share": 0.8}, VOCABULARY) == whole  # fmt: skip


# -- what is not stated ----------------------------------------------------------------------

LACK = Missing("area", "`area` of wire W")


def both(text: str, **values: Any) -> Any:
    """Traced value; where it is unknown the compiled code must not give one either."""
    checked = check(text, KINDS, VOCABULARY)
    slow = traced(checked, VALUES | values, VOCABULARY)
    try:
        fast = compiled(checked, VALUES | values, VOCABULARY)
    except (MissingData, LookupError, ArithmeticError, ValueError):
        return slow
    assert not isinstance(slow, Unknown), f"{text} gave {fast} though it is unknown"
    assert fast == slow
    return slow


PARTLY = (wire("12 AWG", 0.25), wire("12 AWG", LACK))  # type: ignore[arg-type]
UNSURE = (wire("12 AWG", 0.25, bare=Missing("bare", "`bare` of wire W")), wire("12 AWG", 0.25))


@pytest.mark.parametrize(
    "text",
    [
        "sum(w.area for w in wires)",
        "max(w.area for w in wires)",
        "min(w.area for w in wires)",
        "all(w.area > 0 for w in wires)",
        "any(w.area < 0 for w in wires)",
        "count(w for w in wires if w.area > 0)",
        "first(w.area for w in wires if w.area > area)",
        "area / sum(w.area for w in wires)",
        "area in [w.area for w in wires]",
        "count(distinct(w.area for w in wires)) > 0",
    ],
)
def test_a_gap_is_never_passed_over(text: str) -> None:
    found = both(text, wires=PARTLY)
    assert isinstance(found, Unknown)
    assert found.gaps == ("`area` of wire W",)


NAMELESS = (wire("12 AWG", 0.25, color=Missing("color", "`color` of wire W")),)


@pytest.mark.parametrize(
    "text",
    [
        # The very same gap on both sides is not known to be the same value.
        "all(w.color in [q.color for q in wires] for w in wires)",
        "all(w.color in distinct(q.color for q in wires) for w in wires)",
        "any(w.color not in [q.color for q in wires] for w in wires)",
        "all(w.color == q.color for w in wires for q in wires)",
        "all(w.color in ['black', 'red'] for w in wires)",
        "'black' in [w.color for w in wires]",
    ],
)
def test_a_gap_is_not_equal_to_itself(text: str) -> None:
    found = both(text, wires=NAMELESS)
    assert isinstance(found, Unknown)
    assert found.gaps == ("`color` of wire W",)


@pytest.mark.parametrize(
    ("text", "result"),
    [
        # One item decides, whatever the other is.
        ("all(w.area < 0 for w in wires)", False),
        ("any(w.area > 0 for w in wires)", True),
        ("n < 0 and all(w.area > 0 for w in wires)", False),
        ("n > 0 or all(w.area > 0 for w in wires)", True),
        # How many there are does not hang on their areas.
        ("count(wires)", 2),
        ("count(w.area for w in wires)", 2),
        ("any(stated(w.area) for w in wires)", True),
        ("all(stated(w.area) for w in wires)", False),
        ("sum(w.area for w in wires if stated(w.area))", 0.25),
        # A choice that comes to the same either way.
        ("n if all(w.area > 0 for w in wires) else n", 3),
    ],
)
def test_what_a_gap_does_not_touch_is_known(text: str, result: Any) -> None:
    checked = check(text, KINDS, VOCABULARY)
    assert traced(checked, VALUES | {"wires": PARTLY}, VOCABULARY) == result


HALF = (
    wire("12 AWG", 0.25, inner=(1, 2)),
    wire("12 AWG", 0.25, inner=Missing("inner", "`inner` of wire W")),
)


@pytest.mark.parametrize("turned", [False, True])
def test_a_collection_within_a_collection_that_is_not_stated(turned: bool) -> None:
    """What the stated ones hold may decide; nothing else is concluded."""
    wires = HALF[::-1] if turned else HALF
    assert both("any(i > 1 for w in wires for i in w.inner)", wires=wires) is True
    assert both("all(i > 1 for w in wires for i in w.inner)", wires=wires) is False
    for text in (
        "any(i > 2 for w in wires for i in w.inner)",
        "all(i > 0 for w in wires for i in w.inner)",
        "count(i for w in wires for i in w.inner)",
        "sum(i for w in wires for i in w.inner)",
        "count(distinct(i for w in wires for i in w.inner))",
    ):
        assert both(text, wires=wires) == Unknown(("`inner` of wire W",)), text


def test_first_looks_no_further_than_the_first() -> None:
    assert both("first(w.area for w in wires if w.area > 0)", wires=PARTLY) == 0.25
    unknown = both("first(w.area for w in wires if w.area > 0)", wires=PARTLY[::-1])
    assert unknown == Unknown(("`area` of wire W",))


def test_three_valued_and_or_not() -> None:
    """Kleene's tables: false and unknown is false, true or unknown is true."""
    kinds = {"a": FLAG, "b": FLAG}
    states = {"t": True, "f": False, "u": None}
    conjunction = {"tt": "t", "tf": "f", "tu": "u", "ft": "f", "ff": "f", "fu": "f", "ut": "u",
                   "uf": "f", "uu": "u"}  # fmt: skip
    for pair, expected in conjunction.items():
        values = {
            name: Unknown(("gap",)) if state == "u" else states[state]
            for name, state in zip("ab", pair, strict=True)
        }
        for text, turned in (("a and b", False), ("not (not a or not b)", True)):
            found = traced(check(text, kinds, VOCABULARY), values)
            assert ("u" if isinstance(found, Unknown) else "t" if found else "f") == expected, (
                text, pair, turned,
            )  # fmt: skip


def test_an_item_of_which_it_is_unknown_whether_it_belongs() -> None:
    assert isinstance(both("count(w for w in wires if w.bare)", wires=UNSURE), Unknown)
    assert isinstance(both("sum(w.area for w in wires if w.bare)", wires=UNSURE), Unknown)
    assert isinstance(both("all(w.area < 0 for w in wires if w.bare)", wires=UNSURE), Unknown)
    # It would hold for that item too.
    assert both("all(w.area > 0 for w in wires if w.bare)", wires=(UNSURE[1],)) is True


@pytest.mark.parametrize("text", ["x / (n - n)", "sqrt(x - 2 * x)", "length / (length - length)"])
def test_what_has_no_value_is_an_evaluation_error(text: str) -> None:
    with pytest.raises(EvaluationError):
        traced(check(text, KINDS, VOCABULARY), VALUES, VOCABULARY)
    with pytest.raises((ArithmeticError, ValueError)):
        compiled(check(text, KINDS, VOCABULARY), VALUES, VOCABULARY)


@pytest.mark.parametrize("text", ["first(w.size for w in none)", "max(w.area for w in none)"])
def test_nothing_to_take_is_a_gap(text: str) -> None:
    assert isinstance(both(text), Unknown)
