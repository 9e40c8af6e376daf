"""What is wrong with an expression that cannot be read, in words for people who do not program.

Python's own parser says where it gave up, seldom what was meant.  Here the text is taken apart into
words, numbers, texts and signs, and looked through for the slips that authors make: a unit in an
expression, ``=`` for ``==``, ``AND``, curly quotes, a bracket that is never closed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from keyword import iskeyword
from typing import NamedTuple

from checker.quantities.nearest import nearest
from checker.quantities.unit_table import UNITS

from .trouble import Trouble


class Token(NamedTuple):
    """A piece of an expression: word, number, text, open (a quote never closed) or sign."""

    kind: str
    text: str
    offset: int


_TOKEN = re.compile(
    r"""(?P<text>'[^']*'|"[^"]*")|(?P<open>['"].*)"""
    r"""|(?P<number>[0-9][0-9_]*(?:\.[0-9]*)?(?:[eE][+-]?[0-9]+(?![A-Za-z]))?)"""
    r"""|(?P<word>[^\W\d]\w*)|(?P<sign>\*\*|//|<=|>=|==|!=|<>|=>|=<|&&|\|\||:=|\S)""",
    re.DOTALL,
)
_JOINS = frozenset(("and", "or", "not", "in", "if", "else", "for", "is"))
_SIZES = ("awg", "kcmil", "mcm")
_QUOTES = "“”‘’„«»`´"
#: Signs of print, and what is written for them.
_PLAIN = {
    "≤": "<=", "≥": ">=", "≠": "!=", "×": "*", "·": "*", "÷": "/", "−": "-", "–": "-", "—": "-",
    "∙": "*", "⋅": "*", "²": "** 2", "∧": "and", "∨": "or", "¬": "not",
}  # fmt: skip
_SIGNS = {
    "=": "==", "=>": ">=", "=<": "<=", "<>": "!=", "&&": "and", "||": "or", "!": "not",
    "|": "or", "&": "and", ";": "and",
}  # fmt: skip
_PAIRS = {"(": ")", "[": "]"}
_OPERATORS = frozenset(("+", "-", "*", "/", "**", "//", "<", ">", "<=", ">=", "==", "!=", ".", ","))
_CHOICE = "`a if condition else b`"


def tokens(text: str) -> list[Token]:
    """The pieces of an expression, in order."""
    return [Token(str(match.lastgroup), match[0], match.start()) for match in _TOKEN.finditer(text)]


def never_valid(text: str) -> Trouble | None:
    """What can be part of no expression, whatever else there is; None where there is no such."""
    plain = text.isascii() and "\\" not in text and "#" not in text
    if plain and not _NUMBER_AND_UNIT.search(text):
        return None
    found = tokens(text)
    for place, token in enumerate(found):
        trouble = _odd_sign(token) or _with_unit(found, place)
        if trouble is not None:
            return trouble
    return None


_NUMBER_AND_UNIT = re.compile(r"(?<![\w.])[0-9][0-9_.]*\s*[A-Za-z_%°\"']")


def explained(text: str, offset: int) -> Trouble:
    """What is wrong with a text that the parser gave up on at ``offset``."""
    found = tokens(text)
    for look in (_quotes, _words_and_signs, _brackets, _choices, _neighbours):
        trouble = look(found)
        if trouble is not None:
            return trouble
    around = text[offset : offset + 20]
    return Trouble(
        offset,
        1,
        "this cannot be read as an expression",
        around or "the end of the expression",
        "names, + - * /, comparisons, `and`, `or`, `not`, " + _CHOICE + ", functions",
    )


