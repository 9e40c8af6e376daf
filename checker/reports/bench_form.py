"""The author's bench as text: results of examples, and comparisons of rulebooks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from checker.documents.errors import printable
from checker.findings.kinds import ACTION, QUIET
from checker.paths import shown_path

from .rule_form import block
from .style import Style

if TYPE_CHECKING:
    from checker.bench.compare import Comparison, Difference
    from checker.bench.examples import Outcome
    from checker.bench.suite import Suite
    from checker.findings.view import FindingView


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
    word = style.kind("fail", "DIFFERS") if differing else style.kind("pass", "passes ")
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
                and _calculation(other) == _calculation(outcome)
            ):
                group.append((edition, outcome))
                break
        else:
            groups.append([(edition, outcome)])
    return groups


def _calculation(outcome: Outcome) -> object:
    return outcome.view and outcome.view.detail


def _outcome(group: list[tuple[str, Outcome]], style: Style, show: str) -> list[str]:
    outcome = group[0][1]
    editions = ", ".join(edition for edition, _ in group)
    word = style.kind("pass", "passes ") if outcome.holds else style.kind("fail", "DIFFERS")
    place = f"{printable(shown_path(outcome.source.path))}:{outcome.mark.line}"
    lines = [
        f"  {word} {printable(outcome.name)}  [{editions}]  {place}",
        f"          expected {outcome.expected}, got {outcome.got}",
    ]
    for difference in outcome.differences:
        if not difference.startswith("expected "):
            lines += block("differs: " + difference, 10)
    if outcome.example.source:
        lines += block("source: " + outcome.example.source, 10)
    view = outcome.view
    if view is not None and (show == "all" or not outcome.holds):
        for step in view.steps:
            lines += block(f"{step.name}: {step.text}", 12)
        if view.measure and view.limit:
            lines += block(f"measure {view.measure}, limit {view.limit}", 12)
        lines += block(f"said: {view.message}", 12)
    return lines


def _totals(suites: list[Suite], style: Style) -> list[str]:
    total = sum(len(s.outcomes) for s in suites)
    differing = sum(s.differing for s in suites)
    rules = sum(s.kind == "rule" for s in suites)
    amendments = len(suites) - rules
    parts = [_count(n, word) for n, word in ((rules, "rule"), (amendments, "amendment")) if n]
    examples = len({id(o.example) for suite in suites for _, o in suite.outcomes})
    said = f"{_count(examples, 'example')} of {' and '.join(parts)}, {_count(total, 'run')}: "
    said += f"{total - differing} pass, {differing} differ" if differing else "all pass"
    wrong = sum(bool(s.problems) for s in suites)
    if wrong:
        said += f"; {wrong} cannot be tested as {'it is' if wrong == 1 else 'they are'}"
    return [style.kind("fail" if differing or wrong else "pass", said)]


def _count(number: int, word: str) -> str:
    return f"{number} {word}" + ("" if number == 1 else "s")


# -- comparisons ----------------------------------------------------------------------------


def compare_text(
    found: Comparison, title: str, notices: Sequence[str], style: Style, *, show: str
) -> str:
    """Which findings change, from what to what, and why; rule by rule."""
    lines = [style.bold(printable(title))]
    for notice in notices:
        lines += block(f"note: {notice}", 0)
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
        lines += block("because " + why, 2)
    shared = _shared(differences)
    for what, before, after in shared:
        lines += block(f"{what}: {before or 'none'} → {after or 'none'}", 2)
    quiet = [d for d in differences if show == "fail" and not _loud(d)]
    for difference in differences:
        if difference in quiet:
            continue
        head = f"{difference.subject_class} {printable(difference.subject_id)}"
        lines.append(f"  {head}: " + _kinds(difference, style))
        for what, before, after in difference.facts:
            if what != "kind" and (what, before, after) not in shared:
                lines += block(f"{what}: {before or 'none'} → {after or 'none'}", 6)
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
    kinds = {side.kind for side in sides}
    changed = len(kinds) > 1 or len(sides) < 2
    return (changed and not kinds <= set(QUIET)) or bool(
        kinds & set(ACTION) and difference.decisive
    )


def _kinds(difference: Difference, style: Style) -> str:
    def word(side: FindingView | None) -> str:
        return style.kind(side.kind, side.kind) if side else "not judged"

    before, after = word(difference.before), word(difference.after)
    return before if before == after else f"{before} → {after}"


def _counted_kinds(differences: list[Difference]) -> str:
    counts: dict[str, int] = {}
    for difference in differences:
        before = difference.before.kind if difference.before else "not judged"
        after = difference.after.kind if difference.after else "not judged"
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
