"""``by: site``: it counts in fill, derating, bends and separation; no length is asked."""

from __future__ import annotations

from typing import Any

import pytest
from small_wall import by_id, problem, read

from checker.engine.evaluate import evaluate
from checker.findings.not_covered import not_covered
from checker.rulebook.book import load_rulebook

#: A home run of the field crew and a raceway of the shop, coupled.
RUN = """\
assembly: W
basis: {edition: nec-2023, health_care: false, ambient: 30 degC, location: dry}
defaults: {wire: {material: copper, insulation: THHN, size: 12 AWG}, terminals: 75 degC}
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits: [{id: P-1, panel: P, phases: [A], breaker: 20 A, neutral: false}]
couplings: [{id: K}]
boxes: [{id: B, kind: junction}]
raceways:
  - {id: H, method: EMT, size: 1/2, from: P, to: K, by: site, bends: [{kind: bend, angle: 270 deg}]}
  - {id: R, method: EMT, size: 1/2, from: K, to: B, length: 10 ft, supports: [3 ft, 8 ft],
     bends: [{kind: bend, angle: 180 deg}]}
pulls:
  - {id: W, circuit: P-1, through: [H, R], by: site, wires: [{role: phase, size: 12 AWG,
     count: 10}]}
"""


def kinds(text: str) -> dict[tuple[str, str], Any]:
    """Findings by rule and element."""
    assembly = read(text)
    return {(f.rule.id, f.subject_id): f for f in evaluate(load_rulebook("nec-2023"), assembly)}


def test_no_supports_and_no_length_are_asked_of_it() -> None:
    found = kinds(RUN)
    for rule in ("support-spacing", "support-from-box", "vertical-conductors"):
        assert found[rule, "H"].kind == "notApplicable"
    gaps = [gap for one in found.values() for gap in one.gaps if "raceway H" in gap]
    assert not [gap for gap in gaps if "supports" in gap or "length" in gap]


def test_it_counts_in_fill_and_derating_and_is_never_a_nipple() -> None:
    found = kinds(RUN)
    assert found["raceway-fill", "H"].kind == "fail"  # ten 12 AWG in 1/2 EMT; nine may be
    assert found["raceway-fill", "R"].kind == "fail"  # also where it goes on in the shop's piece
    assert found["conductor-ampacity", "W"].kind == "fail"
    shop = RUN.replace(" by: site, bends", " bends")
    assert kinds(shop)["conductor-ampacity", "W"].kind == "open"


def test_it_counts_in_the_bends_of_its_run() -> None:
    assert kinds(RUN)["bend-total", "H+R"].measure == 450.0


def test_the_shop_fastens_its_own_piece_as_far_as_the_coupling() -> None:
    assert kinds(RUN)["support-spacing", "R"].kind == "pass"
    far = RUN.replace("10 ft, supports: [3 ft, 8 ft]", "20 ft, supports: [9 ft]")
    assert kinds(far)["support-spacing", "R"].measure == 11 * 12.0


def test_what_is_stated_of_it_is_judged() -> None:
    text = RUN.replace("by: site, bends", "by: site, length: 30 ft, supports: [3 ft], bends")
    assert kinds(text)["support-spacing", "H"].kind == "fail"


def test_the_field_crew_pulls_what_it_makes() -> None:
    assert by_id(read(RUN).pulls)["W"].pulled == "site"
    found = problem(RUN.replace("by: site, wires", "by: site, pulled: shop, wires"))
    assert "the field crew makes pull `W` and the shop pulls it" in found.message


def test_the_report_lists_it_as_the_sites_own_work() -> None:
    rows = not_covered(read(RUN), load_rulebook("nec-2023"))["site"]
    assert {"class": "raceway", "id": "H", "work": "made and fastened by the field crew"} in rows
    assert {"class": "pull", "id": "W", "work": "pulled by the site"} in rows


@pytest.mark.parametrize("key", ["raceways", "cables"])
def test_where_the_shop_makes_none_no_supports_need_be_described(key: str) -> None:
    ways = "cables: [{id: C, method: MC, from: P, to: B, by: site}]\n"
    if key == "raceways":
        ways = "raceways: [{id: C, method: EMT, size: 1/2, from: P, to: B, by: site}]\n"
    text = RUN[: RUN.index("couplings:")] + "boxes: [{id: B, kind: junction}]\n" + ways
    assert kinds(text)["undescribed-supports", "W"].kind == "notApplicable"
    assert kinds(text.replace(", by: site", ""))["undescribed-supports", "W"].kind == "open"
