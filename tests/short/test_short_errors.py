"""What can be wrong with a short form: each told once, with its place, and in bounded time."""

# ruff: noqa: E501 - a table of mistakes

from __future__ import annotations

import time

import pytest
from small_wall import WALL, changed, pointed_at, problem, problems

PLACE_ONE = "{group: bay, id: one, with: {circuit: P-1}}"

#: What is changed, then words of the message, what is pointed at, and the nearest name.
MISTAKES = {
    "unknown type": (("like: flat,", "like: flatt,"), "no type `flatt` of box", "flatt", "flat"),
    "type of another class": (
        ("like: flat,", "like: white,"), "it is one of device", "white", ""),
    "like itself": (("flat: {like: deep,", "flat: {like: flat,"), "like itself", "f", ""),
    "unknown class": (("  device:\n    white", "  devise:\n    white"), "no class `devise`",
                      "devise", "device"),
    "id in a type": (("deep: {kind", "deep: {id: X, kind"), "type `deep` has an id", "id", ""),
    "parameter in a type": (("flat: {like: deep,", "flat: {like: deep, section: $s,"),
                            "a parameter in a type", "$", ""),
    "undeclared parameter": (("at: [$across, 44 in]", "at: [$acros, 44 in]"),
                             "takes no `acros`", "$acros", "$across"),
    "a parameter that is no name": (("at: [$across, 44 in]", "at: [$across, $44]"),
                                    "takes no `44`", "$44", ""),
    "unused parameter": (("across: 10 in}", "across: 10 in, depth: 2 in}"),
                         "takes `depth` and does not use it", "d", ""),
    "missing parameter": ((PLACE_ONE, "{group: bay, id: one}"), "without `circuit`", "{", ""),
    "empty parameter": ((PLACE_ONE, "{group: bay, id: one, with: {circuit: }}"),
                        "`circuit` is empty", "circuit", ""),
    "unknown key in with": ((PLACE_ONE, "{group: bay, id: one, with: {circuit: P-1, acros: 1 in}}"),
                            "takes no `acros`", "acros", "across"),
    "unknown group": ((PLACE_ONE, "{group: bai, id: one, with: {circuit: P-1}}"),
                      "names no group", "bai", "bay"),
    "unknown key of a group": (("    pulls:\n      - {id: W", "    pull:\n      - {id: W"),
                               "unknown key `pull` in group `bay`", "pull", "pulls"),
    "place in a group": (("    takes: {", "    place: []\n    takes: {"), "places a group",
                         "place", ""),
    "unknown key of a placement": ((PLACE_ONE, "{grup: bay, id: one, with: {circuit: P-1}, group: bay}"),
                                   "unknown key `grup` in a placement", "grup", "group"),
    "two placements of one id": (("id: two,", "id: one,"), "two placements `one`", "o", ""),
    "no id": ((PLACE_ONE, "{group: bay, with: {circuit: P-1}}"), "a placement has no id", "{", ""),
    "a name of the design": (("id: B, like: flat", "id: J, like: flat"), "in group `bay` and in the design",
                             "J", ""),
    "field as a name": (("id: B, like: flat", "id: field, like: flat"), "cannot be a name", "f", ""),
    "a parameter as an id": (("id: B, like: flat", "id: $circuit, like: flat"), "not a parameter", "$", ""),
    "a parameter outside a group": (("with: {circuit: P-1}", "with: {circuit: $p}"),
                                    "stands outside a group", "$p", ""),
    "mirror without a unit": (("mirror: 72 in", "mirror: 72"), "`mirror` cannot be read", "72", ""),
    "mirror of nothing": (("mirror: 72 in", "mirror: 0 in"), "`mirror` cannot be read", "0 in", ""),
    "shift of one": (("shift: [1 in, 2 in]", "shift: [1 in]"), "`shift` cannot be read", "[1 in", ""),
    "straps every nothing": (("every: 4 ft", "every: 0 in"), "straps by rule", "0", ""),
    "straps without every": (("first: 10 in, every: 4 ft", "first: 10 in"), "straps by rule", "{", ""),
    "unknown key of straps": (("{first: 10 in, every: 4 ft}", "{first: 10 in, evry: 4 ft, every: 4 ft}"),
                              "unknown key `evry`", "evry", "every"),
    "circuit without phases": (("phases: [A], load", "load"), "states no phases", "b", ""),
    "id in the defaults": (("box: {material: metal,", "box: {id: X, material: metal,"), "the same id",
                           "id", ""),
    "use of nothing": (("types:\n", "use: [nowhere.yaml]\ntypes:\n"), "no such file to use",
                       "nowhere.yaml", ""),
}  # fmt: skip


@pytest.mark.parametrize("name", MISTAKES)
def test_mistakes_are_told_once_with_their_place(name: str) -> None:
    change, message, at, nearest = MISTAKES[name]
    found = problem(changed(change))
    assert message in found.message
    assert pointed_at(found).startswith(at[: found.length]), (pointed_at(found), at)
    assert found.found
    assert found.expected
    assert found.suggestion == nearest


