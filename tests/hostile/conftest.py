"""Every attack has seconds, not minutes: what takes longer counts as a success of the attack."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from types import FrameType

import pytest

SECONDS = 60  # of the wall clock, on a busy machine: the longest compiles six rulebooks


class TooLong(BaseException):
    """An attack took longer than any file may."""


@pytest.fixture(autouse=True)
def in_bounded_time() -> Iterator[None]:
    """Ends a test that runs away."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise TooLong

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, SECONDS)
    yield
    signal.setitimer(signal.ITIMER_REAL, 0)
    signal.signal(signal.SIGALRM, before)
