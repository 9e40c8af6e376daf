"""The calculation behind a finding, written out: what a reviewer follows with a calculator."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass
from typing import Any

from checker.assembly.records import Assembly
from checker.language.checked import Checked
from checker.language.showing import NOT_STATED
from checker.language.template import Template
from checker.language.trace import EvaluationError, Unknown
from checker.language.types import Number, Type, Vocabulary
from checker.language.worked import UNIT_OF, Worker, default_unit, show_value
from checker.quantities.dimension import ANGLE, TEMPERATURE
from checker.quantities.show import sharper, show_length
from checker.quantities.units import unit as find_unit
from checker.rulebook.forms import Case, Form, Mend, Value

from .brief import open_words
from .digits import USUAL, digits_for
from .finding import Finding
from .traced import Names
from .wording import worded


@dataclass(frozen=True, slots=True)
class Worked:
    """One line of a calculation.

    text: the calculation with numbers in it and its result; shown: the result alone;
    value: the result in ``unit`` (None where it is not a number); formula: as the rule states it.
    """

    name: str
    note: str
    formula: str
    text: str
    shown: str
    value: float | None
    unit: str


@dataclass(frozen=True, slots=True)
class Amount:
    """A measure or a limit: its value in ``unit``, and as text."""

    value: float | str | None
    unit: str
    text: str


@dataclass(frozen=True, slots=True)
class Detail:
    """A finding in full."""

    message: str
    mend: str
    measure: Amount | None
    limit: Amount | None
    steps: tuple[Worked, ...]


class Explainer:
    """Writes out findings of one assembly.  ``terms`` replaces words in what is said."""

    def __init__(self, assembly: Assembly, vocabulary: Vocabulary, terms: dict[str, str]) -> None:
        self.assembly = assembly
        self.vocabulary = vocabulary
        self.terms = terms

    def detail(self, finding: Finding) -> Detail:
        """The message, mend and every step of a finding."""
        form = finding.form
        names = Names(form, finding.subject, self.assembly, self.vocabulary)
        try:
            with self._sharp(finding):
                return self._detail(finding, form, names)
        except EvaluationError as error:
            return Detail(f"the rule could not be evaluated: {error}", "", None, None, ())

    def message(self, finding: Finding) -> str:
        """What is said of a finding, without its steps."""
        names = Names(finding.form, finding.subject, self.assembly, self.vocabulary)
        case = finding.case
        with self._sharp(finding):
            return self._said(finding, case, names)

    @staticmethod
    def _sharp(finding: Finding) -> AbstractContextManager[None]:
        case = finding.case
        if case is None:
            return sharper(USUAL)
        unit = case.unit or default_unit(case.measure.kind)
        return sharper(digits_for(finding.kind, finding.measure, finding.limit, unit))

    # -- parts -----------------------------------------------------------------------------

    def _detail(self, finding: Finding, form: Form, names: Names) -> Detail:
        case = finding.case
        if case is None:
            return Detail(self._said(finding, case, names), "", None, None, ())
        shown = {name: _as_written(value) for name, value in form.values.items()}
        steps = []
        for place in case.steps:
            step = form.steps[place]
            line = self._worked(step.name, step.checked, step.unit, step.note, names, shown)
            shown[step.name] = line.shown
            steps.append(line)
        measure = _amount(finding.measure, case.measure.kind, case.unit)
        limit = _amount(finding.limit, case.measure.kind, case.unit)
        names["measure"], names["limit"] = finding.measure, finding.limit
        mend = ""
        if finding.kind not in ("pass", "notApplicable"):
            mend = self._mends(case, names) if not finding.incomplete else ""
        return Detail(self._said(finding, case, names), mend, measure, limit, tuple(steps))

    def _worked(
        self,
        name: str,
        checked: Checked,
        unit: str,
        note: str,
        names: Names,
        shown: dict[str, str],
    ) -> Worked:
        value = names[name]
        result = show_value(value, checked.kind, unit)
        if isinstance(value, Unknown):
            text = f"{NOT_STATED}: {', '.join(value.gaps)}"
            return Worked(name, note, checked.text, text, NOT_STATED, None, _unit(checked, unit))
        try:
            text = Worker(names.tracer(), shown).write(checked)
        except EvaluationError:  # pragma: no cover - the value itself was found above
            text = result
        plain_lookup = text.startswith(result + " [") and text.index("]") == len(text) - 1
        if isinstance(value, (list, tuple)) or plain_lookup:
            text = text or result
        elif text in (result, "", "0"):
            text = result
        else:
            text = f"{text} = {result}"
        number = _number(value, unit)
        return Worked(name, note, checked.text, text, result, number, _unit(checked, unit))

    def _said(self, finding: Finding, case: Case | None, names: Names) -> str:
        if finding.defect:
            return f"the rule could not be evaluated: {finding.defect}"
        if finding.incomplete:
            return open_words(finding)
        if finding.kind == "notApplicable":
            return self._left_out(finding) if finding.left_out else self._why_not(finding)
        assert case is not None
        names["measure"], names["limit"] = finding.measure, finding.limit
        if finding.kind == "pass":
            if case.passes is None:
                unit = case.unit
                measure = show_value(finding.measure, case.measure.kind, unit)
                limit = show_value(finding.limit, case.measure.kind, unit)
                word = "at least" if case.at_least else "at most"
                return f"{measure}; {word} {limit} is required"
            return self._fill(case.passes, names) or ""
        return self._fill(case.message, names) or worded(finding.rule.title, self.terms)

    def _left_out(self, finding: Finding) -> str:
        """The design's own reason for what it leaves out."""
        said = []
        for omission in self.assembly.not_covered:
            if omission.topic in finding.left_out:
                topic = omission.topic.replace("_", " ")
                said.append(f"{topic} left out: {omission.reason} ({omission.by})")
        return "; ".join(said)

    def _why_not(self, finding: Finding) -> str:
        code = finding.code or -1
        if code <= -101:
            return f"an exception holds: {finding.form.unless[-101 - code][1]}"
        condition = finding.form.when[-1 - code].text if finding.form.when else ""
        return f"does not apply: it is for elements where {' '.join(condition.split())}"

    def _mends(self, case: Case, names: Names) -> str:
        return "; or ".join(text for _, text in self.useful(case, names))

    def useful(self, case: Case, names: Names) -> Iterator[tuple[Mend, str]]:
        """The mends that are of use, with what they say."""
        for mend in case.mend:
            if mend.when is not None:
                test = self.attempt(mend.when, names)
                if isinstance(test, Unknown) or not test:
                    continue
            text = self._fill(mend.say, names, strict=True)
            if text:
                yield mend, text

    def attempt(self, checked: Checked, names: Names) -> Any:
        """The value of an expression; unknown where it has none."""
        try:
            return names.tracer().evaluate(checked)
        except EvaluationError as error:
            return Unknown((str(error),))

    def _fill(self, template: Template, names: Names, *, strict: bool = False) -> str | None:
        """The template with its values; None where ``strict`` and one cannot be found."""
        parts = []
        for part in template.parts:
            if isinstance(part, str):
                parts.append(worded(part, self.terms))
                continue
            checked, unit = part
            value = self.attempt(checked, names)
            if isinstance(value, Unknown) and strict:
                return None
            if unit == "ft-in" and isinstance(value, (int, float)):
                parts.append(show_length(value))
            else:
                parts.append(self._shown(value, checked, unit, names))
        return "".join(parts)

    def _shown(self, value: Any, checked: Checked, unit: str, names: Names) -> str:
        return show_value(value, checked.kind, unit or _home_unit(checked, names))


