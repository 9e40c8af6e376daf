"""Whether a report still matches what it was made from, and what has changed since, by name.

First the fingerprints: design, rules, tables, amendments, decisions.  Where none of them has
changed, the design is judged again, and its findings have to come out as the report has them; so a
report that was edited, or a program that judges otherwise, shows as well.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from checker.documents.errors import InputError
from checker.documents.source import read_bytes, read_source
from checker.findings.kinds import ACTION
from checker.rulebook.book import Rulebook, edition_ids, load_rulebook

from .recorded import Recorded

_MOST = 64 * 1024 * 1024


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that is not as the report has it: ``what`` it is, its name, and how it differs."""

    what: str
    name: str
    how: str

    def __str__(self) -> str:
        return f"{self.what} {self.name}: {self.how}" if self.name else f"{self.what}: {self.how}"


@dataclass(slots=True)
class Verification:
    """What was compared and what came of it."""

    report: Recorded
    design: str | None = None
    changes: list[Change] = field(default_factory=list)
    compared: list[str] = field(default_factory=list)


def verify(report: Recorded, *, folder: str = "", design: str | None = None) -> Verification:
    """Compare a report with the files as they are now.

    ``folder`` is the report's own; files that are not found from the current folder are looked for
    from there.  ``design`` stands in for the design's path.  Raises InputError where ``design``
    cannot be read; files that the report names and that are gone are changes.
    """
    done = Verification(report)
    find = _Finder(folder, report.design, design)
    _design(done, find)
    amendments = _amendments(done, find)
    book = _book(done, amendments)
    decisions = _decisions(done, find)
    if not done.changes and book is not None and done.design is not None:
        _findings(done, book, done.design, decisions)
    return done


@dataclass(frozen=True, slots=True)
class _Finder:
    """Finds the files that a report names."""

    folder: str
    old_design: str
    new_design: str | None

    def find(self, path: str) -> str | None:
        """The file of that name: from the current folder, else from the report's.

        Beside another design than the report's, it is looked for where it lay beside the old one.
        """
        places = [path, os.path.join(self.folder, path)]
        if self.new_design is not None and not os.path.isabs(path):
            beside = os.path.relpath(path, os.path.dirname(self.old_design) or ".")
            places.insert(0, os.path.join(os.path.dirname(self.new_design), beside))
        return next((place for place in places if os.path.isfile(place)), None)


def _digest(data: bytes) -> str:
    return "sha256:" + hashlib.sha256(data).hexdigest()


def design_digest(path: str) -> str:
    """The fingerprint of a design with the files that it uses; "" where it cannot be read now."""
    from checker.assembly.short.expand import fingerprint

    try:
        return fingerprint(read_source(path))
    except InputError:
        return ""


def _first(error: InputError) -> str:
    problem = error.problems[0]
    place = f"{problem.file}:{problem.line}: " if problem.line else f"{problem.file}: "
    return place + problem.message


# -- files ----------------------------------------------------------------------------------


def _same_file(
    done: Verification, find: _Finder, what: str, name: str, path: str, digest: str
) -> str | None:
    """The file where it is there, whether it has changed or not."""
    found = find.find(path)
    shown = f"{name} ({path})" if name else path
    if found is None:
        done.changes.append(Change(what, shown, "there is no such file"))
        return None
    try:
        data = read_bytes(found, _MOST)
    except InputError as error:
        done.changes.append(Change(what, shown, error.problems[0].message))
        return None
    if _digest(data) != digest and (what != "design" or design_digest(found) != digest):
        where = f" ({found})" if found != path else ""
        done.changes.append(Change(what, shown, f"the file has changed{where}"))
    return found


def _design(done: Verification, find: _Finder) -> None:
    report = done.report
    done.compared.append("design")
    if find.new_design is None:
        found = _same_file(done, find, "design", "", report.design, report.design_digest)
        done.design = found
        return
    done.design = find.new_design
    data = read_bytes(find.new_design, _MOST)
    if report.design_digest not in (_digest(data), design_digest(find.new_design)):
        done.changes.append(Change("design", find.new_design, "it is not the report's"))


