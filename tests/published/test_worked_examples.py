"""Published worked examples, run through the program; sources in worked_examples.yaml beside it.

Each reached example becomes an assembly file that the program reads and judges (runs_wiring.py,
runs_circuits.py and runs_detail.py beside this file).  Where the example gives a limit, both of its
sides are tried: the published number holds and the next one does not.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

pytest.register_assert_rewrite("runs_wiring", "runs_circuits", "runs_detail")

import runs_circuits  # noqa: E402
import runs_detail  # noqa: E402
import runs_wiring  # noqa: E402
from judging import Bench  # noqa: E402
from worked import EXAMPLES, REACHED, RUNS, Example, question  # noqa: E402

assert runs_wiring
assert runs_circuits
assert runs_detail


def title(example: Example) -> str:
    source = example["source"]
    return f"{example['id']} {source['by']}: {source['title']}"[:90]


@pytest.mark.parametrize("example", REACHED, ids=title)
def test_example(example: Example, tmp_path: Path, record_property: Any) -> None:
    record_property("source", example["source"]["where"])
    bench = Bench(tmp_path)
    RUNS[question(example)](bench, example)
    assert bench.runs >= 1  # the program was really asked


def test_list_is_complete() -> None:
    assert len(EXAMPLES) == 150
    assert len({e["id"] for e in EXAMPLES}) == 150
    topics = {e["id"][0]: e["topic"] for e in EXAMPLES}
    assert set(topics) == set("ABCDEFGHI")
    for example in EXAMPLES:
        source = example["source"]
        assert all(source[key] for key in ("title", "by", "where", "kind", "reliability"))
        assert all("value" in example[key] for key in ("published", "recomputed"))
        if not example["recomputed"]["agree"]:
            assert len(example["note"]) > 20, "why the answer in print is not what is tested"


def test_every_example_is_run_or_says_why_not() -> None:
    for example in EXAMPLES:
        if example.get("reached", True):
            assert question(example) in RUNS, example["id"]
            assert "why" not in example
        else:
            assert len(example["why"]) > 20
    assert set(RUNS) == {question(e) for e in REACHED}


def test_recomputed_values_agree_where_they_say_so() -> None:
    for example in EXAMPLES:
        published, recomputed = example["published"], example["recomputed"]
        if isinstance(recomputed["value"], float | int) and recomputed["agree"]:
            tolerance = published.get("tolerance", 0.005)
            assert abs(published["value"] - recomputed["value"]) <= tolerance, example["id"]
        elif recomputed["agree"]:
            assert published["value"] == recomputed["value"], example["id"]
        else:
            assert published["value"] != recomputed["value"], example["id"]
