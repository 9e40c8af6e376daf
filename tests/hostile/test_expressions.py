"""More than two hundred hostile expressions are refused, soon, with a message at a place."""

from __future__ import annotations

import ast
import time

import pytest
from attempts import EVERY
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.language.block import Block
from checker.language.check import check
from checker.language.compile import Emitter
from checker.language.parse import ExpressionError
from checker.language.runtime import GLOBALS
from checker.language.types import COUNT, Record
from checker.paths import tables_folder
from checker.rulebook.vocabulary import vocabulary_of
from checker.tables.collection import load_tables

VOCABULARY = vocabulary_of(load_tables(tables_folder()).for_edition("nec-2023"))
NAMES = {
    "raceway": Record("raceway"),
    "this": Record("raceway"),
    "assembly": Record("assembly"),
    "limit_value": COUNT,
}


def test_there_are_many() -> None:
    assert len(set(EVERY)) >= 200


#: What looks hostile and is not: it means what it says and can do nothing else.
HARMLESS = {"limit_value", "1_000_000 * 2"}


@pytest.mark.parametrize("text", EVERY)
def test_refused_soon_with_a_place(text: str) -> None:
    start = time.process_time()
    with pytest.raises(ExpressionError) as caught:
        check(text, NAMES, VOCABULARY)
    assert time.process_time() - start < 1
    for trouble in caught.value.troubles:
        assert 0 <= trouble.offset <= len(text)
        assert trouble.message


PIECES = st.sampled_from(
    [
        "raceway", "assembly", ".id", ".wires", ".length", ".__class__", ".pulls", "(", ")", "[", "]",
        " for w in ", " if ", " else ", " and ", " or ", "not ", "==", "<=", "+", "*", "/", "**", "1",
        "2", "'x'", "count", "sum", "max", "any", "first", "ampacity", ".ampacity", ".rows", "size=",
        "w", ".size", ",", " in ", "lambda: ", "{", "}", ":", "12 AWG", "0",
    ]
)  # fmt: skip


#: What the emitted code itself does beside reading fields: it fills lists, and ranks sizes.
OWN = {("x_", "append"), ("f_", "__getitem__")}


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.lists(PIECES, min_size=1, max_size=14).map("".join))
def test_anything_put_together_is_refused_or_harmless(text: str) -> None:
    """What is accepted compiles to code that reads declared fields and calls listed functions."""
    try:
        checked = check(text, NAMES, VOCABULARY)
    except ExpressionError:
        return
    names = {"raceway": "e", "this": "e", "assembly": "a"}
    emitter = Emitter(VOCABULARY, names, {"limit_value": 1})
    block = Block()
    emitter.look([checked])
    block.set("m", emitter.emit(checked, block))
    head = [emitter.start()] if emitter.counts else []
    tree = ast.parse("\n".join([*head, *block.lines]))
    fields = {field for record in VOCABULARY.records.values() for field in record}
    local = {n.id for n in ast.walk(tree) if isinstance(n, ast.Name) and n.id[:2] in ("c_", "x_")}
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute):
            if isinstance(node.value, ast.Name) and (node.value.id[:2], node.attr) in OWN:
                continue
            assert node.attr in fields or any(
                node.attr in t.key_types or node.attr in t.column_types
                for t in VOCABULARY.tables.values()
            )
            assert not node.attr.startswith("_")
        if isinstance(node, ast.Name):
            assert node.id in ("e", "a", "m", "b") or node.id in emitter.globals or node.id in local


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.text(max_size=60))
def test_any_text_at_all_raises_nothing_else(text: str) -> None:
    try:
        check(text, NAMES, VOCABULARY)
    except ExpressionError:
        pass


def test_code_has_no_builtins() -> None:
    assert GLOBALS["__builtins__"] == {}
    assert not {"open", "eval", "exec", "getattr", "__import__"} & set(GLOBALS)
