"""Collections gone through as loops: the results of the expression as written, by plain Python.

Python itself is the reference: what it gives for the same text on the same items.
"""

from __future__ import annotations

import ast
from types import SimpleNamespace
from typing import Any

import pytest
from expressions import code, compiled, traced, value_of, worked
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.documents.missing import Missing, MissingData
from checker.language.check import check
from checker.language.types import COUNT, FLAG, TEXT, WIRE_SIZE, List, Record, Vocabulary
from checker.language.unknown import Unknown

WIRE = {"size": WIRE_SIZE, "bare": FLAG, "color": TEXT, "count": COUNT, "inner": List(COUNT),
        "next": List(Record("wire"))}  # fmt: skip
VOCABULARY = Vocabulary({"wire": WIRE}, {})
KINDS = {"wires": List(Record("wire")), "n": COUNT}

#: Expressions that mean the same in Python, of every way of going through a collection.
SHARED = [
    "any(w.bare and w.count > n for w in wires)",
    "any(k > n for w in wires if w.bare for k in w.inner)",
    "all(k > n for w in wires for k in w.inner if k != 2)",
    "all(w.bare or w.count == n for w in wires)",
    "[k for w in wires if w.count >= n for k in w.inner if k > 1]",
    "[v.count for w in wires for v in w.next if v.bare == w.bare]",
    "[w.count for w in wires if any(w.count == v.count for v in w.next)]",
    "[w.count for w in wires if any(w.bare for w in w.next)]",
    "sum(x for w in wires for x in [w.count + n])",
    "sum(x + y for x in [n] for y in [x + 1])",
    "sum(w.count for w in wires if w.bare) + sum(w.count for w in wires if w.bare and w.count > n)"
    " + sum(v.count for v in wires if v.bare and v.count > n)",
    "[a.color for a in wires if a.bare] + [b.color for b in wires if b.bare and b.count > n]",
    "any(w.bare for w in wires) and all(w.bare for w in wires) or n > 2",
    "n if any(w.count > n for w in wires) else 0 if all(w.bare for w in wires) else 1",
]  # fmt: skip


def _wires() -> st.SearchStrategy[tuple[Any, ...]]:
    small = st.integers(0, 4)
    plain = st.builds(
        SimpleNamespace,
        size=st.sampled_from(["14 AWG", "12 AWG", "1/0 AWG"]),
        bare=st.booleans(),
        color=st.sampled_from(["black", "red"]),
        count=small,
        inner=st.lists(small, max_size=3).map(tuple),
        next=st.just(()),
    )

    def joined(items: list[SimpleNamespace]) -> tuple[SimpleNamespace, ...]:
        for place, item in enumerate(items):
            item.next = tuple(items[place + 1 : place + 3])
        return tuple(items)

    return st.lists(plain, max_size=5).map(joined)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(_wires(), st.integers(0, 4))
def test_loops_give_what_python_gives(wires: tuple[Any, ...], n: int) -> None:
    for text in SHARED:
        wanted = eval(text, {"wires": wires, "n": n})
        found = value_of(text, KINDS, {"wires": wires, "n": n}, VOCABULARY)
        assert (list(found) if isinstance(found, list | tuple) else found) == wanted, text


@settings(max_examples=60, deadline=None, derandomize=True)
@given(_wires(), st.integers(0, 4))
def test_largest_and_smallest_are_those_of_python(wires: tuple[Any, ...], n: int) -> None:
    counts = [k for w in wires for k in (*w.inner, n)]
    for name, call in (("max", max), ("min", min)):
        text = f"{name}(k for w in wires for k in w.inner + [n])"
        if counts:
            assert value_of(text, KINDS, {"wires": wires, "n": n}, VOCABULARY) == call(counts)
            continue
        done = check(text, KINDS, VOCABULARY)
        with pytest.raises(ValueError, match="empty"):
            compiled(done, {"wires": wires, "n": n}, VOCABULARY)
        assert isinstance(traced(done, {"wires": wires, "n": n}, VOCABULARY), Unknown)


def test_the_first_of_equals_is_the_largest() -> None:
    """As Python has it, so that both evaluations name the same one."""
    wires = tuple(SimpleNamespace(size=s, count=c) for s, c in (("12 AWG", 1), ("12 AWG", 2)))
    text = "first(w.count for w in wires if w.size == max(v.size for v in wires))"
    assert value_of(text, KINDS, {"wires": wires}, VOCABULARY) == 1


@pytest.mark.parametrize(
    "text",
    [
        "max(w.count for w in wires)",
        "max(w.size for w in wires) >= '14 AWG'",
        "sum(w.count for w in wires)",
        "any(w.bare for w in wires)",
        "all(w.bare for w in wires)",
        "count(w for w in wires if w.bare)",
    ],
)
def test_one_item_that_is_not_stated_is_a_gap(text: str) -> None:
    """Even where there is nothing that it would be compared with."""
    item = SimpleNamespace(**{name: Missing(name) for name in WIRE})
    done = check(text, KINDS, VOCABULARY)
    with pytest.raises(MissingData):
        compiled(done, {"wires": (item,)}, VOCABULARY)
    assert isinstance(traced(done, {"wires": (item,)}, VOCABULARY), Unknown)


