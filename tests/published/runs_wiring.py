"""Worked examples on fill, ampacity, box fill and bends as assemblies that the program judges."""

from __future__ import annotations

from typing import Any

import pytest
from assemblies import bent, box_name, boxed, carrying, filled, size_of
from judging import Bench
from worked import ALL_EDITIONS, EXAMPLES, Example, runs

from checker.quantities.designations import TRADE_SIZES, WIRE_SIZES

#: Standard ratings of overcurrent devices (240.6(A); the first ones, from memory).
RATINGS = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150)

# -- conduit and raceway fill ----------------------------------------------------------------


def fill(bench: Bench, method: str, trade: str, wires: Any, length: str = "10 ft") -> Any:
    """The finding of raceway-fill, the same in every edition."""
    found = [
        bench.judge(filled(method, trade, wires, length), "raceway-fill", "R", edition)
        for edition in ALL_EDITIONS
    ]
    assert len({(f.kind, f.measure, f.limit) for f in found}) == 1
    return found[0]


def wires_of(inputs: Example) -> list[tuple[int, str, str]]:
    return [(c["qty"], c["size"], c["insulation"]) for c in inputs["conductors"]]


@runs("max_same")
def most_of_one_kind(bench: Bench, example: Example) -> None:
    raceway, wire = example["inputs"]["raceway"], example["inputs"]["conductor"]
    count = example["recomputed"]["value"]
    length = f"{raceway.get('length_in', 120)} in"
    for number, kind in ((count, "pass"), (count + 1, "fail")):
        wires = [(number, wire["size"], wire["insulation"])]
        found = fill(bench, raceway["type"], raceway["trade_size"], wires, length)
        assert (found.kind, found.measure, found.limit) == (kind, number, count)


@runs("min_trade_size")
def smallest_trade_size(bench: Bench, example: Example) -> None:
    inputs, answer = example["inputs"], example["recomputed"]["value"]
    method, length = inputs["raceway"]["type"], f"{inputs['raceway'].get('length_in', 120)} in"
    assert fill(bench, method, answer, wires_of(inputs), length).kind == "pass"
    smaller = TRADE_SIZES[TRADE_SIZES.index(answer) - 1]
    found = fill(bench, method, smaller, wires_of(inputs), length)
    assert found.kind == "fail"
    assert f"Use trade size {answer};" in found.fix + ";"


@runs("total_area")
def area_of_all_conductors(bench: Bench, example: Example) -> None:
    found = fill(bench, "PVC40", "3", wires_of(example["inputs"]))
    tolerance = example["published"]["tolerance"]
    assert found.step("wire_area") == pytest.approx(example["published"]["value"], abs=tolerance)


@runs("fits")
def mixed_conductors_fit(bench: Bench, example: Example) -> None:
    raceway = example["inputs"]["raceway"]
    found = fill(bench, raceway["type"], raceway["trade_size"], wires_of(example["inputs"]))
    assert (found.kind == "pass") is example["recomputed"]["value"]
    assert example["id"] == "A16"  # 0.1732 in² against 0.164 in², as its note says
    assert found.step("wire_area") == pytest.approx(0.1732, abs=5e-5)
    assert found.limit * found.step("bore") == pytest.approx(0.164, abs=5e-4)


