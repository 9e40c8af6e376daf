"""One finding's calculation sheet as text."""

from __future__ import annotations

from checker.documents.errors import printable
from checker.documents.wrapping import wrapped
from checker.findings.detail import Detail
from checker.findings.finding import Finding, Report
from checker.findings.places import placed_words, source_of

from .style import Style

_INDENT = "       "


def render(finding: Finding, detail: Detail, report: Report, style: Style) -> str:
    """The sheet: requirement, every step with numbers and units, measure against limit."""
    mark, width = finding.mark, style.width
    where = f"{printable(source_of(mark, report.source).path)}:{mark.line}:{mark.column}"
    placed = placed_words(finding)
    where += f", {printable(placed)}" if placed else ""
    lines = [
        style.bold(f"{finding.rule.id}  {finding.subject_class} {printable(finding.subject_id)}"),
        *wrapped(printable(finding.rule.title), width),
        *wrapped(f"{printable(finding.citation)}   {where}", width),
        "",
    ]
    for number, step in enumerate(detail.steps, 1):
        first, *rest = wrapped(
            f"{step.name}: {step.note}" if step.note else step.name, width, f"{number:>3}. "
        )
        named = 5 + len(step.name)
        lines += [first[:5] + style.bold(step.name) + first[named:], *rest]
        lines += wrapped(printable(step.text), width, _INDENT)
    if detail.steps:
        lines.append("")
    if detail.measure is not None and detail.limit is not None:
        measure = f"measure {detail.measure.text}, required {finding.relation} {detail.limit.text}"
        lines += wrapped(measure, width, "", _INDENT)
    lead = f"{finding.kind}: "
    first, *rest = wrapped(printable(detail.message), width, lead, _INDENT)
    lines += [style.kind(finding.kind, finding.kind) + first[len(finding.kind) :], *rest]
    if detail.mend:
        lines += wrapped(printable(detail.mend), width, "mend: ", _INDENT)
    return "\n".join(lines) + "\n"
