"""Runs an assembly through the program: written to a file, read, evaluated, worded.

The report object is the one that ``check --format json`` prints; rulebooks are kept between files
as they are when several files are checked at once.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from checker.cli.loading import Loader
from checker.findings.plain import plain_finding
from checker.findings.view import Views


@cache
def _loader(edition: str) -> Loader:
    return Loader(argparse.Namespace(edition=edition, amend=[], decisions=None, as_of=None))


@dataclass
class Judged:
    """One finding as the JSON report states it."""

    data: dict[str, Any]

    @property
    def kind(self) -> str:
        return str(self.data["kind"])

    @property
    def measure(self) -> Any:
        return self.data["measure"]["value"]

    @property
    def limit(self) -> Any:
        return self.data["limit"]["value"]

    @property
    def fix(self) -> str:
        return "; or ".join(self.data["fixes"])

    @property
    def message(self) -> str:
        return str(self.data["message"])

    def step(self, name: str) -> Any:
        return next(s["value"] for s in self.data["steps"] if s["name"] == name)


@dataclass
class Bench:
    """Judges assemblies; ``runs`` counts how often the program was asked."""

    folder: Path
    runs: int = 0

    def report(self, assembly: dict[str, Any], edition: str = "nec-2023") -> Any:
        """The program's report of an assembly, judged on an edition."""
        self.runs += 1
        path = self.folder / f"assembly-{self.runs}.yaml"
        path.write_text(yaml.safe_dump(assembly, sort_keys=False, allow_unicode=True), "utf-8")
        report = _loader(edition).load(str(path))
        path.unlink()
        return report

    def findings(
        self, assembly: dict[str, Any], rule: str, edition: str = "nec-2023"
    ) -> dict[str, Judged]:
        """What one rule finds, by element."""
        report = self.report(assembly, edition)
        views = Views.of(report)
        return {
            f.subject_id: Judged(plain_finding(views.view(f), report.source.path))
            for f in report.findings
            if f.rule.id == rule
        }

    def judge(
        self, assembly: dict[str, Any], rule: str, on: str, edition: str = "nec-2023"
    ) -> Judged:
        """What one rule finds on one element."""
        return self.findings(assembly, rule, edition)[on]
