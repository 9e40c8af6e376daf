"""The rules and tables that amendments work on, and who touched what."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from checker.documents.errors import Mark
from checker.paths import shown_path
from checker.tables.collection import TableSet
from checker.tables.table import Table

from .edition import Records
from .shared import Sheets


class Touch(NamedTuple):
    """A change of a thing: by which amendment, and where it stands."""

    who: str
    file: str
    mark: Mark

    @property
    def place(self) -> str:
        """The place as messages write it."""
        return f"{shown_path(self.file)}:{self.mark.line}:{self.mark.column}"


@dataclass(slots=True)
class Book:
    """The rules and tables that amendments work on.

    withdrawn: rule -> the amendment that withdrew it; touched: (rule or table, what of it) -> who
    touched it, in order; applied: amendments applied so far; table_words: changed table -> the
    ordinances that changed it; editions: those that are shipped.
    """

    rules: Records
    tables: TableSet
    sheets: Sheets
    editions: list[str]
    changed_tables: dict[str, Table] = field(default_factory=dict)
    withdrawn: dict[str, str] = field(default_factory=dict)
    touched: dict[tuple[str, str], list[Touch]] = field(default_factory=dict)
    applied: list[str] = field(default_factory=list)
    table_words: dict[str, list[str]] = field(default_factory=dict)

    def table(self, name: str) -> Table:
        """A table as changed so far.  Raises TableError for an unknown name."""
        return self.changed_tables.get(name) or self.tables.find(name)
