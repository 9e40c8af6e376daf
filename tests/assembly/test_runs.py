"""Runs: raceways joined by couplings, in route order from the end that the file names first.

The naming rule and the multiples of bends are those of the published assembly format; a coupling
gives no access (358.26 and its like speak of bends between pull points).
"""

from __future__ import annotations

import itertools

import pytest
from drawing import draw

from checker.assembly.records import Run
from checker.documents.missing import Missing

BOXES = "boxes: [{id: B1, kind: junction}, {id: B2, kind: junction}]\n"
FIRST = "  - {id: R1, from: B1, to: K1, length: 4 ft, bends: [{kind: bend, angle: 90 deg}]}"
SECOND = "  - {id: R2, from: K1, to: K2, length: 3 ft, bends: [{kind: offset, angle: 30 deg}]}"
THIRD = "  - {id: R3, from: K2, to: B2, length: 1 ft, bends: [{kind: kick, angle: 15 deg}]}"


def runs(*raceways: str, couplings: str = "[{id: K1}, {id: K2}]") -> tuple[Run, ...]:
    text = f"{BOXES}couplings: {couplings}\nraceways:\n" + "\n".join(raceways)
    return draw(text).runs


def test_three_raceways_through_two_couplings_are_one_run() -> None:
    (run,) = runs(FIRST, SECOND, THIRD)
    assert run.id == "R1+R2+R3"
    assert run.angle == 90 + 2 * 30 + 15
    assert run.length == 12 * (4 + 3 + 1)
    assert (run.start, run.finish, run.crosses, run.field) == ("B1", "B2", 2, False)


def test_two_raceways_through_one_coupling() -> None:
    (run,) = runs(FIRST, SECOND.replace("to: K2", "to: B2"), couplings="[{id: K1}]")
    assert (run.id, run.angle) == ("R1+R2", 150)


@pytest.mark.parametrize("order", list(itertools.permutations((FIRST, SECOND, THIRD))))
def test_the_run_is_named_from_the_end_that_the_file_names_first(order: tuple[str, ...]) -> None:
    (run,) = runs(*order)
    ends = [r for r in order if r in (FIRST, THIRD)]
    expected = "R1+R2+R3" if ends[0] == FIRST else "R3+R2+R1"
    assert run.id == expected
    assert run.angle == 165
    assert (run.start, run.finish) == (("B1", "B2") if expected[1] == "1" else ("B2", "B1"))


@pytest.mark.parametrize("turned", list(itertools.product((False, True), repeat=3)))
def test_it_does_not_matter_which_way_a_raceway_is_drawn(turned: tuple[bool, ...]) -> None:
    drawn = []
    for text, turn in zip((FIRST, SECOND, THIRD), turned, strict=True):
        start, end = (text.split(key)[1].split(",")[0] for key in ("from: ", "to: "))
        swapped = text.replace(f"from: {start}, to: {end}", f"from: {end}, to: {start}")
        drawn.append(swapped if turn else text)
    (run,) = runs(*drawn)
    assert (run.id, run.angle, run.length) == ("R1+R2+R3", 165, 96)
    assert {run.start, run.finish} == {"B1", "B2"}


def test_a_box_ends_a_run() -> None:
    first, second = runs(
        FIRST.replace("to: K1", "to: B2"), SECOND.replace("from: K1, to: K2", "from: B2, to: B1"),
        couplings="[]",
    )  # fmt: skip
    assert (first.id, first.angle) == ("R1", 90)
    assert (second.id, second.angle) == ("R2", 60)


def test_a_single_raceway_is_a_run_of_its_own_id() -> None:
    (run,) = runs(FIRST.replace("to: K1", "to: field"), couplings="[]")
    assert (run.id, run.angle, run.field, run.finish) == ("R1", 90, True, "field")


def test_a_run_that_the_site_completes_is_marked() -> None:
    (run,) = runs(FIRST, SECOND.replace("to: K2", "to: field"), couplings="[{id: K1}]")
    assert (run.id, run.field, run.angle) == ("R1+R2", True, 150)


