"""Moves every rule value and table cell by one step and asks whether a test or an example notices.

    python benchmarks/mutation.py            everything (minutes)
    python benchmarks/mutation.py --every 7  about one mutant in seven, always the same ones

A value's mutants are judged by its rule's examples.  A cell's mutants are judged by the examples of
the rules that look into its table, and by the checks in tests/published that re-derive tables or
compare them with published prints.  What nobody notices is named.
"""

from __future__ import annotations

import argparse
import importlib.util
import inspect
import itertools
import os
import re
import sys
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

HERE = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path.insert(0, HERE)

import checker.tables  # noqa: E402
from checker.documents.errors import InputError  # noqa: E402
from checker.documents.missing import MissingData  # noqa: E402
from checker.engine.example_files import groups_of  # noqa: E402
from checker.engine.examples import (  # noqa: E402
    ExampleError,
    _same,
    build,
    differences_of,
    subject_of,
)
from checker.findings.detail import Explainer, _amount  # noqa: E402
from checker.findings.finding import Finding  # noqa: E402
from checker.findings.traced import trace  # noqa: E402
from checker.paths import tables_folder  # noqa: E402
from checker.quantities.designations import TRADE_SIZES, WIRE_SIZES  # noqa: E402
from checker.rulebook.book import Rule, Rulebook  # noqa: E402
from checker.rulebook.build import build as load_all  # noqa: E402
from checker.rulebook.compiled import compile_form  # noqa: E402
from checker.tables.change import CellChange  # noqa: E402

EDITIONS = ("nec-2023", "nec-2020", "nec-2017")
PUBLISHED = ("ampacity", "annex_c", "boxes", "geometry")
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
    for group in groups_of(rule):
        for example in group.examples:
            if example.edition and example.edition != edition:
                continue
            try:
                assembly = build(group.sample, example, group.source, example.node.mark)
                subject_class, subject = subject_of(rule, example, assembly)
            except (ExampleError, InputError):
                continue
            found.append(Case(example, subject_class, subject, assembly))
    return found


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
        if case.example.measure or case.example.limit or case.example.mend or case.example.steps:
            detail = Explainer(case.assembly, book.vocabulary, book.terms).detail(finding)
            if differences_of(case.example, finding, detail):
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
            for name, part in rule.draft.values.items():
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
    values = {**rule.draft.values, name: replace(part, part=replace(part.part, value=new))}
    draft = rule.draft.with_(values=values)
    try:
        forms = {subject: compile_form(draft, subject, book.vocabulary) for subject in rule.forms}
    except InputError:
        return True
    return notices(Rule(draft, forms), book, cases)


# -- cells ----------------------------------------------------------------------------------


def cell_mutants() -> Iterator[tuple[str, Any]]:
    """(name, job) for every mutant of a numeric or designated cell that a rule may look up."""
    book = load_all("nec-2023")
    users: dict[str, list[tuple[Rule, list[Case]]]] = {}
    columns: dict[str, set[str]] = {}
    for rule in book.rules:
        cases: list[Case] | None = None
        for form in rule.forms.values():
            for need in form.needs.values():
                if need[0] == "value":
                    continue
                table = book.tables[need[1]]
                wanted = {need[2]} if need[0] == "cell" else {
                    c.name for c in table.columns
                    if c.kind != "text" and re.search(rf"\.{c.name}\b", _texts(rule))
                }  # fmt: skip
                columns.setdefault(need[1], set()).update(wanted)
                if cases is None:
                    cases = cases_of(rule, "nec-2023")
                    if _kinds_differ(rule, cases):  # then every mutant would seem to be noticed
                        raise AssertionError(f"the examples of {rule.id} do not hold as they are")
                group = users.setdefault(need[1], [])
                if all(r is not rule for r, _ in group):
                    group.append((rule, cases))
    for name in sorted(columns):
        table = book.tables[name]
        for index, row in enumerate(table.rows):
            keys = {key.name: cell for key, cell in zip(table.keys, row, strict=False)}
            for column in sorted(columns[name]):
                old = row[table.position(column)]
                for new in _moved_cell(table, index, column):
                    words = ", ".join(str(k) for k in keys.values())
                    label = f"{name}[{words}].{column}: {old} -> {new}"

                    def job(
                        name: str = name, keys: Any = keys, column: str = column, new: Any = new,
                        table: Any = table,
                    ) -> bool:  # fmt: skip
                        try:
                            done = table.amended(cells=[CellChange(keys, column, new)]).table
                        except ValueError:
                            return True
                        return _examples_notice(users[name], book, name, done) or _published_notice(
                            name, keys, column, new
                        )

                    yield label, job


def _texts(rule: Rule) -> str:
    """All expressions of a rule, to see which columns of a row it reads."""
    with open(rule.draft.file, encoding="utf-8") as file:
        return file.read()


