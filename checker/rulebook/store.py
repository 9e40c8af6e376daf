"""Keeps compiled rulebooks between runs, by the content of everything they were made from.

Compiling a rulebook takes many times longer than checking an assembly with it.  What is kept is
what judging needs: for each rule its code and what the code looks up, and the tables' rows; and,
packed and unpacked only when it is asked for, what explaining needs: its parts, its checked
expressions, and the tables with their sources.  No rule file is read
again, so that a report is of the rules that judged, whoever saves one meanwhile.  The key is a
fingerprint of every rule and table file and of the program's own source, so a change of any of
them, by an edit or an update, is never missed.  A kept file that is damaged or of another version
is made anew; a folder that cannot be written is done without.
"""

from __future__ import annotations

import io
import marshal
import os
import sys
from binascii import crc32
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import partial
from types import FunctionType
from typing import TYPE_CHECKING, Any

from checker import __version__
from checker.documents.digest import sha256
from checker.documents.missing import NO_ENTRY
from checker.documents.source import each_file_once, note_read
from checker.language.runtime import GLOBALS, Memory

from .book import Rule, Rulebook
from .coverage import facts_of, read_coverage
from .texts import Say, Texts

if TYPE_CHECKING:
    from checker.tables.table import Table

    from .draft import Draft
    from .forms import Form

_FORM = 9
_ENDING = ".rulebook"
_WHOLE = 0x2144DF1C  # what every text followed by its own checksum comes to
_MOST_KEPT = 24  # books in the folder, of one and a half megabytes each
_OWN = ("assembly", "documents", "language", "quantities", "rulebook", "tables")


@dataclass(frozen=True, slots=True)
class StoredEdition:
    """An edition as reports name it."""

    edition: str
    title: str
    short: str
    terms: dict[str, str]
    note: str


class StoredForm:
    """A rule's code for one class of element; the rest is unpacked when it is asked for."""

    __slots__ = ("_rule", "_said", "_space", "applies", "fast", "outcomes", "subject", "tables")

    def __init__(self, rule: StoredRule, facts: tuple[Any, ...]) -> None:
        self.subject, code, applies, needs, self.outcomes, self._said = facts
        self._space = rule.shelf.space(needs)
        self.tables = frozenset(need[1] for need in needs.values() if need[0] != "value")
        self.fast = FunctionType(code, self._space)
        self.applies = FunctionType(applies, self._space) if applies else None
        self._rule = rule

    @property
    def texts(self) -> tuple[Texts, ...]:
        """What each case says, as code."""
        return tuple(
            Texts(
                at_least,
                unit,
                self._say(message),
                self._say(passes) if passes else None,
                tuple(
                    (FunctionType(when, self._space) if when else None, self._say(say))
                    for when, say in mends
                ),
            )
            for at_least, unit, message, passes, mends in marshal.loads(self._said)
        )

    def _say(self, facts: tuple[Any, ...]) -> Say:
        parts, code = facts
        return Say(parts, FunctionType(code, self._space))

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__"):
            raise AttributeError(name)
        return getattr(self._rule.whole[1][self.subject], name)


class StoredRule:
    """A rule whose parts and checked expressions are unpacked when they are asked for."""

    __slots__ = (
        "_packed",
        "_whole",
        "at",
        "citation",
        "detail",
        "effective",
        "forms",
        "id",
        "sections",
        "shelf",
        "title",
    )

    def __init__(self, shelf: Shelf, facts: tuple[Any, ...]) -> None:
        self.shelf = shelf
        self.id, self.title, self.citation, self.sections, self.at, *rest = facts
        self.detail, self.effective, forms, self._packed = rest
        self.forms = {facts[0]: StoredForm(self, facts) for facts in forms}
        self._whole: tuple[Draft, dict[str, Form]] | None = None

    @property
    def whole(self) -> tuple[Draft, dict[str, Form]]:
        """The rule in parts, and its forms without their code, by class of element."""
        if self._whole is None:
            self._whole = _unpacked(self._packed)
        return self._whole

    @property
    def draft(self) -> Draft:
        """The rule in parts."""
        return self.whole[0]


@dataclass(slots=True)
class Shelf:
    """What the rules of one stored book share: its tables and their look-ups."""

    table_facts: dict[str, tuple[Any, ...]]
    packed_tables: dict[str, bytes]
    tables: dict[str, Table] = field(default_factory=dict)
    getters: dict[tuple[Any, ...], Memory] = field(default_factory=dict)

    def whole_table(self, name: str) -> Table | None:
        """A table with its sources and places, as it was read; None where there was none."""
        packed = self.packed_tables.get(name)
        return None if packed is None else _unpacked(packed)

    def space(self, needs: dict[str, tuple[Any, ...]]) -> dict[str, Any]:
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
        table = self.tables.get(need[1])
        if table is None:
            table = self.tables[need[1]] = _table(self.table_facts[need[1]])
        give: Any = table.getter if need[0] == "cell" else table.rows_getter
        return give(need[2])(*keys)


