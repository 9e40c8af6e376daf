"""Reports that the tests of several forms look at."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from reporting import DECISIONS, nasty_design, report

from checker.findings.finding import Report


@pytest.fixture
def make(tmp_path: Path) -> Callable[..., Report]:
    """Makes a report; the arguments are those of ``reporting.report``."""

    def give(*arguments: str, **more: str | None) -> Report:
        return report(tmp_path, *arguments, **more)

    return give


@pytest.fixture
def plain(make: Callable[..., Report]) -> Report:
    """A finding of every kind, no decisions."""
    return make()


@pytest.fixture
def decided(make: Callable[..., Report]) -> Report:
    """The same, the fail accepted and a decision on the review that does not count."""
    return make(decisions=DECISIONS)


@pytest.fixture
def nasty(make: Callable[..., Report]) -> Report:
    """Elements with names that mean mischief."""
    return make(nasty_design())
