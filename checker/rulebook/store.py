"""Keeps the compiled rules of an edition beside the program, so that a check need not compile them.

Compiling takes many times longer than checking an assembly.  What is kept is what judging needs:
for each rule its code, what the code looks up, and the tables' rows; and, packed, its checked
expressions.  What the rule says is in its file: that was read for the fingerprint, and is parsed
when somebody asks for it, so that a report is of the rules that judged, whoever saves one
meanwhile.

The fingerprint is of every rule and table file and of the program's own source; a change of any of
them is never missed.  Code is loaded from the program's own folder alone, as Python does with
``__pycache__``: who can write there can change the program anyway.  Where that folder cannot be
written, or the rules are not those that are shipped, rules are compiled in the process, and only
those that have something to judge.
"""

from __future__ import annotations

import io
import os
import sys
from dataclasses import dataclass, field
from functools import cache, partial
from types import FunctionType
from typing import TYPE_CHECKING, Any

from checker import __version__
from checker.documents.digest import sha256
from checker.documents.missing import NO_ENTRY
from checker.documents.source import each_file_once
from checker.language.runtime import GLOBALS, Memory

from .book_files import PROGRAM, add_files, may_write, read_kept, write_kept
from .folder import RulesFolder
from .in_force import Edition, LazyForm, Rule

if TYPE_CHECKING:
    from checker.tables.collection import TableSet
    from checker.tables.table import Table

    from .forms import Form
    from .rule import RuleRecord
    from .shared import Sheets

_FORM = 12
#: What is kept of a rule beside its forms, in order.
_FACTS = (
    "id", "title", "citation", "at", "detail", "covers", "effective", "status", "uses", "digest",
    "sections",
)  # fmt: skip


def fetch(edition: str, folder: str, tables: str, kept: str | None) -> Edition:
    """The rules of an edition, kept in a folder from before or else read, and kept from now on.

    kept: None for nowhere.  Raises InputError; LookupError for an unknown edition.
    """
    if kept is not None and PROGRAM:
        return _Shelf(edition, folder, tables, kept).edition()
    from .edition import read

    with each_file_once():
        return read(edition, RulesFolder(folder), tables)


class _Shelf:
    """Where the rules of one edition are kept, by the content of all that they are made from."""

    def __init__(self, edition: str, folder: str, tables: str, kept: str) -> None:
        self.name, self.tables = edition, tables
        python = sys.implementation.cache_tag
        self.path = os.path.join(kept, f"{edition}.{python}.rulebook")
        self.held: dict[str, bytes] = {}
        self.folder = RulesFolder(folder, self.held)
        self.print = self.fingerprint(self.held)

    def fingerprint(self, held: dict[str, bytes]) -> str:
        """Of the program, Python and all files, which ``held`` gets; "" where one is unreadable."""
        named = repr((_FORM, __version__, sys.hexversion, self.name, PROGRAM))
        total = sha256(named.encode())
        try:
            add_files(total, self.folder.path, held)
            add_files(total, self.tables, held)
        except OSError:
            return ""
        return total.hexdigest()

    def edition(self) -> Edition:
        """What is kept; or else what is read, and kept from now on."""
        if self.print:
            found = read_kept(self.path, self.print)
            if found is not None:
                try:
                    return _Kept(found, self.folder, self.tables).edition()
                except (LookupError, TypeError, ValueError, AttributeError):
                    pass  # not what this version keeps: made anew
        from .edition import read

        with self.folder.state():
            made = read(self.name, self.folder, self.tables)
        if not self.print or not may_write(self.path):
            return made
        facts = facts_of(made)
        # Of a folder that changed meanwhile, another state may have been listed.
        if self.fingerprint({}) == self.print:
            write_kept(self.path, self.print, facts)
        return _Kept(facts, self.folder, self.tables).edition()


# -- what is kept ---------------------------------------------------------------------------


def facts_of(edition: Edition) -> dict[str, Any]:
    """An edition as plain data and code.  Raises InputError with what is wrong with its rules."""
    from .build import in_force

    book = in_force(edition, [], None)
    rules = {rule.id: rule for rule in book.rules}
    used = sorted({table for rule in book.rules for table in rule.tables})
    chosen = edition.facts
    return {
        "edition": (
            chosen.edition,
            chosen.title,
            chosen.short,
            dict(chosen.terms),
            chosen.note,
        ),
        "tables_digest": edition.tables_digest,
        "rules": [
            _rule_facts(rules.get(name) or Rule.of(record, {}), edition.folder.path)
            for name, record in edition.records.items()
        ],
        "tables": {name: _table_facts(book.tables[name]) for name in used},
    }


def _rule_facts(rule: Rule, folder: str) -> tuple[Any, ...]:
    """Those of a rule, in force or not; its forms are those that it is in force with."""
    forms = []
    for subject, form in rule.forms.items():
        code = form.fast.__code__, form.applies.__code__ if form.applies else None
        facts = (subject, form.outcomes, tuple(sorted(form.tables)), *code, dict(form.needs))
        forms.append((*facts, _packed(form.form)))  # type: ignore[attr-defined]
    facts = tuple(getattr(rule, name) for name in _FACTS)
    return (facts, os.path.relpath(rule.record.file, folder), forms)


