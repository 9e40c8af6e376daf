"""The submittal report as PDF, set by typst from data; no string ever becomes markup.

Same report, same bytes: no clock is read, fonts are those that typst carries, and the date is the
one that was given.  With a date the file is PDF/A-3a (which asks for one as soon as a file is
attached); with and without it is tagged as PDF/UA-1 asks.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from checker.findings.finding import Report

from . import cautions, submittal
from .content import KINDS, Content, Entry, build_content, counted
from .figures import Figure
from .glyphs import breakable, breakable_code, drawable
from .json_form import report_object
from .schedules import Schedule, condensed
from .sheets import Sheet

_TEMPLATE = os.path.join(os.path.dirname(os.path.abspath(__file__)), "assets", "report.typ")
#: Findings that need action which are set out in full; further ones stand in a table.
MOST_BLOCKS = 250
#: Rows of a schedule beyond which what describes an element stands in one cell.
WIDE_UP_TO = 500
_RUNNING = 60
#: Characters of a formula on a calculation sheet; some go on over half a page.
_FORMULA = 180


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
    data = report_object(report)
    content = layout(report, build_content(report, data))
    return {
        "content": json.dumps(content, ensure_ascii=False, separators=(",", ":")),
        "report": submittal.carried_json(data),
    }


def layout(report: Report, content: Content) -> dict[str, Any]:
    """The content as the template reads it: plain data, every text fit for the fonts."""
    action = [entry for entry in content.entries if entry.needs_action]
    brief = len(content.entries) > submittal.BRIEF_FROM
    by_number = {entry.number: entry for entry in content.entries}
    figures = content.figures
    texts: dict[str, Any] = {
        "date": content.date,
        "title": content.title,
        "facts": [(name, text.split("\n")) for name, text in content.facts],
        "fingerprints": content.fingerprints,
        "kinds": [(kind, counted(kind, content.summary[kind])) for kind in KINDS],
        "verdict": content.verdict,
        "caution-heading": cautions.HEADING,
        "cautions": content.cautions,
        "deferral": content.deferral,
        "signing": cautions.SIGNING,
        "ratio": cautions.RATIO,
        "notices": content.notices,
        "from-memory": content.from_memory,
        "action": [_action(entry, content, report) for entry in action[:MOST_BLOCKS]],
        "action-rows": [_row(entry, content) for entry in action[MOST_BLOCKS:]],
        "decisions": content.decisions,
        "uncovered": content.not_covered,
        "figure-notes": figures.notes,
        "sheets": [_sheet(sheet, by_number[sheet.number], content) for sheet in content.sheets],
        "left-out": content.left_out,
        "shortened": any(
            len(line.formula) > _FORMULA for sheet in content.sheets for line in sheet.lines
        ),
        "schedules": [
            _schedule(schedule if len(schedule.rows) <= WIDE_UP_TO else condensed(schedule))
            for schedule in content.schedules
        ],
        "brief": brief,
        "groups": _groups(content, brief),
        "edition-note": f"{report.book.edition.title}. {report.book.edition.note}",
        "amendments": content.amendments,
        "rules": content.rules,
        "idle-rules": content.idle_rules,
        "tables": content.tables,
    }
    made: dict[str, Any] = _fit(texts)
    made["summary"] = content.summary
    made["running"] = drawable(_clipped(content.head))
    made["running-title"] = drawable(_clipped(content.title))
    made["design"] = report.source.digest
    made["rules-digest"] = report.book.digest
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
        return breakable_code(value) if key in ("formula", "numbers") else breakable(value)
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


def _short(formula: str) -> str:
    """A formula that a column of a page can hold."""
    if len(formula) <= _FORMULA:
        return formula
    return formula[:_FORMULA].rsplit(" ", 1)[0] + " …"


def _ratio(entry: Entry) -> str:
    return f"{entry.ratio:.2f}" if entry.ratio is not None and entry.graded else ""


def _schedule(schedule: Schedule) -> dict[str, Any]:
    return {
        "title": schedule.title,
        "note": schedule.note,
        "columns": schedule.columns,
        "rows": [{"cells": row.cells, "marked": bool(row.numbers)} for row in schedule.rows],
    }


def _row(entry: Entry, content: Content) -> dict[str, Any]:
    return {
        "number": entry.number,
        "kind": entry.kind,
        "rule": entry.rule,
        "label": content.elements[entry.element].label,
        "message": entry.message,
        "mend": entry.mend,
        "measure": entry.measure,
        "limit": entry.bound,
        "ratio": _ratio(entry),
    }


def _action(entry: Entry, content: Content, report: Report) -> dict[str, Any]:
    return {
        **_row(entry, content),
        "title": entry.title,
        "citation": entry.citation,
        "against": entry.against,
        "decision": entry.decision,
        "accepted": entry.accepted,
        "place": entry.place,
        "shown": _shown(entry, content),
    }


def _shown(entry: Entry, content: Content) -> str:
    """Where an element is drawn, in words."""
    drawn = content.elements[entry.element].drawn
    if drawn is None:
        return ""
    anchor = f'id="d{drawn}"'
    figures = content.figures
    for figure in (*figures.elevations, *figures.schematics, *figures.sections):
        if anchor in figure.svg:
            return figure.title if figure.sort != "cross-section" else "cross-sections"
    return ""


def _sheet(sheet: Sheet, entry: Entry, content: Content) -> dict[str, Any]:
    return {
        "number": sheet.number,
        "kind": entry.kind,
        "rule": entry.rule,
        "title": entry.title,
        "citation": entry.citation,
        "label": content.elements[entry.element].label,
        "message": entry.message,
        "against": entry.against,
        "lines": [replace(line, formula=_short(line.formula)) for line in sheet.lines],
        "constants": sheet.constants,
    }


def _groups(content: Content, brief: bool) -> list[dict[str, Any]]:
    """Every finding by rule: rows, and runs of elements where a row says nothing more."""
    by_rule: dict[str, list[Entry]] = {}
    for entry in content.entries:
        by_rule.setdefault(entry.rule, []).append(entry)
    groups = []
    for rule in sorted(by_rule):
        entries = by_rule[rule]
        rows: list[dict[str, Any]] = []
        runs: dict[str, list[str]] = {}
        for entry in entries:
            element = content.elements[entry.element]
            kind = element.name.replace("_", " ")
            if entry.kind == "notApplicable":
                runs.setdefault(f"{_sentence(entry.message)}; {kind}", []).append(element.id)
            elif entry.kind == "pass" and not entry.graded:
                words = "Holds" if brief else f"Holds, {_of_any(entry.message, element.id)}"
                runs.setdefault(f"{words}; {kind}", []).append(element.id)
            elif entry.kind == "pass" and brief:
                words = f"Holds, with the ratio to the limit; {kind}"
                runs.setdefault(words, []).append(f"{element.id} {_ratio(entry)}")
            else:
                row = _row(entry, content)
                if entry.needs_action:
                    row["message"] = f"see finding {entry.number}"
                rows.append(row)
        counts = {kind: sum(e.kind == kind for e in entries) for kind in KINDS}
        groups.append(
            {
                "rule": rule,
                "title": entries[0].title,
                "citation": entries[0].of_rule,
                "counts": ", ".join(f"{n} {counted(kind, n)}" for kind, n in counts.items() if n),
                "rows": rows,
                "runs": [
                    {"words": words, "listed": ", ".join(listed)} for words, listed in runs.items()
                ],
            }
        )
    return groups


def _of_any(message: str, element: str) -> str:
    """What is said of an element, without its name: the same of all of which it holds."""
    return re.sub(rf"(?<![\w-]){re.escape(element)}(?![\w-])", "it", message)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _clipped(text: str) -> str:
    return text if len(text) <= _RUNNING else text[: _RUNNING - 1] + "…"
