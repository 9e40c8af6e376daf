"""A rule in words: every part with its text, and where it comes from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from checker.documents.errors import Mark
from checker.paths import shown_path
from checker.rulebook import shared
from checker.rulebook.book import Rule, Rulebook
from checker.rulebook.draft import (
    CasePart,
    Draft,
    FormulaPart,
    Part,
    StepPart,
    ValuePart,
    plain_text,
)

CLASS_WORDS = {
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
class Line:
    """A part of a rule: its text, the edition or amendment that it comes from, and its place."""

    text: str
    origin: str
    place: str


@dataclass(frozen=True, slots=True)
class ValueLine:
    """A named constant."""

    name: str
    value: Line
    cite: str
    note: str


@dataclass(frozen=True, slots=True)
class FormulaLine:
    """A formula, as it is written where it is used."""

    usage: str
    expression: Line
    note: str


@dataclass(frozen=True, slots=True)
class StepLine:
    """A step of the calculation."""

    name: str
    unit: str
    expression: Line
    note: str


@dataclass(frozen=True, slots=True)
class CaseLine:
    """One case of the judgement; ``requirement`` is a sentence with expressions in it."""

    when: Line | None
    measure: str
    limit: str
    relation: str
    require: Line | None
    unit: str
    fails_as: str
    message: Line
    passes: Line | None
    mends: tuple[tuple[str, Line], ...]
    origin: Line


@dataclass(slots=True)
class Sheet:
    """A rule in words."""

    id: str
    title: Line
    cite: Line
    cited_by: str
    topic: str
    on: str
    why: str
    note: str
    file: str
    conditions: list[tuple[str, Line, str]] = field(default_factory=list)
    values: list[ValueLine] = field(default_factory=list)
    formulas: list[FormulaLine] = field(default_factory=list)
    steps: list[StepLine] = field(default_factory=list)
    cases: list[CaseLine] = field(default_factory=list)
    fails_as: Line | None = None
    history: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    effective: str = ""
    digest: str = ""


def sheet(rule: Rule) -> Sheet:
    """A rule in words."""
    draft = rule.draft
    made = Sheet(
        id=draft.id,
        title=_line(draft.title),
        cite=_line(draft.cite),
        cited_by=_cited_by(draft),
        topic=draft.topic,
        on=" and ".join(CLASS_WORDS[name] for name in draft.classes),
        why=tidy(draft.why),
        note=tidy(draft.note),
        file=f"{shown_path(draft.file)}:{draft.mark.line}",
        conditions=_conditions(draft),
        history=draft.history,
        sources=draft.sources,
        effective=draft.effective or "",
        digest=draft.digest,
    )
    made.values = _values(draft.values)
    made.formulas = _formulas(draft.formulas)
    made.steps = _steps(draft.steps)
    made.cases = [_case(case) for case in draft.cases]
    made.fails_as = Line(draft.fails_as, draft.fails_as_origin, "")
    return made


def _cited_by(draft: Draft) -> str:
    """How findings cite one of the rule's sections, in words; "" where they cite all."""
    if draft.sections is None:
        return ""
    asked = draft.sections
    besides = f", and {asked.besides}" if asked.besides else ""
    return f"the section of its {asked.of}: `{asked.column}` of table {asked.table}{besides}"


@dataclass(frozen=True, slots=True)
class SharedWords:
    """A shared sheet in words, as the rulebook has it.  users: the rules that borrow from it."""

    id: str
    title: str
    note: str
    file: str
    values: list[ValueLine]
    formulas: list[FormulaLine]
    steps: list[StepLine]
    users: tuple[str, ...]
    sources: tuple[str, ...]


def shared_words(made: shared.Sheet, book: Rulebook) -> SharedWords:
    """A sheet of the book in words."""
    return SharedWords(
        id=made.name,
        title=made.title,
        note=tidy(made.note),
        file=shown_place(made.source.path, made.node.value_mark("shared")),
        values=_values(made.values),
        formulas=_formulas(made.formulas),
        steps=_steps(made.steps),
        users=tuple(rule.id for rule in book.rules if made.name in rule.draft.uses),
        sources=made.sources,
    )


def _values(parts: Mapping[str, ValuePart]) -> list[ValueLine]:
    return [
        ValueLine(name, _line(value.part), value.cite, tidy(value.note))
        for name, value in parts.items()
    ]


def _formulas(parts: Mapping[str, FormulaPart]) -> list[FormulaLine]:
    return [
        FormulaLine(part.formula.usage, _line(part.expression), tidy(part.note))
        for part in parts.values()
    ]


def _steps(parts: Mapping[str, StepPart]) -> list[StepLine]:
    return [
        StepLine(name, step.unit, _line(step.expression), tidy(step.note))
        for name, step in parts.items()
    ]


def _conditions(draft: Draft) -> list[tuple[str, Line, str]]:
    """(connecting word, condition, words of an exception) in the order in which they act."""
    done: list[tuple[str, Line, str]] = []
    wide = list(draft.widened)
    for place, part in enumerate(draft.when):
        while wide and wide[0][0] <= place:
            done.append(("or else where", _line(wide.pop(0)[1]), ""))
        done.append(("and where" if done else "where", _line(part), ""))
    done += [("or else where", _line(part), "") for _, part in wide]
    done += [("except where", _line(part), tidy(note)) for part, note in draft.unless]
    return done


def _case(case: CasePart) -> CaseLine:
    return CaseLine(
        when=None if case.when is None else _line(case.when),
        measure=tidy(str(case.measure.value)),
        limit=tidy(str(case.limit.value)),
        relation="has to reach" if case.at_least else "may not exceed",
        require=None if case.require is None else _line(case.require),
        unit=case.unit,
        fails_as=case.fails_as,
        message=_line(case.message),
        passes=None if case.passes is None else _line(case.passes),
        mends=tuple(
            ("" if mend.when is None else tidy(str(mend.when.value)), _line(mend.say))
            for mend in case.mend
        ),
        origin=_line(case.measure),
    )


def _line(part: Part) -> Line:
    return Line(tidy(plain_text(part.value)), part.origin, shown_place(part.source.path, part.mark))


def shown_place(path: str, mark: Mark) -> str:
    """A place as reports of rules write it."""
    return f"{shown_path(path)}:{mark.line}"


def tidy(text: str) -> str:
    """A text on one line."""
    return " ".join(text.split())
