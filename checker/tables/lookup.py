"""Look-ups in keyed rows: exact keys through a dict, ranges through bisection."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator
from itertools import product
from math import isclose, isfinite
from typing import TYPE_CHECKING, Any

from checker.quantities.tolerance import EPSILON

if TYPE_CHECKING:
    from .columns import Key
    from .table import Table


Getter = Callable[..., Any]
RowsGetter = Callable[..., "tuple[Any, ...]"]


class NoEntry(LookupError):  # noqa: N818 - reads as what it is: "except NoEntry"
    """The table has no row for the given keys, or no value in that cell.

    ``table`` is the table asked, ``column`` the column wanted (empty where rows were), ``names``
    the keys given and ``values`` their values in base units.
    """

    def __init__(
        self, table: Table, column: str, names: tuple[str, ...], values: tuple[Any, ...]
    ) -> None:
        super().__init__(table.name, column, values)
        self.table = table
        self.column = column
        self.names = names
        self.values = values

    def __str__(self) -> str:
        """What is missing, in words, with units."""
        what = f"no {self.column} for" if self.column else "no row for"
        return f"{self.table.title}: {what} {self.table.words(self.values, self.names)}"


def entries(table: Table) -> dict[tuple[Any, ...], int]:
    """Every full key and the row it leads to: the rows' own keys first, then those by alias.

    A row of its own wins over an alias, so that an amendment may add one for an aliased name.
    """
    count = len(table.keys)
    found = {row[:count]: index for index, row in enumerate(table.rows)}
    if not any(key.also for key in table.keys):
        return found
    other_names = [_names_of(key) for key in table.keys]
    for index, row in enumerate(table.rows):
        spellings = (
            (value, *names.get(value, ()))
            for value, names in zip(row[:count], other_names, strict=True)
        )
        for full_key in product(*spellings):
            found.setdefault(full_key, index)
    return found


def cell_getter(table: Table, column: str) -> Getter:
    """A function of the table's keys, in their order, that gives the cell of ``column``."""
    position = table.position(column)
    if table.keys[-1].match == "exact":
        return _exact(table, column, position)
    return _ranged(table, column, position)


def rows_getter(table: Table, names: tuple[str, ...]) -> RowsGetter:
    """A function of the named keys that gives the rows having them, in the table's order."""
    positions = tuple(table.key_position(name) for name in names)
    groups: dict[tuple[Any, ...], list[tuple[Any, ...]]] = {}
    for full_key, index in entries(table).items():
        group = tuple(full_key[p] for p in positions)
        groups.setdefault(group, []).append((full_key, index))
    ready = {group: _in_order(table, names, members) for group, members in groups.items()}
    fuzzy = any(table.keys[p].kind == "number" for p in positions)

    def rows(*values: Any) -> tuple[Any, ...]:
        try:
            return ready[values]
        except KeyError:
            near = _close(ready, values) if fuzzy else None
            if near is None:
                raise NoEntry(table, "", names, values) from None
            return ready[near]

    return rows


def _in_order(
    table: Table, names: tuple[str, ...], members: list[tuple[Any, ...]]
) -> tuple[Any, ...]:
    last = table.keys[-1]
    if names == tuple(key.name for key in table.keys[:-1]) and last.ranked:
        members = sorted(members, key=lambda member: last.rank(member[0][-1]))
    seen = dict.fromkeys(index for _, index in members)
    all_rows = table.row_objects
    return tuple(all_rows[index] for index in seen)


def _names_of(key: Key) -> dict[Any, list[str]]:
    names: dict[Any, list[str]] = {}
    for alias, target in key.also.items():
        names.setdefault(target, []).append(alias)
    return names


def _exact(table: Table, column: str, position: int) -> Getter:
    cells: dict[Any, Any] = {
        full_key: table.rows[index][position]
        for full_key, index in entries(table).items()
        if table.rows[index][position] is not table.missing
    }
    names = tuple(key.name for key in table.keys)
    fuzzy = any(key.kind == "number" for key in table.keys)

    def absent(values: tuple[Any, ...]) -> Any:
        near = _close(cells, values) if fuzzy else None
        if near is None:
            raise NoEntry(table, column, names, values) from None
        return cells[near]

    if len(table.keys) == 1:
        by_one = {full_key[0]: cell for full_key, cell in cells.items()}

        def get_one(value: Any) -> Any:
            try:
                return by_one[value]
            except KeyError:
                return absent((value,))

        return get_one
    if len(table.keys) == 2:

        def get_two(first: Any, second: Any) -> Any:
            try:
                return cells[first, second]
            except KeyError:
                return absent((first, second))

        return get_two

    def get(*values: Any) -> Any:
        try:
            return cells[values]
        except KeyError:
            return absent(values)

    return get


def _ranged(table: Table, column: str, position: int) -> Getter:
    groups: dict[tuple[Any, ...], tuple[list[float], list[Any]]] = {}
    for full_key, index in sorted(entries(table).items(), key=lambda entry: entry[0][-1]):
        limits, cells = groups.setdefault(full_key[:-1], ([], []))
        limits.append(full_key[-1])
        cells.append(table.rows[index][position])
    names = tuple(key.name for key in table.keys)
    missing = table.missing
    rising = table.keys[-1].match == "up_to"
    fuzzy = any(key.kind == "number" for key in table.keys[:-1])

    def get(*values: Any) -> Any:
        group, wanted = values[:-1], values[-1]
        found = groups.get(group)
        if found is None and fuzzy:
            near = _close(groups, group)
            found = None if near is None else groups[near]
        if found is not None and isfinite(wanted):
            limits, cells = found
            slack = abs(wanted) * EPSILON
            if rising:
                at = bisect_left(limits, wanted - slack)
            else:
                at = bisect_right(limits, wanted + slack) - 1
            if 0 <= at < len(cells) and cells[at] is not missing:
                return cells[at]
        raise NoEntry(table, column, names, values)

    return get


def _close(known: dict[tuple[Any, ...], Any], values: tuple[Any, ...]) -> tuple[Any, ...] | None:
    """The known key that equals ``values`` within the tolerance of its numbers."""
    return next(_matching(known, values), None)


def _matching(
    known: dict[tuple[Any, ...], Any], values: tuple[Any, ...]
) -> Iterator[tuple[Any, ...]]:
    for candidate in known:
        if len(candidate) == len(values) and all(
            a == b
            or (isinstance(a, float) and isinstance(b, float) and isclose(a, b, rel_tol=EPSILON))
            for a, b in zip(candidate, values, strict=True)
        ):
            yield candidate
