"""Loads the rulebook: an edition, its rules and tables, with amendments applied."""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass, field
from typing import Any

from checker.documents.errors import InputError, Problem, nearest
from checker.documents.loader import load
from checker.documents.reader import Reader
from checker.documents.source import Source, read_source
from checker.language.types import Vocabulary
from checker.paths import rules_folder, tables_folder
from checker.tables.collection import TableSet, load_tables

from .amend import Applier, Book
from .compiled import Form, compile_form
from .draft import Draft, Drafter
from .records import RECORDS, AmendmentFile, EditionFile, ExamplesFile, RuleFile
from .vocabulary import NO_ENTRY, vocabulary_of

EXAMPLES = ".examples.yaml"


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule in force, compiled for every class of element that it is checked on."""

    draft: Draft
    forms: dict[str, Form]

    @property
    def id(self) -> str:
        """The rule's id."""
        return self.draft.id

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


@dataclass(frozen=True, slots=True)
class Rulebook:
    """Every rule in force for an edition and its amendments, compiled.

    notices: warnings that a report has to repeat (an amendment not in force, two that touch one
    thing).  digest: a fingerprint of the effective rules.
    """

    edition: EditionFile
    rules: tuple[Rule, ...]
    tables: TableSet
    vocabulary: Vocabulary
    amendments: tuple[Amendment, ...]
    notices: tuple[str, ...]
    terms: dict[str, str]
    withdrawn: dict[str, str] = field(default_factory=dict)
    tables_digest: str = ""

    @property
    def digest(self) -> str:
        """A fingerprint of the effective rules."""
        total = hashlib.sha256()
        for rule in self.rules:
            total.update(f"{rule.id}={rule.draft.digest}\n".encode())
        return "sha256:" + total.hexdigest()

    def find(self, name: str) -> Rule:
        """The rule called ``name``; LookupError names the nearest one."""
        for rule in self.rules:
            if rule.id == name:
                return rule
        close = nearest(name, [rule.id for rule in self.rules])
        gone = self.withdrawn.get(name)
        hint = f": amendment {gone} withdrew it" if gone else ""
        hint = hint or (f"; nearest: {close}" if close else "")
        raise LookupError(f"there is no rule `{name}`{hint}")


# -- files ----------------------------------------------------------------------------------


def read_file(record: type, source: Source, what: str) -> Any:
    """Read a rule, edition, examples or amendment file.  Raises InputError."""
    reader = Reader(load(source), RECORDS)
    made = reader.root(record, what)
    reader.finish()
    return made


def rule_files(folder: str) -> list[str]:
    """The rule files of a folder and its topic folders, in order."""
    found = []
    for where, folders, names in os.walk(folder):
        folders[:] = sorted(f for f in folders if f not in ("editions", "amendments"))
        found += [
            os.path.join(where, name)
            for name in sorted(names)
            if name.endswith(".yaml") and not name.endswith(EXAMPLES)
        ]
    return found


def examples_path(rule_file: str) -> str:
    """The examples file beside a rule file."""
    return rule_file.removesuffix(".yaml") + EXAMPLES


def read_examples(rule_file: str) -> ExamplesFile | None:
    """The examples beside a rule file, or None where there are none."""
    path = examples_path(rule_file)
    if not os.path.exists(path):
        return None
    done: ExamplesFile = read_file(ExamplesFile, read_source(path), "an examples file")
    return done


def edition_ids(folder: str | None = None) -> list[str]:
    """The editions that are shipped."""
    where = os.path.join(folder or rules_folder(), "editions")
    return sorted(n.removesuffix(".yaml") for n in os.listdir(where) if n.endswith(".yaml"))


def read_edition(name: str, folder: str | None = None) -> EditionFile:
    """An edition by its id.  Raises LookupError with the nearest one."""
    known = edition_ids(folder)
    if name not in known:
        close = nearest(name, known)
        raise LookupError(
            f"there is no edition `{name}`; there are {', '.join(known)}"
            + (f"; nearest: {close}" if close else "")
        )
    path = os.path.join(folder or rules_folder(), "editions", name + ".yaml")
    done: EditionFile = read_file(EditionFile, read_source(path), "an edition")
    return done


