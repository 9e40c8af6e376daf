"""What a finding says, and the calculation behind it: what a reviewer follows with a calculator.

Everything is read from the nodes of the rule when it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from checker.assembly.records import Assembly
from checker.language.checked import Checked, Template
from checker.language.showing import NOT_STATED, THERE_IS
from checker.language.trace import EvaluationError
from checker.language.types import Number, Type, Vocabulary
from checker.language.unknown import Unknown
from checker.language.worked import UNIT_OF, Worker, default_unit, show_value
from checker.quantities.dimension import ANGLE, TEMPERATURE
from checker.quantities.show import USUAL
from checker.quantities.units import unit as find_unit
from checker.rulebook.forms import Case, Fix, Step, Value

from .digits import digits_for
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

    @property
    def label(self) -> str:
        """Its name as people read it."""
        return self.name.replace("_", " ")


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
    fixes: tuple[str, ...]
    measure: Amount | None
    limit: Amount | None
    steps: tuple[Worked, ...]


@dataclass(frozen=True, slots=True)
class Brief:
    """A finding in short.  measure and limit are texts, "" where there is none."""

    message: str
    fixes: tuple[str, ...]
    measure: str
    limit: str
    at_least: bool


def joined(fixes: Sequence[str]) -> str:
    """Several fixes in one sentence: later ones start in lower case, abbreviations excepted."""
    first, *others = fixes or ("",)
    return "; or ".join([first, *map(_inside, others)])


def _inside(text: str) -> str:
    capital = text[:1].isupper() and text[1:2].islower()
    return text[:1].lower() + text[1:] if capital else text


class Explainer:
    """Says what the findings of one assembly say.  ``terms`` replaces words in what is said."""

    def __init__(
        self, assembly: Assembly, vocabulary: Vocabulary, terms: Mapping[str, str]
    ) -> None:
        self.assembly = assembly
        self.vocabulary = vocabulary
        self.terms = terms

    def message(self, finding: Finding) -> str:
        """What is said of a finding, without its steps."""
        return self._teller(finding).message()

    def brief(self, finding: Finding) -> Brief:
        """The message, the fixes, and measure against limit."""
        teller, case = self._teller(finding), finding.case
        if case is None:
            return Brief(teller.message(), (), "", "", False)
        measure, limit = (
            "" if value is None else teller.shown(value, case.measure.kind, case.unit)
            for value in (finding.measure, finding.limit)
        )
        return Brief(teller.message(), teller.fixes(), measure, limit, case.at_least)

    def detail(self, finding: Finding) -> Detail:
        """The message, fixes and every step of a finding."""
        teller, case = self._teller(finding), finding.case
        if case is None:
            return Detail(teller.message(), (), None, None, ())
        try:
            steps = teller.steps(case)
        except EvaluationError as error:
            return Detail(f"the rule could not be evaluated: {error}", (), None, None, ())
        measure, limit = (
            _amount(value, case.measure.kind, case.unit, teller.digits)
            for value in (finding.measure, finding.limit)
        )
        return Detail(teller.message(), teller.fixes(), measure, limit, steps)

    def useful(self, finding: Finding) -> list[tuple[Fix, str, Names]]:
        """The fixes that are of use, with what they say and the names that they speak of."""
        teller = self._teller(finding)
        return [(fix, text, teller.names) for fix, text in teller.useful()]

    def _teller(self, finding: Finding) -> _Teller:
        names = Names(finding.form, finding.subject, self.assembly, self.vocabulary)
        return _Teller(finding, names, self.assembly, self.terms)


class _Teller:
    """Says one finding; ``digits`` are those that its numbers are told with."""

    def __init__(
        self, finding: Finding, names: Names, assembly: Assembly, terms: Mapping[str, str]
    ) -> None:
        self.finding = finding
        self.names = names
        self.assembly = assembly
        self.terms = terms
        self.case = case = finding.case
        self.digits = USUAL
        if case is not None:
            unit = case.unit or default_unit(case.measure.kind)
            self.digits = digits_for(finding.kind, finding.measure, finding.limit, unit)
            names["measure"], names["limit"] = finding.measure, finding.limit
            for place, value in zip(case.steps, finding.values, strict=False):
                if value.__class__ in _PLAIN:  # found already; others are traced for their gaps
                    names[finding.form.steps[place].name] = value

    def shown(self, value: Any, kind: Type, unit: str) -> str:
        """A value as this finding tells it."""
        return show_value(value, kind, unit, self.digits)

    # -- the message -----------------------------------------------------------------------

    def message(self) -> str:
        """What is said of the finding."""
        finding, case = self.finding, self.case
        if finding.defect:
            return f"the rule could not be evaluated: {finding.defect}"
        if finding.incomplete:
            return open_words(finding)
        if finding.kind == "notApplicable":
            return self._left_out() if finding.left_out else self._why_not()
        assert case is not None
        if finding.kind == "pass":
            if case.passes is not None:
                return self._fill(case.passes) or ""
            kind, word = case.measure.kind, "at least" if case.at_least else "at most"
            measure, limit = (
                self.shown(value, kind, case.unit) for value in (finding.measure, finding.limit)
            )
            return f"{measure}; {word} {limit} is required"
        return self._fill(case.message) or worded(finding.rule.title, self.terms)

    def _left_out(self) -> str:
        """The design's own reason for what it leaves out."""
        said = []
        for omission in self.assembly.not_covered:
            if omission.topic in self.finding.left_out:
                topic = omission.topic.replace("_", " ")
                said.append(f"{topic} left out: {omission.reason} ({omission.by})")
        return "; ".join(said)

    def _why_not(self) -> str:
        form, code = self.finding.form, self.finding.code or -1
        if code <= -101:
            return f"an exception applies: {form.unless[-101 - code][1]}"
        if self.finding.rule.covers:
            return f"does not apply: covers {self.finding.rule.covers}"
        condition = form.when[-1 - code].text if form.when else ""
        return f"does not apply: it is for elements where {' '.join(condition.split())}"

    def fixes(self) -> tuple[str, ...]:
        """What would put it right: each way to do so."""
        return tuple(text for _, text in self.useful())

    def useful(self) -> Iterator[tuple[Fix, str]]:
        """The fixes that are of use, with what they say."""
        finding = self.finding
        if self.case is None or finding.incomplete or finding.kind in ("pass", "notApplicable"):
            return
        for fix in self.case.fixes:
            if fix.when is not None:
                test = self.names.attempt(fix.when)
                if isinstance(test, Unknown) or not test:
                    continue
            text = self._fill(fix.say, strict=True)
            if text:
                yield fix, text

    def _fill(self, template: Template, *, strict: bool = False) -> str | None:
        """The template with its values; None where ``strict`` and one cannot be found."""
        parts = []
        for part in template.parts:
            if isinstance(part, str):
                parts.append(worded(part, self.terms))
                continue
            checked, unit = part
            value = self.names.attempt(checked)
            if isinstance(value, Unknown) and strict:
                return None
            parts.append(self.shown(value, checked.kind, unit))
        return "".join(parts)

    # -- the calculation -------------------------------------------------------------------

    def steps(self, case: Case) -> tuple[Worked, ...]:
        """Every step that the case rests on, written out.  Raises EvaluationError."""
        form = self.finding.form
        shown = {name: _as_written(value) for name, value in form.values.items()}
        worker = Worker(self.names.tracer, shown, self.digits)
        lines = []
        for place in case.steps:
            line = self._worked(form.steps[place], worker)
            shown[line.name] = line.shown
            lines.append(line)
        return tuple(lines)

    def _worked(self, step: Step, worker: Worker) -> Worked:
        value, checked = self.names[step.name], step.checked
        unit = _unit(checked, step.unit)
        result = self.shown(value, checked.kind, step.unit)
        if isinstance(value, Unknown):
            text = f"{NOT_STATED}: {', '.join(value.gaps)}"
            return Worked(step.name, step.words, checked.text, text, NOT_STATED, None, unit)
        try:
            text = worker.write(checked)
        except EvaluationError:  # pragma: no cover - the value itself was found above
            text = result
        plain_lookup = text.startswith(result + " [") and text.index("]") == len(text) - 1
        if isinstance(value, (list, tuple)) or plain_lookup:
            text = text or result
        elif text in (result, "", "0"):
            text = result
        else:
            text = f"{text} = {result}"
        number = _number(value, step.unit)
        return Worked(step.name, step.words, checked.text, text, result, number, unit)


#: Values that say all of themselves.
_PLAIN = (float, int, str, bool)


def open_words(finding: Finding) -> str:
    """What is said of a finding that the description leaves open."""
    lacks = [gap for gap in finding.gaps if gap.startswith(THERE_IS)]
    unstated = [gap for gap in finding.gaps if gap not in lacks]
    said = []
    if unstated or not lacks:
        verb = "are" if len(unstated) > 1 else "is"
        said.append(f"{', '.join(unstated) or 'what the rule needs'} {verb} not stated")
    return "cannot be judged: " + "; ".join([*said, *lacks])


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


def _amount(value: Any, kind: Type, unit: str, digits: int) -> Amount | None:
    if value is None:
        return None
    if isinstance(value, str):
        return Amount(value, "", value)
    chosen = unit or (UNIT_OF.get(kind.dimension, "") if isinstance(kind, Number) else "")
    plain = "1" if chosen in ("%", "count", "ratio", "") else chosen
    text = show_value(value, kind, chosen, digits)
    return Amount(_number(value, chosen if plain != "1" else ""), plain, text)