def test_too_many_straps() -> None:
    found = problem(changed(("length: 6 ft", "length: 2000 ft"), ("every: 4 ft", "every: 1 in")))
    assert "too many straps" in found.message


def test_wires_by_circuit_of_no_circuit() -> None:
    found = problem(
        WALL
        + "pulls: [{id: X, through: [R], wires: by circuit}]\n"
        "raceways: [{id: R9, from: J, to: field}]\n".replace("R9", "R9")
    )
    assert "without a circuit" in found.message


def test_a_wrong_value_in_a_type_is_told_once_for_all_elements() -> None:
    found = problem(changed(("color: white}", "colour: white}")))
    assert "in 2 placements: one, two" in found.message
    assert pointed_at(found) == "colour"
    assert found.suggestion == "color"


def test_a_wrong_argument_is_told_where_it_stands() -> None:
    found = problem(changed(("across: 20 in}, mirror", "across: 20}, mirror")))
    assert pointed_at(found) == "20"
    assert "as two" in found.message


def test_an_unknown_name_in_a_group_is_told_once() -> None:
    found = problem(changed(("from: J, to: B", "from: JX, to: B")))
    assert pointed_at(found) == "JX"
    assert "in 2 placements" in found.message


def test_many_mistakes_are_told_together() -> None:
    text = changed(("like: flat,", "like: flatt,"), ("at: [$across, 44 in]", "at: [$acros, 44 in]"))
    assert [pointed_at(one) for one in problems(text)] == ["flatt", "$acros"]


# -- bounds -----------------------------------------------------------------------------------


def soon(text: str, seconds: float = 20.0) -> tuple[str, float]:
    began = time.process_time()
    found = problems(text)
    took = time.process_time() - began
    assert took < seconds
    return found[0].message, took


def test_more_placements_than_there_may_be() -> None:
    many = "".join(f"  - {{group: bay, id: p{i}, with: {{circuit: P-1}}}}\n" for i in range(30_000))
    message, _ = soon(WALL.replace("place:\n", "place:\n" + many))
    assert "more than 20000 elements" in message


def test_a_million_placements_by_aliases_and_lists_end_soon() -> None:
    many = "  - &p {group: bay, id: one, with: {circuit: P-1}}\n" + "  - *p\n" * 200_000
    message, _ = soon(WALL.replace("place:\n", "place:\n" + many), 60.0)
    assert message


def test_records_within_elements_are_bounded_too() -> None:
    bends = "[" + "{kind: bend}, " * 2000 + "]"
    many = "".join(f"  - {{group: bay, id: p{i}, with: {{circuit: P-1}}}}\n" for i in range(1000))
    text = changed(("bends: []", f"bends: {bends}"))
    message, _ = soon(text.replace("place:\n", "place:\n" + many))
    assert "too many values" in message


def test_an_argument_counts_wherever_it_is_put() -> None:
    points = "[" + "[1 in, 2 in], " * 5000 + "]"
    many = "".join(f"  - {{group: bay, id: p{i}, with: {{circuit: P-1}}}}\n" for i in range(2000))
    text = changed(
        ("across: 10 in}", f"across: 10 in, way: {points}}}"), ("bends: []", "path: $way")
    )
    message, _ = soon(text.replace("place:\n", "place:\n" + many))
    assert "too many values" in message


def test_a_long_chain_of_types() -> None:
    chain = "".join(f"    t{i}: {{like: t{i + 1}}}\n" for i in range(200)) + "    t200: {}\n"
    text = changed(("like: flat,", "like: t0,")).replace(
        "  box:\n    deep", "  box:\n" + chain + "    deep"
    )
    message, _ = soon(text)
    assert "more than 8 types" in message
    eight = (
        "".join(f"    t{i}: {{like: t{i + 1}}}\n" for i in range(1, 8)) + "    t8: {like: flat}\n"
    )
    assert (
        "more than 8"
        in problem(
            changed(("like: flat,", "like: t1,")).replace(
                "  box:\n    deep", "  box:\n" + eight + "    deep"
            )
        ).message
    )


def test_a_circle_of_types() -> None:
    circle = "    a: {like: b}\n    b: {like: c}\n    c: {like: a}\n"
    text = changed(("like: flat,", "like: a,")).replace(
        "  box:\n    deep", "  box:\n" + circle + "    deep"
    )
    found = problem(text)
    assert found.found == "a → b → c → a"


def test_fifty_levels() -> None:
    deep = "[" * 60 + "]" * 60
    message, _ = soon(changed(("with: {circuit: P-1}", f"with: {{circuit: {deep}}}")))
    assert "levels" in message


def test_control_characters_in_names_cannot_act() -> None:
    text = changed(("id: one,", 'id: "\\e[31mone",'))
    assert all("\x1b" not in one.render() for one in problems(text))
