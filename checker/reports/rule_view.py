"""A rule as every form shows it: each part with its text, and where it comes from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from checker.findings.kinds import KINDS
from checker.paths import shown_path
from checker.rulebook import shared
from checker.rulebook.book import Rule, Rulebook
from checker.rulebook.part import Part, plain_text
from checker.rulebook.rule import RuleRecord
from checker.rulebook.rule_parts import Case, FormulaRecord, Step, Value

#: How each class that rules are checked on is called.
CHECKED_ON = {
    "assembly": "the assembly",
    "panel": "every panel",
    "circuit": "every circuit",
    "section": "every section",
    "joint": "every joint",
    "coupling": "every coupling",
    "space": "every space",
    "box": "every box",
    "compartment": "every compartment of a box",
    "raceway": "every raceway",
    "cable": "every cable",
    "pull": "every pull",
    "run": "every run",
    "pair": "every two raceways or boxes that come near each other",
}


@dataclass(frozen=True, slots=True)
class Sourced:
    """A text, and the edition or amendment that it comes from."""

    text: str
    origin: str
    path: str = ""
    line: int = 0

    @property
    def place(self) -> str:
        """Its place as reports of rules write it; "" where it has none."""
        return f"{shown_path(self.path)}:{self.line}" if self.path else ""

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class ValueView:
    """A named constant. written: as data has it; text: in its unit; memory: unconfirmed."""

    name: str
    value: Sourced
    written: str
    text: str
    cite: str
    note: str
    memory: bool


@dataclass(frozen=True, slots=True)
class FormulaView:
    """A formula, as it is written where it is used."""

    usage: str
    expression: Sourced
    note: str


@dataclass(frozen=True, slots=True)
class StepView:
    """A step of the calculation."""

    name: str
    unit: str
    expression: Sourced
    note: str


@dataclass(frozen=True, slots=True)
class CaseView:
    """One case; ``require`` is a condition of its own, ``fixes`` are condition and words."""

    when: Sourced | None
    measure: str
    limit: str
    relation: str
    require: Sourced | None
    unit: str
    fails_as: str
    message: Sourced
    passes: Sourced | None
    fixes: tuple[tuple[str, Sourced], ...]
    origin: Sourced


class RuleView:
    """Everything that a form shows of a rule.

    conditions: (connecting word, condition, words of an exception) in the order in which they act;
    exceptions: the words alone; cited_by: how findings cite one of the rule's sections, in words;
    shared: shared calculations that it uses; memory: whether a value rests on memory.
    """

    def __init__(self, rule: Rule) -> None:
        record, forms = rule.record, rule.forms
        self.id = record.id
        self.title = _sourced(record.title)
        self.cite = _sourced(record.cite)
        self.citation = rule.citation
        self.cited_by = _cited_by(record)
        self.topic = record.topic
        self.classes = record.classes
        self.checked_on = " and ".join(CHECKED_ON[name] for name in record.classes)
        self.why = tidy(record.why)
        self.note = tidy(record.note)
        self.path, self.line = record.file, record.mark.line
        self.history = record.history
        self.sources = tuple(tidy(source) for source in record.sources)
        self.effective = record.effective or ""
        self.digest = rule.digest
        self.shared = record.uses
        self.fails_as = Sourced(record.fails_as, record.fails_as_origin)
        self.conditions = _conditions(record)
        self.exceptions = [tidy(note) for _, note in record.unless]
        in_unit = {n: v.text for form in forms.values() for n, v in form.values.items()}
        self.values = _values(record.values, in_unit)
        self.formulas = _formulas(record.formulas)
        self.steps = _steps(record.steps)
        self.cases = [_case(case) for case in record.cases]
        self.tables = sorted({table for form in forms.values() for table in form.tables})
        self.memory = recalled(record.note) or any(value.memory for value in self.values)

    @property
    def file(self) -> str:
        """Its file."""
        return shown_path(self.path)

    @property
    def place(self) -> str:
        """File and line."""
        return f"{self.file}:{self.line}"

    @property
    def anchor(self) -> str:
        """Where links to it lead."""
        return f"rule-{self.id}"

    @property
    def failing(self) -> str:
        """What failing it means."""
        kinds = list(dict.fromkeys(case.fails_as for case in self.cases))
        if len(kinds) != 1:
            return "What failing means depends on the case."
        return KINDS[kinds[0]].failing

    def elsewhere(self, part: Sourced) -> str:
        """Where a part comes from, where that is not the rule's own file."""
        return "" if self._own(part) else f"[{part.origin}, {part.place}]"

    def origin(self, part: Sourced) -> str:
        """Where a part comes from; parts of the rule's own file say only whose they are."""
        return part.origin if self._own(part) else f"{part.origin} ({part.place})"

    def _own(self, part: Sourced) -> bool:
        return part.path == self.path


