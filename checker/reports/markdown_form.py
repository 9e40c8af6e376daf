"""Markdown: the report as a comment on a change, what needs action first.

CommonMark with pipe tables.  Everything that comes from a file is escaped, so that no element's
name can become a link, an image or markup.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from checker.documents.errors import printable
from checker.findings.detail import Detail, Explainer
from checker.findings.finding import Finding, Report
from checker.findings.not_covered import in_brief
from checker.findings.places import source_of
from checker.findings.wording import worded

from .cautions import DEFERRAL

_MARKUP = re.compile(r"([\\`*_{}\[\]<>|~&#!$@])")
# A scheme or `www.` alone makes a link in many readers.
_LINKS = re.compile(r"(?i)(?<=[a-z])(?=://)|(?<=\bwww)(?=\.)")
_NO_BREAK = "\u2060"  # word joiner: draws nothing, and ends what looks like a link
_SECTIONS = (
    ("fail", "Failing"),
    ("open", "Open: the description lacks what the rule needs"),
    ("review", "For review: a person must decide"),
)


def render(reports: Sequence[Report]) -> str:
    """The reports one after the other."""
    return "".join(map(Stream().add, reports))


class Stream:
    """The same, report by report."""

    late = False

    def __init__(self) -> None:
        self._begun = False

    def add(self, report: Report) -> str:
        """One report, parted from the one before."""
        text = ("\n" if self._begun else "") + _report(report)
        self._begun = True
        return text

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """Nothing follows."""
        yield from lines


def _report(report: Report) -> str:
    explainer = Explainer(report.assembly, report.book.vocabulary, report.book.terms)
    lines = [*_head(report), *_counts(report)]
    for kind, title in _SECTIONS:
        found = [f for f in report.findings if f.kind == kind and not f.accepted]
        lines += _section(title, found, report, explainer)
    accepted = [f for f in report.findings if f.accepted]
    lines += _section("Accepted by a recorded decision", accepted, report, explainer)
    if report.notices:
        lines += ["## Notes", "", *(f"- {_text(notice)}" for notice in report.notices), ""]
    lines += _not_covered(report)
    lines += [*_basis(report), _text(worded(DEFERRAL, report.book.terms)), ""]
    return "\n".join(lines)


def _not_covered(report: Report) -> list[str]:
    """What the design leaves out in full, the rest in counts; a comment is no place for more."""
    said = in_brief(report)
    if not said:
        return []
    title = "## Not covered by this check"
    return [title, "", *(f"- {_text(line)}" for line in said), ""]


def _head(report: Report) -> list[str]:
    assembly = report.assembly
    title = f"# {_text(assembly.id)}" + (f": {_text(assembly.title)}" if assembly.title else "")
    facts = [f"Revision {_text(assembly.revision)}"] if assembly.revision else []
    facts.append(f"{assembly.quantity} unit" + ("s" if assembly.quantity != 1 else ""))
    facts.append(_text(report.book.edition.short))
    facts += [f"amended by {_text(a.id)}" for a in report.book.amendments if a.in_force]
    facts.append(_text(report.source.path))
    blocking = sum(f.blocking for f in report.findings)
    if not blocking:
        verdict = "No check fails and none is open."
    elif blocking == 1:
        verdict = "**1 finding stands in the way of a release.**"
    else:
        verdict = f"**{blocking} findings stand in the way of a release.**"
    return [title, "", " · ".join(facts), "", verdict, ""]


def _counts(report: Report) -> list[str]:
    words = {
        "fail": "failing",
        "open": "open",
        "review": "for review",
        "pass": "holding",
        "notApplicable": "not applicable",
        "informational": "informational",
    }
    summary = report.summary
    return [
        "| " + " | ".join(words.values()) + " | accepted |",
        "|" + " ---: |" * (len(words) + 1),
        "| "
        + " | ".join(str(summary[kind]) for kind in words)
        + f" | {sum(f.accepted for f in report.findings)} |",
        "",
    ]


def _section(title: str, found: list[Finding], report: Report, explainer: Explainer) -> list[str]:
    if not found:
        return []
    rows = [_row(f, explainer.detail(f), report) for f in found]
    return [
        f"## {title}",
        "",
        "| rule | element | measured | limit | what | place |",
        "| --- | --- | ---: | ---: | --- | --- |",
        *rows,
        "",
    ]


def _row(finding: Finding, detail: Detail, report: Report) -> str:
    what = _text(detail.message)
    if detail.mend:
        what += f"<br>Mend: {_text(detail.mend)}"
    if finding.decision is not None:
        what += f"<br>Decision: {_text(str(finding.decision))}"
    cells = [
        f"{_text(finding.rule.id)}<br>{_text(finding.citation)}",
        f"{finding.subject_class} {_text(finding.subject_id)}",
        _text(detail.measure.text) if detail.measure is not None else "",
        f"{'≥' if finding.at_least else '≤'} {_text(detail.limit.text)}" if detail.limit else "",
        what,
        f"{_text(source_of(finding.mark, report.source).path)}:{finding.mark.line}",
    ]
    return "| " + " | ".join(cells) + " |"


def _basis(report: Report) -> list[str]:
    book = report.book
    rows = [
        ("design", report.source.path, report.source.digest),
        ("rules", book.edition.edition, book.digest),
        ("tables", "", book.tables_digest),
    ]
    rows += [("amendment " + a.id, a.source.path, a.source.digest) for a in book.amendments]
    if report.decisions_source is not None:
        rows.append(("decisions", report.decisions_source.path, report.decisions_source.digest))
    return [
        "## Made from",
        "",
        "| what | file | fingerprint |",
        "| --- | --- | --- |",
        *(f"| {_text(what)} | {_text(file)} | {digest} |" for what, file, digest in rows),
        "",
    ]


def _text(text: str) -> str:
    """Text of a file as text and nothing else, on one line."""
    line = " ".join(printable(text.replace("\n", " ")).split())
    return _LINKS.sub(_NO_BREAK, _MARKUP.sub(r"\\\1", line))