def _odd_sign(token: Token) -> Trouble | None:
    kind, text, offset = token
    if kind == "word" and not text.isascii():
        return Trouble(
            offset, len(text), "a name holds letters a to z, digits and `_` only", text,
            "a name without accents or special letters",
        )  # fmt: skip
    if kind in ("text", "open"):
        at = text.find("\\")
        if at >= 0:
            return Trouble(
                offset + at, 1, "a backslash means nothing here", "\\", "the text without it"
            )
        return None
    if kind != "sign":
        return None
    if text in _QUOTES:
        return Trouble(
            offset, 1, "this quotation mark is not one that is read here", text,
            "straight quotes, as in 'EMT'",
        )  # fmt: skip
    if text in _PLAIN:
        plain = _PLAIN[text]
        return Trouble(offset, 1, f"write `{plain}`", text, plain, plain)
    if text == "#":
        return Trouble(
            offset, 1, "a remark has no place in an expression", "#", "`note:` beside it"
        )
    if text == "\\" or not text.isascii():
        return Trouble(
            offset, 1, "this sign has no meaning in an expression", text,
            "names, + - * /, comparisons, `and`, `or`, `not`",
        )  # fmt: skip
    return None


def _with_unit(found: list[Token], place: int) -> Trouble | None:
    """A number with its unit, such as ``24 in``: a value that was not given a name."""
    number = found[place]
    if number.kind != "number" or place + 1 == len(found):
        return None
    mark = found[place + 1]
    end = number.offset + len(number.text)
    if not _is_unit(found, place + 1):
        if mark.kind != "word" or mark.offset > end:
            return None
        return Trouble(
            mark.offset, 1, f"a space is missing after `{number.text}`", number.text + mark.text,
            f"{number.text} {mark.text}",
        )  # fmt: skip
    unit = mark.text[0] if mark.kind in ("open", "text") else mark.text
    first = place
    while first >= 2 and found[first - 1].text in "/-" and found[first - 2].kind == "number":
        first -= 2  # 3/4 in, 1-1/2 in
    between = " " if mark.offset > end else ""
    start, end = found[first].offset, mark.offset + len(unit)
    written = "".join(t.text for t in found[first : place + 1]) + between + unit
    if unit.lower() in _SIZES:
        return Trouble(
            start, end - start, f"`{written}` is a wire size, and stands in quotes", written,
            f"'{written}'", f"'{written}'",
        )  # fmt: skip
    return Trouble(
        start,
        end - start,
        f"`{written}` is a number with a unit, and an expression holds only names",
        written,
        "a line under `values:` that gives it a name, such as `longest: {is: "
        f"{written}, cite: …}}`; then that name here",
    )


def _is_unit(found: list[Token], place: int) -> bool:
    """Whether the token after a number can only be its unit."""
    mark = found[place]
    following = found[place + 1] if place + 1 < len(found) else None
    if mark.kind in ("open", "text"):
        return mark.text[0] in "'\""  # feet and inches
    if mark.kind == "sign":
        # `a % b` is a remainder, which the language has not; it is reported elsewhere.
        return mark.text == "°" or (
            mark.text == "%"
            and (following is None or following.kind == "sign" or following.text in _JOINS)
            and (following is None or following.text not in ("(", "["))
        )
    if mark.text == "in":  # also the word that looks into a collection
        return (
            following is None
            or following.text in _JOINS
            or (following.kind == "sign" and following.text not in ("(", "["))
        )
    word = mark.text
    if mark.kind != "word" or word.lower() in (*_JOINS, "then"):
        return False
    return word in UNITS or word.lower() in _SIZES or nearest(word, UNITS) is not None


def _quotes(found: list[Token]) -> Trouble | None:
    for token in found:
        if token.kind == "open":
            return Trouble(
                token.offset, 1, "a quotation mark that is never closed", token.text[:20],
                f"the text between two of them, as in {token.text[0]}EMT{token.text[0]}",
            )  # fmt: skip
    return None


