"""Colors as they are written, as they are compared, and as the project's schemes give them."""

from __future__ import annotations

from functools import lru_cache

from checker.documents.missing import Missing, known
from checker.quantities.patterns import Lazy

from .records import Assembly, ColorScheme, Device, Wire

_STRIPES = Lazy(r"\s*(?:\bw/|\bwith\b|/|,|-)\s*")
_SETTLED = ("phase", "neutral", "ground", "isolated_ground")
_FILLER = Lazy(r"\b(?:a|an|and|one|two|three|continuous|stripes?|striped|tracers?)\b")


def normal_colors(assembly: Assembly) -> tuple[str, ...]:
    """Colours of the receptacles that are known to be on a normal circuit."""
    devices = (device for box in assembly.boxes for device in box.devices)
    return tuple(dict.fromkeys(str(d.base_color) for d in devices if _normal(d)))


def _normal(device: Device) -> bool:
    circuit = device.source
    return (
        device.kind == "receptacle"
        and known(device.color)
        and known(circuit)
        and known(circuit.branch)
        and circuit.branch == "normal"
    )


def settled_colors(wire: Wire, schemes: tuple[ColorScheme, ...]) -> tuple[str, ...] | Missing:
    """The colours that the schemes for the wire's system give to its role and phase."""
    if not schemes or wire.role not in _SETTLED:
        return ()
    circuits = wire.circuits
    if isinstance(circuits, Missing):
        return circuits
    systems = set()
    for circuit in circuits:
        panel = circuit.source
        if isinstance(panel, Missing):
            return panel
        if not known(panel.system):
            return Missing("system", f"`system` of panel {panel.id}")
        systems.add(panel.system)
    fitting = [scheme for scheme in schemes if scheme.system in systems]
    if wire.role == "phase" and fitting and isinstance(wire.phase, Missing):
        return wire.phase
    key = str(wire.phase if wire.role == "phase" else wire.role)
    lists = [getattr(scheme, key) for scheme in fitting]
    stated = [colors for colors in lists if known(colors)]
    if lists and not stated:
        words = f"`{key}` of the color scheme for {fitting[0].system}"
        return Missing(key, words, detail="color_schemes")
    return tuple(dict.fromkeys(finish(color) for colors in stated for color in colors))


@lru_cache(maxsize=256)
def coat(color: str) -> tuple[str, str]:
    """A colour as written, as (the colour itself, the colour of its stripes or ``none``).

    ``white with red stripe``, ``white/red`` and ``White-Red`` are white with red stripes.
    """
    parts = _STRIPES.split(color.strip().lower().replace("grey", "gray"), maxsplit=1)
    base = " ".join(parts[0].split())
    stripe = " ".join(_FILLER.sub(" ", parts[1]).split()) if len(parts) > 1 else ""
    return base, stripe or "none"


def finish(color: str) -> str:
    """A colour as colours are compared: ``gray`` for ``Grey``, stripes after a slash."""
    base, stripe = coat(color)
    return base if stripe == "none" else f"{base}/{stripe}"
