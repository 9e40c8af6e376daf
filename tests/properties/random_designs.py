"""Random small designs, described almost in full, for relations that hold whatever the numbers are.

A design is a row of boxes with raceways or cables between them, home runs that carry several
circuits, and devices in the boxes.  ``tests/engine/walls.py`` makes designs with much left out;
here most is stated, so that rules reach a verdict and a relation between two verdicts means
something.
Everything in these designs is invented.
"""

from __future__ import annotations

import random
from typing import Any

Plain = dict[str, Any]

SIZES = ("14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "1 AWG", "1/0 AWG", "3/0 AWG")
#: Sizes that usually go with a rating; a random one is taken now and then.
USUAL = {
    "15 A": "14 AWG", "20 A": "12 AWG", "30 A": "10 AWG", "50 A": "6 AWG",
    "100 A": "1 AWG", "200 A": "3/0 AWG",
}  # fmt: skip
GROUNDS = {
    "15 A": "14 AWG", "20 A": "12 AWG", "30 A": "10 AWG", "50 A": "10 AWG",
    "100 A": "8 AWG", "200 A": "6 AWG",
}  # fmt: skip
BRANCHES = ("normal", "normal", "critical", "equipment", "life_safety")
TRADES = ("1/2", "3/4", "1", "1-1/4", "2")
METHODS = ("EMT", "EMT", "EMT", "FMC", "LFMC", "RMC", "PVC40", "LFNC")


def design(seed: int) -> Plain:
    """The design that belongs to a seed, as a YAML file would hold it."""
    return _Maker(random.Random(seed)).design()


class _Maker:
    """Draws the parts of one design from one source of chance."""

    def __init__(self, chance: random.Random) -> None:
        self.chance = chance

    def often(self, share: float = 0.92) -> bool:
        return self.chance.random() < share

    def one(self, items: Any) -> Any:
        return self.chance.choice(items)

    def design(self) -> Plain:
        """The whole design."""
        plain: Plain = {
            "assembly": "RANDOM",
            "basis": {"edition": "nec-2023", "permit_date": "2026-03-02",
                      "health_care": self.one(["true", "false"]),
                      "ambient": self.one(["30 degC", "30 degC", "40 degC"])},
            "defaults": {"wire": {"material": "copper", "insulation": "THHN"},
                         "free_conductor": "8 in"},
        }  # fmt: skip
        if self.often(0.7):
            plain["defaults"]["terminals"] = "75 degC"
        plain["panels"] = [self.panel(n) for n in range(self.one([1, 1, 2, 3]))]
        plain["circuits"] = [self.circuit(n, plain) for n in range(self.one([1, 2, 3, 4]))]
        plain["sections"] = [
            {"id": "S1", "width": "8 ft", "height": "9 ft", "depth": "6 in"},
            {"id": "S2", "width": "8 ft", "height": "9 ft", "depth": "6 in"},
        ]
        plain["joints"] = [{"id": "J12", "between": ["S1", "S2"]}]
        plain["spaces"] = [
            {"id": "room", "kind": self.one(["patient_bed", "corridor", "exam"]), "category": "2"}
        ]
        boxes = self.one([2, 3, 3, 4])
        plain["boxes"] = [self.box(n, plain) for n in range(boxes)]
        self.ways(plain, boxes)
        plain["pulls"] = [self.pull(n, plain, boxes) for n in range(self.one([1, 2, 3, 4]))]
        return plain

    def panel(self, number: int) -> Plain:
        panel = {"id": f"P{number}", "branch": self.one(BRANCHES),
                 "system": self.one(["208Y/120", "208Y/120", "480Y/277", "120/240"])}  # fmt: skip
        if self.often(0.8):
            panel["transfer_switch"] = f"ATS-{panel['branch']}"
        return panel

    def circuit(self, number: int, plain: Plain) -> Plain:
        panel = self.one(plain["panels"])
        phases = self.one([["A"], ["B"], ["C"], ["A", "B"], ["A", "B", "C"]])
        if panel["system"] == "120/240":
            phases = [p for p in phases if p != "C"] or ["A"]
        circuit = {
            "id": f"C{number}", "panel": panel["id"], "phases": phases,
            "breaker": self.one(list(USUAL)), "load": self.one(["720 VA", "1440 VA", "1920 VA"]),
            "continuous_load": self.one(["0 VA", "0 VA", "720 VA"]),
            "outlets": self.one(["several", "several", "single"]),
            "nonlinear": self.one(["false", "false", "true"]),
        }  # fmt: skip
        for key in ("breaker", "load", "continuous_load", "outlets", "nonlinear"):
            if not self.often(0.97):
                del circuit[key]
        return circuit

    def box(self, number: int, plain: Plain) -> Plain:
        box: Plain = {
            "id": f"B{number}", "section": "S1", "space": "room", "material": "metal",
            "kind": self.one(["outlet", "junction", "pull"]), "grounded": "true",
            "concealed": "false", "free_outside": "4 in",
        }  # fmt: skip
        if self.often(0.7):
            box["trade_size"] = self.one(["4 x 2-1/8 square", "4-11/16 x 2-1/8 square"])
        else:
            box |= {"width": "12 in", "height": "12 in", "depth": "6 in", "volume": "800 in³",
                    "opening": "12 in"}  # fmt: skip
        box["devices"] = [
            {"id": f"D{number}-{n}", "kind": "receptacle", "circuit": c["id"], "receptacles": "2",
             "rating": self.one(["15 A", "20 A", "20 A", "30 A"]), "listing": "hospital_grade",
             "color": self.one(["red", "white"])}
            for n, c in enumerate(self.chance.sample(plain["circuits"], 1))
            if self.often(0.6)
        ]  # fmt: skip
        return box

    def ways(self, plain: Plain, boxes: int) -> None:
        """Raceways, or here and there a cable, from each box to the next; the first to the site."""
        plain["raceways"], plain["cables"] = [], []
        for number in range(boxes):
            start = "field" if number == 0 else f"B{number - 1}"
            inches = self.one([5, 9, 18, 24, 30, 48, 76, 100, 144])
            way: Plain = {"id": f"R{number}", "from": start, "to": f"B{number}",
                          "length": f"{inches} in", "section": "S1"}  # fmt: skip
            if self.often(0.95):
                count = max(1, inches // 40)
                way["supports"] = [f"{inches * (n + 0.5) / count} in" for n in range(count)]
                if self.often(0.15):
                    way["supports"] = way["supports"][1:]
            if number and self.often(0.12):
                plain["cables"].append(way | {"method": self.one(["MC-HCF", "AC-HCF", "MC"])})
                continue
            way |= {"method": self.one(METHODS), "size": self.one(TRADES),
                    "bends": [], "bender": "one_shot"}  # fmt: skip
            if self.often(0.4):
                way["bends"] = [
                    {"kind": self.one(["bend", "offset", "kick"]),
                     "angle": self.one(["30 deg", "90 deg"]), "radius": "12 in"}
                    for _ in range(self.one([1, 1, 2, 3]))
                ]  # fmt: skip
            plain["raceways"].append(way)

    def pull(self, number: int, plain: Plain, boxes: int) -> Plain:
        first = self.chance.randrange(boxes)
        last = self.chance.randrange(first, boxes)
        circuits = self.chance.sample(
            plain["circuits"], min(len(plain["circuits"]), self.one([1, 1, 2, 3]))
        )
        route = [f"R{n}" for n in range(first, last + 1)]
        cables = {c["id"] for c in plain["cables"]}
        if cables & set(route) and len(route) > 1:
            route = route[:1]
        wires: list[Plain] = []
        named = len(circuits) > 1 and self.often(0.7)
        for circuit in circuits:
            wires += self.conductors(circuit, plain, named)
        for wire in wires:
            if not self.often(0.98):
                wire["count"] = "2"
        rating = max((c.get("breaker", "20 A") for c in circuits), key=lambda a: float(a[:-2]))
        if self.often(0.85):
            size = GROUNDS[rating] if self.often(0.8) else self.one(SIZES[:6])
            wires.append({"role": "ground", "size": size, "color": "green"})
            if self.often(0.08):
                wires.append({"role": "ground", "size": self.one(SIZES[:6]), "color": "green"})
        return {"id": f"W{number}", "circuit": [c["id"] for c in circuits], "through": route,
                "wires": wires}  # fmt: skip

    def conductors(self, circuit: Plain, plain: Plain, named: bool) -> list[Plain]:
        """The ungrounded and grounded conductors of one circuit in one pull."""
        rating = circuit.get("breaker", "20 A")
        size = USUAL[rating] if self.often(0.85) else self.one(SIZES)
        own = {"circuit": circuit["id"]} if named else {}
        wires: list[Plain] = []
        for phase in circuit["phases"]:
            if not self.often(0.97):
                continue
            color = {"A": "black", "B": "red", "C": "blue"}[phase]
            wire = {"role": "phase", "phase": phase, "size": size, "color": color} | own
            if not self.often(0.9):
                del wire["phase"]
            wires.append(wire)
        if self.often(0.15):
            wires.append({"role": "switched", "size": size, "color": "red"} | own)
        if self.often(0.04):
            wires.append({"role": "spare", "size": size, "color": "yellow"})
        if self.often(0.8):
            wires.append({"role": "neutral", "size": size, "color": "white"} | own)
        return wires or [{"role": "phase", "size": size, "color": "black"} | own]
