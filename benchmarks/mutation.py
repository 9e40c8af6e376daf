"""Moves every rule value and table cell by one step and asks whether a test or an example notices.

    python benchmarks/mutation.py            everything (minutes)
    python benchmarks/mutation.py --every 7  about one mutant in seven, always the same ones
    python benchmarks/mutation.py --cells    the cells only

A value's mutants are judged by its rule's examples.  A cell's mutants are judged by the checks in
tests/published that re-derive tables or compare them with published prints, and by no example: once
by all of these checks and once without the second copy, which shares its publication with
the table.  What nobody notices is named.
"""

from __future__ import annotations

import argparse
import importlib.util
import inspect
import itertools
import os
import sys
import time
import zlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import Any

import pytest

HERE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path.insert(0, HERE)

from checker.assembly import from_document  # noqa: E402
from checker.bench.example_files import examples_of  # noqa: E402
from checker.bench.examples import (  # noqa: E402
    ExampleError,
    build,
    differences_of,
    subject_of,
)
from checker.documents.errors import InputError  # noqa: E402
from checker.documents.missing import MissingData  # noqa: E402
from checker.engine.trade import TRADE  # noqa: E402
from checker.findings.finding import Finding  # noqa: E402
from checker.findings.traced import trace  # noqa: E402
from checker.findings.view import Views  # noqa: E402
from checker.paths import tables_folder  # noqa: E402
from checker.quantities.designations import TRADE_SIZES, WIRE_SIZES  # noqa: E402
from checker.rulebook.book import Rule, Rulebook  # noqa: E402
from checker.rulebook.build import build as load_all  # noqa: E402
from checker.rulebook.compiled import compile_form  # noqa: E402
from checker.tables.collection import TableSet, load_tables  # noqa: E402
from checker.tables.table import Cells, Origin, Table  # noqa: E402

EDITIONS = ("nec-2023", "nec-2020", "nec-2017")
DERIVED = (
    "ampacity", "annex_c", "boxes", "geometry", "grounding", "insulated", "raceways", "routing",
    "signal",
)  # fmt: skip
PUBLISHED = (*DERIVED, "transcribed")
_UNDECIDED = (MissingData, LookupError, ArithmeticError, ValueError)


@dataclass(frozen=True)
class Case:
    """One example, set up once: mutants change rules and tables, not assemblies."""

    example: Any
    subject_class: str
    subject: Any
    assembly: Any


def cases_of(rule: Rule, edition: str) -> list[Case]:
    """The examples of a rule for one edition, set up."""
    found = []
    for example, assembly in _set_up(rule):
        if example.edition and example.edition != edition:
            continue
        try:
            subject_class, subject = subject_of(rule, example, assembly)
        except (ExampleError, InputError):
            continue
        found.append(Case(example, subject_class, subject, assembly))
    return found


_SET_UP: dict[tuple[str, str], list[tuple[Any, Any]]] = {}


def _set_up(rule: Rule) -> list[tuple[Any, Any]]:
    """The examples of a rule with their assemblies, which are the same under every edition."""
    key = rule.record.file, rule.id
    if key not in _SET_UP:
        found = _SET_UP[key] = []
        for group in examples_of(rule):
            for example in group.examples:
                try:
                    plain = build(group.sample, example, group.source, example.node.mark)
                    found.append((example, from_document(plain, TRADE)))
                except (ExampleError, InputError):
                    continue
    return _SET_UP[key]


def notices(rule: Rule, book: Rulebook, cases: list[Case]) -> bool:
    """Whether one of the examples comes out otherwise than it says."""
    for case in cases:
        form = rule.forms[case.subject_class]
        try:
            found = form.fast(case.subject, case.assembly)
            if found[0] < 0:
                kind = "notApplicable"
            else:
                kind = "pass" if found[1] else form.outcomes[found[0]]
            finding = Finding(rule, form, case.subject, kind, found)
        except _UNDECIDED:
            finding = trace(rule, form, case.subject, case.assembly, book.vocabulary)
        if finding.kind != case.example.expect:
            return True
        stated = case.example
        numbers = stated.measure or stated.limit or stated.fixes or stated.steps
        if numbers and differences_of(stated, Views(case.assembly, book).view(finding)):
            return True
    return False


# -- values ---------------------------------------------------------------------------------


