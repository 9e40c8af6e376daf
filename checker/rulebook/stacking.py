"""Several amendments in order: which are read, which are in force, and how each is applied."""

from __future__ import annotations

import os
from dataclasses import dataclass, field

from checker.documents.errors import InputError, Mark, Problem, nearest
from checker.documents.source import Source
from checker.paths import shown_path

from .amend import Amending
from .fits import kind_of, target, things
from .in_force import Amendment
from .reading import read_amendment, source_of
from .records import AmendmentFile, ChangeFile, EditionFile
from .touches import Book

Read = tuple[AmendmentFile, Source]
#: How long a chain of amendments that build on each other may be; an honest one has two or three.
LONGEST_CHAIN = 20
#: Changes of one amendment; rows and cells of tables that it changes; characters of a word that it
#: replaces, and of what it puts there.
MOST_CHANGES, MOST_ROWS, LONGEST_WORD, LONGEST_TERM = 1000, 1000, 80, 200


def read_amendments(paths: list[str]) -> list[Read]:
    """Amendments in order, each after those it builds on.  Raises InputError."""
    done: dict[str, Read] = {}
    for path in paths:
        _collect(path, source_of(path), done, ())
    ids: dict[str, Source] = {}
    for file, source in done.values():
        if file.amendment in ids:
            raise InputError(
                source.problem(
                    file.node.value_mark("amendment"),
                    f"two amendments are called `{file.amendment}`",
                    found=f"also in {ids[file.amendment].path}",
                    expected="an id of its own",
                    length=len(file.amendment),
                )
            )
        ids[file.amendment] = source
    return list(done.values())


def _collect(path: str, source: Source, done: dict[str, Read], chain: tuple[str, ...]) -> None:
    real = os.path.realpath(path)
    if real in done:
        return
    file = read_amendment(source)
    for index, name in enumerate(file.builds_on):
        mark = _item(file, index)
        beside = _beside(name, path, source, mark)
        target = os.path.realpath(beside)
        if target == real or target in chain:
            names = " → ".join(os.path.basename(p) for p in (*chain, real, target))
            raise InputError(
                source.problem(
                    mark,
                    "amendments build on each other in a circle",
                    found=names,
                    expected="an order from the first to the last",
                    length=len(name),
                )
            )
        if len(chain) >= LONGEST_CHAIN:
            raise InputError(
                source.problem(
                    mark,
                    f"more than {LONGEST_CHAIN} amendments build on each other",
                    found=name,
                    expected="a shorter chain",
                    length=len(name),
                )
            )
        _collect(beside, _source(beside, name, source, mark), done, (*chain, real))
    done[real] = (file, source)


def _item(file: AmendmentFile, index: int) -> Mark:
    raw = file.node["builds_on"]
    mark: Mark = (
        file.node.value_mark("builds_on") if isinstance(raw, str) else raw.value_mark(index)
    )
    return mark


def _beside(name: str, path: str, source: Source, mark: Mark) -> str:
    """The path of a file in the amendment's folder or below it; InputError for any other."""
    folder = os.path.dirname(path)
    parts = name.replace("\\", "/").split("/")
    inside = not (os.path.isabs(name) or ".." in parts or ":" in parts[0] or "\0" in name)
    if inside:
        real = os.path.realpath(folder or ".")
        target = os.path.realpath(os.path.join(folder, name))
        # A link must not lead out of the folder either.
        inside = os.path.commonpath([real, target]) == real
    if not inside:
        raise InputError(
            source.problem(
                mark,
                "an amendment may only build on files beside it",
                found=name,
                expected="a file name in the same folder or below it",
                length=len(name),
            )
        )
    return os.path.join(folder, name)


def _source(path: str, name: str, asked: Source, mark: Mark) -> Source:
    try:
        return source_of(path)
    except InputError as error:
        first = error.problems[0]
        raise InputError(
            asked.problem(
                mark,
                f"the amendment to build on cannot be read: {first.message}",
                found=name,
                expected=first.expected or "an amendment file beside this one",
                suggestion=os.path.basename(first.suggestion),
                length=len(name),
            )
        ) from None


def _rows(file: AmendmentFile) -> int:
    """How many rows and cells of tables an amendment changes."""
    return sum(len(c.cells) + len(c.add_rows) + len(c.remove_rows) for c in file.changes)


