"""Panels and circuits: voltages, poles, the branch a circuit belongs to."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from checker.documents.missing import Missing, known

from ..records import Circuit, Panel, PanelBond
from ..structure import Index
from .gaps import describe, gap


def panel_facts(panels: Sequence[Panel]) -> None:
    """Bonds and voltages of every panel, the latter as far as its system tells them."""
    by_name = {panel.id: panel for panel in panels}
    bonds: dict[Panel, list[PanelBond]] = {panel: [] for panel in panels}
    for panel in panels:
        for bond in panel.bonded:
            for end in (panel, by_name.get(bond.to)):
                if end is not None:
                    bonds[end].append(bond)
    for panel in panels:
        panel.bonds = tuple(bonds[panel])
    _bond_groups(panels, by_name)
    for panel in panels:
        if not known(panel.system):
            lack = gap(panel, "system")
            for name in ("line_voltage", "phase_voltage", "wye"):
                setattr(panel, name, lack)
            continue
        high, _, low = str(panel.system).partition("/")
        wye = high.endswith("Y")
        # Either order is in use: 208Y/120 with that between phases first, 120/240 with it last.
        voltages = [float(v) for v in (high.rstrip("YD"), low) if v]
        panel.wye = wye
        panel.line_voltage = max(voltages)
        panel.phase_voltage = min(voltages) if low else _no_neutral(panel)


def _bond_groups(panels: Sequence[Panel], by_name: dict[str, Panel]) -> None:
    """Panelboards that bonding conductors join have one group, whatever the order of the file."""
    group = {panel.id: {panel.id} for panel in panels}
    for panel in panels:
        for bond in panel.bonded:
            if bond.to in by_name and group[panel.id] is not group[bond.to]:
                joined = group[panel.id] | group[bond.to]
                for name in joined:
                    group[name] = joined
    for panel in panels:
        panel.bond_group = min(group[panel.id])


def _no_neutral(panel: Panel) -> Missing:
    return Missing("system", f"a voltage to neutral in `system` of {describe(panel)}")


def circuit_facts(circuit: Circuit, index: Index) -> None:
    """Poles, source, branch and voltage of a circuit."""
    circuit.pulls = ()
    phases = circuit.phases
    circuit.poles = gap(circuit, "phases") if not known(phases) else len(set(phases))
    source: Any = index.panels.get(circuit.panel) if known(circuit.panel) else None
    if source is None:
        for name in ("source", "branch", "voltage"):
            setattr(circuit, name, gap(circuit, "panel"))
        return
    circuit.source = source
    circuit.branch = source.branch if known(source.branch) else gap(source, "branch")
    if not known(circuit.poles):
        circuit.voltage = circuit.poles
    else:
        circuit.voltage = source.phase_voltage if circuit.poles == 1 else source.line_voltage
