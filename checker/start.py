"""Where the command begins: an interrupt while the program is still loading is no traceback."""

from __future__ import annotations

import os

_INTERRUPTED = 130  # as shells tell of a program that was interrupted


def entry() -> None:
    """The console script."""
    try:
        from checker.cli.main import entry as begin

        begin()
    except KeyboardInterrupt:
        try:
            os.write(2, b"interrupted; nothing was left half-written\n")
        finally:  # also where nobody listens
            os._exit(_INTERRUPTED)
