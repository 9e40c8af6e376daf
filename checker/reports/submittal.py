"""What the PDF and HTML forms share: the report as data that they carry inside."""

from __future__ import annotations

import json
from typing import Any

from checker.documents.unseen import json_escaped
from checker.findings.kinds import ACTION

#: Findings beyond which the carried report leaves out the steps of checks that hold: a file that
#: is too large to open or send serves nobody.
STEPS_UP_TO = 6_000


#: Findings in all beyond which a report is brief: those of one kind and rule stand together.
BRIEF_FROM = 4_000


def carries_steps(findings: int) -> bool:
    """Whether a report of so many findings carries the steps of all of them."""
    return findings <= STEPS_UP_TO


def carried_json(data: dict[str, Any]) -> str:
    """The report object as compact JSON, to be carried inside the file.

    Every finding is in it.  Where the steps of those that need no action are left out,
    ``steps_of`` says so.
    """
    findings = data["findings"]
    if not carries_steps(len(findings)):
        kept = [f if f["kind"] in ACTION else {**f, "steps": []} for f in findings]
        data = {**data, "steps_of": "findings that need action", "findings": kept}
    return json_escaped(json.dumps(data, ensure_ascii=False, separators=(",", ":")))
