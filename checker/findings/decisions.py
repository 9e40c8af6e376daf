"""Joins recorded decisions to findings, and says what became of each.

A decision never removes a finding: it marks it.  It applies only while the rule, the element and
the measured value are as decided; once the value is worse, the rule has changed or the decision has
expired, the finding counts again by itself.

Two things a decision cannot do.  It does not apply to what is ``open`` for something not stated:
nothing was measured, so there is nothing that could have been decided, and accepting it would pass
what nobody stated.  (What a rule measured and reports as open is decided like a failing check, but
that a kind of detail is not described is answered by the design under ``not_covered``.)  And
without a date to judge on, a decision that expires does not apply: the day of the permit, the
nearest date at hand, lies before most decisions and would make every one of them last for ever.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from checker.documents.errors import Mark, nearest
from checker.documents.source import Source, read_source
from checker.rulebook.book import Rulebook

from .decided import stale
from .decision_records import DecisionFile, DecisionsFile, read_decisions
from .finding import Finding, Report
from .kinds import ACTION

#: What may become of a decision.  Only the first one counts.
STATUSES = (
    "applied",
    "expired",
    "not_yet",
    "undated",
    "stale",
    "incomplete",
    "open",
    "not_needed",
    "superseded",
    "unmatched",
    "other_assembly",
)
_DISPOSITIONS = {
    "accepted": "accepted",
    "corrected_in_field": "corrected in the field",
    "not_applicable_here": "not applicable here",
}
_NO_LONGER = {
    "pass": "the check passes",
    "notApplicable": "the rule does not apply to the element",
    "informational": "the finding is for information only",
}

_FILE_LIMIT = 2_000_000  # bytes; a decision takes about 300


@dataclass(frozen=True, slots=True)
class Judged:
    """A decision and what became of it: ``status`` is one of STATUSES, ``why`` says it in words.

    ``as_of`` is the date it was judged on, None where none was given.
    """

    decision: DecisionFile
    status: str
    why: str
    file: str
    mark: Mark
    as_of: str | None

    @property
    def applies(self) -> bool:
        """Whether the finding counts as decided."""
        return self.status == "applied"

    @property
    def disposition(self) -> str:
        """The disposition in words."""
        return _DISPOSITIONS[self.decision.disposition]

    @property
    def by(self) -> str:
        """Who decided, with the reference where an authority did, and when."""
        decision, authority = self.decision, self.decision.authority
        who = f"{decision.person}, {decision.role}"
        if authority is not None:
            who = f"{authority.name}, {authority.reference}, recorded by {who}"
        return f"{who}, on {decision.date}"

    def __str__(self) -> str:
        until = f", until {self.decision.expires}" if self.decision.expires else ""
        said = f"{self.disposition} by {self.by}{until}: {self.decision.reason}"
        return said if self.applies else f"does not count ({self.why}); was {said}"

    @property
    def notice(self) -> str:
        """What a reader has to know beside the finding; "" where there is nothing."""
        if not self.why:
            return ""
        decision = self.decision
        return (
            f"{self.file}:{self.mark.line}: the decision on {decision.rule}, {decision.element} "
            + (f"counts, but {self.why}" if self.applies else f"does not count: {self.why}")
        )

    def to_dict(self) -> dict[str, Any]:
        """The decision as reports carry it."""
        decision, authority = self.decision, self.decision.authority
        return {
            "rule": decision.rule,
            "element": decision.element,
            "class": decision.class_,
            "disposition": decision.disposition,
            "applies": self.applies,
            "status": self.status,
            "why": self.why,
            "judged_on": self.as_of,
            "measure": decision.measure,
            "limit": decision.limit or None,
            "rule_fingerprint": decision.rule_fingerprint or None,
            "authority": None
            if authority is None
            else {"name": authority.name, "reference": authority.reference},
            "person": decision.person,
            "role": decision.role,
            "date": decision.date,
            "expires": decision.expires,
            "reason": decision.reason,
            "location": {
                "file": self.file,
                "line": self.mark.line,
                "column": self.mark.column,
            },
        }


def join_file(report: Report, path: str, as_of: str | None) -> None:
    """Read a decision file and join it to a report.  Raises InputError.

    ``as_of`` (YYYY-MM-DD, checked by the caller) is the date on which decisions are judged.
    """
    source = read_source(path, limit=_FILE_LIMIT)
    judged = join(
        report.findings, read_decisions(source), source, as_of, report.book, report.assembly.id
    )
    report.decisions, report.decisions_source = judged, source
    report.notices = (*report.notices, *notices(judged, report.assembly.id))


def join(
    findings: Sequence[Finding],
    file: DecisionsFile,
    source: Source,
    as_of: str | None,
    book: Rulebook,
    assembly: str,
) -> tuple[Judged, ...]:
    """What became of each decision, in the file's order; sets ``decision`` of the findings.

    ``findings`` themselves stay as they are, every one of them.
    """
    by_name: dict[tuple[str, str], list[Finding]] = {}
    for finding in findings:
        by_name.setdefault((finding.rule.id, finding.subject_id), []).append(finding)
    judge = _Judge(by_name, source.path, as_of, book, file.assembly, assembly)
    judged: list[Judged] = []
    concerned: dict[int, tuple[Finding, list[int]]] = {}
    for place, decision in enumerate(file.decisions):
        done, on = judge.judge(decision)
        judged.append(done)
        if on is not None:
            concerned.setdefault(id(on), (on, []))[1].append(place)
    for decided, places in concerned.values():
        decided.decision = _settle(judged, places)
    return tuple(judged)


def _settle(judged: list[Judged], places: list[int]) -> Judged:
    """The decision that a finding carries; where one counts, the earlier ones are superseded."""
    counting = [p for p in places if judged[p].applies]
    chosen = max(counting or places, key=lambda p: (judged[p].decision.date, p))
    if counting:
        line = judged[chosen].mark.line
        for place in places:
            if place != chosen:
                why = f"the decision on line {line} stands in its place; it can be taken out"
                judged[place] = replace(judged[place], status="superseded", why=why)
    return judged[chosen]


def notices(judged: Sequence[Judged], assembly: str) -> tuple[str, ...]:
    """What a report has to tell of its decisions, one line each."""
    foreign = [j for j in judged if j.status == "other_assembly"]
    if foreign:
        first = foreign[0]
        return (f"{first.file}: {first.why}; none of its {len(foreign)} decisions counts",)
    return tuple(j.notice for j in judged if j.notice)


@dataclass(frozen=True, slots=True)
class _Judge:
    """Judges the decisions of one file on the findings of one assembly."""

    findings: dict[tuple[str, str], list[Finding]]
    file: str
    as_of: str | None
    book: Rulebook
    meant: str
    assembly: str

    def judge(self, decision: DecisionFile) -> tuple[Judged, Finding | None]:
        """What became of a decision, and the one finding that it is on."""
        if self.meant != self.assembly:
            why = f"the file is for assembly {self.meant}, this is {self.assembly}"
            return self._done(decision, "other_assembly", why), None
        here = [
            f
            for f in self.findings.get((decision.rule, decision.element), ())
            if decision.class_ in (None, f.subject_class)
        ]
        if len(here) != 1:
            return self._done(decision, "unmatched", self._why_not(decision, here)), None
        finding = here[0]
        return self._done(decision, *self._status(decision, finding)), finding

    def _done(self, decision: DecisionFile, status: str, why: str) -> Judged:
        return Judged(decision, status, why, self.file, decision.node.mark, self.as_of)

    def _status(self, decision: DecisionFile, finding: Finding) -> tuple[str, str]:
        if finding.kind == "open" and finding.rule.detail:
            return "open", (
                f"the description says nothing of the topic {finding.rule.detail}; state it, or "
                "list it with its reason under not_covered"
            )
        if finding.incomplete:
            lacking = ", ".join(finding.gaps) or finding.defect or "what the rule needs"
            return "open", (
                f"the finding is open, so nothing was measured that could be decided; state "
                f"{lacking}"
            )
        if finding.kind not in ACTION:
            return "not_needed", f"{_NO_LONGER[finding.kind]}; the decision can be taken out"
        as_of = self.as_of
        if as_of is not None and as_of < decision.date:
            return "not_yet", f"it was made on {decision.date}; it is judged on {as_of}"
        if decision.expires is not None:
            if as_of is None:
                return "undated", (
                    f"it holds until {decision.expires} and no date to judge it on was given "
                    "(--as-of)"
                )
            if as_of > decision.expires:
                return "expired", f"it held until {decision.expires}; it is judged on {as_of}"
        return stale(decision, finding, self.book)

    def _why_not(self, decision: DecisionFile, here: list[Finding]) -> str:
        if here:
            classes = " and ".join(f.subject_class for f in here)
            return f"the rule finds several elements of that name ({classes}); say `class:`"
        try:
            self.book.find(decision.rule)
        except LookupError as error:
            return str(error.args[0])
        of_rule = sorted({element for rule, element in self.findings if rule == decision.rule})
        if (decision.rule, decision.element) in self.findings:
            other = self.findings[decision.rule, decision.element][0].subject_class
            return f"{decision.element} is a {other}, not a {decision.class_}"
        turned = "+".join(reversed(decision.element.split("+")))
        close = turned if turned in of_rule else nearest(decision.element, of_rule)
        return f"the rule was not judged on an element called `{decision.element}`" + (
            f"; nearest: {close}" if close else ""
        )
