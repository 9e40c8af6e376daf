"""All findings of a check: one for every rule on every element of its classes.

Most of them say that a rule holds or does not apply.  Of these only that is kept, to save memory:
what the compiled rule gave is found again when somebody asks for it, which a plain check does not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any, overload

from checker.rulebook.book import Rule

from .finding import AllFindings, Finding
from .kinds import QUIET

if TYPE_CHECKING:
    from checker.assembly.records import Assembly
    from checker.rulebook.forms import Form

#: What is kept of an element on which the rule holds, or to which it does not apply.
HOLDS, NOT_APPLICABLE = "pass", "notApplicable"


class RuleResults:
    """One rule on the elements of one class.

    found: for each element ``HOLDS`` or ``NOT_APPLICABLE``, what the compiled rule gave where it is
    neither, or the finding where the compiled rule could not say.  settle: where no element was
    asked, since the rule applies to none, gives what the rule gives of one.
    """

    __slots__ = ("_assembly", "_made", "_settle", "form", "found", "others", "rule", "subjects")

    def __init__(
        self,
        rule: Rule,
        form: Form,
        subjects: tuple[Any, ...],
        assembly: Assembly,
        found: list[Any],
        others: list[int],
        settle: Callable[[Any], tuple[Any, ...]] | None = None,
    ) -> None:
        self.rule = rule
        self.form = form
        self.subjects = subjects
        self.found = found
        #: Places in ``found`` of what is more than ``HOLDS`` or ``NOT_APPLICABLE``.
        self.others = others
        self._assembly = assembly
        self._settle = settle
        self._made: dict[int, Finding] = {}

    def count(self, counts: dict[str, int]) -> None:
        """Add how many there are of each kind."""
        held = self.found.count(HOLDS)
        counts[HOLDS] += held
        counts[NOT_APPLICABLE] += len(self.found) - held - len(self.others)
        for place in self.others:
            counts[self.finding(place).kind] += 1

    def finding(self, place: int) -> Finding:
        """The finding on one element; the same object every time."""
        made = self._made.get(place)
        if made is None:
            given, subject = self.found[place], self.subjects[place]
            if given.__class__ is Finding:
                made = given
            elif given.__class__ is tuple:
                kind = self.form.outcomes[given[0]]
                made = Finding(self.rule, self.form, subject, kind, given)
            else:
                settle = self._settle
                again = settle(subject) if settle else self.form.fast(subject, self._assembly)
                made = Finding(self.rule, self.form, subject, given, again)
            self._made[place] = made
        return made

    @property
    def findings(self) -> list[Finding]:
        """The findings, in the order of the elements."""
        return [self.finding(place) for place in range(len(self.found))]


class Findings(AllFindings):
    """The findings of a check, made when they are asked for."""

    __slots__ = ("_all", "_judged", "counts", "notable")

    def __init__(self, judged: list[RuleResults]) -> None:
        #: How many there are of each kind, in the contract's order.
        self.counts = dict.fromkeys(
            ("pass", "fail", "review", "open", "notApplicable", "informational"), 0
        )
        self._judged = judged
        self._all: list[Finding] | None = None
        for one in judged:
            one.count(self.counts)
        others = [one.finding(place) for one in judged for place in one.others]
        #: Those that neither hold nor do not apply.
        self.notable = tuple(finding for finding in others if finding.kind not in QUIET)

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
