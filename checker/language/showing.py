"""How values are written for people, apart from how they were reached."""

from __future__ import annotations

from typing import Any

from checker.documents.missing import Missing
from checker.quantities.show import USUAL, show, show_length, show_number

NOT_STATED = "not stated"
#: How a gap begins that the description has not.
THERE_IS = "there is no"
#: The same where it is a table's.
NO_ENTRY_IN = f"{THERE_IS} entry in"
_MOST = 12
FEET_INCHES = "ft-in"


def show_any(value: Any, unit: str = "", digits: int = USUAL) -> str:
    """A value as text: a number in ``unit``, a list item by item, an element by its name."""
    if value is None or type(value) is Missing:
        return NOT_STATED
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        if unit == FEET_INCHES:
            return show_length(value, digits)
        if unit and unit != "1":
            return show(value, unit, None, digits)
        return show_number(value, None, digits)
    if isinstance(value, str):
        return value
    if isinstance(value, (list, tuple)):
        together = getattr(value[0], "together", None) if value else None
        texts = (
            together(value)
            if together
            else list(dict.fromkeys(show_any(item, unit, digits) for item in value))
        )
        more = f" and {len(texts) - _MOST} more" if len(texts) > _MOST else ""
        return (", ".join(texts[:_MOST]) + more) if texts else "none"
    name = getattr(value, "id", None)
    if isinstance(name, str):
        return name
    words = getattr(value, "describe", None)  # a row of a table has none
    return str(words()) if words else type(value).__name__.lower()
