"""All tables of a folder, each read when it is first used."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping

from checker.documents.digest import sha256
from checker.documents.errors import InputError, Problem
from checker.documents.source import Source, read_source

from .table import Table, TableError


class TableSet(Mapping[str, Table]):
    """Tables by name. Names come from the listing of the folder; a file is read on first use.

    kept: gives a table that was read before, in place of its file; None where there is none.
    """

    def __init__(
        self,
        folder: str,
        names: tuple[str, ...],
        *,
        missing: object = None,
        edition: str = "",
        kept: Callable[[str], Table | None] | None = None,
        sources: dict[str, Source] | None = None,
    ) -> None:
        self.folder = folder
        self.missing = missing
        self.edition = edition
        self._names = names
        self._tables: dict[str, Table] = {}
        self._digest = ""
        self._kept = kept
        #: The files as they were read: a table is of the bytes that the fingerprint is of.
        self._sources: dict[str, Source] = {} if sources is None else sources

    def __getitem__(self, name: str) -> Table:
        """The table; KeyError for an unknown name, InputError where its file is wrong."""
        table = self._tables.get(name)
        if table is None:
            if name not in self._names:
                raise KeyError(name)
            table = self._kept(name) if self._kept is not None else None
            if table is not None:
                self._tables[name] = table
                return table
            from .loader import read_table

            table = read_table(self._source(name), missing=self.missing)
            if self.edition:
                table = table.for_edition(self.edition)
            self._tables[name] = table
        return table

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)

    def __contains__(self, name: object) -> bool:
        return name in self._names  # without reading the file, as Mapping would

    def _source(self, name: str) -> Source:
        source = self._sources.get(name)
        if source is None:
            source = self._sources[name] = read_source(self.path(name))
        return source

    def path(self, name: str) -> str:
        """The file of a table."""
        return os.path.join(self.folder, name + ".yaml")

    def find(self, name: str) -> Table:
        """The table; raises TableError with the nearest name for an unknown one."""
        if name not in self._names:
            raise TableError(os.path.basename(self.folder), "table", name, self._names)
        return self[name]

    def for_edition(
        self, edition: str, kept: Callable[[str], Table | None] | None = None
    ) -> TableSet:
        """The same tables as an edition has them, each still read when first used.

        ``kept`` gives those that were read, as that edition has them.
        """
        return TableSet(
            self.folder,
            self._names,
            missing=self.missing,
            edition=edition,
            kept=kept,
            sources=self._sources,
        )

    def replaced(self, tables: Mapping[str, Table]) -> TableSet:
        """The same tables with those given, amended ones for instance, in their places."""
        made = TableSet(
            self.folder,
            self._names,
            missing=self.missing,
            edition=self.edition,
            kept=self._kept,
            sources=self._sources,
        )
        made._tables = {**self._tables, **{self.find(n).name: t for n, t in tables.items()}}
        return made

    @property
    def digest(self) -> str:
        """A fingerprint of all files: names and bytes, whether read so far or not."""
        if not self._digest:
            total = sha256()
            for name in self._names:
                total.update(f"{name}\n{self._source(name).digest}\n".encode())
            self._digest = "sha256:" + total.hexdigest()
        return self._digest


def load_tables(folder: str | os.PathLike[str], *, missing: object = None) -> TableSet:
    """The tables of a folder: its ``*.yaml`` files, in the order of their names.

    Raises InputError where there is no such folder.
    """
    where = os.fspath(folder)
    try:
        listed = sorted(os.listdir(where))
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise InputError(Problem(where, 0, 0, f"the tables cannot be listed: {reason}")) from None
    names = tuple(name.removesuffix(".yaml") for name in listed if name.endswith(".yaml"))
    return TableSet(where, names, missing=missing)
