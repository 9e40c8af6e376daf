"""Whether a finding is still as it was decided: the rule, the measured value and the limit.

Values are compared as the report prints them or better, since that is what was decided on: a
decision on 44.2 % holds for 0.44223, and no longer for 44.3 %.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from checker.language import numbers
from checker.language.types import Designation, Number, Type
from checker.language.worked import show_value
from checker.quantities.designations import TRADE_RANK, WIRE_RANK, trade_size, wire_size
from checker.quantities.dimension import NONE
from checker.quantities.notation import NotationError, quantity
from checker.rulebook.book import Rulebook

from .decision_records import DecisionFile
from .finding import Finding

if TYPE_CHECKING:
    from checker.rulebook.forms import Case, Form

#: Compared with a value decided: the same as printed, nearer to what is required, farther from it.
SAME, BETTER, WORSE, UNLIKE = "same", "better", "worse", "unlike"
_ENOUGH = 16  # digits of a fingerprint that nobody meets twice by chance


def stale(decision: DecisionFile, finding: Finding, book: Rulebook) -> tuple[str, str]:
    """Status and words: applied while everything is as decided, else stale or incomplete."""
    case = finding.case
    assert case is not None  # it is a fail or a review, so a case decided
    changes = [*_rule_changes(decision, finding, book), *_value_changes(decision, finding, case)]
    if changes:
        return "stale", "; ".join(changes)
    if not decision.limit and not _is_constant(case, finding.form):
        limit = show_value(finding.limit, case.measure.kind, case.unit)
        return "incomplete", (
            f"the limit ({limit} now) follows from the design and the decision does not record "
            f"it; where it was decided on this limit, add `limit: {limit}`"
        )
    if not decision.rule_fingerprint:
        short = finding.rule.digest[: len("sha256:") + _ENOUGH]
        return "applied", (
            "a change of the rule, unless by a later amendment, would go unnoticed: where it was "
            f"decided on the rule as it stands, add `rule_fingerprint: {short}`"
        )
    return "applied", ""


def _rule_changes(decision: DecisionFile, finding: Finding, book: Rulebook) -> list[str]:
    """How the rule is not the one that was decided on.

    Without a fingerprint, an amendment that came into force after the decision speaks for it.
    """
    if decision.rule_fingerprint:
        if finding.rule.digest.startswith(decision.rule_fingerprint):
            return []
        return ["the rule has changed since it was decided"]
    later = []
    for amendment in book.amendments:
        file = amendment.file
        if (
            amendment.touches(finding.rule)
            and amendment.in_force
            and file.effective > decision.date
        ):
            later.append(
                f"amendment {amendment.id} has changed the rule since (in force from "
                f"{file.effective})"
            )
    return later


def _value_changes(decision: DecisionFile, finding: Finding, case: Case) -> list[str]:
    """How measure and limit are worse than decided.

    A rule with a requirement of its own does not say which way is worse: any change counts there.
    """
    changes = []
    any_change = case.require is not None
    for name, text, value in (
        ("measured value", decision.measure, finding.measure),
        ("limit", decision.limit, finding.limit),
    ):
        if not text:
            continue
        # A measure that has to reach its limit is worse when lower, its limit when higher.
        higher_is_worse = case.at_least == (name == "limit")
        now = show_value(value, case.measure.kind, case.unit)
        match compare(text, value, case.measure.kind, case.unit, higher_is_worse):
            case "worse":
                word = "stricter" if name == "limit" else "worse"
                changes.append(f"the {name} is {word}: {now}, decided at {text}")
            case "better" if any_change:
                changes.append(f"the {name} is another: {now}, decided at {text}")
            case "unlike":
                changes.append(f"the {name} is of another kind: {now}, decided at {text}")
    return changes


def compare(text: str, now: Any, kind: Type, unit: str, higher_is_worse: bool) -> str:
    """How a value stands to the one decided, which is ``text``."""
    decided = _read(text, kind, unit)
    if decided is None or now is None:
        return UNLIKE
    if show_value(now, kind, unit) == show_value(decided, kind, unit):
        return SAME
    if isinstance(kind, Designation):
        rank = WIRE_RANK if kind.name == "wire_size" else TRADE_RANK
        decided, now = rank[decided], rank[now]
    elif numbers.equal(decided, now):
        return SAME
    return WORSE if (now > decided) == higher_is_worse else BETTER


def _read(text: str, kind: Type, unit: str) -> Any:
    """A decided value in base units, None where it is not of that kind."""
    try:
        if isinstance(kind, Designation):
            return wire_size(text) if kind.name == "wire_size" else trade_size(text)
        if not isinstance(kind, Number):
            return None
        found = quantity(text, kind.dimension)
    except NotationError:
        return None
    # A share and a count are both plain numbers: 12 conductors are not 1200 %.
    if kind.dimension == NONE and (found.unit.text == "%") != (unit == "%"):
        return None
    return found.value


def _is_constant(case: Case, form: Form) -> bool:
    """Whether the limit rests on the rule's own values alone."""
    steps = {step.name: step for step in form.steps}
    todo, seen = set(case.limit.uses), set()
    while todo:
        name = todo.pop()
        if name in seen or name in form.values:
            continue
        if name not in steps:
            return False
        seen.add(name)
        todo |= steps[name].checked.uses
    return True
