"""The short form and what it stands for give the same findings."""

from __future__ import annotations

import random
import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from small_wall import WALL

from checker.assembly import from_source, read_assembly
from checker.assembly.short.full import full_form
from checker.documents.source import Source
from checker.documents.yaml_text import yaml_text
from checker.engine.evaluate import evaluate
from checker.rulebook.book import Rulebook, load_rulebook

HERE = Path(__file__).parent
LONG = HERE / "recovery-wall-long.yaml"
Key = tuple[str, str, str]


@cache
def book() -> Rulebook:
    return load_rulebook("nec-2023")


def findings(assembly: Any) -> dict[Key, tuple[Any, ...]]:
    """Kind, measure and limit by rule, class and element."""
    return {
        (f.rule.id, f.subject_class, f.subject_id): (f.kind, f.measure, f.limit)
        for f in evaluate(book(), assembly)
    }


def of_text(text: str) -> Any:
    return from_source(Source.of_text(text))


# -- the sample -------------------------------------------------------------------------------


def long_name(name: str) -> str:
    """The long sample's name of an element: ``bay2.RN1`` is RN21 there."""
    if " & " in name:  # a pair, in the order of its names
        return " & ".join(sorted(map(long_name, name.split(" & "))))
    parts = []
    for part in name.split("+"):
        found = re.fullmatch(r"bay(\d)\.(D-)?(bed|[A-Z]+)(\d?)", part)
        if found is None:
            parts.append(part)
        elif found[3] == "bed":
            parts.append(f"bay-{found[1]}")
        else:
            parts.append(f"{found[2] or ''}{found[3]}{found[1]}{found[4]}")
    return "+".join(parts)


def test_the_sample_in_the_short_form_gives_what_the_long_one_gives() -> None:
    short = findings(read_assembly(HERE / "recovery-wall.yaml")[0])
    long = findings(read_assembly(LONG)[0])
    assert renamed(short) == renamed(long)


def renamed(found: Any) -> Any:
    return {(rule, kind, long_name(name)): v for (rule, kind, name), v in found.items()}


def test_it_is_short() -> None:
    lines = (HERE / "recovery-wall.yaml").read_text(encoding="utf-8").splitlines()
    assert len([line for line in lines if line.strip() and line.strip()[0] != "#"]) <= 170


# -- designs written twice: in the short form, and by hand in the long one ----------------------

PHASES = ("A", "B", "C")
COLORS = {"A": "black", "B": "red", "C": "blue"}
BOXES = {
    "deep": {"kind": "outlet", "trade_size": "4 x 2-1/8 square", "internal_clamps": "1"},
    "flat": {"kind": "outlet", "trade_size": "4 x 1-1/2 square", "internal_clamps": "1"},
}
RANK = {"12 AWG": 0, "10 AWG": 1, "8 AWG": 2}


