"""The rulebook appendix: rules applied with their values and sources, tables, amendments."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from checker.findings.finding import Report
from checker.tables.table import Table

from .content import KINDS, Entry, counted

_MEMORY = ("from memory", "memory")


@dataclass(frozen=True, slots=True)
class ValueRow:
    """A value of a rule. ``memory`` says that no publication confirms it."""

    name: str
    text: str
    citation: str
    note: str
    origin: str
    memory: bool


@dataclass(frozen=True, slots=True)
class RuleRow:
    """A rule that was applied. ``counts`` are its findings by kind, in words."""

    id: str
    title: str
    citation: str
    topic: str
    why: str
    note: str
    counts: str
    values: list[ValueRow]
    exceptions: list[str]
    history: list[str]
    sources: list[str]
    tables: list[str]
    memory: bool


@dataclass(frozen=True, slots=True)
class TableRow:
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
class AmendmentRow:
    """An amendment, and what it did."""

    id: str
    title: str
    jurisdiction: str
    reference: str
    effective: str
    status: str
    acted: list[str]
    digest: str


def amendment_rows(report: Report) -> list[AmendmentRow]:
    """Every amendment that was read, in order."""
    rows = []
    for amendment in report.book.amendments:
        file = amendment.file
        until = f" until {file.ends}" if file.ends else ""
        status = "in force" if amendment.in_force else f"not applied: {amendment.note}"
        if amendment.in_force and file.status == "draft":
            status = "applied; a draft, to be compared with the ordinance"
        rows.append(
            AmendmentRow(
                amendment.id, file.title, file.jurisdiction, file.reference,
                f"from {file.effective}{until}", status, list(amendment.acted),
                amendment.source.digest,
            )
        )  # fmt: skip
    return rows


def rule_rows(
    report: Report, entries: Sequence[Entry]
) -> tuple[list[RuleRow], list[tuple[str, str]]]:
    """Rules that judged something, and id and title of those that met nothing to judge."""
    counts: dict[str, dict[str, int]] = {}
    for entry in entries:
        of_rule = counts.setdefault(entry.rule, {})
        of_rule[entry.kind] = of_rule.get(entry.kind, 0) + 1
    applied, idle = [], []
    for rule in report.book.rules:
        found = counts.get(rule.id, {})
        if any(kind != "notApplicable" for kind in found):
            applied.append(_rule(rule, found))
        else:
            idle.append((rule.id, rule.title))
    return applied, idle


def _rule(rule: object, found: dict[str, int]) -> RuleRow:
    draft = rule.draft  # type: ignore[attr-defined]
    forms = rule.forms  # type: ignore[attr-defined]
    values = []
    texts = {name: value.text for form in forms.values() for name, value in form.values.items()}
    for name, value in draft.values.items():
        values.append(
            ValueRow(
                name=name,
                text=texts.get(name, str(value.part.value)),
                citation=value.cite,
                note=value.note,
                origin=value.part.origin,
                memory=_recalled(value.note, value.cite),
            )
        )
    return RuleRow(
        id=draft.id,
        title=str(draft.title.value),
        citation=str(draft.cite.value),
        topic=draft.topic,
        why=" ".join(draft.why.split()),
        note=" ".join(draft.note.split()),
        counts=", ".join(
            f"{found[kind]} {counted(kind, found[kind])}" for kind in KINDS if kind in found
        ),
        values=values,
        exceptions=[note for _, note in draft.unless],
        history=list(draft.history),
        sources=[" ".join(source.split()) for source in draft.sources],
        tables=sorted({table for form in forms.values() for table in form.tables}),
        memory=_recalled(draft.note) or any(value.memory for value in values),
    )


def table_rows(report: Report) -> list[TableRow]:
    """The tables that rules in force look into."""
    used = {t for rule in report.book.rules for form in rule.forms.values() for t in form.tables}
    return [_table(report.book.tables[name], report) for name in sorted(used)]


def _table(table: Table, report: Report) -> TableRow:
    edition = report.book.edition.edition
    columns = [
        (c.name + (f" ({c.unit})" if c.unit else ""), _flat(c.source), _flat(c.checked))
        for c in table.columns
    ]
    cells = any(cell in _MEMORY for row in table.rows for cell in row if isinstance(cell, str))
    return TableRow(
        name=table.name,
        title=table.title,
        citation=table.cite.get(edition) or table.cite.get("any") or "",
        note=_flat(table.note),
        digest=table.digest,
        columns=columns,
        sources=[(name, _flat(text)) for name, text in table.sources.items()],
        memory=cells or _recalled(table.note, *(source for _, source, _ in columns)),
    )


def from_memory(rules: Sequence[RuleRow], tables: Sequence[TableRow]) -> str:
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


def _recalled(*texts: str) -> bool:
    return any("memory" in text.lower() for text in texts)


def _flat(text: str) -> str:
    return " ".join(text.split())
