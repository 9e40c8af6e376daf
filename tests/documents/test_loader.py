"""YAML as data: values, places, and everything that is refused, with exact lines and columns.

Oracles: PyYAML's composer for places; the YAML 1.2.2 core schema (section 10.3.2) for scalars.
"""

from __future__ import annotations

import gc
import time
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.documents import loader
from checker.documents.errors import InputError, Mark, Problem
from checker.documents.loader import Limits, Mapping, Quoted, Sequence, load
from checker.documents.plain import plain
from checker.documents.source import Source


def root_of(text: str, **limits: int) -> Any:
    return load(Source.of_text(text), limits=Limits(**limits)).root


def problems_of(text: str, **limits: int) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as raised:
        root_of(text, **limits)
    return raised.value.problems


def places(node: Any, at: Mark) -> list[Any]:
    """Every place below a node, in the file's order."""
    if isinstance(node, Mapping):
        assert node.mark == at
        inner: list[Any] = [
            [node.key_mark(k), places(v, node.value_mark(k))] for k, v in node.items()
        ]
        return [at, inner]
    if isinstance(node, Sequence):
        assert node.mark == at
        return [at, [places(v, node.value_mark(i)) for i, v in enumerate(node)]]
    return [at, node]


def composed(node: yaml.Node) -> list[Any]:
    at = Mark(node.start_mark.line + 1, node.start_mark.column + 1)
    if isinstance(node, yaml.MappingNode):
        pairs = [
            [Mark(k.start_mark.line + 1, k.start_mark.column + 1), composed(v)]
            for k, v in node.value
        ]
        return [at, pairs]
    if isinstance(node, yaml.SequenceNode):
        return [at, [composed(v) for v in node.value]]
    empty = node.style is None or node.style == ""
    return [at, None if empty and node.value in ("", "~", "null", "Null", "NULL") else node.value]


# Letters, not every character: the loader refuses what YAML refuses, and this is about places.
words = st.text("ab é×漢😀:#'\"-{}[]\n0.~", max_size=12)
trees = st.recursive(
    words | st.none() | st.integers().map(str),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(words, inner, max_size=20),
    max_leaves=25,
)


@settings(max_examples=150, deadline=None)
@given(trees.filter(lambda t: t is not None), st.booleans(), st.booleans(), st.booleans())
def test_places_are_those_of_the_composer(tree: Any, flow: bool, wide: bool, crlf: bool) -> None:
    text = yaml.safe_dump(
        tree, default_flow_style=flow, allow_unicode=wide, sort_keys=False, width=30
    )
    if crlf:
        text = text.replace("\n", "\r\n")
    node = yaml.compose(text, Loader=yaml.SafeLoader)
    expected = composed(node)
    assert places(root_of(text), expected[0]) == expected


def test_both_parsers_give_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    text = "a: [1, 'b', \"c\\n\", ~]\nb: &x\n  - |\n    text\n  - {k: v}\nc: *x\nd: !!str 3\n"
    fast = root_of(text)
    monkeypatch.setattr(yaml, "__with_libyaml__", False)
    slow = root_of(text)
    assert fast == slow
    assert places(fast["a"], fast.value_mark("a")) == places(slow["a"], slow.value_mark("a"))
    assert [type(v) for v in fast["a"]] == [type(v) for v in slow["a"]]
    assert isinstance(slow["d"], Quoted)
    assert problems_of("a: [1\nb: 2\n")[0].line == 2


def test_scalars_stay_text() -> None:
    root = root_of(
        "a: true\nb: 'true'\nc: 012\nd: 1:30\ne: 2026-03-02\nf: |\n  x\ng: ~\nh:\ni: ''\nj: no\n"
    )
    assert root == {
        "a": "true", "b": "true", "c": "012", "d": "1:30", "e": "2026-03-02", "f": "x\n",
        "g": None, "h": None, "i": "", "j": "no",
    }  # fmt: skip
    assert [k for k, v in root.items() if isinstance(v, Quoted)] == ["b", "f", "i"]