@dataclass(frozen=True, slots=True)
class SharedView:
    """A shared calculation in words, as the rulebook has it.  users: the rules that use it."""

    id: str
    title: str
    note: str
    place: str
    values: list[ValueView]
    formulas: list[FormulaView]
    steps: list[StepView]
    users: tuple[str, ...]
    sources: tuple[str, ...]


def shared_view(made: shared.Sheet, book: Rulebook) -> SharedView:
    """A shared calculation of the book in words."""
    return SharedView(
        id=made.name,
        title=made.title,
        note=tidy(made.note),
        place=f"{shown_path(made.source.path)}:{made.node.value_mark('shared').line}",
        values=_values(made.values, {}),
        formulas=_formulas(made.formulas),
        steps=_steps(made.steps),
        users=tuple(rule.id for rule in book.rules if made.name in rule.record.uses),
        sources=made.sources,
    )


def _values(parts: Mapping[str, Value], in_unit: Mapping[str, str]) -> list[ValueView]:
    return [
        ValueView(
            name,
            _sourced(value.part),
            str(value.part.value),
            in_unit.get(name, str(value.part.value)),
            value.cite,
            tidy(value.note),
            recalled(value.note, value.cite),
        )
        for name, value in parts.items()
    ]


def _formulas(parts: Mapping[str, FormulaRecord]) -> list[FormulaView]:
    return [
        FormulaView(part.formula.usage, _sourced(part.expression), tidy(part.note))
        for part in parts.values()
    ]


def _steps(parts: Mapping[str, Step]) -> list[StepView]:
    return [
        StepView(name, step.unit, _sourced(step.expression), tidy(step.note))
        for name, step in parts.items()
    ]


def _conditions(record: RuleRecord) -> list[tuple[str, Sourced, str]]:
    done: list[tuple[str, Sourced, str]] = []
    wide = list(record.widened)
    for place, part in enumerate(record.when):
        while wide and wide[0][0] <= place:
            done.append(("or else where", _sourced(wide.pop(0)[1]), ""))
        done.append(("and where" if done else "where", _sourced(part), ""))
    done += [("or else where", _sourced(part), "") for _, part in wide]
    done += [("except where", _sourced(part), tidy(note)) for part, note in record.unless]
    return done


def _case(case: Case) -> CaseView:
    return CaseView(
        when=None if case.when is None else _sourced(case.when),
        measure=tidy(str(case.measure.value)),
        limit=tidy(str(case.limit.value)),
        relation="has to reach" if case.at_least else "may not exceed",
        require=None if case.require is None else _sourced(case.require),
        unit=case.unit,
        fails_as=case.fails_as,
        message=_sourced(case.message),
        passes=None if case.passes is None else _sourced(case.passes),
        fixes=tuple(
            ("" if fix.when is None else tidy(str(fix.when.value)), _sourced(fix.say))
            for fix in case.fixes
        ),
        origin=_sourced(case.measure),
    )


def _cited_by(record: RuleRecord) -> str:
    if record.sections is None:
        return ""
    asked = record.sections
    besides = f", and {asked.besides}" if asked.besides else ""
    return f"the section of its {asked.of}: `{asked.column}` of table {asked.table}{besides}"


def _sourced(part: Part) -> Sourced:
    text = tidy(plain_text(part.value))
    return Sourced(text, part.origin, part.source.path, part.mark.line)


def recalled(*texts: str) -> bool:
    """Whether one of the texts says that something rests on memory."""
    return any("memory" in text.lower() for text in texts)


def tidy(text: str) -> str:
    """A text on one line."""
    return " ".join(text.split())
