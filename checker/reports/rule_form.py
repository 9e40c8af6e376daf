"""Rules as text and data: all of them in a list, and one with the origin of every part."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Sequence

from checker.documents.errors import printable
from checker.rulebook.book import Rulebook

from .rule_view import RuleView, SharedView, Sourced
from .style import Style

WIDTH = 100


def block(text: str, indent: int) -> list[str]:
    """A text in lines, further ones two columns in."""
    return textwrap.wrap(
        printable(text),
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + 2),
        break_long_words=False,
        break_on_hyphens=False,
    )


def list_text(book: Rulebook, style: Style) -> str:
    """Every rule, by topic; an asterisk marks those that amendments touched."""
    lines: list[str] = []
    topic = ""
    rules = [RuleView(rule) for rule in book.rules]
    for rule in sorted(rules, key=lambda r: (r.topic, r.id)):
        if rule.topic != topic:
            topic = rule.topic
            lines += ["", style.bold(printable(topic))]
        name = rule.id + (" *" if rule.history else "")
        lines += textwrap.wrap(
            printable(rule.title.text),
            WIDTH,
            initial_indent=f"  {name:<33}",
            subsequent_indent=" " * 35,
        )
        about = f"{' and '.join(rule.classes)}; {rule.citation}"
        lines += [style.dim(line) for line in block(about, 35)]
    lines += ["", f"{len(book.rules)} rules on {book.edition.title}"]
    shared = sorted({name for rule in rules for name in rule.shared})
    if shared:
        lines += block(f"shared sheets: {', '.join(shared)} (`rules show` prints them too)", 0)
    for amendment in book.amendments:
        state = "in force" if amendment.in_force else f"not applied: {amendment.note}"
        lines.append(f"amendment {amendment.id}, {printable(amendment.file.title)}: {state}")
        for done in amendment.acted:
            lines += block(f"* {done}", 2)
    lines += [f"withdrawn: {rule} (by {who})" for rule, who in book.withdrawn.items()]
    for notice in book.notices:
        lines += block(f"note: {notice}", 0)
    return "\n".join(lines[1:]) + "\n"


def list_json(book: Rulebook) -> str:
    """Every rule as plain data."""
    rules = [
        {
            "rule": rule.id,
            "title": str(rule.title),
            "topic": rule.topic,
            "checked_on": list(rule.classes),
            "citation": rule.citation,
            "fails_as": str(rule.fails_as),
            "file": rule.file,
            "amended": list(rule.history),
            "fingerprint": rule.digest,
        }
        for rule in map(RuleView, book.rules)
    ]
    return json.dumps(rules, ensure_ascii=False, indent=1) + "\n"


# -- one rule -------------------------------------------------------------------------------


def show_text(made: RuleView, examples: list[str], notices: Sequence[str], style: Style) -> str:
    """A rule with the origin of every part; a line number alone is of the rule's own file."""
    out = _Writer(style, made.place)
    out.lines.append(style.bold(made.id))
    out.text(made.title.text, 2, made.title)
    for notice in notices:
        out.text(f"note: {notice}", 2)
    out.lines.append("")
    out.fact("file", made.place)
    out.fact("cites", made.cite.text, made.cite)
    if made.cited_by:
        out.fact("finding cites", made.cited_by)
    out.fact("topic", made.topic)
    out.fact("checked on", made.checked_on)
    if not made.conditions:
        out.fact("applies", "everywhere")
    for word, line, note in made.conditions:
        out.fact("applies", f"{word} {line.text}" + (f" ({note})" if note else ""), line)
    out.fact("failing means", made.fails_as.text, made.fails_as)
    if made.effective:
        out.fact("in force", f"from {made.effective}")
    for name, text in (("why", made.why), ("note", made.note)):
        if text:
            out.fact(name, text)
    _calculation(made, out)
    _judge(made, out)
    for title, entries in (
        ("what amendments did", made.history),
        ("examples", tuple(examples) or ("none",)),
        ("sources", made.sources),
    ):
        if entries:
            out.head(title)
            for entry in entries:
                out.text(entry, 2)
    out.lines += ["", f"fingerprint {made.digest}"]
    return "\n".join(out.lines) + "\n"


