"""The least radius of one-shot benders, for raceways whose description names no other tool."""

from __future__ import annotations

from functools import cache

from checker.paths import tables_folder


@cache
def least_radius(size: str) -> float | None:
    """The least radius of a one-shot or full-shoe bender by trade size; None where none is known.

    Shipped table, whatever the edition: it is the same in all of them.
    """
    from checker.tables import load_table

    table = load_table(f"{tables_folder()}/bend_radius.yaml")
    place = [column.name for column in table.columns].index("one_shot") + len(table.keys)
    return next((float(row[place]) for row in table.rows if row[0] == size), None)