class Pair:
    """A random design, twice: ``short`` as text, ``long`` made without the program."""

    def __init__(self, seed: int) -> None:
        self.rng = rng = random.Random(seed)
        self.usual = rng.choice(["12 AWG", "10 AWG"])
        self.circuits = [self._circuit(number) for number in range(rng.randint(1, 4))]
        self.width = rng.choice([60, 72, 54])
        self.bays = [self._bay(number) for number in range(rng.randint(1, 4))]
        self.type = rng.choice(["deep", "flat"])
        self.own_grounded = rng.choice([None, "false"])
        self.straps = (rng.randint(4, 30), rng.randint(24, 100), rng.randint(4, 30))

    def _circuit(self, number: int) -> dict[str, Any]:
        rng = self.rng
        return {
            "id": f"P-{number}",
            "phases": sorted(rng.sample(PHASES, rng.randint(1, 3))),
            "wire": rng.choice([None, "10 AWG", "8 AWG"]),
            "neutral": rng.choice([None, None, "false", "true"]),
            "load": f"{rng.randint(1, 30) * 100} VA",
        }

    def _bay(self, number: int) -> dict[str, Any]:
        rng = self.rng
        return {
            "id": f"bay{number}",
            "circuits": rng.sample(self.circuits, rng.randint(1, len(self.circuits))),
            "across": rng.randint(4, 50),
            "length": rng.randint(1, 200),
            "mirror": rng.random() < 0.5,
            "shift": (rng.randint(-3, 3), rng.randint(0, 4)) if rng.random() < 0.5 else None,
        }

    # -- short -------------------------------------------------------------------------------

    def short(self) -> str:
        first, every, last = self.straps
        lines = [
            "assembly: X",
            "basis: {edition: nec-2023, health_care: false, ambient: 30 degC, location: dry}",
            f"defaults: {{wire: {{material: copper, insulation: THHN, size: {self.usual}}},",
            "  terminals: 75 degC, box: {material: metal, grounded: true},",
            "  raceway: {method: EMT, size: 1/2}, circuit: {breaker: 20 A, panel: P}}",
            "colors: [{system: 208Y/120, A: black, B: [red], C: [blue, yellow],",
            "  neutral: [white, gray], ground: green}]",
            "panels: [{id: P, branch: normal, system: 208Y/120, neutral: gray}]",
            "circuits:",
            *["  - " + flow(circuit) for circuit in self.circuits],
            "sections: [{id: S, width: 8 ft, height: 9 ft}]",
            "types: {box: {deep: {kind: outlet, trade_size: 4 x 2-1/8 square, internal_clamps: 1},",
            "  flat: {like: deep, trade_size: 4 x 1-1/2 square}},",
            "  device: {white: {kind: receptacle, receptacles: 2}}}",
            "groups:",
            "  bay:",
            "    takes: {first: , all: , x: , long: }",
            "    boxes: [{id: B, like: " + self.type + ", section: S, at: [$x, 44 in],",
            f"      {'' if self.own_grounded is None else 'grounded: false, '}",
            "      devices: [{id: D, like: white, circuit: $first}]}]",
            "    raceways: [{id: R, from: J, to: B, section: S, length: $long, from_wall: left,",
            "      bends: [{kind: bend, angle: 90 deg}], path: [[1 in, 90 in], [$x, 46 in]],",
            f"      supports: {{first: {first} in, every: {every} in, last: {last} in}}}}]",
            "    pulls: [{id: W, circuit: $all, through: [R], wires: by circuit}]",
            "place:",
        ]
        for bay in self.bays:
            names = [circuit["id"] for circuit in bay["circuits"]]
            given = {
                "first": names[0],
                "all": names if len(names) > 1 else names[0],
                "x": f"{bay['across']} in",
                "long": f"{bay['length']} in",
            }
            item = {"group": "bay", "id": bay["id"], "with": given}
            if bay["mirror"]:
                item["mirror"] = f"{self.width} in"
            if bay["shift"] is not None:
                item["shift"] = [f"{n} in" for n in bay["shift"]]
            lines.append("  - " + flow(item))
        return "\n".join([*lines, "boxes: [{id: J, kind: junction}]", ""])

    # -- long --------------------------------------------------------------------------------

    def long(self) -> dict[str, Any]:
        boxes: list[Any] = [
            {"id": "J", "kind": "junction", "material": "metal", "grounded": "true"}
        ]
        made: dict[str, Any] = {
            "assembly": "X",
            "basis": {"edition": "nec-2023", "health_care": "false", "ambient": "30 degC",
                      "location": "dry"},
            "defaults": {"wire": {"material": "copper", "insulation": "THHN"},
                         "terminals": "75 degC"},
            "colors": [{"system": "208Y/120", "A": "black", "B": ["red"], "C": ["blue", "yellow"],
                        "neutral": ["white", "gray"], "ground": "green"}],
            "panels": [{"id": "P", "branch": "normal", "system": "208Y/120"}],
            "circuits": [
                {k: v for k, v in {**c, "panel": "P", "breaker": "20 A"}.items()
                 if k != "wire" and v is not None}
                for c in self.circuits
            ],
            "sections": [{"id": "S", "width": "8 ft", "height": "9 ft"}],
            "boxes": boxes, "raceways": [], "pulls": [],
        }  # fmt: skip
        for bay in self.bays:
            self._written_out(bay, made)
        return made

    def _written_out(self, bay: dict[str, Any], made: dict[str, Any]) -> None:
        names = [circuit["id"] for circuit in bay["circuits"]]
        own = bay["id"]
        box = {**BOXES[self.type], "id": f"{own}.B", "section": "S", "material": "metal"}
        box["grounded"] = self.own_grounded or "true"
        box["at"] = self._point(bay, bay["across"], 44)
        device = {"id": f"{own}.D", "kind": "receptacle", "receptacles": "2", "circuit": names[0]}
        made["boxes"].append({**box, "devices": [device]})
        made["raceways"].append({
            "id": f"{own}.R", "method": "EMT", "size": "1/2", "from": "J", "to": f"{own}.B",
            "section": "S", "length": f"{bay['length']} in",
            "from_wall": "right" if bay["mirror"] else "left",
            "bends": [{"kind": "bend", "angle": "90 deg"}], "supports": self._straps(bay["length"]),
            "path": [self._point(bay, 1, 90), self._point(bay, bay["across"], 46)],
        })  # fmt: skip
        wires: list[Any] = []
        sizes = []
        for circuit in bay["circuits"]:
            more = {"circuit": circuit["id"]} if len(names) > 1 else {}
            sizes.append(circuit["wire"] or self.usual)
            for phase in circuit["phases"]:
                wires.append({"role": "phase", "phase": phase, "size": sizes[-1],
                              "color": COLORS[phase], **more})  # fmt: skip
            if circuit["neutral"] != "false":
                wires.append({"role": "neutral", "size": sizes[-1], "color": "gray", **more})
        wires.append({"role": "ground", "size": max(sizes, key=RANK.__getitem__),
                      "color": "green"})  # fmt: skip
        pull = {"id": f"{own}.W", "circuit": names, "through": [f"{own}.R"], "wires": wires}
        made["pulls"].append(pull)

    def _point(self, bay: dict[str, Any], across: int, up: int) -> list[str]:
        right, above = bay["shift"] or (0, 0)
        across = self.width - across if bay["mirror"] else across
        return [f"{across + right} in", f"{up + above} in"]

    def _straps(self, length: int) -> list[str]:
        first, every, last = self.straps
        if length - last < first:
            return [f"{length / 2} in"]
        at = [first]
        while at[-1] + every < length - last:
            at.append(at[-1] + every)
        return [f"{one} in" for one in dict.fromkeys([*at, length - last])]


