"""What the PDF and HTML forms share: the report as data that they carry inside."""

from __future__ import annotations

import json
from typing import Any

#: Findings beyond which the carried report leaves out the steps of checks that hold.
STEPS_UP_TO = 20_000


def carried_json(data: dict[str, Any]) -> str:
    """The report object as compact JSON, to be carried inside the file.

    A very large report would make the file too large to open; it keeps every finding, and the
    steps of what needs action.  ``steps_of`` says so.
    """
    findings = data["findings"]
    if len(findings) > STEPS_UP_TO:
        kept = [
            f if f["kind"] in ("fail", "open", "review") else {**f, "steps": []} for f in findings
        ]
        data = {**data, "steps_of": "findings that need action", "findings": kept}
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))
