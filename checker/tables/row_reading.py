"""Reads the lists of rows of a table file: their cells, and the order that look-ups rely on."""

from __future__ import annotations

from typing import Any

from checker.documents.nodes import Sequence
from checker.documents.reader import Reader
from checker.quantities.notation import NotationError

from .columns import Column, Key, Spec
from .keyed_rows import Cells, Origin

Placed = tuple[Cells, Origin]


class RowReading:
    """The reading of the lists of rows of one table; empty cells hold ``missing``."""

    def __init__(
        self, reader: Reader, keys: tuple[Key, ...], columns: tuple[Column, ...], missing: object
    ) -> None:
        self.reader = reader
        self.keys = keys
        self.specs: tuple[Spec, ...] = (*keys, *columns)
        self.missing = missing

    def read(self, holder: Any, key: str) -> list[Placed]:
        """The rows under a key of ``holder``; checks cells, doubled keys and their order."""
        node = holder.get(key)
        if not isinstance(node, Sequence):
            return []  # which the reader has told
        out: list[Placed] = []
        before = len(self.reader.problems)
        path = self.reader.document.source.path
        for index, row in enumerate(node):
            if isinstance(row, Sequence) and len(row) == len(self.specs):
                cells = [self._cell(spec, row, at) for at, spec in enumerate(self.specs)]
                out.append((tuple(cells), Origin(path, row)))
                continue
            names = ", ".join(spec.name for spec in self.specs)
            self.reader.report(
                row.mark if isinstance(row, Sequence) else node.value_mark(index),
                "a row has the wrong number of cells",
                found=f"{len(row)} cells" if isinstance(row, Sequence) else "no list",
                expected=f"{len(self.specs)} cells: {names}",
            )
        if len(self.reader.problems) == before:
            self._check_keys(out)
        return out

    def _cell(self, spec: Spec, row: Sequence, at: int) -> Any:
        """One cell's value, ``missing`` where it is empty; None after a report."""
        text = row[at]
        if text is None:
            return self.missing
        if isinstance(text, str):
            try:
                return spec.read(text)
            except NotationError as error:
                message = f"not a value of `{spec.name}`"
                more = {"found": error.found, "expected": error.expected}
                more["suggestion"] = error.suggestion or ""
        else:
            message, more = f"a cell of `{spec.name}` is one value", {"found": "a list or mapping"}
        self.reader.report_value(row, at, message, **more)
        return None

    def _check_keys(self, rows: list[Placed]) -> None:
        """No key is empty or twice, and the last one rises within each group of the others."""
        count, last = len(self.keys), self.keys[-1]
        seen: dict[Cells, Any] = {}
        highest: dict[Cells, float] = {}
        for cells, origin in rows:
            row, full_key = origin.node, cells[:count]
            empty = [k.name for k, cell in zip(self.keys, row, strict=False) if cell is None]
            if empty:
                self.reader.report(row.mark, f"the key {empty[0]} is empty", found="~")
                continue
            if full_key in seen:
                self.reader.report_value(
                    row,
                    0,
                    "two rows have the same keys",
                    found=", ".join(str(cell) for cell in row[:count]),
                    expected=f"keys other than those of line {seen[full_key].mark.line}",
                )
                continue
            seen[full_key] = row
            if last.ranked:
                group, rank = full_key[:-1], last.rank(full_key[-1])
                if rank < highest.get(group, rank):
                    self.reader.report_value(
                        row,
                        count - 1,
                        f"rows are not in the order of {last.name}",
                        found=str(row[count - 1]),
                        expected="small to large",
                    )
                highest[group] = max(rank, highest.get(group, rank))
