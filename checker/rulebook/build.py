"""Reads rule, edition and amendment files and compiles them to a rulebook.

This is the long way: everything is read, checked and compiled.  ``book.load_rulebook`` takes it
when ``store`` has nothing for these files yet.
"""

from __future__ import annotations

import os
from typing import Any

from checker.documents.digest import sha256
from checker.documents.errors import InputError, Problem, nearest
from checker.documents.missing import NO_ENTRY
from checker.paths import rules_folder, tables_folder
from checker.tables.collection import TableSet, load_tables

from .book import EXAMPLES, Rule, Rulebook, edition_ids
from .citing import sections_of
from .compiled import compile_form
from .draft import Draft, Drafter, Part
from .forms import Form
from .known_editions import unknown_editions
from .reading import read_file, source_of
from .records import EditionFile, RuleFile
from .shared import FOLDER as SHEETS
from .shared import Sheets
from .stacking import Stack
from .touches import Book
from .vocabulary import vocabulary_of

#: Lists requirements and the rules that check them; it is no rule.
COVERAGE = "coverage.yaml"

_MOST_PROBLEMS = 100  # then compiling ends: nobody reads more


# -- files ----------------------------------------------------------------------------------


def rule_files(folder: str) -> list[str]:
    """The rule files of a folder and its topic folders, in order."""
    found = []
    for where, folders, names in os.walk(folder):
        folders[:] = sorted(f for f in folders if f not in ("editions", "amendments", SHEETS))
        found += [
            os.path.join(where, name)
            for name in sorted(names)
            if name.endswith(".yaml") and not name.endswith(EXAMPLES) and name != COVERAGE
        ]
    return found


def examples_path(rule_file: str) -> str:
    """The examples file beside a rule file."""
    return rule_file.removesuffix(".yaml") + EXAMPLES


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
    done: EditionFile = read_file(EditionFile, source_of(path), "an edition")
    return done


# -- the whole ------------------------------------------------------------------------------


def build(
    edition: str,
    amendments: list[str] | None = None,
    *,
    date: str | None = None,
    folder: str | None = None,
    tables: str | None = None,
    kept: Rulebook | None = None,
) -> Rulebook:
    """The effective rulebook, read and compiled.

    ``date`` (YYYY-MM-DD) is the day on which amendments and rules are judged to be in force;
    ``kept``, the same edition without amendments, lends the code of what no amendment touches.
    Raises InputError with everything that is wrong, LookupError for an unknown edition.
    """
    where = folder or rules_folder()
    chosen = read_edition(edition, where)
    table_set = load_tables(tables or tables_folder(), missing=NO_ENTRY)
    base_digest = table_set.digest
    sheets, known = Sheets(where, chosen.edition, chosen.short), edition_ids(where)
    drafts = _drafts(where, chosen, sheets)
    book = Book(drafts, table_set.for_edition(edition), sheets, known)
    compiled = _Compiled(book, kept)
    stack = Stack(book, chosen, known, date, terms=dict(chosen.terms))
    applied = stack.apply(amendments or [])
    notices = stack.notices
    if stack.problems:
        raise InputError(stack.problems)
    final = book.tables.replaced(book.changed_tables) if book.changed_tables else book.tables
    rules = _compile(book, compiled, final, chosen.short, date, notices)
    return Rulebook(
        edition=chosen,
        rules=tuple(rules),
        tables=final,
        amendments=tuple(applied),
        notices=tuple(notices),
        terms=stack.terms,
        withdrawn=book.withdrawn,
        digest=_rules_digest(rules),
        tables_digest=_tables_digest(base_digest, book),
        _kept={"sheets": book.sheets, **_coverage_of(kept)},
    )


def _coverage_of(kept: Rulebook | None) -> dict[str, Any]:
    """What a kept book knows of coverage: amendments change no requirement's line."""
    facts = None if kept is None else kept._kept.get("coverage_facts")
    return {} if facts is None else {"coverage_facts": facts}


