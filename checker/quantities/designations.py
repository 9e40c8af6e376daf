"""Names that look like measurements and are not: wire sizes, trade sizes, standard boxes.

A 3/4 raceway measures 3/4 in nowhere, and 12 AWG is thinner than 10 AWG. Each reader gives one
canonical text for the many ways of writing it; ranks order the sizes.
"""

from __future__ import annotations

import re

from .nearest import nearest
from .notation import NotationError, number, spelled_out
from .patterns import Lazy

# NEC Chapter 9 Table 8 lists these sizes (2017 to 2023 alike; from memory).
_AWG = ("18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0")
_KCMIL = (
    *("250", "300", "350", "400", "500", "600", "700", "750", "800", "900"),
    *("1000", "1250", "1500", "1750", "2000"),
)
WIRE_SIZES = (*[f"{size} AWG" for size in _AWG], *[f"{size} kcmil" for size in _KCMIL])

# Trade sizes and metric designators, NEC 300.1(C) (from memory).
METRIC: dict[str, str] = {
    "12": "3/8", "16": "1/2", "21": "3/4", "27": "1", "35": "1-1/4", "41": "1-1/2", "53": "2",
    "63": "2-1/2", "78": "3", "91": "3-1/2", "103": "4", "129": "5", "155": "6",
}  # fmt: skip
TRADE_SIZES = tuple(METRIC.values())

WIRE_RANK = {size: float(place) for place, size in enumerate(WIRE_SIZES)}
TRADE_RANK = {size: float(number(size)) for size in TRADE_SIZES}
_RANKS = WIRE_RANK | TRADE_RANK

# ``12 ga`` is said of other wire too and is not read; it only leads to the size that was meant.
_GAUGE = Lazy(r"#? ?([0-9]{1,2}(?:/0)?) ?(?:ga|gauge|g)\.?", re.IGNORECASE)
_WIRE = Lazy(r"(?:#|no\.? ?)? ?([0-9]{1,4}(?: ?/ ?0)?|0{1,4}) ?(awg|kcmil|mcm)?", re.IGNORECASE)
_TRADE = Lazy(r"([0-9]+(?:[ -]+[0-9]+/[0-9]+)?|[0-9]+/[0-9]+) ?(?:\"|in\.?|inch)?")
_METRIC = Lazy(r"metric(?: designator)? ([0-9]+)", re.IGNORECASE)
_SIGNS = str.maketrans({"”": '"', "″": '"', "–": "-", "‑": "-", "⁄": "/", "\u00a0": " "})
_MOST = 5000  # remembered texts: files repeat a few designations thousands of times
_wires: dict[str, str] = {size: size for size in WIRE_RANK}
_trades: dict[str, str] = {size: size for size in TRADE_RANK}
_boxes: dict[str, str] = {}


def _tidy(text: str) -> str:
    return " ".join(spelled_out(text.translate(_SIGNS)).split())


def _remember(memory: dict[str, str], text: str, found: str) -> str:
    if len(memory) >= _MOST:
        memory.clear()
    memory[text] = found
    return found


def wire_size(text: str) -> str:
    """The canonical wire size: ``12 AWG``, ``1/0 AWG``, ``250 kcmil``. Raises NotationError.

    ``12``, ``#12``, ``12AWG``, ``250 MCM`` and ``4/0`` are read too; a bare 250 or more is kcmil.
    """
    found = _wires.get(text)
    if found is not None:
        return found
    match = _WIRE.fullmatch(_tidy(text)) if len(text) <= 40 else None
    if match is None:
        gauge = _GAUGE.fullmatch(text[:40])
        near = f"{gauge[1]} AWG" if gauge else ""
        raise _not_wire(text, near if near in WIRE_RANK else "")
    size = match[1].replace(" ", "")
    if set(size) == {"0"}:  # 0, 00, 000, 0000 are old ways of writing 1/0 to 4/0
        size = f"{len(size)}/0"
    family = (match[2] or "").lower()
    if not family:
        family = "kcmil" if "/" not in size and int(size) >= 250 else "awg"
    canonical = f"{size} AWG" if family == "awg" else f"{size} kcmil"
    if canonical not in WIRE_RANK:
        raise _not_wire(text, _near_wire(size, family))
    return _remember(_wires, text, canonical)


def _not_wire(text: str, suggestion: str) -> NotationError:
    expected = "a wire size from 18 AWG to 4/0 AWG or from 250 kcmil to 2000 kcmil"
    return NotationError(text[:60], expected, suggestion)


def _near_wire(size: str, family: str) -> str:
    if "/" in size:
        return "4/0 AWG"
    value = int(size)
    if family == "awg" and f"{size} kcmil" in WIRE_RANK:
        return f"{size} kcmil"
    if family != "awg" and f"{size} AWG" in WIRE_RANK:
        return f"{size} AWG"
    if value > 100:
        family = "kcmil"
    sizes = _AWG[:11] if family == "awg" else _KCMIL
    # A tie goes to the larger wire, the safer guess.
    best = min(sizes, key=lambda s: (abs(int(s) - value), -_RANKS[_named(s, family)]))
    return _named(best, family)


def _named(size: str, family: str) -> str:
    return f"{size} AWG" if family == "awg" else f"{size} kcmil"


