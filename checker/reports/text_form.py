"""The report on a terminal: what needs action first, where it stands, and how to fix it."""

from __future__ import annotations

from checker.documents.errors import Mark, printable
from checker.documents.source import Source
from checker.documents.wrapping import wrapped
from checker.findings.finding import Finding, Report
from checker.findings.kinds import ACTION, BLOCKING, COUNTED, KINDS, RANK
from checker.findings.not_covered import in_brief
from checker.findings.places import names_of
from checker.findings.view import FindingView, Views

from . import form
from .style import Style

_INDENT = "       "


def render(report: Report, style: Style, *, show: str = "fail") -> str:
    """The whole report as text; ``show`` is ``fail`` (what needs action) or ``all``."""
    lines = _head(report, style)
    if show == "all":
        chosen = list(report.findings)
    elif report.decisions:
        chosen = [f for f in report.findings if f.kind in ACTION or f.decision]
    else:
        chosen = [f for f in report.findings.notable if f.kind in ACTION]
    shown = sorted(chosen, key=lambda f: (RANK[f.kind], f.accepted))
    lines += _findings(report, shown, style)
    for notice in report.notices:
        lines += _labelled("note: ", printable(notice), style)
    if report.notices:
        lines.append("")
    lines += _not_covered(report, style)
    lines += _summary(report, shown, style)
    return "\n".join(lines) + "\n"


class Form(form.Form):
    """The reports one after the other."""

    def add(self, report: Report) -> str:
        """One report."""
        text = render(report, self.options.style or Style(), show=self.options.show)
        return text + "\n" if self.options.several else text


def _findings(report: Report, shown: list[Finding], style: Style) -> list[str]:
    if not shown:
        return []
    views = Views.of(report)
    # Findings of one rule that miss the same thing, or report the same of one place of the file,
    # are reported once, with every element.
    blocks: dict[object, list[FindingView]] = {}
    for number, finding in enumerate(shown):
        view = views.view(finding)
        blocks.setdefault(view.alike or number, []).append(view)
    lines: list[str] = []
    for found in blocks.values():
        if found[0].needs_action:
            lines += _full(found, report.source, style)
        else:
            lines += _short(found[0], style)
    return lines


def _not_covered(report: Report, style: Style) -> list[str]:
    """What the check does not cover, in a few lines; other forms list all of it."""
    said = in_brief(report)
    if not said:
        return []
    title = "Not covered by this check (`pullpoint report` lists all of it):"
    lines = [style.bold(line) for line in wrapped(title, style.width)]
    for line in said:
        lines += wrapped(printable(line), style.width, "  ", "    ")
    return [*lines, ""]


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
    if len(title) + 2 > style.width:
        lines = [style.bold(line) for line in wrapped(title, style.width)]
        lines += wrapped(" · ".join(facts), style.width)
    else:
        lines = _labelled(title + "  ", " · ".join(facts), style, "")
    return [*lines, printable(report.source.path), ""]


def _labelled(label: str, text: str, style: Style, follow: str | None = None) -> list[str]:
    """A text in lines, after a label in bold."""
    first, *rest = wrapped(text, style.width, label, follow)
    return [style.bold(label) + first[len(label) :], *rest]


