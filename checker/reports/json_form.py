"""The JSON report: the contract's form, stable, every finding in it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

from checker.documents.indented import indented
from checker.documents.unseen import json_escaped
from checker.findings.detail import Explainer
from checker.findings.finding import Finding, Report
from checker.findings.not_covered import not_covered
from checker.findings.plain import plain_amendments, plain_decision, plain_facts, plain_finding
from checker.findings.wording import worded

from .cautions import CAUTION


def report_object(report: Report) -> dict[str, Any]:
    """The whole report as plain data."""
    assembly, book = report.assembly, report.book
    facts = plain_facts(assembly, report.findings)
    explainer = Explainer(assembly, book.vocabulary, book.terms)
    return {
        "format": "pullpoint-report",
        "version": 1,
        "assembly": {
            "id": assembly.id,
            "title": facts["title"],
            "revision": assembly.revision,
            "quantity": assembly.quantity,
            "project": facts["project"],
        },
        "basis": {
            "edition": book.edition.edition,
            "amendments": plain_amendments(book),
            "judged_on": report.judged_on or None,
            "decisions_file": report.decisions_source.path if report.decisions_source else None,
            "permit_date": facts["permit date"],
            "authority": facts["authority"],
            "fingerprints": fingerprints(report),
            "rule_fingerprints": {rule.id: rule.digest for rule in book.rules},
            "table_fingerprints": {name: book.tables[name].digest for name in used_tables(report)},
        },
        "file": report.source.path,
        "date": report.date or None,
        "caution": worded(CAUTION, book.terms),
        "summary": report.summary,
        "units": facts["units"],
        "notices": list(report.notices),
        "not_covered": not_covered(assembly, book),
        "decisions": [plain_decision(decision) for decision in report.decisions],
        "findings": [finding_object(f, report, explainer) for f in report.findings],
    }


def fingerprints(report: Report) -> dict[str, Any]:
    """What the report was made from, each as sha256."""
    book = report.book
    return {
        "design": report.source.digest,
        "rules": book.digest,
        "tables": book.tables_digest,
        "amendments": {a.id: a.source.digest for a in book.amendments},
        "decisions": report.decisions_source.digest if report.decisions_source else None,
    }


def used_tables(report: Report) -> list[str]:
    """The tables that the rules in force look into."""
    used = {t for rule in report.book.rules for form in rule.forms.values() for t in form.tables}
    return sorted(used)


def finding_object(finding: Finding, report: Report, explainer: Explainer) -> dict[str, Any]:
    """One finding as plain data."""
    return plain_finding(finding, report.source.path, explainer)


def compact(report: Report) -> str:
    """The report on one line."""
    return json_escaped(
        json.dumps(report_object(report), ensure_ascii=False, separators=(",", ":"))
    )


class Stream:
    """The reports one by one; ``several`` says whether there is more than one."""

    late = False

    def __init__(self, several: bool) -> None:
        self._several = several

    def add(self, report: Report) -> str:
        """One report."""
        return compact(report) + "\n" if self._several else render([report])

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """Nothing follows."""
        yield from lines


def render(reports: list[Report]) -> str:
    """One report as an indented object; several as one compact report a line."""
    if len(reports) == 1:
        return json_escaped(indented(report_object(reports[0]))) + "\n"
    return "".join(compact(report) + "\n" for report in reports)
