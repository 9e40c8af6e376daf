"""What a submittal report holds, made once from a report; the PDF and HTML forms only lay it out.

Every text here is plain text as people read it.  Nothing is escaped: that is each form's own task.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from checker.documents.missing import known
from checker.findings.brief import says_enough
from checker.findings.finding import Report
from checker.findings.not_covered import not_covered
from checker.findings.wording import worded

from .cautions import CAUTIONS, DEFERRAL

if TYPE_CHECKING:
    from .appendix import AmendmentRow, RuleRow, TableRow
    from .figures import Figures
    from .schedules import Schedule
    from .sheets import Sheet

#: Kinds of findings in the order of a report, with the words that stand for them.
KINDS = {
    "fail": "does not hold",
    "open": "open",
    "review": "for a person",
    "informational": "for information",
    "pass": "holds",
    "notApplicable": "does not apply",
}
_SEVERAL = {"fail": "do not hold", "pass": "hold", "notApplicable": "do not apply"}
ACTION = ("fail", "open", "review")


def counted(kind: str, number: int) -> str:
    """What follows the number of findings of a kind."""
    return KINDS[kind] if number == 1 else _SEVERAL.get(kind, KINDS[kind])


@dataclass(frozen=True, slots=True)
class Entry:
    """A finding as it is listed.

    number: counts from 1, what needs action first
    citation: the section of the element; of_rule: those of the rule
    element: index in the content's elements
    relation: ``at most`` or ``at least``
    graded: whether measure and limit are amounts that can be close to each other
    place: where it is described: file, line and column
    placed: where the element was placed, in words
    alike: number of the first entry that says the same of another element, at the same place
    decision: the recorded decision in words, with what became of it
    """

    number: int
    kind: str
    rule: str
    title: str
    citation: str
    of_rule: str
    element: int
    message: str
    mend: str
    measure: str
    limit: str
    relation: str
    ratio: float | None
    graded: bool
    place: str
    decision: str
    accepted: bool
    placed: str = ""
    alike: int = 0

    @property
    def needs_action(self) -> bool:
        """Whether it is listed among what needs action."""
        return self.kind in ACTION

    @property
    def against(self) -> str:
        """Measure against limit in words, with their quotient where it means anything.

        "" where there are none, and where they would say less than the message.
        """
        if not says_enough(self.measure, self.limit):
            return ""
        words = f"{self.measure or 'not known'}, {self.relation} {self.limit}"
        if not self.graded or not self.ratio:
            return words
        share = 1 / self.ratio if self.relation == "at least" else self.ratio
        return f"{words} ({100 * share:.0f} %)"

    @property
    def bound(self) -> str:
        """The limit with the side on which it lies; "" where there is none."""
        return f"{'≥' if self.relation == 'at least' else '≤'} {self.limit}" if self.limit else ""


@dataclass(slots=True)
class Element:
    """An element with findings.

    kind: the first of its findings' kinds in the order of a report
    numbers: all its findings
    drawn: index of the element whose drawing shows it; its own, or a run's first raceway
    """

    index: int
    name: str
    id: str
    kind: str = "notApplicable"
    numbers: list[int] = field(default_factory=list)
    drawn: int | None = None

    @property
    def label(self) -> str:
        """Class and id."""
        return f"{self.name.replace('_', ' ')} {self.id}"


@dataclass(frozen=True, slots=True)
class Content:
    """The whole report."""

    head: str
    title: str
    date: str
    facts: list[tuple[str, str]]
    fingerprints: list[tuple[str, str, str]]
    summary: dict[str, int]
    verdict: list[str]
    cautions: list[str]
    deferral: str
    notices: list[str]
    not_covered: NotCovered
    entries: list[Entry]
    elements: list[Element]
    sheets: list[Sheet]
    left_out: str
    decisions: list[DecisionRow]
    schedules: list[Schedule]
    amendments: list[AmendmentRow]
    rules: list[RuleRow]
    idle_rules: list[tuple[str, str]]
    tables: list[TableRow]
    from_memory: str
    figures: Figures


@dataclass(frozen=True, slots=True)
class NotCovered:
    """What the check does not cover, as rows of texts; see ``checker.findings.not_covered``.

    left_out: topic, reason, by.  requirements: section, requirement, what is not checked, who
    decides.  site: what, name, work.
    """

    left_out: list[tuple[str, str, str]]
    requirements: list[tuple[str, str, str, str]]
    site: list[tuple[str, str, str]]


@dataclass(frozen=True, slots=True)
class DecisionRow:
    """A recorded decision and what became of it."""

    rule: str
    element: str
    disposition: str
    outcome: str
    by: str
    until: str
    reason: str
    place: str


def build_content(report: Report, data: dict[str, Any] | None = None) -> Content:
    """Everything that the forms show; ``data`` is the report as JSON data where there is one."""
    from .appendix import amendment_rows, from_memory, rule_rows, table_rows
    from .figures import draw_all
    from .listing import closest, list_findings
    from .schedules import schedules
    from .sheets import make_sheets

    listing = list_findings(report, data)
    figures = draw_all(report, listing.marks, listing.by_key, closest(listing))
    listing.join_drawings()
    sheets, left_out = make_sheets(report, listing)
    rules, idle = rule_rows(report, listing.entries)
    tables = table_rows(report)
    terms = report.book.terms
    return Content(
        head=_head(report),
        title=report.assembly.title or "Assembly " + report.assembly.id,
        date=report.date,
        facts=_facts(report),
        fingerprints=_fingerprints(report),
        summary=report.summary,
        verdict=_verdict(report),
        cautions=[worded(text, terms) for text in CAUTIONS],
        deferral=worded(DEFERRAL, terms),
        notices=list(report.notices),
        not_covered=_not_covered(report),
        entries=listing.entries,
        elements=listing.elements,
        sheets=sheets,
        left_out=left_out,
        decisions=_decisions(report),
        schedules=schedules(report, listing),
        amendments=amendment_rows(report),
        rules=rules,
        idle_rules=idle,
        tables=tables,
        from_memory=from_memory(rules, tables),
        figures=figures,
    )


def _head(report: Report) -> str:
    assembly = report.assembly
    return assembly.id + (f", revision {assembly.revision}" if assembly.revision else "")


def _facts(report: Report) -> list[tuple[str, str]]:
    assembly, book = report.assembly, report.book
    basis = assembly.basis
    authority = basis.authority
    amendments = [
        f"{a.id}: {a.file.title} ({a.file.reference})" for a in book.amendments if a.in_force
    ]
    return [
        ("Assembly", assembly.id),
        ("Revision", assembly.revision or "not stated"),
        ("Quantity", f"{assembly.quantity} built alike" if assembly.quantity != 1 else "1"),
        ("Project", assembly.project or "not stated"),
        ("Judged on", f"{book.edition.title}"),
        ("Amendments", "\n".join(amendments) or "none"),
        ("Rules as of", report.judged_on or "no date stated"),
        ("Permit date", str(basis.permit_date) if known(basis.permit_date) else "not stated"),
        ("Authority", authority.name or "not stated"),
        ("Its reference", authority.reference or "not stated"),
        ("Report date", report.date or "not stated"),
        ("Described in", report.source.path),
        *[
            ("Decisions as of", decision.as_of or "no date stated")
            for decision in report.decisions[:1]
        ],
    ]


def _fingerprints(report: Report) -> list[tuple[str, str, str]]:
    book = report.book
    rows = [
        ("design", report.source.path, report.source.digest),
        ("rules", f"{len(book.rules)} rules of {book.edition.short}", book.digest),
        ("tables", f"{len(book.tables)} tables", book.tables_digest),
    ]
    rows += [("amendment", a.source.path, a.source.digest) for a in book.amendments]
    if report.decisions_source is not None:
        source = report.decisions_source
        rows.append(("decisions", source.path, source.digest))
    return rows


def _verdict(report: Report) -> list[str]:
    """What stands in the way of a release, in plain words."""
    blocking = sum(f.blocking for f in report.findings)
    accepted = sum(f.accepted for f in report.findings)
    reviews = sum(f.kind == "review" and not f.accepted for f in report.findings)
    quantity = report.assembly.quantity
    lines = []
    if blocking:
        many = "findings stand" if blocking > 1 else "finding stands"
        text = f"{blocking} {many} in the way of a release"
        if quantity > 1:
            text += f"; built {quantity} times, that is {blocking * quantity} places"
        lines.append(text + ".")
    else:
        lines.append("No check fails and none is open.")
    if reviews:
        many = "findings need" if reviews > 1 else "finding needs"
        lines.append(f"{reviews} {many} the decision of a person.")
    if accepted:
        many = "findings are" if accepted > 1 else "finding is"
        lines.append(f"{accepted} {many} accepted by a recorded decision.")
    return lines


def _not_covered(report: Report) -> NotCovered:
    data = not_covered(report.assembly, report.book)
    return NotCovered(
        left_out=[
            (
                row["topic"].replace("_", " ") + (", in part" if row["partly_described"] else ""),
                row["reason"],
                row["by"],
            )
            for row in data["left_out"]
        ],
        requirements=[
            (
                row["section"],
                row["requirement"],
                row["missing"] if row["state"] == "partly" else "no rule checks it",
                row["decided_by"],
            )
            for row in data["requirements"]
        ],
        site=[(row["class"], row["id"], row["work"]) for row in data["site"]],
    )


def _decisions(report: Report) -> list[DecisionRow]:
    rows = []
    for judged in report.decisions:
        made = judged.decision
        outcome = "counts" if judged.applies else "does not count"
        if judged.why:
            outcome += f": {judged.why}"
        rows.append(
            DecisionRow(
                rule=made.rule,
                element=made.element,
                disposition=judged.disposition,
                outcome=outcome,
                by=judged.by,
                until=made.expires or "no end stated",
                reason=made.reason,
                place=f"{judged.file}:{judged.mark.line}",
            )
        )
    return rows
