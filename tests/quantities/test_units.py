"""Units and notation against pint, the authority on units here, and against exact definitions.

Sources: international inch 25.4 mm exactly and avoirdupois pound 0.45359237 kg exactly
(NIST SP 811, Appendix B); °F to °C by (t - 32) / 1.8 (the same).
"""

from __future__ import annotations

import math
import time
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.quantities import dimension as d
from checker.quantities import unit_table
from checker.quantities.dimension import Dimension
from checker.quantities.make_unit_table import SPELLINGS, spelled, table_source
from checker.quantities.notation import NotationError, number, quantity
from checker.quantities.show import show, show_length, show_number
from checker.quantities.units import UnknownUnit, unit

REGISTRY = pint.UnitRegistry()
EXACT = pint.UnitRegistry(non_int_type=Fraction)
PINT_NAMES = {spelled(w): name for name, (_, words) in SPELLINGS.items() for w in words.split()}
# Our base units in pint's words, built up by dimension.
BASES = ("inch", "ampere", "watt", "degC", "delta_degC", "degree", "pound")


@cache
def base_in_pint(dimension: Dimension) -> Any:
    if dimension == d.TEMPERATURE:
        return REGISTRY.degC
    product = REGISTRY.dimensionless
    for name, power in zip(BASES, dimension, strict=True):
        product = product * REGISTRY.parse_units(name) ** power
    return product


def by_pint(value: float, text: str) -> float:
    q = REGISTRY.Quantity(value, PINT_NAMES[text])
    return float(q.to(base_in_pint(unit(text).dimension)).magnitude)


@pytest.mark.parametrize("text", sorted(unit_table.UNITS))
def test_every_unit_of_the_table_is_pints(text: str) -> None:
    for value in (1.0, 37.5):
        ours = float(unit(text).to_base(Fraction(value)))
        assert ours == pytest.approx(by_pint(value, text), rel=1e-9, abs=1e-9)


def test_the_table_is_what_the_script_writes() -> None:
    path = Path(unit_table.__file__)
    assert path.read_text(encoding="utf-8") == table_source()


def test_the_table_has_the_units_of_the_format() -> None:
    words = "in \" ' ft mm in³ in3 in^3 A VA kW V ohm degC degF K deg ° °C lb % kcmil cmil each"
    assert set(words.split()) <= set(unit_table.UNITS)


@settings(max_examples=300, deadline=None)
@given(st.floats(0, 1e6), st.sampled_from(sorted(set(unit_table.UNITS) - {"1"})))
def test_any_number_in_any_unit_is_as_pint_says(value: float, text: str) -> None:
    written = f"{value:.6f} {text}"
    given_value = float(f"{value:.6f}")
    assert quantity(written).value == pytest.approx(by_pint(given_value, text), rel=1e-9, abs=1e-7)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 99), st.integers(0, 15), st.sampled_from([2, 4, 8, 16]))
def test_mixed_fractions_are_exact(whole: int, above: int, below: int) -> None:
    part = above % below
    exact = float(whole + Fraction(part, below))
    for text in (f"{whole}-{part}/{below} in", f"{whole} {part}/{below} in",
                 f'{whole}-{part}/{below}"'):  # fmt: skip
        assert quantity(text).value == exact


@settings(max_examples=200, deadline=None)
@given(st.integers(1, 10**6))
def test_equal_lengths_in_different_units_are_equal_numbers(feet: int) -> None:
    # 1 ft = 12 in = 304.8 mm exactly; the millimetres are written out in decimal.
    tenths = feet * 3048
    assert (
        quantity(f"{feet} ft").value
        == quantity(f"{feet * 12} in").value
        == quantity(f"{tenths // 10}.{tenths % 10} mm").value
    )


