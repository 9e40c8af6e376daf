"""The submittal report as one HTML file: nothing is fetched, and it is complete without its script.

The script only filters.  Links between findings, elements and drawings are plain links.
"""

from __future__ import annotations

import base64
import hashlib
import os
from collections.abc import Sequence
from typing import Any

from checker.findings.finding import Report
from checker.findings.kinds import QUIET

from . import submittal
from .listing import NumberedFinding
from .report_view import ReportView
from .schedules import Column
from .templating import FOLDERS
from .templating import render as rendered

#: Passing checks that have a row of their own in a very long report, the closest first.
MOST_PASSING = 3_000
_ESCAPED = {
    code: f"\\u{code:04x}"
    for code in (
        *(ord(sign) for sign in "<>&"),
        *(0x7F, 0x85, 0x61C, 0x200E, 0x200F, 0x2028, 0x2029, 0xFEFF),
        *range(0x202A, 0x202F),
        *range(0x2066, 0x206A),
    )
}


def render(report: Report) -> str:
    """The page."""
    view = ReportView(report)
    carried = _for_script(view.data)
    brief = len(view.findings) > submittal.BRIEF_FROM
    alone = _worth_a_row(view.findings) if brief else view.findings
    script = _file("report.js")
    page = rendered(
        "report.html",
        report=view,
        brief=brief,
        alone=alone,
        together=_together(view.findings, alone),
        calculated={made.finding.number for made in view.calculations},
        rule_ids=sorted({finding.rule for finding in view.findings}),
        places={rule.id: place for place, rule in enumerate(view.rules)},
        table_places={table.name: place for place, table in enumerate(view.tables)},
        numbered=_numbered,
        style=_file("report.css"),
        script=script,
        script_digest=base64.b64encode(hashlib.sha256(script.encode()).digest()).decode(),
        carried=carried,
    )
    # What the page shows has a fingerprint of its own, since people read it and not the data in it.
    digest = hashlib.sha256(page.encode()).hexdigest()
    return f"{page}<!-- pullpoint-page sha256:{digest} -->\n</body></html>\n"


def _file(name: str) -> str:
    with open(os.path.join(FOLDERS[0], name), encoding="utf-8") as source:
        return source.read()


def _for_script(data: dict[str, Any]) -> str:
    """JSON that cannot end the element it stands in, nor turn the direction of what follows.

    The signs of markup and those that break or reorder lines are written as JSON escapes.
    """
    return submittal.carried_json(data).translate(_ESCAPED)


def _numbered(columns: Sequence[Column]) -> list[int]:
    return [place for place, column in enumerate(columns) if column.number]


def _worth_a_row(findings: Sequence[NumberedFinding]) -> list[NumberedFinding]:
    """In a very long report: all but what does not apply, and what passes with ease."""
    passing = [f for f in findings if f.kind == "pass" and f.graded]
    passing.sort(key=lambda f: (-(f.ratio or 0.0), f.number))
    closest = {f.number for f in passing[:MOST_PASSING]}
    return [f for f in findings if f.number in closest or f.kind not in QUIET]


def _together(
    findings: Sequence[NumberedFinding], alone: Sequence[NumberedFinding]
) -> list[tuple[str, list[NumberedFinding]]]:
    """What has no row of its own: by rule and kind, with what is said of all of them."""
    if len(alone) == len(findings):
        return []
    kept = {view.number for view in alone}
    found: dict[tuple[str, str, str], list[NumberedFinding]] = {}
    for view in findings:
        if view.number in kept:
            continue
        said = "passes"
        if view.kind != "pass":
            said = view.message
        elif view.graded:
            said = "passes; other passing checks of this rule are closer to their limits"
        found.setdefault((view.rule, view.kind, said), []).append(view)
    return [(said, views) for (_, _, said), views in found.items()]
