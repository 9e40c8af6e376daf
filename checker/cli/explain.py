"""``pullpoint explain``: one finding's calculation, every step with numbers and units."""

from __future__ import annotations

import argparse
import sys

from checker.documents.errors import InputError, Problem, nearest, printable
from checker.findings.finding import Finding, Report
from checker.findings.view import Views

from .loading import add_options, load_report


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    parser.add_argument("file", metavar="FILE", help="an assembly file")
    parser.add_argument("rule", metavar="RULE", help="a rule's id")
    parser.add_argument("element", metavar="ELEMENT", help="an element's id")
    add_options(parser)
    parser.add_argument("--format", choices=("text", "json"), default="text")


def run(arguments: argparse.Namespace) -> int:
    """Print the calculation; the status is that of the finding."""
    report = load_report(arguments)
    found = _find(report, arguments.rule, arguments.element)
    views = [Views.of(report).view(finding) for finding in found]
    if arguments.format == "json":
        import json

        from checker.documents.unseen import json_escaped
        from checker.findings.plain import plain_finding

        objects = [plain_finding(view, report.source.path) for view in views]
        made = objects[0] if len(objects) == 1 else objects
        print(json_escaped(json.dumps(made, ensure_ascii=False, indent=1)))
    else:
        from checker.reports.style import style_for
        from checker.reports.worked_form import render

        style = style_for(sys.stdout)
        print("\n".join(render(view, report, style) for view in views), end="")
    return max(3 if f.defect else int(f.blocking) for f in found)


def _find(report: Report, rule: str, element: str) -> list[Finding]:
    try:
        report.book.find(rule)
    except LookupError as error:
        raise InputError(Problem(report.source.path, 0, 0, str(error.args[0]))) from None
    of_rule = [f for f in report.findings if f.rule.id == rule]
    found = [f for f in of_rule if f.subject_id == element]
    if not found:
        known = [f.subject_id for f in of_rule]
        raise InputError(
            Problem(
                report.source.path,
                0,
                0,
                f"rule {rule} was not judged on an element called `{printable(element)}`",
                found=element,
                expected="one of " + (", ".join(known[:20]) or "none"),
                suggestion=nearest(element, known) or "",
            )
        )
    return found
