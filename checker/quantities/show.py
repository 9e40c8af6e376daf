"""How a number with a unit is written for people: ``44.2 %``, ``0.2356 in²``, ``8 ft 6-1/2 in``."""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from . import units
from .dimension import AREA
from .units import Unit

_AREA_PLACES = 4
#: Significant digits of a number, unless more are asked for.
USUAL = 4


def show(value: float, unit: str | Unit, places: int | None = None, digits: int = USUAL) -> str:
    """A value in base units, written in the given unit.

    So many significant ``digits`` unless ``places`` (decimals) is given; those before the point are
    never dropped, trailing zeros always are, and an area has at most four decimals as a rule.
    """
    shown = unit if isinstance(unit, Unit) else units.unit(unit)
    if shown.factor == 1 and not shown.offset:
        inside = value
    elif math.isfinite(value):
        inside = float(shown.from_base(Fraction(value)))
    else:
        inside = value
    if places is None:
        places = _places(inside, digits)
        if shown.dimension == AREA:
            places = min(places, _AREA_PLACES + digits - USUAL)
    text = show_number(inside, places)
    symbol = shown.symbol
    if not symbol:
        return text
    return f"{text}°" if symbol == "°" else f"{text} {symbol}"


def show_number(value: float, places: int | None = None, digits: int = USUAL) -> str:
    """A plain number: trailing zeros trimmed, never ``-0``, halves rounded away from zero."""
    if not math.isfinite(value):
        return "not a number" if math.isnan(value) else ("∞" if value > 0 else "-∞")
    if value == int(value):
        return str(int(value))
    if places is None:
        places = _places(value, digits)
    # By way of the shortest decimal text, so that 2.675 shows as 2.68 as a reader expects.
    rounded = Decimal(repr(value)).quantize(Decimal(1).scaleb(-min(places, 12)), ROUND_HALF_UP)
    text = f"{rounded:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _places(value: float, digits: int) -> int:
    if value == 0 or not math.isfinite(value):
        return 0
    return min(12, max(0, digits - 1 - math.floor(math.log10(abs(value)))))


def show_length(value: float, digits: int = USUAL) -> str:
    """Inches as feet and inches to the nearest 1/16 in: ``8 ft 6-1/2 in``, ``3/4 in``, ``2 ft``."""
    if not math.isfinite(value) or digits > USUAL:
        return show_number(value, None, digits) + " in"
    sixteenths = math.floor(abs(value) * 16 + 0.5)
    sign = "-" if value < 0 and sixteenths else ""
    feet, rest = divmod(sixteenths, 12 * 16)
    whole, part = divmod(rest, 16)
    inches = str(whole)
    if part:
        fraction = Fraction(part, 16)
        text = f"{fraction.numerator}/{fraction.denominator}"
        inches = f"{whole}-{text}" if whole or feet else text
    if not feet:
        return f"{sign}{inches} in"
    return f"{sign}{feet} ft {inches} in" if rest else f"{sign}{feet} ft"
