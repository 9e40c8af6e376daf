"""Dimensions: what kind of thing a number measures, as seven small exponents.

Power, not time, is a base here: nothing in an assembly is measured in seconds, while volt-amperes
and watts are everywhere. Temperature and a difference of temperatures are kept apart, because
30 °C and a rise of 30 °C convert differently.
"""

from __future__ import annotations

from typing import NamedTuple

_WORDS = ("length", "current", "power", "temperature", "temperature difference", "angle", "mass")


class Dimension(NamedTuple):
    """Exponents of the base dimensions. Compare with ``==``; all zero is a plain number.

    The exponent of power is called ``watts``, because ``power`` raises to a power.
    """

    length: int = 0
    current: int = 0
    watts: int = 0
    temperature: int = 0
    difference: int = 0
    angle: int = 0
    mass: int = 0

    def times(self, other: Dimension) -> Dimension:
        """The dimension of a product."""
        return Dimension(*[a + b for a, b in zip(self, other, strict=True)])

    def over(self, other: Dimension) -> Dimension:
        """The dimension of a quotient."""
        return Dimension(*[a - b for a, b in zip(self, other, strict=True)])

    def power(self, n: int) -> Dimension:
        """The dimension of a value raised to the whole power ``n``."""
        return Dimension(*[a * n for a in self])

    @property
    def name(self) -> str:
        """A word for people: ``area``, ``plain number``, or composed such as ``length/current``."""
        known = _NAMES.get(self)
        if known is not None:
            return known
        above = [_factor(w, n) for w, n in zip(_WORDS, self, strict=True) if n > 0]
        below = [_factor(w, -n) for w, n in zip(_WORDS, self, strict=True) if n < 0]
        return "/".join(["·".join(above) or "1", *below])


def _factor(word: str, exponent: int) -> str:
    return word if exponent == 1 else f"{word}^{exponent}"


NONE = Dimension()
LENGTH = Dimension(length=1)
AREA = Dimension(length=2)
VOLUME = Dimension(length=3)
CURRENT = Dimension(current=1)
POWER = Dimension(watts=1)
VOLTAGE = Dimension(watts=1, current=-1)
RESISTANCE = Dimension(watts=1, current=-2)
TEMPERATURE = Dimension(temperature=1)
DIFFERENCE = Dimension(difference=1)
ANGLE = Dimension(angle=1)
MASS = Dimension(mass=1)

NAMED: dict[str, Dimension] = {
    "plain number": NONE,
    "length": LENGTH,
    "area": AREA,
    "volume": VOLUME,
    "current": CURRENT,
    "power": POWER,
    "voltage": VOLTAGE,
    "resistance": RESISTANCE,
    "temperature": TEMPERATURE,
    "temperature difference": DIFFERENCE,
    "angle": ANGLE,
    "mass": MASS,
}
_NAMES = {dimension: name for name, dimension in NAMED.items()}
