"""SARIF 2.1.0: every finding as a result, one run for each assembly.

Kinds are SARIF's own.  A level other than ``none`` is for ``fail`` alone, as the standard asks
(§3.27.10).  A decision that counts is a suppression; one that does not count is only a property,
since many readers of SARIF take any suppression, even a rejected one, for a finding done with.
Nothing in it depends on time, machine or place; entries are sorted as appendix F asks.
"""

from __future__ import annotations

import hashlib
import json
import posixpath
from collections.abc import Iterable, Iterator
from typing import Any

from checker import __version__
from checker.documents.errors import Mark
from checker.documents.missing import known
from checker.documents.unseen import json_escaped
from checker.findings.finding import Finding, Report
from checker.findings.not_covered import in_brief, not_covered
from checker.findings.places import (
    files_of,
    like_of,
    names_of,
    placed_of,
    source_of,
    together,
)
from checker.findings.plain import plain_amount, plain_decision
from checker.findings.view import FindingView, Views
from checker.findings.wording import worded

from . import form
from .cautions import CAUTION
from .rule_view import RuleView

_SCHEMA = (
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
)
_BASE = "%SRCROOT%"  # the usual name for the folder that relative paths start from


class Form(form.Form):
    """The log, report by report.

    Every run says the exit status of the command, which is known when all of them are.
    """

    late = True

    _status = 0

    def add(self, report: Report) -> str:
        """One run on a line, with 0 for the status."""
        self._status = max(self._status, report.exit_status)
        # Without indentation: nobody reads it bare, and indenting takes as long as all the rest.
        run = json.dumps(_run(report), ensure_ascii=False, separators=(",", ":"))
        return json_escaped(run) + "\n"

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """The whole log; ``lines`` are the runs as ``add`` gave them."""
        head = json.dumps({"$schema": _SCHEMA, "version": "2.1.0"}, separators=(",", ":"))
        yield head[:-1] + ',"runs":['
        said = f"{_EXIT_CODE}{self._status}"
        for place, line in enumerate(lines):
            # The first one is the key: inside a text, the quotes would be escaped.
            yield ("," if place else "") + line.rstrip("\n").replace(_EXIT_CODE + "0", said, 1)
        yield "]}\n"


_EXIT_CODE = '"exitCode":'


def _run(report: Report) -> dict[str, Any]:
    book = report.book
    rules = {rule.id: place for place, rule in enumerate(book.rules)}
    views = Views.of(report)
    ordered = sorted(report.findings, key=_order)
    return {
        "tool": {
            "driver": {
                "name": "pullpoint",
                "version": __version__,
                "rules": [_rule(RuleView(rule)) for rule in book.rules],
            }
        },
        "automationDetails": {"id": f"pullpoint/{report.assembly.id}/"},
        "columnKind": "unicodeCodePoints",
        "artifacts": _artifacts(report),
        "invocations": [_invocation(report)],
        "results": _results([views.view(f) for f in ordered], rules, report),
        "properties": {"caution": worded(CAUTION, report.book.terms), **_basis(report)},
    }


def _order(finding: Finding) -> tuple[int, int, str, str, str]:
    mark = finding.mark
    return (
        mark.line, mark.column, finding.rule.id, finding.subject_class, finding.subject_id
    )  # fmt: skip


# -- the rules ------------------------------------------------------------------------------


def _rule(rule: RuleView) -> dict[str, Any]:
    help_lines = [f"{rule.title}."]
    if rule.why:
        help_lines.append(rule.why)
    help_lines.append(f"Citation: {rule.citation}.")
    help_lines += [
        f"{value.name} = {value.written}"
        + (f" ({value.cite})" if value.cite else "")
        + (f": {value.note}" if value.note else "")
        for value in rule.values
    ]
    if rule.note:
        help_lines.append(rule.note)
    fails = any(case.fails_as == "fail" for case in rule.cases)
    return {
        "id": rule.id,
        "shortDescription": {"text": str(rule.title)},
        "fullDescription": {"text": rule.why or str(rule.title)},
        "help": {"text": "\n\n".join(help_lines)},
        "defaultConfiguration": {"level": "error" if fails else "none"},
        "properties": {
            "tags": [rule.topic],
            "citation": rule.citation,
            "fingerprint": rule.digest,
            "amendedBy": list(rule.history),
        },
    }


# -- what it was made from ------------------------------------------------------------------


def _artifacts(report: Report) -> list[dict[str, Any]]:
    sources = [(source, "analysisTarget") for source in files_of(report)]
    sources += [(a.source, "userSpecifiedConfiguration") for a in report.book.amendments]
    if report.decisions_source is not None:
        sources.append((report.decisions_source, "userSpecifiedConfiguration"))
    return [
        {
            "location": _place(source.path),
            "roles": [role],
            "length": len(source.data),
            "mimeType": "application/yaml",
            "encoding": "UTF-8",
            "hashes": {"sha-256": source.digest.removeprefix("sha256:")},
        }
        for source, role in sources
    ]


def _place(path: str) -> dict[str, Any]:
    """A path as an artifact location: a relative reference from the root, or a file URI."""
    from urllib.parse import quote

    text = path.replace("\\", "/")
    if text[1:3] == ":/":  # a drive letter
        return {"uri": "file:///" + text[:2] + quote(_octets(text[2:]))}
    if text.startswith("/"):
        return {"uri": "file://" + quote(_octets(text))}
    # A colon before the first slash would read as a scheme.
    tidy = quote(_octets(posixpath.normpath(text)))
    return {"uri": tidy.replace(":", "%3A"), "uriBaseId": _BASE}


