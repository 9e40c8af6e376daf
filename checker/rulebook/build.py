"""Puts a rulebook together: the rules of an edition, as read or as kept, and its amendments."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from checker.documents.digest import sha256
from checker.documents.errors import InputError, Problem
from checker.language.types import Vocabulary
from checker.paths import rules_folder, tables_folder
from checker.tables.collection import TableSet

from .citing import sections_of
from .code import with_code
from .compiled import compile_form
from .edition import Records, read
from .folder import RulesFolder
from .forms import Form
from .in_force import Edition, LazyForm, Rule, Rulebook, applies, rules_digest
from .rule import RuleRecord
from .stacking import Stack
from .touches import Book
from .vocabulary import vocabulary_of

_MOST_PROBLEMS = 100  # then compiling ends: nobody reads more


def build(
    edition: str,
    amendments: list[str] | None = None,
    *,
    date: str | None = None,
    folder: str | None = None,
    tables: str | None = None,
) -> Rulebook:
    """The effective rulebook, read and compiled.

    ``date`` (YYYY-MM-DD) is the day on which amendments and rules are judged to be in force.
    Raises InputError with everything that is wrong, LookupError for an unknown edition.
    """
    where = RulesFolder(folder or rules_folder())
    return in_force(read(edition, where, tables or tables_folder()), amendments or [], date)


def in_force(edition: Edition, amendments: list[str], date: str | None) -> Rulebook:
    """The rulebook of an edition as amended, on a day.  Raises InputError."""
    records = Records(edition)
    sheets = edition.sheets().copy()
    chosen, editions = edition.facts, edition.folder.editions()
    book = Book(records, edition.tables, sheets, editions)
    stack = Stack(book, chosen, editions, date, terms=dict(chosen.terms))
    applied = stack.apply(amendments)
    if stack.problems:
        raise InputError(stack.problems)
    tables = book.tables.replaced(book.changed_tables) if book.changed_tables else book.tables
    rules = _rules(book, records, tables, chosen.short, date, stack.notices)
    return Rulebook(
        edition=chosen,
        rules=tuple(rules),
        tables=tables,
        amendments=tuple(applied),
        notices=tuple(stack.notices),
        terms=stack.terms,
        withdrawn=book.withdrawn,
        digest=rules_digest(rules),
        tables_digest=_tables_digest(edition.tables_digest, book),
        folder=edition.folder,
        lent=sheets,
    )


def _rules(
    book: Book,
    records: Records,
    tables: TableSet,
    short: str,
    date: str | None,
    notices: list[str],
) -> list[Rule]:
    """The rules in use and in force; ``notices`` tells of the others.  Raises InputError."""
    vocabulary = vocabulary_of(tables)
    rules: list[Rule] = []
    problems: list[Problem] = []
    for name in records:
        kept = records.untouched(name)
        if not applies(records[name] if kept is None else kept, date, notices):
            continue
        if kept is not None and not kept.tables & book.changed_tables.keys():
            rules.append(kept)
            continue
        if len(problems) >= _MOST_PROBLEMS:
            break
        try:
            rules.append(compiled(records[name], vocabulary, tables, short, book.table_words))
        except InputError as error:
            problems.extend(p for p in error.problems if p not in problems)
    if problems:
        raise InputError(problems)
    return rules


def compiled(
    record: RuleRecord,
    vocabulary: Vocabulary,
    tables: TableSet,
    short: str,
    table_words: Mapping[str, Sequence[str]],
) -> Rule:
    """A rule, checked for every class of its elements, whose code is made when it is asked for.

    table_words: changed table -> the ordinances that changed it.  Raises InputError with everything
    that is wrong with it.
    """
    problems: list[Problem] = []
    forms: dict[str, Form] = {}
    if not record.each:
        problems.append(
            record.source.problem(
                record.mark,
                f"rule {record.id} is checked on nothing",
                found="an empty `each:`",
                expected="a class of element, such as raceway",
            )
        )
    for subject in dict.fromkeys(record.each):
        try:
            form = compile_form(record, subject, vocabulary, code=False)
        except InputError as error:
            problems.extend(p for p in error.problems if p not in problems)
            continue
        forms[subject] = lazy(form, vocabulary)
    record = _with_sheets(_with_tables(record, forms, table_words))
    try:
        sections = sections_of(record, tables, short)
    except InputError as error:
        problems.extend(error.problems)
    if problems:
        raise InputError(problems)
    return Rule.of(record, forms, sections)


def lazy(form: Form, vocabulary: Vocabulary) -> Any:
    """A checked form whose code is made when it is asked for."""
    return LazyForm(
        form.subject, form.outcomes, form.tables, lambda: form, partial(with_code, form, vocabulary)
    )


def _with_tables(
    record: RuleRecord, forms: dict[str, Form], table_words: Mapping[str, Sequence[str]]
) -> RuleRecord:
    """The rule, citing the amendments of the tables that it looks into."""
    used = {name for form in forms.values() for name in form.tables}
    words = [
        f"table {name} as amended by {', '.join(said)}"
        for name, said in table_words.items()
        if name in used
    ]
    if not words:
        return record
    cited = record.citing("; ".join([str(record.cite), *words]))
    return cited.with_(history=(*record.history, *words))


def _with_sheets(record: RuleRecord) -> RuleRecord:
    """The rule, citing the amendments of values that it borrowed when they had been changed."""
    said = [value.amended for name, value in record.values.items() if name in record.borrowed]
    words = [word for word in dict.fromkeys(said) if word and word not in str(record.cite)]
    if not words:
        return record
    return record.citing(f"{record.cite}, as amended by {', '.join(words)}")


def _tables_digest(base: str, book: Book) -> str:
    if not book.changed_tables:
        return base
    total = sha256(base.encode())
    for name, table in sorted(book.changed_tables.items()):
        total.update(f"{name}={table.digest}\n".encode())
    return "sha256:" + total.hexdigest()
