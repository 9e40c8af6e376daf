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
    """A requirement of the code in our own words, and the rules that check it.

    id: its name in this list
    section: its section, numbered as in the 2023 edition unless it says otherwise
    requirement: what it asks for, in our own words
    rules: the rules that check it; none where it is left to a person
    missing: what of it no rule checks, where rules check the rest
    decided_by: who decides what no rule checks; nobody yet, unless stated
    note: why, and how sure it is
    """

    node: Any = None
    id: str = given()
    section: str = given()
    requirement: str = given()
    rules: tuple[str, ...] = given(())
    missing: str = given("")
    decided_by: Decider = given("none_yet")
    note: str = given("")

    @property
    def state(self) -> str:
        """``covered``, ``partly`` or ``not``."""
        if not self.rules:
            return "not"
        return "partly" if self.missing else "covered"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CoverageFile:
    """Requirements and the rules that check them.

    coverage: what the list is
    requirements: the requirements, in the order of their sections
    """

    node: Any = None
    coverage: str = given()
    requirements: tuple["Requirement", ...] = given()


def read_coverage(folder: str | None = None) -> tuple[Requirement, ...]:
    """The requirements of a rules folder; none where it has no such file.  Raises InputError."""
    path = os.path.join(folder or rules_folder(), "coverage.yaml")
    if not os.path.exists(path):
        return ()
    reader = Reader(load(read_source(path)), {"Requirement": Requirement})
    made: CoverageFile = reader.root(CoverageFile, "a coverage file")
    reader.finish()
    return made.requirements
