"""``supports: {first: …, every: …, last: …}``: straps by rule along a raceway or cable."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from checker.documents.errors import nearest
from checker.documents.nodes import Mapping, Sequence

from .files import base_of
from .lengths import inches, length_of, written
from .problems import Notes

#: Straps of one raceway; a run of a mile has no more.
MOST = 1000
_KEYS = ("first", "every", "last")


def strapped(way: Mapping, notes: Notes) -> Mapping:
    """The raceway or cable with its straps written out.

    Where its length is not known, neither are its straps: they are not stated then.
    """
    rule = way.get("supports")
    if not isinstance(rule, Mapping):
        return way
    read = _rule(rule, notes)
    length = length_of(way)
    place = base_of(way.source) + way.places[2 * list(way).index("supports") + 2]
    changed = Mapping.joined(way, way.source, way.places)
    changed["supports"] = None
    if read is None or length is None or length <= 0:
        return changed
    straps = _straps(length, *read)
    if straps is None:
        found = f"`every: {rule['every']}` along {way['length']}"
        expected = f"at most {MOST} straps"
        notes.add(rule.mark, "too many straps", found=found, expected=expected)
        return changed
    texts = [written(strap) for strap in straps]
    changed["supports"] = Sequence.joined(texts, way.source, [place] * (len(texts) + 1))
    return changed


def _rule(rule: Mapping, notes: Notes) -> tuple[Fraction, Fraction, Fraction] | None:
    """First, every and last; what cannot be read is reported."""
    sound = True
    for key in rule:
        if key not in _KEYS:
            sound = False
            notes.add(
                rule.key_mark(key),
                f"unknown key `{key[:200]}` in `supports`",
                found=key[:200],
                expected="one of " + ", ".join(_KEYS),
                suggestion=nearest(key, _KEYS) or "",
                length=len(key),
            )
    found: dict[str, Any] = {key: inches(rule.get(key)) for key in _KEYS}
    if rule.get("last") is None:
        found["last"] = found["first"]  # the same from either end
    for key, value in found.items():
        if value is None or value < 0 or (key == "every" and value == 0):
            if key == "last" and "last" not in rule:
                continue
            sound = False
            mark = rule.value_mark(key) if key in rule else rule.mark
            shown = str(rule[key])[:200] if key in rule else "keys " + ", ".join(rule)
            expected = f"`{key}:` with a length, as in {{first: 10 in, every: 8 ft, last: 10 in}}"
            notes.add(mark, "straps by rule cannot be read", found=shown, expected=expected)
    return (found["first"], found["every"], found["last"]) if sound else None


def _straps(
    length: Fraction, first: Fraction, every: Fraction, last: Fraction
) -> list[Fraction] | None:
    """Where the straps are; one in the middle of a piece too short for a first and a last one."""
    end = length - last
    if end <= first:
        return [first] if end == first else [length / 2]
    if (end - first) / every > MOST:
        return None
    found = []
    strap = first
    while strap < end:
        found.append(strap)
        strap += every
    return [*found, end]
