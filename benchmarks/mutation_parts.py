"""Leaves out one part of a rule's written form at a time and asks whether its examples notice.

    python benchmarks/mutation_parts.py            every rule (a minute or two)
    python benchmarks/mutation_parts.py --every 7  about one mutant in seven, always the same ones

A term of a sum counts nothing; a term or a group counts without its condition; a case of a choice
or of the judgment is left out; the smallest decides in place of the largest.  What nobody notices
is named.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Iterator
from typing import Any

HERE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path.insert(0, HERE)

from benchmarks.mutation import EDITIONS, Case, cases_of, notices, run  # noqa: E402
from checker.documents.errors import InputError  # noqa: E402
from checker.documents.loader import load  # noqa: E402
from checker.paths import rules_folder, tables_folder  # noqa: E402
from checker.rulebook.book import Rule, Rulebook  # noqa: E402
from checker.rulebook.build import build  # noqa: E402
from checker.rulebook.compiled import compile_form  # noqa: E402
from checker.rulebook.edition import of_edition, read  # noqa: E402
from checker.rulebook.folder import RulesFolder  # noqa: E402
from checker.rulebook.reading import read_rule  # noqa: E402

Change = Callable[[Any], None]


def _without(key: str, *path: Any) -> Change:
    def change(root: Any) -> None:
        del _at(root, path)[key]

    return change


def _nothing(name: str, *path: Any) -> Change:
    def change(root: Any) -> None:
        terms = _at(root, path)
        line = terms[name]
        if isinstance(line, dict):
            line["is"] = f"0 * ({line['is']})"
        else:
            terms[name] = f"0 * ({line})"

    return change


def _less(place: int, *path: Any) -> Change:
    def change(root: Any) -> None:
        del _at(root, path)[place]

    return change


def _at(root: Any, path: tuple[Any, ...]) -> Any:
    for key in path:
        root = root[key]
    return root


def changes_of(root: Any) -> Iterator[tuple[str, Change]]:
    """What can be left out of a rule, as its file holds it, each with words for it."""
    for name, group in (root.get("groups") or {}).items():
        if isinstance(group, dict) and "where" in group:
            yield f"group {name} without where", _without("where", "groups", name)
    for name, step in (root.get("steps") or {}).items():
        if not isinstance(step, dict):
            continue
        for term, line in (step.get("sum") or {}).items():
            yield f"term {term} of {name} is nothing", _nothing(term, "steps", name, "sum")
            if isinstance(line, dict) and "when" in line:
                yield f"term {term} of {name} always", _without("when", "steps", name, "sum", term)
        for place in range(len(step.get("cases") or ()) - 1):
            yield f"case {place} of {name} left out", _less(place, "steps", name, "cases")
        for way in ("worst", "least"):
            for element, held in (step.get(way) or {}).items():
                if isinstance(held, dict) and "where" in held:
                    where = ("steps", name, way, element)
                    yield f"{element} of {name} without where", _without("where", *where)
    judge = root.get("judge")
    if isinstance(judge, list):
        for place in range(len(judge) - 1):
            yield f"case {place} of judge left out", _less(place, "judge")


def part_mutants() -> Iterator[tuple[str, Any]]:
    """(name, job) for every mutant; the job says whether an example of any edition notices it."""
    folder = RulesFolder(rules_folder())
    books = {edition: build(edition) for edition in EDITIONS}
    made = {edition: read(edition, folder, tables_folder()) for edition in EDITIONS}
    for path in folder.rules():
        root = load(folder.source(path)).root
        for words, change in changes_of(root):

            def job(path: str = path, change: Change = change) -> bool:
                return any(
                    _noticed(folder, path, change, edition, books[edition], made[edition])
                    for edition in EDITIONS
                )

            yield f"{root['rule']}: {words}", job


def _noticed(
    folder: RulesFolder, path: str, change: Change, edition: str, book: Rulebook, made: Any
) -> bool:
    document = load(folder.source(path))
    change(document.root)
    file = folder.edition(edition)
    try:
        draft = of_edition(read_rule(document, file.short), file, made.sheets(), folder.editions())
        if draft is None:
            return False
        # What the part alone needed is not told as unused, as with replaced conditions.
        draft = draft.with_(reworked=True)
        real = book.find(draft.rule)
        forms = {name: compile_form(draft, name, book.vocabulary) for name in real.forms}
    except (InputError, LookupError):
        return False
    cases: list[Case] = cases_of(real, edition)
    return notices(Rule.of(draft, forms), book, cases)


def main() -> None:
    """Print the share and the survivors."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--every", type=int, default=1)
    judged, survivors = run(part_mutants(), parser.parse_args().every)
    caught = judged - len(survivors)
    print(f"parts: {caught} of {judged} mutants noticed ({caught / judged:.1%})")
    for label in survivors:
        print(f"  survives: {label}")


if __name__ == "__main__":
    main()
