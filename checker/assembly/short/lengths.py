"""Lengths in the texts of a description, and the length of a raceway or cable."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.documents.nodes import Mapping
from checker.quantities.dimension import LENGTH
from checker.quantities.notation import NotationError, quantity

#: Finest fraction of an inch that is written as one; any other number is written with decimals.
_FINEST = 64


def inches(text: Any) -> Fraction | None:
    """A length in inches; None for what is no length."""
    if not isinstance(text, str):
        return None
    try:
        return Fraction(quantity(text, LENGTH).value)
    except NotationError:
        return None


def written(length: Fraction) -> str:
    """A length as it is written, such as ``4-11/16 in``; it reads back as the same number."""
    sign = "-" if length < 0 else ""
    whole, rest = divmod(abs(length), 1)
    if not rest:
        return f"{sign}{whole} in"
    if rest.denominator > _FINEST or sign:
        return f"{float(length)!r} in"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{whole}-{fraction} in" if whole else f"{fraction} in"


def length_of(way: Mapping) -> Fraction | None:
    """The length of a raceway or cable, None where it is not known.

    What follows from ``path`` belongs here: everything that the expansion makes of a length asks
    for it in this one place.
    """
    return inches(way.get("length"))
