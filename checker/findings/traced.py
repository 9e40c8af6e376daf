"""The traced evaluation of one rule on one element, for people and for gaps.

It reaches the same outcome as the compiled form (a test holds them together) and keeps every
intermediate value, so that the calculation can be written out and what lacks can be named.
"""

from __future__ import annotations

from typing import Any

from checker.assembly import describe
from checker.assembly.records import HOLDERS, Assembly
from checker.language import numbers
from checker.language.checked import Checked
from checker.language.runtime import begin
from checker.language.trace import EvaluationError, Tracer, Unknown, merge
from checker.language.types import Designation, Vocabulary
from checker.quantities.designations import TRADE_RANK, WIRE_RANK
from checker.rulebook.book import Rule
from checker.rulebook.forms import Case, Form

from .finding import Finding


class Names(dict[str, Any]):
    """Values and subjects of one evaluation; steps are computed when first asked for."""

    def __init__(
        self, form: Form, subject: Any, assembly: Assembly, vocabulary: Vocabulary
    ) -> None:
        super().__init__(assembly=assembly)
        begin()
        self[form.subject] = self["this"] = subject
        holder = HOLDERS.get(form.subject)
        if holder is not None:
            self[holder] = getattr(subject, holder)
        for name, value in form.values.items():
            self[name] = value.value
        self._steps = {step.name: step for step in form.steps}
        self._vocabulary = vocabulary

    def __missing__(self, name: str) -> Any:
        step = self._steps[name]
        self[name] = value = self.tracer().evaluate(step.checked)
        return value

    def tracer(self) -> Tracer:
        """A tracer over these names."""
        return Tracer(self._vocabulary, self, describe)


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
    def value(checked: Checked) -> Any:
        return names.tracer().evaluate(checked)

    outcome = _applies(form, value)
    if isinstance(outcome, int):
        return Finding(rule, form, subject, "notApplicable", (outcome,))
    unsure: list[Unknown] = list(outcome)
    for place, case in enumerate(form.cases):
        test = True if case.when is None else value(case.when)
        if isinstance(test, Unknown):
            gaps = merge(*unsure, test).gaps
            return Finding(rule, form, subject, "open", more={"gaps": gaps})
        if test:
            return _case(rule, form, subject, place, unsure, names)
    raise EvaluationError("no case decides")


def _applies(form: Form, value: Any) -> int | list[Unknown]:
    """The code of the condition that keeps the rule from applying, or what is unknown of them."""
    unsure: list[Unknown] = []
    for place, checked in enumerate(form.when):
        test = value(checked)
        if isinstance(test, Unknown):
            unsure.append(test)
        elif not test:
            return -1 - place
    for place, (checked, _) in enumerate(form.unless):
        test = value(checked)
        if isinstance(test, Unknown):
            unsure.append(test)
        elif test:
            return -101 - place
    return unsure


def _case(
    rule: Rule, form: Form, subject: Any, place: int, unsure: list[Unknown], names: Names
) -> Finding:
    case = form.cases[place]
    measure, limit = names.tracer().evaluate(case.measure), names.tracer().evaluate(case.limit)
    if case.require is not None:
        holds = names.tracer().evaluate(case.require)
    elif isinstance(measure, Unknown) or isinstance(limit, Unknown):
        holds = merge(measure, limit)
    else:
        holds = keeps(case, measure, limit)
    values = tuple(_plain(names[form.steps[i].name]) for i in case.steps)
    found = (place, holds is True, _plain(measure), _plain(limit), *values)
    if isinstance(holds, Unknown) or unsure:
        gaps = merge(*unsure, holds).gaps
        return Finding(rule, form, subject, "open", found, {"gaps": gaps})
    return Finding(rule, form, subject, "pass" if holds else case.fails_as, found)


def keeps(case: Case, measure: Any, limit: Any) -> bool:
    """Whether the measure keeps to the limit, or reaches it where it has to."""
    kind = case.measure.kind
    if isinstance(kind, Designation):
        rank = WIRE_RANK if kind.name == "wire_size" else TRADE_RANK
        measure, limit = rank[measure], rank[limit]
    low, high = (limit, measure) if case.at_least else (measure, limit)
    return numbers.at_most(low, high)


def _plain(value: Any) -> Any:
    return None if isinstance(value, Unknown) else value
