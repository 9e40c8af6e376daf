"""``pullpoint rules``: the rule author's bench."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable

from checker.documents.errors import InputError, Problem, nearest
from checker.paths import rules_folder
from checker.rulebook.book import Rule, Rulebook, edition_ids, load_rulebook

from .loading import amendments_of, date

_DEFAULT = "nec-2023"


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    actions = parser.add_subparsers(
        dest="action", metavar="list|show|test|compare|document", required=True
    )

    others = {"test": "every one", "compare": "the assembly's"}

    def action(name: str, words: str) -> argparse.ArgumentParser:
        sub = actions.add_parser(
            name, help=words, description=words.capitalize() + ".", allow_abbrev=False
        )
        sub.add_argument(
            "--edition", metavar="E", help=f"an edition; {others.get(name, _DEFAULT)} unless stated"
        )
        sub.add_argument(
            "--amend",
            action="append",
            default=[],
            metavar="FILE",
            help="apply an amendment; may be given several times",
        )
        sub.add_argument(
            "--as-of",
            metavar="DATE",
            type=date,
            dest="as_of",
            help="judge on this date which amendments are in force (YYYY-MM-DD)",
        )
        return sub

    listed = action("list", "every rule in force, by topic")
    listed.add_argument("--format", choices=("text", "json"), default="text")
    shown = action("show", "one rule or shared sheet, with where every part of it comes from")
    shown.add_argument("rule", metavar="ID", help="of a rule or a shared sheet")
    tested = action("test", "run the examples of rules and amendments, under every edition")
    tested.add_argument(
        "paths",
        metavar="PATH",
        nargs="*",
        help="files, folders or ids of shipped rules; else all of ours",
    )
    compared = action("compare", "what an amendment changes on an assembly")
    compared.add_argument("amendment", metavar="AMENDMENT")
    compared.add_argument("file", metavar="FILE", help="an assembly file")
    for sub in (tested, compared):
        sub.add_argument("--show", choices=("fail", "all"), default="fail")
    written = action("document", "a manual of the effective rules")
    written.add_argument("--format", choices=("markdown", "html"), default="markdown")
    written.add_argument("--output", metavar="PATH")
    written.add_argument(
        "--language", action="store_true", help="the reference of the rule language instead"
    )


def run(arguments: argparse.Namespace) -> int:
    """Do what was asked."""
    act = {
        "list": _list,
        "show": _show,
        "test": _test,
        "compare": _compare,
        "document": _document,
    }[arguments.action]
    return act(arguments)


def _book(arguments: argparse.Namespace) -> Rulebook:
    edition = arguments.edition or _DEFAULT
    known_edition(edition)
    return load_rulebook(edition, list(arguments.amend), date=arguments.as_of)


def known_edition(name: str) -> None:
    """Raises InputError for an edition that is not shipped."""
    known = edition_ids()
    if name not in known:
        raise InputError(
            Problem(
                "--edition",
                0,
                0,
                f"there is no edition `{name}`",
                name,
                "one of " + ", ".join(known),
                nearest(name, known) or "",
            )
        )


def find_rule(book: Rulebook, name: str, others: Iterable[str] = ()) -> Rule:
    """A rule of the book; InputError names the nearest one, or the nearest of ``others``."""
    for rule in book.rules:
        if rule.id == name:
            return rule
    gone = book.withdrawn.get(name)
    known = [*(rule.id for rule in book.rules), *others]
    raise InputError(
        Problem(
            "rules",
            0,
            0,
            f"there is no rule `{name}`" + (f": amendment {gone} withdrew it" if gone else ""),
            name,
            f"a rule of {book.edition.edition}: see `pullpoint rules list`",
            "" if gone else nearest(name, known) or "",
        )
    )


def _list(arguments: argparse.Namespace) -> int:
    from checker.reports import rule_form
    from checker.reports.style import style_for

    book = _book(arguments)
    if arguments.format == "json":
        sys.stdout.write(rule_form.list_json(book))
    else:
        sys.stdout.write(rule_form.list_text(book, style_for(sys.stdout)))
    return 0


def _show(arguments: argparse.Namespace) -> int:
    from checker.bench.example_files import example_lines
    from checker.reports.rule_form import shared_text, show_text
    from checker.reports.rule_view import RuleView, shared_view
    from checker.reports.style import style_for

    book = _book(arguments)
    sheets = book.sheets.all()
    if arguments.rule in sheets:
        words = shared_view(sheets[arguments.rule], book)
        sys.stdout.write(shared_text(words, book.notices, style_for(sys.stdout)))
        return 0
    rule = find_rule(book, arguments.rule, sheets)
    examples = example_lines(rule, book)
    sys.stdout.write(show_text(RuleView(rule), examples, book.notices, style_for(sys.stdout)))
    return 0


def _test(arguments: argparse.Namespace) -> int:
    from checker.bench.bench import Bench
    from checker.reports.bench_form import test_text
    from checker.reports.style import style_for

    if arguments.edition:
        known_edition(arguments.edition)
    bench = Bench(arguments.edition, tuple(arguments.amend), arguments.as_of)
    suites = bench.run(arguments.paths or [rules_folder()])
    sys.stdout.write(test_text(suites, style_for(sys.stdout), show=arguments.show))
    problems = [problem for suite in suites for problem in suite.problems]
    if problems:
        sys.stdout.flush()
        print(InputError(problems), file=sys.stderr)
        return 2
    return 1 if any(suite.differing for suite in suites) else 0


def _compare(arguments: argparse.Namespace) -> int:
    from checker.assembly import read_assembly
    from checker.bench.compare import compare
    from checker.engine.trade import TRADE
    from checker.reports.bench_form import compare_text
    from checker.reports.style import style_for

    assembly, source = read_assembly(arguments.file, TRADE)
    edition = arguments.edition or assembly.basis.edition
    known_edition(edition)
    folder = os.path.dirname(source.path)
    paths = [os.path.join(folder, name) for name in amendments_of(assembly, source)]
    paths += arguments.amend
    added = os.path.realpath(arguments.amendment)
    before = [path for path in paths if os.path.realpath(path) != added]
    after = paths if len(before) < len(paths) else [*paths, arguments.amendment]
    permit = assembly.basis.permit_date
    day = permit if isinstance(permit, str) else arguments.as_of
    books = [load_rulebook(edition, group, date=day) for group in (before, after)]
    found = compare(assembly, *books)
    style = style_for(sys.stdout)
    last = next(a for a in books[1].amendments if os.path.realpath(a.source.path) == added)
    title = f"{assembly.id}, {books[0].edition.short}: what {last.id} ({last.file.title}) changes"
    notices = books[1].notices
    sys.stdout.write(compare_text(found, title, notices, style, show=arguments.show))
    return 0


def _document(arguments: argparse.Namespace) -> int:
    from checker.documents.writing import write_text

    if arguments.language:
        from checker.reports.language import reference

        text = reference(_book(arguments), arguments.format)
    else:
        from checker.reports.manual import manual

        text = manual(_book(arguments), arguments.format)
    if arguments.output:
        write_text(arguments.output, text)
    else:
        sys.stdout.write(text)
    return 0
