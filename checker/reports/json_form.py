"""The JSON report: the contract's form, stable, every finding in it."""

from __future__ import annotations

import json
from typing import Any

from checker.documents.missing import known
from checker.documents.unseen import json_escaped
from checker.findings.detail import Amount, Explainer
from checker.findings.finding import Finding, Report


def report_object(report: Report) -> dict[str, Any]:
    """The whole report as plain data."""
    assembly, book = report.assembly, report.book
    basis = assembly.basis
    explainer = Explainer(assembly, book.vocabulary, book.terms)
    return {
        "format": "pullpoint-report",
        "version": 1,
        "assembly": {
            "id": assembly.id,
            "title": assembly.title,
            "revision": assembly.revision,
            "quantity": assembly.quantity,
            "project": assembly.project,
        },
        "basis": {
            "edition": book.edition.edition,
            "amendments": [
                {
                    "id": a.id,
                    "title": a.file.title,
                    "jurisdiction": a.file.jurisdiction,
                    "reference": a.file.reference,
                    "effective": a.file.effective,
                    "in_force": a.in_force,
                    "note": a.note,
                    "acted": list(a.acted),
                    "file": a.source.path,
                }
                for a in book.amendments
            ],
            "judged_on": report.judged_on or None,
            "decisions_file": report.decisions_source.path if report.decisions_source else None,
            "permit_date": basis.permit_date if known(basis.permit_date) else None,
            "authority": {"name": basis.authority.name, "reference": basis.authority.reference},
            "fingerprints": fingerprints(report),
            "rule_fingerprints": {rule.id: rule.draft.digest for rule in book.rules},
            "table_fingerprints": {name: book.tables[name].digest for name in used_tables(report)},
        },
        "file": report.source.path,
        "date": report.date or None,
        "summary": report.summary,
        "units": {
            "quantity": assembly.quantity,
            "blocking": sum(f.blocking for f in report.findings),
            "affected": assembly.quantity if any(f.blocking for f in report.findings) else 0,
        },
        "notices": list(report.notices),
        "decisions": [_plain(decision) for decision in report.decisions],
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
    detail = explainer.detail(finding)
    mark = finding.mark
    ratio = finding.ratio
    return {
        "rule": finding.rule.id,
        "title": finding.rule.title,
        "kind": finding.kind,
        "subject": {"class": finding.subject_class, "id": finding.subject_id},
        "measure": _amount(detail.measure),
        "limit": _amount(detail.limit),
        "ratio": round(ratio, 6) if ratio is not None else None,
        "citation": finding.rule.citation,
        "message": detail.message,
        "mend": detail.mend,
        "missing": list(finding.gaps),
        "steps": [
            {
                "name": step.name,
                "text": step.text,
                "value": step.value if step.value is not None else step.shown,
                "unit": step.unit if step.value is not None else "",
                "note": step.note,
                "formula": step.formula,
            }
            for step in detail.steps
        ],
        "location": {"file": report.source.path, "line": mark.line, "column": mark.column},
        "decision": _plain(finding.decision) if finding.decision is not None else None,
    }


def _amount(amount: Amount | None) -> dict[str, Any] | None:
    if amount is None:
        return None
    return {"value": amount.value, "unit": amount.unit, "text": amount.text}


def _plain(decision: Any) -> Any:
    give = getattr(decision, "to_dict", None)
    return give() if give is not None else decision


def compact(report: Report) -> str:
    """The report on one line."""
    return json_escaped(
        json.dumps(report_object(report), ensure_ascii=False, separators=(",", ":"))
    )


def render(reports: list[Report]) -> str:
    """One report as an indented object; several as one compact report a line."""
    if len(reports) == 1:
        text = json.dumps(report_object(reports[0]), ensure_ascii=False, indent=1)
        return json_escaped(text) + "\n"
    return "".join(compact(report) + "\n" for report in reports)
