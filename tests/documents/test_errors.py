"""Problems as they are shown, and the nearest name."""

from __future__ import annotations

import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.documents.errors import InputError, Problem, nearest, printable


def test_the_layout() -> None:
    problem = Problem(
        "a.yaml", 3, 5, "unknown key in a box", "volum", "id, volume", "volume",
        "    volum: 30.3 in³", 5,
    )  # fmt: skip
    assert problem.render() == (
        "a.yaml:3:5 error: unknown key in a box\n"
        "          volum: 30.3 in³\n"
        "          ^^^^^\n"
        "  found:    volum\n"
        "  expected: id, volume\n"
        "  nearest:  volume"
    )


def test_lines_for_a_narrow_terminal() -> None:
    problem = Problem(
        "wall.yaml", 3, 61, "no box, panel or coupling of the assembly is called so", "JN9",
        "one of " + ", ".join(f"JN{i}" for i in range(30)), "JN1",
        "  - {id: R1, method: EMT, size: 3/4, section: S1, length: 6 ft, from: JN9, to: N11}", 3,
    )  # fmt: skip
    wide = problem.render()
    assert max(map(len, wide.split("\n"))) > 100
    for width in (40, 60, 80):
        lines = problem.render(width).split("\n")
        assert max(map(len, lines)) <= width
        at = next(i for i, line in enumerate(lines) if line.strip() == "^^^")
        marked = lines[at - 1][lines[at].index("^") :][:3]
        assert marked == problem.excerpt[60:63]
        kept = " ".join(" ".join(lines[: at - 1] + lines[at + 1 :]).split())
        assert kept == " ".join(" ".join(wide.split("\n")[:1] + wide.split("\n")[3:]).split()), (
            "no word is lost"
        )
    assert problem.render(200) == wide


def caret_of(problem: Problem) -> tuple[str, str]:
    _, excerpt, caret = problem.render().split("\n")[:3]
    return excerpt, caret


def test_long_lines_are_clipped_around_the_caret() -> None:
    excerpt, caret = caret_of(Problem("f", 1, 5001, "m", excerpt="x" * 5000 + "Y" + "x" * 5000))
    assert len(excerpt) < 110
    assert excerpt.count("…") == 2
    assert excerpt[caret.index("^")] == "Y"


def test_the_caret_stands_under_wide_and_escaped_characters() -> None:
    excerpt, caret = caret_of(Problem("f", 1, 4, "m", excerpt="漢\x1b\tY"))
    assert excerpt.strip() == "漢\\x1b Y"
    # 漢 takes two columns of a terminal, the escape four, the tab one.
    assert caret.index("^") == 6 + 2 + 4 + 1


@pytest.mark.parametrize("bad", ["\x1b[31m", "\x9b", "\u202e", "\u2066", "\u200f", "\x00", "\ud800",
                                 "\u2028", "\r", "\n", "\u200b", "\ufeff"])  # fmt: skip
def test_nothing_steers_the_terminal(bad: str) -> None:
    problem = Problem(f"f{bad}", 1, 1, f"m{bad}", bad, bad, bad, f"a{bad}b")
    for line in problem.render().split("\n"):
        assert line.isprintable()
    assert len(problem.render().split("\n")) == 6


@given(st.text(st.characters(exclude_categories=()), max_size=40))
def test_whatever_is_shown_is_printable(text: str) -> None:
    assert printable(text).isprintable()
    Problem(text, 1, 7, text, text, excerpt=text).render().encode("utf-8")


def test_an_input_error_holds_its_problems() -> None:
    one, two = Problem("f", 1, 1, "a"), Problem("f", 2, 1, "b")
    assert InputError(one).problems == (one,)
    assert InputError([one, two]).problems == InputError(one, two).problems == (one, two)
    assert pickle.loads(pickle.dumps(InputError(one, two))).problems == (one, two)
    assert "f:2:1 error: b" in str(InputError([one, two]))


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("volum", "volume"), ("volmue", "volume"), ("VOLUME", "volume"), ("colour", "color"),
        ("xyz", None), ("", None), ("a", None), ("Section", "section"), ("S11", "S1"),
    ],
)  # fmt: skip
def test_nearest(name: str, found: str | None) -> None:
    assert nearest(name, ["volume", "color", "section", "S1"]) == found


def test_a_swap_is_one_slip() -> None:
    assert nearest("ab12", ["ba12", "cd12"]) == "ba12"
    assert nearest("1N2", ["9N9", "12N"]) == "12N"
