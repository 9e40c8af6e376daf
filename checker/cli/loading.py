"""From a command's options to a report: files, edition, amendments, decisions."""

from __future__ import annotations

import argparse
import os
from dataclasses import dataclass, field
from typing import Any

from checker.assembly import read_assembly
from checker.assembly.records import Assembly
from checker.documents.errors import InputError, Problem, nearest
from checker.documents.nodes import Sequence
from checker.documents.source import Source
from checker.engine.evaluate import evaluate
from checker.engine.trade import TRADE
from checker.findings.finding import Report
from checker.findings.places import notices
from checker.rulebook.book import Rulebook, edition_ids, load_rulebook


def add_options(parser: argparse.ArgumentParser) -> None:
    """The options that say what an assembly is judged on."""
    parser.add_argument("--edition", metavar="E", help="judge on this edition, not the file's")
    parser.add_argument(
        "--amend",
        action="append",
        default=[],
        metavar="FILE",
        help="apply a further amendment; may be given several times",
    )
    parser.add_argument("--decisions", metavar="FILE", help="recorded decisions on findings")
    parser.add_argument(
        "--as-of",
        metavar="DATE",
        type=date,
        dest="as_of",
        help="the date on which decisions are judged (YYYY-MM-DD)",
    )


def date(text: str) -> str:
    """A date of the command line."""
    from checker.documents.forms import read_date
    from checker.quantities.notation import NotationError

    try:
        return read_date(text)
    except NotationError as error:
        raise argparse.ArgumentTypeError(f"{error.found} is not {error.expected}") from None


_MOST_BOOKS = 8  # rulebooks kept between files: designs may each have a permit date of their own


@dataclass(slots=True)
class Loader:
    """Loads reports with the same options; rulebooks are kept between files."""

    options: argparse.Namespace
    books: dict[tuple[Any, ...], Rulebook] = field(default_factory=dict)

    def load(self, path: str) -> Report:
        """The report of one file.  Raises InputError."""
        assembly, source = read_assembly(path, TRADE)
        book = self.book(assembly, source)
        findings = evaluate(book, assembly, dated=self.day(assembly) is not None)
        report = Report(
            assembly,
            source,
            book,
            findings,
            notices=(*book.notices, *self._assumed(assembly), *notices(assembly)),
            judged_on=self.day(assembly) or "",
        )
        if getattr(self.options, "decisions", None):
            from checker.findings.decisions import join_file

            join_file(report, self.options.decisions, self.options.as_of)
        return report

    def _assumed(self, assembly: Assembly) -> tuple[str, ...]:
        """What the design leaves to the program to assume: the edition."""
        node = assembly.basis.node
        if self.options.edition or (node is not None and "edition" in node):
            return ()
        return (
            f"the edition is not stated and {assembly.basis.edition} was taken; state the adopted "
            "one as `edition:` under `basis:`",
        )

    def book(self, assembly: Assembly, source: Source) -> Rulebook:
        """The rulebook that an assembly is judged on."""
        edition = self.options.edition or assembly.basis.edition
        self._known_edition(edition, assembly, source)
        folder = os.path.dirname(source.path)
        paths = [os.path.join(folder, name) for name in amendments_of(assembly, source)]
        paths += self.options.amend
        day = self.day(assembly)
        key = (edition, tuple(os.path.realpath(p) for p in paths), day)
        book = self.books.get(key)
        if book is None:
            while len(self.books) >= _MOST_BOOKS:
                del self.books[next(iter(self.books))]
            book = self.books[key] = load_rulebook(edition, paths, date=day)
        return book

    def day(self, assembly: Assembly) -> str | None:
        """The date on which amendments are judged: the permit date, else ``--as-of``."""
        permit = assembly.basis.permit_date
        return permit if isinstance(permit, str) else getattr(self.options, "as_of", None)

    def _known_edition(self, edition: str, assembly: Assembly, source: Source) -> None:
        known = edition_ids()
        if edition in known:
            return
        message = f"there is no edition `{edition}`"
        expected, close = "one of " + ", ".join(known), nearest(edition, known) or ""
        if self.options.edition:
            raise InputError(Problem("--edition", 0, 0, message, edition, expected, close))
        node = assembly.basis.node
        raise InputError(
            source.problem(
                node.value_mark("edition"),
                message,
                found=edition,
                expected=expected,
                suggestion=close,
                length=len(edition),
            )
        )


def amendments_of(assembly: Assembly, source: Source) -> tuple[str, ...]:
    """The amendment files that a design names; InputError for one that is none or is not there."""
    names: tuple[str, ...] = assembly.basis.amendments
    for index, name in enumerate(names):
        path = os.path.join(os.path.dirname(source.path), name)
        is_file = "\0" not in name and os.path.isfile(path)
        if is_file and name.lower().endswith((".yaml", ".yml", ".json")):
            continue
        raw = assembly.basis.node["amendments"]
        mark = raw.value_mark(index) if isinstance(raw, Sequence) else None
        # A file that is no amendment is not opened: a message about it would show what is in it.
        message = "this is not an amendment file" if is_file else "there is no such amendment file"
        raise InputError(
            source.problem(
                mark or assembly.basis.node.value_mark("amendments"),
                message,
                found=name,
                expected="a YAML file, named by its path from this one",
                suggestion=_beside(path, name),
                length=len(name),
            )
        )
    return names


def _beside(path: str, name: str) -> str:
    """The YAML file in the same folder that was meant, perhaps."""
    folder, base = os.path.split(path)
    try:
        known = [n for n in sorted(os.listdir(folder or "."))[:5000] if n.endswith(".yaml")]
    except (OSError, ValueError):
        return ""
    near = nearest(base, known)
    return os.path.join(os.path.dirname(name), near) if near and near != base else ""


def load_report(options: argparse.Namespace, path: str | None = None) -> Report:
    """The report of one file, ``options.file`` unless ``path`` is given."""
    return Loader(options).load(path or options.file)
