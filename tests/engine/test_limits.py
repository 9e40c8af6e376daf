"""A limit met exactly is met, in whatever unit it is written and however its sides are reached.

The numbers are hand arithmetic; where a float misses the limit by its last bit, the test says so
and shows it.
"""

from __future__ import annotations

from typing import Any

import pytest
from walls import Plain, assembly_of

from checker.engine.evaluate import evaluate_rule
from checker.findings.finding import Finding
from checker.rulebook.book import load_rulebook


def judge(rule: str, on: str, plain: Plain) -> Finding:
    book = load_rulebook("nec-2023")
    assembly = assembly_of({"assembly": "limit", **plain})
    (subject_class,) = {"raceway-fill": ["raceway"], "conductor-ampacity": ["pull"],
                        "box-fill": ["box"], "bend-total": ["run"],
                        "circuit-load": ["circuit"]}[rule]  # fmt: skip
    subject = next(
        e for e in getattr(assembly, {"box": "boxes"}.get(subject_class, subject_class + "s"))
        if e.id == on
    )  # fmt: skip
    return evaluate_rule(book, book.find(rule), subject_class, subject, assembly)


# Mike Holt forum 2585679: 399 conductors of 12 THHN in a trade size 3 EMT nipple (60 %), which a
# length of not more than 24 in makes it; at 40 % the same number is too many.
@pytest.mark.parametrize(
    ("length", "kind"),
    [("24 in", "pass"), ("609.6 mm", "pass"), ("2 ft", "pass"), ("0.6096 m", "pass"),
     ("1 ft 12 in", "pass"), ("60.96 cm", "pass"), ("24.001 in", "fail"), ("610 mm", "fail"),
     ("2 ft 1/16 in", "fail"), ("23-15/16 in", "pass")],
)  # fmt: skip
def test_nipple_length(length: str, kind: str) -> None:
    found = judge("raceway-fill", "R", {
        "boxes": [{"id": "B1", "kind": "pull"}, {"id": "B2", "kind": "pull"}],
        "raceways": [{"id": "R", "method": "EMT", "size": "3", "from": "B1", "to": "B2",
                      "length": length}],
        "pulls": [{"id": "W", "through": ["R"], "wires": [
            {"role": "spare", "size": "12 AWG", "insulation": "THHN", "count": "399"}]}],
    })  # fmt: skip
    assert found.kind == kind


@pytest.mark.parametrize(
    ("breaker", "kind"), [("20 A", "pass"), ("0.02 kA", "pass"), ("20.0001 A", "fail")]
)
def test_twenty_amperes_from_25_times_080(breaker: str, kind: str) -> None:
    """Six 14 AWG THHN: 25 A × 0.80 = 20 A (Electrician Talk, three 14-2 cables; example B26)."""
    circuits = [{"id": f"C{n}", "panel": "P", "phases": ["A"], "breaker": breaker,
                 "outlets": "several"} for n in range(3)]  # fmt: skip
    pulls = [{"id": f"W{n}", "circuit": [f"C{n}"], "through": ["R"], "wires": [
        {"role": "phase", "size": "14 AWG"}, {"role": "neutral", "size": "14 AWG"}]}
        for n in range(3)]  # fmt: skip
    found = judge("conductor-ampacity", "W0", {
        "basis": {"ambient": "86 degF"},
        "defaults": {"wire": {"material": "copper", "insulation": "THHN"}, "terminals": "75 degC"},
        "panels": [{"id": "P", "branch": "normal", "system": "208Y/120"}],
        "circuits": circuits,
        "raceways": [{"id": "R", "method": "EMT", "size": "1", "from": "P", "to": "field",
                      "length": "10 ft"}],
        "pulls": pulls,
    })  # fmt: skip
    assert found.kind == kind
    assert found.limit == pytest.approx(20)


def boxed(count: int, volume: str, rings: list[str]) -> Finding:
    wires: list[Any] = [{"role": "spare", "size": "12 AWG", "count": str(count)}]
    return judge("box-fill", "B", {
        "boxes": [{"id": "B", "kind": "outlet", "volume": volume,
                   "rings": [{"volume": ring} for ring in rings]}],
        "raceways": [{"id": "R", "method": "EMT", "size": "1", "from": "field", "to": "B"}],
        "pulls": [{"id": "W", "through": ["R"], "wires": wires}],
    })  # fmt: skip


def test_box_volume_met_exactly() -> None:
    """Twelve 12 AWG at 2.25 in³ are 27 in³."""
    assert boxed(12, "27 in³", []).kind == "pass"
    assert boxed(12, "26.99 in³", []).kind == "fail"
    # 442.4 cm³ and a little: 27 in³ are exactly 442.450728 cm³.
    assert boxed(12, "442.450728 cm³", []).kind == "pass"
    assert boxed(12, "442.45 cm³", []).kind == "fail"


@pytest.mark.parametrize(
    ("need", "volume", "rings"),
    [(27.0, 11.54, [6.64, 1.92, 1.63, 5.27]), (27.0, 3.63, [8.62, 5.44, 5.72, 3.59])],
)
def test_box_volume_met_by_parts_that_a_float_sums_short(
    need: float, volume: float, rings: list[float]
) -> None:
    assert volume + sum(rings) < need  # the last bit is lost
    found = boxed(round(need / 2.25), f"{volume} in³", [f"{ring} in³" for ring in rings])
    assert found.measure == need
    assert found.kind == "pass"
    assert boxed(round(need / 2.25), f"{volume - 0.01:.2f} in³",
                 [f"{ring} in³" for ring in rings]).kind == "fail"  # fmt: skip


@pytest.mark.parametrize(
    "angles",
    [[45.9, 21.5, 78.2, 64.8, 43.7, 21.7, 53.6, 30.6], [32.6, 14.5, 64.0, 76.2, 36.0, 75.4, 61.3]],
)
def test_bends_of_exactly_360_that_a_float_sums_over(angles: list[float]) -> None:
    total = 0.0
    for angle in angles:
        total += angle
    assert total > 360  # the last bit is too much
    assert run_of(angles).kind == "pass"
    assert run_of([*angles, 0.1]).kind == "fail"


def run_of(angles: list[float]) -> Finding:
    bends = [{"kind": "bend", "angle": f"{angle} deg"} for angle in angles]
    return judge("bend-total", "R", {"raceways": [
        {"id": "R", "from": "field", "to": "field", "bends": bends}]})  # fmt: skip


@pytest.mark.parametrize(
    ("load", "continuous", "kind"),
    [("2400 VA", "0 VA", "pass"), ("2.4 kVA", "0 VA", "pass"), ("2401 VA", "0 VA", "fail"),
     ("1920 VA", "1920 VA", "pass"), ("1920 W", "1.92 kW", "pass"), ("1921 VA", "1921 VA", "fail")],
)  # fmt: skip
def test_load_of_exactly_the_rating(load: str, continuous: str, kind: str) -> None:
    """20 A × 120 V = 2400 VA; 2400 VA ÷ 1.25 = 1920 VA of continuous load."""
    found = judge("circuit-load", "C", {
        "panels": [{"id": "P", "branch": "normal", "system": "208Y/120"}],
        "circuits": [{"id": "C", "panel": "P", "phases": ["B"], "breaker": "20 A", "load": load,
                      "continuous_load": continuous}],
    })  # fmt: skip
    assert found.kind == kind