def test_plain_values_follow_yaml_1_2() -> None:
    # Rows of the core schema's table 10.3.2, and the traps of YAML 1.1 that it does away with.
    text = (
        "[true, False, ~, null, 12, -7, 0o14, 0x1F, 1.5, 1e3, -.5, 12e03, no, on, 1:30, "
        "2026-03-02, 1_000, '12', 012, y, .inf, .nan, 1e999]"
    )
    assert plain(root_of(text)) == [
        True, False, None, None, 12, -7, 12, 31, 1.5, 1000.0, -0.5, 12000.0, "no", "on", "1:30",
        "2026-03-02", "1_000", "12", "012", "y", ".inf", ".nan", "1e999",
    ]  # fmt: skip
    assert type(plain(root_of("a: [b]"))) is dict
    assert type(plain(root_of("a: [b]"))["a"]) is list


def test_an_alias_is_placed_where_it_stands() -> None:
    root = root_of("a: &x {k: v}\nb: *x\n")
    assert root.value_mark("b") == Mark(2, 4)
    assert root["b"].key_mark("k") == Mark(1, 8)
    assert root["b"] is root["a"]


def test_places_in_a_large_mapping() -> None:
    root = root_of("".join(f"k{n}: v\n" for n in range(1000)))
    assert root.key_mark("k999") == Mark(1000, 1)
    assert root.value_mark("k500") == Mark(501, 7)
    with pytest.raises(KeyError):
        root.key_mark("k1000")


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("a: 1\nb: 2\na: 3\n", 3, 1, "twice"),
        ("b: {c: 1, 'c': 2}\n", 1, 11, "twice"),
        ("a: 1\n? {b: 1}\n: 2\n", 2, 3, "as a key"),
        ("a: 1\n[b]: 2\n", 2, 1, "as a key"),
        ("a: &x 1\n*x : 2\n", 2, 1, "as a key"),
        ("a: 1\n~: 2\n", 2, 1, "key is missing"),
        ("a: &x {b: 1}\nc:\n  <<: *x\n", 3, 3, "merge"),
        ("a: !!python/object:os.system x\n", 1, 4, "tags"),
        ("a: !foo {b: 1}\n", 1, 4, "cannot start"),
        ("a:\n  - !!int 3\n", 2, 5, "tags"),
        ("a: 1\n---\nb: 2\n", 2, 1, "second document"),
        ("%TAG ! tag:x,2000:\n---\na: 1\n", 1, 1, "%TAG"),
        ("%YAML 2.0\n---\na: 1\n", 1, 1, "version"),
        ("a: *x\n", 1, 4, "does not exist"),
        ("a: &x [*x]\n", 1, 8, "inside"),
        ("a: b: c\n", 1, 5, "colon"),
        ("a:\n\t- b\n", 2, 1, "a tab"),
        ("a: [1, 2\nb: 3\n", 1, 8, "brackets"),
        ("a: {x: 1\n", 1, 8, "braces"),
        ("a:\n  - {x: 1,\n     y: 2\n  - {x: 2}\n", 3, 9, "braces"),
        ("a:\n  - {x: 1\n     y: 2}\n", 2, 9, "lacks a comma"),
        ("a: {x: 1 y: 2}\n", 1, 11, "braces"),
        ("a:\n  - {x: #12, y: 1}\n  - {x: 2}\n", 2, 9, "starts a comment"),
        ("a:\n  - [1, # one\n\nb: 3\n", 4, 4, "brackets"),
        ('a: 1\nb: "abc\nc: 1\n', 2, 4, "not closed"),
        ("- a\nb: 1\n", 2, 1, "not indented like"),
        ("a: @x\n", 1, 4, "cannot start"),
        ('a: "\\q"\n', 1, 5, "escape"),
        ("a: 1\nb: \x07c\n", 2, 4, "control character"),
        ("---\n", 2, 1, "empty"),
        ("a: 1\n...\nb\n", 3, 1, "start or end"),
    ],
)
def test_what_is_refused_and_where(text: str, line: int, column: int, words: str) -> None:
    (problem,) = problems_of(text)
    assert words in problem.message
    assert (problem.line, problem.column) == (line, column)
    assert problem.excerpt == (text.split("\n")[line - 1] if line else "")


def test_a_text_with_a_colon_is_shown_in_quotes() -> None:
    (problem,) = problems_of("title: Headwall: type 7\n")
    assert problem.suggestion == 'title: "Headwall: type 7"'
    (problem,) = problems_of('title: Headwall: "7"\n')
    assert (problem.suggestion, problem.expected) == ("", "quotes around the text")


