"""Look-ups in keyed rows: exact keys through a dict, ranges through bisection."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import product
from math import isclose, isfinite
from typing import TYPE_CHECKING, Any

from checker.quantities.tolerance import EPSILON

from .keyed_rows import KeyedRows

if TYPE_CHECKING:
    from .columns import Key

Getter = Callable[..., Any]
RowsGetter = Callable[..., "tuple[Any, ...]"]


class NoEntry(LookupError):  # noqa: N818 - reads as what it is: "except NoEntry"
    """The table has no row for the given keys, or no value in that cell.

    ``table`` is the table asked, ``column`` the column wanted (empty where rows were), ``names``
    the keys given and ``values`` their values in base units.
    """

    def __init__(
        self, table: KeyedRows, column: str, names: tuple[str, ...], values: tuple[Any, ...]
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


def entries(table: KeyedRows) -> dict[tuple[Any, ...], int]:
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


def cell_getter(table: KeyedRows, column: str) -> Getter:
    """A function of the table's keys, in their order, that gives the cell of ``column``."""
    position = table.position(column)
    if table.keys[-1].match == "exact":
        return _exact(table, column, position)
    return _ranged(table, column, position)


def rows_getter(table: KeyedRows, names: tuple[str, ...]) -> RowsGetter:
    """A function of the named keys that gives the rows having them, in the table's order."""
    positions = tuple(table.key_position(name) for name in names)
    groups: dict[tuple[Any, ...], list[tuple[Any, ...]]] = {}
    for full_key, index in entries(table).items():
        group = tuple(full_key[p] for p in positions)
        groups.setdefault(group, []).append((full_key, index))
    ready = {group: _in_order(table, names, members) for group, members in groups.items()}
    close = _Close(ready, tuple(table.keys[p] for p in positions))

    def rows(*values: Any) -> tuple[Any, ...]:
        try:
            return ready[values]
        except KeyError:
            near = close.find(values)
            if near is None:
                raise NoEntry(table, "", names, values) from None
            return ready[near]

    return rows


def _in_order(
    table: KeyedRows, names: tuple[str, ...], members: list[tuple[Any, ...]]
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


def _exact(table: KeyedRows, column: str, position: int) -> Getter:
    cells: dict[Any, Any] = {
        full_key: table.rows[index][position]
        for full_key, index in entries(table).items()
        if table.rows[index][position] is not table.missing
    }
    names = tuple(key.name for key in table.keys)
    close = _Close(cells, table.keys)

    def absent(values: tuple[Any, ...]) -> Any:
        near = close.find(values)
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


def _ranged(table: KeyedRows, column: str, position: int) -> Getter:
    groups: dict[tuple[Any, ...], tuple[list[float], list[Any]]] = {}
    for full_key, index in sorted(entries(table).items(), key=lambda entry: entry[0][-1]):
        limits, cells = groups.setdefault(full_key[:-1], ([], []))
        limits.append(full_key[-1])
        cells.append(table.rows[index][position])
    names = tuple(key.name for key in table.keys)
    missing = table.missing
    rising = table.keys[-1].match == "up_to"
    close = _Close(groups, table.keys[:-1])

    def get(*values: Any) -> Any:
        group, wanted = values[:-1], values[-1]
        found = groups.get(group)
        if found is None:
            near = close.find(group)
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


class _Close:
    """Finds the known key that equals given values within the tolerance of its numbers.

    Keys are put together by what has to be equal exactly, so that a key that the table does not
    have costs no walk through all rows; what came of one is remembered.
    """

    __slots__ = ("_by_names", "_exact", "_found", "_known", "_numbers")

    def __init__(self, known: Iterable[tuple[Any, ...]], keys: Sequence[Key]) -> None:
        self._numbers = [place for place, key in enumerate(keys) if key.kind == "number"]
        self._exact = [place for place, key in enumerate(keys) if key.kind != "number"]
        self._known = known
        self._by_names: dict[tuple[Any, ...], list[tuple[Any, ...]]] | None = None
        self._found: dict[tuple[Any, ...], tuple[Any, ...] | None] = {}

    def find(self, values: tuple[Any, ...]) -> tuple[Any, ...] | None:
        """The first such key in the order of the rows; None where there is none."""
        if not self._numbers or len(values) != len(self._numbers) + len(self._exact):
            return None
        try:
            return self._found[values]
        except KeyError:
            found = next(self._matching(values), None)
            if len(self._found) >= _MOST_REMEMBERED:
                self._found.clear()
            self._found[values] = found
            return found

    def _matching(self, values: tuple[Any, ...]) -> Iterator[tuple[Any, ...]]:
        for candidate in self._groups().get(tuple(values[p] for p in self._exact), ()):
            if all(_same(candidate[p], values[p]) for p in self._numbers):
                yield candidate

    def _groups(self) -> dict[tuple[Any, ...], list[tuple[Any, ...]]]:
        groups = self._by_names
        if groups is None:
            groups = self._by_names = {}
            for candidate in self._known:
                names = tuple(candidate[p] for p in self._exact)
                groups.setdefault(names, []).append(candidate)
        return groups


_MOST_REMEMBERED = 2_000  # keys that one look-up does not have as they are


def _same(a: Any, b: Any) -> bool:
    if a == b:
        return True
    return isinstance(a, float) and isinstance(b, float) and isclose(a, b, rel_tol=EPSILON)
