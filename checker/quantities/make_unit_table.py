"""Writes ``unit_table.py`` from pint: ``python -m checker.quantities.make_unit_table``.

A plain check of a file in common units then need not import pint. A test holds every entry of the
table equal to pint.
"""

from __future__ import annotations

import os
from pathlib import Path

from .from_pint import read_from_pint

# What pint calls it: (symbol for display, every way of writing it). An empty symbol: the unit's
# own text. ``mil`` is the trade's thousandth of an inch; pint's mil is an angle of gunnery.
# `count`, `each`, `times` and `ratio` have no size of their own.
SPELLINGS: dict[str, tuple[str, str]] = {
    "inch": ("in", 'in inch inches "'),
    "foot": ("ft", "ft foot feet '"),
    "yard": ("yd", "yd yard yards"),
    "millimeter": ("mm", "mm millimeter millimeters millimetre millimetres"),
    "centimeter": ("cm", "cm centimeter centimeters centimetre centimetres"),
    "meter": ("m", "m meter meters metre metres"),
    "kilofoot": ("kft", "kft"),
    "thou": ("mil", "mil mils thou"),
    "inch**2": ("in²", "in² in2 in^2 in**2 sq_in square_inch square_inches"),
    "foot**2": ("ft²", "ft² ft2 ft^2 ft**2 sq_ft square_feet"),
    "millimeter**2": ("mm²", "mm² mm2 mm^2 mm**2"),
    "centimeter**2": ("cm²", "cm² cm2 cm^2 cm**2"),
    "meter**2": ("m²", "m² m2 m^2 m**2"),
    "circular_mil": ("cmil", "cmil"),
    "kilocircular_mil": ("kcmil", "kcmil MCM"),
    "inch**3": ("in³", "in³ in3 in^3 in**3 cu_in cubic_inch cubic_inches"),
    "foot**3": ("ft³", "ft³ ft3 ft^3 ft**3 cu_ft cubic_feet"),
    "millimeter**3": ("mm³", "mm³ mm3 mm^3 mm**3"),
    "centimeter**3": ("cm³", "cm³ cm3 cm^3 cm**3 mL ml"),
    "ampere": ("A", "A amp amps ampere amperes"),
    "milliampere": ("mA", "mA milliamp milliamps"),
    "kiloampere": ("kA", "kA"),
    "volt_ampere": ("VA", "VA volt_ampere volt-ampere volt-amperes"),
    "kilovolt_ampere": ("kVA", "kVA"),
    "watt": ("W", "W watt watts"),
    "kilowatt": ("kW", "kW kilowatt kilowatts"),
    "horsepower": ("hp", "hp HP horsepower"),
    "volt": ("V", "V volt volts"),
    "millivolt": ("mV", "mV"),
    "kilovolt": ("kV", "kV"),
    "ohm": ("ohm", "ohm ohms \u03a9"),
    "milliohm": ("mohm", "mohm milliohm milliohms"),
    "kiloohm": ("kohm", "kohm"),
    "megaohm": ("Mohm", "Mohm megohm megohms"),
    "ohm/kilofoot": ("ohm/kft", "ohm/kft"),
    "degC": ("°C", "degC °C celsius Celsius ℃"),
    "degF": ("°F", "degF °F fahrenheit Fahrenheit ℉"),
    "kelvin": ("K", "K kelvin"),
    "delta_degC": ("delta_degC", "delta_degC Δ°C ΔdegC"),
    "delta_degF": ("delta_degF", "delta_degF Δ°F"),
    "degree": ("°", "deg ° degree degrees"),
    "radian": ("rad", "rad radian radians"),
    "pound": ("lb", "lb lbs pound pounds"),
    "ounce": ("oz", "oz ounce ounces"),
    "kilogram": ("kg", "kg kilogram kilograms"),
    "gram": ("g", "g gram grams"),
    "dimensionless": ("", "1 ratio count times each"),
    "percent": ("%", "% percent"),
}


_PHRASES = ("sq_", "cu_", "square_", "cubic_")


def spelled(word: str) -> str:
    """Spellings are kept apart by spaces above; ``_`` inside some of them stands for a space."""
    return word.replace("_", " ") if word.startswith(_PHRASES) else word


def table_source() -> str:
    """The text of ``unit_table.py``."""
    lines = [
        '"""Units by their text. Made by ``make_unit_table`` from pint; do not edit by hand."""',
        "",
        "from __future__ import annotations",
        "",
        "# text: (dimension, factor as a fraction, offset as a fraction, symbol);",
        "# base = (value + offset) * factor",
        "UNITS: dict[str, tuple[tuple[int, ...], int, int, int, int, str]] = {",
    ]
    for name, (symbol, words) in SPELLINGS.items():
        reading = read_from_pint(name)
        if reading is None:
            raise LookupError(f"pint has no usable unit called {name!r}")
        factor = reading.factor.limit_denominator(10**15) if _irrational(name) else reading.factor
        entry = (
            tuple(reading.dimension),
            factor.numerator,
            factor.denominator,
            reading.offset.numerator,
            reading.offset.denominator,
            symbol,
        )
        for word in words.split():
            lines.append(f"    {_quoted(spelled(word))}: {_plain(entry)},")
    return "\n".join([*lines, "}", ""])


def _irrational(name: str) -> bool:
    """Units that hold π: pint has 50 digits of it, of which a float can keep 17."""
    return name in ("radian", "circular_mil", "kilocircular_mil")


def _quoted(text: str) -> str:
    return "'\"'" if text == '"' else f'"{text}"'


def _plain(entry: tuple[object, ...]) -> str:
    return repr(entry).replace("'", '"')


def main() -> None:
    """Write the table beside this module, whole or not at all."""
    path = Path(__file__).with_name("unit_table.py")
    beside = path.with_suffix(".new")
    beside.write_text(table_source(), encoding="utf-8")
    os.replace(beside, path)


if __name__ == "__main__":
    main()
