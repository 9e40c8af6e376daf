"""Regular expressions for what the trade writes: quantities, sizes, dates.

They follow the readers in ``checker.quantities``; where a reader knows more than a regular
expression can (a unit that only pint knows, a fraction of an inch finer than a sixteenth), the
reader decides and the schema is only the editor's first hint.
"""

from __future__ import annotations

import re

from checker.quantities.designations import TRADE_SIZES, WIRE_SIZES
from checker.quantities.dimension import LENGTH, NONE, Dimension
from checker.quantities.unit_table import UNITS

_SPACE = r"\s*"
_VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞⅐⅑⅒"
_SIGN = "[+\\-−–]?"
_DASH = r"[ \-–‑\u00a0]+"
_NUMBER = (
    rf"(?:[0-9]+{_DASH}[0-9]+\s*[/⁄]\s*[0-9]+|[0-9]+\s*[/⁄]\s*[0-9]+"
    rf"|(?:[0-9]+[ \-]*)?[{_VULGAR}]|(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+\-]?[0-9]{{1,2}})?)"
)
_FEET = r"(?:'|′|’|ft\.?|feet|foot)"
_INCHES = r"(?:\"|″|”|''|in\.?|inch(?:es)?)"

#: A name: printable, not blank, without the `+` that joins the names of runs.
NAME = r"^(?=.*\S)[^+\u0000-\u001f\u007f-\u009f\u2028\u2029]{1,200}$"
#: A name that expressions can write after a dot; a word of Python's is told by the reader alone.
SNAKE_CASE = r"^[a-z][a-z0-9_]*$"
SYSTEM = r"^[0-9]+(?:[YD]?/[0-9]+|D?/?)$"
_31 = "(?:0[13578]|1[02])-(?:0[1-9]|[12][0-9]|3[01])"
_30 = "(?:0[469]|11)-(?:0[1-9]|[12][0-9]|30)"
_28 = "02-(?:0[1-9]|1[0-9]|2[0-8])"
_LEAP = "(?:[0-9]{2}(?:0[48]|[2468][048]|[13579][26])|(?:[02468][048]|[13579][26])00)-02-29"
DATE = rf"^(?!0000)(?:[0-9]{{4}}-(?:{_31}|{_30}|{_28})|{_LEAP})$"

_SIDE = (
    rf"(?:[0-9]+[ \-]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|(?:[0-9]+[ \-]*)?[{_VULGAR}]"
    r"|[0-9]+(?:\.[0-9]+)?)"
    r"\s*(?:\"|″|”|in\.?|inch(?:es)?)?"
)
_BY = r"\s*[xX×]\s*"


def _any_case(word: str) -> str:
    return "".join(f"[{c.upper()}{c.lower()}]" if c.isalpha() else re.escape(c) for c in word)


def units_of(dimension: Dimension) -> tuple[str, ...]:
    """The common units of a dimension, as the generated unit table has them."""
    return tuple(text for text, entry in UNITS.items() if Dimension(*entry[0]) == dimension)


def quantity(dimension: Dimension, *, signed: bool) -> str:
    """A number with a unit of a dimension; feet and inches together for a length."""
    sign = _SIGN if signed else r"\+?"
    units = sorted(units_of(dimension), key=lambda text: (-len(text), text))
    named = "|".join(re.escape(text).replace("\\ ", r"\s+") for text in units)
    if dimension == LENGTH:
        named += "|′|’|″|”"
    simple = rf"{sign}{_SPACE}{_NUMBER}{_SPACE}(?:{named})"
    if dimension == NONE:
        simple += "?"
    if dimension != LENGTH:
        return rf"^{_SPACE}{simple}{_SPACE}$"
    both = rf"{sign}[0-9]+{_SPACE}{_FEET}{_SPACE}-?{_SPACE}{_NUMBER}{_SPACE}{_INCHES}"
    return rf"^{_SPACE}(?:{both}|{simple}){_SPACE}$"


def wire_size() -> str:
    """12 AWG, #12, 4/0, 250 kcmil …"""
    awg = [size.removesuffix(" AWG") for size in WIRE_SIZES if size.endswith("AWG")]
    thick = [size.removesuffix(" kcmil") for size in WIRE_SIZES if size.endswith("kcmil")]
    plain = "|".join(size for size in awg if "/" not in size)
    lead = rf"(?:#|{_any_case('no')}\.?\s?)?\s?"
    kcmil = f"(?:{_any_case('kcmil')}|{_any_case('mcm')})"
    return (
        rf"^\s*{lead}(?:(?:{plain}|[1-4]\s?/\s?0|0{{1,4}})\s?(?:{_any_case('awg')})?"
        rf"|(?:{'|'.join(thick)})\s?{kcmil}?)\s*$"
    )


def wire_numbers() -> list[int]:
    """Wire sizes that YAML takes for numbers."""
    bare = [size.partition(" ")[0] for size in WIRE_SIZES]
    return [0, *sorted(int(size) for size in bare if size.isdigit())]


def trade_size(metric: dict[str, str]) -> str:
    """3/4, 1-1/4, 2 in, metric 21 …"""
    signs = {"1/4": "¼", "1/2": "½", "3/4": "¾", "3/8": "⅜"}
    whole_and_rest = [size.rpartition("-")[::2] for size in TRADE_SIZES]
    short = [rf"{whole}[ \-–]*{signs[rest]}" if whole else signs[rest]
             for whole, rest in whole_and_rest if rest in signs]  # fmt: skip
    full = [re.escape(s).replace(r"\-", r"[ \-–]+") for s in TRADE_SIZES]
    sizes = "|".join([*full, *short])
    named = "|".join(metric)
    return (
        rf"^\s*(?:(?:{sizes})\s?(?:\"|″|”|in\.?|inch)?"
        rf"|{_any_case('metric')}(?:\s{_any_case('designator')})?\s(?:{named}))\s*$"
    )


def trade_numbers() -> list[int]:
    """Trade sizes that YAML takes for numbers."""
    return [int(size) for size in TRADE_SIZES if size.isdigit()]


def box_size() -> str:
    """4 x 2-1/8 square, 3 x 2 x 3-1/2 device, FS …"""
    two = "|".join(
        _any_case(w) for w in ("square", "octagonal", "octagon", "round", "round/octagonal",
                               "octagonal/round")
    )  # fmt: skip
    three = "|".join(_any_case(w) for w in ("device", "utility", "handy", "masonry"))
    return (
        rf"^\s*(?:{_any_case('fs')}|{_any_case('fd')}|{_SIDE}{_BY}{_SIDE}\s*(?:{two})"
        rf"|{_SIDE}{_BY}{_SIDE}{_BY}{_SIDE}\s*(?:{three}))(?:\s{_any_case('box')})?\s*$"
    )
