"""Pairs rules with elements and evaluates them."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from checker.assembly.records import SUBJECTS, Assembly
from checker.documents.missing import MissingData
from checker.findings.finding import Finding, excused
from checker.findings.found import HOLDS, NOT_APPLICABLE, Findings, RuleResults
from checker.rulebook.book import Rule, Rulebook

if TYPE_CHECKING:
    from checker.rulebook.forms import Form

#: What a compiled rule raises where it cannot say: an unstated field, a table without an entry, a
#: calculation without a result.  The traced evaluation then says which.
_UNDECIDED = (MissingData, LookupError, ArithmeticError, ValueError)


def evaluate(book: Rulebook, assembly: Assembly, *, dated: bool = True) -> Findings:
    """Every rule on every element of its classes, rules in the book's order.

    Without a date (``dated``) nobody knows which amendments are in force: what a rule that one of
    them touches would find is open then.
    """
    judged: list[RuleResults] = []
    for rule in book.rules:
        unsure = not dated and any(a.touches(rule) for a in book.amendments)
        for form in rule.forms.values():
            subjects = elements(assembly, form.subject)
            if subjects:
                done = _judge(rule, form, subjects, assembly, book)
                judged.append(_undated(done, assembly) if unsure else done)
    return Findings(judged)


#: What is not stated where amendments are listed and no day to judge them on is.
_NO_DATE = "`basis.permit_date` of the assembly"


def _undated(judged: RuleResults, assembly: Assembly) -> RuleResults:
    """The same with every finding open that might be another without the amendment."""
    rule, form = judged.rule, judged.form
    found: list[Any] = []
    for finding in judged.findings:
        kept = finding.kind == "notApplicable" or finding.incomplete
        more = {"gaps": (_NO_DATE,)}
        found.append(finding if kept else Finding(rule, form, finding.subject, "open", more=more))
    return RuleResults(rule, form, judged.subjects, assembly, found, list(range(len(found))))


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
) -> RuleResults:
    found: list[Any] = []
    others: list[int] = []
    fast, add = form.fast, found.append
    # The cases whose open findings the design has answered: it leaves that detail out on purpose.
    left_out = rule.detail and rule.detail in assembly.left_out
    asking = ("open", "review") if left_out else ()
    answered = [place for place, kind in enumerate(form.outcomes) if kind in asking]
    if form.applies is not None:
        try:
            code = form.applies(assembly)
        except _UNDECIDED:
            code = None  # each element says what lacks
        if code:
            settle = partial(_not_applicable, rule, form, assembly, book, code)
            return RuleResults(
                rule, form, subjects, assembly, [NOT_APPLICABLE] * len(subjects), [], settle
            )
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
            add(NOT_APPLICABLE)
        elif given[1]:
            add(HOLDS)
        else:
            others.append(len(found))
            if given[0] in answered:
                kind = form.outcomes[given[0]]
                add(excused(Finding(rule, form, subject, kind, given), assembly))
            else:
                add(given)
    return RuleResults(rule, form, subjects, assembly, found, others)


def _not_applicable(
    rule: Rule, form: Form, assembly: Assembly, book: Rulebook, code: tuple[Any], subject: Any
) -> tuple[Any]:
    """The code of the first condition that keeps a rule from applying to an element.

    ``code`` is that of one which keeps it from applying to any.
    """
    try:
        given: tuple[Any] = form.fast(subject, assembly)
    except _UNDECIDED:
        from checker.findings.traced import trace

        found = trace(rule, form, subject, assembly, book.vocabulary)
        return (found.code,) if found.kind == "notApplicable" else code
    return given
