"""What the shipped tables say of conduit that a description names by trade size alone.

Shipped, whatever the edition: these columns are the same in all of them.  A table is read when it
is first asked.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from checker.paths import tables_folder

if TYPE_CHECKING:
    from checker.tables import Table


class ShippedTrade:
    """Radii and diameters from the tables."""

    __slots__ = ()

    def least_radius(self, size: str) -> float | None:
        """The least radius of a one-shot or full-shoe bender."""
        return _cell("bend_radius", "one_shot", (size,))

    def outside_diameter(self, method: str, size: str) -> float | None:
        """The outside diameter of a raceway."""
        return _cell("raceway_dimensions", "outside_diameter", (method, size))


TRADE = ShippedTrade()


@cache
def _table(name: str) -> Table:
    from checker.tables import load_table

    return load_table(f"{tables_folder()}/{name}.yaml")


@cache
def _cell(name: str, column: str, keys: tuple[str, ...]) -> float | None:
    table = _table(name)
    place = [spec.name for spec in table.columns].index(column) + len(keys)
    found = next((row[place] for row in table.rows if row[: len(keys)] == keys), None)
    return float(found) if isinstance(found, int | float) else None
