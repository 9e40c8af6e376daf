"""Which requirement is checked by which rules: ``rules/coverage.yaml``."""

# Annotations are evaluated here (no ``from __future__``): ``fields_of`` reads them as objects.

import os
from dataclasses import dataclass
from typing import Any

from checker.documents.fields import given
from checker.documents.loader import load
from checker.documents.reader import Reader
from checker.documents.source import read_source
from checker.paths import rules_folder


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Requirement:
    """A requirement of the code in our own words, and the rules that check it.

    id: its name in this list
    section: its section, numbered as in the 2023 edition unless it says otherwise
    requirement: what it asks for, in our own words
    rules: the rules that check it; none where it is for a person
    note: what of it is not checked, and why
    """

    node: Any = None
    id: str = given()
    section: str = given()
    requirement: str = given()
    rules: tuple[str, ...] = given(())
    note: str = given("")


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
