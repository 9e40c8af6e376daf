"""The rulebook in force: rules compiled for the elements that they are checked on.

A check of a shipped edition does not read a single rule file again: ``store`` keeps the compiled
rules by the content of all files.  What it keeps is enough to judge; texts, steps and traces come
from the files, and are read when a finding has to be explained.
"""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from checker.paths import rules_folder, tables_folder

if TYPE_CHECKING:
    from checker.documents.source import Source
    from checker.language.types import Vocabulary
    from checker.tables.collection import TableSet

    from .citing import Sections
    from .coverage import Requirement
    from .draft import Draft
    from .forms import Form
    from .records import AmendmentFile
    from .shared import Sheets

EXAMPLES = ".examples.yaml"


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule in force, compiled for every class of element that it is checked on.

    sections: how its findings cite the section of their element alone; see ``citing``.
    """

    draft: Draft
    forms: dict[str, Form]
    sections: Sections | None = None

    @property
    def id(self) -> str:
        """The rule's id."""
        return self.draft.id

    @property
    def at(self) -> str:
        """The field of the element that its findings point at, or ""."""
        return self.draft.at

    @property
    def detail(self) -> str:
        """The kind of detail whose absence it reports, or ""."""
        return self.draft.detail

    @property
    def title(self) -> str:
        """The requirement in a sentence."""
        return str(self.draft.title.value)

    @property
    def citation(self) -> str:
        """The section, as amended."""
        return str(self.draft.cite.value)


@dataclass(frozen=True, slots=True)
class Amendment:
    """An amendment as it was read, and what it did."""

    file: AmendmentFile
    source: Source
    in_force: bool
    note: str
    acted: tuple[str, ...]

    @property
    def id(self) -> str:
        """The amendment's id."""
        return self.file.amendment

    def touches(self, rule: Rule) -> bool:
        """Whether it made or changed the rule, or a table that the rule looks into."""
        draft = rule.draft
        origins = {part.origin for _, part in draft.parts()}
        origins |= {entry.partition(":")[0] for entry in draft.history}
        tables = {table for form in rule.forms.values() for table in form.tables}
        return self.id in origins or any(c.table in tables for c in self.file.changes if c.table)


@dataclass(frozen=True, slots=True)
class Rulebook:
    """Every rule in force for an edition and its amendments, compiled.

    notices: warnings that a report has to repeat (an amendment not in force, two that touch one
    thing).  digest: a fingerprint of the effective rules; tables_digest: of all tables.
    """

    edition: Any
    rules: tuple[Rule, ...]
    tables: TableSet
    amendments: tuple[Amendment, ...]
    notices: tuple[str, ...]
    terms: dict[str, str]
    digest: str
    tables_digest: str
    withdrawn: dict[str, str] = field(default_factory=dict)
    _kept: dict[str, Any] = field(default_factory=dict, repr=False, compare=False)

    @property
    def vocabulary(self) -> Vocabulary:
        """What expressions may name, with this book's tables."""
        known = self._kept.get("vocabulary")
        if known is None:
            from .vocabulary import vocabulary_of

            known = self._kept["vocabulary"] = vocabulary_of(self.tables)
        return known

    @property
    def sheets(self) -> Sheets:
        """The shared sheets that rules borrow from, as amended."""
        known: Sheets | None = self._kept.get("sheets")
        if known is None:
            from .shared import Sheets

            known = Sheets(rules_folder(), self.edition.edition, self.edition.short)
            self._kept["sheets"] = known
        return known

    @property
    def coverage(self) -> tuple[Requirement, ...]:
        """The requirements that are listed, and the rules that check each."""
        known: tuple[Requirement, ...] | None = self._kept.get("coverage")
        if known is None:
            from .coverage import from_facts, read_coverage

            facts = self._kept.get("coverage_facts")
            known = read_coverage() if facts is None else from_facts(facts)
            self._kept["coverage"] = known
        return known

    def find(self, name: str) -> Rule:
        """The rule called ``name``; LookupError names the nearest one."""
        for rule in self.rules:
            if rule.id == name:
                return rule
        from checker.documents.errors import nearest

        close = nearest(name, [rule.id for rule in self.rules])
        gone = self.withdrawn.get(name)
        hint = f": amendment {gone} withdrew it" if gone else ""
        hint = hint or (f"; nearest: {close}" if close else "")
        raise LookupError(f"there is no rule `{name}`{hint}")


def edition_ids(folder: str | None = None) -> list[str]:
    """The editions that are shipped."""
    where = os.path.join(folder or rules_folder(), "editions")
    return sorted(n.removesuffix(".yaml") for n in os.listdir(where) if n.endswith(".yaml"))


def load_rulebook(
    edition: str,
    amendments: list[str] | None = None,
    *,
    date: str | None = None,
    folder: str | None = None,
    tables: str | None = None,
) -> Rulebook:
    """The effective rulebook.

    ``date`` (YYYY-MM-DD) is the day on which amendments and rules are judged to be in force.
    Raises InputError with everything that is wrong, LookupError for an unknown edition.
    """
    from checker.documents.source import each_file_once

    from . import store

    where, table_files = folder or rules_folder(), tables or tables_folder()
    with each_file_once():
        if not amendments:
            return store.fetch(edition, date, where, table_files)
        from .build import build

        kept = store.fetch(edition, None, where, table_files)
        return build(edition, amendments, date=date, folder=where, tables=table_files, kept=kept)
