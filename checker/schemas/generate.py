"""Writes the schema files: ``python -m checker.schemas.generate``."""

from __future__ import annotations

import json
from typing import Any

from . import schema_path
from .make import Maker

#: The schemas that are made from records.
MADE = ("assembly", "rule", "examples", "shared", "amendment", "edition", "decisions", "table")


def make(name: str) -> dict[str, Any]:
    """One schema.  KeyError for a name that is not among ``MADE``."""
    from checker.assembly.records import RECORDS, Assembly
    from checker.findings import decision_records
    from checker.rulebook import records
    from checker.tables import loader

    kinds: dict[str, tuple[dict[str, type], type, str]] = {
        "assembly": (RECORDS, Assembly, "A prefabricated assembly"),
        "rule": (records.RECORDS, records.RuleFile, "A rule"),
        "examples": (records.RECORDS, records.ExamplesFile, "Examples of a rule"),
        "shared": (records.RECORDS, records.SharedFile, "A sheet that rules share"),
        "amendment": (records.RECORDS, records.AmendmentFile, "An amendment"),
        "edition": (records.RECORDS, records.EditionFile, "An edition"),
        "decisions": (
            decision_records.RECORDS,
            decision_records.DecisionsFile,
            "Recorded decisions",
        ),
        "table": (loader.RECORDS, loader.TableFile, "A table of sourced numbers"),
    }
    classes, record, title = kinds[name]
    made = Maker(classes).root(name, record, title)
    if name == "assembly":
        from .short_form import with_short_form

        made = with_short_form(made)
    return made


def text_of(name: str) -> str:
    """One schema as its file holds it."""
    return json.dumps(make(name), ensure_ascii=False, indent=1) + "\n"


def main() -> None:
    """Write every schema that is made from records."""
    from checker.documents.writing import write_text

    for name in MADE:
        write_text(schema_path(name), text_of(name))


if __name__ == "__main__":
    main()
