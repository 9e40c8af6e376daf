"""Feeders, motor circuits, ways of circuits and marked terminals, on small drawings.

Every expected length is a sum by hand of the lengths drawn.
"""

from __future__ import annotations

import itertools

import pytest
from drawing import draw

from checker.assembly.records import Assembly
from checker.documents.errors import InputError
from checker.documents.missing import Missing

PANELS = """\
panels: [{id: P, system: 208Y/120, terminals: 60 degC}, {id: Q, system: 208Y/120}]
boxes:
  - {id: B1, kind: junction}
  - id: B2
    kind: outlet
    devices: [{id: D, kind: receptacle, circuit: C, terminals: 75 degC}]
  - {id: B3, kind: outlet}
"""
LEGS = {
    "home": "{id: R1, method: EMT, from: P, to: B1, length: 40 ft}",
    "second": "{id: R2, method: EMT, from: B1, to: B2, length: 10 ft}",
    "third": "{id: R3, method: EMT, from: B1, to: B3, length: 7 ft}",
}


def drawn(
    circuit: str = "", raceways: dict[str, str] | None = None, order: tuple[int, ...] = ()
) -> Assembly:
    legs = raceways or LEGS
    names = [f"R{number}" for number in range(1, len(legs) + 1)]
    pulls = [
        f"  - {{id: W{n}, circuit: C, through: [{n}], wires: [{{role: phase}}]}}" for n in names
    ]
    pulls = [pulls[place] for place in order] if order else pulls
    text = f"{PANELS}circuits: [{{id: C, panel: P, phases: [A]{circuit}}}]\nraceways:\n"
    text += "".join(f"  - {leg}\n" for leg in legs.values()) + "pulls:\n" + "\n".join(pulls)
    return draw(text)


def lengths(assembly: Assembly) -> set[tuple[str, float]]:
    return {(path.finish, path.length) for path in assembly.circuits[0].paths}


def test_ways_start_at_the_panel() -> None:
    assert lengths(drawn()) == {("B2", 12 * 50), ("B3", 12 * 47)}


def test_the_order_of_pulls_changes_no_way() -> None:
    ways = [lengths(drawn(order=order)) for order in itertools.permutations(range(3))]
    assert all(way == ways[0] for way in ways)


def test_what_is_ahead_is_added() -> None:
    legs = {**LEGS, "home": LEGS["home"].replace("from: P", "from: field")}
    assert lengths(drawn(", upstream: 100 ft", legs)) == {("B2", 12 * 150), ("B3", 12 * 147)}
    (path, _) = drawn("", legs).circuits[0].paths
    assert isinstance(path.length, Missing)


def test_without_a_panel_any_two_ends_are_a_way() -> None:
    legs = {
        "second": "{id: R1, method: EMT, from: B1, to: B2, length: 10 ft}",
        "third": "{id: R2, method: EMT, from: B1, to: B3, length: 7 ft}",
    }
    (path,) = drawn(", upstream: 1 ft", legs).circuits[0].paths
    assert path.length == 12 * 18


def test_a_ring_is_as_long_as_all_of_it() -> None:
    legs = {**LEGS, "ring": "{id: R4, method: EMT, from: B2, to: B3, length: 3 ft}"}
    (path,) = drawn("", legs).circuits[0].paths
    assert path.length == 12 * 60


def test_of_two_pulls_between_two_places_the_longer_counts() -> None:
    legs = {**LEGS, "twice": "{id: R4, method: EMT, from: B2, to: B1, length: 12 ft}"}
    assert lengths(drawn("", legs)) == {("B2", 12 * 52), ("B3", 12 * 47)}


def test_a_length_that_is_not_stated_leaves_its_way_open() -> None:
    legs = {**LEGS, "second": LEGS["second"].replace(", length: 10 ft", "")}
    known = {path.finish: path.length for path in drawn("", legs).circuits[0].paths}
    assert isinstance(known["B2"], Missing)
    assert known["B3"] == 12 * 47


def test_a_circuit_that_feeds_a_panel_is_a_feeder() -> None:
    assembly = drawn(", feeds: Q")
    assert assembly.circuits[0].feeder
    assert assembly.panels[1].feeders == (assembly.circuits[0],)
    assert not drawn().circuits[0].feeder


@pytest.mark.parametrize("key", ["motor_current", "mca", "mocp"])
def test_what_makes_a_motor_circuit(key: str) -> None:
    assert drawn(f", {key}: 10 A").circuits[0].motor
    assert not drawn().circuits[0].motor


def test_temperatures_marked_at_the_ends_of_a_pull() -> None:
    home, second, third = drawn().pulls
    assert home.marked_terminals == (60,)
    assert second.marked_terminals == (75,)
    assert third.marked_terminals == ()


@pytest.mark.parametrize(
    ("circuit", "said"),
    [
        (", load: 3 hp", "horsepower"),
        (", continuous_load: 3hp", "horsepower"),
        (", feeds: P", "feeds the panel that it comes from"),
        (", tap_of: C", "a tap of itself"),
        (", motor_current: 0 A", "`motor_current` of circuit `C` is zero"),
        (", feeds: X", "`feeds` names a panel that is not in the file"),
        (", tap_of: X", "`tap_of` names a circuit that is not in the file"),
    ],
)
def test_what_cannot_be_meant(circuit: str, said: str) -> None:
    with pytest.raises(InputError) as raised:
        drawn(circuit)
    assert said in str(raised.value)
