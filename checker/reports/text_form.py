"""The report on a terminal: what needs action first, where it stands, and what would mend it."""

from __future__ import annotations

from checker.documents.errors import printable
from checker.findings.brief import Brief, Briefer
from checker.findings.finding import Finding, Report

from .style import Style

_ACTED_ON = ("fail", "open", "review")
_ORDER = {"fail": 0, "open": 1, "review": 2, "informational": 3, "pass": 4, "notApplicable": 5}
_WORDS = {
    "fail": "FAIL",
    "open": "OPEN",
    "review": "REVIEW",
    "informational": "note",
    "pass": "pass",
    "notApplicable": "n/a",
}
_COUNTED = {
    "fail": "failing",
    "open": "open",
    "review": "for review",
    "pass": "holding",
    "notApplicable": "not applicable",
    "informational": "informational",
}
_LONGEST = 110


def render(report: Report, style: Style, *, show: str = "fail") -> str:
    """The whole report as text; ``show`` is ``fail`` (what needs action) or ``all``."""
    lines = _head(report, style)
    if show == "all":
        chosen = list(report.findings)
    elif report.decisions:
        chosen = [f for f in report.findings if f.kind in _ACTED_ON or f.decision]
    else:
        chosen = [f for f in report.findings.loud if f.kind in _ACTED_ON]
    shown = sorted(chosen, key=lambda f: (_ORDER[f.kind], f.accepted))
    lines += _findings(report, shown, style)
    for notice in report.notices:
        lines.append(style.bold("note: ") + printable(notice))
    if report.notices:
        lines.append("")
    lines += _summary(report, shown, style)
    return "\n".join(lines) + "\n"


def _findings(report: Report, shown: list[Finding], style: Style) -> list[str]:
    if not shown:
        return []
    briefer = Briefer(report)
    source = report.source.text.split("\n")
    lines: list[str] = []
    for finding in shown:
        brief = briefer.brief(finding)
        if finding.kind in ("pass", "notApplicable", "informational"):
            lines += _short(finding, brief, style)
        else:
            lines += _full(finding, brief, source, style)
    return lines


def _head(report: Report, style: Style) -> list[str]:
    assembly = report.assembly
    facts = [printable(assembly.id)]
    if assembly.revision:
        facts.append(f"revision {printable(assembly.revision)}")
    facts.append(f"{assembly.quantity} unit" + ("s" if assembly.quantity != 1 else ""))
    facts.append(report.book.edition.short)
    in_force = [a.id for a in report.book.amendments if a.in_force]
    if in_force:
        facts.append("amended by " + ", ".join(in_force))
    title = printable(assembly.title) or "Assembly"
    return [style.bold(title) + "  " + " · ".join(facts), printable(report.source.path), ""]


def _full(finding: Finding, brief: Brief, source: list[str], style: Style) -> list[str]:
    word = _WORDS[finding.kind]
    accepted = " (accepted)" if finding.accepted else ""
    head = (
        f"{style.kind(finding.kind, word.ljust(6))} {style.bold(finding.rule.id)}  "
        f"{finding.subject_class} {printable(finding.subject_id)}{accepted}"
    )
    lines = [head, f"       {printable(brief.message)}"]
    against = _against(finding, brief)
    lines.append("       " + against + f"[{printable(finding.rule.citation)}]")
    mark = finding.mark
    lines += _excerpt(source, mark.line, mark.column, style)
    if brief.mend:
        lines.append(style.bold("       mend: ") + printable(brief.mend))
    if finding.decision is not None:
        lines.append(f"       decision: {printable(str(finding.decision))}")
    lines.append("")
    return lines


def _against(finding: Finding, brief: Brief) -> str:
    """Measure against limit, and their ratio where they are numbers."""
    if not brief.measure or not brief.limit:
        return ""
    text = f"{brief.measure} of {'at least' if brief.at_least else 'at most'} {brief.limit}"
    measure, limit = finding.measure, finding.limit
    if isinstance(measure, (int, float)) and isinstance(limit, (int, float)) and limit:
        text += f" ({measure / limit:.0%})".replace("%", " %")
    return text + "   "


def _excerpt(source: list[str], line: int, column: int, style: Style) -> list[str]:
    if not 0 < line <= len(source):
        return []
    text = source[line - 1].rstrip()
    start = max(0, column - 1 - _LONGEST // 2) if len(text) > _LONGEST else 0
    shown = text[start : start + _LONGEST]
    lead = "…" if start else ""
    number = f"{line:>5} | "
    return [
        style.dim(number) + lead + printable(shown),
        style.dim("      | ")
        + " " * (len(lead) + len(printable(shown[: column - 1 - start])))
        + "^",
    ]


def _short(finding: Finding, brief: Brief, style: Style) -> list[str]:
    word = _WORDS[finding.kind]
    return [
        f"{style.kind(finding.kind, word.ljust(6))} {finding.rule.id}  {finding.subject_class} "
        f"{printable(finding.subject_id)}: {printable(brief.message)}"
    ]


def _summary(report: Report, shown: list[Finding], style: Style) -> list[str]:
    counts = report.summary
    parts = []
    for kind in ("fail", "open", "review", "pass", "notApplicable", "informational"):
        if counts[kind] or kind in ("fail", "open"):
            parts.append(
                style.kind(kind if counts[kind] else "pass", f"{counts[kind]} {_COUNTED[kind]}")
            )
    rules = len(report.book.rules)
    lines = [", ".join(parts) + f"  ({rules} rules)"]
    # What blocks or was decided upon is shown, whatever else is.
    blocking = sum(f.blocking for f in shown)
    accepted = sum(f.accepted for f in shown)
    quantity = report.assembly.quantity
    if accepted:
        lines.append(f"{accepted} accepted by a recorded decision")
    if blocking:
        each = "each" if blocking > 1 else "it"
        lines.append(
            f"{blocking} finding"
            + ("s stand" if blocking > 1 else " stands")
            + f" in the way of a release; {each} would be built {quantity} "
            + ("times" if quantity != 1 else "time")
            + (f": {blocking * quantity} places" if quantity > 1 else "")
        )
    else:
        lines.append("no check fails and none is open")
    term = report.book.terms.get("authority having jurisdiction", "authority having jurisdiction")
    lines.append(
        style.dim(
            f"On {report.book.edition.short} and the amendments named. The adopted code and "
            f"the {printable(term)} decide."
        )
    )
    return lines
