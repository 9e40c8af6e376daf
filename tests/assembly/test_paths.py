"""What follows from paths in a described assembly, and that what is stated wins."""

from __future__ import annotations

import time
from typing import Any

import pytest
from drawing import draw, named

from checker.assembly import from_source
from checker.assembly.records import Assembly
from checker.documents.errors import InputError
from checker.documents.missing import Missing, known
from checker.documents.source import Source
from checker.engine.trade import TRADE

WALL = """
sections: [{id: S, width: 8 ft, height: 9 ft, depth: 6 in}]
benders: {H: {size: 1/2, radius: 4 in, take_up: 5 in, shoe: one_shot}}
boxes:
  - {id: A, kind: outlet, section: S, at: [8 in, 44 in], trade_size: 4 x 2-1/8 square}
  - {id: B, kind: outlet, section: S, at: [56 in, 44 in], trade_size: 4 x 2-1/8 square}
raceways:
  - {id: R, method: EMT, size: 1/2, from: A, to: B, section: S, MORE
     path: [[8 in, 42 in, 1 in], [8 in, 36 in, 1 in], [56 in, 36 in, 1 in], [56 in, 42 in, 1 in]]}
"""


def wall(more: str = "bender: H,") -> Assembly:
    return draw(WALL.replace("MORE", more))


def raceway(more: str = "bender: H,") -> Any:
    return named(wall(more).raceways, "R")


def test_length_bends_and_walls_follow_from_the_path() -> None:
    """Path P1 of tests/published/geometry_examples.yaml."""
    found = raceway()
    assert found.length == pytest.approx(56.5664, abs=1e-4)
    assert [(b.kind, b.angle, b.radius, b.total) for b in found.bends] == [
        ("bend", pytest.approx(90), 4, pytest.approx(90))
    ] * 2
    assert (found.from_wall, found.to_wall) == ("bottom", "bottom")
    assert found.angle == pytest.approx(180)
    assert named(wall().runs, "R").length == found.length
    assert [entry.wall for entry in named(wall().boxes, "A").entries] == ["bottom"]


def test_what_is_stated_wins() -> None:
    found = raceway("bender: H, length: 60 in, bends: [], from_wall: left,")
    assert (found.length, found.bends, found.from_wall) == (60, (), "left")
    assert found.to_wall == "bottom"
    assert found.course.length == pytest.approx(56.5664, abs=1e-4)
    assert found.course.ends[0].wall == "bottom"


def test_no_radius_leaves_the_length_open_and_not_the_bends() -> None:
    found = raceway("")
    assert found.length.gaps == ("`radius` of raceway R",)
    assert found.angle == pytest.approx(180)
    assert not known(found.bends[0].radius)


def test_the_radius_of_the_raceway_comes_first() -> None:
    assert [b.radius for b in raceway("radius: 5 in, bender: H,").bends] == [5, 5]


def test_a_one_shot_bender_without_radius_takes_the_table_where_there_is_one() -> None:
    text = "assembly: drawn\n" + WALL.replace("MORE", "bender: one_shot,")
    source = Source.of_text(text)
    found = named(from_source(source, TRADE).raceways, "R")
    assert [(b.radius, b.assumed) for b in found.bends] == [(4, True)] * 2  # Chapter 9 Table 2
    assert found.length == pytest.approx(56.5664, abs=1e-4)
    assert not known(named(from_source(source).raceways, "R").length)


def test_radii_of_stated_bends_are_those_of_the_corners_in_order() -> None:
    bends = "[{kind: bend, angle: 90 deg, radius: 4 in}, {kind: bend, angle: 90 deg, radius: 5 in}]"
    found = raceway(f"bends: {bends},")
    assert found.length == pytest.approx(60 - 0.42920367 * 9, abs=1e-6)


def test_an_unknown_bender_is_told() -> None:
    with pytest.raises(InputError, match="`bender` names a bender that is not in the file") as told:
        raceway("bender: G,")
    assert "H" in told.value.problems[0].expected


def test_an_unknown_row_is_told() -> None:
    text = WALL.replace("MORE", "").replace("kind: outlet,", "kind: outlet, row: low,", 1)
    with pytest.raises(InputError, match="`row` names a row that is not in the file"):
        draw(text)


def test_without_paths_nothing_is_found() -> None:
    text = WALL.replace("MORE", "")
    drawn = draw(text[: text.index("     path")].rstrip().rstrip(",") + "}\n")
    found = named(drawn.raceways, "R")
    assert not known(found.course)
    assert not known(found.length)
    assert drawn.pairs == ()


def test_lines_for_drawings_have_their_arcs() -> None:
    """Points and arcs that a drawing can follow: the arc is a quarter circle of 4 in."""
    from checker.assembly.geometry.walking import chords

    line = raceway().course.line
    first = line.arcs[0]
    assert first.begins == pytest.approx((8, 40, 1))
    assert first.ends == pytest.approx((12, 36, 1))
    center = (12, 40, 1)
    between = [p for p in chords(line) if 8 < p[0] < 12]
    assert len(between) > 3
    assert all(
        sum((a - b) ** 2 for a, b in zip(p, center, strict=True)) == pytest.approx(16)
        for p in between
    )


def many(count: int) -> str:
    """So many raceways in one section, each of which crosses the next."""
    lines = [
        f"sections: [{{id: S, width: {count * 2 + 10} in, height: 9 ft, depth: 6 in}}]",
        "raceways:",
    ]
    head = "method: EMT, size: 1/2, from: field, to: field, section: S"
    for n in range(count):
        x = n * 2
        path = f"[[{x} in, 0 in, 1 in], [{x} in, 60 in, 1 in], [{x + 3} in, 100 in, 1 in]]"
        lines.append(f"  - {{id: R{n}, {head}, path: {path}}}")
    return "\n".join(lines)


def test_two_thousand_raceways_do_no_harm() -> None:
    began = time.process_time()
    drawn = draw(many(2000))
    took = time.process_time() - began
    assert len(drawn.raceways) == 2000
    assert len(drawn.pairs) <= 4000
    assert took < 6


def test_a_grid_of_crossings_is_one_open_question() -> None:
    """600 raceways up and 600 across would be 360,000 crossings."""
    head = "method: EMT, size: 1/2, from: field, to: field, section: S"
    lines = ["sections: [{id: S, width: 100 ft, height: 100 ft, depth: 6 in}]", "raceways:"]
    for n in range(600):
        lines += [
            f"  - {{id: V{n}, {head}, path: [[{n} in, 0 in], [{n} in, 900 in]]}}",
            f"  - {{id: H{n}, {head}, path: [[0 in, {n} in], [900 in, {n} in]]}}",
        ]
    began = time.process_time()
    (pair,) = draw("\n".join(lines)).pairs
    assert isinstance(pair.distance, Missing)
    assert pair.place == "more than 5000 places"
    assert time.process_time() - began < 10
