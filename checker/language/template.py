"""Messages with values in them: ``{fill as %} of the bore``.

Braces hold an expression of the language; ``as`` and a unit say how a number is written.  Doubled
braces stand for themselves.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from checker.quantities.units import UnknownUnit, usual_units
from checker.quantities.units import unit as find_unit

from .check import check, dimension_of
from .checked import Checked, Template
from .checking.state import Elsewhere
from .checking.words import a_kind
from .parse import ExpressionError, Trouble
from .showing import FEET_INCHES
from .types import Number, Type, Vocabulary

MAX_TEMPLATE = 2000
#: A doubled brace, an expression between two, or a brace by itself.
_BRACES = re.compile(r"\{\{|\}\}|\{([^{}]*)\}|[{}]")


def read_template(
    text: str,
    names: Mapping[str, Type],
    vocabulary: Vocabulary,
    elsewhere: Elsewhere | None = None,
) -> Template:
    """Check a message; see ``check``.  Raises ExpressionError with every trouble found in it."""
    if len(text) > MAX_TEMPLATE:
        raise ExpressionError(
            Trouble(0, 1, "the message is too long", f"{len(text)} characters", f"{MAX_TEMPLATE}")
        )
    parts: list[str | tuple[Checked, str]] = [""]
    troubles: list[Trouble] = []
    place = 0
    for found in _BRACES.finditer(text):
        literal, brace = text[place : found.start()], found[0]
        place = found.end()
        parts += [literal] if literal else []
        if brace in ("{{", "}}"):
            parts.append(brace[0])
        elif found[1] is None:
            troubles.append(_lone(text, found.start()))
        else:
            try:
                parts.append(_between(found[1], lambda t: check(t, names, vocabulary, elsewhere)))
            except ExpressionError as error:
                troubles += [t.moved(found.start() + 1) for t in error.troubles]
    if troubles:
        raise ExpressionError(*troubles)
    return Template(text, _joined([*parts, text[place:]]))


def _joined(parts: list[str | tuple[Checked, str]]) -> tuple[str | tuple[Checked, str], ...]:
    """Neighbouring literal texts as one, and no empty ones."""
    done: list[str | tuple[Checked, str]] = []
    for part in parts:
        if isinstance(part, str) and done and isinstance(done[-1], str):
            done[-1] += part
        elif part:
            done.append(part)
    return tuple(done)


def _lone(text: str, place: int) -> Trouble:
    """What is reported of a brace without its other half."""
    example = "the name, as in {raceway.id}; a brace to print is written"
    if text[place] == "}":
        message = "a closing brace without an opening one"
        return Trouble(place, 1, message, "}", f"`{{` before {example} `}}}}`")
    found = text[place : place + 20]
    return Trouble(place, 1, "a brace that is never closed", found, f"`}}` after {example} `{{{{`")


def _between(inner: str, read: Callable[[str], Checked]) -> tuple[Checked, str]:
    """What stands between two braces.  Raises ExpressionError with places in ``inner``."""
    source, word, unit = inner.rpartition(" as ")
    if not word:
        source, unit = inner, ""
    unit = unit.strip()
    try:
        checked = read(source.strip())
    except ExpressionError as error:
        lead = len(source) - len(source.lstrip())
        raise ExpressionError(*(t.moved(lead) for t in error.troubles)) from None
    if not unit or unit == FEET_INCHES:
        return checked, unit
    at = inner.rindex(unit)
    try:
        found = find_unit(unit)
    except UnknownUnit as error:
        raise ExpressionError(
            Trouble(at, len(unit), "this is not a unit", unit, "a unit", error.nearest or "")
        ) from None
    if isinstance(checked.kind, Number) and found.dimension != dimension_of(checked.kind):
        raise ExpressionError(
            Trouble(
                at,
                len(unit),
                f"`{source.strip()}` cannot be written in {unit}",
                f"it is {a_kind(checked.kind)}",
                f"a unit of {checked.kind}: {usual_units(checked.kind.dimension)}",
            )
        )
    return checked, unit


__all__ = ["MAX_TEMPLATE", "Template", "read_template"]