def read_amendments(paths: list[str]) -> list[tuple[AmendmentFile, Source]]:
    """Amendments in order, each after those it builds on.  Raises InputError."""
    done: dict[str, tuple[AmendmentFile, Source]] = {}
    for path in paths:
        _collect(path, done, ())
    ids: dict[str, Source] = {}
    for file, source in done.values():
        if file.amendment in ids:
            mark = file.node.value_mark("amendment")
            raise InputError(
                source.problem(
                    mark,
                    f"two amendments are called `{file.amendment}`",
                    found=f"also in {ids[file.amendment].path}",
                    expected="an id of its own",
                )
            )
        ids[file.amendment] = source
    return list(done.values())


def _collect(
    path: str, done: dict[str, tuple[AmendmentFile, Source]], chain: tuple[str, ...]
) -> None:
    real = os.path.realpath(path)
    if real in chain:
        names = " → ".join(os.path.basename(p) for p in (*chain, real))
        raise InputError(
            Problem(
                path,
                1,
                1,
                "amendments build on each other in a circle",
                found=names,
                expected="an order from the first to the last",
            )
        )
    if real in done:
        return
    source = read_source(path)
    file: AmendmentFile = read_file(AmendmentFile, source, "an amendment")
    for index, name in enumerate(file.builds_on):
        parts = name.replace("\\", "/").split("/")
        if os.path.isabs(name) or ".." in parts or ":" in parts[0]:
            raw = file.node["builds_on"]
            mark = (
                file.node.value_mark("builds_on") if isinstance(raw, str) else raw.value_mark(index)
            )
            raise InputError(
                source.problem(
                    mark,
                    "an amendment may only build on files beside it",
                    found=name,
                    expected="a file name in the same folder or below it",
                    length=len(name),
                )
            )
        _collect(os.path.join(os.path.dirname(path), name), done, (*chain, real))
    done[real] = (file, source)


# -- the whole ------------------------------------------------------------------------------


def load_rulebook(
    edition: str,
    amendments: list[str] | None = None,
    *,
    date: str | None = None,
    folder: str | None = None,
    tables: str | None = None,
    only: set[str] | None = None,
) -> Rulebook:
    """The effective rulebook.

    ``date`` (YYYY-MM-DD) is the day on which amendments and rules are judged to be in force;
    ``only`` limits the subject classes that rules are compiled for.  Raises InputError with
    everything that is wrong, LookupError for an unknown edition.
    """
    where = folder or rules_folder()
    chosen = read_edition(edition, where)
    table_set = load_tables(tables or tables_folder(), missing=NO_ENTRY)
    base_digest = table_set.digest
    book = Book(_drafts(where, chosen), table_set.for_edition(edition))
    problems: list[Problem] = []
    notices: list[str] = []
    applied = _apply(book, amendments or [], chosen, date, problems, notices)
    if problems:
        raise InputError(problems)
    final = book.tables.replaced(book.changed_tables) if book.changed_tables else book.tables
    vocabulary = vocabulary_of(final)
    rules = []
    for draft in book.drafts.values():
        if draft.status != "in_use":
            notices.append(f"rule {draft.id} is a {draft.status} and was not applied")
            continue
        if draft.effective and date and date < draft.effective:
            notices.append(f"rule {draft.id} is in force from {draft.effective}, after {date}")
            continue
        forms = {}
        for subject in draft.classes:
            try:
                forms[subject] = compile_form(draft, subject, vocabulary)
            except InputError as error:
                problems.extend(p for p in error.problems if p not in problems)
        rules.append(Rule(draft, forms))
    if problems:
        raise InputError(problems)
    terms = dict(chosen.terms)
    for amendment in applied:
        if amendment.in_force:
            terms |= amendment.file.terms
    return Rulebook(
        edition=chosen,
        rules=tuple(rules),
        tables=final,
        vocabulary=vocabulary,
        amendments=tuple(applied),
        notices=tuple(notices),
        terms=terms,
        withdrawn=book.withdrawn,
        tables_digest=_tables_digest(base_digest, book),
    )


def _tables_digest(base: str, book: Book) -> str:
    if not book.changed_tables:
        return base
    total = hashlib.sha256(base.encode())
    for name, table in sorted(book.changed_tables.items()):
        total.update(f"{name}={table.digest}\n".encode())
    return "sha256:" + total.hexdigest()


