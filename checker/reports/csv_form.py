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

from checker.findings.detail import Amount, Explainer
from checker.findings.finding import Finding, Report
from checker.findings.places import source_of

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
    "mend",
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


def render(reports: Sequence[Report]) -> str:
    """The reports as one sheet with a line of column names."""
    return "".join(map(Stream().add, reports)) or _sheet([COLUMNS])


class Stream:
    """The sheet, report by report."""

    late = False

    def __init__(self) -> None:
        self._begun = False

    def add(self, report: Report) -> str:
        """The lines of one report, behind the names of the columns where it is the first."""
        explainer = Explainer(report.assembly, report.book.vocabulary, report.book.terms)
        rows: list[Sequence[Any]] = [] if self._begun else [COLUMNS]
        self._begun = True
        for finding in report.findings:
            cells = _cells(finding, report, explainer)
            rows.append([_safe(cells[name]) for name in COLUMNS])
        return _sheet(rows)

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """Nothing follows."""
        yield from lines


def _sheet(rows: Iterable[Sequence[Any]]) -> str:
    out = io.StringIO()
    # Text is quoted throughout: where another sign than the comma separates, a cell stays a cell.
    csv.writer(out, lineterminator="\r\n", quoting=csv.QUOTE_NONNUMERIC).writerows(rows)
    return out.getvalue()


def _cells(finding: Finding, report: Report, explainer: Explainer) -> dict[str, Any]:
    detail = explainer.detail(finding)
    mark, decision, ratio = finding.mark, finding.decision, finding.ratio
    return {
        "assembly": report.assembly.id,
        "revision": report.assembly.revision,
        "quantity": report.assembly.quantity,
        "edition": report.book.edition.edition,
        "rule": finding.rule.id,
        "title": finding.rule.title,
        "kind": finding.kind,
        "class": finding.subject_class,
        "element": finding.subject_id,
        **_amount("measure", detail.measure),
        **_amount("limit", detail.limit),
        "relation": finding.relation if detail.limit is not None else "",
        "ratio": None if ratio is None else round(ratio, 6),
        "citation": finding.citation,
        "message": detail.message,
        "mend": detail.mend,
        "missing": "; ".join(finding.gaps),
        "blocking": "yes" if finding.blocking else "no",
        "decision_status": decision.status if decision is not None else "",
        "decision": str(decision) if decision is not None else "",
        "file": source_of(mark, report.source).path,
        "line": mark.line,
        "column": mark.column,
        "design_fingerprint": report.source.digest,
        "rules_fingerprint": report.book.digest,
        "tables_fingerprint": report.book.tables_digest,
    }


def _amount(name: str, amount: Amount | None) -> dict[str, Any]:
    if amount is None:
        return {name: None, f"{name}_unit": "", f"{name}_text": ""}
    return {name: amount.value, f"{name}_unit": amount.unit, f"{name}_text": amount.text}


def _safe(cell: Any) -> Any:
    """A cell that no spreadsheet runs."""
    if cell is None:
        return ""
    if not isinstance(cell, str):
        return cell
    text = _CONTROLS.sub("", cell)
    # Leading blanks are skipped: some spreadsheets do so before they look for a formula.
    bare = text.lstrip(" \u00a0\ufeff\u200b")
    return "'" + text if bare[:1] and bare[0] in _STARTS else text
