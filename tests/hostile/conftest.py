"""Bounds every attack; see ``bounds``."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from bounds import bounded


@pytest.fixture(autouse=True)
def in_bounded_time() -> Iterator[None]:
    """Ends a test that runs away."""
    with bounded():
        yield
