"""The report on a terminal: what needs action first, where it stands, and what would mend it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checker.documents.errors import Mark, printable
from checker.documents.source import Source
from checker.documents.wrapping import wrapped
from checker.findings.brief import Brief, Briefer, says_enough
from checker.findings.finding import Finding, Report
from checker.findings.not_covered import in_brief
from checker.findings.places import alike_key, names_of, placed_words, source_of

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
_INDENT = "       "


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
        lines += _labelled("note: ", printable(notice), style)
    if report.notices:
        lines.append("")
    lines += _not_covered(report, style)
    lines += _summary(report, shown, style)
    return "\n".join(lines) + "\n"


class Stream:
    """The reports one by one; ``several`` says whether there is more than one."""

    late = False

    def __init__(self, style: Style, show: str, several: bool) -> None:
        self._style, self._show, self._several = style, show, several

    def add(self, report: Report) -> str:
        """One report."""
        text = render(report, self._style, show=self._show)
        return text + "\n" if self._several else text

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """Nothing follows."""
        yield from lines


def _findings(report: Report, shown: list[Finding], style: Style) -> list[str]:
    if not shown:
        return []
    briefer = Briefer(report)
    # Findings of one rule that lack the same thing, or say the same of one place of the file, are
    # told once, with every element.
    blocks: dict[object, tuple[list[Finding], Brief]] = {}
    for number, finding in enumerate(shown):
        brief = briefer.brief(finding)
        key = alike_key(finding, brief.message, brief.mend)
        blocks.setdefault(number if key is None else key, ([], brief))[0].append(finding)
    lines: list[str] = []
    for findings, brief in blocks.values():
        if findings[0].kind in ("pass", "notApplicable", "informational"):
            lines += _short(findings[0], brief, style)
        else:
            lines += _full(findings, brief, report.source, style)
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


def _full(findings: list[Finding], brief: Brief, main: Source, style: Style) -> list[str]:
    """What needs action; several findings are those that are open for the same reason."""
    finding = findings[0]
    rule = finding.rule
    word = _WORDS[finding.kind].ljust(6)
    accepted = " (accepted)" if finding.accepted else ""
    placed = placed_words(finding)
    elements = printable(names_of(findings)) + accepted
    lead = f"{word} {rule.id}  {finding.subject_class} "
    first, *rest = wrapped(elements, style.width, lead, _INDENT)
    lines = [
        f"{style.kind(finding.kind, word)} {style.bold(rule.id)}"
        + first[len(word) + 1 + len(rule.id) :],
        *rest,
        *wrapped(printable(brief.message), style.width, _INDENT),
    ]
    cited = {f.citation for f in findings}
    against = _against(finding, brief)
    citation = f"[{printable(finding.citation if len(cited) == 1 else rule.citation)}]"
    if against and len(_INDENT + against + citation) + 3 > style.width:
        lines += wrapped(against, style.width, _INDENT)
    elif against:
        citation = f"{against}   {citation}"
    lines += wrapped(citation, style.width, _INDENT)
    lines += _excerpt(finding.mark, main, style)
    if placed:
        more = f", and {len(findings) - 1} more" if len(findings) > 1 else ""
        lines += wrapped(printable(placed) + more, style.width, _INDENT)
    if brief.mend:
        lines += _labelled(_INDENT + "mend: ", printable(brief.mend), style, _INDENT)
    if finding.decision is not None:
        lines += wrapped(f"decision: {printable(str(finding.decision))}", style.width, _INDENT)
    lines.append("")
    return lines


def _against(finding: Finding, brief: Brief) -> str:
    """Measure against limit, and their ratio where they are numbers; "" where it says nothing."""
    if not brief.measure or not says_enough(brief.measure, brief.limit):
        return ""
    text = f"{brief.measure} of {'at least' if brief.at_least else 'at most'} {brief.limit}"
    measure, limit = finding.measure, finding.limit
    if isinstance(measure, (int, float)) and isinstance(limit, (int, float)) and limit:
        text += f" ({measure / limit:.0%})".replace("%", " %")
    return text


def _excerpt(mark: Mark, main: Source, style: Style) -> list[str]:
    line, column = mark
    source = source_of(mark, main)
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
    named = [style.dim(f"      | {printable(source.path)}")] if source is not main else []
    return [
        *named,
        style.dim(number) + lead + printable(shown) + tail,
        style.dim("      | ") + caret,
    ]


def _short(finding: Finding, brief: Brief, style: Style) -> list[str]:
    word = _WORDS[finding.kind].ljust(6)
    lead = f"{word} {finding.rule.id}  {finding.subject_class} {printable(finding.subject_id)}: "
    first, *rest = wrapped(printable(brief.message), style.width, lead, _INDENT)
    return [style.kind(finding.kind, word) + first[len(word) :], *rest]


def _summary(report: Report, shown: list[Finding], style: Style) -> list[str]:
    lines = _counts(report, style)
    # What blocks or was decided upon is shown, whatever else is.
    blocking = sum(f.blocking for f in shown)
    accepted = sum(f.accepted for f in shown)
    quantity = report.assembly.quantity
    if accepted:
        lines.append(f"{accepted} accepted by a recorded decision")
    if blocking:
        each = "each" if blocking > 1 else "it"
        lines += wrapped(
            f"{blocking} finding"
            + ("s stand" if blocking > 1 else " stands")
            + f" in the way of a release; {each} would be built {quantity} "
            + ("times" if quantity != 1 else "time")
            + (f": {blocking * quantity} places" if quantity > 1 else ""),
            style.width,
        )
    else:
        lines.append("no check fails and none is open")
    term = report.book.terms.get("authority having jurisdiction", "authority having jurisdiction")
    deference = (
        f"On {report.book.edition.short} and the amendments named. The adopted code and "
        f"the {printable(term)} decide."
    )
    return [*lines, *map(style.dim, wrapped(deference, style.width))]


def _counts(report: Report, style: Style) -> list[str]:
    """How many findings there are of each kind, in the colours of the kinds."""
    counts = report.summary
    parts = [
        (kind if counts[kind] else "pass", f"{counts[kind]} {_COUNTED[kind]}")
        for kind in ("fail", "open", "review", "pass", "notApplicable", "informational")
        if counts[kind] or kind in ("fail", "open")
    ]
    plain = ", ".join(words for _, words in parts) + f"  ({len(report.book.rules)} rules)"
    coloured = ", ".join(style.kind(*part) for part in parts) + plain[plain.index("  (") :]
    return (
        [coloured]
        if len(plain) <= style.width
        else [
            *(style.kind(*part) for part in parts),
            plain[plain.index("  (") :].strip(),
        ]
    )
