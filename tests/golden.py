"""Writes the findings kept beside the samples (``make golden``); read the difference first."""

from __future__ import annotations

import contextlib
import io
import os
import sys

HERE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
SAMPLES = ("recovery-wall", "recovery-wall-rev-b", "overhead-rack")


def golden(name: str, form: str) -> str:
    """What the program prints for a sample, run from the project's root."""
    from checker.cli.main import guarded

    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        guarded(["check", f"samples/{name}.yaml", "--format", form])
    return out.getvalue()


def main() -> None:
    """Write every golden file."""
    os.chdir(HERE)
    sys.path.insert(0, HERE)
    for name in SAMPLES:
        for form, ending in (("text", "txt"), ("json", "json")):
            path = os.path.join("samples", "golden", f"{name}.{ending}")
            with open(path, "w", encoding="utf-8") as file:
                file.write(golden(name, form))
            print(path)


if __name__ == "__main__":
    main()
