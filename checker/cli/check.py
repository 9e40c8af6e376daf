"""``pullpoint check``: evaluate assemblies and print or write what was found."""

from __future__ import annotations

import argparse
import gc
import importlib
import sys
from typing import TYPE_CHECKING

from checker.documents.errors import InputError, Problem
from checker.findings.finding import Report

from .loading import Loader, add_options
from .progress import Progress

if TYPE_CHECKING:
    from checker.reports.roll_up import RollUp
    from checker.reports.style import Style

FORMATS = ("text", "json", "sarif", "junit", "csv", "markdown")


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="an assembly file")
    add_options(parser)
    parser.add_argument("--format", choices=FORMATS, default="text", help="text unless stated")
    parser.add_argument("--output", metavar="PATH", help="write to this file, all or nothing")
    parser.add_argument(
        "--show",
        choices=("fail", "all"),
        default="fail",
        help="what text lists: what needs action, or everything",
    )
    parser.add_argument(
        "--roll-up",
        metavar="PATH",
        dest="roll_up",
        help="write one summary over all files (.txt, .json or .html)",
    )


def run(arguments: argparse.Namespace) -> int:
    """Check every file; the highest status of all counts."""
    if arguments.output == "-":
        arguments.output = None  # as other commands write it: the terminal or the next command
    _refuse_a_submittal(arguments)
    loader = Loader(arguments)
    style = _style(arguments)
    several = len(arguments.files) > 1
    # Text and JSON stream: each report is written out and let go, so that memory stays flat.
    streaming = arguments.format in ("text", "json")
    texts: list[str] = []
    kept: list[Report] = []
    totals = _totals(arguments)
    status = 0
    unread = False
    with Progress(len(arguments.files) if several else 0) as progress:
        for path in arguments.files:
            progress.step(path)
            try:
                report = loader.load(path)
            except InputError as error:
                progress.clear()
                from checker.reports.style import terminal_width

                print(error.render(terminal_width(sys.stderr)), file=sys.stderr)
                status = max(status, 2)
                unread = True
                continue
            status = max(status, report.exit_status)
            if totals is not None:
                totals.add(report)
            if streaming:
                text = _text(report, arguments, style, several)
                if arguments.output:
                    texts.append(text)
                else:
                    progress.clear()
                    sys.stdout.write(text)
            else:
                kept.append(report)
            if several:
                del report
                gc.collect()
    if not streaming and (kept or not unread):
        form = importlib.import_module(f"checker.reports.{arguments.format}_form")
        texts.append(form.render(kept))
        if not arguments.output:
            sys.stdout.write(texts[-1])
    if not unread:
        _write(arguments, texts, totals)
    return status


def _refuse_a_submittal(arguments: argparse.Namespace) -> None:
    """Text in a file that is called a page would be found out by who opens it."""
    ending = str(arguments.output or "").rpartition(".")[2].lower()
    if ending in ("pdf", "html"):
        raise InputError(
            Problem(
                "--output",
                0,
                0,
                f"check writes no {ending}",
                found=arguments.output,
                expected=f"`pullpoint report FILE --output {arguments.output}`, or --format",
            )
        )


def _style(arguments: argparse.Namespace) -> Style:
    from checker.reports.style import Style, style_for

    return Style() if arguments.output else style_for(sys.stdout)


def _text(report: Report, arguments: argparse.Namespace, style: Style, several: bool) -> str:
    if arguments.format == "json":
        from checker.reports import json_form

        return json_form.compact(report) + "\n" if several else json_form.render([report])
    from checker.reports import text_form

    text = text_form.render(report, style, show=arguments.show)
    return text + "\n" if several else text


def _totals(arguments: argparse.Namespace) -> RollUp | None:
    if not arguments.roll_up:
        return None
    from checker.reports.roll_up import RollUp

    return RollUp()


def _write(arguments: argparse.Namespace, texts: list[str], totals: RollUp | None) -> None:
    """Write the files asked for, each beside and renamed, so that none is left half-written."""
    if not arguments.output and totals is None:
        return
    from checker.documents.writing import write_text

    if arguments.output:
        write_text(arguments.output, "".join(texts))
    if totals is not None:
        write_text(arguments.roll_up, totals.render(arguments.roll_up))
