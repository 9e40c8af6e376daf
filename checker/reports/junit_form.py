"""JUnit XML: one suite for each assembly, one case for each finding that applies.

The form has three outcomes and no owner.  What blocks a release is a failure: ``fail``, and
``open`` as well, since a check that skips what nobody stated would turn a gap into a green light.
What a person decides (``review``, an accepted finding) is skipped, with the reason; a rule that
could not be evaluated is an error.  Rules that do not apply have no case; their number is a
property of the suite.  ``time`` is always 0: reports hold no clock.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from checker.documents.unseen import xml_escaped
from checker.findings.detail import Detail, Explainer
from checker.findings.finding import Finding, Report
from checker.findings.not_covered import in_brief
from checker.findings.places import source_of
from checker.findings.wording import worded

from .cautions import CAUTION

# What XML 1.0 §2.2 does not let into a document, escaped or not.
_FORBIDDEN = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_TEXT = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", "\r": "&#13;"})
_QUOTED = str.maketrans(
    {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"}
    | {"\t": "&#9;", "\n": "&#10;", "\r": "&#13;"}
)


def render(reports: Sequence[Report]) -> str:
    """The reports as one document."""
    stream = Stream()
    return "".join(stream.rest([stream.add(report) for report in reports]))


class Stream:
    """The document, report by report; the totals of all stand at its head."""

    late = True

    def __init__(self) -> None:
        self._totals = [0, 0, 0, 0]

    def add(self, report: Report) -> str:
        """The suite of one report."""
        counts, lines = _suite(report)
        self._totals = [total + count for total, count in zip(self._totals, counts, strict=True)]
        return xml_escaped("\n".join(lines)) + "\n"

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """The whole document; ``lines`` are those of all suites."""
        head = _tag("testsuites", {"name": "pullpoint", **_counts(self._totals)})
        yield f'<?xml version="1.0" encoding="UTF-8"?>\n<{head}>\n'
        yield from lines
        yield "</testsuites>\n"


def _suite(report: Report) -> tuple[tuple[int, int, int, int], list[str]]:
    """Numbers of tests, failures, errors and skipped, and the lines of one suite."""
    book, assembly = report.book, report.assembly
    explainer = Explainer(assembly, book.vocabulary, book.terms)
    cases: list[str] = []
    tests = 0
    outcomes = {"failure": 0, "error": 0, "skipped": 0}
    for finding in report.findings:
        if finding.kind == "notApplicable":
            continue
        tests += 1
        outcome, lines = _case(finding, report, explainer)
        cases += lines
        if outcome:
            outcomes[outcome] += 1
    counts = (tests, outcomes["failure"], outcomes["error"], outcomes["skipped"])
    name = " ".join(filter(None, (assembly.id, assembly.revision and f"rev {assembly.revision}")))
    head = {"name": name, **_counts(counts), "file": report.source.path}
    return counts, [
        f" <{_tag('testsuite', head)}>",
        "  <properties>",
        *(
            f"   <{_tag('property', {'name': key, 'value': value})}/>"
            for key, value in _properties(report)
        ),
        "  </properties>",
        *cases,
        *(_block("system-out", "\n".join(report.notices), " ") if report.notices else ()),
        " </testsuite>",
    ]


def _properties(report: Report) -> list[tuple[str, str]]:
    book = report.book
    facts = [
        ("caution", worded(CAUTION, book.terms)),
        ("title", report.assembly.title),
        ("quantity", str(report.assembly.quantity)),
        ("edition", book.edition.edition),
        ("amendments", ", ".join(a.id for a in book.amendments if a.in_force)),
        ("fingerprint.design", report.source.digest),
        ("fingerprint.rules", book.digest),
        ("fingerprint.tables", book.tables_digest),
    ]
    facts += [(f"fingerprint.amendment.{a.id}", a.source.digest) for a in book.amendments]
    if report.decisions_source is not None:
        facts.append(("fingerprint.decisions", report.decisions_source.digest))
    facts += [("not covered", line) for line in in_brief(report)]
    facts += [(f"findings.{kind}", str(count)) for kind, count in report.summary.items()]
    return facts


def _case(finding: Finding, report: Report, explainer: Explainer) -> tuple[str, list[str]]:
    """Which of failure, error and skipped the case is ("" for none), and its lines."""
    mark = finding.mark
    head = _tag(
        "testcase",
        {
            "classname": f"{report.assembly.id}.{finding.rule.draft.topic}",
            "name": f"{finding.rule.id} {finding.subject_class} {finding.subject_id}",
            "time": "0",
            "file": source_of(mark, report.source).path,
            "line": str(mark.line),
        },
    )
    outcome = _outcome(finding)
    if not outcome:
        return "", [f"  <{head}/>"]
    detail = explainer.detail(finding)
    message = detail.message
    if outcome == "skipped":
        message = f"{finding.kind}: {message}"
        message += f" ({finding.decision})" if finding.decision else " (a person must decide)"
        return outcome, [
            f"  <{head}>",
            f"   <{_tag('skipped', {'message': message})}/>",
            "  </testcase>",
        ]
    said = {"message": message, "type": "defect" if outcome == "error" else finding.kind}
    return outcome, [
        f"  <{head}>",
        *_block(_tag(outcome, said), _body(finding, detail, report), "  "),
        "  </testcase>",
    ]


def _outcome(finding: Finding) -> str:
    if finding.defect:
        return "error"
    if finding.blocking:
        return "failure"
    return "skipped" if finding.kind in ("fail", "review") else ""


def _body(finding: Finding, detail: Detail, report: Report) -> str:
    mark = finding.mark
    file = source_of(mark, report.source).path
    lines = [f"{file}:{mark.line}:{mark.column}: {detail.message}"]
    if detail.measure is not None and detail.limit is not None:
        lines.append(f"measured {detail.measure.text}, {finding.relation} {detail.limit.text}")
    lines.append(finding.citation)
    lines += [f"{step.name}: {step.text}" for step in detail.steps]
    if detail.mend:
        lines.append(f"mend: {detail.mend}")
    if finding.decision is not None:
        lines.append(f"decision: {finding.decision}")
    return "\n".join(lines)


# -- XML ------------------------------------------------------------------------------------


def _counts(counts: Sequence[int]) -> dict[str, str]:
    names = ("tests", "failures", "errors", "skipped")
    return {**{n: str(c) for n, c in zip(names, counts, strict=True)}, "time": "0"}


def _tag(name: str, attributes: dict[str, str]) -> str:
    written = [f' {key}="{_allowed(text).translate(_QUOTED)}"' for key, text in attributes.items()]
    return name + "".join(written)


def _block(head: str, text: str, indent: str) -> list[str]:
    name = head.split(" ", 1)[0]
    return [f"{indent} <{head}>{_allowed(text).translate(_TEXT)}</{name}>"]


def _allowed(text: str) -> str:
    return _FORBIDDEN.sub("", text)
