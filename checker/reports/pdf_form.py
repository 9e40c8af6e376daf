"""The submittal report as PDF, set by typst from data; no string ever becomes markup.

Same report, same bytes: no clock is read, fonts are those that typst carries, and the date is the
one that was given.  With a date the file is PDF/A-3a (which asks for one as soon as a file is
attached); with and without it is tagged as PDF/UA-1 asks.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Mapping, Sequence
from typing import Any

from checker.findings.finding import Report
from checker.findings.kinds import KINDS, counts_in_words

from . import submittal
from .book_view import AppliedRule
from .calculations import Calculation
from .figures.every import Figure
from .glyphs import breakable, breakable_code, drawable
from .listing import NumberedFinding
from .report_view import ReportView
from .schedules import Schedule

_TEMPLATE = os.path.join(os.path.dirname(os.path.abspath(__file__)), "templates", "report.typ")
#: Findings that need action which are set out in full; further ones stand in a table.
MOST_BLOCKS = 250
#: Rows of a schedule beyond which what describes an element stands in one cell.
WIDE_UP_TO = 500
_RUNNING = 60


def render(report: Report) -> bytes:
    """The PDF."""
    import typst

    standards: Any = ["ua-1", "a-3a"] if report.date else ["ua-1"]
    return typst.compile(
        _TEMPLATE,
        root=os.path.dirname(_TEMPLATE),
        ignore_system_fonts=True,
        sys_inputs=_inputs(report),
        pdf_standards=standards,
        # The document's date is set in the template; this keeps the clock out where there is none.
        timestamp=0,
        format="pdf",
    )


def _inputs(report: Report) -> dict[str, str]:
    """What the template reads, as text; all else can go before a long report is set."""
    view = ReportView(report)
    carried = submittal.carried_json(view.data)
    content = json.dumps(layout(view), ensure_ascii=False, separators=(",", ":"))
    return {"content": content, "report": carried}


def layout(view: ReportView) -> dict[str, Any]:
    """The report as the template reads it: plain data, every text fit for the fonts."""
    brief = len(view.findings) > submittal.BRIEF_FROM
    figures, calculations = view.figures, view.calculations
    texts: dict[str, Any] = {
        "date": view.date,
        "title": view.title,
        "facts": [(name, text.split("\n")) for name, text in view.facts],
        "fingerprints": view.fingerprints,
        "kinds": [(kind.name, kind.heading) for kind in KINDS.values()],
        "tags": {kind.name: kind.tag for kind in KINDS.values()},
        "verdict": view.verdict,
        "caution-heading": view.cautions_heading,
        "cautions": view.cautions,
        "deferral": view.deferral,
        "signing": view.signing,
        "ratio": view.ratio,
        "notices": view.notices,
        "from-memory": view.from_memory,
        "action": [_action(finding, view) for finding in view.action[:MOST_BLOCKS]],
        "action-rows": [_row(finding) for finding in view.action[MOST_BLOCKS:]],
        "decisions": view.decisions,
        "uncovered": view.not_covered,
        "figure-notes": figures.notes,
        "sheets": [_calculation(made) for made in calculations],
        "left-out": view.left_out,
        "schedules": [_schedule(schedule) for schedule in view.schedules],
        "brief": brief,
        "groups": _by_rule(view.findings, brief),
        "edition-note": f"{view.edition.title}. {view.edition.note}",
        "amendments": view.amendments,
        "rules": [_rule(rule) for rule in view.rules],
        "idle-rules": view.idle_rules,
        "tables": view.tables,
    }
    made: dict[str, Any] = _fit(texts)
    made["summary"] = view.summary
    made["running"] = drawable(_clipped(view.head))
    made["running-title"] = drawable(_clipped(view.title))
    made["design"] = view.report.source.digest
    made["rules-digest"] = view.book.digest
    made["ratios"] = None if figures.ratios is None else _figure(figures.ratios)
    made["elevations"] = [_figure(figure) for figure in figures.elevations]
    made["schematics"] = [_figure(figure) for figure in figures.schematics]
    made["sections"] = [_figure(figure) for figure in figures.sections]
    return made


def _fit(value: Any, key: str = "") -> Any:
    """Plain data with every text made drawable and breakable; fingerprints stay in one piece."""
    if isinstance(value, str):
        if value.startswith("sha256:") and len(value) == 71:
            return value
        return breakable_code(value) if key == "numbers" else breakable(value)
    if isinstance(value, Mapping):
        return {name: _fit(item, name) for name, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_fit(item, key) for item in value]
    if hasattr(value, "__dataclass_fields__"):
        return {name: _fit(getattr(value, name), name) for name in value.__dataclass_fields__}
    return value


def _figure(figure: Figure) -> dict[str, Any]:
    return {
        "title": breakable(figure.title),
        "caption": breakable(figure.caption),
        "key": breakable(figure.key),
        "alt": drawable(figure.alt),
        "svg": drawable(figure.svg),
        "width": figure.width,
        "height": figure.height,
    }


def _schedule(schedule: Schedule) -> dict[str, Any]:
    if len(schedule.rows) > WIDE_UP_TO:
        schedule = schedule.condensed()
    return {
        "title": schedule.title,
        "note": schedule.note,
        "columns": [
            {"head": column.heading, "width": column.width, "number": column.number}
            for column in schedule.columns
        ],
        "rows": [
            {"cells": schedule.cells(row), "marked": bool(row.action)} for row in schedule.rows
        ],
    }


def _rule(rule: AppliedRule) -> dict[str, Any]:
    keys = ("id", "citation", "topic", "counts", "tables", "why", "note", "exceptions", "history")
    return {
        **{key: getattr(rule, key) for key in keys},
        "title": rule.title.text,
        "sources": rule.sources,
        "values": [
            {
                "name": value.name,
                "text": value.text,
                "citation": value.cite,
                "note": value.note,
                "origin": value.value.origin,
                "memory": value.memory,
            }
            for value in rule.values
        ],
    }


def _row(finding: NumberedFinding) -> dict[str, Any]:
    return {
        "number": finding.number,
        "kind": finding.kind,
        "rule": finding.rule,
        "label": finding.element.label,
        "message": finding.message,
        "fix": finding.fix,
        "measure": finding.measure,
        "limit": finding.bound,
        "ratio": finding.ratio_text,
        "title": finding.title,
        "citation": finding.citation,
        "against": finding.against,
    }


def _action(finding: NumberedFinding, view: ReportView) -> dict[str, Any]:
    return {
        **_row(finding),
        "decision": finding.decision,
        "accepted": finding.accepted,
        "place": finding.where,
        "placed": finding.placed,
        "shown": _shown(finding, view),
    }


def _shown(finding: NumberedFinding, view: ReportView) -> str:
    """Where an element is drawn, in words."""
    drawn = finding.element.drawn
    if drawn is None:
        return ""
    anchor = f'id="d{drawn}"'
    figures = view.figures
    for figure in (*figures.elevations, *figures.schematics, *figures.sections):
        if anchor in figure.svg:
            return figure.title if figure.sort != "cross-section" else "cross-sections"
    return ""


def _calculation(made: Calculation) -> dict[str, Any]:
    return {
        **_row(made.finding),
        "lines": made.steps,
        "constants": made.constants,
    }


def _by_rule(findings: Sequence[NumberedFinding], brief: bool) -> list[dict[str, Any]]:
    """Every finding by rule: rows, and runs of elements where a row says nothing more."""
    by_rule: dict[str, list[NumberedFinding]] = {}
    for finding in findings:
        by_rule.setdefault(finding.rule, []).append(finding)
    groups = []
    for rule, found in sorted(by_rule.items()):
        rows: list[dict[str, Any]] = []
        runs: dict[str, list[str]] = {}
        counts = dict.fromkeys(KINDS, 0)
        for finding in found:
            counts[finding.kind] += 1
            element = finding.element
            name = element.name.replace("_", " ")
            if finding.kind == "notApplicable":
                runs.setdefault(f"{_sentence(finding.message)}; {name}", []).append(element.id)
            elif finding.kind == "pass" and not finding.graded:
                words = "Passes" if brief else f"Passes, {_of_any(finding.message, element.id)}"
                runs.setdefault(f"{words}; {name}", []).append(element.id)
            elif finding.kind == "pass" and brief:
                words = f"Passes, with the ratio to the limit; {name}"
                runs.setdefault(words, []).append(f"{element.id} {finding.ratio_text}")
            else:
                row = _row(finding)
                if finding.needs_action:
                    row["message"] = f"see finding {finding.number}"
                rows.append(row)
        groups.append(
            {
                "rule": rule,
                "title": found[0].title,
                "citation": found[0].rule_citation,
                "counts": counts_in_words(counts),
                "rows": rows,
                "runs": [
                    {"words": words, "listed": ", ".join(listed)} for words, listed in runs.items()
                ],
            }
        )
    return groups


def _of_any(message: str, element: str) -> str:
    """What is said of an element, without its name: the same of all that pass."""
    return re.sub(rf"(?<![\w-]){re.escape(element)}(?![\w-])", "it", message)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _clipped(text: str) -> str:
    return text if len(text) <= _RUNNING else text[: _RUNNING - 1] + "…"
