"""Units: what one of each is in base units.

Base units: in, in², in³, A, VA, V, ohm, °C, a difference of 1 °C, a degree of angle, lb, and 1 for
plain numbers. Factors are fractions, so 12 in, 1 ft and 304.8 mm are the same number.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from .dimension import (
    ANGLE,
    AREA,
    CURRENT,
    DIFFERENCE,
    LENGTH,
    MASS,
    NONE,
    POWER,
    RESISTANCE,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
    Dimension,
)
from .nearest import nearest
from .unit_table import UNITS


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: base value = (value + offset) * factor. ``symbol`` is how reports write it."""

    text: str
    dimension: Dimension
    factor: Fraction
    offset: Fraction
    symbol: str

    def to_base(self, value: Fraction) -> Fraction:
        """A value in this unit, exactly, in the base unit."""
        return (value + self.offset) * self.factor

    def from_base(self, value: Fraction) -> Fraction:
        """A value in the base unit, exactly, in this unit."""
        return value / self.factor - self.offset


class UnknownUnit(ValueError):  # noqa: N818 - reads as what it is: "except UnknownUnit"
    """No unit is called ``text``; ``nearest`` is the one meant, perhaps."""

    def __init__(self, text: str, nearest: str | None) -> None:
        super().__init__(text, nearest)
        self.text = text
        self.nearest = nearest

    def __str__(self) -> str:
        hint = f"; nearest: {self.nearest}" if self.nearest else ""
        return f"no unit is called `{self.text}`{hint}"


# What to write, by dimension: for messages that say which units would do.
USUAL: dict[Dimension, tuple[str, ...]] = {
    NONE: ("%", "a number without a unit"),
    LENGTH: ("in", "ft", "mm", "m"),
    AREA: ("in²", "mm²", "kcmil"),
    VOLUME: ("in³", "cm³"),
    CURRENT: ("A", "kA"),
    POWER: ("VA", "kVA", "W", "kW"),
    VOLTAGE: ("V", "kV"),
    RESISTANCE: ("ohm",),
    TEMPERATURE: ("degC", "degF"),
    DIFFERENCE: ("delta_degC", "delta_degF"),
    ANGLE: ("deg",),
    MASS: ("lb", "kg"),
}

BASE_TEXT: dict[Dimension, str] = {
    NONE: "1",
    LENGTH: "in",
    AREA: "in²",
    VOLUME: "in³",
    CURRENT: "A",
    POWER: "VA",
    VOLTAGE: "V",
    RESISTANCE: "ohm",
    TEMPERATURE: "degC",
    DIFFERENCE: "delta_degC",
    ANGLE: "deg",
    MASS: "lb",
}

_KNOWN: dict[str, Unit] = {}
_UNKNOWN: dict[str, UnknownUnit] = {}
_MOST = 2000  # a bound on memory, against files full of invented units


def unit(text: str) -> Unit:
    """The unit called ``text``; raises UnknownUnit with the nearest name.

    Common units come from a table; anything else is asked of pint, which is then imported.
    """
    found = _KNOWN.get(text)
    if found is not None:
        return found
    if text in _UNKNOWN:
        raise UnknownUnit(text, _UNKNOWN[text].nearest)
    tidy = " ".join(text.translate(_MARKS).split())
    entry = UNITS.get(tidy)
    if entry is not None:
        dims, above, below, offset_above, offset_below, symbol = entry
        found = Unit(
            text,
            Dimension(*dims),
            Fraction(above, below),
            Fraction(offset_above, offset_below),
            symbol,
        )
    else:
        found = _from_pint(text, tidy)
    if len(_KNOWN) >= _MOST:
        _KNOWN.clear()
    _KNOWN[text] = found
    return found


# Typographic feet and inch marks; the older code points of micro and ohm.
_MARKS = str.maketrans(
    {"′": "'", "’": "'", "″": '"', "”": '"', "\u03bc": "\u00b5", "\u2126": "\u03a9"}
)


def _from_pint(text: str, tidy: str) -> Unit:
    from .from_pint import read_from_pint

    reading = read_from_pint(tidy)
    if reading is None:
        if len(_UNKNOWN) >= _MOST:
            _UNKNOWN.clear()
        # One letter off in two is a guess, except in capitals: `5 dB` is not 5 lb.
        likely = UNITS if len(tidy) > 2 else [u for u in UNITS if u.lower() == tidy.lower()]
        _UNKNOWN[text] = UnknownUnit(text, nearest(tidy, likely))
        raise UnknownUnit(text, _UNKNOWN[text].nearest)
    return Unit(text, reading.dimension, reading.factor, reading.offset, tidy)


def usual_units(dimension: Dimension) -> str:
    """The units to write for a dimension, as a phrase: ``in, ft, mm or m``."""
    names = USUAL.get(dimension) or (dimension.name,)
    if len(names) == 1:
        return names[0]
    return f"{', '.join(names[:-1])} or {names[-1]}"