def trade_size(text: str) -> str:
    """The canonical trade size: ``3/4``, ``1-1/4``. Raises NotationError.

    ``1 1/4``, ``3/4 in`` and ``metric 21`` are read too; decimals and bare metric designators are
    refused, with the trade size that was meant.
    """
    found = _trades.get(text)
    if found is not None:
        return found
    tidy = _tidy(text)
    metric = _METRIC.fullmatch(tidy)
    if metric is not None:
        if metric[1] not in METRIC:
            near = min(METRIC, key=lambda m: abs(int(m) - int(metric[1][:6])))
            raise NotationError(text[:60], f"a metric designator: {', '.join(METRIC)}",
                                f"metric {near}")  # fmt: skip
        return _remember(_trades, text, METRIC[metric[1]])
    match = _TRADE.fullmatch(tidy) if len(text) <= 40 else None
    canonical = "-".join(match[1].replace("-", " ").split()) if match is not None else ""
    if canonical not in TRADE_RANK:
        expected = f"a trade size: {', '.join(TRADE_SIZES)}"
        raise NotationError(text[:60], expected, _near_trade(tidy))
    return _remember(_trades, text, canonical)


def _near_trade(tidy: str) -> str:
    bare = re.sub(r" ?(\"|in\.?|inch|mm)$", "", tidy)
    if bare in METRIC:
        return f"metric {bare}"
    try:
        value = float(number(bare))
    except NotationError:
        return nearest(tidy, TRADE_SIZES) or ""
    return min(TRADE_SIZES, key=lambda size: abs(TRADE_RANK[size] - value))


def wire_rank(size: str) -> float:
    """The place of a canonical wire size among the sizes; KeyError on anything else."""
    return WIRE_RANK[size]


def trade_rank(size: str) -> float:
    """The nominal inches of a canonical trade size; KeyError on anything else."""
    return TRADE_RANK[size]


def rank(text: str) -> float:
    """The rank of a canonical wire or trade size; compare ranks of one kind only.

    KeyError on anything else.
    """
    return _RANKS[text]


# Forms of standard boxes: how many dimensions name one. Words that mean the same are folded.
_FORMS = {"square": 2, "octagonal": 2, "device": 3, "utility": 3, "masonry": 3}
_FORM_WORDS = {
    "round": "octagonal", "round/octagonal": "octagonal", "octagon": "octagonal",
    "octagonal/round": "octagonal", "handy": "utility",
}  # fmt: skip
_BOX = Lazy(r"([0-9][0-9 /.\"-]*(?:x[0-9 /.\"-]+)+?) ?([a-z][a-z/]*)")
_BOX_EXPECTED = (
    "a standard box by dimensions and form, such as 4 x 2-1/8 square, 4 x 1-1/2 octagonal, "
    "3 x 2 x 3-1/2 device, FS or FD"
)


def box_designation(text: str) -> str:
    """The canonical name of a standard box: ``4-11/16 x 1-1/2 square``, ``FS``.

    Which boxes exist, and their volumes, is for the table of standard boxes to say. ``round`` is
    octagonal, ``×`` is x, inch marks and the word ``box`` are dropped. Raises NotationError.
    """
    found = _boxes.get(text)
    if found is not None:
        return found
    tidy = _tidy(text[:100]).lower().replace("×", "x").removesuffix(" box")
    if tidy in ("fs", "fd"):
        return _remember(_boxes, text, tidy.upper())
    tidy = re.sub(r"(?<=[0-9]) ?(?:inches|inch|in\.?)(?![a-z])", "", tidy)
    match = _BOX.fullmatch(tidy)
    if match is None:
        raise NotationError(text[:60], _BOX_EXPECTED, _near_box(tidy))
    form = _FORM_WORDS.get(match[2], match[2])
    if form not in _FORMS:
        near = nearest(form, [*_FORMS, *_FORM_WORDS])
        forms = f"a form: {', '.join(_FORMS)}"
        raise NotationError(text[:60], forms, f"{match[1].strip()} {near}" if near else "")
    sides = [_side(side.replace('"', " ").strip(), text) for side in match[1].split("x")]
    if len(sides) != _FORMS[form]:
        raise NotationError(text[:60], f"{_FORMS[form]} dimensions for a {form} box")
    # The shallow 4 x 2-1/8 wiring box goes by both names; the table has it once.
    if form == "device" and sides[:2] == ["4", "2-1/8"]:
        form = "utility"
    return _remember(_boxes, text, f"{' x '.join(sides)} {form}")


def _side(text: str, whole: str) -> str:
    try:
        value = number(text)
    except NotationError:
        raise NotationError(whole[:60], _BOX_EXPECTED) from None
    whole_inches, rest = divmod(value, 1)
    if not rest:
        return str(whole_inches)
    if rest.denominator > 16:
        raise NotationError(whole[:60], "dimensions in sixteenths of an inch or coarser")
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{whole_inches}-{fraction}" if whole_inches else fraction


def _near_box(tidy: str) -> str:
    """Form first (`square 4 x 2-1/8`) is a common way of saying it."""
    word, _, rest = tidy.partition(" ")
    return f"{rest} {word}" if word in _FORMS and rest[:1].isdigit() else ""
