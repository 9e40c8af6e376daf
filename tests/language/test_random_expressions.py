"""Expressions put together at random: Python, the compiled code and the traced one agree.

Python itself is the judge where every field is stated.  Where some are not, the compiled code may
only raise, and the traced evaluation may only say what it would say of whatever they were.
"""

from __future__ import annotations

import contextlib
from types import SimpleNamespace
from typing import Any

from expressions import compiled, traced
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from benchmarks.spelled import spelled
from checker.documents.missing import Missing, MissingData
from checker.language.check import check
from checker.language.formulas import read_formula
from checker.language.parse import ExpressionError
from checker.language.types import COUNT, FLAG, TEXT, Formula, List, Record, Vocabulary
from checker.language.unknown import Maybe, Unknown

WIRE = {"bare": FLAG, "color": TEXT, "count": COUNT, "inner": List(COUNT),
        "next": List(Record("wire"))}  # fmt: skip
KINDS = {"wires": List(Record("wire")), "n": COUNT, "flag": FLAG}


def _formulas() -> dict[str, Formula]:
    made: dict[str, Formula] = {}
    for name, of, text in (
        ("above", ("x", "y"), "count(w for w in wires if w.count > x) + y"),
        ("some", ("group",), "any(w.bare and w.count > n for w in group)"),
        ("twice", ("x",), "above(x, x) + above(n, x)"),
    ):
        made[name] = read_formula(name, of, text, made)
    return made


VOCABULARY = Vocabulary({"wire": WIRE}, {}, _formulas())
PYTHON = """
def above(x, y): return count(w for w in wires if w.count > x) + y
def some(group): return any(w.bare and w.count > n for w in group)
def twice(x): return above(x, x) + above(n, x)
def count(items): return len(list(items))
def first(items): return list(items)[0]
def distinct(items): return tuple(dict.fromkeys(items))
"""


@st.composite
def _text(draw: st.DrawFn, want: str, depth: int, items: tuple[str, ...]) -> str:
    """The text of an expression of some kind; ``items`` are the wires that it may speak of."""

    def part(kind: str, more: tuple[str, ...] = ()) -> str:
        return draw(_text(kind, depth - 1, (*items, *more)))

    def through() -> str:
        """What one or two collections are gone through for."""
        name = draw(st.sampled_from("vw"))
        whole = f"for {name} in {part('wires')}"
        for _ in range(draw(st.integers(0, 2))):
            whole += f" if {part('flag', (name,))}"
        return f"{part(want_inside, (name,))} {whole}"

    if want == "wires":
        choices = ["wires", *(f"{item}.next" for item in items)]
        if depth > 0:
            choices += [f"[{name} for {name} in {part('wires')} if {part('flag', (name,))}]"
                        for name in "v"]  # fmt: skip
        return draw(st.sampled_from(choices))
    if depth <= 0:
        fields = {"number": "count", "flag": "bare"}
        plain = {"number": ["n", "0", "1", "2"], "flag": ["flag", "n > 1"]}
        return draw(st.sampled_from([*plain[want], *(f"{i}.{fields[want]}" for i in items)]))
    if want == "number":
        way = draw(st.sampled_from(["sum", "count", "max", "first", "+", "-", "*", "if", "above",
                                    "twice", "least", "in"]))  # fmt: skip
        want_inside = "number"
        if way in ("sum", "count", "first", "max"):
            return f"{way}({through()})"
        if way == "least":
            return f"min({part('number')}, {part('number')})"
        if way == "in":
            return f"sum(k for k in {draw(st.sampled_from(items or ('first(wires)',)))}.inner)"
        if way == "if":
            return f"({part('number')} if {part('flag')} else {part('number')})"
        if way in ("above", "twice"):
            given = ", ".join(part("number") for _ in range(2 if way == "above" else 1))
            return f"{way}({given})"
        return f"({part('number')} {way} {part('number')})"
    way = draw(st.sampled_from(["any", "all", "and", "or", "not", "<=", "==", ">", "some", "in"]))
    want_inside = "flag"
    if way in ("any", "all"):
        return f"{way}({through()})"
    if way == "not":
        return f"(not {part('flag')})"
    if way == "some":
        return f"some({part('wires')})"
    if way == "in":
        return f"({part('number')} in [k for w in {part('wires')} for k in w.inner])"
    operands = "flag" if way in ("and", "or") else "number"
    return f"({part(operands)} {way} {part(operands)})"


