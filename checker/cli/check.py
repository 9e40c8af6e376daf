"""``pullpoint check``: evaluate assemblies and print or write what was found."""

from __future__ import annotations

import argparse
import gc
import importlib
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack
from typing import IO, TYPE_CHECKING, Protocol

from checker.documents.errors import InputError, Problem
from checker.findings.finding import Report

from .loading import Loader, add_options
from .progress import Progress

if TYPE_CHECKING:
    from checker.documents.writing import Pending
    from checker.reports.roll_up import RollUp
    from checker.reports.style import Style

#: Bytes of the forms that are known last, beyond which they wait on the disk and not in memory.
_IN_MEMORY = 4_000_000

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


class Stream(Protocol):
    """A form of report, written report by report, so that none has to be kept.

    late: whether it begins with what is known only when every report is.
    """

    late: bool

    def add(self, report: Report) -> str:
        """The text of one report, to be kept where the form is ``late``."""

    def rest(self, lines: Iterable[str]) -> Iterator[str]:
        """What follows; of a form that is ``late``, all of it, from the lines that were kept."""


def run(arguments: argparse.Namespace) -> int:
    """Check every file; the highest status of all counts."""
    if arguments.output == "-":
        arguments.output = None  # as other commands write it: the terminal or the next command
    _refuse_a_submittal(arguments)
    _refuse_one_place(arguments)
    with ExitStack() as files, Progress(len(arguments.files)) as progress:
        output, roll_up = (_pending(path, files) for path in (arguments.output, arguments.roll_up))
        stream = _stream(arguments)

        def write(text: str) -> None:
            if output is not None:
                output.write(text)
            else:
                progress.clear()
                sys.stdout.write(text)

        kept = files.enter_context(_spool()) if stream.late else None
        totals = _totals(arguments)
        status, read, unread = _check(
            arguments, progress, stream, totals, write if kept is None else kept.write
        )
        if kept is not None and read:
            kept.seek(0)
            for text in stream.rest(kept):
                write(text)
        if not unread:
            _finish(output, roll_up, totals, arguments)
    return status


def _check(
    arguments: argparse.Namespace,
    progress: Progress,
    stream: Stream,
    totals: RollUp | None,
    write: Callable[[str], object],
) -> tuple[int, int, int]:
    """The highest status, and how many files were read and how many were wrong."""
    loader = Loader(arguments)
    several = len(arguments.files) > 1
    status = read = unread = 0
    try:
        for path in arguments.files:
            progress.step(path)
            try:
                report = loader.load(path)
            except InputError as error:
                progress.clear()
                from checker.reports.style import terminal_width

                print(error.render(terminal_width(sys.stderr)), file=sys.stderr)
                status = max(status, 2)
                unread += 1
                continue
            read += 1
            status = max(status, report.exit_status)
            if totals is not None:
                totals.add(report)
            write(stream.add(report))
            if several:
                del report
                _collect()
    finally:
        if several:
            gc.unfreeze()
    return status, read, unread


def _collect() -> None:
    """Let go of a report.

    What is left then are rules, tables and the program, which stay: later collections need not
    look through them again.
    """
    gc.collect()
    gc.freeze()


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


def _refuse_one_place(arguments: argparse.Namespace) -> None:
    """The second one written would take the place of the first."""
    output, roll_up = arguments.output, arguments.roll_up
    if not output or not roll_up:
        return
    from checker.documents.writing import same_place

    if same_place(output, roll_up):
        raise InputError(
            Problem(
                "--roll-up",
                0,
                0,
                "the roll-up and the output are one file",
                found=roll_up,
                expected="two files",
            )
        )


def _pending(path: str | None, files: ExitStack) -> Pending | None:
    """The file to be written, begun before anything is checked: where it cannot be, that is told
    at once."""
    if not path:
        return None
    from checker.documents.writing import Pending

    return files.enter_context(Pending(path))


def _spool() -> IO[str]:
    """Where reports wait; it is gone with the program."""
    import tempfile

    return tempfile.SpooledTemporaryFile(
        _IN_MEMORY, "w+", encoding="utf-8", errors="backslashreplace", newline="\n"
    )


def _stream(arguments: argparse.Namespace) -> Stream:
    """The form that was asked for."""
    form = importlib.import_module(f"checker.reports.{arguments.format}_form")
    several = len(arguments.files) > 1
    made: Stream
    if arguments.format == "text":
        made = form.Stream(_style(arguments), arguments.show, several)
    else:
        made = form.Stream(several) if arguments.format == "json" else form.Stream()
    return made


def _style(arguments: argparse.Namespace) -> Style:
    from checker.reports.style import Style, style_for

    return Style() if arguments.output else style_for(sys.stdout)


def _totals(arguments: argparse.Namespace) -> RollUp | None:
    if not arguments.roll_up:
        return None
    from checker.reports.roll_up import RollUp

    return RollUp()


def _finish(
    output: Pending | None,
    roll_up: Pending | None,
    totals: RollUp | None,
    arguments: argparse.Namespace,
) -> None:
    """Put the files asked for in their places, both or none."""
    if roll_up is not None and totals is not None:
        roll_up.write(totals.render(arguments.roll_up))
    ready = [file for file in (output, roll_up) if file is not None]
    if ready:
        from checker.documents.writing import finish

        finish(*ready)
