"""Messages with values in them: ``{fill as %} of the bore``.

Braces hold an expression of the language; ``as`` and a unit say how a number is written.  Doubled
braces stand for themselves.
"""

from __future__ import annotations

from collections.abc import Mapping

from checker.quantities.units import UnknownUnit, usual_units
from checker.quantities.units import unit as find_unit

from .check import check, dimension_of
from .checked import Checked, Template
from .checking.state import Elsewhere
from .checking.words import a_kind
from .parse import ExpressionError, Trouble
from .types import Number, Type, Vocabulary

MAX_TEMPLATE = 2000


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
    parts: list[str | tuple[Checked, str]] = []
    troubles: list[Trouble] = []
    literal = ""
    place = 0
    while place < len(text):
        character = text[place]
        if text[place : place + 2] in ("{{", "}}"):
            literal += character
            place += 2
        elif character == "}":
            troubles.append(
                Trouble(
                    place,
                    1,
                    "a closing brace without an opening one",
                    "}",
                    "`{` before the name, as in {raceway.id}; a brace to print is written `}}`",
                )
            )
            place += 1
        elif character == "{":
            end, again = text.find("}", place), text.find("{", place + 1)
            if end < 0 or 0 <= again < end:
                troubles.append(
                    Trouble(
                        place,
                        1,
                        "a brace that is never closed",
                        text[place : place + 20],
                        "`}` after the name, as in {raceway.id}; a brace to print is written `{{`",
                    )
                )
                if again < 0:
                    break
                place = again
                continue
            if literal:
                parts.append(literal)
                literal = ""
            inner = text[place + 1 : end]
            part = _expression(inner, place + 1, names, vocabulary, elsewhere, troubles)
            if part is not None:
                parts.append(part)
            place = end + 1
        else:
            literal += character
            place += 1
    if literal:
        parts.append(literal)
    if troubles:
        raise ExpressionError(*troubles)
    return Template(text, tuple(parts))


def _expression(
    inner: str,
    offset: int,
    names: Mapping[str, Type],
    vocabulary: Vocabulary,
    elsewhere: Elsewhere | None,
    troubles: list[Trouble],
) -> tuple[Checked, str] | None:
    source, word, unit = inner.rpartition(" as ")
    if not word:
        source, unit = inner, ""
    lead = len(source) - len(source.lstrip())
    try:
        checked = check(source.strip(), names, vocabulary, elsewhere)
    except ExpressionError as error:
        troubles.extend(
            Trouble(
                t.offset + offset + lead, t.length, t.message, t.found, t.expected, t.suggestion
            )
            for t in error.troubles
        )
        return None
    unit = unit.strip()
    if unit and unit != "ft-in":
        at = offset + inner.rindex(unit)
        try:
            found = find_unit(unit)
        except UnknownUnit as error:
            troubles.append(
                Trouble(at, len(unit), "this is not a unit", unit, "a unit", error.nearest or "")
            )
            return None
        if isinstance(checked.kind, Number) and found.dimension != dimension_of(checked.kind):
            troubles.append(
                Trouble(
                    at,
                    len(unit),
                    f"`{source.strip()}` cannot be written in {unit}",
                    f"it is {a_kind(checked.kind)}",
                    f"a unit of {checked.kind}: {usual_units(checked.kind.dimension)}",
                )
            )
            return None
    return checked, unit
