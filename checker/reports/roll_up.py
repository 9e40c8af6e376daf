"""One summary over many assemblies: which rules fail most, and how many units that touches."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from checker.documents.errors import printable
from checker.documents.indented import indented
from checker.documents.unseen import json_escaped
from checker.findings.finding import Report
from checker.findings.kinds import ACTION, KINDS

from .cautions import CAUTION


@dataclass(slots=True)
class RuleTotals:
    """How often a rule needs action, and in how many assemblies and units."""

    title: str = ""
    fail: int = 0
    open: int = 0
    review: int = 0
    assemblies: int = 0
    units: int = 0


@dataclass(slots=True)
class RollUp:
    """Adds reports up one at a time; it keeps numbers, never the reports, so memory stays flat."""

    assemblies: list[dict[str, Any]] = field(default_factory=list)
    rules: dict[str, RuleTotals] = field(default_factory=dict)

    def add(self, report: Report) -> None:
        """Take one report in."""
        quantity = report.assembly.quantity
        touched: dict[str, None] = {}
        blocking = 0
        for finding in report.findings:
            blocking += finding.blocking
            if finding.kind not in ACTION or finding.accepted:
                continue
            rule = self.rules.setdefault(finding.rule.id, RuleTotals(finding.rule.title))
            setattr(rule, finding.kind, getattr(rule, finding.kind) + 1)
            touched[finding.rule.id] = None
        for name in touched:
            self.rules[name].assemblies += 1
            self.rules[name].units += quantity
        self.assemblies.append(
            {
                "file": report.source.path,
                "id": report.assembly.id,
                "revision": report.assembly.revision,
                "quantity": quantity,
                "edition": report.book.edition.edition,
                "blocking": blocking,
                "units_affected": quantity if blocking else 0,
                "design": report.source.digest,
                **report.summary,
            }
        )

    def ranked(self) -> list[tuple[str, RuleTotals]]:
        """Rules, those that block most often first."""
        return sorted(
            self.rules.items(), key=lambda item: (-(item[1].fail + item[1].open), item[0])
        )

    def object(self) -> dict[str, Any]:
        """The roll-up as plain data."""
        return {
            "format": "pullpoint-roll-up",
            "version": 1,
            "assemblies": len(self.assemblies),
            "units": sum(a["quantity"] for a in self.assemblies),
            "assemblies_blocked": sum(1 for a in self.assemblies if a["blocking"]),
            "units_affected": sum(a["units_affected"] for a in self.assemblies),
            "rules": [
                {
                    "rule": name,
                    "title": rule.title,
                    "fail": rule.fail,
                    "open": rule.open,
                    "review": rule.review,
                    "assemblies": rule.assemblies,
                    "units": rule.units,
                }
                for name, rule in self.ranked()
            ],
            "each": self.assemblies,
        }

    def render(self, path: str) -> str:
        """The roll-up in the form that the path's ending asks for: .json, .html, else text."""
        if path.endswith(".json"):
            return json_escaped(indented(self.object())) + "\n"
        return self._html() if path.endswith((".html", ".htm")) else self._text()

    def _rows(self) -> tuple[list[tuple[Any, ...]], list[tuple[Any, ...]]]:
        by_rule = [
            (name, r.fail, r.open, r.review, r.assemblies, r.units) for name, r in self.ranked()
        ]
        by_file = [
            (
                *(printable(a["id"]), printable(a["revision"])),
                *(a["quantity"], a["fail"], a["open"], a["review"]),
                printable(a["file"]),
            )
            for a in sorted(self.assemblies, key=lambda a: (-a["blocking"], a["file"]))
        ]
        return by_rule, by_file

    _COUNTED = tuple(KINDS[kind].count for kind in ACTION)
    _RULE_HEADS = ("rule", *_COUNTED, "assemblies", "units")
    _FILE_HEADS = ("assembly", "revision", "quantity", *_COUNTED, "file")

    def _sentence(self) -> str:
        total = self.object()
        return (
            f"{_count(total['assemblies'], 'assembly')}, {_count(total['units'], 'unit')}; "
            f"{_count(total['assemblies_blocked'], 'assembly')} with findings that block "
            f"release, {_count(total['units_affected'], 'unit')} affected"
        )

    def _text(self) -> str:
        from tabulate import tabulate

        by_rule, by_file = self._rows()
        return (
            "\n\n".join(
                (
                    self._sentence(),
                    tabulate(by_rule, self._RULE_HEADS, disable_numparse=True),
                    tabulate(by_file, self._FILE_HEADS, disable_numparse=True),
                    CAUTION,
                )
            )
            + "\n"
        )

    def _html(self) -> str:
        from .templating import render

        by_rule, by_file = self._rows()
        return render(
            "roll-up.html",
            sentence=self._sentence(),
            rule_heads=self._RULE_HEADS,
            by_rule=by_rule,
            file_heads=self._FILE_HEADS,
            by_file=by_file,
            caution=CAUTION,
        )


def _count(number: int, word: str) -> str:
    several = word[:-1] + "ies" if word.endswith("y") else word + "s"
    return f"{number} {word if number == 1 else several}"
