"""``pullpoint verify``: what has changed since a report was made."""

from __future__ import annotations

import argparse
import os
import sys

from checker.documents.errors import InputError, Problem, printable
from checker.documents.wrapping import wrapped
from checker.reports.style import terminal_width
from checker.verification.recorded import recorded
from checker.verification.report_file import read_reports, shown
from checker.verification.verify import Change, Verification, verify

_LONG = 10_000  # columns of a line where there is no terminal: never wrapped
_MOST = 40  # changes listed for one report


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    parser.add_argument(
        "report", metavar="REPORT", help="a report: JSON, or the HTML or PDF that carries it"
    )
    parser.add_argument(
        "--design", metavar="FILE", help="the design, where it is not where the report says"
    )
    parser.epilog = (
        "Files named in the report are looked for from the current folder, then from the report's. "
        "Exit status: 0 nothing has changed, 1 something has, 2 the input is wrong."
    )


def run(arguments: argparse.Namespace) -> int:
    """Compare and say what has changed; 1 where anything has."""
    path = arguments.report
    reports = [recorded(report, path) for report in read_reports(path)]
    if arguments.design and len(reports) > 1:
        raise InputError(
            Problem(
                "--design", 0, 0, "the file holds several reports, of several designs",
                found=f"{len(reports)} reports", expected="a file with one report",
            )
        )  # fmt: skip
    folder = os.path.dirname(path)
    changed = False
    what, as_written = shown(path)
    for report in reports:
        done = verify(report, folder=folder, design=arguments.design)
        if as_written is None:
            done.compared[:0] = [f"the report that the {what} carries, not what it shows"]
        elif what:
            done.compared[:0] = [what]
        if not as_written and as_written is not None:
            how = "what it shows was edited after it was written"
            done.changes[:0] = [Change(what, "", how)]
        changed = changed or bool(done.changes)
        print(_said(done, path))
    return 1 if changed else 0


def _said(done: Verification, path: str) -> str:
    report = done.report
    name = f"{report.assembly} revision {report.revision}" if report.revision else report.assembly
    lines = [f"{path}: {name}: " + ("changed since" if done.changes else "unchanged")]
    lines += [f"  {change}" for change in done.changes[:_MOST]]
    if len(done.changes) > _MOST:
        lines.append(f"  and {len(done.changes) - _MOST} more")
    lines.append(f"  compared: {', '.join(done.compared)}")
    width = terminal_width(sys.stdout) or _LONG
    said: list[str] = []
    for line in lines:
        lead = "  " if line.startswith(" ") else ""
        said += wrapped(printable(line.strip()), width, lead, "    ")
    return "\n".join(said)
