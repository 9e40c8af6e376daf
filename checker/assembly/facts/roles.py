"""Roles of wires, by what they are there for."""

from __future__ import annotations

GROUNDS = ("ground", "isolated_ground")
#: Those that a circuit's overcurrent device protects.
UNGROUNDED = ("phase", "switched", "traveler")
#: Those that always count as current-carrying.
LIVE = frozenset(("phase", "switched", "spare", "traveler"))
