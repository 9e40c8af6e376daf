"""Rows as objects: one small class per table, with an attribute for every key and column."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NoReturn


class Row:
    """One row of a table; its keys and columns are attributes, in base units. Read only."""

    __slots__: tuple[str, ...] = ()

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"a row of a table is not changed in place ({name})")

    def __repr__(self) -> str:
        cells = ", ".join(f"{name}={getattr(self, name)!r}" for name in type(self).__slots__)
        return f"{type(self).__name__}({cells})"


def make_rows(
    table: str, names: tuple[str, ...], rows: Iterable[tuple[Any, ...]]
) -> tuple[Any, ...]:
    """Objects for ``rows``, of a class that has the slots ``names``."""
    made = type(table, (Row,), {"__slots__": names})
    setters = [getattr(made, name).__set__ for name in names]
    out = []
    for cells in rows:
        row = made()
        for setter, cell in zip(setters, cells, strict=True):
            setter(row, cell)
        out.append(row)
    return tuple(out)
