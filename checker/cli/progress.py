"""One line of progress on a terminal, and silence everywhere else."""

from __future__ import annotations

import sys
from types import TracebackType

from checker.documents.errors import printable

_WIDTH = 30


class Progress:
    """A progress bar on standard error for several files; shown only on a terminal."""

    def __init__(self, total: int) -> None:
        self.total = total
        self.done = 0
        self.on = total > 1 and sys.stderr.isatty()

    def __enter__(self) -> Progress:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        self.clear()

    def step(self, name: str) -> None:
        """Say that the next file is under way."""
        if self.on:
            filled = _WIDTH * self.done // self.total
            bar = "█" * filled + "·" * (_WIDTH - filled)
            short = printable(name if len(name) <= 40 else "…" + name[-39:])
            sys.stderr.write(f"\r\x1b[K{bar} {self.done + 1}/{self.total} {short}")
            sys.stderr.flush()
        self.done += 1

    def clear(self) -> None:
        """Take the line away, before something else is printed."""
        if self.on:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()
