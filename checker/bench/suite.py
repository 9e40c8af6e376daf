"""The tests of one rule or amendment, and whether its examples show both sides of a limit."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from checker.documents.errors import Mark, Problem
from checker.documents.source import Source

from .examples import Outcome

#: What an example that fails may expect; `open` too, where failing means that (``fails_open``).
FAILING = ("fail", "review", "informational")


@dataclass(slots=True)
class Suite:
    """The tests of one rule or amendment, and what became of them.

    kind: rule or amendment.  outcomes: (edition, outcome), in order.  problems: what keeps it from
    being tested.  remarks: what its author should know.
    """

    kind: str
    name: str
    path: str
    outcomes: list[tuple[str, Outcome]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    @property
    def differing(self) -> int:
        """How many outcomes are not what was expected."""
        return sum(not outcome.holds for _, outcome in self.outcomes)


def fails_open(file: Any) -> bool:
    """Whether failing means open in one case at least; a ban on methods has no such case."""
    cases = (file, *getattr(file, "judge", ()))
    return any("open" in (getattr(c, "fails_as", ""), _said_open(c)) for c in cases)


def _said_open(case: Any) -> str:
    return "open" if getattr(case, "open", None) is not None else ""


def both_sides(
    suite: Suite, examples: list[Any], source: Source, mark: Mark, file: Any, name: str = ""
) -> None:
    """Report a rule that has no example that passes, or none that fails.

    ``file`` is the rule's record.  Where it reports failing as open, an example that is open and
    states measure and limit fails; one that is open for missing data does not state both.
    """
    expected = {example.expect for example in examples}
    fails = bool(expected & set(FAILING))
    if fails_open(file):
        fails = fails or any(e.expect == "open" and e.measure and e.limit for e in examples)
    lacking = []
    if "pass" not in expected:
        lacking.append("one that passes (`expect: pass`)")
    if not fails:
        lacking.append("one that fails (`expect: fail`, review, open or informational)")
    if lacking:
        suite.problems.append(
            source.problem(
                mark,
                f"rule {name or suite.name} has no examples on both sides of its limit",
                found=f"{len(examples)} example{'' if len(examples) == 1 else 's'}"
                + (f", expecting {', '.join(sorted(expected))}" if expected else ""),
                expected=" and ".join(lacking),
            )
        )
