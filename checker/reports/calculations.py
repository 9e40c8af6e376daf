"""Calculations written out: of what needs action, and of the closest of the passing checks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from checker.findings.detail import Worked

from .listing import NumberedFinding
from .submittal import carries_steps

#: Most calculations of what needs action, and of passing checks.
MOST_ACTION, MOST_PASSING = 120, 80
#: Calculations of passing checks: the closest of each rule, then the closest of all up to this.
_ENOUGH = 20
#: Characters of a result that stands in its own narrow column.
_SHORT = 24


@dataclass(frozen=True, slots=True)
class CalculationStep:
    """A step. ``numbers``: its calculation, "" where there is nothing to calculate."""

    name: str
    note: str
    numbers: str
    result: str


@dataclass(frozen=True, slots=True)
class Calculation:
    """The calculation of one finding. ``constants`` are name, text, citation."""

    finding: NumberedFinding
    steps: list[CalculationStep]
    constants: list[tuple[str, str, str]]


def calculations(findings: Sequence[NumberedFinding]) -> tuple[list[Calculation], str]:
    """The calculations in the order of the findings, and what is left out, in words."""
    with_steps = [f for f in findings if f.finding.case is not None and f.finding.case.steps]
    action = [view for view in with_steps if view.needs_action]
    passing = [view for view in with_steps if not view.needs_action]
    chosen = action[:MOST_ACTION] + _narrowest(passing)
    made = [_calculation(view) for view in sorted(chosen, key=lambda view: view.number)]
    return made, _left_out(len(action), len(passing), chosen, len(findings))


def _narrowest(passing: list[NumberedFinding]) -> list[NumberedFinding]:
    """The closest one of each rule, then the closest of all."""
    ranked = sorted(
        passing, key=lambda f: (not f.graded, -(f.ratio or 0.0) if f.graded else 0.0, f.number)
    )
    first: dict[str, NumberedFinding] = {}
    for view in ranked:
        first.setdefault(view.rule, view)
    chosen = {view.number: view for view in list(first.values())[:MOST_PASSING]}
    taken: dict[str, int] = {}
    for view in ranked:
        if len(chosen) >= max(_ENOUGH, len(first)) or len(chosen) >= MOST_PASSING:
            break
        taken[view.rule] = taken.get(view.rule, 0) + 1
        if view.graded and taken[view.rule] <= 3:
            chosen.setdefault(view.number, view)
    return list(chosen.values())


def _left_out(action: int, passing: int, chosen: list[NumberedFinding], findings: int) -> str:
    printed = sum(view.needs_action for view in chosen)
    held = len(chosen) - printed
    parts = []
    if printed < action:
        parts.append(f"{action - printed} of {action} findings that need action")
    if held < passing:
        parts.append(f"{passing - held} of {passing} passing checks")
    if not parts:
        return ""
    where = (
        "the JSON report that is carried inside this file"
        if carries_steps(findings)
        else "the JSON report that `pullpoint check FILE --format json` writes"
    )
    return (
        "Calculation sheets are given for what needs action, for the check of each rule that "
        "passes most narrowly, and for the closest of all. Left out here: "
        f"{' and '.join(parts)}. Every step of each is in {where}; "
        "`pullpoint explain FILE RULE ELEMENT` prints any one."
    )


def _calculation(view: NumberedFinding) -> Calculation:
    form, case = view.finding.form, view.finding.case
    used: set[str] = set()
    if case is not None:
        used.update(*(form.steps[place].checked.uses for place in case.steps))
        used.update(case.measure.uses, case.limit.uses)
    constants = [
        (name, value.text, value.cite) for name, value in form.values.items() if name in used
    ]
    return Calculation(view, [_step(step) for step in view.steps], constants)


def _step(step: Worked) -> CalculationStep:
    numbers, result = step.text, step.shown
    if numbers == result:
        numbers = ""
    elif numbers.endswith(f" = {result}"):
        numbers = numbers.removesuffix(f" = {result}")
    elif numbers.startswith(f"{result} ["):
        numbers = numbers.removeprefix(f"{result} ")
    if not numbers and len(result) > _SHORT:
        numbers, result = result, ""  # a list of elements, which wants room
    return CalculationStep(step.label, step.note, numbers, result)
