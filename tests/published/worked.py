"""The published worked examples, and who runs which of them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml
from judging import Bench

Example = dict[str, Any]
Run = Callable[[Bench, Example], None]

EXAMPLES: list[Example] = yaml.safe_load(
    (Path(__file__).parent / "worked_examples.yaml").read_text(encoding="utf-8")
)["examples"]
REACHED = [e for e in EXAMPLES if e.get("reached", True)]
RUNS: dict[str, Run] = {}
ALL_EDITIONS = ("nec-2017", "nec-2020", "nec-2023")


def runs(*questions: str) -> Callable[[Run], Run]:
    """Marks the function that runs the examples of some questions."""

    def keep(run: Run) -> Run:
        for question in questions:
            assert question not in RUNS
            RUNS[question] = run
        return run

    return keep


def question(example: Example) -> str:
    """What decides how an example is run: its question, for plain rules the rule asked about."""
    asked = example["solve"]
    return asked if asked != "rule" else str(example["inputs"]["rule"])
