"""Relations between an assembly and a changed one, which hold whatever the numbers are."""

from __future__ import annotations

import math
import random
import re
from fractions import Fraction
from typing import Any

import pytest
from designs import NAMES, Plain, assembly_of, book, findings, given_fields, sample
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from checker.assembly.records import Assembly
from checker.findings.finding import Finding
from checker.findings.traced import Names
from checker.quantities.dimension import CURRENT, LENGTH, POWER, TEMPERATURE, VOLUME, Dimension
from checker.quantities.notation import quantity

QUICK = settings(
    max_examples=40, deadline=None, derandomize=True, phases=[Phase.explicit, Phase.generate]
)
SIZES = ("14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "2 AWG", "1/0 AWG")


def step(found: Finding, name: str, plain: Plain) -> Any:
    """A step of a finding's calculation."""
    return Names(found.form, found.subject, assembly_of(plain), book().vocabulary)[name]


# -- one more wire ---------------------------------------------------------------------------

wires = st.lists(
    st.builds(
        lambda size, kind, count: {
            "role": "spare", "size": size, "insulation": kind, "count": str(count)
        },
        st.sampled_from(SIZES), st.sampled_from(("THHN", "TW", "XHHW")), st.integers(1, 9),
    ),
    min_size=1, max_size=5,
)  # fmt: skip


@QUICK
@given(wires, wires, st.sampled_from(("EMT", "PVC80", "FMC")), st.sampled_from(("1/2", "1", "3")))
def test_a_further_wire_never_lowers_the_fill(
    there: list[Plain], more: list[Plain], method: str, trade: str
) -> None:
    def fill(pulled: list[Plain]) -> float:
        plain = {
            "assembly": "fill", "defaults": {"wire": {"material": "copper"}},
            "raceways": [{"id": "R", "method": method, "size": trade, "from": "field",
                          "to": "field", "length": "10 ft"}],
            "pulls": [{"id": "W", "through": ["R"], "wires": pulled}],
        }  # fmt: skip
        found = findings(plain)["raceway-fill", "raceway", "R"]
        return float(step(found, "fill", plain))

    for count in range(len(more)):
        assert fill(there + more[: count + 1]) > fill(there + more[:count])


@QUICK
@given(wires, wires)
def test_a_further_wire_never_lowers_the_volume_that_a_box_needs(
    there: list[Plain], more: list[Plain]
) -> None:
    def need(ended: list[Plain]) -> float:
        small = [w | {"size": "6 AWG"} if w["size"] in SIZES[5:] else w for w in ended]
        plain = {
            "assembly": "box", "boxes": [{"id": "B", "kind": "outlet", "volume": "30 in³"}],
            "raceways": [{"id": "R", "method": "EMT", "size": "4", "from": "field", "to": "B"}],
            "pulls": [{"id": "W", "through": ["R"], "wires": small}],
        }  # fmt: skip
        measure = findings(plain)["box-fill", "box", "B"].measure
        return float(measure)

    assert need(there + more) > need(there)


# -- splitting a run -------------------------------------------------------------------------

bends = st.lists(
    st.tuples(
        st.sampled_from(("bend", "kick", "offset", "saddle3", "saddle4")), st.integers(1, 180)
    ).map(lambda b: {"kind": b[0], "angle": f"{b[1] / 2} deg"}),
    max_size=8,
)


@QUICK
@given(st.lists(bends, min_size=1, max_size=4), st.randoms(use_true_random=False))
def test_splitting_a_raceway_by_a_coupling_never_changes_the_bend_total(
    pieces: list[list[Plain]], chance: random.Random
) -> None:
    def total(parts: list[list[Plain]]) -> tuple[float, str]:
        last = len(parts) - 1
        raceways = [
            {"id": f"R{n}", "method": "EMT", "size": "3/4", "bends": part,
             "from": "B1" if n == 0 else f"K{n}", "to": "B2" if n == last else f"K{n + 1}"}
            for n, part in enumerate(parts)
        ]  # fmt: skip
        chance.shuffle(raceways)
        plain = {
            "assembly": "run",
            "boxes": [{"id": "B1", "kind": "junction"}, {"id": "B2", "kind": "junction"}],
            "couplings": [{"id": f"K{n}"} for n in range(1, len(parts))],
            "raceways": raceways,
        }
        (found,) = [f for key, f in findings(plain).items() if key[0] == "bend-total"]
        return float(found.measure), found.kind

    joined = [bend for piece in pieces for bend in piece]
    whole, kind = total([joined])
    split, split_kind = total(pieces)
    assert math.isclose(whole, split, rel_tol=1e-12, abs_tol=1e-12)
    assert kind == split_kind


# -- the order of the file -------------------------------------------------------------------

#: Lists whose order says something: bends, routes, points, distances.
ORDERED = {"bends", "through", "path", "at", "supports", "amendments"}


def shuffled(node: Any, chance: random.Random, key: str = "") -> Any:
    """The same data with keys and list items in another order."""
    if isinstance(node, dict):
        keys = list(node)
        chance.shuffle(keys)
        return {k: shuffled(node[k], chance, k) for k in keys}
    if isinstance(node, list):
        # A point of a path is a list within a list: across, up, depth.
        items = [shuffled(item, chance, key if isinstance(item, list) else "") for item in node]
        if key not in ORDERED:
            chance.shuffle(items)
        return items
    return node


def same(one: Any, other: Any) -> bool:
    if isinstance(one, int | float) and isinstance(other, int | float):
        return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)
    return bool(one == other)


