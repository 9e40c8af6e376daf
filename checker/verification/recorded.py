"""What a report says of itself, read without trust: every value is looked at before it is used."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from checker.documents.errors import InputError, Problem
from checker.documents.forms import read_date
from checker.quantities.notation import NotationError

_DIGEST = re.compile(r"sha256:[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class RecordedAmendment:
    """An amendment that the report was made with."""

    id: str
    file: str
    digest: str


@dataclass(frozen=True, slots=True)
class Recorded:
    """A report's own account of what it was made from, and its findings.

    rules, tables: fingerprints by name.  judged_on: the day on which amendments were judged;
    as_of: the day on which decisions were.  findings: (rule, class, element) -> the finding as it
    stands in the report: a mapping, nothing else of which was looked at but kind, measure, limit
    and decision.  facts: what else the report says of the assembly, by name.
    steps_left_out: a large report that carries no calculation of what needs no action.
    """

    version: int
    assembly: str
    revision: str
    quantity: int
    edition: str
    design: str
    design_digest: str
    rules_digest: str
    tables_digest: str
    rules: dict[str, str]
    tables: dict[str, str]
    amendments: tuple[RecordedAmendment, ...]
    decisions_file: str
    decisions_digest: str | None
    judged_on: str | None
    as_of: str | None
    summary: dict[str, int]
    findings: dict[tuple[str, str, str], dict[str, Any]]
    facts: dict[str, Any]
    steps_left_out: bool


def recorded(report: dict[str, Any], path: str) -> Recorded:
    """Read a report's account.  Raises InputError where it is not as reports are."""
    take = _Take(path)
    assembly = take.mapping(report, "assembly")
    basis = take.mapping(report, "basis")
    prints = take.mapping(basis, "fingerprints")
    by_id = take.mapping(prints, "amendments", optional=True)
    decisions = take.list(report, "decisions")
    decisions_digest = prints.get("decisions")
    as_of = take.date(take.is_mapping(decisions[0]), "judged_on") if decisions else None
    return Recorded(
        version=report["version"],
        assembly=take.text(assembly, "id"),
        revision=take.text(assembly, "revision"),
        quantity=take.whole(assembly, "quantity"),
        edition=take.text(basis, "edition"),
        design=take.text(report, "file"),
        design_digest=take.digest(prints, "design"),
        rules_digest=take.digest(prints, "rules"),
        tables_digest=take.digest(prints, "tables"),
        rules=take.digests(basis, "rule_fingerprints"),
        tables=take.digests(basis, "table_fingerprints"),
        amendments=tuple(
            RecordedAmendment(name, take.text(item, "file"), take.digest(by_id, name))
            for item in map(take.is_mapping, take.list(basis, "amendments"))
            for name in [take.text(item, "id")]
        ),
        decisions_file=_decisions_file(take, basis, decisions),
        decisions_digest=None if decisions_digest is None else take.digest(prints, "decisions"),
        judged_on=_first(take.date(basis, "judged_on"), take.date(basis, "permit_date"), as_of),
        as_of=as_of,
        summary={
            kind: take.whole(counts, kind)
            for counts in [take.mapping(report, "summary")]
            for kind in counts
        },
        findings=_findings(take, report),
        facts={
            name: where[key]
            for name, where, key in (
                ("title", assembly, "title"),
                ("project", assembly, "project"),
                ("permit date", basis, "permit_date"),
                ("authority", basis, "authority"),
                ("units", report, "units"),
                ("amendments", basis, "amendments"),
                ("decisions", report, "decisions"),
                ("not covered", report, "not_covered"),
            )
            if key in where
        },
        steps_left_out="steps_of" in report,
    )


def _decisions_file(take: _Take, basis: dict[str, Any], decisions: list[Any]) -> str:
    if isinstance(basis.get("decisions_file"), str):
        return take.text(basis, "decisions_file")
    if decisions:
        return take.text(take.mapping(take.is_mapping(decisions[0]), "location"), "file")
    return ""


def _findings(take: _Take, report: dict[str, Any]) -> dict[tuple[str, str, str], dict[str, Any]]:
    found = {}
    for item in map(take.is_mapping, take.list(report, "findings")):
        subject = take.mapping(item, "subject")
        key = (take.text(item, "rule"), take.text(subject, "class"), take.text(subject, "id"))
        if key in found:
            raise take.wrong(f"two findings of {key[0]} on {key[1]} {key[2]}")
        decision = item.get("decision")
        take.text(item, "kind")
        if decision is not None:
            take.is_mapping(decision)
        for name in ("measure", "limit"):
            if item.get(name) is not None:
                take.text(take.mapping(item, name), "text")
        found[key] = item
    return found


@dataclass(frozen=True, slots=True)
class _Take:
    """Takes values of the kind that is wanted out of a report."""

    path: str

    def wrong(self, message: str) -> InputError:
        return InputError(
            Problem(
                self.path,
                0,
                0,
                f"the report is damaged: {message}",
                expected="a report as pullpoint wrote it; `pullpoint schema report` describes it",
            )
        )

    def is_mapping(self, value: Any) -> dict[str, Any]:
        if not isinstance(value, dict):
            raise self.wrong("a list holds something else than objects")
        return value

    def mapping(self, where: dict[str, Any], key: str, *, optional: bool = False) -> dict[str, Any]:
        value = where.get(key)
        if value is None and optional:
            return {}
        if not isinstance(value, dict):
            raise self.wrong(f"`{key}` is not an object")
        return value

    def list(self, where: dict[str, Any], key: str) -> list[Any]:
        value = where.get(key)
        if not isinstance(value, list):
            raise self.wrong(f"`{key}` is not a list")
        return value

    def text(self, where: dict[str, Any], key: str) -> str:
        value = where.get(key)
        if not isinstance(value, str):
            raise self.wrong(f"`{key}` is not text")
        return value

    def whole(self, where: dict[str, Any], key: str) -> int:
        value = where.get(key)
        if not isinstance(value, int) or isinstance(value, bool):
            raise self.wrong(f"`{key}` is not a whole number")
        return value

    def digest(self, where: dict[str, Any], key: str) -> str:
        value = where.get(key)
        if not isinstance(value, str) or not _DIGEST.fullmatch(value):
            raise self.wrong(f"`{key}` is not a fingerprint")
        return value

    def digests(self, where: dict[str, Any], key: str) -> dict[str, str]:
        values = self.mapping(where, key)
        return {name: self.digest(values, name) for name in values}

    def date(self, where: dict[str, Any], key: str) -> str | None:
        value = where.get(key)
        if value is None:
            return None
        try:
            return read_date(self.text(where, key))
        except NotationError:
            raise self.wrong(f"`{key}` is not a date") from None


def _first(*dates: str | None) -> str | None:
    """The first date that is stated; every one of them was checked on the way here."""
    return next((date for date in dates if date), None)