def moved(raw: Any) -> Iterator[Any]:
    """A value, one step up and one step down; a list with one item fewer."""
    if isinstance(raw, (list, tuple)):
        if len(raw) > 1:
            for place in range(len(raw)):
                yield [item for i, item in enumerate(raw) if i != place]
        return
    text = str(raw)
    for sizes in (WIRE_SIZES, TRADE_SIZES):
        if text in sizes:
            place = sizes.index(text)
            yield from (sizes[i] for i in (place - 1, place + 1) if 0 <= i < len(sizes))
            return
    if text in ("true", "false"):
        yield "false" if text == "true" else "true"
        return
    number, _, unit = text.partition(" ")
    try:
        value = Decimal(number)
    except ArithmeticError:
        return
    step = Decimal(1).scaleb(value.as_tuple().exponent)  # type: ignore[arg-type]
    for new in (value + step, value - step):
        if new >= 0:
            yield f"{new} {unit}".strip()


def value_mutants() -> Iterator[tuple[str, Any]]:
    """(name, job) for every mutant of a rule value; the job says whether it is noticed.

    A value that several editions share is noticed where an example of any of them notices it.
    """
    shared: dict[tuple[str, str, str], list[tuple[Rule, Any, Rulebook, list[Case]]]] = {}
    for edition in EDITIONS:
        book = load_all(edition)
        for rule in book.rules:
            cases = cases_of(rule, edition)
            for name, part in rule.record.values.items():
                key = (rule.id, name, str(part.part.value))
                shared.setdefault(key, []).append((rule, part, book, cases))
    for (rule_id, name, text), places in shared.items():
        for new in moved(places[0][1].part.value):

            def job(places: Any = places, name: str = name, new: Any = new) -> bool:
                return any(
                    _value_noticed(rule, name, part, new, book, cases)
                    for rule, part, book, cases in places
                )

            yield f"{rule_id}.{name}: {text} -> {new}", job


def _value_noticed(
    rule: Rule, name: str, part: Any, new: Any, book: Rulebook, cases: list[Case]
) -> bool:
    values = {**rule.record.values, name: replace(part, part=part.part.saying(new))}
    draft = rule.record.with_(values=values)
    try:
        forms = {subject: compile_form(draft, subject, book.vocabulary) for subject in rule.forms}
    except InputError:
        return True
    return notices(Rule.of(draft, forms), book, cases)


# -- cells ----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Check:
    """One check of tests/published, ready to run, and the tables that it looks into."""

    module: Any
    run: Callable[[], None]
    tables: frozenset[str]
    seconds: float

    def holds(self, tables: TableSet) -> bool:
        """Whether it passes with these tables in the place of the real ones."""
        real, self.module.TABLES = self.module.TABLES, tables
        try:
            self.run()
        except (Exception, pytest.fail.Exception):
            return False
        finally:
            self.module.TABLES = real
        return True


class _Asked(Mapping[str, Any]):
    """Tables that remember which of them were asked for."""

    def __init__(self, tables: TableSet) -> None:
        self.tables = tables
        self.names: set[str] = set()

    def __getitem__(self, name: str) -> Any:
        self.names.add(name)
        return self.tables[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.tables)

    def __len__(self) -> int:
        return len(self.tables)


def checks_of(published: Sequence[str]) -> list[Check]:
    """The checks of some modules of tests/published, quick ones first; they all hold as it is."""
    found = []
    for name in published:
        path = os.path.join(HERE, "tests", "published", f"test_tables_{name}.py")
        spec = importlib.util.spec_from_file_location(f"published_{name}", path)
        assert spec is not None
        assert spec.loader is not None
        module: Any = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        for function in list(vars(module).values()):
            if not (inspect.isfunction(function) and function.__name__.startswith("test_")):
                continue
            for arguments in _parameters(function):
                run = partial(function, **arguments)
                real = module.TABLES
                asked = _Asked(real)
                module.TABLES = asked
                began = time.perf_counter()
                run()
                took = time.perf_counter() - began
                module.TABLES = real
                found.append(Check(module, run, frozenset(asked.names), took))
    return sorted(found, key=lambda check: check.seconds)


