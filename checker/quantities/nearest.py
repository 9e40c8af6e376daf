"""Did you mean …: the closest of some names to one that is not among them."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice


def nearest(name: str, candidates: Iterable[str]) -> str | None:
    """The candidate most like ``name``, or None where none is like it.

    Capitals do not matter, and two neighbouring letters swapped count as one slip. About a third
    of the letters may differ. Of equally near candidates the first one given wins. Of very many
    only the first thousand are looked at: it is a help, and must not take longer than the work.
    """
    wanted = name.casefold()[:100]
    best: str | None = None
    allowed = max(1, (len(wanted) + 1) // 3)
    if len(wanted) < 2:
        allowed = 0
    for candidate in islice(candidates, 1000):
        other = candidate.casefold()
        if other == wanted:
            return candidate
        if abs(len(other) - len(wanted)) > allowed:
            continue
        slips = _slips(wanted, other, allowed)
        if slips <= allowed:
            best = candidate
            allowed = slips - 1
    return best


def _slips(a: str, b: str, most: int) -> int:
    """Edits between two words (optimal string alignment); ``most + 1`` as soon as it is more."""
    if most < 0:
        return most + 1
    before: list[int] = []
    previous = list(range(len(b) + 1))
    for i, letter in enumerate(a, 1):
        current = [i]
        for j, other in enumerate(b, 1):
            if letter == other:
                slips = previous[j - 1]
            else:
                slips = 1 + min(previous[j - 1], previous[j], current[j - 1])
                if i > 1 and j > 1 and letter == b[j - 2] and a[i - 2] == other:
                    slips = min(slips, before[j - 2] + 1)
            current.append(slips)
        if min(current) > most and min(previous) > most:
            return most + 1
        before, previous = previous, current
    return previous[-1]
