"""Which requirement is checked by which rules: ``rules/coverage.yaml``.

A requirement is covered where rules check it and its line names nothing that is missing.  Tests
compare the lines with what the rules cite and with a list of single facts.
"""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

import os
from dataclasses import dataclass
from typing import Any, Literal

from checker.documents.fields import given
from checker.documents.loader import load
from checker.documents.reader import Reader
from checker.documents.source import read_source
from checker.paths import rules_folder

Decider = Literal["site", "engineer", "authority", "facility", "none_yet"]
#: Who decides what no rule checks, in words.
DECIDERS: dict[str, str] = {
    "site": "the site",
    "engineer": "the engineer of the system",
    "authority": "the authority having jurisdiction",
    "facility": "the facility",
    "none_yet": "nobody yet",
}


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Requirement:
    """A requirement of the code in our own words, and the rules that check it."""

    node: Any = None
    id: str = given("its name in this list")
    section: str = given("its section, numbered as in the 2023 edition unless it says otherwise")
    requirement: str = given("what it asks for, in our own words")
    rules: tuple[str, ...] = given(
        "the rules that check it; none where it is left to a person", default=()
    )
    missing: str = given("what of it no rule checks, where rules check the rest", default="")
    decided_by: Decider = given(
        "who decides what no rule checks; nobody yet, unless stated", default="none_yet"
    )
    note: str = given("why, and how sure it is", default="")

    @property
    def state(self) -> str:
        """``covered``, ``partly`` or ``not``."""
        if not self.rules:
            return "not"
        return "partly" if self.missing else "covered"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CoverageFile:
    """Requirements and the rules that check them."""

    node: Any = None
    coverage: str = given("what the list is")
    requirements: tuple["Requirement", ...] = given(
        "the requirements, in the order of their sections"
    )


def read_coverage(folder: str | None = None) -> tuple[Requirement, ...]:
    """The requirements of a rules folder; none where it has no such file.  Raises InputError."""
    path = os.path.join(folder or rules_folder(), "coverage.yaml")
    if not os.path.exists(path):
        return ()
    reader = Reader(load(read_source(path)), {"Requirement": Requirement})
    made: CoverageFile = reader.root(CoverageFile, "a coverage file")
    reader.finish()
    return made.requirements
