"""The rule author's bench as text: lists, sheets, test results and comparisons."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING

from checker.documents.errors import printable
from checker.paths import shown_path
from checker.rulebook.book import Rulebook

from .rule_sheet import Line, SharedWords, Sheet
from .style import Style

if TYPE_CHECKING:
    from checker.bench.compare import Comparison, Difference, Side
    from checker.bench.examples import Outcome
    from checker.bench.suite import Suite

_WIDTH = 100


def list_text(book: Rulebook, style: Style) -> str:
    """Every rule, by topic; an asterisk marks those that amendments touched."""
    lines: list[str] = []
    topic = ""
    for rule in sorted(book.rules, key=lambda r: (r.draft.topic, r.id)):
        draft = rule.draft
        if draft.topic != topic:
            topic = draft.topic
            lines += ["", style.bold(printable(topic))]
        name = rule.id + (" *" if draft.history else "")
        lines += textwrap.wrap(
            printable(rule.title),
            _WIDTH,
            initial_indent=f"  {name:<33}",
            subsequent_indent=" " * 35,
        )
        about = f"{' and '.join(draft.classes)}; {rule.citation}"
        lines += [style.dim(line) for line in _wrapped(about, 35)]
    lines += ["", f"{len(book.rules)} rules on {book.edition.title}"]
    shared = sorted({name for rule in book.rules for name in rule.draft.uses})
    if shared:
        lines += _wrapped(f"shared sheets: {', '.join(shared)} (`rules show` prints them too)", 0)
    for amendment in book.amendments:
        state = "in force" if amendment.in_force else f"not applied: {amendment.note}"
        lines.append(f"amendment {amendment.id}, {printable(amendment.file.title)}: {state}")
        for done in amendment.acted:
            lines += _wrapped(f"* {done}", 2)
    lines += [f"withdrawn: {rule} (by {who})" for rule, who in book.withdrawn.items()]
    for notice in book.notices:
        lines += _wrapped(f"note: {notice}", 0)
    return "\n".join(lines[1:]) + "\n"


def list_json(book: Rulebook) -> str:
    """Every rule as plain data."""
    rules = [
        {
            "rule": rule.id,
            "title": rule.title,
            "topic": rule.draft.topic,
            "checked_on": list(rule.draft.classes),
            "citation": rule.citation,
            "fails_as": rule.draft.fails_as,
            "file": shown_path(rule.draft.file),
            "amended": list(rule.draft.history),
            "fingerprint": rule.draft.digest,
        }
        for rule in book.rules
    ]
    return json.dumps(rules, ensure_ascii=False, indent=1) + "\n"


# -- one rule -------------------------------------------------------------------------------


def show_text(made: Sheet, examples: list[str], notices: Sequence[str], style: Style) -> str:
    """A rule with the origin of every part; a line number alone is of the rule's own file."""
    out = _Writer(style, made.file)
    out.lines.append(style.bold(made.id))
    out.text(made.title.text, 2, made.title)
    for notice in notices:
        out.text(f"note: {notice}", 2)
    out.lines.append("")
    out.fact("file", made.file)
    out.fact("cites", made.cite.text, made.cite)
    if made.cited_by:
        out.fact("finding cites", made.cited_by)
    out.fact("topic", made.topic)
    out.fact("checked on", made.on)
    if not made.conditions:
        out.fact("applies", "everywhere")
    for word, line, note in made.conditions:
        out.fact("applies", f"{word} {line.text}" + (f" ({note})" if note else ""), line)
    if made.fails_as is not None:
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


def shared_text(made: SharedWords, notices: Sequence[str], style: Style) -> str:
    """A shared sheet with the origin of every part."""
    out = _Writer(style, made.file)
    out.lines.append(style.bold(made.id))
    out.text(made.title, 2)
    for notice in notices:
        out.text(f"note: {notice}", 2)
    out.lines.append("")
    out.fact("file", made.file)
    out.fact("used by", ", ".join(made.users) or "no rule")
    if made.note:
        out.fact("note", made.note)
    _calculation(made, out)
    if made.sources:
        out.head("sources")
        for entry in made.sources:
            out.text(entry, 2)
    return "\n".join(out.lines) + "\n"


def _calculation(made: Sheet | SharedWords, out: _Writer) -> None:
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


def _judge(made: Sheet, out: _Writer) -> None:
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
        for when, say in case.mends:
            out.text(f"mend: {say.text}" + (f" (where {when})" if when else ""), indent, say)


