"""A rulebook in force: its rules, compiled for the elements that they are checked on."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from checker.documents.digest import sha256
from checker.paths import rules_folder

from .folder import RulesFolder

if TYPE_CHECKING:
    from checker.documents.source import Source
    from checker.language.types import Vocabulary
    from checker.tables.collection import TableSet

    from .citing import Sections
    from .coverage import Requirement
    from .forms import Form
    from .records import AmendmentFile, EditionFile
    from .rule import RuleRecord
    from .shared import Sheets


class LazyForm:
    """A form (see ``forms``) of which judging needs its code and explaining its expressions.

    Either is made when it is first asked for: ``checked`` gives a form without code, ``coded`` has
    the code.
    """

    __slots__ = ("_checked", "_coded", "_form", "_with_code", "outcomes", "subject", "tables")

    def __init__(
        self,
        subject: str,
        outcomes: tuple[str, ...],
        tables: frozenset[str],
        checked: Callable[[], Form],
        coded: Callable[[], Any],
    ) -> None:
        self.subject = subject
        self.outcomes = outcomes
        self.tables = tables
        self._checked = checked
        self._coded = coded
        self._form: Form | None = None
        self._with_code: Any = None

    @property
    def form(self) -> Form:
        """The form with its checked expressions, without code."""
        if self._form is None:
            self._form = self._checked()
        return self._form

    @property
    def code(self) -> Any:
        """What has the form's code."""
        if self._with_code is None:
            self._with_code = self._coded()
        return self._with_code

    fast = property(lambda self: self.code.fast)
    applies = property(lambda self: self.code.applies)
    needs = property(lambda self: self.code.needs)
    when = property(lambda self: self.form.when)
    unless = property(lambda self: self.form.unless)
    values = property(lambda self: self.form.values)
    steps = property(lambda self: self.form.steps)
    cases = property(lambda self: self.form.cases)
    reads = property(lambda self: self.form.reads)


@dataclass(slots=True, eq=False)
class Rule:
    """A rule in force, compiled for every class of element that it is checked on.

    citation: the section, as amended.  at: the field of the element that its findings point at, or
    "".  detail: the kind of detail whose absence it reports, or "".  covers: what it applies to, in
    words, or "" where an amendment changed that.  effective, status: when and
    whether it is in use.  uses: the shared sheets that it borrows from.  digest: a fingerprint of
    everything that decides findings and what they say.  sections: how its findings cite the section
    of their element alone; see ``citing``.  read: gives its record.  kept: whether it is as the
    edition has it, without a part of any amendment.
    """

    id: str
    title: str
    citation: str
    at: str
    detail: str
    covers: str
    effective: str | None
    status: str
    uses: tuple[str, ...]
    digest: str
    sections: Sections | None
    forms: dict[str, Form] = field(repr=False)
    read: Callable[[], RuleRecord] = field(repr=False)
    kept: bool = False
    _record: RuleRecord | None = field(default=None, init=False, repr=False)

    @classmethod
    def of(
        cls, record: RuleRecord, forms: dict[str, Form], sections: Sections | None = None
    ) -> Rule:
        """The rule of a record, with its forms by class of element."""
        return cls(
            record.id,
            str(record.title),
            str(record.cite),
            record.at,
            record.detail or "",
            record.covered,
            record.effective,
            record.status,
            tuple(record.uses),
            record.digest,
            sections,
            forms,
            lambda: record,
        )

    @property
    def record(self) -> RuleRecord:
        """The rule as it is written and amended, every part with its place; read when asked for."""
        if self._record is None:
            self._record = self.read()
        return self._record

    @property
    def tables(self) -> frozenset[str]:
        """The tables that it looks into."""
        return frozenset().union(*(form.tables for form in self.forms.values()))


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
        if any(change.table in rule.tables for change in self.file.changes if change.table):
            return True
        if rule.kept:
            return False
        record = rule.record
        origins = {part.origin for _, part in record.parts()}
        return self.id in origins or any(e.partition(":")[0] == self.id for e in record.history)


@dataclass(frozen=True)
class Rulebook:
    """Every rule in force for an edition and its amendments, compiled.

    notices: warnings that a report has to repeat (an amendment not in force, two that touch one
    thing).  digest: a fingerprint of the effective rules; tables_digest: of all tables.  folder:
    where the rules are; lent: the shared sheets as amended, read when they are asked for.
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
    folder: RulesFolder = field(default_factory=lambda: RulesFolder(rules_folder()), repr=False)
    lent: Sheets | None = field(default=None, repr=False, compare=False)

    @cached_property
    def vocabulary(self) -> Vocabulary:
        """What expressions may name, with this book's tables."""
        from .vocabulary import vocabulary_of

        return vocabulary_of(self.tables)

    @cached_property
    def sheets(self) -> Sheets:
        """The shared sheets that rules borrow from, as amended."""
        from .shared import Sheets

        return self.lent or Sheets(self.folder, self.edition.edition, self.edition.short)

    @cached_property
    def coverage(self) -> tuple[Requirement, ...]:
        """The requirements that are listed, and the rules that check each."""
        from .coverage import read_coverage

        with self.folder.state():
            return read_coverage(self.folder.path)

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


@dataclass(frozen=True, slots=True)
class Edition:
    """The rules of an edition, which amendments work on.

    kept: rules that are compiled already, by id; records: what stands in place of them, or of
    itself.  tables_digest: a fingerprint of all tables.
    """

    facts: EditionFile
    folder: RulesFolder
    sheets: Callable[[], Sheets]
    tables: TableSet
    tables_digest: str
    records: dict[str, RuleRecord] = field(default_factory=dict)
    kept: dict[str, Rule] = field(default_factory=dict)


def kept_book(edition: Edition, date: str | None) -> Rulebook:
    """The rulebook of a kept edition without amendments, on a day."""
    notices: list[str] = []
    chosen = edition.facts
    rules = tuple(rule for rule in edition.kept.values() if applies(rule, date, notices))
    return Rulebook(
        edition=chosen,
        rules=rules,
        tables=edition.tables,
        amendments=(),
        notices=tuple(notices),
        terms=dict(chosen.terms),
        digest=rules_digest(rules),
        tables_digest=edition.tables_digest,
        folder=edition.folder,
    )


def applies(rule: Rule | RuleRecord, date: str | None, notices: list[str]) -> bool:
    """Whether a rule is in use and in force on a day; ``notices`` tells where it is not."""
    if rule.status != "in_use":
        notices.append(f"rule {rule.id} is a {rule.status} and was not applied")
        return False
    if rule.effective and date and date < rule.effective:
        notices.append(f"rule {rule.id} is in force from {rule.effective}, after {date}")
        return False
    return True


def rules_digest(rules: Iterable[Rule]) -> str:
    """A fingerprint of rules in their order."""
    total = sha256()
    for rule in rules:
        total.update(f"{rule.id}={rule.digest}\n".encode())
    return "sha256:" + total.hexdigest()
