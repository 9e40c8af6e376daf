"""What the short form means: each element as if it were written out."""

from __future__ import annotations

from typing import Any

import pytest
from small_wall import WALL, by_id, changed, problem, read

from checker.assembly.short.asked import is_short
from checker.assembly.short.lengths import inches, written
from checker.documents.loader import load
from checker.documents.missing import known
from checker.documents.source import Source


def test_own_values_win_over_the_type_and_the_type_over_the_defaults() -> None:
    wall = read(changed(("deep: {kind: outlet,", "deep: {kind: outlet, grounded: false,")))
    boxes = by_id(wall.boxes)
    assert boxes["one.B"].grounded is False  # the type of its type, over the defaults
    assert boxes["one.B"].trade_size == "4 x 1-1/2 square"  # its type, over that type's
    assert boxes["one.B"].material == "metal"  # the defaults
    assert boxes["J"].grounded is True
    own = changed(("{id: B, like: flat,", "{id: B, like: flat, material: nonmetallic,"))
    assert by_id(read(own).boxes)["one.B"].material == "nonmetallic"


def test_a_list_is_replaced_whole() -> None:
    own = changed(("{id: B, like: flat,", "{id: B, like: flat, rings: [{volume: 5 in³}],"))
    assert [ring.volume for ring in by_id(read(own).boxes)["one.B"].rings] == [5.0]


def test_an_empty_value_takes_back_what_the_type_states() -> None:
    own = changed(("{id: B, like: flat,", "{id: B, like: flat, trade_size: ,"))
    assert not known(by_id(read(own).boxes)["one.B"].trade_size)


def test_names_inside_a_group_are_its_own_first() -> None:
    wall = read(WALL)
    raceway = by_id(wall.raceways)["two.R"]
    assert (raceway.from_, raceway.to) == ("J", "two.B")
    assert by_id(wall.pulls)["two.W"].through == ("two.R",)
    assert [device.id for box in wall.boxes for device in box.devices] == ["one.D", "two.D"]


def test_an_argument_may_be_any_value() -> None:
    text = changed(
        ("takes: {circuit: ,", "takes: {devices: , circuit: ,"),
        ("devices: [{id: D, like: white, circuit: $circuit}]", "devices: $devices"),
        ("one, with: {circuit: P-1}", "one, with: {circuit: P-1, devices: [{id: X, like: white}]}"),
        (
            "with: {circuit: P-2, across",
            "with: {circuit: P-2, devices: {id: Y, kind: blank}, across",
        ),
    )
    boxes = by_id(read(text).boxes)
    assert [(d.id, d.kind, d.color) for d in boxes["one.B"].devices] == [
        ("one.X", "receptacle", "white")
    ]
    assert [(d.id, d.kind) for d in boxes["two.B"].devices] == [("two.Y", "blank")]


def test_an_argument_may_name_an_element_of_the_group() -> None:
    text = changed(
        ("takes: {circuit: ,", "takes: {end: , circuit: ,"),
        ("to: B, section", "to: $end, section"),
        ("one, with: {circuit", "one, with: {end: B, circuit"),
        ("two, with: {circuit", "two, with: {end: field, circuit"),
    )
    raceways = by_id(read(text).raceways)
    assert (raceways["one.R"].to, raceways["two.R"].to) == ("one.B", "field")


def test_a_parameter_in_quotes_is_text() -> None:
    text = changed(("{id: B, like: flat,", '{id: B, like: flat, marking: "$circuit",'))
    assert by_id(read(text).boxes)["one.B"].marking == "$circuit"


def test_a_dollar_sign_within_a_text_is_text() -> None:
    text = changed(("{id: B, like: flat,", "{id: B, like: flat, marking: cost $circuit,"))
    assert by_id(read(text).boxes)["one.B"].marking == "cost $circuit"


def test_mirrored_and_shifted() -> None:
    """Across becomes the width less across; left and right change; then the shift is added."""
    wall = read(WALL)
    assert by_id(wall.boxes)["one.B"].at == (10.0, 44.0)
    assert by_id(wall.boxes)["two.B"].at == (72.0 - 20.0 + 1.0, 46.0)
    assert by_id(wall.raceways)["one.R"].from_wall == "left"
    assert by_id(wall.raceways)["two.R"].from_wall == "right"


def test_paths_are_mirrored_and_depth_stays() -> None:
    path = "path: [[8 in, 42 in, 1 in], [$across, 36-1/4 in, 2 in]], "
    text = changed(("from_wall: left, ", path))
    raceways = by_id(read(text).raceways)
    assert raceways["one.R"].path == ((8.0, 42.0, 1.0), (10.0, 36.25, 2.0))
    assert raceways["two.R"].path == ((65.0, 44.0, 1.0), (53.0, 38.25, 2.0))


@pytest.mark.parametrize(
    ("length", "rule", "straps"),
    [
        # From the first, every so often, and a last one that far from the end.
        ("10 ft", "{first: 1 ft, every: 4 ft, last: 2 ft}", [12, 60, 96]),
        ("10 ft", "{first: 1 ft, every: 4 ft}", [12, 60, 108]),
        ("9 ft", "{first: 1 ft, every: 7 ft, last: 1 ft}", [12, 96]),
        # Too short for two: one in the middle.
        ("1 ft", "{first: 10 in, every: 8 ft, last: 10 in}", [6]),
        ("20 in", "{first: 10 in, every: 8 ft, last: 10 in}", [10]),
    ],
)
def test_straps_by_rule(length: str, rule: str, straps: list[float]) -> None:
    text = changed(("length: 6 ft", f"length: {length}"), ("{first: 10 in, every: 4 ft}", rule))
    assert by_id(read(text).raceways)["one.R"].supports == tuple(straps)


