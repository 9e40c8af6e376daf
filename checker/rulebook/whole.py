"""What is wrong with a rule as a whole, apart from its expressions."""

from __future__ import annotations

import re

from checker.assembly.records import CLASSES
from checker.documents.errors import InputError, Mark, Problem, nearest
from checker.documents.fields import given_fields
from checker.language.checking.words import a_kind
from checker.language.types import List, Number, Type
from checker.quantities.units import UnknownUnit, usual_units
from checker.quantities.units import unit as find_unit

from .part import Part
from .rule import RuleRecord


def too_much(rule: RuleRecord) -> None:
    """More than a reader could follow is refused, since it may take more than anybody has.

    Raises InputError, and where the rule judges nothing.
    """
    conditions = len(rule.when) + len(rule.unless) + len(rule.widened)
    fixes = max((len(case.fixes) for case in rule.cases), default=0)
    for what, number, most in (
        ("values", len(rule.values), 300),
        ("steps", len(rule.steps), 200),
        ("cases", len(rule.cases), 40),
        ("conditions", conditions, 100),
        ("fixes of one case", fixes, 40),
    ):
        if number > most:
            raise InputError(
                rule.source.problem(
                    rule.mark,
                    f"rule {rule.id} has too many {what}",
                    found=f"{number} {what}",
                    expected=f"{most} at most; several rules",
                )
            )
    if not rule.cases:
        raise InputError(
            rule.source.problem(
                rule.mark,
                f"rule {rule.id} judges nothing",
                found="an empty `judge:`",
                expected="one case at least, with its measure and limit",
            )
        )


def pointed(rule: RuleRecord) -> list[Problem]:
    """A finding points at a field that is written in the file."""
    fields = {f.name: None for c in rule.classes for f in given_fields(CLASSES[c])}
    if not rule.at or rule.at in fields:
        return []
    return [
        rule.source.problem(
            rule.at_mark or rule.mark,
            f"`at:` of rule {rule.id} is no field that a file states",
            found=rule.at,
            length=len(rule.at),
            expected="a field of " + " or ".join(rule.classes),
            suggestion=nearest(rule.at, fields) or "",
        )
    ]


def unused(rule: RuleRecord, used: set[str]) -> list[Problem]:
    """Values, steps and formulas that nothing mentions; ``used`` are those that something does."""
    problems = []
    said = [str(part.value) for _, part in rule.parts()]
    for name, formula in rule.formulas.items():
        if name in rule.borrowed or any(re.search(rf"\b{name}\b", t) for t in said):
            continue
        if rule.reworked and formula.expression.source is rule.source:
            continue  # as of values below
        problems.append(
            formula.expression.source.problem(
                formula.named or formula.expression.mark,
                f"formula `{name}` of rule {rule.id} is never used",
                found=name,
                expected="a use of it in a later formula, in a step or in `judge`",
                length=len(name),
            )
        )
    for name in (*rule.values, *rule.steps):
        if name in used:
            continue
        if name in rule.borrowed:
            continue  # mentioned at least; it is there for others too
        step, value = rule.steps.get(name), rule.values.get(name)
        if step is not None and step.bound:
            continue
        part = step.expression if step else rule.values[name].part
        named = (step.named if step else value.named if value else None) or part.mark
        if rule.reworked and part.source is rule.source:
            continue  # only the conditions that an amendment took away needed it
        what = "step" if step else "value"
        problems.append(
            part.source.problem(
                named,
                f"{what} `{name}` of rule {rule.id} is never used",
                found=name,
                expected=f"a use of it in a later step, in `judge`, or in a message; "
                f"or no such {what}",
                length=len(name),
            )
        )
    return problems


def unreached(rule: RuleRecord) -> list[Problem]:
    """Cases that can never decide, and elements that none decides on."""
    problems = []
    for place, case in enumerate(rule.cases):
        last = place == len(rule.cases) - 1
        if case.when is None and not last:
            problems.append(
                case.measure.problem(
                    "the cases after this one can never decide",
                    found="a case without `when` before the last",
                    expected="`when:` here, or this case as the last",
                )
            )
        if case.when is not None and last:
            problems.append(
                case.when.problem(
                    "the last case has a condition, so some elements would not be judged",
                    found="`when:` on the last case",
                    expected="a last case without `when`; put the condition under the rule's "
                    "own `applies:`",
                )
            )
    return problems


def unit_problem(unit: str, kind: Type, part: Part, what: str, at: Mark | None) -> Problem | None:
    """Why a value of some kind cannot be written in a unit, where it cannot."""
    if not unit:
        return None
    try:
        found = find_unit(unit)
    except UnknownUnit as error:
        return part.source.problem(
            at or part.mark,
            f"the unit of {what} is not known",
            found=unit,
            expected="a unit such as in, in², A, %, count",
            suggestion=error.nearest or "",
            length=len(unit) if at else 1,
        )
    target = kind.item if isinstance(kind, List) else kind
    if isinstance(target, Number) and found.dimension != target.dimension:
        return part.source.problem(
            at or part.mark,
            f"{what} cannot be written in {unit}",
            found=f"`{part.value}` is {a_kind(target)}; {unit} is a unit of {found.dimension.name}",
            expected=f"a unit of {target.dimension.name}: {usual_units(target.dimension)}",
            length=len(unit) if at else 1,
        )
    return None