def out_of_force(file: AmendmentFile, edition: str, date: str | None) -> str:
    """Why an amendment does not apply, or "".  Both of its dates belong to the time in force."""
    if file.editions and edition not in file.editions:
        return f"it amends {', '.join(file.editions)}, not {edition}"
    if date is not None and date < file.effective:
        return f"it is in force from {file.effective}; the design is judged on {date}"
    if date is not None and file.ends is not None and date > file.ends:
        return f"it was in force until {file.ends}; the design is judged on {date}"
    return ""


@dataclass(slots=True)
class Stack:
    """Applies amendments to a book, in order.  ``notices`` is what a report has to repeat."""

    book: Book
    edition: EditionFile
    editions: list[str]
    date: str | None
    problems: list[Problem] = field(default_factory=list)
    notices: list[str] = field(default_factory=list)
    terms: dict[str, str] = field(default_factory=dict)
    _terms_by: dict[str, str] = field(default_factory=dict)

    def apply(self, paths: list[str]) -> list[Amendment]:
        """Read and apply the files; everything wrong is in ``problems`` afterwards."""
        files = read_amendments(paths)
        for file, source in files:
            self._sound(file, source)
        if any(len(file.changes) > MOST_CHANGES or _rows(file) > MOST_ROWS for file, _ in files):
            return []
        skip = self._taken_back(files)
        return [self._one(file, source, skip) for file, source in files]

    def _one(
        self, file: AmendmentFile, source: Source, skip: frozenset[tuple[str, str, str]]
    ) -> Amendment:
        note = out_of_force(file, self.edition.edition, self.date)
        if note:
            self.notices.append(f"amendment {file.amendment} was not applied: {note}")
            return Amendment(file, source, False, note, ())
        if self.date is None:
            self.notices.append(
                f"amendment {file.amendment} (in force from {file.effective}) was taken as in "
                "force: the permit date is not stated"
            )
        if file.status == "draft":
            self.notices.append(
                f"amendment {file.amendment} is a draft: compare it with the current ordinance"
            )
        applier = Amending(self.book, file, source, self.edition.edition, skip)
        applier.run()
        self.problems.extend(applier.problems)
        for problem in applier.warnings:
            self.notices.append(
                f"{shown_path(problem.file)}:{problem.line}:{problem.column}: {problem.message}"
            )
        self._terms(file)
        self.book.applied.append(file.amendment)
        return Amendment(file, source, True, "", tuple(applier.acted))

    def _terms(self, file: AmendmentFile) -> None:
        for word, other in file.terms.items():
            earlier = self.terms.get(word)
            if earlier is not None and earlier != other and word in self._terms_by:
                self.notices.append(
                    f"amendment {file.amendment} says `{other}` for `{word}`, where amendment "
                    f"{self._terms_by[word]} said `{earlier}`; this change wins"
                )
            self.terms[word] = other
            self._terms_by[word] = file.amendment

    def _sound(self, file: AmendmentFile, source: Source) -> None:
        """What would keep an amendment from ever acting is an error, whatever the date."""
        if file.ends is not None and file.ends < file.effective:
            self.problems.append(
                source.problem(
                    file.node.value_mark("ends"),
                    f"amendment {file.amendment} ends before it begins",
                    found=f"effective {file.effective}, ends {file.ends}",
                    expected="a last date that is not before the first",
                    length=len(file.ends),
                )
            )
        self._sizes(file, source)
        raw = file.node.get("editions")
        for index, name in enumerate(file.editions):
            if name in self.editions:
                continue
            at = file.node.value_mark("editions") if isinstance(raw, str) else raw.value_mark(index)
            self.problems.append(
                source.problem(
                    at,
                    f"there is no edition `{name}` to amend",
                    found=name,
                    expected="one of " + ", ".join(self.editions),
                    suggestion=nearest(name, self.editions) or "",
                    length=len(name),
                )
            )
        if not file.changes and not file.terms:
            self.problems.append(
                source.problem(
                    file.node.mark,
                    f"amendment {file.amendment} changes nothing",
                    found="neither `changes:` nor `terms:`",
                    expected="one change at least",
                )
            )

    def _sizes(self, file: AmendmentFile, source: Source) -> None:
        """More than anybody means is refused, since it may take more than anybody has."""
        if len(file.changes) > MOST_CHANGES:
            self.problems.append(
                source.problem(
                    file.node.key_mark("changes"),
                    f"amendment {file.amendment} makes too many changes",
                    found=f"{len(file.changes)} changes",
                    expected=f"{MOST_CHANGES} at most; `builds_on:` joins several amendments",
                    length=len("changes"),
                )
            )
        if _rows(file) > MOST_ROWS:
            self.problems.append(
                source.problem(
                    file.node.key_mark("changes"),
                    f"amendment {file.amendment} changes too many rows of tables",
                    found=f"{_rows(file)} rows and cells",
                    expected=f"{MOST_ROWS} at most",
                    length=len("changes"),
                )
            )
        for word, other in file.terms.items():
            if len(word) <= LONGEST_WORD and len(other) <= LONGEST_TERM:
                if not _is_term(word) or not other.strip():
                    self._no_term(file, source, word, other)
                continue
            self.problems.append(
                source.problem(
                    file.node["terms"].key_mark(word),
                    "a term is a word or two",
                    found=f"{len(word)} characters for {len(other)}",
                    expected=f"1 to {LONGEST_WORD} characters, and at most {LONGEST_TERM} for them",
                )
            )

    def _no_term(self, file: AmendmentFile, source: Source, word: str, other: str) -> None:
        """A number or a name in place of a term would make reports say what is not so."""
        self.problems.append(
            source.problem(
                file.node["terms"].key_mark(word),
                f"`{word}` is no term that reports use"
                if other.strip()
                else "a term is left empty",
                found=f"{word}: {other}",
                expected="words of three letters or more, and the words that stand in for them",
                length=len(word),
            )
        )

    # -- changes that take back others' ------------------------------------------------------

    def _taken_back(self, files: list[Read]) -> frozenset[tuple[str, str, str]]:
        """(amendment, kind, name) of changes that a later amendment takes back."""
        known = {file.amendment: file for file, _ in files}
        skip: set[tuple[str, str, str]] = set()
        before: list[str] = []
        for file, source in files:
            in_force = not out_of_force(file, self.edition.edition, self.date)
            for change in file.changes if in_force else ():
                self._named(change, file, source, known, before)
                if change.amendment in before and change.withdraw:
                    thing = target(change)
                    if self._touched(change, source, known[change.amendment], thing):
                        skip.add((change.amendment, kind_of(change), thing))
            before.append(file.amendment)
        return frozenset(skip)

    def _named(
        self,
        change: ChangeFile,
        file: AmendmentFile,
        source: Source,
        known: dict[str, AmendmentFile],
        before: list[str],
    ) -> None:
        for key in ("amendment", "supersedes"):
            name = getattr(change, key)
            if not name or name in before:
                continue
            after = name in known
            self.problems.append(
                source.problem(
                    change.node.value_mark(key),
                    (
                        f"amendment {name} is not applied before {file.amendment}"
                        if after
                        else f"there is no amendment `{name}` among those applied"
                    ),
                    found=name,
                    expected=(
                        "the other order, or `builds_on:` with its file"
                        if after
                        else "one of " + ", ".join(before)
                        if before
                        else "`builds_on:` with the file of that amendment"
                    ),
                    suggestion="" if after else nearest(name, before) or "",
                    length=len(name),
                )
            )

    def _touched(
        self, change: ChangeFile, source: Source, other: AmendmentFile, thing: str
    ) -> bool:
        own = [c for c in other.changes if not c.amendment]
        kind = kind_of(change)
        if any(thing in things(c) and kind_of(c) == kind for c in own):
            return True
        if thing:
            touched = {name for c in own for name in things(c)}
            self.problems.append(
                source.problem(
                    change.node.value_mark(kind),
                    f"amendment {other.amendment} does not change `{thing}`",
                    found=thing,
                    expected="one of " + ", ".join(sorted(touched))
                    if touched
                    else "an amendment that changes a rule, a table or a shared sheet",
                    suggestion=nearest(thing, touched) or "",
                    length=len(thing),
                )
            )
        return False


def _is_term(word: str) -> bool:
    """Whether it is words: letters, with spaces, hyphens and apostrophes between them."""
    plain = word.replace(" ", "").replace("-", "").replace("'", "")
    return len(plain) >= 3 and plain.isalpha() and word == word.strip()
