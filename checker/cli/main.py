"""The command: verbs, exit statuses, and what a user sees when something is wrong.

Every verb is a module of this package with ``configure(parser)`` and ``run(arguments)``; it is
imported only when it is asked for, which keeps a plain check quick to start.
"""

from __future__ import annotations

import argparse
import gc
import importlib
import os
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

from checker import __version__
from checker.documents.errors import InputError, nearest, printable
from checker.documents.source import forget_read

VERBS = {
    "check": "evaluate assemblies and print what was found",
    "report": "write the submittal report of an assembly (PDF or HTML)",
    "expand": "write a design out in full, as its short form means it",
    "explain": "show one finding's calculation, step by step",
    "rules": "list, show, test, compare and document rules",
    "tables": "list and show tables with their sources",
    "new": "write a commented starting file",
    "verify": "say what changed since a report was made",
    "schema": "print a JSON Schema for editors",
}

#: Exit statuses, as the contract fixes them.
CLEAN, BLOCKED, WRONG_INPUT, DEFECT = 0, 1, 2, 3
#: As shells tell of a program that was interrupted, or whose reader went away.
INTERRUPTED, UNHEARD = 130, 141


class _Help(argparse.HelpFormatter):
    """Lays out help.  The width is given: to find it out it would load what packs archives."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=_columns() - 2)


def _columns() -> int:
    stated = os.environ.get("COLUMNS", "")
    if stated.isdigit() and int(stated):
        return int(stated)
    try:
        return os.get_terminal_size().columns or 80
    except (OSError, ValueError):
        return 80


class Parser(argparse.ArgumentParser):
    """Parses the command line; what it repeats of it cannot steer a terminal."""

    def __init__(self, **words: Any) -> None:
        super().__init__(formatter_class=_Help, **words)

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the command line, and end with status 2."""
        super().error(printable(message))


def build(verb: str | None) -> argparse.ArgumentParser:
    """The parser, with the options of ``verb`` alone."""
    if verb is not None:
        # Only the verb's own parser is made; the list of verbs is for help.
        own = Parser(
            prog=f"pullpoint {verb}",
            description=VERBS[verb].capitalize() + ".",
            allow_abbrev=False,
        )
        importlib.import_module(f"checker.cli.{verb}").configure(own)
        return own
    parser = Parser(
        prog="pullpoint",
        description="Checks a prefabricated electrical assembly before it is released.",
        epilog="Exit status: 0 nothing failing or open, 1 something is, 2 the input is wrong, "
        "3 a defect of the program.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"pullpoint {__version__}")
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", required=True)
    for name, words in VERBS.items():
        verbs.add_parser(name, help=words)
    return parser


def main(arguments: Sequence[str]) -> int:
    """Run the command; the exit status is what it returns."""
    forget_read()
    verb = arguments[0] if arguments and not arguments[0].startswith("-") else None
    if verb is None:
        build(None).parse_args(arguments)
        return CLEAN
    if verb not in VERBS:
        close = nearest(verb, VERBS)
        hint = f"; nearest: {close}" if close else ""
        print(f"pullpoint: there is no verb `{printable(verb)}`{hint}", file=sys.stderr)
        print("verbs: " + ", ".join(VERBS), file=sys.stderr)
        return WRONG_INPUT
    parsed = build(verb).parse_args(arguments[1:])
    status: int = importlib.import_module(f"checker.cli.{verb}").run(parsed)
    return status


def guarded(arguments: Sequence[str]) -> int:
    """Run the command and turn what goes wrong into a message and an exit status."""
    status = UNHEARD  # until it is known; what was not looked at to the end is never clean
    try:
        status = main(arguments)
        sys.stdout.flush()
        return status
    except InputError as error:
        from checker.reports.style import terminal_width

        _tell(error.render(terminal_width(sys.stderr)))
        return WRONG_INPUT
    except BrokenPipeError:
        # The reader of a pipe has had enough; there is nobody left to tell.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return status
    except KeyboardInterrupt:
        _tell("interrupted; nothing was left half-written")
        return INTERRUPTED
    except OSError as error:
        where = f": {printable(str(error.filename))}" if error.filename else ""
        _tell(f"pullpoint: {error.strerror or error}{where}")
        return WRONG_INPUT
    except Exception as error:
        if os.environ.get("PULLPOINT_TRACEBACK"):
            raise
        _tell(
            f"pullpoint: a defect of the program, not of your file: {type(error).__name__}: "
            f"{printable(str(error))[:500]}\n"
            "Please report it with the file; PULLPOINT_TRACEBACK=1 shows where it happened."
        )
        return DEFECT


def _tell(message: str) -> None:
    """Say what went wrong; where nobody listens any more, the exit status says it alone."""
    try:
        print(message, file=sys.stderr, flush=True)
    except OSError:
        return


def entry() -> None:
    """The console script."""
    # A check makes many small objects and ends: collecting in between only costs time.  Verbs that
    # go through many files collect on their own.
    gc.disable()
    for name in ("stdout", "stderr"):
        # Closed by whoever started the program: the exit status still says what was found.
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            # Line ends too: the same input gives the same bytes on every system.
            reconfigure(encoding="utf-8", errors="backslashreplace", newline="\n")
    status = guarded(sys.argv[1:])
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except OSError:
        sys.exit(status)  # whoever was to read it has gone
    # Everything is written; taking a large assembly apart again, object by object, serves nobody.
    os._exit(status)
