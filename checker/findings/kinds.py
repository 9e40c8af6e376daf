"""The kinds of findings: their order in a report, and every word that people read for them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """The words of one kind.

    heading: over findings of the kind, or beside their number; tag: in a frame, on a page; short:
    on a terminal; count: after a number, in a list of counts; one, several: after a number of
    checks, as a verb; failing: what failing a rule of this kind means; color: on a terminal.
    """

    name: str
    heading: str
    tag: str
    short: str
    count: str
    one: str
    several: str
    failing: str = ""
    color: str = ""

    def counted(self, number: int) -> str:
        """What follows the number of findings of the kind, as a verb."""
        return self.one if number == 1 else self.several


_KINDS = (
    Kind(
        "fail", "Fail", "Fail", "FAIL",
        "failing", "fails", "fail", "Failing it blocks release.", "31;1",
    ),
    Kind(
        "open", "Open (information missing)", "Open", "OPEN",
        "open", "open", "open", "Failing it leaves the finding open, which blocks release.", "35;1",
    ),
    Kind(
        "review", "Review", "Review", "REVIEW",
        "to review", "needs review", "need review", "Failing it requires review.", "36",
    ),
    Kind(
        "informational", "For information", "Info", "note",
        "for information", "for information", "for information", "Failing it is only reported.",
        "34",
    ),
    Kind("pass", "Pass", "Pass", "pass", "passing", "passes", "pass", color="32"),
    Kind(
        "notApplicable", "Not applicable", "N/A", "n/a",
        "not applicable", "does not apply", "do not apply", color="2",
    ),
)  # fmt: skip

#: By name, in the order of a report: what needs action first.
KINDS = {kind.name: kind for kind in _KINDS}
#: Place of a kind in the order of a report.
RANK = {name: place for place, name in enumerate(KINDS)}
#: Order in which counts are listed: outcomes of checks first.
COUNTED = ("fail", "open", "review", "pass", "notApplicable", "informational")
#: Kinds that somebody has to act on, and among them those that block a release.
ACTION = ("fail", "open", "review")
BLOCKING = ("fail", "open")
#: Kinds that say nothing: most findings.
QUIET = ("pass", "notApplicable")


def counts_in_words(counts: dict[str, int]) -> str:
    """Such as ``2 fail, 1 passes``; kinds without a finding are left out."""
    return ", ".join(
        f"{counts[name]} {kind.counted(counts[name])}"
        for name, kind in KINDS.items()
        if counts.get(name)
    )
