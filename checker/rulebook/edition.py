"""The rules of an edition, read from their files or kept, for amendments to work on."""

from __future__ import annotations

from collections.abc import Iterator, MutableMapping

from checker.documents.errors import InputError, Problem
from checker.documents.loader import load
from checker.documents.missing import NO_ENTRY
from checker.tables.collection import load_tables

from .folder import RulesFolder
from .in_force import Edition, Rule
from .known_editions import unknown_editions
from .reading import read_rule
from .records import EditionFile
from .rule import RuleRecord
from .shared import Sheets


def read_record(
    folder: RulesFolder, path: str, edition: EditionFile, sheets: Sheets
) -> RuleRecord | None:
    """A rule of an edition, or None where the edition has no such rule.  Raises InputError."""
    source = folder.source(path)
    file = read_rule(load(source), edition.short)
    problems: list[Problem] = []
    if not file.cites:
        problems.append(
            source.problem(
                file.node.mark,
                f"rule {file.rule} cites nothing",
                found="no `cite:`",
                expected="`cite:` with the section by edition, or `any:`",
            )
        )
    rule = None
    try:
        rule = of_edition(file, edition, sheets, folder.editions())
    except InputError as error:
        problems.extend(error.problems)
    if problems:
        raise InputError(problems)
    return rule


def of_edition(
    file: RuleRecord, edition: EditionFile, sheets: Sheets, editions: list[str]
) -> RuleRecord | None:
    """A rule that was read as an edition has it, with what it borrows.  Raises InputError."""
    problems = unknown_editions(file, file.source, editions)
    rule = file.of_edition(edition.edition)
    try:
        rule = rule and sheets.lend(rule)
    except InputError as error:
        problems.extend(error.problems)
    if problems:
        raise InputError(problems)
    return rule


def read_records(
    folder: RulesFolder, edition: EditionFile, sheets: Sheets
) -> dict[str, RuleRecord]:
    """Every rule of an edition.  Raises InputError with what is wrong with any."""
    rules: dict[str, RuleRecord] = {}
    problems: list[Problem] = []
    for path in folder.rules():
        try:
            rule = read_record(folder, path, edition, sheets)
        except InputError as error:
            problems.extend(p for p in error.problems if p not in problems)
            continue
        if rule is None:
            continue
        if rule.id in rules:
            problems.append(
                rule.source.problem(
                    rule.node.value_mark("rule"),
                    f"two rules are called `{rule.id}`",
                    found=f"also in {rules[rule.id].file}",
                    expected="an id of its own",
                )
            )
        rules[rule.id] = rule
    if problems:
        raise InputError(problems)
    return rules


def read(edition: str, folder: RulesFolder, tables: str) -> Edition:
    """An edition, read from its files.  Raises InputError; LookupError for an unknown edition."""
    chosen = folder.edition(edition)
    listed = load_tables(tables, missing=NO_ENTRY)
    sheets = Sheets(folder, chosen.edition, chosen.short)
    records = read_records(folder, chosen, sheets)
    of_edition = listed.for_edition(edition)
    return Edition(chosen, folder, lambda: sheets, of_edition, listed.digest, records)


class Records(MutableMapping[str, RuleRecord]):
    """The rules of an edition as amended so far; a kept one is read when it is asked for."""

    def __init__(self, edition: Edition) -> None:
        self._kept = edition.kept
        self._records: dict[str, RuleRecord | None] = {**dict.fromkeys(edition.kept)}
        self._records.update(edition.records)

    def __getitem__(self, name: str) -> RuleRecord:
        record = self._records[name]
        return self._kept[name].record if record is None else record

    def __setitem__(self, name: str, record: RuleRecord) -> None:
        self._records[name] = record

    def __delitem__(self, name: str) -> None:
        del self._records[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._records)

    def __len__(self) -> int:
        return len(self._records)

    def untouched(self, name: str) -> Rule | None:
        """The kept rule where no amendment has changed it."""
        return self._kept[name] if self._records[name] is None else None

    def using(self, sheet: str) -> dict[str, RuleRecord]:
        """The rules that borrow from a shared sheet."""
        found = {}
        for name in self._records:
            kept = self.untouched(name)
            if sheet in (kept.uses if kept is not None else self[name].uses):
                found[name] = self[name]
        return found
