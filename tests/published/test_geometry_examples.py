"""Published worked examples of conduit bending, through the program's own formulas and paths.

Sources stand in geometry_examples.yaml beside this file.  An example solved by a rounded trade
figure is recomputed with that figure, and the exact value has to lie where its rounding can reach;
one solved exactly is asked of the program directly.  The paths have no publication: their lengths
are measured a second time here by walking the center line in small steps.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.assembly.geometry import formulas
from checker.assembly.geometry.bends import bends_of, twists
from checker.assembly.geometry.polyline import Bent, as_points, corners_of
from checker.assembly.geometry.walking import chords, place_of

DATA = yaml.safe_load(
    (Path(__file__).parent / "geometry_examples.yaml").read_text(encoding="utf-8")
)
EXAMPLES: list[dict[str, Any]] = DATA["examples"]
PATHS: list[dict[str, Any]] = DATA["paths"]
#: What is solved without a radius is asked with none.
EXACT: dict[str, Callable[..., float]] = {
    "arc_length": lambda radius, angle: formulas.arc_length(radius, angle),
    "gain": lambda radius, angle: formulas.gain(radius, angle),
    "next_radius": lambda radius, outside_diameter, clear: formulas.next_radius(
        radius, outside_diameter, outside_diameter, clear
    ),
    "shift": lambda spacing, angle: formulas.parallel_shift(spacing, angle),
    "stub_end_to_arc": lambda stub, radius, outside_diameter: formulas.stub_to_arc(
        stub, radius, outside_diameter
    ),
    "between_marks": lambda offset, angle, radius=0.0, **_: formulas.offset_travel(
        offset, angle, radius
    ),
    "outer_marks_from_center": lambda height, center_angle, **_: formulas.saddle_travel(
        height, center_angle
    ),
}


def between_shots(inputs: dict[str, Any]) -> float:
    arc = inputs.get("arc_length") or formulas.arc_length(inputs["radius"], inputs["angle"])
    return float(arc) / float(inputs["shots"])


def by_trade_figure(example: dict[str, Any]) -> tuple[float, float | None]:
    """The answer with the trade's figure, and the exact one; None for a tool's take-up."""
    inputs, asked = example["inputs"], example["solve"]
    if asked == "mark_from_end":
        return inputs.get("stub", inputs.get("height")) - inputs["take_up"], None
    if asked == "between_marks":
        exact = formulas.offset_travel(inputs["offset"], inputs["angle"])
        return inputs["offset"] * inputs["multiplier"], exact
    if asked == "outer_marks_from_center":
        exact = formulas.saddle_travel(inputs["height"], inputs["center_angle"])
        return inputs["height"] * inputs["spread_per_in"], exact
    if "center_angle" in inputs:
        shrink = formulas.saddle_shrink(inputs["height"], inputs["center_angle"])
        figure = inputs["height"] * inputs["shrink_per_in"]
        start = inputs["to_center"] if asked == "center_mark" else 0.0
        return start + figure, start + shrink
    exact = formulas.offset_shrink(inputs["offset"], inputs["angle"])
    return inputs["offset"] * inputs["shrink_per_in"], exact


def title(example: dict[str, Any]) -> str:
    return f"{example['id']} {example['source']} {example['solve']}"


@pytest.mark.parametrize("example", EXAMPLES, ids=title)
def test_published_example(example: dict[str, Any], record_property: Any) -> None:
    source = DATA["sources"][example["source"]]
    record_property("source", f"{source['publisher']}: {source['title']}")
    published, tolerance = example["published"], float(example["tolerance"])
    assert example["agree"]
    if example["method"] == "trade":
        figure, exact = by_trade_figure(example)
        assert abs(figure - published) <= tolerance
        # Trade figures are rounded to a sixteenth of an inch an inch, or to a tenth.
        largest = max(value for value in example["inputs"].values() if not isinstance(value, str))
        assert exact is None or abs(exact - figure) <= largest / 16 + tolerance
        return
    inputs = example["inputs"]
    if example["solve"] == "between_shots":
        found = between_shots(inputs)
    else:
        found = EXACT[example["solve"]](**inputs)
    assert abs(found - published) <= tolerance
    if example["solve"] != "between_shots":  # recomputed from the arc before it was rounded
        assert abs(found - example["recomputed"]) <= 1e-4


def bent(path: dict[str, Any]) -> Bent:
    points = as_points(path["points"])
    assert points is not None
    return Bent(tuple(points), tuple(corners_of(points, [path["radius"]])))


def walked(line: Bent, steps: int = 20_000) -> float:
    """The length of the center line as straight steps between points on it."""
    total, last = 0.0, line.points[0]
    for step in range(1, steps + 1):
        here = place_of(line, line.developed * step / steps)
        total += math.dist(last, here)
        last = here
    assert math.dist(last, line.points[-1]) < 1e-9  # and it ends where the path ends
    return total


@pytest.mark.parametrize("path", PATHS, ids=lambda path: f"{path['id']} {path['what']}")
def test_path(path: dict[str, Any]) -> None:
    line = bent(path)
    assert [[made.kind, pytest.approx(made.angle, abs=1e-3)] for made in bends_of(line)] == path[
        "kinds"
    ]
    assert sum(corner.angle for corner in line.corners) == pytest.approx(path["degrees"], abs=1e-3)
    assert line.overlaps == len(path["problems"])
    if path["developed"] is None:
        return
    assert line.developed == pytest.approx(path["developed"], abs=1e-3)
    assert line.straights == pytest.approx(path["straights"], abs=1e-3)
    marks = [[arc.start, arc.middle, arc.end] for arc in line.arcs]
    assert [pytest.approx(one, abs=1e-3) for one in path["marks"]] == marks
    assert twists(line) == pytest.approx(path["twist"], abs=1e-3)
    assert walked(line) == pytest.approx(path["developed"], abs=1e-3)


@pytest.mark.parametrize(
    "path", [path for path in PATHS if path["developed"]], ids=lambda p: p["id"]
)
def test_chords_follow_the_center_line(path: dict[str, Any]) -> None:
    """The sum of chords is shorter than the arcs by no more than their sagitta allows."""
    line = bent(path)
    points = chords(line)
    length = sum(math.dist(a, b) for a, b in pairwise(points))
    assert line.developed - 0.1 <= length <= line.developed + 1e-9
    assert points[0] == line.points[0]
    assert points[-1] == line.points[-1]


def test_the_list_is_what_was_collected() -> None:
    assert len(EXAMPLES) == 37
    assert {example["source"] for example in EXAMPLES} <= set(DATA["sources"])
    assert len(PATHS) == 4
    assert len({example["id"] for example in EXAMPLES}) == len(EXAMPLES)


def test_the_other_formulas_by_their_own_geometry() -> None:
    """A rolling offset is the diagonal of rise and roll: the 3-4-5 triangle."""
    assert formulas.rolling_offset(3, 4) == pytest.approx(5)
