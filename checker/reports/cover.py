"""What stands before the findings of a report: facts, verdict, what it covers, decisions."""

from __future__ import annotations

from dataclasses import dataclass

from checker.documents.missing import known
from checker.findings.finding import Report
from checker.findings.not_covered import not_covered


@dataclass(frozen=True, slots=True)
class NotCovered:
    """What the check does not cover, as rows of texts; see ``findings.not_covered``.

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


def facts(report: Report) -> list[tuple[str, str]]:
    """Names with what they are; a text may have several lines."""
    assembly, book = report.assembly, report.book
    basis = assembly.basis
    authority = basis.authority
    amendments = [
        f"{a.id}: {a.file.title} ({a.file.reference})" for a in book.amendments if a.in_force
    ]
    return [
        ("Assembly", assembly.id),
        ("Revision", assembly.revision or "not stated"),
        ("Quantity", str(assembly.quantity)),
        ("Project", assembly.project or "not stated"),
        ("NEC edition", f"{book.edition.title}"),
        ("Amendments", "\n".join(amendments) or "none"),
        ("Rules as of", report.judged_on or "no date stated"),
        ("Permit date", str(basis.permit_date) if known(basis.permit_date) else "not stated"),
        ("Authority", authority.name or "not stated"),
        ("AHJ reference", authority.reference or "not stated"),
        ("Report date", report.date or "not stated"),
        ("Source file", report.source.path),
        *[
            ("Decisions as of", decision.as_of or "no date stated")
            for decision in report.decisions[:1]
        ],
    ]


def fingerprints(report: Report) -> list[tuple[str, str, str]]:
    """What the report was made from: what, its name, its fingerprint."""
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


def verdict(report: Report) -> list[str]:
    """What blocks release, in plain words."""
    blocking = sum(f.blocking for f in report.findings)
    accepted = sum(f.accepted for f in report.findings)
    reviews = sum(f.kind == "review" and not f.accepted for f in report.findings)
    quantity = report.assembly.quantity
    lines = []
    if blocking:
        many = "findings block" if blocking > 1 else "finding blocks"
        text = f"{blocking} {many} release"
        if quantity > 1:
            text += f"; {quantity} units: {blocking * quantity} occurrences"
        lines.append(text + ".")
    else:
        lines.append("No failed or open checks.")
    if reviews:
        many = "findings need" if reviews > 1 else "finding needs"
        lines.append(f"{reviews} {many} review.")
    if accepted:
        many = "findings are" if accepted > 1 else "finding is"
        lines.append(f"{accepted} {many} accepted by a recorded decision.")
    return lines


def not_covered_rows(report: Report) -> NotCovered:
    """What the check does not cover."""
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


def decision_rows(report: Report) -> list[DecisionRow]:
    """Every recorded decision."""
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
