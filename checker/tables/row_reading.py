"""Reading the lists of rows of a table file."""

from __future__ import annotations

from typing import Any

from checker.documents.nodes import Sequence

from .columns import Column, Key, Spec
from .reading import Reading
from .table import Cells, Origin

Placed = tuple[Cells, Origin]


class RowReading:
    """The reading of the lists of rows of one table."""

    def __init__(self, reading: Reading, keys: list[Key], columns: list[Column]) -> None:
        self.reading = reading
        self.keys = keys
        self.specs: tuple[Spec, ...] = (*keys, *columns)

    def read(self, node: Any, parent: Any, key: str) -> list[Placed]:
        """The rows of one list; checks cells, doubled keys and the order of the last key."""
        if not isinstance(node, Sequence):
            if node is not None:
                self.reading.report(parent, key, f"`{key}` is a list of rows", expected="- […]")
            return []
        out: list[Placed] = []
        before = len(self.reading.problems)
        for index, row in enumerate(node):
            if not isinstance(row, Sequence) or len(row) != len(self.specs):
                self._wrong_count(node, index, row)
                continue
            cells = tuple(
                self.reading.cell(spec, text, row, at)
                for at, (spec, text) in enumerate(zip(self.specs, row, strict=True))
            )
            out.append((cells, Origin(self.reading.source.path, row)))
        if len(self.reading.problems) == before:
            self._check_keys(out)
        return out

    def _wrong_count(self, node: Sequence, index: int, row: Any) -> None:
        names = ", ".join(spec.name for spec in self.specs)
        found = f"{len(row)} cells" if isinstance(row, Sequence) else "no list"
        mark = row.mark if isinstance(row, Sequence) else node.value_mark(index)
        self.reading.problems.append(
            self.reading.source.problem(
                mark,
                "a row has the wrong number of cells",
                found=found,
                expected=f"{len(self.specs)} cells: {names}",
            )
        )

    def _check_keys(self, rows: list[Placed]) -> None:
        count, last = len(self.keys), self.keys[-1]
        seen: dict[Cells, Any] = {}
        highest: dict[Cells, Any] = {}
        for cells, origin in rows:
            row, full_key = origin.node, cells[:count]
            empty = [k.name for k, cell in zip(self.keys, row, strict=False) if cell is None]
            if empty:
                self.reading.report(row, None, f"the key {empty[0]} is empty", found="~")
                continue
            if full_key in seen:
                line = seen[full_key].mark.line
                self.reading.report(
                    row,
                    0,
                    "two rows have the same keys",
                    found=", ".join(str(cell) for cell in row[:count]),
                    expected=f"keys other than those of line {line}",
                )
                continue
            seen[full_key] = row
            if last.ranked:
                group, rank = full_key[:-1], last.rank(full_key[-1])
                if group in highest and rank < highest[group]:
                    self.reading.report(
                        row,
                        count - 1,
                        f"rows are not in the order of {last.name}",
                        found=str(row[count - 1]),
                        expected="small to large",
                    )
                highest[group] = max(rank, highest.get(group, rank))
