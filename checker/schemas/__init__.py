"""JSON Schemas (2020-12) of the files that people write, for editors.

``generate`` writes them from the records' own declarations; a test holds the files equal to what it
makes.  ``report.schema.json`` is written by hand.
"""

from __future__ import annotations

import os

#: What can be asked for, and the file that holds it.
FILES = {
    "assembly": "assembly",
    "rule": "rule",
    "rules": "rule",
    "examples": "examples",
    "shared": "shared",
    "amendment": "amendment",
    "amendments": "amendment",
    "edition": "edition",
    "editions": "edition",
    "table": "table",
    "tables": "table",
    "decisions": "decisions",
    "report": "report",
}


def schema_path(name: str) -> str:
    """The file of a schema.  KeyError for an unknown name."""
    return os.path.join(os.path.dirname(os.path.abspath(__file__)), f"{FILES[name]}.schema.json")
