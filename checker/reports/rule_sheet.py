"""A rule in words: every part with its text, and where it comes from."""

from __future__ import annotations

from dataclasses import dataclass, field

from checker.documents.errors import Mark
from checker.paths import shown_path
from checker.rulebook.book import Rule
from checker.rulebook.draft import CasePart, Draft, Part, plain_text

CLASS_WORDS = {
    "assembly": "the assembly",
    "panel": "every panel",
    "circuit": "every circuit",
    "section": "every section",
    "joint": "every joint",
    "coupling": "every coupling",
    "space": "every space",
    "box": "every box",
    "raceway": "every raceway",
    "cable": "every cable",
    "pull": "every pull",
    "run": "every run",
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
        topic=draft.topic,
        on=" and ".join(CLASS_WORDS[name] for name in draft.classes),
        why=_tidy(draft.why),
        note=_tidy(draft.note),
        file=f"{shown_path(draft.file)}:{draft.mark.line}",
        conditions=_conditions(draft),
        history=draft.history,
        sources=draft.sources,
        effective=draft.effective or "",
        digest=draft.digest,
    )
    for name, value in draft.values.items():
        made.values.append(ValueLine(name, _line(value.part), value.cite, _tidy(value.note)))
    for formula in draft.formulas.values():
        line = _line(formula.expression)
        made.formulas.append(FormulaLine(formula.formula.usage, line, _tidy(formula.note)))
    for name, step in draft.steps.items():
        made.steps.append(StepLine(name, step.unit, _line(step.expression), _tidy(step.note)))
    made.cases = [_case(case) for case in draft.cases]
    made.fails_as = Line(draft.fails_as, draft.fails_as_origin, "")
    return made


def _conditions(draft: Draft) -> list[tuple[str, Line, str]]:
    """(connecting word, condition, words of an exception) in the order in which they act."""
    done: list[tuple[str, Line, str]] = []
    wide = list(draft.widened)
    for place, part in enumerate(draft.when):
        while wide and wide[0][0] <= place:
            done.append(("or else where", _line(wide.pop(0)[1]), ""))
        done.append(("and where" if done else "where", _line(part), ""))
    done += [("or else where", _line(part), "") for _, part in wide]
    done += [("except where", _line(part), _tidy(note)) for part, note in draft.unless]
    return done


def _case(case: CasePart) -> CaseLine:
    return CaseLine(
        when=None if case.when is None else _line(case.when),
        measure=_tidy(str(case.measure.value)),
        limit=_tidy(str(case.limit.value)),
        relation="has to reach" if case.at_least else "may not exceed",
        require=None if case.require is None else _line(case.require),
        unit=case.unit,
        fails_as=case.fails_as,
        message=_line(case.message),
        passes=None if case.passes is None else _line(case.passes),
        mends=tuple(
            ("" if mend.when is None else _tidy(str(mend.when.value)), _line(mend.say))
            for mend in case.mend
        ),
        origin=_line(case.measure),
    )


def _line(part: Part) -> Line:
    return Line(
        _tidy(plain_text(part.value)), part.origin, shown_place(part.source.path, part.mark)
    )


def shown_place(path: str, mark: Mark) -> str:
    """A place as reports of rules write it."""
    return f"{shown_path(path)}:{mark.line}"


def _tidy(text: str) -> str:
    return " ".join(text.split())
