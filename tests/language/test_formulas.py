"""Formulas give what a Python function with the same body gives: Python itself is the judge."""

from __future__ import annotations

import pytest
from expressions import NOTHING, value_of, worked

from checker.language.check import check
from checker.language.formulas import Formula, free_names, read_formula
from checker.language.parse import ExpressionError
from checker.language.types import List, Number, Vocabulary

NUMBER = Number()
KINDS = {"a": NUMBER, "b": NUMBER, "items": List(NUMBER), "x": NUMBER, "i_2": NUMBER}
VALUES = {"a": 3.0, "b": -2.0, "items": (1.0, 2.0, 5.0), "x": 7.0, "i_2": 100.0}
PYTHON = {"count": lambda items: len(list(items)), "sum": sum, "max": max, "min": min}

BODIES = {
    "twice": (("n",), "n + n"),
    "area": (("n", "m"), "twice(n) * m"),
    "above": (("limit",), "count(x_ for x_ in items if x_ > limit)"),
    "largest": (("n",), "max(i + n for i in items)"),
    "shifted": (("group", "n"), "sum(i - n for i in group)"),
    "either": (("n", "m"), "n if n > m else m"),
    "constant": ((), "a * 2"),
    "named_as_the_item": (("i",), "largest(x) + i"),
    "beside_another": (("n",), "sum(i + n + i_2 for i in items)"),
    "each_by_each": (("group",), "sum(shifted([i, j], j) for i in group for j in group)"),
}

USES = [
    "twice(a)",
    "twice(twice(a)) - b",
    "area(a + b, twice(b))",
    "above(b) + above(2)",
    "largest(a)",
    "max(largest(i) for i in items)",  # the formula's own item is called `i` too
    "sum(shifted(items, i) for i in items)",
    "shifted([i * 2 for i in items], max(items))",
    "shifted([i for i in items if i > 1], max(i for i in items))",
    "either(a, b) ** 2",
    "either(either(a, b), largest(0)) if above(a) > 1 else twice(a)",
    "sum(either(i, a) * i for i in items if above(i) > 1)",
    "constant() + a",
    "a - twice(a)",
    "a / twice(a + b)",
    "named_as_the_item(a + b)",
    "sum(named_as_the_item(i) for i in items)",
    "sum(beside_another(i) + i_2 for i in items)",  # a value is called as a new name would be
    "each_by_each(items) + sum(each_by_each([i, i_2]) for i in items)",
]


def formulas() -> dict[str, Formula]:
    made: dict[str, Formula] = {}
    for name, (of, text) in BODIES.items():
        made[name] = read_formula(name, of, text, made)
    return made


@pytest.mark.parametrize("text", USES)
def test_a_formula_is_what_a_function_gives(text: str) -> None:
    space = dict(VALUES, **PYTHON)
    for name, (of, body) in BODIES.items():
        exec(f"def {name}({', '.join(of)}): return {body}", space)
    expected = eval(text, space)
    assert value_of(text, KINDS, VALUES, Vocabulary({}, {}, formulas())) == expected


def test_what_is_checked_is_the_calculation_itself() -> None:
    checked = check("area(a, b)", KINDS, Vocabulary({}, {}, formulas()))
    assert worked(checked, VALUES) == "(3 + 3) × -2"
    assert checked.text == "area(a, b)"
    assert checked.uses == {"a", "b"}


def test_names_that_a_formula_takes_from_its_surroundings() -> None:
    made = formulas()
    assert free_names(made["above"]) == {"count", "items"}
    assert free_names(made["area"]) == set()
    assert free_names(made["constant"]) == {"a"}


