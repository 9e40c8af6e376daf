"""Where in the drawings a finding is marked."""

from __future__ import annotations

from collections.abc import Sequence

from checker.assembly.records import Coupling
from checker.documents.missing import known
from checker.findings.finding import Finding

from .marks import Key


def spread(finding: Finding, couplings: Sequence[Coupling]) -> list[Key]:
    """The drawn elements at which a finding is marked.

    A run or pull is marked on one raceway in each section, a circuit on the first raceway of its
    first pull, a space on its first box, a joint on its couplings, a compartment on its box, a
    pair on both of its elements.
    """
    name, subject = finding.subject_class, finding.subject
    if name in ("box", "raceway", "cable", "coupling", "section", "panel"):
        return [(name, finding.subject_id)]
    if name == "compartment":
        return [("box", subject.box.id)]
    if name == "pair":
        keys: list[Key] = [("raceway", way.id) for way in subject.raceways]
        return keys + [("box", box.id) for box in subject.boxes]
    if name == "joint":
        return [("coupling", c.id) for c in couplings if known(c.joint) and c.joint == subject.id]
    if name == "space":
        return [("box", box.id) for box in subject.boxes[:1]]
    if name == "circuit":
        ways = [way for pull in subject.pulls[:1] for way in pull.path[:1]]
    elif name == "run":
        ways = list(subject.raceways)
    elif name == "pull":
        ways = list(subject.path)
    else:
        ways = []
    found: dict[str, Key] = {}
    for way in ways:
        where = way.section if known(way.section) else ""
        found.setdefault(where, (type(way).__name__.lower(), way.id))
    return list(found.values())