def _amendments(done: Verification, find: _Finder) -> list[str] | None:
    """The amendments' files in order, None where one is not there."""
    paths: list[str] | None = []
    for amendment in done.report.amendments:
        found = _same_file(done, find, "amendment", amendment.id, amendment.file, amendment.digest)
        if found is None:
            paths = None
        elif paths is not None:
            paths.append(found)
    count = len(done.report.amendments)
    if count:
        done.compared.append(f"{count} amendment" + ("s" if count != 1 else ""))
    return paths


def _decisions(done: Verification, find: _Finder) -> str | None:
    report = done.report
    if report.decisions_digest is None:
        return None
    done.compared.append("decisions")
    if not report.decisions_file:
        done.changes.append(Change("decisions", "", "the report does not name their file"))
        return None
    return _same_file(done, find, "decisions", "", report.decisions_file, report.decisions_digest)


# -- rules and tables -----------------------------------------------------------------------


def _book(done: Verification, amendments: list[str] | None) -> Rulebook | None:
    """The rulebook as it is now, compared; None where there is none, which is a change."""
    report = done.report
    known = edition_ids()
    if report.edition not in known:
        how = f"it is not shipped any more; there are {', '.join(known)}"
        done.changes.append(Change("edition", report.edition, how))
        return None
    if amendments is None:
        how = "they cannot be compared without every amendment"
        done.changes.append(Change("rules", "", how))
        return None
    try:
        book = load_rulebook(report.edition, amendments, date=report.judged_on)
        _rules(done, book)
        _tables(done, book)
    except InputError as error:
        done.changes.append(Change("rules", "", f"they cannot be loaded: {_first(error)}"))
        return None
    return book


def _rules(done: Verification, book: Rulebook) -> None:
    report = done.report
    now = {rule.id: rule.digest for rule in book.rules}
    named = _by_name("rule", report.rules, now, book.withdrawn)
    if not named and book.digest != report.rules_digest:
        named = [Change("rules", "", "the rulebook differs as a whole, its rules do not")]
    done.changes += named
    done.compared.append(f"{len(now)} rules")


def _tables(done: Verification, book: Rulebook) -> None:
    report = done.report
    now = {name: book.tables[name].digest for name in report.tables if name in book.tables}
    named = _by_name("table", report.tables, now, {})
    if not named and book.tables_digest != report.tables_digest:
        how = "their files have changed, but no number that these rules look up has"
        named = [Change("tables", "", how)]
    done.changes += named
    done.compared.append(f"{len(now)} tables that its rules look into")


def _by_name(
    what: str, then: Mapping[str, str], now: Mapping[str, str], withdrawn: Mapping[str, str]
) -> list[Change]:
    changes = []
    for name in sorted(then.keys() | now.keys()):
        if name not in now:
            by = f": amendment {withdrawn[name]} withdraws it" if name in withdrawn else ""
            changes.append(Change(what, name, "it is not there any more" + by))
        elif name not in then:
            changes.append(Change(what, name, "it was added since"))
        elif then[name] != now[name]:
            changes.append(Change(what, name, "it has changed"))
    return changes


# -- findings -------------------------------------------------------------------------------


