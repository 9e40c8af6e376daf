"""What a report says of its rulebook: rules applied, tables, amendments, what is from memory."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from checker.findings.finding import Report
from checker.findings.kinds import counts_in_words
from checker.rulebook.book import Rule
from checker.tables.table import Table

from .json_form import used_tables
from .rule_view import RuleView, recalled, tidy

_MEMORY = ("from memory", "memory")


@dataclass(frozen=True, slots=True)
class TableView:
    """A table that the rules look into. ``columns`` are name, source, and how it was checked."""

    name: str
    title: str
    citation: str
    note: str
    digest: str
    columns: list[tuple[str, str, str]]
    sources: list[tuple[str, str]]
    memory: bool


@dataclass(frozen=True, slots=True)
class AmendmentView:
    """An amendment, and what it did."""

    id: str
    title: str
    jurisdiction: str
    reference: str
    effective: str
    status: str
    acted: list[str]
    digest: str


class AppliedRule(RuleView):
    """A rule that was applied; ``counts`` are its findings by kind, in words."""

    def __init__(self, rule: Rule, counts: str) -> None:
        super().__init__(rule)
        self.counts = counts


def amendment_views(report: Report) -> list[AmendmentView]:
    """Every amendment that was read, in order."""
    rows = []
    for amendment in report.book.amendments:
        file = amendment.file
        until = f" until {file.ends}" if file.ends else ""
        status = "in force" if amendment.in_force else f"not applied: {amendment.note}"
        if amendment.in_force and file.status == "draft":
            status = "applied; a draft, to be compared with the ordinance"
        rows.append(
            AmendmentView(
                amendment.id, file.title, file.jurisdiction, file.reference,
                f"from {file.effective}{until}", status, list(amendment.acted),
                amendment.source.digest,
            )
        )  # fmt: skip
    return rows


def rules_applied(report: Report) -> tuple[list[AppliedRule], list[tuple[str, str]]]:
    """Rules that judged something, and id and title of those that met nothing to judge."""
    counts: dict[str, dict[str, int]] = {}
    for finding in report.findings:
        of_rule = counts.setdefault(finding.rule.id, {})
        of_rule[finding.kind] = of_rule.get(finding.kind, 0) + 1
    applied, idle = [], []
    for rule in report.book.rules:
        found = counts.get(rule.id, {})
        if any(kind != "notApplicable" for kind in found):
            applied.append(AppliedRule(rule, counts_in_words(found)))
        else:
            idle.append((rule.id, rule.title))
    return applied, idle


def table_views(report: Report) -> list[TableView]:
    """The tables that rules in force look into."""
    return [_table(report.book.tables[name], report) for name in used_tables(report)]


def _table(table: Table, report: Report) -> TableView:
    edition = report.book.edition.edition
    columns = [
        (c.name + (f" ({c.unit})" if c.unit else ""), tidy(c.source), tidy(c.checked))
        for c in table.columns
    ]
    cells = any(cell in _MEMORY for row in table.rows for cell in row if isinstance(cell, str))
    return TableView(
        name=table.name,
        title=table.title,
        citation=table.cite.get(edition) or table.cite.get("any") or "",
        note=tidy(table.note),
        digest=table.digest,
        columns=columns,
        sources=[(name, tidy(text)) for name, text in table.sources.items()],
        memory=cells or recalled(table.note, *(source for _, source, _ in columns)),
    )


def from_memory(rules: Sequence[RuleView], tables: Sequence[TableView]) -> str:
    """How much of what was applied rests on memory, in words; "" where nothing does."""
    values = sum(value.memory for rule in rules for value in rule.values)
    recalled = [table.name for table in tables if table.memory]
    parts = []
    if values:
        parts.append(f"{values} value{'s' if values > 1 else ''} of the rules applied")
    if recalled:
        many = "tables" if len(recalled) > 1 else "table"
        parts.append(f"cells or notes of {len(recalled)} {many} ({', '.join(recalled)})")
    if not parts:
        return ""
    return (
        f"Marked “from memory” in the appendix: {' and '.join(parts)}. Verify them against the "
        "adopted code before relying on a check that uses them."
    )
