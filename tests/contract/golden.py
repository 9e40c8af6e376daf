"""Writes the findings kept beside the samples (``make golden``); read the difference first.

For each sample the text report and one line a finding: rule, element, kind, measure, limit.  A new
rule changes the lines that it causes and no others.  One small design keeps a whole JSON report.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import sys

HERE = os.path.abspath(os.path.join(os.path.dirname(__file__), "..", ".."))
SAMPLES = ("recovery-wall", "recovery-wall-rev-b", "overhead-rack")
#: The design whose whole JSON report is kept.
SMALL = "tests/contract/example.yaml"


def printed(path: str, form: str) -> str:
    """What the program prints for a design, run from the project's root."""
    from checker.cli.main import guarded

    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        guarded(["check", path, "--format", form])
    return out.getvalue()


def lines(report: str) -> str:
    """One line for every finding of a JSON report that applies, in the report's order."""

    def amount(value: dict[str, str] | None) -> str:
        return value["text"] if value else "-"

    made = []
    for f in json.loads(report)["findings"]:
        if f["kind"] != "notApplicable":
            element = f"{f['subject']['class']} {f['subject']['id']}"
            parts = (f["rule"], element, f["kind"], amount(f["measure"]), amount(f["limit"]))
            made.append(" | ".join(parts) + "\n")
    return "".join(made)


def golden() -> dict[str, str]:
    """Every golden file by its path from the project's root."""
    found = {"tests/contract/example.json": printed(SMALL, "json")}
    for name in SAMPLES:
        path = f"samples/{name}.yaml"
        found[f"samples/golden/{name}.txt"] = printed(path, "text")
        found[f"samples/golden/{name}.findings"] = lines(printed(path, "json"))
    return found


def main() -> None:
    """Write every golden file."""
    os.chdir(HERE)
    sys.path.insert(0, HERE)
    for path, text in golden().items():
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)
        print(path)


if __name__ == "__main__":
    main()