def shared_text(made: SharedView, notices: Sequence[str], style: Style) -> str:
    """A shared calculation with the origin of every part."""
    out = _Writer(style, made.place)
    out.lines.append(style.bold(made.id))
    out.text(made.title, 2)
    for notice in notices:
        out.text(f"note: {notice}", 2)
    out.lines.append("")
    out.fact("file", made.place)
    out.fact("used by", ", ".join(made.users) or "no rule")
    if made.note:
        out.fact("note", made.note)
    _calculation(made, out)
    if made.sources:
        out.head("sources")
        for entry in made.sources:
            out.text(entry, 2)
    return "\n".join(out.lines) + "\n"


def _calculation(made: RuleView | SharedView, out: _Writer) -> None:
    if made.values:
        out.head("values")
        for value in made.values:
            out.text(f"{value.name}  {value.value.text}", 2, value.value)
            out.text("; ".join(part for part in (value.cite, value.note) if part), 6)
    if made.formulas:
        out.head("formulas")
        for formula in made.formulas:
            out.text(f"{formula.usage} = {formula.expression.text}", 2, formula.expression)
            out.text(formula.note, 6)
    if made.steps:
        out.head("steps")
        for step in made.steps:
            unit = f" [{step.unit}]" if step.unit else ""
            out.text(f"{step.name}{unit} = {step.expression.text}", 2, step.expression)
            out.text(step.note, 6)


def _judge(made: RuleView, out: _Writer) -> None:
    out.head("judge")
    several = len(made.cases) > 1
    for number, case in enumerate(made.cases, 1):
        if several:
            when = f"where {case.when.text}" if case.when else "otherwise"
            out.text(f"{number}. {when}", 2, case.when)
        indent = 5 if several else 2
        unit = f", in {case.unit}" if case.unit else ""
        out.text(f"{case.measure} {case.relation} {case.limit}{unit}", indent, case.origin)
        if case.require is not None:
            out.text(f"required: {case.require.text}", indent, case.require)
        out.text(f"{case.fails_as}: {case.message.text}", indent, case.message)
        if case.passes is not None:
            out.text(f"pass: {case.passes.text}", indent, case.passes)
        for when, say in case.fixes:
            out.text(f"fix: {say.text}" + (f" (where {when})" if when else ""), indent, say)


class _Writer:
    """Wrapped lines, each part followed by its origin."""

    def __init__(self, style: Style, file: str) -> None:
        self.style = style
        self.file = file.rpartition(":")[0]
        self.lines: list[str] = []

    def head(self, text: str) -> None:
        self.lines += ["", self.style.bold(text)]

    def fact(self, name: str, text: str, part: Sourced | None = None) -> None:
        self._add(text, f"{name:<15}", " " * 17, part)

    def text(self, text: str, indent: int, part: Sourced | None = None) -> None:
        if text:
            self._add(text, " " * indent, " " * (indent + 2), part)

    def _add(self, text: str, lead: str, further: str, part: Sourced | None) -> None:
        wrapped = textwrap.wrap(
            printable(text),
            WIDTH,
            initial_indent=lead,
            subsequent_indent=further,
            break_long_words=False,
            break_on_hyphens=False,
        )
        if part is None:
            self.lines += wrapped
            return
        words = self._origin(part)
        if len(wrapped[-1]) + 3 + len(words) <= WIDTH:
            wrapped[-1] += "   " + self.style.dim(words)
        else:
            wrapped.append(further + self.style.dim(words))
        self.lines += wrapped

    def _origin(self, part: Sourced) -> str:
        file, _, number = part.place.rpartition(":")
        if not number:
            return printable(f"← {part.origin}")
        place = f"line {number}" if file == self.file else part.place
        return printable(f"← {part.origin}, {place}")
