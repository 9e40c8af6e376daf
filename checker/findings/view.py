"""A finding as every form of report shows it: made here, and nowhere decided again.

Words are made when they are asked for: a terminal shows few findings and no steps, and most
findings say only that a rule passes.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import TYPE_CHECKING, Any

from checker.assembly.records import Assembly
from checker.documents.source import Source
from checker.rulebook.book import Rulebook

from .detail import Brief, Explainer, joined
from .finding import Finding, Report
from .kinds import ACTION, KINDS, Kind
from .places import alike_key, placed_words, source_of

if TYPE_CHECKING:
    from .detail import Amount, Detail, Worked


class Views:
    """Makes the views of the findings of one assembly under one rulebook."""

    def __init__(self, assembly: Assembly, book: Rulebook) -> None:
        self.assembly = assembly
        self.book = book
        #: What calculations that were written out said, for forms that ask for it again.
        self.said: dict[Finding, Brief] | None = None

    @classmethod
    def of(cls, report: Report) -> Views:
        """Those of a report."""
        return cls(report.assembly, report.book)

    def view(self, finding: Finding) -> FindingView:
        """One finding."""
        return FindingView(finding, self)

    def all(self, report: Report) -> Iterator[FindingView]:
        """Every finding, in the report's order; none is kept."""
        return (FindingView(finding, self) for finding in report.findings)

    @cached_property
    def explainer(self) -> Explainer:
        """What writes calculations out; the only one."""
        return Explainer(self.assembly, self.book.vocabulary, self.book.terms)