def test_what_several_go_through_is_listed_once() -> None:
    """Three expressions about the bare ones: one loop over all wires, three over those."""
    text = (
        "count(w for w in wires if w.bare and w.count > 1) + sum(v.count for v in wires if v.bare)"
        " + count(u for u in wires if u.bare and u.count == n)"
    )
    checked = check(text, KINDS, VOCABULARY)
    source, _ = code(checked, {"wires": "n_wires", "n": "n_n"}, VOCABULARY)
    loops = [n for n in ast.walk(ast.parse(source)) if isinstance(n, ast.For)]
    over = [n.iter.id for n in loops if isinstance(n.iter, ast.Name)]
    assert over.count("n_wires") == 1
    assert len(over) == 4


def test_a_name_that_is_given_again_means_the_inner_item() -> None:
    """Also where the same text goes through another item's collection inside."""
    leaves = tuple(SimpleNamespace(bare=b, count=c, next=()) for b, c in ((True, 1), (False, 2)))
    twigs = (SimpleNamespace(bare=True, count=4, next=leaves),)
    tops = (SimpleNamespace(bare=True, count=8, next=twigs),)
    again = "sum(w.count for w in w.next if w.bare)"
    more = f"{again} + sum(w.count for w in w.next if w.bare and w.count > n)"
    texts = [
        "[x for x in [n] for x in [x + 1]]",
        f"[{more} + x for w in wires for x in [{again}] for w in [first(v for v in w.next)]]",
        f"[x + {more} for w in wires for x in [{more}] for w in w.next]",
    ]
    for text in texts:
        names = {"wires": tops, "n": 0, "first": lambda items: next(iter(items))}
        wanted = eval(text, names)
        given = {"wires": tops, "n": 0}
        assert list(value_of(text, KINDS, given, VOCABULARY)) == wanted, text


def test_a_name_given_again_means_the_outer_item_in_the_next_round() -> None:
    """Checked by hand, since Python refuses to read the outer one at all here."""
    inside = SimpleNamespace(count=0, next=())
    wires = (SimpleNamespace(count=2, next=(inside,)), SimpleNamespace(count=1, next=()))
    # For the first wire, one of its own in each of two rounds; the second has none.
    text = "count(w for w in wires for k in [n, n] if w.count > n for w in w.next)"
    assert value_of(text, KINDS, {"wires": wires, "n": 0}, VOCABULARY) == 2
    listed = "sum(w.count + k for w in wires for k in [1, 1] if w.count > 1 for w in w.next)"
    assert value_of(listed, KINDS, {"wires": wires}, VOCABULARY) == 2
    assert worked(check(listed, KINDS, VOCABULARY), {"wires": wires}, VOCABULARY) == "2 × (0 + 1)"


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("any(1 / w.count > n for w in wires)", True),
        ("all(1 / w.count > 1 for w in wires)", False),
        ("first(1 / w.count for w in wires)", 0.5),
        ("first(w.count for w in wires if 1 / w.count > n)", 2),
        ("count(1 / w.count for w in wires)", 2),
    ],
)
def test_what_comes_after_the_decision_is_not_calculated(text: str, wanted: Any) -> None:
    """As Python has it: ``any``, ``all`` and the first of a generator stop where it is decided."""
    wires = tuple(SimpleNamespace(count=c) for c in (2, 0))
    assert value_of(text, KINDS, {"wires": wires, "n": 0}, VOCABULARY) == wanted


def test_an_unstated_item_of_a_list_is_a_gap() -> None:
    wire = SimpleNamespace(inner=(Missing("inner"), 2))
    for text, wanted in (("2 in w.inner", True), ("1 in w.inner", Unknown(("`inner`",)))):
        done = check(f"first({text} for w in wires)", KINDS, VOCABULARY)
        assert traced(done, {"wires": (wire,)}, VOCABULARY) == wanted
    text = "count(k for w in wires for k in w.inner if k == 2)"
    done = check(text, KINDS, VOCABULARY)
    assert traced(done, {"wires": (wire,)}, VOCABULARY) == Unknown(("`inner`",))
    assert worked(check(f"sum({text[6:]}", KINDS, VOCABULARY), {"wires": (wire,)}, VOCABULARY)


def test_nothing_listed_on_a_way_not_taken_is_used_elsewhere() -> None:
    """A list made where a condition held is not there where it did not."""
    wires = tuple(SimpleNamespace(bare=b, count=c) for b, c in ((True, 1), (False, 2), (True, 3)))
    text = (
        "(count(w for w in wires if w.bare) if n > 2 else 0) + count(w for w in wires if w.bare)"
        " + sum(w.count for w in wires if w.bare)"
    )
    for n, wanted in ((1, 6), (6, 8)):
        assert value_of(text, KINDS, {"wires": wires, "n": n}, VOCABULARY) == wanted
