"""JUnit XML: one suite for each assembly, one case for each finding that applies.

The form has three outcomes and no owner.  What blocks a release is a failure: ``fail``, and
``open`` as well, since a check that skips what nobody stated would turn a gap into a green light.
What a person decides (``review``, an accepted finding) is skipped, with the reason; a rule that
could not be evaluated is an error.  Rules that do not apply have no case; their number is a
property of the suite.  ``time`` is always 0: reports hold no clock.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from checker.documents.unseen import xml_escaped
from checker.findings.finding import Finding, Report
from checker.findings.not_covered import in_brief
from checker.findings.view import FindingView, Views
from checker.findings.wording import worded

from . import form
from .cautions import CAUTION
from .xml_text import block, tag


class Form(form.Form):
    """The document, report by report; the totals of all stand at its head."""

    late = True

    def __init__(self, options: form.Options) -> None:
        super().__init__(options)
        self._totals = [0, 0, 0, 0]

    def add(self, report: Report) -> str:
        """The suite of one report."""
        counts, lines = _suite(report)
        self._totals = [total + count for total, count in zip(self._totals, counts, strict=True)]
        return xml_escaped("\n".join(lines)) + "\n"

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """The whole document; ``lines`` are those of all suites."""
        head = tag("testsuites", {"name": "pullpoint", **_counts(self._totals)})
        yield f'<?xml version="1.0" encoding="UTF-8"?>\n<{head}>\n'
        yield from lines
        yield "</testsuites>\n"


def _suite(report: Report) -> tuple[tuple[int, int, int, int], list[str]]:
    """Numbers of tests, failures, errors and skipped, and the lines of one suite."""
    assembly = report.assembly
    cases: list[str] = []
    tests = 0
    outcomes = {"failure": 0, "error": 0, "skipped": 0}
    for view in Views.of(report).all(report):
        if view.kind == "notApplicable":
            continue
        tests += 1
        outcome, lines = _case(view, report)
        cases += lines
        if outcome:
            outcomes[outcome] += 1
    counts = (tests, outcomes["failure"], outcomes["error"], outcomes["skipped"])
    name = " ".join(filter(None, (assembly.id, assembly.revision and f"rev {assembly.revision}")))
    head = {"name": name, **_counts(counts), "file": report.source.path}
    return counts, [
        f" <{tag('testsuite', head)}>",
        "  <properties>",
        *(
            f"   <{tag('property', {'name': key, 'value': value})}/>"
            for key, value in _properties(report)
        ),
        "  </properties>",
        *cases,
        *(block("system-out", "\n".join(report.notices), " ") if report.notices else ()),
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


def _case(view: FindingView, report: Report) -> tuple[str, list[str]]:
    """Which of failure, error and skipped the case is ("" for none), and its lines."""
    head = tag(
        "testcase",
        {
            "classname": f"{report.assembly.id}.{view.topic}",
            "name": f"{view.rule} {view.subject_class} {view.subject_id}",
            "time": "0",
            "file": view.file,
            "line": str(view.line),
        },
    )
    outcome = _outcome(view.finding)
    if not outcome:
        return "", [f"  <{head}/>"]
    message = view.message
    if outcome == "skipped":
        message = f"{view.kind}: {message}"
        message += f" ({view.decision})" if view.decision else " (needs review)"
        return outcome, [
            f"  <{head}>",
            f"   <{tag('skipped', {'message': message})}/>",
            "  </testcase>",
        ]
    said = {"message": message, "type": "defect" if outcome == "error" else view.kind}
    return outcome, [
        f"  <{head}>",
        *block(tag(outcome, said), _body(view, report), "  "),
        "  </testcase>",
    ]


def _outcome(finding: Finding) -> str:
    if finding.defect:
        return "error"
    if finding.blocking:
        return "failure"
    return "skipped" if finding.kind in ("fail", "review") else ""


def _body(view: FindingView, report: Report) -> str:
    lines = [f"{view.where}: {view.message}"]
    if view.measure and view.limit:
        lines.append(f"measured {view.measure}, {view.relation} {view.limit}")
    lines.append(view.citation)
    lines += [f"{step.label}: {step.text}" for step in view.steps]
    lines += [f"fix: {fix}" for fix in view.fixes]
    if view.decision:
        lines.append(f"decision: {view.decision}")
    return "\n".join(lines)


def _counts(counts: Sequence[int]) -> dict[str, str]:
    names = ("tests", "failures", "errors", "skipped")
    return {**{n: str(c) for n, c in zip(names, counts, strict=True)}, "time": "0"}
