"""Every attack has seconds, not minutes: what works longer counts as a success of the attack."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

#: Of processor time, which other programs do not use up: the longest compiles six rulebooks.
SECONDS = 60
#: Of the wall clock, for an attack that waits and does nothing: longer than any machine is busy.
WAITING = 3600


class TooLong(BaseException):
    """An attack took longer than any file may."""


@contextmanager
def bounded(seconds: float = SECONDS, waiting: float = WAITING) -> Iterator[None]:
    """Ends what runs away."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise TooLong

    timers = (
        (signal.SIGPROF, signal.ITIMER_PROF, seconds),
        (signal.SIGALRM, signal.ITIMER_REAL, waiting),
    )
    before = [
        (signal.signal(number, stop), signal.getitimer(timer)[0]) for number, timer, _ in timers
    ]
    try:
        for _, timer, most in timers:
            signal.setitimer(timer, most)
        yield
    finally:
        for (number, timer, _), (handler, left) in zip(timers, before, strict=True):
            signal.setitimer(timer, left)
            signal.signal(number, handler)