def test_straps_of_an_unknown_length_are_not_stated() -> None:
    text = changed(("length: 6 ft, ", ""))
    assert not known(by_id(read(text).raceways)["one.R"].supports)


def wires(text: str, pull: str) -> list[tuple[Any, ...]]:
    """Role, phase, size, color and circuit of the wires of a pull."""
    found = by_id(read(text).pulls)[pull].wires
    return [
        tuple(v if known(v) else None for v in (w.role, w.phase, w.size, w.color, w.circuit))
        for w in found
    ]


def test_wires_by_circuit() -> None:
    assert wires(WALL, "one.W") == [
        ("phase", "A", "12 AWG", "black", None),
        ("neutral", None, "12 AWG", "white", None),
        ("ground", None, "12 AWG", "green", None),
    ]
    assert [wire[2] for wire in wires(WALL, "two.W")] == ["10 AWG"] * 3


ONE_MORE = """\
pulls:
  - {id: M, circuit: [P-1, P-2, P-3], through: [R9], wires: by circuit}
raceways:
  - {id: R9, from: J, to: field}
"""


def test_wires_of_several_circuits_have_one_ground_as_large_as_the_largest_needs() -> None:
    text = changed(
        ("wire: 10 AWG}", "wire: 10 AWG}\n  - {id: P-3, panel: P, phases: [A, C], neutral: false}")
    )
    assert wires(text + ONE_MORE, "M") == [
        ("phase", "A", "12 AWG", "black", "P-1"),
        ("neutral", None, "12 AWG", "white", "P-1"),
        ("phase", "B", "10 AWG", "red", "P-2"),
        ("neutral", None, "10 AWG", "white", "P-2"),
        ("phase", "A", "12 AWG", "black", "P-3"),
        ("phase", "C", "12 AWG", "blue", "P-3"),
        ("ground", None, "10 AWG", "green", None),
    ]


def test_the_panel_says_the_color_of_its_neutrals() -> None:
    text = changed(("system: 208Y/120}]\ncircuits", "system: 208Y/120, neutral: gray}]\ncircuits"))
    assert wires(text, "one.W")[1] == ("neutral", None, "12 AWG", "gray", None)


def test_what_nothing_states_is_left_out_of_the_wires() -> None:
    """No size and no scheme: the wires are there, and rules ask for the rest."""
    text = changed(
        ("THHN, size: 12 AWG}", "THHN}"),
        ("colors:\n  - {system: 208Y/120,", "colors:\n  - {system: 480Y/277,"),
    )
    assert wires(text, "one.W") == [
        ("phase", "A", None, None, None),
        ("neutral", None, None, None, None),
        ("ground", None, None, None, None),
    ]


def test_a_system_without_a_neutral_has_none() -> None:
    text = changed(("branch: normal, system: 208Y/120", "branch: normal, system: 480"))
    assert [wire[0] for wire in wires(text, "one.W")] == ["phase", "ground"]


def test_wires_may_be_added_to_those_by_circuit() -> None:
    text = changed(
        ("wires: by circuit", "wires: [by circuit, {role: switched, size: 12 AWG, color: pink}]")
    )
    assert [wire[0] for wire in wires(text, "one.W")] == ["phase", "neutral", "ground", "switched"]


def test_json_has_everything_in_quotes() -> None:
    import json

    import yaml

    plain = yaml.load(
        changed(
            ("circuit: $circuit}]}", "circuit: P-1}]}"),
            ("circuit: $circuit, through", "circuit: P-1, through"),
            ("takes: {circuit: , across: 10 in}", "takes: {}"),
            ("[$across, 44 in]", "[10 in, 44 in]"),
            ("with: {circuit: P-1}", "with: {}"),
            ("with: {circuit: P-2, across: 20 in}", "with: {}"),
        ),
        yaml.BaseLoader,
    )
    flags = json.dumps(plain).replace('"true"', "true").replace('"false"', "false")
    assert [wire[0] for wire in wires(flags, "one.W")] == ["phase", "neutral", "ground"]


def test_a_file_without_the_new_keys_is_left_as_it_is() -> None:
    from checker.assembly.short import expand

    text = WALL[: WALL.index("types:")].replace("  box: {material: metal, grounded: true}\n", "")
    text = text.replace("  circuit: {breaker: 20 A, nonlinear: false}\n", "")
    root = load(Source.of_text(text)).root
    assert not is_short(root)
    assembly = read(text)
    assert type(assembly.node.source) is Source
    assert expand.fingerprint(Source.of_text(text)) == Source.of_text(text).digest


@pytest.mark.parametrize(
    "text", ["8 in", "4-11/16 in", "65-5/16 in", "0 in", "1/64 in", "100 mm", "-3/4 in", "7.3 in"]
)
def test_lengths_read_back_as_they_were(text: str) -> None:
    length = inches(text)
    assert length is not None
    assert inches(written(length)) == length


def test_a_mirrored_length_that_cannot_be_read_is_reported_once_where_it_stands() -> None:
    found = problem(changed(("at: [$across, 44 in]", "at: [$across, 44]")))
    assert "44]" in found.excerpt
    assert "in 2 placements" in found.message or "placed at" in found.message
