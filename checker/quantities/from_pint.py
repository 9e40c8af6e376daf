"""What pint says of a unit, in our base units. Slow to import (about 0.3 s): only for rare units.

pint is the authority on what a unit is. It is only ever shown the text of a unit, never a number:
it reads ``1 1/2 in`` as a product, half an inch.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from typing import Any, NamedTuple

from .dimension import Dimension

# pint's own root units, and what one of each is in ours. Kilograms, because pint's watt is built
# on them; time is absent on purpose: it may only occur inside a power.
_INCH = Fraction(254, 10000)  # m, exact since 1959
_WORD = r"[^\W\d]+(?:(?:\^|\*\*)?-?[1-6](?![0-9])|[²³])?"
_READABLE = re.compile(rf"(?:Δ?°)?{_WORD}(?:(?: ?[*/·] ?| per ){_WORD})*")


class Reading(NamedTuple):
    """A unit: its dimension, and base = (value + offset) * factor."""

    dimension: Dimension
    factor: Fraction
    offset: Fraction


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry(non_int_type=Fraction)


def read_from_pint(text: str) -> Reading | None:
    """The unit called ``text``, or None where pint has none such or it cannot be used here.

    Not usable: anything with time in it other than a power (a second, a joule), amounts of
    substance, light, information, and logarithmic units.
    """
    if len(text) > 60 or not _READABLE.fullmatch(text):
        return None
    spelled = re.sub(r"(?<=[^\W\d])([1-6])(?![0-9])", r"**\1", text.replace("·", "*"))
    try:
        return _read(spelled)
    # pint raises a different exception for every way of being wrong, some of them plain
    # AttributeError, TypeError or tokenize errors; each of them means "no such unit" here.
    except Exception:
        return None


def _read(spelled: str) -> Reading | None:
    registry = _registry()
    found = registry.parse_units(spelled)
    # Not str(found): pint cannot print an exponent that is a Fraction.
    parts = [name for name, _ in found._units.items()]
    if any(name.endswith(("bel", "neper", "octave", "decade", "dBm")) for name in parts):
        return None
    at_zero = registry.Quantity(Fraction(0), found).to_root_units()
    at_one = registry.Quantity(Fraction(1), found).to_root_units()
    powers = {name: Fraction(n) for name, n in dict(at_one._units).items()}
    in_roots = Fraction(at_one.magnitude) - Fraction(at_zero.magnitude)
    if any(n.denominator != 1 for n in powers.values()) or in_roots <= 0:
        return None
    n = {name: int(power) for name, power in powers.items()}
    meter, kilogram, second = n.pop("meter", 0), n.pop("gram", 0), n.pop("second", 0)
    ampere, kelvin = n.pop("ampere", 0), n.pop("kelvin", 0)
    radian, _ = n.pop("radian", 0), n.pop("count", 0)
    if n or second % 3 or (kelvin and powers != {"kelvin": 1}):
        return None
    watts = -second // 3
    difference = any(name.startswith("delta_") for name in parts)
    dimension = Dimension(
        length=meter - 2 * watts,
        current=ampere,
        watts=watts,
        temperature=0 if difference else kelvin,
        difference=kelvin if difference else 0,
        angle=radian,
        mass=kilogram - watts,
    )
    degree = Fraction(registry.Quantity(Fraction(1), "degree").to_root_units().magnitude)
    pound = Fraction(registry.Quantity(Fraction(1), "pound").to_root_units().magnitude)
    watt = Fraction(registry.Quantity(Fraction(1), "watt").to_root_units().magnitude)
    ours = _INCH**dimension.length * watt**watts * degree**radian * pound**dimension.mass
    factor = in_roots / ours
    offset = Fraction(0)
    if dimension.temperature:
        freezing = Fraction(27315, 100)  # K at 0 °C
        offset = (Fraction(at_zero.magnitude) - freezing) / factor
    return Reading(dimension, factor, offset)