def _table_facts(table: Table) -> tuple[Any, ...]:
    empty = table.missing
    rows = tuple(tuple(None if cell is empty else cell for cell in row) for row in table.rows)
    keys = [(k.name, k.kind, k.unit, k.match, dict(k.also)) for k in table.keys]
    columns = [(c.name, c.kind, c.unit) for c in table.columns]
    return (table.name, table.title, keys, columns, rows, dict(table.cite), table.edition)


_MISSING = "no entry"


def _packed(form: Form) -> bytes:
    """A checked form in the little room that it takes when nobody asks for it."""
    import pickle
    import zlib

    out = io.BytesIO()
    pickler = pickle.Pickler(out, 5)
    # There is one object that stands for a cell without an entry.
    pickler.persistent_id = lambda found: _MISSING if found is NO_ENTRY else None  # type: ignore[method-assign]
    pickler.dump(form)
    return zlib.compress(out.getvalue(), 6)


def _unpacked(packed: bytes) -> Any:
    import pickle
    import zlib

    unpickler = pickle.Unpickler(io.BytesIO(zlib.decompress(packed)))
    unpickler.persistent_load = lambda _: NO_ENTRY  # type: ignore[method-assign]
    return unpickler.load()


# -- what is made of it ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class KeptEdition:
    """An edition as reports name it."""

    edition: str
    title: str
    short: str
    terms: dict[str, str]
    note: str


@dataclass(frozen=True, slots=True)
class KeptCode:
    """The code of a form."""

    fast: Any
    applies: Any
    needs: dict[str, tuple[Any, ...]]


@dataclass(slots=True)
class _Kept:
    """The rules of a kept edition, which share its tables and their look-ups."""

    facts: dict[str, Any]
    folder: RulesFolder
    tables: str
    known: dict[str, Table] = field(default_factory=dict)
    getters: dict[tuple[Any, ...], Memory] = field(default_factory=dict)
    sheets: Any = None

    def edition(self) -> Edition:
        """The edition."""
        from checker.tables.collection import load_tables

        chosen: Any = KeptEdition(*self.facts["edition"])
        self.sheets = cache(partial(_sheets, self.folder, chosen))
        rules = {}
        for facts, path, forms in self.facts["rules"]:
            read = partial(self._record, os.path.join(self.folder.path, path), chosen)
            made = {one[0]: self._form(*one) for one in forms}
            rules[facts[0]] = Rule(
                **dict(zip(_FACTS, facts, strict=True)), forms=made, read=read, kept=True
            )
        listed: TableSet = load_tables(self.tables, missing=NO_ENTRY)
        return Edition(
            chosen,
            self.folder,
            self.sheets,
            listed.for_edition(chosen.edition, partial(self._table, chosen.edition)),
            self.facts["tables_digest"],
            kept=rules,
        )

    def _record(self, path: str, edition: Any) -> RuleRecord:
        """A rule, read."""
        from .edition import read_record

        made = read_record(self.folder, path, edition, self.sheets())
        assert made is not None
        return made

    def _form(
        self,
        subject: str,
        outcomes: tuple[str, ...],
        tables: tuple[str, ...],
        fast: Any,
        applies: Any,
        needs: dict[str, tuple[Any, ...]],
        packed: bytes,
    ) -> Any:
        def code() -> KeptCode:
            space = self._space(needs)
            whole = FunctionType(applies, space) if applies else None
            return KeptCode(FunctionType(fast, space), whole, needs)

        return LazyForm(subject, outcomes, frozenset(tables), partial(_unpacked, packed), code)

    def _space(self, needs: dict[str, tuple[Any, ...]]) -> dict[str, Any]:
        """The globals of a form's code: the language's functions and what the rule looks up.

        A table is put together when it is first asked.
        """
        space = dict(GLOBALS)
        for name, need in needs.items():
            if need[0] == "value":
                space[name] = need[1]
            else:
                space[name] = self.getters.setdefault(need, Memory(partial(self._look_up, need)))
        return space

    def _look_up(self, need: tuple[Any, ...], *keys: Any) -> Any:
        table = self.known.get(need[1])
        if table is None:
            table = self.known[need[1]] = _rows(self.facts["tables"][need[1]])
        give: Any = table.getter if need[0] == "cell" else table.rows_getter
        return give(need[2])(*keys)

    def _table(self, edition: str, name: str) -> Table | None:
        """A whole table with its sources and places, from the file that was read."""
        from checker.tables.loader import read_table

        path = os.path.join(self.tables, name + ".yaml")
        return read_table(self.folder.source(path), missing=NO_ENTRY).for_edition(edition)


def _sheets(folder: RulesFolder, edition: Any) -> Sheets:
    from .shared import Sheets

    return Sheets(folder, edition.edition, edition.short)


def _rows(facts: tuple[Any, ...]) -> Table:
    """A table to look into."""
    from checker.tables.columns import Column, Key
    from checker.tables.table import Table

    name, title, keys, columns, rows, cite, edition = facts
    return Table(
        name=name,
        title=title,
        keys=tuple(Key(*key) for key in keys),
        columns=tuple(Column(*column) for column in columns),
        rows=tuple(tuple(NO_ENTRY if c is None else c for c in row) for row in rows),
        cite=cite,
        edition=edition,
        missing=NO_ENTRY,
    )