def cell_mutants(published: Sequence[str] = PUBLISHED) -> Iterator[tuple[str, Any]]:
    """(name, job) for every mutant of a number, size or flag in any table.

    Rows of single editions are moved where they stand, and so are keys that are met as ranges: a
    moved limit of a band moves what it gives.  Only the checks of ``published`` judge.
    """
    checks = checks_of(published)
    tables = load_tables(tables_folder())
    whole = dict(tables)  # read once; the sets with one table replaced are made from them
    for name, table in whole.items():
        judges = [check for check in checks if name in check.tables]
        for edition, place, row, origin in _rows_of(table):
            words = ", ".join(str(cell) for cell in origin.node[: len(table.keys)])
            for at, column in enumerate(table.specs):
                if row[at] is table.missing or getattr(column, "match", "") == "exact":
                    continue
                for text, value in _moved_cell(column, row[at], str(origin.node[at])):
                    changed = _with_cell(table, edition, place, at, value)

                    def job(name: str = name, changed: Any = changed, judges: Any = judges) -> bool:
                        return _noticed(tables.replaced({name: changed}), judges)

                    where = f" in {edition}" if edition else ""
                    old = origin.node[at]
                    yield f"{name}[{words}].{column.name}{where}: {old} -> {text}", job


def _noticed(tables: TableSet, judges: list[Check]) -> bool:
    for place, check in enumerate(judges):
        if not check.holds(tables):
            judges.insert(0, judges.pop(place))  # likely to notice the next one, too
            return True
    return False


def _rows_of(table: Table) -> Iterator[tuple[str, int, Cells, Origin]]:
    """(edition or "", place, cells, origin) of every row of the file."""
    for place, row in enumerate(table.rows):
        yield "", place, row, table.origins[place]
    for edition, rows in table.edition_rows.items():
        for place, (row, origin) in enumerate(rows):
            yield edition, place, row, origin


def _with_cell(table: Table, edition: str, place: int, at: int, value: Any) -> Table:
    if not edition:
        row = table.rows[place]
        row = (*row[:at], value, *row[at + 1 :])
        return replace(table, rows=(*table.rows[:place], row, *table.rows[place + 1 :]))
    rows = list(table.edition_rows[edition])
    row, origin = rows[place]
    rows[place] = (*row[:at], value, *row[at + 1 :]), origin
    return replace(table, edition_rows={**table.edition_rows, edition: tuple(rows)})


def _moved_cell(column: Any, old: Any, text: str) -> Iterator[tuple[str, Any]]:
    """(text, value) of a cell one unit of its last printed digit up and down; a size, one size."""
    if column.kind == "flag":
        yield str(not old).lower(), not old
    elif column.kind in ("wire_size", "trade_size"):
        yield from ((new, new) for new in moved(old))
    elif column.kind == "number" and "/" in text:
        # Trade sizes are printed in sixteenths at the finest.
        yield from ((f"{new:g}", new) for new in (old + 1 / 16, old - 1 / 16))
    elif column.kind == "number":
        step = Decimal(1).scaleb(int(Decimal(text).as_tuple().exponent))
        for new in (Decimal(text) + step, Decimal(text) - step):
            if new >= 0:
                yield str(new), column.read(str(new))


def _parameters(function: Any) -> Iterator[dict[str, Any]]:
    """The arguments that pytest would call a test with."""
    sets: list[list[dict[str, Any]]] = []
    for mark in getattr(function, "pytestmark", ()):
        if mark.name != "parametrize":
            continue
        names, values = mark.args[0], mark.args[1]
        if isinstance(names, str):
            names = [n.strip() for n in names.split(",")]
        rows = []
        for value in values:
            row = getattr(value, "values", value)
            several = len(names) > 1 or hasattr(value, "values")
            rows.append(dict(zip(names, row if several else [row], strict=True)))
        sets.append(rows)
    for combined in itertools.product(*sets):
        merged: dict[str, Any] = {}
        for part in combined:
            merged |= part
        yield merged


# -- running --------------------------------------------------------------------------------


def run(mutants: Iterator[tuple[str, Any]], every: int) -> tuple[int, list[str]]:
    """Judge about one mutant in ``every``; how many were judged, and the survivors.

    A mutant's own words decide whether it is in the sample: one more rule or row moves no other.
    """
    judged, survivors = 0, []
    for label, job in mutants:
        if zlib.crc32(label.encode()) % every:
            continue
        judged += 1
        if not job():
            survivors.append(label)
    return judged, survivors


def main() -> None:
    """Print the shares and the survivors."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--cells", action="store_true")
    arguments = parser.parse_args()
    kinds = [
        ("values", value_mutants()),
        ("cells", cell_mutants()),
        ("cells without the second copy", cell_mutants(DERIVED)),
    ]
    for title, mutants in kinds[1:] if arguments.cells else kinds:
        judged, survivors = run(mutants, arguments.every)
        caught = judged - len(survivors)
        print(f"{title}: {caught} of {judged} mutants noticed ({caught / judged:.1%})")
        for label in survivors:
            print(f"  survives: {label}")


if __name__ == "__main__":
    main()
