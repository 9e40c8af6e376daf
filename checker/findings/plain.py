"""A finding as plain data, as JSON reports hold it and as they are verified against."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from checker.assembly.records import Assembly
from checker.documents.missing import known
from checker.rulebook.book import Rulebook

from .detail import Amount
from .finding import Finding
from .places import plain_location
from .view import FindingView

#: Version of the report: 2 has `fixes`, a list, where 1 had one text, `mend`.
VERSION = 2


def plain_finding(view: FindingView, path: str) -> dict[str, Any]:
    """One finding of the file at ``path`` as plain data."""
    limit = plain_amount(view.limit_amount)
    decision = view.finding.decision
    return {
        "rule": view.rule,
        "title": view.title,
        "kind": view.kind,
        "subject": {"class": view.subject_class, "id": view.subject_id},
        "measure": plain_amount(view.measure_amount),
        "limit": limit,
        "relation": view.relation if limit is not None else None,
        "ratio": view.rounded_ratio,
        "citation": view.citation,
        "message": view.message,
        "fixes": list(view.fixes),
        "missing": list(view.missing),
        "steps": [
            {
                "name": step.name,
                "text": step.text,
                "value": step.value if step.value is not None else step.shown,
                "unit": step.unit if step.value is not None else "",
                "note": step.note,
                "formula": step.formula,
            }
            for step in view.steps
        ],
        "location": plain_location(view.finding, path),
        "decision": plain_decision(decision) if decision is not None else None,
    }


def plain_amount(amount: Amount | None) -> dict[str, Any] | None:
    """A measure or limit as plain data."""
    if amount is None:
        return None
    return {"value": amount.value, "unit": amount.unit, "text": amount.text}


def plain_facts(assembly: Assembly, findings: Iterable[Finding]) -> dict[str, Any]:
    """What a report says of the assembly beside its findings, by name."""
    basis, blocking = assembly.basis, sum(f.blocking for f in findings)
    return {
        "title": assembly.title,
        "project": assembly.project,
        "permit date": basis.permit_date if known(basis.permit_date) else None,
        "authority": {"name": basis.authority.name, "reference": basis.authority.reference},
        "units": {
            "quantity": assembly.quantity,
            "blocking": blocking,
            "affected": assembly.quantity if blocking else 0,
        },
    }


def plain_amendments(book: Rulebook) -> list[dict[str, Any]]:
    """The amendments of a report, in force or not."""
    return [
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
    ]


def plain_decision(decision: Any) -> Any:
    """A decision as plain data, where it can say itself so."""
    give = getattr(decision, "to_dict", None)
    return give() if give is not None else decision