class _Writer:
    """Wrapped lines, each part followed by its origin."""

    def __init__(self, style: Style, file: str) -> None:
        self.style = style
        self.file = file.rpartition(":")[0]
        self.lines: list[str] = []

    def head(self, text: str) -> None:
        self.lines += ["", self.style.bold(text)]

    def fact(self, name: str, text: str, line: Line | None = None) -> None:
        self._add(text, f"{name:<15}", " " * 17, line)

    def text(self, text: str, indent: int, line: Line | None = None) -> None:
        if text:
            self._add(text, " " * indent, " " * (indent + 2), line)

    def _add(self, text: str, lead: str, further: str, line: Line | None) -> None:
        wrapped = textwrap.wrap(
            printable(text),
            _WIDTH,
            initial_indent=lead,
            subsequent_indent=further,
            break_long_words=False,
            break_on_hyphens=False,
        )
        if line is None:
            self.lines += wrapped
            return
        words = self._origin(line)
        if len(wrapped[-1]) + 3 + len(words) <= _WIDTH:
            wrapped[-1] += "   " + self.style.dim(words)
        else:
            wrapped.append(further + self.style.dim(words))
        self.lines += wrapped

    def _origin(self, line: Line) -> str:
        file, _, number = line.place.rpartition(":")
        if not number:
            return printable(f"← {line.origin}")
        place = f"line {number}" if file == self.file else line.place
        return printable(f"← {line.origin}, {place}")


# -- tests ----------------------------------------------------------------------------------


def test_text(suites: list[Suite], style: Style, *, show: str) -> str:
    """What became of the examples; ``show`` is ``fail`` (what differs) or ``all``."""
    lines: list[str] = []
    for suite in suites:
        lines += _suite(suite, style, show)
    return "\n".join([*lines, *_totals(suites, style)]) + "\n"


def _suite(suite: Suite, style: Style, show: str) -> list[str]:
    differing, total = suite.differing, len(suite.outcomes)
    bad = differing or suite.problems
    word = style.kind("fail", "DIFFERS") if differing else style.kind("pass", "holds  ")
    if suite.problems:
        word = style.kind("fail", "WRONG  ")
    editions = sorted({edition for edition, _ in suite.outcomes})
    lines = [
        f"{word} {suite.kind} {style.bold(printable(suite.name))}: "
        + (f"{differing} of {total} runs differ" if differing else _count(total, "run"))
        + (f" ({', '.join(editions)})" if editions else "")
        + f"  {printable(shown_path(suite.path))}"
    ]
    for remark in suite.remarks:
        lines.append("        note: " + printable(remark))
    for group in _same(suite):
        if show == "all" or not group[0][1].holds:
            lines += _outcome(group, style, show)
    return [*lines, ""] if bad or show == "all" else lines


def _same(suite: Suite) -> list[list[tuple[str, Outcome]]]:
    """Outcomes of one example that are alike under several editions, together."""
    groups: list[list[tuple[str, Outcome]]] = []
    for edition, outcome in suite.outcomes:
        for group in groups:
            other = group[0][1]
            if (
                other.example is outcome.example
                and (other.got, other.differences) == (outcome.got, outcome.differences)
                and other.detail == outcome.detail
            ):
                group.append((edition, outcome))
                break
        else:
            groups.append([(edition, outcome)])
    return groups


def _outcome(group: list[tuple[str, Outcome]], style: Style, show: str) -> list[str]:
    outcome = group[0][1]
    editions = ", ".join(edition for edition, _ in group)
    word = style.kind("pass", "holds  ") if outcome.holds else style.kind("fail", "DIFFERS")
    place = f"{printable(shown_path(outcome.source.path))}:{outcome.mark.line}"
    lines = [
        f"  {word} {printable(outcome.name)}  [{editions}]  {place}",
        f"          expected {outcome.expected}, got {outcome.got}",
    ]
    for difference in outcome.differences:
        if not difference.startswith("expected "):
            lines += _wrapped("differs: " + difference, 10)
    if outcome.example.source:
        lines += _wrapped("source: " + outcome.example.source, 10)
    detail = outcome.detail
    if detail is not None and (show == "all" or not outcome.holds):
        for step in detail.steps:
            lines += _wrapped(f"{step.name}: {step.text}", 12)
        if detail.measure is not None and detail.limit is not None:
            lines += _wrapped(f"measure {detail.measure.text}, limit {detail.limit.text}", 12)
        lines += _wrapped(f"said: {detail.message}", 12)
    return lines


