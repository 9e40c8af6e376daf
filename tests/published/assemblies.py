"""Small assemblies for published problems: what the problem states, and nothing else."""

from __future__ import annotations

from typing import Any

Plain = dict[str, Any]

PANEL = {"id": "P", "branch": "normal", "system": "208Y/120"}
WYE = ("A", "B", "C")


def size_of(bare: str) -> str:
    """A bare size of a print as a wire size: 12 is 12 AWG, 500 is 500 kcmil."""
    return f"{bare} kcmil" if bare.isdigit() and int(bare) >= 250 else f"{bare} AWG"


def filled(
    method: str, trade: str, wires: list[tuple[int, str, str]], length: str = "10 ft"
) -> Plain:
    """One raceway R between two boxes, with wires of (how many, size, insulation)."""
    return {
        "assembly": "fill",
        "defaults": {"wire": {"material": "copper"}},
        "boxes": [{"id": "B1", "kind": "pull"}, {"id": "B2", "kind": "pull"}],
        "raceways": [
            {"id": "R", "method": method, "size": trade, "from": "B1", "to": "B2",
             "length": length}
        ],
        "pulls": [
            {"id": "W", "through": ["R"], "wires": [
                {"role": "spare", "count": n, "size": size_of(size), "insulation": kind}
                for n, size, kind in wires
            ]}
        ],
    }  # fmt: skip


def carrying(
    size: str,
    count: int,
    *,
    ambient: str = "30 degC",
    insulation: str = "THHN",
    breaker: str = "15 A",
    outlets: str = "several",
    terminals: str = "75 degC",
) -> Plain:
    """``count`` current-carrying conductors of one size in one raceway R.

    Two-wire circuits, each with a neutral of its own, and a spare where the count is odd; the first
    pull is W1.
    """
    circuits, pulls = [], []
    for n in range(1, count // 2 + 1):
        circuits.append(
            {"id": f"C{n}", "panel": "P", "phases": [WYE[n % 3]], "breaker": breaker,
             "outlets": outlets}
        )  # fmt: skip
        wires: list[Plain] = [{"role": "phase", "size": size}, {"role": "neutral", "size": size}]
        if n == 1 and count % 2:
            wires.append({"role": "spare", "size": size})
        pulls.append({"id": f"W{n}", "circuit": f"C{n}", "through": ["R"], "wires": wires})
    return {
        "assembly": "ampacity",
        "basis": {"ambient": ambient},
        "defaults": {
            "wire": {"material": "copper", "insulation": insulation},
            "terminals": terminals,
        },
        "panels": [PANEL],
        "circuits": circuits,
        "raceways": [
            {"id": "R", "method": "EMT", "size": "4", "from": "P", "to": "field",
             "length": "10 ft"}
        ],
        "pulls": pulls,
    }  # fmt: skip


def boxed(inputs: Plain, box: Plain, passing: tuple[int, str] | None = None) -> Plain:
    """One box B with the conductors, grounds, clamps, fittings and devices of a problem.

    ``passing`` wires go through unbroken, from a raceway of their own to another.
    """
    circuits, raceways, pulls = [], [], []
    by_size: dict[str, str] = {}

    def enter(name: str) -> str:
        raceways.append(
            {"id": f"R{name}", "method": "EMT", "size": "4", "from": "field", "to": "B",
             "length": "10 ft"}
        )  # fmt: skip
        return f"R{name}"

    for n, group in enumerate(inputs["conductors"], 1):
        name = by_size.setdefault(group["size"], f"C{group['size']}")
        if all(c["id"] != name for c in circuits):
            circuits.append({"id": name, "panel": "P", "phases": ["A"]})
        pulls.append(
            {"id": f"W{n}", "circuit": name, "through": [enter(str(n))], "wires": [
                {"role": "phase", "size": size_of(group["size"]), "count": group["qty"]}]}
        )  # fmt: skip
    for n, group in enumerate(inputs.get("egc", []), 1):
        pulls.append(
            {"id": f"G{n}", "circuit": circuits[0]["id"], "through": [enter(f"G{n}")], "wires": [
                {"role": "ground", "size": size_of(group["size"]), "count": group["qty"]}]}
        )  # fmt: skip
    if passing is not None and passing[0]:
        count, size = passing
        name = by_size.setdefault(size, f"C{size}")
        if all(c["id"] != name for c in circuits):
            circuits.append({"id": name, "panel": "P", "phases": ["A"]})
        pulls.append(
            {"id": "T", "circuit": name, "through": [enter("T1"), enter("T2")],
             "wires": [{"role": "phase", "size": size_of(size), "count": count}]}
        )  # fmt: skip
    devices = []
    for group in inputs.get("devices", []):
        for _ in range(group["qty"]):
            devices.append(
                {"id": f"D{len(devices) + 1}", "kind": "receptacle", "gangs": group["gangs"],
                 "circuit": by_size[group["largest_conductor"]]}
            )  # fmt: skip
    return {
        "assembly": "box",
        "defaults": {"wire": {"material": "copper", "insulation": "THHN"}},
        "panels": [PANEL],
        "circuits": circuits,
        "boxes": [
            {"id": "B", "kind": "outlet", "material": "metal",
             "internal_clamps": 1 if inputs.get("internal_clamps")
             else 0, "support_fittings": inputs.get("support_fittings", 0), "devices": devices,
             **box}
        ],
        "raceways": raceways,
        "pulls": pulls,
    }  # fmt: skip


def box_name(short: str) -> str:
    """``4x1-1/2 octagon`` of a print as a row of the standard-box table."""
    size, form = short.split()
    form = {"octagon": "octagonal", "round": "octagonal"}.get(form, form)
    return f"{size.replace('x', ' x ')} {form}"


def bent(bends: list[Plain]) -> Plain:
    """One run R between two boxes with these bends."""
    return {
        "assembly": "bends",
        "boxes": [{"id": "B1", "kind": "junction"}, {"id": "B2", "kind": "junction"}],
        "raceways": [
            {"id": "R", "method": "EMT", "size": "3/4", "from": "B1", "to": "B2", "bends": bends}
        ],
    }
