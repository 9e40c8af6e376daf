"""The traced evaluation of one rule on one element, for people and for gaps.

It reaches the same outcome as the compiled form (a test holds them together) and keeps every
intermediate value, so that the calculation can be written out and what lacks can be named.
"""

from __future__ import annotations

from typing import Any

from checker.assembly import describe
from checker.assembly.records import HOLDERS, Assembly
from checker.language.checked import Checked
from checker.language.runtime import Budget
from checker.language.trace import EvaluationError, Tracer
from checker.language.types import Vocabulary
from checker.language.unknown import Unknown, merge
from checker.rulebook.book import Rule
from checker.rulebook.forms import Form

from .finding import Finding


class Names(dict[str, Any]):
    """Values and subjects of one evaluation; steps are computed when first asked for.

    steps: those of the rule, by name.
    """

    def __init__(
        self, form: Form, subject: Any, assembly: Assembly, vocabulary: Vocabulary
    ) -> None:
        super().__init__(assembly=assembly)
        self[form.subject] = self["this"] = subject
        holder = HOLDERS.get(form.subject)
        if holder is not None:
            self[holder] = getattr(subject, holder)
        for name, value in form.values.items():
            self[name] = value.value
        self.steps = {step.name: step for step in form.steps}
        self.tracer = Tracer(vocabulary, self, describe, Budget())

    def __missing__(self, name: str) -> Any:
        self[name] = value = self.value(self.steps[name].checked)
        return value

    def value(self, checked: Checked) -> Any:
        """The value of an expression, or an ``Unknown``.  Raises EvaluationError."""
        return self.tracer.evaluate(checked)

    def attempt(self, checked: Checked) -> Any:
        """The value of an expression; unknown where it has none."""
        try:
            return self.value(checked)
        except EvaluationError as error:
            return Unknown((str(error),))


def trace(
    rule: Rule, form: Form, subject: Any, assembly: Assembly, vocabulary: Vocabulary
) -> Finding:
    """Evaluate a rule on an element step by step."""
    names = Names(form, subject, assembly, vocabulary)
    try:
        return _judge(rule, form, subject, names)
    except EvaluationError as error:
        return Finding(rule, form, subject, "open", more={"defect": str(error)})


def _judge(rule: Rule, form: Form, subject: Any, names: Names) -> Finding:
    outcome = _applies(form, names)
    if isinstance(outcome, int):
        return Finding(rule, form, subject, "notApplicable", (outcome,))
    unsure: list[Unknown] = list(outcome)
    for place, case in enumerate(form.cases):
        test = True if case.when is None else names.value(case.when)
        if isinstance(test, Unknown):
            gaps = merge(*unsure, test).gaps
            return Finding(rule, form, subject, "open", more={"gaps": gaps})
        if test:
            return _case(rule, form, subject, place, unsure, names)
    raise EvaluationError("no case decides")


def _applies(form: Form, names: Names) -> int | list[Unknown]:
    """The code of the condition that keeps the rule from applying, or what is unknown of them."""
    unsure: list[Unknown] = []
    for place, checked in enumerate(form.when):
        test = names.value(checked)
        if isinstance(test, Unknown):
            unsure.append(test)
        elif not test:
            return -1 - place
    for place, (checked, _) in enumerate(form.unless):
        test = names.value(checked)
        if isinstance(test, Unknown):
            unsure.append(test)
        elif test:
            return -101 - place
    return unsure


def _case(
    rule: Rule, form: Form, subject: Any, place: int, unsure: list[Unknown], names: Names
) -> Finding:
    case = form.cases[place]
    measure = names["measure"] = names.value(case.measure)
    limit = names["limit"] = names.value(case.limit)
    holds = names.value(case.holds)
    values = tuple(_plain(names[form.steps[i].name]) for i in case.steps)
    found = (place, holds is True, _plain(measure), _plain(limit), *values)
    if isinstance(holds, Unknown) or unsure:
        gaps = merge(*unsure, holds).gaps
        return Finding(rule, form, subject, "open", found, {"gaps": gaps})
    return Finding(rule, form, subject, "pass" if holds else case.fails_as, found)


def _plain(value: Any) -> Any:
    return None if isinstance(value, Unknown) else value
