"""How many digits a finding is shown with: enough for a reader to see why it does not pass.

Four digits do nearly always.  A measure just over its limit would then read as the limit itself.
"""

from __future__ import annotations

from typing import Any

from checker.language.numbers import equal
from checker.language.showing import show_any
from checker.quantities.show import USUAL


def digits_for(kind: str, measure: Any, limit: Any, unit: str) -> int:
    """Significant digits that tell a measure from its limit where it goes against it."""
    if kind not in ("fail", "open", "review") or not _differ(measure, limit):
        return USUAL
    for digits in (USUAL, 6, 8, 10):
        if show_any(measure, unit, digits) != show_any(limit, unit, digits):
            return digits
    return 12


def _differ(measure: Any, limit: Any) -> bool:
    numbers = all(isinstance(n, (int, float)) for n in (measure, limit))
    return numbers and not equal(measure, limit)