def _moved_cell(table: Any, index: int, column: str) -> Iterator[Any]:
    """The cell one unit of its last printed digit up and down; a size, one size."""
    old = table.rows[index][table.position(column)]
    if old is table.missing or isinstance(old, bool):
        return
    if isinstance(old, str):
        yield from moved(old)
        return
    mark = table.mark(index, column)
    with open(table.origins[index].file, encoding="utf-8") as file:
        line = file.read().splitlines()[mark.line - 1]
    printed = re.match(r"[\"']?(\d+(?:\.\d+)?)([-/]\d+)?", line[mark.column - 1 :])
    if printed is None:
        raise AssertionError(f"no number at {mark} of {table.name}")
    text, fraction = printed.groups()
    if fraction:  # trade sizes and box sizes are printed in sixteenths at the finest
        yield from (old + 1 / 16, old - 1 / 16)
        return
    step = Decimal(1).scaleb(Decimal(text).as_tuple().exponent)  # type: ignore[arg-type]
    for new in (Decimal(text) + step, Decimal(text) - step):
        if new >= 0:
            yield str(new)


def _examples_notice(
    users: list[tuple[Rule, list[Case]]], book: Rulebook, name: str, table: Any
) -> bool:
    """Run the examples with the look-ups of the compiled rules put on the changed table."""
    for rule, cases in users:
        kept = []
        for form in rule.forms.values():
            space = form.fast.__globals__
            for variable, need in form.needs.items():
                if need[0] != "value" and need[1] == name:
                    kept.append((space, variable, space[variable]))
                    give = table.getter if need[0] == "cell" else table.rows_getter
                    space[variable] = give(need[2])
        try:
            if _kinds_differ(rule, cases):
                return True
        finally:
            for space, variable, getter in kept:
                space[variable] = getter
    return False


def _kinds_differ(rule: Rule, cases: list[Case]) -> bool:
    for case in cases:
        form = rule.forms[case.subject_class]
        try:
            found = form.fast(case.subject, case.assembly)
        except _UNDECIDED:
            if case.example.expect != "open":
                return True
            continue
        kind = "notApplicable" if found[0] < 0 else "pass" if found[1] else form.outcomes[found[0]]
        if kind != case.example.expect:
            return True
        if _stated_differ(case, form, found):
            return True
    return False


def _stated_differ(case: Case, form: Any, found: tuple[Any, ...]) -> bool:
    """Whether a measure, limit or step that the example states comes out otherwise."""
    example = case.example
    if found[0] < 0:
        return False
    judged = form.cases[found[0]]
    got = {
        "measure": _amount(found[2], judged.measure.kind, judged.unit),
        "limit": _amount(found[3], judged.limit.kind, judged.unit),
    }
    stated = {"measure": example.measure, "limit": example.limit}
    if any(stated[name] and not _same(stated[name], got[name]) for name in got):
        return True
    for place, value in zip(judged.steps, found[4:], strict=True):
        step = form.steps[place]
        want = example.steps.get(step.name)
        if want and not _same(want, _amount(value, step.checked.kind, step.unit)):
            return True
    return False


def _published_notice(name: str, keys: Any, column: str, new: Any) -> bool:
    """Whether a check of tests/published fails with the changed table."""
    tables = checker.tables.load_tables(tables_folder())
    base = tables[name]
    if base.edition_rows:
        return False  # rows of single editions: only the examples judge those
    changed = tables.replaced({name: base.amended(cells=[CellChange(keys, column, new)]).table})
    real = checker.tables.load_tables
    checker.tables.load_tables = lambda *_, **__: changed  # type: ignore[assignment]
    try:
        for module_name in PUBLISHED:
            path = os.path.join(HERE, "tests", "published", f"test_tables_{module_name}.py")
            with open(path, encoding="utf-8") as file:
                if f'"{name}"' not in file.read():
                    continue
            if not _checks_hold(path, module_name):
                return True
    finally:
        checker.tables.load_tables = real
    return False


def _checks_hold(path: str, name: str) -> bool:
    spec = importlib.util.spec_from_file_location(f"published_{name}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    try:
        spec.loader.exec_module(module)
        for function in list(vars(module).values()):
            if inspect.isfunction(function) and function.__name__.startswith("test_"):
                for arguments in _parameters(function):
                    function(**arguments)
    except Exception:
        return False
    return True


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
    arguments = parser.parse_args()
    for title, mutants in (("values", value_mutants()), ("cells", cell_mutants())):
        judged, survivors = run(mutants, arguments.every)
        caught = judged - len(survivors)
        print(f"{title}: {caught} of {judged} mutants noticed ({caught / judged:.1%})")
        for label in survivors:
            print(f"  survives: {label}")


if __name__ == "__main__":
    main()