def _drafts(folder: str, edition: EditionFile) -> dict[str, Draft]:
    drafts: dict[str, Draft] = {}
    problems: list[Problem] = []
    for path in rule_files(folder):
        try:
            source = read_source(path)
            file: RuleFile = read_file(RuleFile, source, "a rule")
        except InputError as error:
            problems.extend(error.problems)
            continue
        if not file.cite:
            problems.append(
                source.problem(
                    file.node.mark,
                    f"rule {file.rule} cites nothing",
                    found="no `cite:`",
                    expected="`cite:` with the section by edition, or `any:`",
                )
            )
        draft = Drafter(source, edition.edition, edition.short).draft(file)
        if draft is None:
            continue
        if draft.id in drafts:
            problems.append(
                source.problem(
                    file.node.value_mark("rule"),
                    f"two rules are called `{draft.id}`",
                    found=f"also in {drafts[draft.id].file}",
                    expected="an id of its own",
                )
            )
        drafts[draft.id] = draft
    if problems:
        raise InputError(problems)
    return drafts


def _apply(
    book: Book,
    paths: list[str],
    edition: EditionFile,
    date: str | None,
    problems: list[Problem],
    notices: list[str],
) -> list[Amendment]:
    files = read_amendments(paths)
    known = {file.amendment: file for file, _ in files}
    skip = _withdrawn_changes(files, known, edition, date, problems)
    applied = []
    for file, source in files:
        note = _out_of_force(file, edition, date)
        if note:
            notices.append(f"amendment {file.amendment} was not applied: {note}")
            applied.append(Amendment(file, source, False, note, ()))
            continue
        if date is None:
            notices.append(
                f"amendment {file.amendment} (in force from {file.effective}) was taken as in "
                "force: the permit date is not stated"
            )
        if file.status == "draft":
            notices.append(
                f"amendment {file.amendment} is a draft: compare it with the current ordinance"
            )
        applier = Applier(book, file, source, edition.edition, skip)
        applier.run()
        problems.extend(applier.problems)
        notices.extend(f"{p.file}:{p.line}:{p.column}: {p.message}" for p in applier.warnings)
        applied.append(Amendment(file, source, True, "", tuple(applier.acted)))
    return applied


def _out_of_force(file: AmendmentFile, edition: EditionFile, date: str | None) -> str:
    if file.editions and edition.edition not in file.editions:
        return f"it amends {', '.join(file.editions)}, not {edition.edition}"
    if date is not None and date < file.effective:
        return f"it is in force from {file.effective}; the design is judged on {date}"
    if date is not None and file.ends is not None and date > file.ends:
        return f"it was in force until {file.ends}; the design is judged on {date}"
    return ""


def _withdrawn_changes(
    files: list[tuple[AmendmentFile, Source]],
    known: dict[str, AmendmentFile],
    edition: EditionFile,
    date: str | None,
    problems: list[Problem],
) -> frozenset[tuple[str, str]]:
    """(amendment, rule or table) of changes that a later amendment takes back."""
    skip = set()
    for file, source in files:
        if _out_of_force(file, edition, date):
            continue
        for change in file.changes:
            for key in ("amendment", "supersedes"):
                name = getattr(change, key)
                if name and name not in known:
                    problems.append(
                        source.problem(
                            change.node.value_mark(key),
                            f"there is no amendment `{name}` among those applied",
                            found=name,
                            expected="one of " + ", ".join(known),
                            suggestion=nearest(name, known) or "",
                            length=len(name),
                        )
                    )
            if change.amendment in known and change.withdraw:
                thing = change.rule or change.table
                touched = {c.rule or c.table or _own_id(c) for c in known[change.amendment].changes}
                if thing not in touched:
                    problems.append(
                        source.problem(
                            change.node.mark,
                            f"amendment {change.amendment} does not change `{thing}`",
                            found=thing,
                            expected="one of " + ", ".join(sorted(touched)),
                            suggestion=nearest(thing, touched) or "",
                        )
                    )
                skip.add((change.amendment, thing))
    return frozenset(skip)


def _own_id(change: Any) -> str:
    for held in (change.add, change.forbid, change.require):
        if held is not None:
            return str(held.rule)
    return ""
