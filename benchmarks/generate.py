"""Makes assemblies of any size for the benchmarks: a chain of boxes with everything in between.

For every box there are a raceway, a pull of five wires and a device; every tenth raceway crosses a
coupling; circuits alternate between normal and critical panels on separate chains.
"""

from __future__ import annotations


def assembly(boxes: int, name: str = "BENCH") -> str:
    """YAML text of an assembly with that many boxes."""
    lines = [
        f"assembly: {name}",
        "title: Generated wall",
        "revision: A",
        "quantity: 10",
        "basis: {edition: nec-2023, ambient: 30 degC, location: dry, health_care: false}",
        "defaults: {wire: {material: copper, insulation: THHN}, terminals: 75 degC}",
        "panels:",
        "  - {id: 2N1, branch: normal, system: 208Y/120}",
        "  - {id: 2C1, branch: critical, system: 208Y/120}",
        "circuits:",
    ]
    count = max(2, boxes // 8)
    for i in range(count):
        panel = "2N1" if i % 2 == 0 else "2C1"
        phase = "ABC"[i % 3]
        lines.append(
            f"  - {{id: K{i}, panel: {panel}, phases: [{phase}], breaker: 20 A, load: 720 VA, "
            f"continuous_load: 0 VA, outlets: several, nonlinear: false, fed_at: [B{8 * i}]}}"
        )
    lines.append("boxes:")
    for i in range(boxes):
        circuit = f"K{min(count - 1, i // 8)}"
        lines += [
            f"  - id: B{i}",
            "    kind: outlet",
            "    trade_size: 4 x 2-1/8 square",
            "    rings: [{volume: 3.5 in³}]",
            f"    devices: [{{id: D{i}, kind: receptacle, circuit: {circuit}, rating: 20 A}}]",
        ]
    couplings, raceways, pulls = [], [], []
    for i in range(boxes - 1):
        circuit = f"K{min(count - 1, i // 8)}"
        if i // 8 != (i + 1) // 8:
            continue  # the next box is on another circuit
        through = f"[R{i}]"
        if i % 10 == 5:
            couplings.append(f"  - {{id: C{i}}}")
            raceways.append(_raceway(f"R{i}a", f"B{i}", f"C{i}"))
            raceways.append(_raceway(f"R{i}b", f"C{i}", f"B{i + 1}"))
            through = f"[R{i}a, R{i}b]"
        else:
            raceways.append(_raceway(f"R{i}", f"B{i}", f"B{i + 1}"))
        pulls += [
            f"  - id: W{i}",
            f"    circuit: {circuit}",
            f"    through: {through}",
            "    wires:",
            "      - {role: phase, size: 12 AWG, color: black}",
            "      - {role: neutral, size: 12 AWG, color: white}",
            "      - {role: ground, size: 12 AWG, color: green}",
        ]
    if couplings:
        lines += ["couplings:", *couplings]
    lines += ["raceways:", *raceways, "pulls:", *pulls]
    return "\n".join(lines) + "\n"


def _raceway(name: str, start: str, end: str) -> str:
    return (
        f"  - {{id: {name}, method: EMT, size: 3/4, from: {start}, to: {end}, length: 4 ft 2 in, "
        "bends: [{kind: bend, angle: 90 deg}, {kind: offset, angle: 30 deg}]}"
    )
