"""A report as its forms show it: every part is made from the report when it is asked for, once.

Every text here is plain text as people read it.  Nothing is escaped: that is each form's own task.
"""

from __future__ import annotations

from functools import cached_property
from typing import Any

from checker.findings.finding import Report
from checker.findings.kinds import COUNTED, KINDS
from checker.findings.not_covered import in_brief
from checker.findings.view import FindingView, Views
from checker.findings.wording import worded

from . import cautions, cover
from .book_view import (
    AmendmentView,
    AppliedRule,
    TableView,
    amendment_views,
    from_memory,
    rules_applied,
    table_views,
)
from .calculations import Calculation, calculations
from .figures.every import Figures, draw_all
from .json_form import report_object
from .listing import ElementView, Listing, NumberedFinding, closest, list_findings
from .schedules import Schedule, schedules


class ReportView:
    """The whole report."""

    kinds = KINDS
    counted = COUNTED
    cautions_heading = cautions.HEADING
    ratio = cautions.RATIO
    signing = cautions.SIGNING

    def __init__(self, report: Report) -> None:
        self.report = report
        self.views = Views.of(report)
        assembly, self.book = report.assembly, report.book
        self.id, self.revision, self.quantity = assembly.id, assembly.revision, assembly.quantity
        self.head = assembly.id + (f", revision {assembly.revision}" if assembly.revision else "")
        self.title = assembly.title or "Assembly " + assembly.id
        self.file = report.source.path
        self.date = report.date
        self.summary = report.summary
        self.notices = list(report.notices)
        self.edition = report.book.edition
        self.in_force = [a.id for a in report.book.amendments if a.in_force]
        self.blocking = sum(finding.blocking for finding in report.findings)

    # -- the cover -------------------------------------------------------------------------

    @property
    def cautions(self) -> list[str]:
        """What the report is, and what it is not."""
        return [worded(text, self.book.terms) for text in cautions.CAUTIONS]

    @property
    def caution(self) -> str:
        """The same in one paragraph."""
        return worded(cautions.CAUTION, self.book.terms)

    @property
    def deferral(self) -> str:
        """Who decides."""
        return worded(cautions.DEFERRAL, self.book.terms)

    @property
    def facts(self) -> list[tuple[str, str]]:
        """Names with what they are; a text may have several lines."""
        return cover.facts(self.report)

    @property
    def fingerprints(self) -> list[tuple[str, str, str]]:
        """What it was made from: what, its name, its fingerprint."""
        return cover.fingerprints(self.report)

    @property
    def verdict(self) -> list[str]:
        """What blocks release, in plain words."""
        return cover.verdict(self.report)

    @cached_property
    def data(self) -> dict[str, Any]:
        """The report as JSON has it; where it is asked for first, its words are not made again."""
        self.views.said = {}
        return report_object(self.report, self.views)

    @property
    def sources(self) -> list[tuple[str, str, str]]:
        """The same, by file."""
        book, decisions = self.book, self.report.decisions_source
        rows = [
            ("design", self.file, self.report.source.digest),
            ("rules", book.edition.edition, book.digest),
            ("tables", "", book.tables_digest),
        ]
        rows += [("amendment " + a.id, a.source.path, a.source.digest) for a in book.amendments]
        if decisions is not None:
            rows.append(("decisions", decisions.path, decisions.digest))
        return rows

    @cached_property
    def not_covered(self) -> cover.NotCovered:
        """What the check does not cover, in full."""
        return cover.not_covered_rows(self.report)

    @property
    def not_covered_in_brief(self) -> list[str]:
        """The same in a few lines."""
        return in_brief(self.report)

    @cached_property
    def decisions(self) -> list[cover.DecisionRow]:
        """Every recorded decision with what became of it."""
        return cover.decision_rows(self.report)

    # -- findings --------------------------------------------------------------------------

    @cached_property
    def unnumbered(self) -> list[FindingView]:
        """Every finding in the order of rules and elements."""
        return list(self.views.all(self.report))

    @cached_property
    def accepted(self) -> list[FindingView]:
        """Those that a recorded decision accepts."""
        return [f for f in self.unnumbered if f.accepted]

    def undecided(self, kind: str) -> list[FindingView]:
        """Those of a kind that no decision accepts."""
        return [f for f in self.unnumbered if f.kind == kind and not f.accepted]

    @cached_property
    def _listed(self) -> tuple[Listing, Figures]:
        listing = list_findings(self.report, self.views)
        figures = draw_all(self.report, listing.marks, listing.by_key, closest(listing))
        listing.join_drawings()
        return listing, figures

    @property
    def findings(self) -> list[NumberedFinding]:
        """Every finding, what needs action first."""
        return self._listed[0].findings

    @property
    def action(self) -> list[NumberedFinding]:
        """Those that need action."""
        return [view for view in self.findings if view.needs_action]

    @property
    def elements(self) -> list[ElementView]:
        """The elements that have findings."""
        return self._listed[0].elements

    @property
    def figures(self) -> Figures:
        """The drawings."""
        return self._listed[1]

    @cached_property
    def _calculations(self) -> tuple[list[Calculation], str]:
        return calculations(self.findings)

    @property
    def calculations(self) -> list[Calculation]:
        """Calculations written out, in the order of the findings."""
        return self._calculations[0]

    @property
    def left_out(self) -> str:
        """Which calculations are not written out, in words."""
        return self._calculations[1]

    @cached_property
    def schedules(self) -> list[Schedule]:
        """The schedules that have any rows."""
        return schedules(self.report, self._listed[0])

    # -- the rulebook ----------------------------------------------------------------------

    @cached_property
    def amendments(self) -> list[AmendmentView]:
        """Every amendment that was read, in order."""
        return amendment_views(self.report)

    @cached_property
    def _rules(self) -> tuple[list[AppliedRule], list[tuple[str, str]]]:
        return rules_applied(self.report)

    @property
    def rules(self) -> list[AppliedRule]:
        """Rules that judged something."""
        return self._rules[0]

    @property
    def idle_rules(self) -> list[tuple[str, str]]:
        """Id and title of rules that met nothing to judge."""
        return self._rules[1]

    @cached_property
    def tables(self) -> list[TableView]:
        """The tables that the rules use."""
        return table_views(self.report)

    @property
    def from_memory(self) -> str:
        """How much rests on memory, in words."""
        return from_memory(self.rules, self.tables)
