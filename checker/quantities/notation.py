"""Quantities as the trade writes them: ``3/4 in``, ``8'-6 1/2"``, ``20 A``, ``30 degC``.

A number is read here, never by pint, which takes ``1 1/2 in`` for a product. Arithmetic is in
fractions with one rounding at the end, so equal lengths in different units are equal numbers.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from .dimension import NONE, Dimension
from .patterns import Lazy
from .units import BASE_TEXT, Unit, UnknownUnit, unit, usual_units


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with a unit. ``value`` is in the base unit; ``unit`` and ``text`` as written."""

    value: float
    unit: Unit
    text: str

    @property
    def dimension(self) -> Dimension:
        return self.unit.dimension


class NotationError(ValueError):
    """Text that is not the quantity or designation wanted.

    ``found`` is the text, ``expected`` what would do, ``suggestion`` a likely correction or "".
    """

    def __init__(self, found: str, expected: str, suggestion: str = "") -> None:
        super().__init__(found, expected, suggestion)
        self.found = found
        self.expected = expected
        self.suggestion = suggestion

    def __str__(self) -> str:
        hint = f"; nearest: {self.suggestion}" if self.suggestion else ""
        return f"found `{self.found}`, expected {self.expected}{hint}"


# Signs that look alike in print are read alike.
_LOOKALIKES = str.maketrans(
    {"′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "−": "-", "–": "-", "‑": "-"}
    | {"⁄": "/", "∕": "/"}
    | dict.fromkeys("\u00a0\u2007\u2009\u202f", " ")
)
_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5",
    "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
    "⅞": "7/8", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_VULGAR_SIGN = Lazy(r"(?:([0-9])[ -]*)?([" + "".join(_VULGAR) + "])")

_MIXED = r"[0-9]+[ -]+[0-9]+ ?/ ?[0-9]+"
_FRACTION = r"[0-9]+ ?/ ?[0-9]+"
_DECIMAL = r"(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_NUMBER = rf"(?:{_MIXED}|{_FRACTION}|{_DECIMAL})"
_FEET_INCHES = Lazy(
    rf"([+-]?)({_NUMBER}) ?(?:'|ft\.?|feet|foot) ?-? ?({_NUMBER}) ?(?:\"|''|in\.?|inch(?:es)?)"
)
_SIMPLE = Lazy(rf"([+-]?) ?({_NUMBER}) ?(.*)", re.DOTALL)
_THOUSANDS = Lazy(r"(?<![0-9.,])[0-9]{1,3}(?:,[0-9]{3})+(?![0-9,])")

_LONGEST = 60  # characters; the longest honest quantity has about 30
_LARGEST_EXPONENT = 30  # no quantity of an assembly is anywhere near
_CACHE: dict[str, Quantity] = {}
_CACHE_MOST = 20_000


def quantity(text: str, dimension: Dimension | None = None) -> Quantity:
    """Read a quantity; with ``dimension``, refuse any other.

    Raises NotationError for anything else, naming the units that would do. A bare number is a
    quantity only where a plain number is asked for.
    """
    found = _CACHE.get(text)
    if found is None:
        found = _read(text, dimension)
        if len(_CACHE) >= _CACHE_MOST:
            _CACHE.clear()
        # A bare number is right or wrong by what is asked for, so it is not remembered.
        if found.unit.text:
            _CACHE[text] = found
    if dimension is not None and found.unit.dimension != dimension:
        raise _wrong_dimension(found, dimension)
    return found


def number(text: str) -> Fraction:
    """A number without a unit, exactly: ``3/4``, ``4-11/16``, ``-1.5e3``. Raises NotationError."""
    match = _SIMPLE.fullmatch(_tidy(text))
    if match is None or match[3]:
        raise NotationError(text, "a number")
    return _signed(match[1], _number(match[2], text))


def _tidy(text: str) -> str:
    if not text.isascii():
        text = text.translate(_LOOKALIKES)
        text = _VULGAR_SIGN.sub(
            lambda m: f"{m[1]} {_VULGAR[m[2]]}" if m[1] else _VULGAR[m[2]], text
        )
    return " ".join(text.split())


def _read(text: str, dimension: Dimension | None) -> Quantity:
    wanted = _wanted(dimension)
    if len(text) > _LONGEST:
        raise NotationError(text[:_LONGEST] + "…", wanted)
    tidy = _tidy(text)
    if not tidy:
        raise NotationError(text, wanted)
    both = _FEET_INCHES.fullmatch(tidy)
    if both is not None:
        feet, inches = _number(both[2], text), _number(both[3], text)
        if feet.denominator != 1:
            raise NotationError(text, "whole feet before inches, as in 8 ft 6 in")
        return Quantity(_rounded(_signed(both[1], feet * 12 + inches), text), unit("in"), text)
    match = _SIMPLE.fullmatch(tidy)
    if match is None:
        raise NotationError(text, wanted, _suggestion(tidy, dimension))
    if match[3].startswith(("/", ",", "-", "_", ".")) or match[3][:1].isdigit():
        raise NotationError(text, _why_not(tidy, wanted), _suggestion(tidy, dimension))
    amount = _signed(match[1], _number(match[2], text))
    if not match[3]:
        if dimension is None or dimension != NONE:
            raise NotationError(text, wanted, _with_unit(tidy, dimension))
        return Quantity(_rounded(amount, text), _BARE, text)
    try:
        found = unit(match[3])
    except UnknownUnit as error:
        raise _unknown(text, tidy, match, error, dimension) from None
    return Quantity(_rounded(found.to_base(amount), text), found, text)


_BARE = Unit("", NONE, Fraction(1), Fraction(0), "")


def _number(text: str, whole_text: str) -> Fraction:
    head, slash, below = text.partition("/")
    if not slash:
        mantissa, _, exponent = text.lower().partition("e")
        if exponent and (len(exponent) > 4 or abs(int(exponent)) > _LARGEST_EXPONENT):
            raise NotationError(whole_text, f"an exponent within ±{_LARGEST_EXPONENT}")
        return Fraction(mantissa) * Fraction(10) ** int(exponent or 0)
    parts = head.replace("-", " ").split()
    above, under = int(parts[-1]), int(below)
    if under == 0:
        raise NotationError(whole_text, "a fraction that does not divide by zero")
    if len(parts) == 1:
        return Fraction(above, under)
    if above >= under:
        raise NotationError(whole_text, "a fraction below 1 after the whole number, as in 4-11/16")
    return int(parts[0]) + Fraction(above, under)


def _signed(sign: str, value: Fraction) -> Fraction:
    return -value if sign == "-" else value


def _rounded(value: Fraction, text: str) -> float:
    if abs(value) > 10**_LARGEST_EXPONENT * 1000:
        raise NotationError(text, "a number of a sensible size")
    rounded = float(value)  # the one rounding: correct to the nearest float
    assert math.isfinite(rounded)
    return rounded


def _wanted(dimension: Dimension | None) -> str:
    if dimension is None:
        return "a number with a unit, such as 3/4 in, 20 A or 720 VA"
    if dimension == NONE:
        return "a plain number"
    return f"a number with a unit of {dimension.name}: {usual_units(dimension)}"


def _why_not(tidy: str, wanted: str) -> str:
    if "," in tidy:
        return "a number without commas"
    return wanted


def _suggestion(tidy: str, dimension: Dimension | None) -> str:
    if "," in tidy:
        plain = _THOUSANDS.sub(lambda m: m[0].replace(",", ""), tidy)
        return plain if "," not in plain else ""
    spaced = re.sub(r"([0-9]) - ([0-9])", r"\1-\2", tidy)
    if spaced != tidy:
        try:
            return quantity(spaced, dimension).text
        except NotationError:
            return ""
    return ""


def _with_unit(tidy: str, dimension: Dimension | None) -> str:
    text = BASE_TEXT.get(dimension) if dimension is not None else None
    return f"{tidy} {text}" if text else ""


def _unknown(
    text: str, tidy: str, match: re.Match[str], error: UnknownUnit, dimension: Dimension | None
) -> NotationError:
    if match[3] in ("AWG", "awg"):
        return NotationError(text, f"{_wanted(dimension)}; AWG is a wire size, not a unit")
    near = error.nearest
    if dimension is not None and dimension.name == "temperature" and match[3] in "CF":
        near = f"deg{match[3]}"
    expected = f"{_wanted(dimension)}; no unit is called `{match[3]}`"
    return NotationError(text, expected, f"{match[1]}{match[2]} {near}" if near else "")


def _wrong_dimension(found: Quantity, dimension: Dimension) -> NotationError:
    expected = f"{_wanted(dimension)}, not of {found.dimension.name}"
    twin = {"degC": "delta_degC", "degF": "delta_degF"}
    if dimension.name == "temperature":
        twin = {v: k for k, v in twin.items()}
    elif dimension.name != "temperature difference":
        return NotationError(found.text, expected)
    other = twin.get(found.unit.text)
    return NotationError(
        found.text, expected, found.text.replace(found.unit.text, other) if other else ""
    )
