"""All findings of a check: one for every rule on every element of its classes.

Most of them say that a rule holds or does not apply.  What a rule gave is kept as it came, and is
made into findings when somebody asks for them; how many there are of each kind, and which of them
a person has to look at, is known without.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, overload

from checker.rulebook.book import Rule

from .finding import QUIET, Finding

if TYPE_CHECKING:
    from checker.rulebook.compiled import Form


class Judged:
    """One rule on the elements of one class.

    found: for each element what the compiled rule gave, or the finding where it could not say.
    """

    __slots__ = ("_findings", "form", "found", "rule", "subjects")

    def __init__(self, rule: Rule, form: Form, subjects: tuple[Any, ...], found: list[Any]) -> None:
        self.rule = rule
        self.form = form
        self.subjects = subjects
        self.found = found
        self._findings: list[Finding] | None = None

    def count(self, counts: dict[str, int]) -> bool:
        """Add how many there are of each kind; whether there are others than quiet ones."""
        held = apart = 0
        others = False
        for found in self.found:
            if found.__class__ is Finding:
                counts[found.kind] += 1
                others = others or found.kind not in QUIET
            elif found[0] < 0:
                apart += 1
            elif found[1]:
                held += 1
            else:
                counts[self.form.outcomes[found[0]]] += 1
                others = True
        counts["pass"] += held
        counts["notApplicable"] += apart
        return others

    @property
    def findings(self) -> list[Finding]:
        """The findings, in the order of the elements; the same objects every time."""
        if self._findings is None:
            rule, form, outcomes = self.rule, self.form, self.form.outcomes
            made = []
            for subject, found in zip(self.subjects, self.found, strict=True):
                if found.__class__ is Finding:
                    made.append(found)
                elif found[0] < 0:
                    made.append(Finding(rule, form, subject, "notApplicable", found))
                else:
                    kind = "pass" if found[1] else outcomes[found[0]]
                    made.append(Finding(rule, form, subject, kind, found))
            self._findings = made
        return self._findings


class Findings(Sequence[Finding]):
    """The findings of a check, in the order of rules, classes and elements."""

    __slots__ = ("_all", "_judged", "counts", "loud")

    def __init__(self, judged: list[Judged]) -> None:
        #: How many there are of each kind, in the contract's order.
        self.counts = dict.fromkeys(
            ("pass", "fail", "review", "open", "notApplicable", "informational"), 0
        )
        self._judged = judged
        self._all: list[Finding] | None = None
        loud = [one for one in judged if one.count(self.counts)]
        #: Those that neither hold nor do not apply.
        self.loud = tuple(f for one in loud for f in one.findings if f.kind not in QUIET)

    def __len__(self) -> int:
        return sum(self.counts.values())

    def __iter__(self) -> Iterator[Finding]:
        return iter(self._list())

    @overload
    def __getitem__(self, place: int) -> Finding: ...
    @overload
    def __getitem__(self, place: slice) -> list[Finding]: ...
    def __getitem__(self, place: int | slice) -> Finding | list[Finding]:
        return self._list()[place]

    def _list(self) -> list[Finding]:
        if self._all is None:
            self._all = [finding for one in self._judged for finding in one.findings]
        return self._all
