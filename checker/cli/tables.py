"""``pullpoint tables``: numbers with their sources."""

from __future__ import annotations

import argparse
import json
import textwrap
from typing import Any

from checker.documents.errors import InputError, Problem
from checker.paths import tables_folder
from checker.quantities.show import show_number
from checker.quantities.units import unit as find_unit
from checker.tables.collection import TableSet, load_tables
from checker.tables.table import Table, TableError


def configure(parser: argparse.ArgumentParser) -> None:
    """Options of the verb."""
    actions = parser.add_subparsers(dest="action", metavar="list|show", required=True)
    listed = actions.add_parser("list", help="every table with its keys and columns")
    shown = actions.add_parser("show", help="one table with its sources")
    shown.add_argument("name", metavar="NAME")
    for sub in (listed, shown):
        sub.add_argument("--edition", default="nec-2023", metavar="E")
        sub.add_argument("--format", choices=("text", "json"), default="text")


def run(arguments: argparse.Namespace) -> int:
    """Print tables."""
    from checker.rulebook.folder import read_edition

    try:
        read_edition(arguments.edition)
    except LookupError as error:
        raise InputError(Problem("--edition", 0, 0, str(error.args[0]))) from None
    tables = load_tables(tables_folder()).for_edition(arguments.edition)
    if arguments.action == "list":
        _list(tables, arguments)
    else:
        _show(tables, arguments)
    return 0


def _list(tables: TableSet, arguments: argparse.Namespace) -> None:
    if arguments.format == "json":
        print(
            json.dumps(
                [_facts(t, arguments.edition) for t in tables.values()],
                ensure_ascii=False,
                indent=1,
            )
        )
        return
    from tabulate import tabulate

    rows = [
        (
            name,
            ", ".join(key.name for key in table.keys),
            ", ".join(c.name + (f" ({c.unit})" if c.unit else "") for c in table.columns),
            table.cite.get(arguments.edition, ""),
            len(table.rows),
        )
        for name, table in tables.items()
    ]
    print(
        tabulate(
            rows,
            ("table", "keys", "columns", "section", "rows"),
            tablefmt="simple",
            maxcolwidths=[None, 24, 44, 34, None],
        )
    )


def _show(tables: TableSet, arguments: argparse.Namespace) -> None:
    try:
        table = tables.find(arguments.name)
    except TableError as error:
        raise InputError(
            Problem(
                "tables",
                0,
                0,
                f"there is no table `{arguments.name}`",
                arguments.name,
                "one of " + ", ".join(tables),
                error.suggestion,
            )
        ) from None
    if arguments.format == "json":
        facts = _facts(table, arguments.edition)
        facts["rows"] = [[_cell(table, i, c) for i, c in enumerate(row)] for row in table.rows]
        print(json.dumps(facts, ensure_ascii=False, indent=1))
        return
    from tabulate import tabulate

    print(f"{table.name}: {table.title}")
    print(table.cite.get(arguments.edition, ""))
    print()
    heads = [s.name + (f"\n{s.unit}" if s.unit else "") for s in table.specs]
    rows = [[_cell(table, i, c) for i, c in enumerate(row)] for row in table.rows]
    print(tabulate(rows, heads, tablefmt="simple", disable_numparse=True))
    print()
    for column in table.columns:
        print(_wrapped(f"{column.name}: {column.source}", "  "))
        print(_wrapped(f"checked: {column.checked}", "      "))
    for name, words in table.sources.items():
        print(_wrapped(f"{name}: {words}", "  "))
    if table.note:
        print(_wrapped(table.note, "  "))


def _facts(table: Table, edition: str) -> dict[str, Any]:
    return {
        "table": table.name,
        "title": table.title,
        "section": table.cite.get(edition, ""),
        "keys": [
            {"name": k.name, "type": k.kind, "unit": k.unit, "match": k.match} for k in table.keys
        ],
        "columns": [
            {
                "name": c.name,
                "type": c.kind,
                "unit": c.unit,
                "source": c.source,
                "checked": c.checked,
            }
            for c in table.columns
        ],
        "note": table.note,
        "digest": table.digest,
    }


def _cell(table: Table, place: int, value: Any) -> str:
    if value is table.missing:
        return "—"
    if isinstance(value, bool):
        return "yes" if value else "no"
    spec = table.specs[place]
    if isinstance(value, (int, float)) and spec.unit:
        from fractions import Fraction

        found = find_unit(spec.unit)
        return show_number(float(found.from_base(Fraction(value))), 6)
    return str(value)


def _wrapped(text: str, lead: str) -> str:
    return textwrap.fill(
        " ".join(text.split()), 100, initial_indent=lead, subsequent_indent=lead + "  "
    )
