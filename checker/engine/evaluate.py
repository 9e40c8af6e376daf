"""Pairs rules with elements and evaluates them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from checker.assembly.records import SUBJECTS, Assembly
from checker.documents.missing import MissingData
from checker.findings.finding import Finding
from checker.rulebook.book import Rule, Rulebook

if TYPE_CHECKING:
    from checker.rulebook.compiled import Form

#: What a compiled rule raises where it cannot say: an unstated field, a table without an entry, a
#: calculation without a result.  The traced evaluation then says which.
_UNDECIDED = (MissingData, LookupError, ArithmeticError, ValueError)


def evaluate(book: Rulebook, assembly: Assembly) -> list[Finding]:
    """Every rule on every element of its classes, rules in the book's order."""
    findings: list[Finding] = []
    for rule in book.rules:
        for form in rule.forms.values():
            _each(rule, form, elements(assembly, form.subject), assembly, book, findings)
    return findings


def elements(assembly: Assembly, subject: str) -> tuple[Any, ...]:
    """The elements of a class, in the file's order."""
    place = SUBJECTS[subject]
    return getattr(assembly, place) if place else (assembly,)


def evaluate_rule(
    book: Rulebook, rule: Rule, subject_class: str, subject: Any, assembly: Assembly
) -> Finding:
    """One rule on one element.  KeyError where the rule is not checked on that class."""
    found: list[Finding] = []
    _each(rule, rule.forms[subject_class], (subject,), assembly, book, found)
    return found[0]


def _each(
    rule: Rule,
    form: Form,
    subjects: tuple[Any, ...],
    assembly: Assembly,
    book: Rulebook,
    findings: list[Finding],
) -> None:
    fast, outcomes, add = form.fast, form.outcomes, findings.append
    for subject in subjects:
        try:
            found = fast(subject, assembly)
        except _UNDECIDED:
            # Imported here: where nothing is missing, nothing of it is needed.
            from checker.findings.traced import trace

            add(trace(rule, form, subject, assembly, book.vocabulary))
            continue
        code = found[0]
        if code < 0:
            add(Finding(rule, form, subject, "notApplicable", found))
        else:
            kind = "pass" if found[1] else outcomes[code]
            add(Finding(rule, form, subject, kind, found))