def flow(value: Any) -> str:
    if isinstance(value, dict):
        pairs = [f"{k}: {flow(v)}" for k, v in value.items() if v is not None]
        return "{" + ", ".join(pairs) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(flow, value)) + "]"
    return str(value)


@pytest.mark.parametrize("seed", range(60))
def test_random_designs_give_what_they_stand_for(seed: int) -> None:
    """The oracle is the long design above, which no part of the program wrote."""
    pair = Pair(seed)
    short = of_text(pair.short())
    expected = findings(of_text(flow(pair.long())))
    assert findings(short) == expected
    full = yaml_text(full_form(short.node))
    assert findings(of_text(full)) == expected
    again = of_text(full)
    assert yaml_text(full_form(again.node)) == full  # in full is in full


def test_places_are_mirrored_as_the_drawing_would_be() -> None:
    for seed in range(60):
        pair = Pair(seed)
        found, wanted = of_text(pair.short()), of_text(flow(pair.long()))
        assert [box.at for box in found.boxes[1:]] == [box.at for box in wanted.boxes[1:]]
        for one, other in zip(found.raceways, wanted.raceways, strict=True):
            assert (one.path, one.supports, one.from_wall) == (
                other.path, other.supports, other.from_wall
            )  # fmt: skip


def test_in_full_nothing_of_the_short_form_is_left() -> None:
    full = yaml_text(full_form(of_text(WALL).node))
    for key in ("types:", "groups:", "place:", "like:", "by circuit", "every:", "$", "wire: 1"):
        assert key not in full


def test_what_was_quoted_stays_text() -> None:
    text = 'assembly: "null"\ntitle: "a: b # c"\nproject: \'- x\'\n'
    assembly = of_text(yaml_text(full_form(of_text(text).node)))
    assert (assembly.id, assembly.title, assembly.project) == ("null", "a: b # c", "- x")