def _full(found: list[FindingView], main: Source, style: Style) -> list[str]:
    """What needs action; several findings are those of which the same is reported."""
    view = found[0]
    word = view.words.short.ljust(6)
    accepted = " (accepted)" if view.accepted else ""
    elements = printable(names_of([v.finding for v in found])) + accepted
    lead = f"{word} {view.rule}  {view.subject_class} "
    first, *rest = wrapped(elements, style.width, lead, _INDENT)
    lines = [
        f"{style.kind(view.kind, word)} {style.bold(view.rule)}"
        + first[len(word) + 1 + len(view.rule) :],
        *rest,
        *wrapped(printable(view.message), style.width, _INDENT),
    ]
    cited = {v.citation for v in found}
    against = _against(view)
    citation = f"[{printable(view.citation if len(cited) == 1 else view.rule_citation)}]"
    if against and len(_INDENT + against + citation) + 3 > style.width:
        lines += wrapped(against, style.width, _INDENT)
    elif against:
        citation = f"{against}   {citation}"
    lines += wrapped(citation, style.width, _INDENT)
    lines += _excerpt(view.source, view.finding.mark, main, style)
    if view.placed:
        more = f", and {len(found) - 1} more" if len(found) > 1 else ""
        lines += wrapped(printable(view.placed) + more, style.width, _INDENT)
    for fix in view.fixes:
        lines += _labelled(_INDENT + "fix: ", printable(fix), style, _INDENT)
    if view.decision:
        lines += wrapped(f"decision: {printable(view.decision)}", style.width, _INDENT)
    lines.append("")
    return lines


def _against(view: FindingView) -> str:
    """Measure against limit, and their ratio where they are numbers; "" where it says nothing."""
    return view.against if view.measure else ""


def _excerpt(source: Source, mark: Mark, main: Source, style: Style) -> list[str]:
    line, column = mark
    text = source.line(line).rstrip()
    if not text:
        return []
    number = f"{line:>5} | "
    room = style.width - len(number)
    start = 0
    if len(text) > room:
        start = min(max(0, column - 1 - room // 2), len(text) - room + 2)
    lead = "…" if start else ""
    end = start + room - len(lead)
    tail = "…" if end < len(text) else ""
    shown = text[start : end - len(tail)]
    caret = " " * (len(lead) + len(printable(shown[: column - 1 - start]))) + "^"
    named = [style.dim(f"      | {printable(source.path)}")] if source.path != main.path else []
    return [
        *named,
        style.dim(number) + lead + printable(shown) + tail,
        style.dim("      | ") + caret,
    ]


def _short(view: FindingView, style: Style) -> list[str]:
    word = view.words.short.ljust(6)
    lead = f"{word} {view.rule}  {view.subject_class} {printable(view.subject_id)}: "
    first, *rest = wrapped(printable(view.message), style.width, lead, _INDENT)
    return [style.kind(view.kind, word) + first[len(word) :], *rest]


def _summary(report: Report, shown: list[Finding], style: Style) -> list[str]:
    lines = _counts(report, style)
    # What blocks or was decided upon is shown, whatever else is.
    blocking = sum(f.blocking for f in shown)
    accepted = sum(f.accepted for f in shown)
    quantity = report.assembly.quantity
    if accepted:
        lines.append(f"{accepted} accepted by a recorded decision")
    if blocking:
        lines += wrapped(
            f"{blocking} finding"
            + ("s block release" if blocking > 1 else " blocks release")
            + (f"; {quantity} units: {blocking * quantity} occurrences" if quantity > 1 else ""),
            style.width,
        )
    else:
        lines.append("no failed or open checks")
    term = report.book.terms.get("authority having jurisdiction", "authority having jurisdiction")
    deference = (
        f"On {report.book.edition.short} and the amendments named. The adopted code and "
        f"the {printable(term)} decide."
    )
    return [*lines, *map(style.dim, wrapped(deference, style.width))]


def _counts(report: Report, style: Style) -> list[str]:
    """How many findings there are of each kind, in the colors of the kinds."""
    counts = report.summary
    parts = [
        (kind if counts[kind] else "pass", f"{counts[kind]} {KINDS[kind].count}")
        for kind in COUNTED
        if counts[kind] or kind in BLOCKING
    ]
    plain = ", ".join(words for _, words in parts) + f"  ({len(report.book.rules)} rules)"
    colored = ", ".join(style.kind(*part) for part in parts) + plain[plain.index("  (") :]
    return (
        [colored]
        if len(plain) <= style.width
        else [
            *(style.kind(*part) for part in parts),
            plain[plain.index("  (") :].strip(),
        ]
    )
