"""Texts with a grammar of their own: sizes, system voltages, dates, insulation types, names."""

from __future__ import annotations

from collections.abc import Callable
from keyword import iskeyword

from checker.quantities.designations import box_designation, trade_size, wire_size
from checker.quantities.notation import NotationError

_MAX_NAME = 200  # characters of a text in messages

#: What a designation is called in messages.
FORM_WORDS = {
    "wire_size": "a wire size such as 12 AWG, 1/0 AWG or 250 kcmil",
    "trade_size": "a trade size such as 3/4, 1-1/4 or metric 21",
    "box_size": "a standard box such as 4 x 2-1/8 square",
    "identifier": "a name",
    "reference": "the name of an element",
    "system": "system voltages such as 208Y/120, 480Y/277 or 120/240",
    "date": "a date written YYYY-MM-DD",
    "insulation": "an insulation type as marked, such as THHN",
    "words": "words that are not blank",
    "expression": "an expression",
    "template": "text",
    "name": "a name in snake_case, such as trade_size",
    "row": "a list of cells",
}


def read_date(text: str) -> str:
    """A calendar date written YYYY-MM-DD.  Raises NotationError."""
    if _is_date(text):
        return str(text)
    raise NotationError(text[:_MAX_NAME], FORM_WORDS["date"], _likely_date(text))


def _is_date(text: str) -> bool:
    parts = text.split("-")
    if [len(p) for p in parts] != [4, 2, 2]:
        return False
    if not all(p.isascii() and p.isdigit() for p in parts):
        return False
    year, month, day = map(int, parts)
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    days = (31, 29 if leap else 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    return year > 0 and 1 <= month <= 12 and 1 <= day <= days[month - 1]


_SPACES = str.maketrans(",/-.", "    ")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def _likely_date(text: str) -> str:
    """A date that was written otherwise; "" where day and month cannot be told apart."""
    parts = text[:40].translate(_SPACES).split()
    if len(parts) != 3:
        return ""
    if len(parts[0]) == 4:
        year, month, day = parts
    else:
        named = [p for p in parts[:2] if p[:3].lower() in _MONTHS]
        if len(named) != 1:
            return ""
        month = str(_MONTHS.index(named[0][:3].lower()) + 1)
        day, year = next(p for p in parts[:2] if p is not named[0]), parts[2]
    if not all(p.isascii() and p.isdigit() for p in (year, month, day)):
        return ""
    likely = f"{year:0>4}-{month:0>2}-{day:0>2}"
    return likely if _is_date(likely) else ""


def _system(text: str) -> str:
    wye, _, low = text.partition("/")
    high = wye[:-1] if wye[-1:] in ("Y", "D") else wye
    if high.isdigit() and (low.isdigit() or (not low and wye[-1:] != "Y")):
        return str(text)
    raise NotationError(text[:_MAX_NAME], FORM_WORDS["system"], "")


def _insulation(text: str) -> str:
    return "".join(text.split()).upper()


def _identifier(text: str) -> str:
    if text.isprintable() and not text.isspace() and "+" not in text:
        return str(text)
    raise NotationError(
        text[:_MAX_NAME], "a name of printable characters without `+` (it joins names of runs)", ""
    )


def _name(text: str) -> str:
    """A name that expressions can write after a dot: no word of Python's, hence."""
    plain = text.isidentifier() and text.isascii() and text == text.lower() and text[0] != "_"
    if plain and not iskeyword(text):
        return str(text)
    raise NotationError(text[:_MAX_NAME], FORM_WORDS["name"], "")


def _words(text: str) -> str:
    if text.strip():
        return str(text)
    raise NotationError("blank text", FORM_WORDS["words"], "")


FORMS: dict[str, Callable[[str], str]] = {
    "wire_size": wire_size,
    "trade_size": trade_size,
    "box_size": box_designation,
    "date": read_date,
    "system": _system,
    "insulation": _insulation,
    "identifier": _identifier,
    "words": _words,
    "name": _name,
}