def differences(one: dict[Any, Finding], other: dict[Any, Finding]) -> list[str]:
    assert set(one) == set(other)
    found = []
    for key, a in one.items():
        b = other[key]
        if a.kind != b.kind or not same(a.measure, b.measure) or not same(a.limit, b.limit):
            found.append(f"{key}: {a.kind} {a.measure} {a.limit}, {b.kind} {b.measure} {b.limit}")
        elif set(a.gaps) != set(b.gaps):
            found.append(f"{key}: {a.gaps}, {b.gaps}")
    return found


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("seed", range(3))
def test_the_order_of_the_file_changes_no_finding(name: str, seed: int) -> None:
    plain = sample(name)
    turned = shuffled(plain, random.Random(seed))
    assert list(turned) != list(plain)
    assert not differences(findings(plain), findings(turned))


@pytest.mark.parametrize("name", NAMES)
def test_drawing_raceways_the_other_way_changes_no_finding(name: str) -> None:
    plain, turned = sample(name), sample(name)
    for way in [*turned.get("raceways", []), *turned.get("cables", [])]:
        if "length" not in way:
            continue  # its supports cannot be measured from the other end
        for a, b in (("from", "to"), ("from_wall", "to_wall"), ("from_row", "to_row")):
            ends = {b: way.pop(a, None), a: way.pop(b, None)}
            way.update({key: end for key, end in ends.items() if end is not None})
        for key in ("bends", "path"):
            if key in way:
                way[key] = way[key][::-1]
        if "supports" in way:
            length = quantity(way["length"], LENGTH).value
            way["supports"] = [
                f"{length - quantity(s, LENGTH).value!r} in" for s in way["supports"][::-1]
            ]
    assert not differences(findings(plain), findings(turned))


def test_writing_routes_backwards_changes_no_finding() -> None:
    for name in NAMES:
        plain, turned = sample(name), sample(name)
        for pull in turned["pulls"]:
            pull["through"] = pull["through"][::-1]
        assert not differences(findings(plain), findings(turned))


# -- units -----------------------------------------------------------------------------------

#: Another unit for each dimension, and how many of it one base unit is, exactly.
OTHER: dict[Dimension, tuple[str, Fraction, Fraction]] = {
    LENGTH: ("mm", Fraction(254, 10), Fraction(0)),
    VOLUME: ("cm³", Fraction(254, 100) ** 3, Fraction(0)),
    CURRENT: ("kA", Fraction(1, 1000), Fraction(0)),
    POWER: ("kVA", Fraction(1, 1000), Fraction(0)),
    TEMPERATURE: ("degF", Fraction(9, 5), Fraction(32)),
}


def decimal(value: Fraction) -> str:
    """A fraction as decimal text, to more digits than a float holds."""
    scaled = round(value * 10**18)
    whole, rest = divmod(abs(scaled), 10**18)
    return f"{'-' if scaled < 0 else ''}{whole}.{rest:018d}".rstrip("0").rstrip(".")


def in_other_units(plain: Plain) -> tuple[Plain, int]:
    """The same design with every quantity written in another unit."""
    changed = 0

    def convert(text: Any, dimension: Dimension) -> Any:
        nonlocal changed
        if isinstance(text, list):
            return [convert(item, dimension) for item in text]
        unit, factor, offset = OTHER[dimension]
        value = Fraction(quantity(text, dimension).value).limit_denominator(10**6)
        changed += 1
        return f"{decimal(value * factor + offset)} {unit}"

    for field in list(given_fields(plain, Assembly)):
        kind = field.field
        while kind.kind == "list" and kind.item is not None:
            kind = kind.item
        if kind.kind == "number" and kind.dimension in OTHER:
            key = field.field.key
            field.holder[key] = convert(field.holder[key], kind.dimension)
    return plain, changed


@pytest.mark.parametrize("name", NAMES)
def test_the_units_of_the_file_change_no_finding(name: str) -> None:
    turned, changed = in_other_units(sample(name))
    assert changed > 100
    assert not differences(findings(sample(name)), findings(turned))


def test_lengths_in_millimetres_are_written_exactly() -> None:
    turned, _ = in_other_units({"assembly": "x", "sections": [{"id": "S", "width": "4 ft 6 in"}]})
    assert turned["sections"][0]["width"] == "1371.6 mm"
    assert re.fullmatch(r"\d+(\.\d+)? mm", turned["sections"][0]["width"])


# -- more of the same ------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_an_unconnected_part_changes_no_other_finding(name: str) -> None:
    """A box and a raceway of their own add findings of their own and touch nothing else."""
    plain, more = sample(name), sample(name)
    more["boxes"].append({"id": "ALONE", "kind": "junction", "volume": "30 in³"})
    more["panels"].append({"id": "P-ALONE", "branch": "normal", "system": "208Y/120"})
    before, after = findings(plain), findings(more)
    assert set(before) < set(after)
    elements = {key: f for key, f in after.items() if key in before and key[1] != "assembly"}
    kept = {key: f for key, f in before.items() if key[1] != "assembly"}
    assert not differences(kept, elements)


@pytest.mark.parametrize("name", NAMES)
def test_the_quantity_built_changes_no_finding(name: str) -> None:
    plain, more = sample(name), sample(name)
    more["quantity"] = "999"
    assert not differences(findings(plain), findings(more))