def _totals(suites: list[Suite], style: Style) -> list[str]:
    total = sum(len(s.outcomes) for s in suites)
    differing = sum(s.differing for s in suites)
    rules = sum(s.kind == "rule" for s in suites)
    amendments = len(suites) - rules
    parts = [_count(n, word) for n, word in ((rules, "rule"), (amendments, "amendment")) if n]
    examples = len({id(o.example) for suite in suites for _, o in suite.outcomes})
    said = f"{_count(examples, 'example')} of {' and '.join(parts)}, {_count(total, 'run')}: "
    said += f"{total - differing} hold, {differing} differ" if differing else "all hold"
    wrong = sum(bool(s.problems) for s in suites)
    if wrong:
        said += f"; {wrong} cannot be tested as {'it is' if wrong == 1 else 'they are'}"
    return [style.kind("fail" if differing or wrong else "pass", said)]


def _count(number: int, word: str) -> str:
    return f"{number} {word}" + ("" if number == 1 else "s")


def _wrapped(text: str, indent: int) -> list[str]:
    return textwrap.wrap(
        printable(text),
        _WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + 2),
        break_long_words=False,
        break_on_hyphens=False,
    )


# -- comparisons ----------------------------------------------------------------------------


def compare_text(
    found: Comparison, title: str, notices: Sequence[str], style: Style, *, show: str
) -> str:
    """Which findings change, from what to what, and why; rule by rule."""
    lines = [style.bold(printable(title))]
    for notice in notices:
        lines += _wrapped(f"note: {notice}", 0)
    lines.append("")
    for word, names in (("adds", found.added), ("withdraws", found.removed)):
        lines += [f"{word} the rule {name}" for name in names]
    if found.added or found.removed:
        lines.append("")
    by_rule: dict[str, list[Difference]] = {}
    for difference in found.differences:
        by_rule.setdefault(difference.rule, []).append(difference)
    for rule, differences in by_rule.items():
        lines += _of_rule(rule, differences, found, style, show)
    return "\n".join([*lines, *_counted(found)]) + "\n"


def _of_rule(
    rule: str, differences: list[Difference], found: Comparison, style: Style, show: str
) -> list[str]:
    lines = [style.bold(rule)]
    for why in found.why.get(rule, ()):
        lines += _wrapped("because " + why, 2)
    shared = _shared(differences)
    for what, before, after in shared:
        lines += _wrapped(f"{what}: {before or 'none'} → {after or 'none'}", 2)
    quiet = [d for d in differences if show == "fail" and not _loud(d)]
    for difference in differences:
        if difference in quiet:
            continue
        head = f"{difference.subject_class} {printable(difference.subject_id)}"
        lines.append(f"  {head}: " + _kinds(difference, style))
        for what, before, after in difference.facts:
            if what != "kind" and (what, before, after) not in shared:
                lines += _wrapped(f"{what}: {before or 'none'} → {after or 'none'}", 6)
    if quiet:
        lines.append(f"  {_counted_kinds(quiet)}; --show all lists them")
    return [*lines, ""]


def _shared(differences: list[Difference]) -> list[tuple[str, str, str]]:
    """Facts that are the same for every finding of the rule, such as its citation."""
    shared = [f for f in differences[0].facts if f[0] in ("citation", "title", "limit")]
    return [f for f in shared if all(f in d.facts for d in differences)]


def _loud(difference: Difference) -> bool:
    """Whether a finding changes its kind, or needs somebody either way."""
    sides = [s for s in (difference.before, difference.after) if s is not None]
    kinds = {side.finding.kind for side in sides}
    changed = len(kinds) > 1 or len(sides) < 2
    return (changed and kinds - {"pass", "notApplicable"} != set()) or bool(
        kinds & {"fail", "open", "review"} and difference.decisive
    )


def _kinds(difference: Difference, style: Style) -> str:
    def word(side: Side | None) -> str:
        return style.kind(side.finding.kind, side.finding.kind) if side else "not judged"

    before, after = word(difference.before), word(difference.after)
    return before if before == after else f"{before} → {after}"


def _counted_kinds(differences: list[Difference]) -> str:
    counts: dict[str, int] = {}
    for difference in differences:
        before = difference.before.finding.kind if difference.before else "not judged"
        after = difference.after.finding.kind if difference.after else "not judged"
        words = before if before == after else f"{before} → {after}"
        counts[words] = counts.get(words, 0) + 1
    return ", ".join(f"{n} more {words}" for words, n in counts.items())


def _counted(found: Comparison) -> list[str]:
    kinds = sum(any(f[0] == "kind" for f in d.facts) for d in found.differences)
    numbers = sum(
        d.decisive and not any(f[0] == "kind" for f in d.facts) for d in found.differences
    )
    words = len(found.differences) - kinds - numbers
    return [
        f"{kinds} findings change their kind, {numbers} their measure or limit, {words} only "
        f"words or citation; {found.same} are the same"
    ]