def _findings(done: Verification, book: Rulebook, design: str, decisions_path: str | None) -> None:
    """Judge again.  Every input is as it was, so every finding has to be."""
    from checker.assembly import read_assembly
    from checker.engine.evaluate import evaluate
    from checker.engine.trade import TRADE
    from checker.findings.decision_records import read_decisions
    from checker.findings.decisions import join
    from checker.findings.not_covered import not_covered
    from checker.findings.plain import plain_amendments, plain_decision, plain_facts, plain_finding
    from checker.findings.view import Views

    report = done.report
    try:
        assembly, source = read_assembly(design, TRADE)
        if source.digest != report.design_digest:
            done.changes.append(Change("design", design, "it changed while it was compared"))
            return
        findings = evaluate(book, assembly, dated=report.judged_on is not None)
        judged: tuple[Any, ...] = ()
        if decisions_path is not None:
            file = read_source(decisions_path)
            judged = join(findings, read_decisions(file), file, report.as_of, book, assembly.id)
    except InputError as error:
        done.changes.append(Change("design", design, f"it is refused now: {_first(error)}"))
        return
    now = {(f.rule.id, f.subject_class, f.subject_id): f for f in findings}
    views = Views(assembly, book)
    for key in sorted(report.findings.keys() | now.keys()):
        name = f"{key[0]} on {key[1]} {key[2]}"
        if key not in now:
            done.changes.append(Change("finding", name, "nothing is found there now"))
        elif key not in report.findings:
            done.changes.append(Change("finding", name, "the report does not have it"))
        else:
            then, plain = report.findings[key], plain_finding(views.view(now[key]), design)
            if report.version == 1:
                plain["mend"] = "; or ".join(plain.pop("fixes"))
            silent = report.steps_left_out and plain["kind"] not in _WITH_STEPS
            if silent and then.get("steps") == []:
                plain["steps"] = []
            how = _difference(then, plain)
            if how:
                done.changes.append(Change("finding", name, how))
    facts = (assembly.id, assembly.revision, assembly.quantity)
    if facts != (report.assembly, report.revision, report.quantity):
        said = "id, revision or quantity are not the design's"
        done.changes.append(Change("assembly", str(report.assembly), said))
    facts_now = {
        **plain_facts(assembly, findings),
        "amendments": plain_amendments(book),
        "decisions": [plain_decision(decision) for decision in judged],
        "not covered": not_covered(assembly, book),
    }
    for name, fact in facts_now.items():
        if _placeless(report.facts.get(name, fact)) != _placeless(fact):
            done.changes.append(Change(name, "", "the report does not have what its files give"))
    counts = dict.fromkeys(report.summary, 0)
    for finding in findings:
        counts[finding.kind] = counts.get(finding.kind, 0) + 1
    if counts != report.summary:
        done.changes.append(Change("summary", "", "its numbers are not those of the findings"))
    done.compared.append(f"{len(now)} findings judged again")


#: Kinds whose calculation every report carries.
_WITH_STEPS = ACTION
#: What earlier versions of the program did not write of a finding.
_ADDED = ("title", "missing", "relation", "note", "formula")


def _difference(then: Mapping[str, Any], now: Mapping[str, Any]) -> str:
    """How a finding differs from the report's, or nothing."""
    if then["kind"] != now["kind"]:
        return f"it is {now['kind']}, the report has {then['kind']}"
    counts = [(f.get("decision") or {}).get("applies") is True for f in (now, then)]
    if counts[0] != counts[1]:
        said = "a decision counts" if counts[0] else "no decision counts"
        return f"{said}; the report has it otherwise"
    for name in ("measure", "limit"):
        shown, had = ((f.get(name) or {}).get("text") for f in (now, then))
        if shown != had:
            return f"its {name} is {shown or 'not known'}, the report has {had or 'none'}"
    for name, value in now.items():
        had = then.get(name)
        if name not in then and name in _ADDED:
            continue
        if name == "steps" and isinstance(had, list):
            how = _steps_differ(had, value)
            if how:
                return how
        elif _placeless(had) != _placeless(value):
            shown = f"{value}, the report has {had}" if name == "ratio" else "not the report's"
            return f"its {name} {'are' if name == 'fixes' else 'is'} {shown}"
    return ""


def _steps_differ(then: list[Any], now: list[dict[str, Any]]) -> str:
    if len(then) != len(now):
        return f"its calculation has {len(now)} steps, the report has {len(then)}"
    for had, step in zip(then, now, strict=True):
        if not isinstance(had, dict):
            return f"step {step['name']} of its calculation is not the report's"
        for name, value in step.items():
            if had.get(name) != value and not (name not in had and name in _ADDED):
                return f"step {step['name']} of its calculation: the {name} is not the report's"
    return ""


def _placeless(value: Any) -> Any:
    """Without the names of files: they may be found elsewhere than when the report was made."""
    if isinstance(value, dict):
        return {key: _placeless(item) for key, item in value.items() if key != "file"}
    return [_placeless(item) for item in value] if isinstance(value, list) else value
