"""One finding's calculation sheet as text."""

from __future__ import annotations

import textwrap

from checker.documents.errors import printable
from checker.findings.detail import Detail
from checker.findings.finding import Finding, Report

from .style import Style

_WIDTH = 100


def render(finding: Finding, detail: Detail, report: Report, style: Style) -> str:
    """The sheet: requirement, every step with numbers and units, measure against limit."""
    mark = finding.mark
    lines = [
        style.bold(f"{finding.rule.id}  {finding.subject_class} {printable(finding.subject_id)}"),
        printable(finding.rule.title),
        f"{printable(finding.rule.citation)}   "
        f"{printable(report.source.path)}:{mark.line}:{mark.column}",
        "",
    ]
    for number, step in enumerate(detail.steps, 1):
        lines.append(
            f"{number:>3}. {style.bold(step.name)}" + (f": {step.note}" if step.note else "")
        )
        lines += _wrapped(printable(step.text), "       ")
    if detail.steps:
        lines.append("")
    if detail.measure is not None and detail.limit is not None:
        case = finding.case
        relation = "at least" if case is not None and case.at_least else "at most"
        lines.append(f"measure {detail.measure.text}, required {relation} {detail.limit.text}")
    lines.append(f"{style.kind(finding.kind, finding.kind)}: {printable(detail.message)}")
    if detail.mend:
        lines += _wrapped(printable(detail.mend), "mend: ")
    return "\n".join(lines) + "\n"


def _wrapped(text: str, lead: str) -> list[str]:
    return textwrap.wrap(
        text, _WIDTH, initial_indent=lead, subsequent_indent="       ", break_long_words=False
    ) or [lead]