def _expression() -> st.SearchStrategy[str]:
    return st.sampled_from(["number", "flag"]).flatmap(lambda want: _text(want, 3, ()))


def _wires(unstated: bool) -> st.SearchStrategy[tuple[Any, ...]]:
    def field(name: str, plain: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
        return (
            st.one_of(plain, plain, plain, st.builds(Missing, st.just(name))) if unstated else plain
        )

    one = st.builds(
        SimpleNamespace,
        bare=field("bare", st.booleans()),
        color=st.just("black"),
        count=field("count", st.integers(0, 3)),
        inner=field("inner", st.lists(st.integers(0, 3), max_size=2).map(tuple)),
        next=st.just(()),
    )

    def joined(items: list[SimpleNamespace]) -> tuple[SimpleNamespace, ...]:
        for place, item in enumerate(items):
            item.next = tuple(items[place + 1 : place + 3])
        return tuple(items)

    return st.lists(one, max_size=4).map(joined)


def _checked(text: str) -> Any:
    try:
        return check(text, KINDS, VOCABULARY)
    except ExpressionError:
        assume(False)  # collections too deep inside each other


@settings(max_examples=150, deadline=None, derandomize=True)
@given(_expression(), _wires(unstated=False), st.integers(0, 3), st.booleans())
def test_both_give_what_python_gives(text: str, wires: Any, n: int, flag: bool) -> None:
    checked = _checked(text)
    given = {"wires": wires, "n": n, "flag": flag}
    space = dict(given)
    exec(PYTHON, space)
    try:
        wanted = eval(text, space)
    except (ValueError, IndexError):  # the largest or the first of nothing
        traced(checked, given, VOCABULARY)  # what is undecided may not matter; it ends at least
        return
    assert traced(checked, given, VOCABULARY) == wanted
    with contextlib.suppress(ValueError, LookupError):  # it may look at more than is written
        assert compiled(checked, given, VOCABULARY) == wanted


@settings(max_examples=150, deadline=None, derandomize=True)
@given(_expression(), _wires(unstated=True), st.integers(0, 3), st.booleans(), st.data())
def test_what_is_not_stated_decides_nothing(
    text: str, wires: Any, n: int, flag: bool, data: st.DataObject
) -> None:
    """What either gives with gaps is given however the gaps are filled."""
    checked = _checked(text)
    given = {"wires": wires, "n": n, "flag": flag}
    slow = traced(checked, given, VOCABULARY)
    assert not isinstance(slow, Maybe)
    try:
        fast = compiled(checked, given, VOCABULARY)
    except (MissingData, ValueError, LookupError):
        pass
    else:
        assert fast == slow
    if isinstance(slow, Unknown):
        return
    plain = {"bare": st.booleans(), "count": st.integers(0, 3),
             "inner": st.lists(st.integers(0, 3), max_size=2).map(tuple)}  # fmt: skip
    for wire in wires:
        for name, values in plain.items():
            if isinstance(getattr(wire, name), Missing):
                setattr(wire, name, data.draw(values))
    assert traced(checked, given, VOCABULARY) == slow


@settings(max_examples=80, deadline=None, derandomize=True)
@given(_expression())
def test_what_is_written_again_means_the_same(text: str) -> None:
    """The nodes say all that the text says: written out and checked again they are the same."""
    checked = _checked(text)
    again = check(spelled(checked.node), KINDS, Vocabulary({"wire": WIRE}, {}))
    assert spelled(again.node) == spelled(checked.node)
    assert (again.kind, again.uses, again.digits) == (checked.kind, checked.uses, checked.digits)
