"""CSV: one line for each finding, every finding, for spreadsheets.

A spreadsheet runs a cell that starts like a formula, whoever wrote it, so text that does is kept
text by an apostrophe before it.  Numbers of the program's own stay numbers.  Lines end in CR LF and
text is quoted (RFC 4180); a byte order mark would hide the first column's name from other programs.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from checker.findings.detail import Amount
from checker.findings.finding import Report
from checker.findings.view import FindingView, Views

from . import form

COLUMNS = (
    "assembly",
    "revision",
    "quantity",
    "edition",
    "rule",
    "title",
    "kind",
    "class",
    "element",
    "measure",
    "measure_unit",
    "measure_text",
    "limit",
    "limit_unit",
    "limit_text",
    "relation",
    "ratio",
    "citation",
    "message",
    "fixes",
    "missing",
    "blocking",
    "decision_status",
    "decision",
    "file",
    "line",
    "column",
    "design_fingerprint",
    "rules_fingerprint",
    "tables_fingerprint",
)

# Also the full-width signs, which some spreadsheets take for the plain ones.
_CONTROLS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")
_STARTS = "=+-@\t\r\n＝＋－＠"


class Form(form.Form):
    """The lines, report by report, behind one line of column names."""

    _begun = False

    def add(self, report: Report) -> str:
        """The lines of one report."""
        rows: list[Sequence[Any]] = [] if self._begun else [COLUMNS]
        self._begun = True
        for view in Views.of(report).all(report):
            cells = _cells(view, report)
            rows.append([safe(cells[name]) for name in COLUMNS])
        return _sheet(rows)

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """Nothing, but the names of the columns where there was no report."""
        yield from lines
        if not self._begun:
            yield _sheet([COLUMNS])


def _sheet(rows: Iterable[Sequence[Any]]) -> str:
    out = io.StringIO()
    # Text is quoted throughout: where another sign than the comma separates, a cell stays a cell.
    csv.writer(out, lineterminator="\r\n", quoting=csv.QUOTE_NONNUMERIC).writerows(rows)
    return out.getvalue()


def _cells(view: FindingView, report: Report) -> dict[str, Any]:
    decision = view.finding.decision
    return {
        "assembly": report.assembly.id,
        "revision": report.assembly.revision,
        "quantity": report.assembly.quantity,
        "edition": report.book.edition.edition,
        "rule": view.rule,
        "title": view.title,
        "kind": view.kind,
        "class": view.subject_class,
        "element": view.subject_id,
        **_amount("measure", view.measure_amount),
        **_amount("limit", view.limit_amount),
        "relation": view.relation if view.limit_amount is not None else "",
        "ratio": view.rounded_ratio,
        "citation": view.citation,
        "message": view.message,
        "fixes": view.fix,
        "missing": "; ".join(view.missing),
        "blocking": "yes" if view.blocking else "no",
        "decision_status": decision.status if decision is not None else "",
        "decision": view.decision,
        "file": view.file,
        "line": view.line,
        "column": view.column,
        "design_fingerprint": report.source.digest,
        "rules_fingerprint": report.book.digest,
        "tables_fingerprint": report.book.tables_digest,
    }


def _amount(name: str, amount: Amount | None) -> dict[str, Any]:
    if amount is None:
        return {name: None, f"{name}_unit": "", f"{name}_text": ""}
    return {name: amount.value, f"{name}_unit": amount.unit, f"{name}_text": amount.text}


def safe(cell: Any) -> Any:
    """A cell that no spreadsheet runs."""
    if cell is None:
        return ""
    if not isinstance(cell, str):
        return cell
    text = _CONTROLS.sub("", cell)
    # Leading blanks are skipped: some spreadsheets do so before they look for a formula.
    bare = text.lstrip(" \u00a0\ufeff\u200b")
    return "'" + text if bare[:1] and bare[0] in _STARTS else text