def _words_and_signs(found: list[Token]) -> Trouble | None:
    inside: list[str] = []
    for place, (kind, text, offset) in enumerate(found):
        before = found[place - 1] if place else None
        length = len(text)
        if kind == "sign" and text in _PAIRS:
            inside.append(text)
        elif kind == "sign" and text in _PAIRS.values() and inside:
            inside.pop()
        elif kind == "word" and text not in _JOINS and text.lower() in _JOINS:
            low = text.lower()
            return Trouble(offset, length, f"`{low}` is written in small letters", text, low, low)
        elif kind == "word" and text.lower() == "then":
            return Trouble(offset, length, "there is no `then`", text, _CHOICE)
        elif kind == "word" and before is not None and before.text == "." and iskeyword(text):
            return Trouble(
                offset, length, f"the field `{text}` is written with `_` after it", text,
                f"{text}_", f"{text}_",
            )  # fmt: skip
        elif kind == "sign" and text in _SIGNS:
            if text == "=" and inside[-1:] == ["("] and _names_a_key(found, place):
                continue
            right = _SIGNS[text]
            why = "equal is written `==`, with two signs"
            why = why if text == "=" else f"this is written `{right}`"
            return Trouble(offset, length, why, text, f"`{right}`", right)
        elif kind == "sign" and text in "{}":
            return Trouble(offset, 1, "braces belong in messages, not in an expression", text)
    return None


def _names_a_key(found: list[Token], place: int) -> bool:
    """Whether ``=`` gives a key of a look-up by its name: ``table.column(key=…``."""
    return place >= 2 and found[place - 1].kind == "word" and found[place - 2].text in "(,"


def _brackets(found: list[Token]) -> Trouble | None:
    waiting: list[Token] = []
    for token in found:
        if token.kind != "sign":
            continue
        if token.text in _PAIRS:
            waiting.append(token)
        elif token.text in _PAIRS.values():
            if not waiting:
                return Trouble(
                    token.offset, 1, "a bracket is closed that was never opened", token.text,
                    "as many opening as closing brackets",
                )  # fmt: skip
            wanted = _PAIRS[waiting.pop().text]
            if token.text != wanted:
                return Trouble(
                    token.offset, 1, f"`{wanted}` closes what was opened here", token.text,
                    wanted, wanted,
                )  # fmt: skip
    if waiting:
        last = waiting[-1]
        return Trouble(
            last.offset, 1, "a bracket that is never closed", last.text,
            f"`{_PAIRS[last.text]}` after what belongs inside",
        )  # fmt: skip
    return None


def _choices(found: list[Token]) -> Trouble | None:
    """``if`` where it cannot be, or without its ``else``."""
    for place, token in enumerate(found):
        if token.text == "if" and (place == 0 or found[place - 1].text in ("(", "[", ",")):
            return Trouble(token.offset, 2, "`if` stands after the first choice", "if", _CHOICE)
    words = [t for t in found if t.text in ("if", "else", "for")]
    choices = [t for t in words if t.text == "if"]
    if choices and not any(t.text == "for" for t in words):
        others = sum(t.text == "else" for t in words)
        if others < len(choices):
            return Trouble(choices[-1].offset, 2, "`if` lacks its `else`", "if", _CHOICE)
    return None


def _neighbours(found: list[Token]) -> Trouble | None:
    """Two values with nothing between them, or a sign with nothing after it."""
    if not found:
        return None
    for one, other in _pairs(found):
        if _ends_value(one) and other.kind in ("word", "number", "text") and not _joins(other):
            return Trouble(
                other.offset, len(other.text),
                f"nothing stands between `{one.text}` and `{other.text}`", other.text[:40],
                "+ - * / , a comparison, `and` or `or` between two values",
            )  # fmt: skip
        if one.text in _OPERATORS and other.text in _OPERATORS - {"-", "+"}:
            return Trouble(
                other.offset, len(other.text), f"a value is missing after `{one.text}`",
                one.text + " " + other.text, "a value between two signs",
            )  # fmt: skip
    last = found[-1]
    if last.text in _OPERATORS or _joins(last):
        return Trouble(
            last.offset, len(last.text), f"nothing follows `{last.text}`",
            "the end of the expression", "a value",
        )  # fmt: skip
    return None


def _pairs(found: list[Token]) -> Iterator[tuple[Token, Token]]:
    return pairwise(found)


def _joins(token: Token) -> bool:
    return token.kind == "word" and token.text in _JOINS


def _ends_value(token: Token) -> bool:
    return (token.kind in ("word", "number", "text") and not _joins(token)) or token.text in (
        ")",
        "]",
    )
