"""Errors that teach: each mistake is told at its place, in the author's own words."""

from __future__ import annotations

import pytest
from mistakes import Mistake
from telling import MESSAGES, Told, every, tell, written

MISTAKES = [mistake for _, mistake in every()]
#: Words of programmers that a code official need not know.
JARGON = (
    "exception", "traceback", "token", "scalar", "parse", "syntax", "iterable", "NoneType",
    "AST", "null", "boolean", "string", "integer", "float", "indicator", "comprehension",
)  # fmt: skip


def names(mistake: Mistake) -> str:
    return mistake.name


@pytest.mark.parametrize("mistake", MISTAKES, ids=names)
def test_told(mistake: Mistake) -> None:
    told = tell(mistake)
    for words in mistake.says:
        assert words in told.text
    low = told.text.lower()
    assert not [word for word in JARGON if f" {word.lower()} " in low]
    if mistake.tested:
        return
    _at_its_place(mistake, told)


def _at_its_place(mistake: Mistake, told: Told) -> None:
    first = told.problems[0]
    assert len(told.problems) == mistake.count, told.text
    assert (first.line, first.column) == (told.line, told.column), told.text
    lines = told.text.split("\n")
    assert lines[0].startswith(f"{first.file}:{told.line}:{told.column} error: ")
    # The excerpt is the author's line, and the caret stands under what is meant.
    excerpt, caret = lines[1], lines[2]
    assert caret.strip() == "^" * told.length, told.text
    shown = excerpt[caret.index("^") :][: told.length]
    meant = first.excerpt[told.column - 1 :][: told.length].replace("\t", " ")
    assert shown == meant, told.text
    assert first.found or first.expected, "what was found, and what would do"


def test_there_are_enough() -> None:
    assert len(MISTAKES) >= 40
    assert len({m.name for m in MISTAKES}) == len(MISTAKES)


def test_the_page_of_messages_is_up_to_date() -> None:
    same = MESSAGES.read_text(encoding="utf-8") == written()
    assert same, "run `python tests/errors/telling.py`, and read what it changed in MESSAGES.md"