# Multiples as the assembly format fixes them: 1, 1, 2, centre and two halves, 4.
@pytest.mark.parametrize(
    ("kind", "angle", "total"),
    [("bend", 90, 90), ("kick", 15, 15), ("offset", 30, 60), ("saddle3", 45, 90),
     ("saddle4", 30, 120)],
)  # fmt: skip
def test_what_each_kind_of_bend_adds(kind: str, angle: int, total: int) -> None:
    text = FIRST.replace("kind: bend, angle: 90 deg", f"kind: {kind}, angle: {angle} deg")
    (run,) = runs(text.replace("to: K1", "to: B2"), couplings="[]")
    assert run.angle == total


def test_a_bend_without_an_angle_leaves_the_total_open_and_says_so() -> None:
    (run,) = runs(FIRST, SECOND.replace("kind: offset, angle: 30 deg", "kind: offset"), THIRD)
    assert isinstance(run.angle, Missing)
    assert run.angle.gaps == ("`angle` of an offset of raceway R2",)
    assert run.length == 96


def test_a_raceway_without_a_length_leaves_the_length_open() -> None:
    (run,) = runs(FIRST, SECOND.replace("length: 3 ft, ", ""), THIRD)
    assert isinstance(run.length, Missing)
    assert run.length.gaps == ("`length` of raceway R2",)
    assert run.angle == 165


@pytest.mark.parametrize("order", list(itertools.permutations(range(3))))
@pytest.mark.parametrize("turned", [False, True])
def test_the_order_of_raceways_says_nothing_about_the_sections(
    order: tuple[int, ...], turned: bool
) -> None:
    """A run whose plain couplings hide two joints: as few sections as hold its ends, by name."""
    joints = ["[S1, S2]", "[S2, S3]"]
    raceways = [
        "  - {id: R1, from: K1, to: K3, section: S3}",
        "  - {id: R2, from: K3, to: K2}",
        "  - {id: R3, from: K1, to: B1}",
    ]
    if turned:
        joints = ["[S2, S1]", "[S3, S2]"]
        raceways[1] = "  - {id: R2, from: K2, to: K3}"
    made = draw(
        "sections: [{id: S1}, {id: S2}, {id: S3}]\n"
        f"joints: [{{id: J1, between: {joints[0]}}}, {{id: J2, between: {joints[1]}}}]\n"
        "couplings: [{id: K1, joint: J1}, {id: K2, joint: J2}, {id: K3}]\n"
        "boxes: [{id: B1, kind: junction, section: S1}, {id: B2, kind: junction, section: S3}]\n"
        "raceways:\n"
        + "\n".join(raceways[place] for place in order)
        + "\n  - {id: R4, from: K2, to: B2}\n"
    )
    reached = {r.id: r.reaches for r in made.raceways}
    assert reached["R1"] == reached["R2"] == ("S1", "S3")
    assert reached["R3"] == ("S1",)
    assert reached["R4"] == ("S3",)


def test_flexible_pieces_of_one_fault_path_add_up() -> None:
    """Star and string from a panel: 250.118(A)(5) of the 2023 edition counts one fault path."""
    made = draw(
        "panels: [{id: P}]\ncircuits: [{id: C, panel: P}]\n"
        "boxes: [{id: B1, kind: junction}, {id: B2, kind: junction}, {id: B3, kind: junction}]\n"
        "raceways:\n"
        "  - {id: R1, method: FMC, from: P, to: B1, length: 1 ft}\n"
        "  - {id: R2, method: EMT, from: B1, to: B2, length: 9 ft}\n"
        "  - {id: R3, method: LFMC, from: B2, to: B3, length: 2 ft}\n"
        "  - {id: R4, method: FMC, from: B1, to: field, length: 4 ft}\n"
        "pulls:\n"
        "  - {id: W1, circuit: C, through: [R1], wires: [{role: phase}]}\n"
        "  - {id: W2, circuit: C, through: [R2, R3], wires: [{role: phase}]}\n"
        "  - {id: W4, circuit: C, through: [R4], wires: [{role: phase}, {role: ground}]}\n"
    )
    found = {r.id: (r.flexible_path, r.bare_flexible_path) for r in made.raceways}
    # R1 feeds both branches: 1 + 4 ft over R4, of which R4 has a grounding conductor of its own.
    assert found == {"R1": (60, 36), "R2": (36, 36), "R3": (36, 36), "R4": (60, 12)}