def _octets(path: str) -> bytes:
    """The bytes of a path; of a name that is not UTF-8 as the file system has them."""
    try:
        return path.encode("utf-8", "surrogateescape")
    except UnicodeEncodeError:  # a surrogate that stands for no byte, in a name on Windows
        return path.encode("utf-8", "surrogatepass")


def _basis(report: Report) -> dict[str, Any]:
    assembly, book = report.assembly, report.book
    permit = assembly.basis.permit_date
    return {
        "assembly": {
            "id": assembly.id,
            "title": assembly.title,
            "revision": assembly.revision,
            "quantity": assembly.quantity,
        },
        "edition": book.edition.edition,
        "amendments": [a.id for a in book.amendments if a.in_force],
        "permitDate": permit if known(permit) else None,
        "fingerprints": {"rules": book.digest, "tables": book.tables_digest},
        "summary": report.summary,
        "notCovered": not_covered(assembly, book),
        "decisions": [decision.to_dict() for decision in report.decisions],
    }


def _invocation(report: Report) -> dict[str, Any]:
    defects = [
        {
            "level": "error",
            "message": {"text": f"the rule could not be evaluated: {finding.defect}"},
            "associatedRule": {"id": finding.rule.id},
            "locations": [_location(finding, report)],
        }
        for finding in report.findings
        if finding.defect
    ]
    said: dict[str, Any] = {"executionSuccessful": not defects, "exitCode": 0}
    if defects:
        said["toolExecutionNotifications"] = defects
    notices = [("warning", notice) for notice in report.notices]
    notices += [("note", f"not covered by this check: {line}") for line in in_brief(report)]
    if notices:
        said["toolConfigurationNotifications"] = [
            {"level": level, "message": {"text": text}} for level, text in notices
        ]
    return said


# -- the results ----------------------------------------------------------------------------


def _results(
    views: list[FindingView], rules: dict[str, int], report: Report
) -> list[dict[str, Any]]:
    """A result for each finding; those that report the same of one place are one."""
    found = {id(view.finding): view for view in views}
    said = [(v.finding, v.detail.message, v.fix) for v in views]
    return [_result(found[id(alike[0])], alike, rules, report) for alike in together(said)]


def _result(
    view: FindingView, alike: list[Finding], rules: dict[str, int], report: Report
) -> dict[str, Any]:
    finding, detail = view.finding, view.detail
    text = f"{view.subject_class} {names_of(alike)}: {detail.message}"
    if view.fixes:
        text += f". Fix: {view.fix}"
    identity = "\0".join((report.assembly.id, view.rule, view.subject_class, view.subject_id))
    result: dict[str, Any] = {
        "ruleId": view.rule,
        "ruleIndex": rules[view.rule],
        "kind": view.kind,
        "level": "error" if view.kind == "fail" else "none",
        # `[text](target)` is a link even in plain text (§3.11.6); no name may become one.
        "message": {"text": text.replace("](", "\\](")},
        "locations": [_location(finding, report)],
        "partialFingerprints": {
            "ruleAndSubject/v1": hashlib.sha256(identity.encode(errors="replace")).hexdigest()
        },
        "properties": {
            "citation": view.citation,
            "measure": plain_amount(view.measure_amount),
            "limit": plain_amount(view.limit_amount),
            "relation": view.relation if view.limit_amount is not None else None,
            "ratio": view.rounded_ratio,
            "fixes": list(view.fixes),
            "missing": list(view.missing),
            "quantity": report.assembly.quantity,
            "decision": plain_decision(finding.decision),
        },
    }
    if len(alike) > 1:
        result["occurrenceCount"] = len(alike)
        result["locations"][0]["logicalLocations"] = [_logical(one) for one in alike]
    related = _related(alike, report)
    if related:
        result["relatedLocations"] = related
    if report.decisions_source is not None:
        # Without a decision file nobody looked for decisions, which `[]` would claim.
        result["suppressions"] = _suppressions(finding)
    return result


def _location(finding: Finding, report: Report) -> dict[str, Any]:
    return {
        "physicalLocation": _physical(finding.mark, report),
        "logicalLocations": [_logical(finding)],
    }


def _physical(mark: Mark, report: Report) -> dict[str, Any]:
    """A place in the design's file, or in one that it uses."""
    source, files = source_of(mark, report.source), files_of(report)
    index = next((at for at, file in enumerate(files) if file.path == source.path), 0)
    return {
        "artifactLocation": {**_place(files[index].path), "index": index},
        "region": {"startLine": mark.line, "startColumn": mark.column},
    }


def _logical(finding: Finding) -> dict[str, Any]:
    return {
        "name": finding.subject_id,
        "fullyQualifiedName": f"{finding.subject_class}/{finding.subject_id}",
        "kind": finding.subject_class,
    }


def _related(alike: list[Finding], report: Report) -> list[dict[str, Any]]:
    """Where the elements were placed, and the type that they are like."""
    found: dict[str, Mark] = {}
    for finding in alike:
        placed, like = placed_of(finding), like_of(finding)
        if placed is not None:
            found.setdefault(f"placed here as {placed.id}", placed.mark)
        if like is not None:
            found.setdefault(f"type {like[0]}", like[1])
    return [
        {"physicalLocation": _physical(mark, report), "message": {"text": words}}
        for words, mark in found.items()
    ]


def _suppressions(finding: Finding) -> list[dict[str, Any]]:
    decision = finding.decision
    if decision is None or not finding.accepted:
        return []
    return [
        {
            "kind": "external",
            "status": "accepted",
            "justification": str(decision),
            "location": {
                "physicalLocation": {
                    "artifactLocation": _place(decision.file),
                    "region": {
                        "startLine": decision.mark.line,
                        "startColumn": decision.mark.column,
                    },
                }
            },
            "properties": {"expires": decision.decision.expires},
        }
    ]
