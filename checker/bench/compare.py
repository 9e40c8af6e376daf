"""What an amendment changes on an assembly: findings under two rulebooks, side by side."""

from __future__ import annotations

from dataclasses import dataclass

from checker.assembly.records import Assembly
from checker.engine.evaluate import evaluate
from checker.findings.view import FindingView, Views
from checker.rulebook.book import Rulebook


@dataclass(frozen=True, slots=True)
class Difference:
    """A finding that is not the same under both.

    before, after: None where the rule is not in the rulebook.  facts: (what, before, after) of
    kind, measure, limit, citation, title and message, where they differ.
    """

    rule: str
    subject_class: str
    subject_id: str
    before: FindingView | None
    after: FindingView | None
    facts: tuple[tuple[str, str, str], ...]

    @property
    def decisive(self) -> bool:
        """Whether more than words and citations differ."""
        return any(what in ("kind", "measure", "limit") for what, _, _ in self.facts)


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything that differs.

    why: rule -> what amendments did to it; added, removed: rules of one rulebook alone;
    same: how many findings are the same in every word.
    """

    differences: tuple[Difference, ...]
    why: dict[str, tuple[str, ...]]
    added: tuple[str, ...]
    removed: tuple[str, ...]
    same: int


def compare(assembly: Assembly, before: Rulebook, after: Rulebook) -> Comparison:
    """The findings of an assembly under two rulebooks that differ by amendments."""
    old, new = _sides(assembly, before), _sides(assembly, after)
    differences = []
    same = 0
    for key in dict.fromkeys((*old, *new)):
        facts = _facts(old.get(key), new.get(key))
        if facts:
            differences.append(Difference(*key, old.get(key), new.get(key), facts))
        else:
            same += 1
    ids = [rule.id for rule in before.rules], [rule.id for rule in after.rules]
    touched = {d.rule for d in differences}
    return Comparison(
        differences=tuple(differences),
        why={name: why for name in touched if (why := _why(name, before, after))},
        added=tuple(name for name in ids[1] if name not in ids[0]),
        removed=tuple(name for name in ids[0] if name not in ids[1]),
        same=same,
    )


def _sides(assembly: Assembly, book: Rulebook) -> dict[tuple[str, str, str], FindingView]:
    views = Views(assembly, book)
    return {
        (f.rule.id, f.subject_class, f.subject_id): views.view(f) for f in evaluate(book, assembly)
    }


def _facts(
    before: FindingView | None, after: FindingView | None
) -> tuple[tuple[str, str, str], ...]:
    pairs = [
        ("kind", _kind(before), _kind(after)),
        ("measure", before.measure if before else "", after.measure if after else ""),
        ("limit", before.limit if before else "", after.limit if after else ""),
    ]
    if before is not None and after is not None:
        pairs += [
            ("citation", before.rule_citation, after.rule_citation),
            ("title", before.title, after.title),
            ("message", before.message, after.message),
        ]
    return tuple(pair for pair in pairs if pair[1] != pair[2])


def _kind(side: FindingView | None) -> str:
    return side.kind if side else ""


def _why(name: str, before: Rulebook, after: Rulebook) -> tuple[str, ...]:
    """What amendments did to a rule in the one rulebook and not in the other."""
    histories = []
    for book in (before, after):
        rule = next((rule for rule in book.rules if rule.id == name), None)
        histories.append(rule.record.history if rule else ())
    old, new = histories
    said = [line for line in new if line not in old]
    if name in after.withdrawn:
        said.append(_withdrawal(name, after))
    return tuple(said)


def _withdrawal(name: str, book: Rulebook) -> str:
    for amendment in book.amendments:
        for change in amendment.file.changes:
            if change.rule == name and change.withdraw and not change.amendment:
                return f"{amendment.id}: withdrawn ({change.reference}): {change.reason}"
    return f"{book.withdrawn[name]}: withdrawn"
