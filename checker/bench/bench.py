"""A rule author's tests: finds the examples of rules and amendments, and runs them.

A rule's examples stand beside it or in it; an amendment's stand in it.  Each runs under the edition
it names, otherwise under every edition that has the rule.
"""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from typing import Any

from checker.documents.errors import InputError, Mark, Problem, nearest
from checker.documents.loader import Document, load
from checker.documents.nodes import Mapping
from checker.documents.source import Source
from checker.paths import rules_folder
from checker.rulebook.book import EXAMPLES, Rule, Rulebook, edition_ids, load_rulebook
from checker.rulebook.build import compiled
from checker.rulebook.edition import of_edition
from checker.rulebook.fits import things
from checker.rulebook.folder import RulesFolder, examples_path
from checker.rulebook.reading import read_document, read_rule, source_of
from checker.rulebook.records import (
    AmendmentFile,
    ChangeFile,
    ExampleFile,
    RuleFile,
)
from checker.rulebook.shared import Sheets

from .example_files import ExampleSet, read_examples
from .examples import run_example
from .files import beside_its_rule, file_named, files_below, kind_of
from .suite import Suite, both_sides


@dataclass(slots=True)
class Bench:
    """Runs tests.  ``edition`` limits the editions; ``amendments`` apply to every rulebook."""

    edition: str | None = None
    amendments: tuple[str, ...] = ()
    date: str | None = None
    _books: dict[tuple[Any, ...], Rulebook] = field(default_factory=dict)

    def run(self, paths: list[str]) -> list[Suite]:
        """Test the files, and every rule and amendment of the folders.  Raises InputError.

        A shipped rule or amendment may be named by its id.
        """
        suites: list[Suite] = []
        done: set[str] = set()
        for path in map(file_named, paths):
            folder = os.path.isdir(path)
            found = files_below(path) if folder else [path]
            before = len(suites)
            for name in found:
                suite = self._file(name, done, named=not folder)
                if suite is not None:
                    suites.append(suite)
            if folder and len(suites) == before:
                raise InputError(
                    Problem(
                        path,
                        0,
                        0,
                        "there is nothing to test in this folder",
                        expected="rule files, examples files or amendment files (*.yaml)",
                    )
                )
        return suites

    # -- files -----------------------------------------------------------------------------

    def _file(self, path: str, done: set[str], *, named: bool) -> Suite | None:
        real = os.path.realpath(path)
        if real in done:
            return None
        done.add(real)
        document = load(source_of(path))
        kind = kind_of(document)
        if kind == "rule":
            return self._rule(path, document)
        if kind == "amendment":
            return self._amendment(path, document)
        if kind == "examples_of":
            rule_file = self._rule_of(path, document)
            if rule_file is None or os.path.realpath(rule_file) in done:
                return None
            if named or not beside_its_rule(path):
                return self._file(rule_file, done, named=named)
            return None  # its rule is in the same folder
        if named:
            raise InputError(
                document.source.problem(
                    _start(document),
                    "this file holds no examples",
                    found=_first_key(document),
                    expected="a rule (`rule:`), examples (`examples_of:`) or an amendment "
                    "(`amendment:`)",
                )
            )
        return None

    def _rule_of(self, path: str, document: Document) -> str | None:
        """The rule file that an examples file belongs to."""
        beside = path.removesuffix(EXAMPLES) + ".yaml"
        if path.endswith(EXAMPLES) and os.path.exists(beside):
            return beside
        name = str(document.root.get("examples_of"))
        for edition in self._editions():
            book = self._book(edition)
            try:
                return str(book.find(name).record.file)
            except LookupError:
                continue
        raise InputError(
            document.source.problem(
                document.root.value_mark("examples_of"),
                f"there is no rule `{name}`",
                found=name,
                expected="the rule in a file beside it, or a shipped rule",
                suggestion=nearest(name, [r.id for r in self._book(self._editions()[0]).rules])
                or "",
                length=len(name),
            )
        )

    # -- rules -----------------------------------------------------------------------------

    def _rule(self, path: str, document: Document) -> Suite:
        file: RuleFile = read_document(RuleFile, document, "a rule")
        groups = [ExampleSet(file.examples, file.sample, document.source)] if file.examples else []
        beside = examples_path(path)
        if os.path.exists(beside):
            groups.append(read_examples(beside, file, document.source))
        suite = Suite("rule", str(file.rule), path)
        rules: dict[str, Rule] = {}
        for edition in self._editions():
            rule = self._compiled(edition, file, document)
            if rule is not None:
                rules[edition] = rule
        self._check_editions(suite, groups)
        examples = [e for g in groups for e in g.examples]
        both_sides(suite, examples, document.source, file.node.mark, file)
        if not rules:
            self._nowhere(suite, file, document.source)
        for group in groups:
            for example in group.examples:
                self._one(suite, rules, example, group)
        return suite

    def _nowhere(self, suite: Suite, file: RuleFile, source: Source) -> None:
        gone = [self._book(edition).withdrawn.get(suite.name) for edition in self._editions()]
        if any(gone):
            suite.remarks.append(f"not tested: amendment {next(filter(None, gone))} withdrew it")
            return
        suite.problems.append(
            source.problem(
                file.node.mark,
                f"no edition has the rule {file.rule}",
                found=f"it cites {', '.join(file.cite) or 'nothing'}",
                expected="`cite:` with one of " + ", ".join(self._editions()) + ", or `any:`",
            )
        )

    def _one(
        self, suite: Suite, rules: dict[str, Rule], example: ExampleFile, group: ExampleSet
    ) -> None:
        editions = [example.edition] if example.edition else list(rules)
        for edition in editions:
            if self.edition and edition != self.edition:
                continue
            rule = rules.get(edition)
            if rule is None:
                if edition in self._editions():
                    suite.problems.append(
                        group.source.problem(
                            example.node.value_mark("edition"),
                            f"{edition} has no rule {suite.name}",
                            found=edition,
                            expected="one of " + ", ".join(rules),
                            length=len(edition),
                        )
                    )
                continue
            outcome = run_example(self._book(edition), rule, example, group.sample, group.source)
            suite.outcomes.append((edition, outcome))

    def _compiled(self, edition: str, file: RuleFile, document: Document) -> Rule | None:
        """The rule of a file under an edition: the book's own where it is that file."""
        book = self._book(edition)
        for rule in book.rules:
            if rule.id == file.rule and _same(rule.record.file, document.source.path):
                return rule
        folder = RulesFolder(rules_folder())
        chosen = folder.edition(edition)
        sheets = Sheets(folder, edition, chosen.short)
        read = read_rule(document, chosen.short)
        record = of_edition(read, chosen, sheets, edition_ids())
        if record is None or record.id in book.withdrawn:
            return None
        return compiled(record, book.vocabulary, book.tables, chosen.short, {})

    # -- amendments ------------------------------------------------------------------------

    def _amendment(self, path: str, document: Document) -> Suite:
        file: AmendmentFile = read_document(AmendmentFile, document, "an amendment")
        suite = Suite("amendment", file.amendment, path)
        # On its first day in force, whatever today is.
        books = {
            edition: self._book(edition, path, date=file.effective)
            for edition in self._editions()
            if not file.editions or edition in file.editions
        }
        if not books:
            suite.remarks.append(
                f"not tested: it amends {', '.join(file.editions)}, not {self.edition}"
            )
        for notice in next((book.notices for book in books.values()), ()):
            suite.remarks.append(notice)
        own = ExampleSet(file.examples, file.sample, document.source)
        self._check_editions(suite, [own])
        for example in file.examples:
            self._amended(suite, books, example, str(example.rule), own)
        for change in file.changes:
            self._change(suite, file, change, books, document.source)
        self._untested(suite, file, books)
        return suite

    def _amended(
        self,
        suite: Suite,
        books: dict[str, Rulebook],
        example: ExampleFile,
        name: str,
        group: ExampleSet,
    ) -> None:
        editions = [example.edition] if example.edition in books else list(books)
        if example.edition and example.edition not in books:
            return
        had: list[str] = []
        for edition in editions:
            try:
                rule = books[edition].find(name)
            except LookupError as error:
                had.append(str(error.args[0]))
                continue
            outcome = run_example(books[edition], rule, example, group.sample, group.source)
            suite.outcomes.append((edition, outcome))
        if had and len(had) == len(editions):
            key = "rule" if "rule" in example.node else "on"
            suite.problems.append(
                group.source.problem(
                    example.node.value_mark(key), had[0], found=name, length=len(name)
                )
            )

    def _change(
        self,
        suite: Suite,
        file: AmendmentFile,
        change: ChangeFile,
        books: dict[str, Rulebook],
        source: Source,
    ) -> None:
        """A rule that the amendment makes is a rule: it has examples of its own on both sides."""
        for held in (change.add, change.replace, change.forbid, change.require):
            if held is None:
                continue
            inside = getattr(held, "examples", ())
            group = ExampleSet(inside, getattr(held, "sample", None), source)
            for example in inside:
                self._amended(suite, books, example, str(held.rule), group)
            of_it = [e for e in file.examples if e.rule == held.rule]
            mark = held.node.value_mark("rule")
            both_sides(suite, [*inside, *of_it], source, mark, held, str(held.rule))

    def _untested(self, suite: Suite, file: AmendmentFile, books: dict[str, Rulebook]) -> None:
        tested = {outcome.rule for _, outcome in suite.outcomes}
        for book in books.values():
            # What shows a rule that borrows from a sheet shows the sheet.
            tested |= {name for r in book.rules if r.id in tested for name in r.record.uses}
        for change in file.changes:
            if change.withdraw or change.table or change.amendment:
                continue
            for name in things(change):
                if name not in tested:
                    suite.remarks.append(f"no example shows what it does to {name}")
                    tested.add(name)

    # -- books and editions ------------------------------------------------------------------

    def _editions(self) -> list[str]:
        return [self.edition] if self.edition else edition_ids()

    def _book(self, edition: str, *more: str, date: str | None = None) -> Rulebook:
        key = (edition, more, date)
        book = self._books.get(key)
        if book is None:
            paths = [*self.amendments, *more]
            book = self._books[key] = load_rulebook(edition, paths, date=date or self.date)
        return book

    def _check_editions(self, suite: Suite, groups: list[ExampleSet]) -> None:
        known = edition_ids()
        for group in groups:
            for example in group.examples:
                name = example.edition
                if name and name not in known:
                    suite.problems.append(
                        group.source.problem(
                            example.node.value_mark("edition"),
                            f"there is no edition `{name}`",
                            found=name,
                            expected="one of " + ", ".join(known),
                            suggestion=nearest(name, known) or "",
                            length=len(name),
                        )
                    )


def _same(one: str, other: str) -> bool:
    return os.path.realpath(one) == os.path.realpath(other)


def _start(document: Document) -> Mark:
    return document.root.mark if isinstance(document.root, Mapping) else Mark(1, 1)


def _first_key(document: Document) -> str:
    root = document.root
    return f"`{next(iter(root))}:` first" if isinstance(root, Mapping) and root else "no keys"
