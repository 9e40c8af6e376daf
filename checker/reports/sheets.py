"""Calculation sheets: for what needs action, and for the checks that hold most narrowly."""

from __future__ import annotations

from dataclasses import dataclass

from checker.findings.detail import Explainer, Worked
from checker.findings.finding import Finding, Report

from .content import Entry
from .listing import Listing
from .submittal import carries_steps

#: Most sheets for what needs action, and for checks that hold.
MOST_ACTION, MOST_HOLDING = 120, 80
#: Sheets for checks that hold: the closest of each rule, then the closest of all up to this many.
_ENOUGH = 20


@dataclass(frozen=True, slots=True)
class Line:
    """A step. ``numbers``: the formula with numbers in it, "" where there is nothing to put in."""

    name: str
    note: str
    formula: str
    numbers: str
    result: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """The calculation of one finding. ``constants`` are name, text, citation."""

    number: int
    lines: list[Line]
    constants: list[tuple[str, str, str]]


def make_sheets(report: Report, listing: Listing) -> tuple[list[Sheet], str]:
    """The sheets in the order of the findings, and what is left out, in words."""
    with_steps = [
        entry
        for entry, finding in zip(listing.entries, listing.findings, strict=True)
        if finding.case is not None and finding.case.steps
    ]
    action = [entry for entry in with_steps if entry.needs_action]
    holding = [entry for entry in with_steps if not entry.needs_action]
    chosen = action[:MOST_ACTION] + _narrowest(holding)
    explainer = Explainer(report.assembly, report.book.vocabulary, report.book.terms)
    sheets = [
        _sheet(entry.number, listing.findings[entry.number - 1], explainer)
        for entry in sorted(chosen, key=lambda entry: entry.number)
    ]
    return sheets, _left_out(len(action), len(holding), chosen, len(listing.findings))


def _narrowest(holding: list[Entry]) -> list[Entry]:
    """The closest one of each rule, then the closest of all."""
    ranked = sorted(
        holding, key=lambda e: (not e.graded, -(e.ratio or 0.0) if e.graded else 0.0, e.number)
    )
    first: dict[str, Entry] = {}
    for entry in ranked:
        first.setdefault(entry.rule, entry)
    chosen = {entry.number: entry for entry in list(first.values())[:MOST_HOLDING]}
    taken: dict[str, int] = {}
    for entry in ranked:
        if len(chosen) >= max(_ENOUGH, len(first)) or len(chosen) >= MOST_HOLDING:
            break
        taken[entry.rule] = taken.get(entry.rule, 0) + 1
        if entry.graded and taken[entry.rule] <= 3:
            chosen.setdefault(entry.number, entry)
    return list(chosen.values())


def _left_out(action: int, holding: int, chosen: list[Entry], findings: int) -> str:
    printed = sum(entry.needs_action for entry in chosen)
    held = len(chosen) - printed
    parts = []
    if printed < action:
        parts.append(f"{action - printed} of {action} findings that need action")
    if held < holding:
        parts.append(f"{holding - held} of {holding} checks that hold")
    if not parts:
        return ""
    where = (
        "the JSON report that is carried inside this file"
        if carries_steps(findings)
        else "the JSON report that `pullpoint check FILE --format json` writes"
    )
    return (
        "Calculation sheets are given for what needs action, for the check of each rule that holds "
        f"most narrowly, and for the closest of all. Left out here: {' and '.join(parts)}. Every "
        f"step of every one is in {where}; `pullpoint explain FILE RULE ELEMENT` prints any one."
    )


def _sheet(number: int, finding: Finding, explainer: Explainer) -> Sheet:
    detail = explainer.detail(finding)
    form, case = finding.form, finding.case
    used: dict[str, None] = {}
    if case is not None:
        for place in case.steps:
            used.update(dict.fromkeys(form.steps[place].checked.uses))
        used.update(dict.fromkeys((*case.measure.uses, *case.limit.uses)))
    constants = [
        (name, value.text, value.cite) for name, value in form.values.items() if name in used
    ]
    return Sheet(number, [_line(step) for step in detail.steps], constants)


def _line(step: Worked) -> Line:
    numbers, result = step.text, step.shown
    if numbers == result:
        numbers = ""
    elif numbers.endswith(f" = {result}"):
        numbers = numbers.removesuffix(f" = {result}")
    elif numbers.startswith(f"{result} ["):
        numbers = numbers.removeprefix(f"{result} ")
    return Line(step.name, step.note, " ".join(step.formula.split()), numbers, result)