def fetch(edition: str, date: str | None, folder: str, tables: str) -> Rulebook:
    """The rulebook of an edition without amendments: kept, or compiled and kept.

    Raises InputError, and LookupError for an unknown edition.
    """

    with each_file_once() as held:
        return _fetch(edition, date, folder, tables, held)


def _fetch(
    edition: str, date: str | None, folder: str, tables: str, held: dict[str, bytes]
) -> Rulebook:
    path = _path(edition, folder, tables, held)
    kept = _read(path) if path else None
    if kept is not None:
        try:
            return _book(kept, date, tables)
        except (LookupError, TypeError, ValueError, AttributeError):
            pass  # not what this version keeps: made anew
    from .build import build

    if path:
        # Kept without a date, so that one kept book serves every design; see ``_book``.
        undated = build(edition, [], folder=folder, tables=tables)
        if _path(edition, folder, tables, {}) == path:
            # Of a folder that changed meanwhile, another state may have been listed.
            _write(path, _facts(undated, folder))
        if date is None:
            return undated
    return build(edition, [], date=date, folder=folder, tables=tables)


# -- what is kept ---------------------------------------------------------------------------


def _facts(book: Rulebook, folder: str) -> dict[str, Any]:
    edition = book.edition
    used = sorted({t for r in book.rules for f in r.forms.values() for t in f.tables})
    return {
        "edition": (
            edition.edition,
            edition.title,
            edition.short,
            dict(edition.terms),
            edition.note,
        ),
        "notices": tuple(book.notices),
        "terms": dict(book.terms),
        "digest": book.digest,
        "tables_digest": book.tables_digest,
        "rules": [_rule_facts(rule) for rule in book.rules],
        # Apart, since only reports ask for it.
        "coverage": facts_of(read_coverage(folder)),
        "tables": {name: _table_facts(book.tables[name]) for name in used},
        "whole_tables": {n: _packed(replace(table)) for n, table in book.tables.items()},
    }


def _rule_facts(rule: Rule) -> tuple[Any, ...]:
    forms = [
        (
            subject,
            form.fast.__code__,
            form.applies.__code__ if form.applies else None,
            dict(form.needs),
            form.outcomes,
            # Apart, since most of what could be said is not said.
            marshal.dumps(tuple(_text_facts(texts) for texts in form.texts)),
        )
        for subject, form in rule.forms.items()
    ]
    bare = {
        subject: replace(form, fast=None, applies=None, texts=(), needs={})
        for subject, form in rule.forms.items()
    }
    packed = _packed((rule.draft, bare))
    facts = (rule.id, rule.title, rule.citation, rule.sections, rule.at, rule.detail)
    return (*facts, rule.draft.effective, forms, packed)


_MISSING = "no entry"


def _packed(whole: Any) -> bytes:
    """What is asked for less often, in the little room that it takes when it is not."""
    import pickle
    import zlib

    out = io.BytesIO()
    pickler = pickle.Pickler(out, 5)
    # There is one object that stands for a cell without an entry.
    pickler.persistent_id = lambda found: _MISSING if found is NO_ENTRY else None  # type: ignore[method-assign]
    pickler.dump(whole)
    return zlib.compress(out.getvalue(), 6)


def _unpacked(packed: bytes) -> Any:
    import pickle
    import zlib

    unpickler = pickle.Unpickler(io.BytesIO(zlib.decompress(packed)))
    unpickler.persistent_load = lambda _: NO_ENTRY  # type: ignore[method-assign]
    return unpickler.load()


def _text_facts(texts: Texts) -> tuple[Any, ...]:
    def say(one: Say) -> tuple[Any, ...]:
        return (one.parts, one.values.__code__)

    return (
        texts.at_least,
        texts.unit,
        say(texts.message),
        say(texts.passes) if texts.passes else None,
        tuple((when.__code__ if when else None, say(one)) for when, one in texts.mends),
    )


def _table_facts(table: Table) -> tuple[Any, ...]:
    empty = table.missing
    rows = tuple(tuple(None if cell is empty else cell for cell in row) for row in table.rows)
    keys = [(k.name, k.kind, k.unit, k.match, dict(k.also)) for k in table.keys]
    columns = [(c.name, c.kind, c.unit) for c in table.columns]
    return (table.name, table.title, keys, columns, rows, dict(table.cite), table.edition)


def _table(facts: tuple[Any, ...]) -> Table:
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


def _book(kept: dict[str, Any], date: str | None, tables: str) -> Rulebook:
    from checker.tables.collection import load_tables

    edition = StoredEdition(*kept["edition"])
    shelf = Shelf(kept["tables"], kept["whole_tables"])
    rules: list[Any] = [StoredRule(shelf, facts) for facts in kept["rules"]]
    late = [r for r in rules if r.effective and date and date < r.effective]
    notices = [f"rule {r.id} is in force from {r.effective}, after {date}" for r in late]
    listed = load_tables(tables, missing=NO_ENTRY)
    return Rulebook(
        edition=edition,
        rules=tuple(r for r in rules if r not in late),
        tables=listed.for_edition(edition.edition, shelf.whole_table),
        amendments=(),
        notices=(*kept["notices"], *notices),
        terms=kept["terms"],
        digest=kept["digest"] if not late else _digest(r for r in rules if r not in late),
        tables_digest=kept["tables_digest"],
        _kept={"coverage_facts": kept["coverage"]},
    )