@runs("fits_same")
def equal_conductors_fit(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    raceway, wire = inputs["raceway"], inputs["conductor"]
    for count, kind in ((inputs["qty"], "pass"), (inputs["qty"] + 1, "fail")):
        wires = [(count, wire["size"], wire["insulation"])]
        found = fill(bench, raceway["type"], raceway["trade_size"], wires)
        assert found.kind == kind


@runs("area_limit")
def usable_area(bench: Bench, example: Example) -> None:
    raceway = example["inputs"]["raceway"]
    wires = [(2, "1/0", "THHN"), (1, "2", "THHN")]  # unlike, so that the share of the bore counts
    found = fill(bench, raceway["type"], raceway["trade_size"], wires, f"{raceway['length_in']} in")
    tolerance = example["published"]["tolerance"]
    usable = found.limit * found.step("bore")
    assert usable == pytest.approx(example["published"]["value"], abs=tolerance)


# -- ampacity, adjustment, overcurrent, neutral counting ---------------------------------------


def ambient_of(inputs: Example) -> str:
    """In the unit of the problem; the table has whole degrees Celsius for those of Fahrenheit."""
    if "ambient_f" in inputs:
        return f"{inputs['ambient_f']} degF"
    return f"{inputs['ambient_c']} degC"


def carried(bench: Bench, size: str, count: int, **more: str) -> Any:
    """The finding of conductor-ampacity on the first pull, the same in every edition."""
    found = [
        bench.judge(carrying(size, count, **more), "conductor-ampacity", "W1", edition)
        for edition in ALL_EDITIONS
    ]
    assert len({(f.kind, f.measure, f.limit) for f in found}) == 1
    assert found[0].step("current_carrying") == count
    return found[0]


@runs("ampacity", "ampacity_column")
def corrected_ampacity(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    size = size_of(inputs["conductor"]["size"])
    column = inputs["conductor"].get("insulation_temp_c") or inputs["conductor"]["column_c"]
    more = {
        "insulation": {90: "THHN", 75: "THW"}[column],
        "ambient": ambient_of(inputs) if "ambient_c" in inputs else "30 degC",
    }
    value = example["recomputed"]["value"]
    tolerance = 0.005
    if example["recomputed"]["agree"]:
        published = example["published"]
        assert abs(value - published["value"]) <= published.get("tolerance", tolerance)
    for breaker, kind in ((value, "pass"), (value + 0.1, "fail")):
        found = carried(
            bench, size, inputs["current_carrying_conductors"], breaker=f"{breaker} A", **more
        )
        assert found.step("corrected_ampacity") == pytest.approx(value, abs=tolerance)
        assert found.step("usable_ampacity") == pytest.approx(value, abs=tolerance)
        assert found.kind == kind


@runs("ocpd")
def largest_overcurrent_device(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    outlets = "single" if inputs["round_up_allowed"] else "several"
    holding = []
    for rating in RATINGS[:6]:
        assembly = carrying(
            size_of(inputs["conductor"]["size"]),
            inputs["current_carrying_conductors"],
            ambient=ambient_of(inputs),
            breaker=f"{rating} A",
            outlets=outlets,
        )
        found = [
            bench.judge(assembly, rule, "W1") for rule in ("conductor-ampacity", "small-conductor")
        ]
        assert {f.kind for f in found} <= {"pass", "fail"}
        if all(f.kind == "pass" for f in found):
            holding.append(rating)
    assert max(holding) == example["recomputed"]["value"]
    assert holding == [r for r in RATINGS if r <= max(holding)]


@runs("min_ocpd")
def device_for_a_continuous_load(bench: Bench, example: Example) -> None:
    inputs, answer = example["inputs"], example["recomputed"]["value"]
    assert not inputs["noncontinuous_a"]
    load = f"{inputs['continuous_a'] * 120} VA"  # one pole of 208Y/120
    for rating in RATINGS:
        assembly = carrying("1/0 AWG", 2, breaker=f"{rating} A")
        assembly["circuits"][0] |= {"load": load, "continuous_load": load, "outlets": "single"}
        found = bench.judge(assembly, "circuit-load", "C1")
        assert found.measure == pytest.approx(inputs["continuous_a"] * 1.25)
        assert found.kind == ("pass" if rating >= answer else "fail")
        if rating < answer:
            assert f"Use a {answer} A circuit" in found.fix


def smallest_size(bench: Bench, count: int, **more: str) -> str:
    """The smallest size that conductor-ampacity lets pass; every larger one passes too."""
    tried = WIRE_SIZES[WIRE_SIZES.index("14 AWG") : WIRE_SIZES.index("250 kcmil")]
    kinds = [carried(bench, size, count, **more).kind for size in tried]
    place = kinds.index("pass")
    assert kinds == ["fail"] * place + ["pass"] * (len(kinds) - place)
    return str(tried[place]).removesuffix(" AWG")


@runs("min_size_terminal")
def size_for_a_continuous_load(bench: Bench, example: Example) -> None:
    terminals = f"{example['inputs']['terminal_temp_c']} degC"
    device = next(e for e in EXAMPLES if e["id"] == "B18")["recomputed"]["value"]
    answer = smallest_size(bench, 2, terminals=terminals, breaker=f"{device} A")
    assert answer == example["recomputed"]["value"]


@runs("min_size_column")
def size_for_a_load(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    more = {"terminals": f"{inputs['column_c']} degC", "breaker": f"{inputs['load_a']} A"}
    assert smallest_size(bench, 2, **more) == example["recomputed"]["value"]


@runs("min_size_derated")
def size_after_factors(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    answer = smallest_size(
        bench,
        inputs["current_carrying_conductors"],
        ambient=ambient_of(inputs),
        breaker=f"{inputs['load_a']} A",
    )
    assert answer == example["recomputed"]["value"]


@runs("ccc_count")
def current_carrying(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    two_wire = inputs["dedicated_grounded"]
    sets = [] if two_wire else [("A", "B", "C"), ("A", "B", "C"), ("A", "B")]
    sets += [("A",)] * two_wire
    assert sum(map(len, sets)) == inputs["ungrounded"]
    assembly = carrying("12 AWG", 0)
    for n, phases in enumerate(sets, 1):
        assembly["circuits"].append(
            {"id": f"C{n}", "panel": "P", "phases": list(phases), "breaker": "20 A",
             "outlets": "several", "nonlinear": False}
        )  # fmt: skip
        wires = [{"role": "phase", "phase": p, "size": "12 AWG"} for p in phases]
        wires.append({"role": "neutral", "size": "12 AWG"})
        if n == 1:
            wires += [{"role": "ground", "size": "12 AWG"}] * inputs.get("egc", 0)
        assembly["pulls"].append(
            {"id": f"W{n}", "circuit": f"C{n}", "through": ["R"], "wires": wires}
        )
    found = bench.judge(assembly, "conductor-ampacity", "W1")
    assert found.step("current_carrying") == example["recomputed"]["value"]


# -- box fill --------------------------------------------------------------------------------


def editions_of(inputs: Example) -> tuple[str, ...]:
    """The editions whose rule on grounding conductors a problem uses."""
    before = inputs.get("egc_rule") == "pre2020"
    grounds = sum(g["qty"] for g in inputs.get("egc", []))
    if grounds <= 4:
        return ALL_EDITIONS  # the rule of 2020 asks for more from the fifth one on
    return ("nec-2017",) if before else ("nec-2020", "nec-2023")


def box_findings(bench: Bench, inputs: Example, box: Example, **more: Any) -> Any:
    found = [
        bench.judge(boxed(inputs, box, **more), "box-fill", "B", edition)
        for edition in editions_of(inputs)
    ]
    assert len({(f.kind, f.measure, f.limit) for f in found}) == 1
    return found[0]


@runs("min_volume")
def volume_needed(bench: Bench, example: Example) -> None:
    inputs, volume = example["inputs"], example["recomputed"]["value"]
    if example["id"] == "C43":  # two conductors that pass
        inputs, more = inputs | {"conductors": []}, {"passing": (2, "12")}
    else:
        more = {}
    for offered, kind in ((volume, "pass"), (volume - 0.01, "fail")):
        found = box_findings(bench, inputs, {"volume": f"{offered} in³"}, **more)
        assert (found.kind, found.measure) == (kind, volume)


@runs("fits_box")
def fits_the_box(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    found = box_findings(bench, inputs, {"volume": f"{inputs['box_volume_in3']} in³"})
    assert (found.kind == "pass") is example["recomputed"]["value"]


@runs("max_added")
def conductors_that_may_pass(bench: Bench, example: Example) -> None:
    inputs, answer = example["inputs"], example["recomputed"]["value"]
    box = {"volume": f"{inputs['box_volume_in3']} in³"}
    for count, kind in ((answer, "pass"), (answer + 1, "fail")):
        found = box_findings(bench, inputs, box, passing=(count, inputs["add_size"]))
        assert found.kind == kind


@runs("ring_needed")
def ring_that_does(bench: Bench, example: Example) -> None:
    inputs, ring = example["inputs"], example["recomputed"]["value"]
    for offered, kind in ((ring, "pass"), (ring - 0.01, "fail")):
        box = {"trade_size": "4 x 1-1/2 square", "rings": [{"volume": f"{offered} in³"}]}
        found = box_findings(bench, inputs, box)
        assert found.kind == kind
        assert found.limit == pytest.approx(inputs["box_volume_in3"] + offered)


@runs("max_same_box")
def most_in_a_box(bench: Bench, example: Example) -> None:
    inputs, answer = example["inputs"], example["recomputed"]["value"]
    for count, kind in ((answer, "pass"), (answer + 1, "fail")):
        wires = {"conductors": [{"qty": count, "size": inputs["size"]}]}
        found = box_findings(bench, wires, {"trade_size": box_name(inputs["box"])})
        assert found.kind == kind


@runs("smallest_box")
def smallest_of_the_choices(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    found = {
        choice: box_findings(bench, inputs, {"trade_size": box_name(choice)})
        for choice in inputs["choices"]
    }
    holding = {choice: f.limit for choice, f in found.items() if f.kind == "pass"}
    assert {f.kind for f in found.values()} <= {"pass", "fail"}
    assert min(holding, key=holding.__getitem__) == example["recomputed"]["value"]


@runs("equiv_count_14")
def conductor_equivalents(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    one = {"conductors": [{"qty": 1, "size": "14"}]}
    allowance = box_findings(bench, one, {"volume": "10 in³"}).measure
    found = box_findings(bench, inputs, {"volume": "10 in³"})
    assert found.measure / allowance == example["recomputed"]["value"]


@runs("box_volume")
def table_volume(bench: Bench, example: Example) -> None:
    inputs = example["inputs"]
    wires = {"conductors": [{"qty": 1, "size": "12"}]}
    found = box_findings(bench, wires, {"trade_size": box_name(inputs["box"])})
    assert found.limit == example["recomputed"]["value"]


# -- bends -----------------------------------------------------------------------------------


@runs("bend_limit_deg")
def right_angles(bench: Bench, example: Example) -> None:
    limit = example["recomputed"]["value"]
    count = example["inputs"]["right_angle_bends"]
    square = [{"kind": "bend", "angle": "90 deg"}] * count
    for bends, kind in ((square, "pass"), ([*square, {"kind": "kick", "angle": "1 deg"}], "fail")):
        found = bench.judge(bent(bends), "bend-total", "R")
        assert (found.kind, found.limit) == (kind, limit)


@runs("bend_total_ok")
def bends_add_up(bench: Bench, example: Example) -> None:
    bends = [{"kind": "bend", "angle": f"{a} deg"} for a in example["inputs"]["bends_deg"]]
    found = bench.judge(bent(bends), "bend-total", "R")
    assert found.measure == sum(example["inputs"]["bends_deg"])
    assert (found.kind == "pass") is example["recomputed"]["value"]
    more = [*bends, {"kind": "kick", "angle": "1 deg"}]
    assert bench.judge(bent(more), "bend-total", "R").kind == "fail"