@pytest.mark.parametrize(
    ("text", "value", "dimension"),
    [
        ("3/4 in", 0.75, d.LENGTH),
        ("4-11/16 in", 4.6875, d.LENGTH),
        ("4 11/16 in", 4.6875, d.LENGTH),
        ("1 1/2 in", 1.5, d.LENGTH),  # pint alone reads half an inch
        ("8'-6 1/2\"", 102.5, d.LENGTH),
        ("8' 6\"", 102, d.LENGTH),
        ("8′-6½″", 102.5, d.LENGTH),
        ("8 ft 6 in", 102, d.LENGTH),
        ("8 ft 6-1/2 in", 102.5, d.LENGTH),
        ("4¾ in", 4.75, d.LENGTH),
        ("-½ in", -0.5, d.LENGTH),
        ("⅞ in", 0.875, d.LENGTH),
        ("1.5e3 VA", 1500, d.POWER),
        ("1.2 kW", 1200, d.POWER),
        ("20A", 20, d.CURRENT),
        ("30.3 in³", 30.3, d.VOLUME),
        ("30.3 in^3", 30.3, d.VOLUME),
        ("40 %", 0.4, d.NONE),
        ("-10 degC", -10, d.TEMPERATURE),
        ("86 degF", 30, d.TEMPERATURE),
        ("303.15 K", 30, d.TEMPERATURE),
        ("30°C", 30, d.TEMPERATURE),
        ("18 delta_degF", 10, d.DIFFERENCE),
        ("30°", 30, d.ANGLE),
        ("120 V", 120, d.VOLTAGE),
        ("8 ohm", 8, d.RESISTANCE),
        ("2 dam", 2000 / 2.54, d.LENGTH),  # by way of pint
        ("16 oz", 1, d.MASS),
    ],
)
def test_trade_notation(text: str, value: float, dimension: Dimension) -> None:
    found = quantity(text)
    assert found.value == value
    assert found.dimension == dimension
    assert found.text == text


def test_a_unit_that_is_not_in_the_table_is_asked_of_pint() -> None:
    exact = EXACT.Quantity(Fraction(1), "fathom").to("inch").magnitude
    assert quantity("1 fathom").value == float(exact)
    assert "fathom" not in unit_table.UNITS


@pytest.mark.parametrize(
    ("text", "expected", "suggestion"),
    [
        ("1,200 A", "without commas", "1200 A"),
        ("20", "with a unit", ""),
        ("1/0 in", "divide by zero", ""),
        ("1e400 A", "exponent", ""),
        ("1e99999999999999999999 A", "exponent", ""),
        ("nan in", "number", ""),
        ("inf A", "number", ""),
        ("4-17/16 in", "below 1", ""),
        ("8.5 ft 6 in", "whole feet", ""),
        ("12 AWG", "wire size", ""),
        ("20 a", "no unit is called `a`", "20 A"),
        ("2 s", "no unit is called `s`", ""),
        ("5 dB", "no unit is called `dB`", ""),
        ("3 x 4 in", "no unit", ""),
        ("1_000 A", "number", ""),
        ("٣ A", "number", ""),
        ("", "number", ""),
        ("9" * 100 + " A", "number", ""),
        ("9" * 50 + " A", "sensible size", ""),
    ],
)
def test_what_is_not_a_quantity(text: str, expected: str, suggestion: str) -> None:
    begin = time.process_time()
    with pytest.raises(NotationError) as raised:
        quantity(text)
    assert expected in raised.value.expected
    assert raised.value.suggestion == suggestion
    assert time.process_time() - begin < 2  # pint's import included


@pytest.mark.parametrize(("text", "meant"), [("30 C", "30 degC"), ("86 F", "86 degF")])
def test_degrees_as_people_write_them_are_named(text: str, meant: str) -> None:
    with pytest.raises(NotationError) as raised:
        quantity(text, d.TEMPERATURE)
    assert raised.value.suggestion == meant


