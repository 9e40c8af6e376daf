"""A finding: one rule evaluated on one element, with its kind.

The kinds are those of the open SARIF 2.1.0 vocabulary.  ``open`` means that the description does
not state what the rule needs, or that the rule reports as open what it found (``fails_as: open``);
``review`` that a person must decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from checker.assembly.records import Assembly, Record
from checker.documents.errors import Mark
from checker.documents.fields import given_fields
from checker.documents.missing import detail_of
from checker.documents.source import Source
from checker.rulebook.book import Rule, Rulebook
from checker.rulebook.citing import citation_of

from .kinds import BLOCKING

if TYPE_CHECKING:
    from checker.rulebook.forms import Case, Form


class Finding:
    """One rule on one element.

    There is one for every rule on every element, so it is kept small: ``found`` is what the
    compiled rule gave, and the properties name its parts.
    """

    __slots__ = ("_more", "form", "found", "kind", "rule", "subject")

    def __init__(
        self,
        rule: Rule,
        form: Form,
        subject: Any,
        kind: str,
        found: tuple[Any, ...] = (None,),
        more: dict[str, Any] | None = None,
    ) -> None:
        self.rule = rule
        self.form = form
        self.subject = subject
        self.kind = kind
        self.found = found
        self._more = more

    @property
    def code(self) -> int | None:
        """Index of the case that decided.

        -1 - i where condition i keeps the rule from applying, -101 - i for exception i; None where
        that is unknown.
        """
        return self.found[0]  # type: ignore[no-any-return]

    @property
    def measure(self) -> Any:
        """The measure in base units, or a designation; None where unknown."""
        return self.found[2] if len(self.found) > 2 else None

    @property
    def limit(self) -> Any:
        """The limit, as the measure."""
        return self.found[3] if len(self.found) > 2 else None

    @property
    def values(self) -> tuple[Any, ...]:
        """Results of the steps that the case rests on, in the order of ``case.steps``."""
        return self.found[4:]

    @property
    def gaps(self) -> tuple[str, ...]:
        """What the description lacks."""
        return self._more.get("gaps", ()) if self._more else ()

    @property
    def incomplete(self) -> bool:
        """Whether it is open for what the description does not state.

        Otherwise the rule measured something and reports it as open: its own message says what.
        """
        return self.kind == "open" and (self.code is None or bool(self.gaps or self.defect))

    @property
    def left_out(self) -> tuple[str, ...]:
        """The kinds of detail that the design leaves out on purpose, where that is why."""
        return self._more.get("left_out", ()) if self._more else ()

    @property
    def defect(self) -> str:
        """Why the rule could not be evaluated, or ""."""
        return self._more.get("defect", "") if self._more else ""

    @property
    def decision(self) -> Any:
        """The decision that applies to it, once decisions are joined."""
        return self._more.get("decision") if self._more else None

    @decision.setter
    def decision(self, decision: Any) -> None:
        self._more = {**(self._more or {}), "decision": decision}

    @property
    def subject_class(self) -> str:
        """The class of the element."""
        return self.form.subject

    @property
    def subject_id(self) -> str:
        """The element's id."""
        return str(self.subject.id)

    @property
    def citation(self) -> str:
        """The section of the element, where the rule has one for it; else those of the rule."""
        sections = self.rule.sections
        own = None if sections is None else citation_of(sections, self.subject)
        return self.rule.citation if own is None else own

    @property
    def case(self) -> Case | None:
        """The case that decided, where one did."""
        return self.form.cases[self.code] if self.code is not None and self.code >= 0 else None

    @property
    def ratio(self) -> float | None:
        """Measure over limit, for ranking; over 1 is beyond the limit whichever way it runs."""
        measure, limit = self.measure, self.limit
        if not isinstance(measure, (int, float)) or not isinstance(limit, (int, float)):
            return None
        if self.at_least:
            measure, limit = limit, measure
        return measure / limit if limit else None

    @property
    def at_least(self) -> bool:
        """Whether the limit is the least that the measure may be; at most, otherwise."""
        return self.case is not None and self.case.at_least

    @property
    def relation(self) -> str:
        """The same in words."""
        return "at least" if self.at_least else "at most"

    @property
    def mark(self) -> Mark:
        """Where the finding points: the field that the rule names, else the element."""
        node = self.subject.node
        key = self.rule.at
        if key:
            for item in given_fields(type(self.subject)):
                if item.name == key and item.key in node:
                    place: Mark = self._named_in(key) or node.value_mark(item.key)
                    return place
        start: Mark = node.mark
        return start

    def _named_in(self, key: str) -> Mark | None:
        """Where the calculation names one item of the field's list, such as a wire: that item."""
        items = getattr(self.subject, key)
        if not isinstance(items, tuple):
            return None
        for value in self.values:
            named = value[0] if isinstance(value, list) and value else value
            if isinstance(named, Record) and any(named is item for item in items):
                mark: Mark = named.node.mark
                return mark
        return None

    @property
    def accepted(self) -> bool:
        """Whether a valid decision accepts it."""
        return self.decision is not None and bool(getattr(self.decision, "applies", False))

    @property
    def blocking(self) -> bool:
        """Whether it stands in the way of a release."""
        return self.kind in BLOCKING and not self.accepted


def excused(finding: Finding, assembly: Assembly) -> Finding:
    """The finding, or one that does not apply where it asks only for what the design leaves out.

    What it asks for are the fields that it names as not stated or, where the rule itself reports
    that a kind of detail is not described, that kind.
    """
    left_out = assembly.left_out
    if not left_out or finding.kind not in ("open", "review") or finding.defect:
        return finding
    asked = [detail_of(gap) for gap in finding.gaps] or [finding.rule.detail]
    if not all(detail in left_out for detail in asked):
        return finding
    more = {"left_out": tuple(dict.fromkeys(asked))}
    return Finding(finding.rule, finding.form, finding.subject, "notApplicable", more=more)


class AllFindings(Sequence[Finding]):
    """The findings of a check, in the order of rules, classes and elements; see ``found``.

    counts: how many there are of each kind, in the contract's order; notable: those that neither
    hold nor do not apply.
    """

    __slots__ = ()
    counts: dict[str, int]
    notable: tuple[Finding, ...]


@dataclass(slots=True, eq=False)
class Report:
    """Everything that a report form needs.

    notices: what a reader has to know beside the findings; decisions: every decision with what
    became of it; date: the date of the report, where one was given; judged_on: the date on which
    amendments and rules were judged to be in force.
    """

    assembly: Assembly
    source: Source
    book: Rulebook
    findings: AllFindings
    notices: tuple[str, ...] = ()
    decisions: tuple[Any, ...] = ()
    decisions_source: Source | None = None
    date: str = ""
    judged_on: str = ""
    extra: dict[str, Any] = field(default_factory=dict)

    @property
    def summary(self) -> dict[str, int]:
        """How many findings there are of each kind, in the contract's order."""
        return dict(self.findings.counts)

    @property
    def exit_status(self) -> int:
        """0 nothing failing or open, 1 something is, 3 a rule could not be evaluated."""
        status = 0
        for finding in self.findings.notable:
            if finding.kind in BLOCKING:
                if finding.defect:
                    return 3
                if finding.blocking:
                    status = 1
        return status