@pytest.mark.parametrize(
    ("text", "offset", "message"),
    [
        ("a + twice(a, b)", 4, "`twice` is written twice(n)"),
        ("twice(n=a)", 0, "`twice` is written twice(n)"),
        ("twice()", 0, "`twice` is written twice(n)"),
        ("a + twice", 4, "`twice` is a formula"),
        ("a + twise(a)", 4, "there is no function `twise`"),
        ("a + (shifted(a, b))", 13, "`for … in` goes through a collection"),
        ("twice(q)", 6, "nothing here is called `q`"),
    ],
)
def test_mistakes_point_at_what_the_author_wrote(text: str, offset: int, message: str) -> None:
    with pytest.raises(ExpressionError) as caught:
        check(text, KINDS, Vocabulary({}, {}, formulas()))
    assert next((t.offset, t.message) for t in caught.value.troubles) == (offset, message)


def test_a_parameter_cannot_be_an_item_as_well() -> None:
    with pytest.raises(ExpressionError, match="parameter"):
        read_formula("f", ("i",), "sum(i for i in items)", {})


@pytest.mark.parametrize("name", ["f", "later"])
def test_a_formula_cannot_use_itself_or_a_later_one(name: str) -> None:
    with pytest.raises(ExpressionError, match=f"`{name}`"):
        read_formula("f", ("n",), f"{name}(n) + 1", formulas())


def test_formulas_of_formulas_end_somewhere() -> None:
    made: dict[str, Formula] = {}

    def next_one(number: int) -> Formula:
        inner = f"f{number - 1}(n)" if number else "n"
        return read_formula(f"f{number}", ("n",), f"{inner} + {inner}", made)

    for number in range(7):
        made[f"f{number}"] = next_one(number)
    with pytest.raises(ExpressionError, match="too large"):
        next_one(7)


def test_a_parameter_hides_no_name_that_another_formula_speaks_of() -> None:
    made = formulas()  # constant() is twice the value `a`, whatever a parameter `a` may be
    with pytest.raises(ExpressionError, match="`constant` speaks of another `a`"):
        read_formula("f", ("a",), "constant() + a", made)


@pytest.mark.parametrize("calls", [2, 4, 11])
def test_formulas_do_not_nest_without_end(calls: int) -> None:
    made = {"f": read_formula("f", ("n",), "-" * 50 + "n", {})}
    with pytest.raises(ExpressionError, match="too large"):
        check("f(" * calls + "a" + ")" * calls, KINDS, Vocabulary({}, {}, made))
    assert value_of("f(a)", KINDS, VALUES, Vocabulary({}, {}, made)) == 3.0


def test_a_mistake_says_which_formula_it_is_in() -> None:
    made = {"f": read_formula("f", ("n",), "max(i for i in items if n - n) + twice(n)", formulas())}
    with pytest.raises(ExpressionError) as caught:
        check("a + f(b)", KINDS, Vocabulary({}, {}, made))
    (trouble,) = caught.value.troubles
    assert (trouble.offset, trouble.length) == (4, 4)
    assert trouble.message == "`if` takes yes-or-no values, in formula `f`"
    assert trouble.found == "`b - b` is a plain number"


def test_formulas_inside_each_other_end_quickly() -> None:
    many = "sum([" + ", ".join(["n"] * 60) + "])"
    made = {"f": read_formula("f", ("n",), many, {})}
    with pytest.raises(ExpressionError, match="too large"):
        check("f(" * 12 + "a" + ")" * 12, KINDS, Vocabulary({}, {}, made))


def test_what_a_formula_does_not_mention_costs_nothing() -> None:
    made = {"none": read_formula("none", ("n", "m"), "1 + 1", {})}
    inner = "n"
    for number in range(60):
        inner = f"none({inner}, {inner})" if number == 0 else f"none(f{number}(n), f{number}(n))"
        made[f"f{number + 1}"] = read_formula(f"f{number + 1}", ("n",), inner, made)
    assert value_of("f60(a)", KINDS, VALUES, Vocabulary({}, {}, made)) == 2


def test_without_formulas_nothing_changes() -> None:
    assert value_of("a + b", KINDS, VALUES, NOTHING) == 1.0
