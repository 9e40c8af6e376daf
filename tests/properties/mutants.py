"""Samples with some of their values changed: smaller and larger, other sizes, other choices."""

from __future__ import annotations

import random
from typing import Any

from designs import Given, Plain, assembly_of, given_fields, sample
from random_designs import METHODS, SIZES, TRADES

from checker.assembly.records import Assembly
from checker.documents.errors import InputError

#: Fields whose change says something else rather than something wrong, or is no wiring.
KEPT = {"assembly.assembly", "basis.edition", "basis.permit_date"}
#: What a field without options of its own may be changed to.
OTHERS: dict[str, tuple[str, ...]] = {
    "wire_size": SIZES,
    "trade_size": TRADES,
    "box_size": ("4 x 1-1/2 square", "4 x 2-1/8 square", "4-11/16 x 2-1/8 square"),
    "insulation": ("THHN", "THWN-2", "XHHW-2", "TW"),
}
RATINGS = ("15 A", "20 A", "25 A", "30 A", "35 A", "45 A", "60 A", "70 A", "100 A")
COLORS = ("black", "red", "blue", "white", "green", "orange", "brown", "yellow", "gray")


def mutant(name: str, seed: int) -> Plain:
    """A sample with one to six values changed; the same for the same seed."""
    chance = random.Random(f"{name} {seed}")
    while True:
        plain = sample(name)
        for _ in range(chance.choice([1, 2, 4, 6])):
            change(plain, chance)
        try:
            assembly_of(plain)
        except InputError:
            continue
        return plain


def change(plain: Plain, chance: random.Random) -> None:
    """Change one value; the fields have equal chances, however often one is stated."""
    by_name: dict[str, list[Given]] = {}
    for given in given_fields(plain, Assembly):
        if given.name not in KEPT and other_values(given):
            by_name.setdefault(given.name, []).append(given)
    given = chance.choice(by_name[chance.choice(sorted(by_name))])
    given.holder[given.field.key] = chance.choice(other_values(given))


def other_values(given: Given) -> list[Any]:
    """What else the field may be; nothing for references and records."""
    field, now = given.field, given.holder[given.field.key]
    found: list[Any] = []
    if field.kind == "list" and isinstance(now, list):
        found = [now[:-1]] if now else []
        if field.key in ("supports", "bends", "devices") and now:
            found += [now[1:], [now[0]]]
    elif not isinstance(now, str):
        return []
    elif field.key == "color":
        found = list(COLORS)
    elif field.key == "method":
        found = list(dict.fromkeys(METHODS))
    elif field.key in ("breaker", "rating") and now.endswith(" A"):
        found = list(RATINGS)
    elif field.kind == "flag":
        found = ["true", "false"]
    elif field.form is not None:
        found = list(OTHERS.get(field.form.name, ()))
    elif field.options:
        found = [str(option) for option in field.options]
    elif field.kind == "number" and " " in now and now.split()[0].replace(".", "").isdigit():
        number, unit = now.split(" ", 1)
        if " " not in unit:
            found = [f"{float(number) * by:g} {unit}" for by in (0.25, 0.5, 0.8, 1.25, 2.0, 4.0)]
    return [value for value in found if value != now]
