"""Random small assemblies: a row of raceways, boxes and couplings, with much of it left unstated.

A wall is plain data, as a YAML file would hold it.  It always hangs together; everything optional
is left out with some chance, because what is not stated is where evaluations go different ways.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from checker.assembly import from_document
from checker.assembly.records import Assembly
from checker.documents.errors import Mark
from checker.documents.loader import Document
from checker.documents.nodes import Mapping, Sequence
from checker.documents.source import Source
from checker.quantities.dimension import LENGTH
from checker.quantities.notation import quantity

Plain = dict[str, Any]

BRANCHES = ("normal", "critical", "life_safety", "equipment", "emergency")
SYSTEMS = ("208Y/120", "480Y/277", "120/240")
SIZES = ("14 AWG", "12 AWG", "10 AWG", "8 AWG", "2 AWG", "1/0 AWG", "250 kcmil")
METHODS = ("EMT", "RMC", "FMC", "PVC40", "LFMC")
TRADES = ("1/2", "3/4", "1", "1-1/4", "2", "4")
BOXES = ("4 x 2-1/8 square", "4 x 1-1/2 octagonal", "3 x 2 x 3-1/2 device", "FS")
ROLES = ("phase", "neutral", "ground", "isolated_ground", "switched", "traveler", "spare", "signal")
BARE = ("ground", "isolated_ground", "spare", "signal")
BENDS = ("bend", "kick", "offset", "saddle3", "saddle4")
SPACES = ("patient_bed", "operating_room", "corridor")


def assembly_of(plain: Plain) -> Assembly:
    """The assembly that the data describes."""
    source = Source.of_text("a wall\n")
    return from_document(Document(source, _node(plain, Mark(1, 1))))


def _node(value: Any, mark: Mark) -> Any:
    if isinstance(value, dict):
        return Mapping.made({k: _node(v, mark) for k, v in value.items()}, mark)
    if isinstance(value, list):
        return Sequence.made([_node(v, mark) for v in value], mark)
    return value


@st.composite
def walls(draw: st.DrawFn) -> Plain:
    """A random assembly."""

    def some(required: Plain, optional: dict[str, st.SearchStrategy[Any]]) -> Plain:
        """The required keys, and most of the optional ones."""
        made = dict(required)
        for key, values in optional.items():
            if draw(st.integers(0, 5)):
                made[key] = draw(values)
        return made

    def one(*texts: str) -> st.SearchStrategy[str]:
        return st.sampled_from(texts)

    panels = [
        some({"id": f"P{n}"}, {"branch": one(*BRANCHES), "system": one(*SYSTEMS)})
        for n in range(draw(st.integers(1, 2)))
    ]
    phases = st.sampled_from([["A"], ["B"], ["A", "B"], ["A", "B", "C"]])
    amounts = one("360 VA", "1440 VA", "1920 VA", "5000 VA", "0 VA")
    circuits = [
        some(
            {"id": f"C{n}"},
            {
                "panel": one(*[p["id"] for p in panels]),
                "phases": phases,
                "breaker": one("15 A", "20 A", "30 A", "100 A", "125 A", "1e-30 A"),
                "load": amounts,
                "continuous_load": one("0 VA", "360 VA"),
                "outlets": one("several", "single"),
                "nonlinear": one("true", "false"),
            },
        )
        for n in range(draw(st.integers(1, 4)))
    ]
    for circuit in circuits:
        if circuit.get("load") == "0 VA" and "continuous_load" in circuit:
            circuit["continuous_load"] = "0 VA"  # more of it than load is refused
    names = [c["id"] for c in circuits]
    spaces = [
        some({"id": f"S{n}", "kind": draw(one(*SPACES))}, {"category": one("1", "2", "3")})
        for n in range(draw(st.integers(0, 2)))
    ]

    ways = draw(st.integers(1, 4))
    places = [draw(one("field", panels[0]["id"], "B0"))]
    couplings: list[Plain] = []
    for n in range(1, ways + 1):
        if n < ways and draw(st.booleans()):
            couplings.append({"id": f"K{n}"})
            places.append(f"K{n}")
        else:
            places.append("field" if n == ways and draw(st.integers(0, 4)) == 0 else f"B{n}")
    device = {
        "circuit": one(*names),
        "receptacles": one("1", "2"),
        "listing": one("hospital_grade", "general"),
        "color": one("red", "white"),
        "rating": one("15 A", "20 A"),
    }
    boxes = []
    for place in places:
        if not place.startswith("B"):
            continue
        optional: dict[str, st.SearchStrategy[Any]] = {
            "material": one("metal", "nonmetallic"),
            "grounded": one("true", "false"),
            "free_conductor": one("4 in", "6 in", "8 in"),
            "internal_clamps": one("0", "1", "2"),
            "support_fittings": one("0", "1"),
            "rings": st.just([some({}, {"volume": one("3.5 in³", "6 in³")})]),
        }
        if draw(st.booleans()):
            optional["volume"] = one("30.3 in³", "12.5 in³", "0 in³")
        else:
            optional["trade_size"] = one(*BOXES)
        if spaces:
            optional["space"] = one(*[s["id"] for s in spaces])
        if draw(st.booleans()):
            made = some(
                {"id": f"D{place}", "kind": draw(one("receptacle", "switch", "data"))}, device
            )
            optional["devices"] = st.just([made])
        boxes.append(some({"id": place, "kind": draw(one("outlet", "junction", "pull"))}, optional))
    raceways = []
    for n in range(ways):
        bends = [
            some(
                {"kind": draw(one(*BENDS))},
                {
                    "angle": one("90 deg", "45 deg", "30 deg", "10 deg", "0 deg"),
                    "radius": one("4 in", "6 in"),
                },
            )
            for _ in range(draw(st.integers(0, 4)))
        ]
        raceways.append(
            some(
                {"id": f"R{n}", "from": places[n], "to": places[n + 1], "bends": bends},
                {
                    "method": one(*METHODS),
                    "size": one(*TRADES),
                    "length": one("2 ft", "609.6 mm", "24.1 in", "10 ft", "1 in"),
                    "supports": st.sampled_from([["6 in"], ["1 ft", "8 ft"], []]),
                    "location": one("dry", "wet"),
                    "bender": one("one_shot", "other"),
                },
            )
        )
        if "length" in raceways[-1] and "supports" in raceways[-1]:  # none beyond the end
            end = quantity(raceways[-1]["length"], LENGTH).value
            raceways[-1]["supports"] = [
                s for s in raceways[-1]["supports"] if quantity(s, LENGTH).value <= end
            ]

    pulls = []
    for n in range(draw(st.integers(1, 4))):
        first = draw(st.integers(0, ways - 1))
        last = draw(st.integers(first, ways - 1))
        own = draw(st.lists(st.sampled_from(names), min_size=1, max_size=3, unique=True))
        wires = [
            some(
                {"role": role},
                {
                    "size": one(*SIZES),
                    "color": one("black", "white", "green", "gray/red", "red"),
                    "count": one("1", "2", "5"),
                    "bare": one("false", "true") if role in BARE else one("false"),
                    "insulation": one("THHN", "THWN", "TW", "XHHW"),
                },
            )
            for role in draw(st.lists(st.sampled_from(ROLES), min_size=1, max_size=4))
        ]
        pulls.append(
            some(
                {"id": f"W{n}", "through": [f"R{i}" for i in range(first, last + 1)],
                 "wires": wires},
                {"circuit": st.just(own)},
            )
        )  # fmt: skip
    return some(
        {
            "assembly": "wall",
            "panels": panels,
            "circuits": circuits,
            "spaces": spaces,
            "couplings": couplings,
            "boxes": boxes,
            "raceways": raceways,
            "pulls": pulls,
        },
        {
            "basis": st.just(
                some(
                    {}, {"ambient": one("30 degC", "104 degF"), "health_care": one("true", "false")}
                )
            ),
            "defaults": st.just(
                some(
                    {},
                    {
                        "wire": st.just({"material": "copper", "insulation": "THHN"}),
                        "terminals": one("60 degC", "75 degC", "90 degC"),
                        "free_conductor": one("6 in", "5 in"),
                    },
                )
            ),
        },
    )
