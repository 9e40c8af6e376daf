"""``pullpoint report``: the submittal report of one assembly, as PDF or as one HTML file."""

from __future__ import annotations

import argparse
import os

from checker.documents.errors import InputError, Problem, printable
from checker.documents.writing import write_bytes
from checker.findings.finding import Report
from checker.reports.forms import SUBMITTALS, submittal

from .loading import add_options, date, load_report


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    parser.add_argument("file", metavar="FILE", help="an assembly file")
    parser.add_argument(
        "--output", required=True, metavar="PATH",
        help="the file to write, all or nothing: PATH.pdf or PATH.html",
    )  # fmt: skip
    parser.add_argument(
        "--date", type=date, metavar="YYYY-MM-DD",
        help="the date of the report; the clock is never read",
    )  # fmt: skip
    add_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the report; the status is that of a check."""
    form = _form(arguments.output)
    report = load_report(arguments)
    report.date = arguments.date or ""
    write_bytes(arguments.output, _render(report, form))
    blocking = sum(finding.blocking for finding in report.findings)
    many = f"{blocking} findings block" if blocking != 1 else "1 finding blocks"
    said = f"{many} release" if blocking else "no failed or open checks"
    print(f"{printable(arguments.output)}: {said}")
    return report.exit_status


def _form(path: str) -> str:
    """The form that a path asks for by its ending.  Raises InputError."""
    form = os.path.splitext(path)[1].lower()
    if form not in SUBMITTALS:
        raise InputError(
            Problem(
                "--output", 0, 0, "the ending of the path does not say which form to write",
                found=path, expected="a path that ends in " + " or ".join(SUBMITTALS),
            )
        )  # fmt: skip
    return form


def _render(report: Report, form: str) -> bytes:
    try:
        return submittal(form, report)
    except ImportError as error:
        if error.name != "typst":
            raise
        raise InputError(
            Problem(
                "--output", 0, 0, "a PDF needs the Python package typst, which is not installed",
                expected="an installation with it, or a path that ends in .html",
            )
        ) from None  # fmt: skip
