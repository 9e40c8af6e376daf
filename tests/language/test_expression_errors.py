"""What is wrong with an expression, told at load: place, what was found, what would do.

The mark ``«`` stands before what is wrong; the place is counted from it.
"""

from __future__ import annotations

import pytest

from checker.language.check import check
from checker.language.parse import MAX_CHARACTERS, MAX_DEPTH, ExpressionError
from checker.language.template import read_template
from checker.language.types import (
    COUNT,
    FLAG,
    PLAIN,
    TRADE_SIZE,
    WIRE_SIZE,
    Designation,
    List,
    Number,
    Record,
    Text,
    Vocabulary,
)
from checker.quantities.dimension import AREA, CURRENT, LENGTH, TEMPERATURE

WIRE = {"size": WIRE_SIZE, "area": Number(AREA), "bare": FLAG,
        "role": Text(("phase", "neutral", "ground"))}  # fmt: skip
RACEWAY = {"length": Number(LENGTH), "size": TRADE_SIZE, "wires": List(Record("wire"))}


class Bores:
    """A table with two keys and two columns."""

    key_types = {"method": Text(), "size": TRADE_SIZE}
    column_types = {"area": Number(AREA), "diameter": Number(LENGTH)}


VOCABULARY = Vocabulary({"wire": WIRE, "raceway": RACEWAY}, {"bores": Bores()})  # type: ignore[dict-item]
KINDS = {
    "raceway": Record("raceway"), "everything": List(Record("raceway"), wide=True),
    "share": PLAIN, "nipple": Number(LENGTH), "rating": Number(CURRENT), "count_limit": COUNT,
    "ambient": Number(TEMPERATURE),
}  # fmt: skip


def troubles(marked: str) -> tuple[int, list[object]]:
    """Where the mark is, and what the checker says of the text without it."""
    offset = marked.index("«")
    with pytest.raises(ExpressionError) as raised:
        check(marked.replace("«", ""), KINDS, VOCABULARY)
    return offset, list(raised.value.troubles)


@pytest.mark.parametrize("text", ["max(box, box)", "min(b for b in [box])"])
def test_standard_boxes_have_no_order(text: str) -> None:
    """4 x 1-1/2 square is neither more nor less than 3 x 2 x 3-1/2 device."""
    with pytest.raises(ExpressionError, match="takes numbers, wire sizes or trade sizes"):
        check(text, {"box": Designation("box_size")}, VOCABULARY)


def test_standard_boxes_are_not_compared_by_size() -> None:
    with pytest.raises(ExpressionError, match="has no order"):
        check("box < '4 x 2-1/8 square'", {"box": Designation("box_size")}, VOCABULARY)


# text with the mark, words of the message, found, words of what would do, nearest
CASES: list[tuple[str, str, str, str, str]] = [
    ("«sharre * 2", "nothing here is called `sharre`", "sharre", "share", "share"),
    ("raceway.«lenght", "has no field `lenght`", "lenght", "length", "length"),
    (
        "«raceway.length + rating",
        "cannot add a length and a current",
        "raceway.length",
        "same kind",
        "",
    ),
    ("«raceway.length > rating", "cannot compare", "`rating` is a current", "same kind", ""),
    ("share * «24", "a number without a name", "24", "declare it under `values:`", ""),
    ("share > «0.4", "a number without a name", "0.4", "declare it under `values:`", ""),
    ("«share and rating > rating", "`and` takes yes-or-no values", "share", "share > 0", ""),
    ("not «count(raceway.wires)", "`not` takes yes-or-no values", "count", "> 0", ""),
    ("«cuont(raceway.wires)", "there is no function `cuont`", "cuont", "count", "count"),
    (
        "«boores.area(method='EMT', size=raceway.size)",
        "there is no table `boores`",
        "boores",
        "bores",
        "bores",
    ),
    (
        "bores.«aria(method='EMT', size=raceway.size)",
        "has no column `aria`",
        "aria",
        "area",
        "area",
    ),
    (
        "bores.area(method='EMT', size=raceway.size, «sise=share)",
        "has no key `sise`",
        "sise",
        "size",
        "size",
    ),
    ("«bores.area(method='EMT')", "lacks `size`", "bores.area", "size=…", ""),
    (
        "bores.area(method='EMT', size=«raceway.length)",
        "takes a trade size",
        "is a length",
        "a trade size",
        "",
    ),
    ("bores.area(method='EMT', size=«'7/8')", "not a trade size", "7/8", "a trade size", "3/4"),
    ("«bores", "is a table", "bores", "bores.column", ""),
    ("«count", "is a function", "count", "count(", ""),
    (
        "any(w.role == «'phse' for w in raceway.wires)",
        "is never 'phse'",
        "phse",
        "phase",
        "phase",
    ),
    (
        "any(w.role in ['phase', «'nutral'] for w in raceway.wires)",
        "is never 'nutral'",
        "nutral",
        "neutral",
        "neutral",
    ),
    (
        "any(w.size > «'13 AWG' for w in raceway.wires)",
        "not a wire size",
        "13 AWG",
        "wire size",
        "12 AWG",
    ),
    ("sqrt(«nipple)", "takes a number whose dimension is a square", "nipple", "sqrt(area)", ""),
    ("sum(«raceway.wires)", "takes a collection of numbers", "raceway.wires", "sum(", ""),
    ("floor(«nipple)", "takes plain numbers", "is a length", "floor(", ""),
    ("max(«share)", "two values or a collection", "share", "max(", ""),
    (
        "count(w for w in «raceway.length)",
        "goes through a collection",
        "raceway.length",
        "a collection",
        "",
    ),
    ("count(1 for «share in raceway.wires)", "already has a meaning", "share", "another name", ""),
    ("«raceway.wires.size", "has no fields", ".size", "one item at a time", ""),
    (
        "raceway.size > raceway.size and «raceway.wires == raceway.wires",
        "two lists cannot be compared",
        "raceway.wires",
        "items",
        "",
    ),
    ("«ambient * 2", "a temperature cannot be multiplied", "ambient * 2", "difference", ""),
    (
        "«ambient + ambient",
        "two temperatures cannot be added",
        "ambient + ambient",
        "difference",
        "",
    ),
    ("«nipple if share > 1 else rating", "cannot choose between", "nipple", "same kind", ""),
    ("count(«[share, nipple])", "cannot list together", "share", "same kind", ""),
    ("stated(«share)", "`stated` asks for a field", "share", "stated(box.volume)", ""),
    ("nipple «≤ nipple", "write `<=`", "≤", "<=", "<="),
]


