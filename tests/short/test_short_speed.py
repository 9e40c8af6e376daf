"""The short form costs little: bounds in time of the processor, far above what is usual."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from checker.assembly import from_source
from checker.assembly.short.expand import expanded
from checker.documents.loader import load
from checker.documents.source import Source, read_source

HERE = Path(__file__).parent
PLACEMENTS = 400


@pytest.fixture(autouse=True)
def _uncollected() -> Iterator[None]:
    """As the command runs: collecting costs time and finds nothing."""
    gc.collect()
    gc.disable()
    yield
    gc.enable()


def best_of(times: int, work: Callable[[], Any]) -> float:
    best = float("inf")
    for _ in range(times):
        began = time.process_time()
        work()
        best = min(best, time.process_time() - began)
    return best


def bays() -> Source:
    """The sample wall with four hundred placements of its bay in place of three."""
    text = (HERE / "recovery-wall.yaml").read_text(encoding="utf-8")
    head, rest = text.split("place:\n")
    after = rest[rest.index("# Above the ceiling") :]
    first = rest[: rest.index("  - {group: bay, id: bay2")]
    placed = [first.replace("id: bay1", f"id: bay{n}") for n in range(1, PLACEMENTS + 1)]
    return Source.of_text(f"{head}place:\n{''.join(placed)}{after}")


def test_four_hundred_placements_are_expanded_and_read_within_a_second() -> None:
    source = bays()
    assert len(from_source(source).boxes) == 7 * PLACEMENTS + 6
    assert best_of(3, lambda: expanded(load(source))) < 0.5
    assert best_of(3, lambda: from_source(source)) < 1.0 * 2  # with all that follows from it


def test_the_short_sample_is_read_about_as_fast_as_the_long_one() -> None:
    short = read_source(HERE / "recovery-wall.yaml")
    long = read_source(HERE / "recovery-wall-long.yaml")
    times = [best_of(15, lambda source=source: from_source(source)) for source in (short, long)]
    assert times[0] < 1.5 * times[1]