def test_a_duplicate_names_both_places_and_all_are_told() -> None:
    first, second = problems_of("a: 1\nb: 2\na: 3\nb: !x 4\n")[:2]
    assert "line 1, column 1" in first.found
    assert (second.line, second.column) == (4, 4)
    assert len(problems_of("a: 1\nb: 2\na: 3\nb: !x 4\n")) == 3


def test_the_usual_directives_and_tags_are_fine() -> None:
    assert root_of("%YAML 1.1\n---\na: 1\n") == {"a": "1"}
    assert root_of("%YAML 1.2\n---\na: 1\n...\n") == {"a": "1"}
    assert isinstance(root_of("a: !!str 12\n")["a"], Quoted)
    assert root_of('{"a": [1, true, null]}') == {"a": ["1", "true", None]}


def bomb() -> str:
    lines = ["a0: &a0 [x,x,x,x,x,x,x,x,x,x]"]
    lines += [f"a{n}: &a{n} [{','.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 40)]
    return "\n".join(lines)


def test_an_alias_bomb_is_bounded() -> None:
    begin = time.process_time()
    (problem,) = problems_of(bomb())
    assert "aliases" in problem.message
    assert time.process_time() - begin < 0.5


@pytest.mark.parametrize("text", ["[" * 100_000, "- " * 100_000, "{a: " * 100_000])
def test_deep_nesting_is_bounded(text: str) -> None:
    begin = time.process_time()
    (problem,) = problems_of(text)
    assert "inside each other" in problem.message
    assert time.process_time() - begin < 0.5


def test_depth_counts_what_aliases_bring() -> None:
    assert root_of("[" * 50 + "]" * 50)
    assert "inside each other" in problems_of("[" * 51 + "]" * 51)[0].message
    (problem,) = problems_of(f"a: &a {'[' * 30}{']' * 30}\nb: {'[' * 30}*a{']' * 30}\n")
    assert (problem.line, problem.column) == (2, 34)


def test_the_number_of_values_is_bounded() -> None:
    assert root_of("[a, b, c]", nodes=4)
    (problem,) = problems_of("[a, b, c, d]", nodes=4)
    assert "more than 4 values" in problem.message


@pytest.mark.parametrize("on", [True, False])
def test_the_collector_is_left_as_it_was(on: bool) -> None:
    was = gc.isenabled()
    try:
        (gc.enable if on else gc.disable)()
        root_of("a: 1")
        assert gc.isenabled() is on
        problems_of("a: [")
        assert gc.isenabled() is on
    finally:
        (gc.enable if was else gc.disable)()


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=60) | st.text("a:-&*!{}[]'\"|>?%#\n ,<~", max_size=60))
def test_any_text_is_read_or_refused_with_a_place(text: str) -> None:
    source = Source("x", b"", text)
    try:
        load(source)
    except InputError as error:
        lines = text.count("\n") + text.count("\r") + sum(map(text.count, "\x85\u2028\u2029")) + 1
        for problem in error.problems:
            assert 1 <= problem.line <= lines + 1
            assert problem.column >= 1
            assert problem.render().isprintable() or "\n" in problem.render()


def big_text() -> str:
    item = (
        "  - id: B{0}\n    kind: outlet   # marked\n    trade_size: 4 x 2-1/8 square\n"
        '    title: "box {0}"\n    devices: [{{id: D{0}, kind: receptacle, rating: 20 A}}]\n'
    )
    return "boxes:\n" + "".join(item.format(n) for n in range(1800))


def test_it_is_much_faster_than_the_usual_loader() -> None:
    source = Source.of_text(big_text())
    ours = min(_timed(lambda: load(source)) for _ in range(3))
    usual = min(_timed(lambda: yaml.load(source.text, Loader=yaml.CSafeLoader)) for _ in range(2))
    # Measured 4 to 5 times on a quiet machine.
    assert ours * 2 < usual
    assert loader.DEFAULT_LIMITS.nodes > 1_000_000


def _timed(work: Any) -> float:
    begin = time.process_time()
    work()
    return time.process_time() - begin
