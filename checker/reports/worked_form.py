"""One finding's calculation sheet as text."""

from __future__ import annotations

from checker.documents.errors import printable
from checker.documents.wrapping import wrapped
from checker.findings.finding import Report
from checker.findings.view import FindingView

from .style import Style

_INDENT = "       "


def render(view: FindingView, report: Report, style: Style) -> str:
    """The sheet: requirement, every step with numbers and units, measure against limit."""
    detail, width = view.detail, style.width
    where = printable(view.where + (f", {view.placed}" if view.placed else ""))
    lines = [
        style.bold(f"{view.rule}  {view.subject_class} {printable(view.subject_id)}"),
        *wrapped(printable(view.title), width),
        *wrapped(f"{printable(view.citation)}   {where}", width),
        "",
    ]
    for number, step in enumerate(detail.steps, 1):
        first, *rest = wrapped(
            f"{step.label}: {step.note}" if step.note else step.label, width, f"{number:>3}. "
        )
        named = 5 + len(step.label)
        lines += [first[:5] + style.bold(step.label) + first[named:], *rest]
        lines += wrapped(printable(step.text), width, _INDENT)
    if detail.steps:
        lines.append("")
    if detail.measure is not None and detail.limit is not None:
        measure = f"measure {detail.measure.text}, required {view.relation} {detail.limit.text}"
        lines += wrapped(measure, width, "", _INDENT)
    lead = f"{view.kind}: "
    first, *rest = wrapped(printable(detail.message), width, lead, _INDENT)
    lines += [style.kind(view.kind, view.kind) + first[len(view.kind) :], *rest]
    for fix in detail.fixes:
        lines += wrapped(printable(fix), width, "fix: ", _INDENT)
    return "\n".join(lines) + "\n"
