"""The rulebook appendix in the HTML form."""

from __future__ import annotations

from checker.findings.finding import Report

from .appendix import AmendmentRow, RuleRow, TableRow
from .content import Content
from .html_parts import name, table, text


def rulebook(report: Report, content: Content) -> list[str]:
    """Amendments, rules applied with values and sources, and tables."""
    edition = report.book.edition
    parts = [
        f'<section id="rules"><h2>Rulebook</h2><p>{text(edition.title)}. {text(edition.note)}</p>'
    ]
    if content.amendments:
        parts.append(_amendments(content.amendments))
    places = {table.name: place for place, table in enumerate(content.tables)}
    parts += [_rule(rule, place, places) for place, rule in enumerate(content.rules)]
    if content.idle_rules:
        listed = "; ".join(
            f"<code>{text(rule)}</code> ({text(title)})" for rule, title in content.idle_rules
        )
        parts.append(f"<h3>In force, with nothing here to judge</h3><p>{listed}</p>")
    parts.append('</section><section id="tables"><h2>Tables</h2>')
    parts += [_table(row, places[row.name]) for row in content.tables]
    parts.append("</section>")
    return parts


def _amendments(rows: list[AmendmentRow]) -> str:
    return "<h3>Amendments</h3>" + table(
        ("amendment", "whose", "reference", "in force", "what it changed", "fingerprint"),
        [
            (
                f"<code>{text(row.id)}</code><br>{text(row.title)}",
                text(row.jurisdiction),
                text(row.reference),
                f"{text(row.effective)}; {text(row.status)}",
                "<br>".join(map(text, row.acted)) or "nothing",
                f"<code>{text(row.digest)}</code>",
            )
            for row in rows
        ],
        label="Amendments",
    )


def _rule(rule: RuleRow, place: int, tables: dict[str, int]) -> str:
    lines = [f"<p>{text(rule.citation)}. Topic: {text(rule.topic)}. {text(rule.counts)}."]
    if rule.tables:
        lines.append(
            " Looks into: "
            + ", ".join(f'<a href="#t{tables[t]}">{text(t)}</a>' for t in rule.tables)
            + "."
        )
    lines.append("</p>")
    for word, said in (
        ("Why", [rule.why] if rule.why else []),
        ("Note", [rule.note] if rule.note else []),
        ("Exception", rule.exceptions),
        ("Amended", rule.history),
    ):
        lines += [f"<p><b>{word}:</b> {text(line)}</p>" for line in said]
    if rule.values:
        lines.append(
            table(
                ("value", "is", "section", "how sure", "set by"),
                [
                    (
                        f"<code>{text(v.name)}</code>",
                        f"<b>{text(v.text)}</b>",
                        text(v.citation),
                        ("<b>from memory:</b> " if v.memory else "") + text(v.note),
                        text(v.origin),
                    )
                    for v in rule.values
                ],
                label=f"Values of {rule.id}",
            )
        )
    if rule.sources:
        lines.append(f"<p><small><b>Read in:</b> {text('; '.join(rule.sources))}</small></p>")
    return (
        f'<article id="r{place}"><h3><code>{text(rule.id)}</code> {text(rule.title)}</h3>'
        + "".join(lines)
        + "</article>"
    )


def _table(row: TableRow, place: int) -> str:
    memory = ' <span class="k open">partly from memory</span>' if row.memory else ""
    columns = table(
        ("column", "source", "checked"),
        [(f"<code>{text(a)}</code>", text(b), text(c)) for a, b, c in row.columns],
        label=f"Columns of {row.name}",
    )
    sources = "; ".join(f"<b>{text(key)}:</b> {text(words)}" for key, words in row.sources)
    lines = f"<p><small>{sources}</small></p>" if sources else ""
    lines += f"<p><small><b>Note:</b> {text(row.note)}</small></p>" if row.note else ""
    return (
        f'<article id="t{place}"><h3><code>{text(row.name)}</code> {name(row.title)}'
        f"{memory}</h3><p>{text(row.citation)}. <code>{text(row.digest)}</code></p>{columns}{lines}"
        "</article>"
    )
