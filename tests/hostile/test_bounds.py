"""The bound on every attack counts work, so that a busy machine fails no test."""

from __future__ import annotations

import threading
import time

import pytest
from bounds import TooLong, bounded


def _work() -> None:
    for _ in range(10**11):
        pass


def test_what_works_too_long_is_ended_and_what_waits_as_long_is_not() -> None:
    with bounded(0.3):
        time.sleep(0.6)
        with pytest.raises(TooLong):
            _work()


def test_what_waits_without_end_is_ended_too() -> None:
    with bounded(waiting=0.2), pytest.raises(TooLong):
        threading.Event().wait()