class FindingView:
    """Everything that a form shows of a finding, as texts and numbers."""

    __slots__ = ("_brief", "_detail", "_views", "finding")

    def __init__(self, finding: Finding, views: Views) -> None:
        self.finding = finding
        self._views = views
        self._brief: Brief | None = None
        self._detail: Detail | None = None

    # -- what it is ------------------------------------------------------------------------

    @property
    def kind(self) -> str:
        """The kind as data has it."""
        return self.finding.kind

    @property
    def words(self) -> Kind:
        """The words of the kind."""
        return KINDS[self.finding.kind]

    @property
    def rule(self) -> str:
        """The rule's id."""
        return self.finding.rule.id

    @property
    def title(self) -> str:
        """The requirement."""
        return self.finding.rule.title

    @property
    def topic(self) -> str:
        """The rule's topic."""
        return self.finding.rule.record.topic

    @property
    def citation(self) -> str:
        """The section of the element; see ``rule_citation``."""
        return self.finding.citation

    @property
    def rule_citation(self) -> str:
        """All sections of the rule."""
        return self.finding.rule.citation

    @property
    def subject_class(self) -> str:
        """The class of the element."""
        return self.finding.subject_class

    @property
    def subject_id(self) -> str:
        """The id of the element."""
        return self.finding.subject_id

    @property
    def subject(self) -> str:
        """The element in words: class and id."""
        return f"{self.finding.subject_class.replace('_', ' ')} {self.finding.subject_id}"

    # -- where it stands -------------------------------------------------------------------

    @property
    def needs_action(self) -> bool:
        """Whether somebody has to act on it."""
        return self.finding.kind in ACTION

    @property
    def accepted(self) -> bool:
        """Whether a recorded decision accepts it."""
        return self.finding.accepted

    @property
    def blocking(self) -> bool:
        """Whether it blocks release."""
        return self.finding.blocking

    @property
    def decision(self) -> str:
        """The recorded decision in words, with what became of it; "" without one."""
        return "" if self.finding.decision is None else str(self.finding.decision)

    @property
    def line(self) -> int:
        """Line of the file."""
        return self.finding.mark.line

    @property
    def column(self) -> int:
        """Column of the file."""
        return self.finding.mark.column

    @property
    def place(self) -> str:
        """Line and column."""
        mark = self.finding.mark
        return f"{mark.line}:{mark.column}"

    @property
    def source(self) -> Source:
        """The file that it points into: the design's own, or one that the design uses."""
        return source_of(self.finding.mark, self._views.assembly.node.source)

    @property
    def file(self) -> str:
        """The path of that file."""
        return self.source.path

    @property
    def where(self) -> str:
        """File, line and column."""
        return f"{self.file}:{self.place}"

    @property
    def placed(self) -> str:
        """Where the element was placed, in words; "" where it was not."""
        return placed_words(self.finding)

    @property
    def alike(self) -> tuple[Any, ...] | None:
        """What findings that are listed together have in common; None for one that is not."""
        return alike_key(self.finding, self.message, self.fix)

    # -- what it says ----------------------------------------------------------------------

    @property
    def detail(self) -> Detail:
        """The finding in full."""
        if self._detail is None:
            self._detail = detail = self._views.explainer.detail(self.finding)
            if self._views.said is not None:
                measure, limit = (a.text if a else "" for a in (detail.measure, detail.limit))
                self._views.said[self.finding] = Brief(
                    detail.message, detail.fixes, measure, limit, self.finding.at_least
                )
        return self._detail

    @property
    def brief(self) -> Brief:
        """The same words without the calculation; quicker."""
        if self._brief is None:
            said = self._views.said and self._views.said.get(self.finding)
            self._brief = said or self._views.explainer.brief(self.finding)
        return self._brief

    @property
    def _said(self) -> Brief | Detail:
        return self._detail if self._detail is not None else self.brief

    @property
    def message(self) -> str:
        """What is said."""
        return self._said.message

    @property
    def fix(self) -> str:
        """What would put it right, in one text; "" where nothing is known."""
        return joined(self.fixes)

    @property
    def fixes(self) -> tuple[str, ...]:
        """Each way to put it right."""
        return self._said.fixes

    @property
    def missing(self) -> tuple[str, ...]:
        """What the description lacks."""
        return self.finding.gaps

    @property
    def steps(self) -> tuple[Worked, ...]:
        """The calculation."""
        return self.detail.steps

    # -- measure against limit -------------------------------------------------------------

    @property
    def measure(self) -> str:
        """The measure as text; "" where there is none."""
        return self.brief.measure

    @property
    def limit(self) -> str:
        """The limit as text; "" where there is none."""
        return self.brief.limit

    @property
    def measure_amount(self) -> Amount | None:
        """The measure: value, unit and text."""
        return self.detail.measure

    @property
    def limit_amount(self) -> Amount | None:
        """The limit: value, unit and text."""
        return self.detail.limit

    @property
    def relation(self) -> str:
        """``at most`` or ``at least``."""
        return self.finding.relation

    @property
    def ratio(self) -> float | None:
        """Measure over limit; over 1 is beyond the limit whichever way it runs."""
        return self.finding.ratio

    @property
    def rounded_ratio(self) -> float | None:
        """The ratio as data has it."""
        return None if self.finding.ratio is None else round(self.finding.ratio, 6)

    @property
    def graded(self) -> bool:
        """Whether being close to the limit means anything: not where one of one is counted."""
        case, limit = self.finding.case, self.finding.limit
        if case is None or isinstance(self.finding.measure, bool) or isinstance(limit, bool):
            return False
        if self.finding.ratio is None:
            return False
        counted = case.unit in ("count", "", "1") and isinstance(limit, (int, float))
        return not (counted and limit <= 1)

    @property
    def ratio_text(self) -> str:
        """The ratio with two decimals; "" where it means nothing."""
        return f"{self.ratio:.2f}" if self.graded else ""

    @property
    def measured(self) -> str:
        """Measure and limit in words; "" where they would say less than the message."""
        measure, limit = self.measure, self.limit
        if not _says_enough(measure, limit):
            return ""
        return f"{measure or 'not known'} ({self.most})"

    @property
    def most(self) -> str:
        """The limit with ``max`` or ``min``; "" where there is none."""
        return f"{self.limit} {'min' if self.finding.at_least else 'max'}" if self.limit else ""

    @property
    def against(self) -> str:
        """The same with the ratio, where it means anything."""
        words, ratio = self.measured, self.ratio_text
        return f"{words[:-1]}, ratio {ratio})" if words and ratio else words

    @property
    def bound(self) -> str:
        """The limit with the side on which it lies; "" where there is none."""
        return f"{'≥' if self.finding.at_least else '≤'} {self.limit}" if self.limit else ""


def _says_enough(measure: str, limit: str) -> bool:
    """Whether measure against limit says what the message does not: "1, at most 0" does not."""
    return bool(limit) and not (limit in ("0", "1") and measure.isdigit())