def _home_unit(checked: Checked, names: Names) -> str:
    """The declared unit of a step or value that stands alone between braces."""
    steps = names._steps
    if len(checked.uses) == 1:
        name = next(iter(checked.uses))
        if checked.text.strip() == name and name in steps:
            return str(steps[name].unit)
    return ""


def _unit(checked: Checked, unit: str) -> str:
    if not isinstance(checked.kind, Number):
        return ""
    chosen = unit or UNIT_OF.get(checked.kind.dimension, "")
    return "1" if chosen in ("%", "count", "ratio") else chosen


def _number(value: Any, unit: str) -> float | None:
    """A value in the unit that it is shown in; shares stay shares (0.4, not 40)."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return None
    if not unit or unit in ("%", "count"):
        return value
    found = find_unit(unit)
    return value if found.factor == 1 and not found.offset else _converted(value, unit)


def _converted(value: float, unit: str) -> float:
    from fractions import Fraction

    return float(find_unit(unit).from_base(Fraction(value)))


def _as_written(value: Value) -> str:
    """A value of the rule as its file has it, with the signs of degrees that reports use."""
    kind = value.kind
    if isinstance(kind, Number) and kind.dimension in (ANGLE, TEMPERATURE):
        return show_value(value.value, kind)
    return value.text


def _amount(value: Any, kind: Type, unit: str) -> Amount | None:
    if value is None:
        return None
    if isinstance(value, str):
        return Amount(value, "", value)
    chosen = unit or (UNIT_OF.get(kind.dimension, "") if isinstance(kind, Number) else "")
    plain = "1" if chosen in ("%", "count", "ratio", "") else chosen
    return Amount(
        _number(value, chosen if plain != "1" else ""), plain, show_value(value, kind, chosen)
    )
