"""The JSON report: the contract's form, stable, every finding in it."""

from __future__ import annotations

import json
from typing import Any

from checker.documents.indented import indented
from checker.documents.unseen import json_escaped
from checker.findings.finding import Report
from checker.findings.not_covered import not_covered
from checker.findings.plain import (
    VERSION,
    plain_amendments,
    plain_decision,
    plain_facts,
    plain_finding,
)
from checker.findings.view import Views
from checker.findings.wording import worded

from . import form
from .cautions import CAUTION


def report_object(report: Report, views: Views | None = None) -> dict[str, Any]:
    """The whole report as plain data; ``views`` are those of the form that carries it."""
    assembly, book = report.assembly, report.book
    facts = plain_facts(assembly, report.findings)
    path = report.source.path
    return {
        "format": "pullpoint-report",
        "version": VERSION,
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
        "file": path,
        "date": report.date or None,
        "caution": worded(CAUTION, book.terms),
        "summary": report.summary,
        "units": facts["units"],
        "notices": list(report.notices),
        "not_covered": not_covered(assembly, book),
        "decisions": [plain_decision(decision) for decision in report.decisions],
        "findings": [plain_finding(v, path) for v in (views or Views.of(report)).all(report)],
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


def compact(report: Report) -> str:
    """The report on one line."""
    return json_escaped(
        json.dumps(report_object(report), ensure_ascii=False, separators=(",", ":"))
    )


class Form(form.Form):
    """One report as an indented object; several as one compact report a line."""

    def add(self, report: Report) -> str:
        """One report."""
        if self.options.several:
            return compact(report) + "\n"
        return json_escaped(indented(report_object(report))) + "\n"
