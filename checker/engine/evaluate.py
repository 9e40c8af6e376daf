"""Pairs rules with elements and evaluates them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from checker.assembly.records import SUBJECTS, Assembly
from checker.documents.missing import MissingData
from checker.findings.finding import Finding, excused
from checker.findings.found import APART, HOLDS, Findings, Judged
from checker.rulebook.book import Rule, Rulebook

if TYPE_CHECKING:
    from checker.rulebook.forms import Form

#: What a compiled rule raises where it cannot say: an unstated field, a table without an entry, a
#: calculation without a result.  The traced evaluation then says which.
_UNDECIDED = (MissingData, LookupError, ArithmeticError, ValueError)


def evaluate(book: Rulebook, assembly: Assembly) -> Findings:
    """Every rule on every element of its classes, rules in the book's order."""
    judged: list[Judged] = []
    for rule in book.rules:
        for form in rule.forms.values():
            subjects = elements(assembly, form.subject)
            if subjects:
                judged.append(_judge(rule, form, subjects, assembly, book))
    return Findings(judged)


def elements(assembly: Assembly, subject: str) -> tuple[Any, ...]:
    """The elements of a class, in the file's order."""
    place = SUBJECTS[subject]
    return getattr(assembly, place) if place else (assembly,)


def evaluate_rule(
    book: Rulebook, rule: Rule, subject_class: str, subject: Any, assembly: Assembly
) -> Finding:
    """One rule on one element.  KeyError where the rule is not checked on that class."""
    return _judge(rule, rule.forms[subject_class], (subject,), assembly, book).findings[0]


def _judge(
    rule: Rule, form: Form, subjects: tuple[Any, ...], assembly: Assembly, book: Rulebook
) -> Judged:
    found: list[Any] = []
    others: list[int] = []
    fast, add = form.fast, found.append
    # The cases whose open findings the design has answered: it leaves that detail out on purpose.
    left_out = rule.detail and rule.detail in assembly.left_out
    asking = ("open", "review") if left_out else ()
    answered = [place for place, kind in enumerate(form.outcomes) if kind in asking]
    for subject in subjects:
        try:
            given = fast(subject, assembly)
        except _UNDECIDED:
            # Imported here: where nothing is missing, nothing of it is needed.
            from checker.findings.traced import trace

            others.append(len(found))
            add(excused(trace(rule, form, subject, assembly, book.vocabulary), assembly))
            continue
        if given[0] < 0:
            add(APART)
        elif given[1]:
            add(HOLDS)
        else:
            others.append(len(found))
            if given[0] in answered:
                kind = form.outcomes[given[0]]
                add(excused(Finding(rule, form, subject, kind, given), assembly))
            else:
                add(given)
    return Judged(rule, form, subjects, assembly, found, others)