def _compile(
    book: Book,
    compiled: _Compiled,
    tables: TableSet,
    short: str,
    date: str | None,
    notices: list[str],
) -> list[Rule]:
    """The rules in use and in force; ``notices`` tells of the others.  Raises InputError."""
    vocabulary = vocabulary_of(tables)
    rules: list[Rule] = []
    problems: list[Problem] = []
    for draft in book.drafts.values():
        if draft.status != "in_use":
            notices.append(f"rule {draft.id} is a {draft.status} and was not applied")
            continue
        if draft.effective and date and date < draft.effective:
            notices.append(f"rule {draft.id} is in force from {draft.effective}, after {date}")
            continue
        if len(problems) >= _MOST_PROBLEMS:
            break
        forms = {}
        if not draft.classes:
            problems.append(
                draft.source.problem(
                    draft.mark,
                    f"rule {draft.id} is checked on nothing",
                    found="an empty `each:`",
                    expected="a class of element, such as raceway",
                )
            )
        for subject in dict.fromkeys(draft.classes):
            try:
                forms[subject] = compiled.form(draft, subject) or compile_form(
                    draft, subject, vocabulary
                )
            except InputError as error:
                problems.extend(p for p in error.problems if p not in problems)
        done = _with_sheets(_with_tables(draft, forms, book), book)
        try:
            rules.append(Rule(done, forms, sections_of(done, tables, short)))
        except InputError as error:
            problems.extend(error.problems)
    if problems:
        raise InputError(problems)
    return rules


class _Compiled:
    """What a book without amendments has compiled already."""

    def __init__(self, book: Book, kept: Rulebook | None) -> None:
        self.book = book
        self.drafts = dict(book.drafts)
        self.forms = {rule.id: rule.forms for rule in kept.rules} if kept is not None else {}

    def form(self, draft: Draft, subject: str) -> Form | None:
        """The form of a rule that is as it was, and whose tables are as they were."""
        if self.drafts.get(draft.id) is not draft:
            return None
        form = self.forms.get(draft.id, {}).get(subject)
        return (
            form if form is not None and not form.tables & self.book.changed_tables.keys() else None
        )


def _with_tables(draft: Draft, forms: dict[str, Form], book: Book) -> Draft:
    """The draft, citing the amendments of the tables that it looks into."""
    if not book.table_words:
        return draft
    used = {name for form in forms.values() for name in form.tables}
    words = [
        f"table {name} as amended by {', '.join(said)}"
        for name, said in book.table_words.items()
        if name in used
    ]
    if not words:
        return draft
    old = draft.cite
    cite = Part("; ".join([str(old.value), *words]), old.source, old.mark, old.origin)
    return draft.with_(cite=cite, history=(*draft.history, *words))


def _with_sheets(draft: Draft, book: Book) -> Draft:
    """The draft, citing the amendments of values that it borrowed when they had been changed."""
    old = draft.cite
    said = [book.sheet_words.get(v.part) for n, v in draft.values.items() if n in draft.borrowed]
    words = [word for word in dict.fromkeys(said) if word and word not in str(old.value)]
    if not words:
        return draft
    text = f"{old.value}, as amended by {', '.join(words)}"
    return draft.with_(cite=Part(text, old.source, old.mark, old.origin))


def _rules_digest(rules: list[Rule]) -> str:
    total = sha256()
    for rule in rules:
        total.update(f"{rule.id}={rule.draft.digest}\n".encode())
    return "sha256:" + total.hexdigest()


def _tables_digest(base: str, book: Book) -> str:
    if not book.changed_tables:
        return base
    total = sha256(base.encode())
    for name, table in sorted(book.changed_tables.items()):
        total.update(f"{name}={table.digest}\n".encode())
    return "sha256:" + total.hexdigest()


def _drafts(folder: str, edition: EditionFile, sheets: Sheets) -> dict[str, Draft]:
    drafts: dict[str, Draft] = {}
    problems: list[Problem] = []
    known = edition_ids(folder)
    for path in rule_files(folder):
        try:
            source = source_of(path)
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
        problems += unknown_editions(file, source, known)
        draft = Drafter(source, edition.edition, edition.short).draft(file)
        if draft is None:
            continue
        try:
            draft = sheets.lend(draft, file)
        except InputError as error:
            problems.extend(p for p in error.problems if p not in problems)
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
