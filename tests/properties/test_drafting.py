"""Drafting mistakes in a wall that was legal: each is noticed, by the right rule, at its place.

The wall is ``drafted-wall.yaml``.  What each mistake is, is common practice, no source; the rules
cite their sections.
"""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from designs import Key, assembly_of, findings

from checker.findings.finding import BLOCKING, Finding

TEXT = (Path(__file__).parent / "drafted-wall.yaml").read_text(encoding="utf-8")

#: What was done, the words that it replaces, by what, the rule that notices it, and where.
MISTAKES = (
    ("feeder conductor too small", "A, size: 3 AWG", "A, size: 4 AWG", "conductor-ampacity", "WF"),
    ("feeder ground too small", "size: 8 AWG, color: green}]}", "size: 10 AWG, color: green}]}",
     "grounding-conductor-size", "WF"),
    ("panel too small for its feeder's load", "rating: 100 A, main: 100 A",
     "rating: 60 A, main: 60 A", "panel-load", "LP"),
    ("panel of another branch", "id: LP, branch: normal", "id: LP, branch: critical",
     "feeder-panels", "LP"),
    ("multiwire circuit on two single breakers", "disconnect: common", "disconnect: independent",
     "multiwire-disconnect", "LP-13"),
    ("switched conductor not brought back", "{role: switched, phase: A, size: 12 AWG, color: black},"
     " {role: neutral, size: 12 AWG, color: blank}", "", "wire-used", "WE1"),
    ("travelers forgotten", "role: traveler", "role: spare", "switch-connected", "W2"),
    ("white traveler not marked", "color: white, reidentified: black", "color: white",
     "ungrounded-color", "WC1"),
    ("luminaire on the phase that is not there", "circuit: LP-13, phases: [B]",
     "circuit: LP-13, phases: [A]", "circuit-complete", "LP-13"),
    ("motor behind too large a device", "breaker: 30 A", "breaker: 50 A", "motor-protection",
     "LP-246"),
    ("cable of the ordinary type", "id: C2, method: MC-HCF", "id: C2, method: MC",
     "redundant-ground-path", "C2"),
    ("no ground-fault protection at the sink", "gfci: true", "gfci: false", "gfci-receptacle", "X2"),
    ("octagonal box too small", "4 x 2-1/8 octagonal", "4 x 1-1/4 octagonal", "box-fill", "L1"),
    ("cable beside the edge of the stud", "edge_distance: 2 in", "edge_distance: 1 in",
     "framing-distance", "C1"),
    ("plain fittings on the feeder", "fitting: insulating", "fitting: plain", "raceway-bushing",
     "F1"),
)  # fmt: skip