def test_the_wrong_dimension_names_the_units_that_would_do() -> None:
    with pytest.raises(NotationError) as raised:
        quantity("20 A", d.LENGTH)
    assert "in, ft, mm or m" in raised.value.expected
    with pytest.raises(NotationError) as raised:
        quantity("20", d.CURRENT)
    assert raised.value.suggestion == "20 A"
    with pytest.raises(NotationError) as raised:
        quantity("10 degC", d.DIFFERENCE)
    assert raised.value.suggestion == "10 delta_degC"
    for short, meant in (("30 C", "30 degC"), ("86 F", "86 degF"), ("30 deg C", "30 degC")):
        with pytest.raises(NotationError) as raised:
            quantity(short, d.TEMPERATURE)
        assert raised.value.suggestion == meant


# 0 K is -273.15 degC by definition (SI brochure), -459.67 degF by the exact factor.
@pytest.mark.parametrize(
    ("lowest", "below"),
    [("-273.15 degC", "-273.16 degC"), ("-459.67 degF", "-459.68 degF"), ("0 K", "-1 K")],
)
def test_no_temperature_is_below_absolute_zero(lowest: str, below: str) -> None:
    assert quantity(lowest).value == -273.15
    with pytest.raises(NotationError) as raised:
        quantity(below)
    assert "-273.15 degC" in raised.value.expected
    assert quantity("-300 delta_degC").value == -300


def test_a_bare_number_is_a_quantity_only_where_a_plain_number_is_asked_for() -> None:
    assert quantity("0.4", d.NONE).value == 0.4
    with pytest.raises(NotationError):
        quantity("0.4")
    with pytest.raises(NotationError):
        quantity("0.4", d.LENGTH)


def test_an_unknown_unit_has_a_nearest_name() -> None:
    with pytest.raises(UnknownUnit) as raised:
        unit("inhc")
    assert raised.value.nearest == "inch"


@given(st.text(max_size=70))
def test_any_text_is_read_or_refused_cleanly(text: str) -> None:
    try:
        found = quantity(text)
    except NotationError:
        return
    assert math.isfinite(found.value)


def test_dimensions_compose() -> None:
    assert d.LENGTH.times(d.LENGTH) == d.AREA
    assert d.POWER.over(d.CURRENT) == d.VOLTAGE
    assert d.LENGTH.power(3) == d.VOLUME
    assert d.AREA.name == "area"
    assert d.LENGTH.over(d.CURRENT).name == "length/current"
    assert d.NONE.name == "plain number"
    assert all(d.NAMED[name].name == name for name in d.NAMED)


@pytest.mark.parametrize(
    ("value", "text", "shown"),
    [
        (0.442, "%", "44.2 %"),
        (0.2356, "in²", "0.2356 in²"),
        (0.058123, "in2", "0.0581 in²"),
        (20.0, "A", "20 A"),
        (21.8421, "A", "21.84 A"),
        (12345.6, "VA", "12346 VA"),
        (30.0, "degC", "30 °C"),
        (30.0, "degF", "86 °F"),
        (360.0, "deg", "360°"),
        (-0.0, "A", "0 A"),
        (-1e-9, "in2", "0 in²"),
        (36000.0, "kVA", "36 kVA"),
        (5 / 7, "ratio", "0.7143"),
        (math.inf, "in", "∞ in"),
    ],
)
def test_shown(value: float, text: str, shown: str) -> None:
    assert show(value, text) == shown


def test_halves_round_as_readers_expect() -> None:
    assert show_number(2.675, 2) == "2.68"
    assert show(2.675, "A", 2) == "2.68 A"


@given(st.integers(-(10**5), 10**5))
def test_a_shown_length_reads_back(sixteenths: int) -> None:
    assert quantity(show_length(sixteenths / 16)).value == sixteenths / 16


def test_lengths_round_to_the_nearest_sixteenth() -> None:
    assert show_length(102.5) == "8 ft 6-1/2 in"
    assert show_length(24) == "2 ft"
    assert show_length(11.99) == "1 ft"
    assert show_length(48.5) == "4 ft 0-1/2 in"


def test_numbers_without_units() -> None:
    assert number("4-11/16") == Fraction(75, 16)
    with pytest.raises(NotationError):
        number("4 in")