# -- files ----------------------------------------------------------------------------------


def _digest(rules: Iterable[StoredRule]) -> str:
    """As ``build`` makes it, of fewer rules."""
    total = sha256()
    for rule in rules:
        total.update(f"{rule.id}={rule.draft.digest}\n".encode())
    return "sha256:" + total.hexdigest()


def _path(edition: str, folder: str, tables: str, held: dict[str, bytes]) -> str:
    """Where the book is kept, named by the content of all that it is made from; "" for nowhere.

    What is read is added to ``held``, for those who read the files after.
    """
    home = os.environ.get("PULLPOINT_CACHE", "")
    if home == "off":
        return ""
    if not home:
        base = os.environ.get("XDG_CACHE_HOME", "")
        if not os.path.isabs(base):  # the base directory specification has such a path ignored
            base = os.path.join(os.path.expanduser("~"), ".cache")
            if not os.path.isabs(base):  # nobody's home is known
                return ""
        home = os.path.join(base, "pullpoint")
    python = f"{sys.implementation.cache_tag} {sys.hexversion}"
    # The folders too: what is kept says of every part where it stands.
    named = repr((_FORM, __version__, python, edition, folder, tables))
    total = sha256(named.encode())
    try:
        _add_files(total, folder, held)
        sheets = os.path.join(folder, "shared")
        if os.path.islink(sheets):  # read all the same, but not walked into
            _add_files(total, sheets, held)
        _add_files(total, tables, held)
    except OSError:
        return ""
    if not _PROGRAM:
        return ""
    total.update(_PROGRAM.encode())
    return os.path.join(home, total.hexdigest()[:40] + _ENDING)


def _add_files(total: Any, folder: str, held: dict[str, bytes]) -> None:
    """Names and contents of the rule or table files; examples decide nothing."""
    for where, folders, names in os.walk(folder):
        folders[:] = sorted(f for f in folders if f != "amendments")
        for name in sorted(names):
            if name.endswith(".yaml") and not name.endswith(".examples.yaml"):
                path = os.path.join(where, name)
                data = held.get(path)
                if data is None:
                    with open(path, "rb") as file:
                        note_read(os.fstat(file.fileno()))
                        data = held[path] = file.read()
                total.update(f"{os.path.relpath(path, folder)} {len(data)}\n".encode())
                total.update(data)


def _program() -> str:
    """Names, sizes and times of the program's own files; "" where they cannot be told."""
    own = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    lines = []
    try:
        waiting = [os.path.join(own, name) for name in _OWN]
        while waiting:
            with os.scandir(waiting.pop(0)) as entries:
                for entry in sorted(entries, key=lambda e: e.name):
                    if entry.name.endswith(".py"):
                        facts = entry.stat()
                        lines.append(f"{entry.name} {facts.st_size} {facts.st_mtime_ns}\n")
                    elif "." not in entry.name and entry.name != "__pycache__" and entry.is_dir():
                        waiting.append(entry.path)
    except OSError:
        return ""
    return "".join(lines)


#: As the files are when the program starts: one that is changed while it runs is not what runs.
_PROGRAM = _program()


def _read(path: str) -> dict[str, Any] | None:
    """A kept book, or None where there is none that is whole."""
    try:
        with open(path, "rb") as file:
            if not _ours(os.fstat(file.fileno())):
                return None
            data = file.read()
    except OSError:
        return None
    if crc32(data) != _WHOLE:
        return None
    payload = data[:-4]
    try:
        kept = marshal.loads(payload)
    except (ValueError, EOFError, TypeError):
        return None
    return kept if isinstance(kept, dict) else None


def _ours(facts: os.stat_result) -> bool:
    """Whether a file is this user's alone to write: what is kept is code, and it is run."""
    owner = getattr(os, "geteuid", None)
    return owner is None or (facts.st_uid == owner() and not facts.st_mode & 0o022)


def _write(path: str, facts: dict[str, Any]) -> None:
    """Keep a book, beside and renamed; a cache that cannot be written is done without."""
    payload = marshal.dumps(facts)
    beside = f"{path}.{os.getpid()}"
    try:
        os.makedirs(os.path.dirname(path), mode=0o700, exist_ok=True)
        handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(payload + crc32(payload).to_bytes(4, "little"))
            os.replace(beside, path)
        except BaseException:
            # What is left of a disk is the report's: half a book is of no use to anybody.
            os.unlink(beside)
            raise
        _tidy(os.path.dirname(path))
    except OSError:
        return


def _tidy(folder: str) -> None:
    """Drop the oldest books: an author who edits a rule makes one with every run.

    Those half written count too, which a program that was killed has left.
    """
    with os.scandir(folder) as entries:
        kept = [(e.stat().st_mtime_ns, e.path) for e in entries if _ENDING in e.name]
    for _, path in sorted(kept)[:-_MOST_KEPT]:
        os.unlink(path)