@pytest.mark.parametrize(("marked", "message", "found", "expected", "nearest"), CASES)
def test_place_and_words(
    marked: str, message: str, found: str, expected: str, nearest: str
) -> None:
    offset, told = troubles(marked)
    (trouble,) = told
    assert trouble.offset == offset  # type: ignore[attr-defined]
    assert message in trouble.message  # type: ignore[attr-defined]
    assert found in trouble.found  # type: ignore[attr-defined]
    assert expected in trouble.expected  # type: ignore[attr-defined]
    assert trouble.suggestion == nearest  # type: ignore[attr-defined]


def test_all_troubles_of_an_expression_are_told_at_once() -> None:
    with pytest.raises(ExpressionError) as raised:
        check("sharre * 24 + raceway.lenght", KINDS, VOCABULARY)
    assert [t.offset for t in raised.value.troubles] == [0, 9, 22]


# Nothing of Python beyond the documented list.
@pytest.mark.parametrize(
    "text",
    [
        "(lambda: 1)()", "raceway.__class__", "raceway.node", "[1][0]", "{1: 2}", "f'{share}'",
        "share ** share", "share // 2", "share % 2", "share @ share", "share | share", "~share",
        "share is share", "(x := 1)", "print(1)", "__import__('os')", "open('f')", "await share",
        "[*raceway.wires]", "{1, 2}", "1j", "b'x'", "...", "None", "share; share", "x = 1",
        "import os", "yield 1", "max(*raceway.wires)", "count(raceway.wires, key=1)",
        "(w for w in raceway.wires).gi_frame", "raceway.wires.append(1)", "eval('1')",
        "any(w.bare async for w in raceway.wires)", "share ** 2 ** 2 ** 2 ** 3", "share << 2",
        "''.join(raceway.wires)", "raceway.length.real", "globals()",
    ],
)  # fmt: skip
def test_what_is_not_part_of_the_language(text: str) -> None:
    with pytest.raises(ExpressionError):
        check(text, KINDS, VOCABULARY)


def test_bounds() -> None:
    for text in (
        "share + " * (MAX_CHARACTERS // 8) + "share",
        "(" * (MAX_DEPTH + 1) + "share" + ")" * (MAX_DEPTH + 1),
        " + ".join(["share"] * 200),
        "-" * 500 + "share",
        "",
        "   ",
    ):
        with pytest.raises(ExpressionError):
            check(text, KINDS, VOCABULARY)


def test_a_pass_of_the_whole_assembly_is_not_nested() -> None:
    check("count(r for r in everything)", KINDS, VOCABULARY)
    with pytest.raises(ExpressionError, match="whole assembly"):
        check("count(r for r in everything if any(q.length > r.length for q in everything))",
              KINDS, VOCABULARY)  # fmt: skip


def test_places_count_characters_over_line_breaks_and_wide_signs() -> None:
    first = "joined(w.role for w in raceway.wires if 'ü°' in ['ü°']) == 'ü'"
    text = f"share > share and\n  {first} or\n  «sharre > share"
    offset, told = troubles(text)
    assert [t.offset for t in told] == [offset]  # type: ignore[attr-defined]


# -- messages --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("marked", "message"),
    [
        ("use {«sharre as %}", "nothing here is called"),
        ("a brace «{share", "never closed"),
        ("a brace share«}", "without an opening one"),
        ("{nipple as «xyzzy}", "not a unit"),
        ("{nipple as «A}", "cannot be written in A"),
        ("{raceway.«lenght} and more", "has no field"),
    ],
)
def test_wrong_messages(marked: str, message: str) -> None:
    with pytest.raises(ExpressionError) as raised:
        read_template(marked.replace("«", ""), KINDS, VOCABULARY)
    (trouble,) = raised.value.troubles
    assert trouble.offset == marked.index("«")
    assert message in trouble.message


def test_doubled_braces_stand_for_themselves() -> None:
    template = read_template("{{nothing}} but {share as %}", KINDS, VOCABULARY)
    literal, (checked, unit) = template.parts
    assert (literal, checked.text, unit) == ("{nothing} but ", "share", "%")
    assert template.uses == {"share"}
