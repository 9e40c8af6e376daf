"""``pullpoint check``: evaluate assemblies and print or write what was found."""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Callable
from contextlib import ExitStack
from typing import IO, TYPE_CHECKING

from checker.documents.errors import InputError, Problem
from checker.reports import forms
from checker.reports.form import Form, Options

from .loading import Loader, add_options
from .progress import Progress

if TYPE_CHECKING:
    from checker.documents.writing import Pending
    from checker.reports.roll_up import RollUp

#: Bytes of the forms that are known last, beyond which they wait on the disk and not in memory.
_IN_MEMORY = 4_000_000


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="an assembly file")
    add_options(parser)
    parser.add_argument(
        "--format", choices=tuple(forms.FORMS), default="text", help="text unless stated"
    )
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
    _refuse_one_place(arguments)
    with ExitStack() as files, Progress(len(arguments.files)) as progress:
        output, roll_up = (_pending(path, files) for path in (arguments.output, arguments.roll_up))
        form = forms.make(arguments.format, _options(arguments))

        def write(text: str) -> None:
            if output is not None:
                output.write(text)
            else:
                progress.clear()
                sys.stdout.write(text)

        kept = files.enter_context(_spool()) if form.late else None
        totals = _totals(arguments)
        status, read, unread = _check(
            arguments, progress, form, totals, write if kept is None else kept.write
        )
        if kept is not None and read:
            kept.seek(0)
            for text in form.rest(kept):
                write(text)
        if not unread:
            _finish(output, roll_up, totals, arguments)
    return status


def _check(
    arguments: argparse.Namespace,
    progress: Progress,
    form: Form,
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
            write(form.add(report))
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
    """The file to be written, begun before anything is checked: where it cannot be, the user hears
    so at once."""
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


def _options(arguments: argparse.Namespace) -> Options:
    from checker.reports.style import Style, style_for

    style = Style() if arguments.output else style_for(sys.stdout)
    return Options(style, arguments.show, len(arguments.files) > 1)


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
