"""Reads table files; every problem of a file is reported together, each with its place."""

from __future__ import annotations

import os
from typing import Any

from checker.documents.errors import InputError, Problem, nearest
from checker.documents.loader import load
from checker.documents.nodes import Mapping
from checker.documents.source import Source, read_source

from .columns import COLUMN_KINDS, KEY_KINDS, MATCHES, Column, Key
from .reading import Reading, identifier
from .row_reading import Placed, RowReading
from .table import Table

_TOP = ("table", "title", "cite", "note", "sources", "keys", "columns", "rows", "rows_in")
_NEEDED = ("table", "title", "cite", "note", "keys", "columns", "rows")
_KEY = ("type", "unit", "match", "also")
_COLUMN = ("type", "unit", "source", "checked")
_BLANK = object()  # a specification that could not be read: its cells are not judged


def load_table(path: str | os.PathLike[str], *, missing: object = None) -> Table:
    """The table in a file; empty cells hold ``missing``. Raises InputError with all problems."""
    return read_table(read_source(path), missing=missing)


def read_table(source: Source, *, missing: object = None) -> Table:
    """The table in a source that has been read already. Raises InputError with all problems."""
    return _TableReading(source, missing).table()


class _TableReading(Reading):
    """The reading of a whole table file."""

    def table(self) -> Table:
        root = load(self.source).root
        if not isinstance(root, Mapping):
            raise InputError(
                Problem(self.source.path, 1, 1, "a table is a mapping", expected="table: its_name")
            )
        self.unknown_keys(root, _TOP, "a table")
        for key in _NEEDED:
            if root.get(key) is None:
                self.report(root, None, f"the table lacks `{key}`", expected=f"{key}: …")
        name = self.text(root, "table")
        self._check_name(root, name)
        keys = self.keys(self.mapping(root, "keys"))
        columns = self.columns(self.mapping(root, "columns"))
        self._check_names(root, keys, columns)
        if any(spec is _BLANK for spec in (*keys, *columns)) or not keys or not columns:
            self.finish_or_say(root)
        reader = RowReading(self, keys, columns)
        rows = reader.read(root.get("rows"), root, "rows")
        cite = self.texts(root, "cite")
        for edition in self.mapping(root, "rows_in"):
            if edition not in cite:
                self.report(
                    root["rows_in"],
                    edition,
                    f"rows of an edition that `cite` does not name: {edition}",
                    found=edition,
                    expected="one of " + ", ".join(cite),
                    suggestion=nearest(edition, cite) or "",
                )
        edition_rows = {
            edition: tuple(reader.read(node, self.mapping(root, "rows_in"), edition))
            for edition, node in self.mapping(root, "rows_in").items()
        }
        if not rows and isinstance(root.get("rows"), list) and not self.problems:
            self.report(root, "rows", "the table has no rows", expected="- […]")
        self._check_aliases(root, keys, [*rows, *(row for e in edition_rows.values() for row in e)])
        made = Table(
            name=name,
            title=self.text(root, "title"),
            keys=tuple(keys),
            columns=tuple(columns),
            rows=tuple(cells for cells, _ in rows),
            cite=cite,
            note=self.text(root, "note"),
            sources=self.texts(root, "sources"),
            file=self.source.path,
            origins=tuple(origin for _, origin in rows),
            edition_rows=edition_rows,
            missing=self.missing,
        )
        self.finish()
        return made

    def finish_or_say(self, root: Mapping) -> None:
        """Stop where rows cannot be judged for want of readable keys and columns."""
        if not self.problems:
            self.report(root, None, "a table needs at least one key and one column")
        self.finish()

    def _check_name(self, root: Mapping, name: str) -> None:
        base = os.path.basename(self.source.path)
        wanted = base.removesuffix(".yaml").removesuffix(".yml")
        if name and wanted != base and name != wanted:
            self.report(
                root,
                "table",
                "a table is called what its file is called",
                found=name,
                expected=wanted,
            )
        elif name and not identifier(name):
            self.report(root, "table", "not a name", found=name, expected="snake_case")

    def _check_names(self, root: Mapping, keys: list[Any], columns: list[Any]) -> None:
        for section, spec_names in (
            ("keys", self.mapping(root, "keys")),
            ("columns", self.mapping(root, "columns")),
        ):
            if not isinstance(spec_names, Mapping):
                continue
            for name in spec_names:
                twice = section == "columns" and name in self.mapping(root, "keys")
                if twice or not identifier(name):
                    self.problems.append(
                        self.source.problem(
                            spec_names.key_mark(name),
                            "a column has the name of a key" if twice else "not a name",
                            found=name,
                            expected="another name" if twice else "snake_case",
                            length=len(name),
                        )
                    )
        for spec, name in zip(keys[:-1], self.mapping(root, "keys"), strict=False):
            if spec is not _BLANK and spec.match != "exact":
                self.report(
                    root["keys"][name],
                    "match",
                    "only the last key may be a range",
                    found=spec.match,
                    expected="exact",
                )

    def _check_aliases(self, root: Mapping, keys: list[Key], rows: list[Placed]) -> None:
        for position, key in enumerate(keys):
            known = {cells[position] for cells, _ in rows}
            for alias, target in key.also.items():
                node = root["keys"][key.name]["also"]
                if target not in known:
                    near = nearest(str(target), [str(k) for k in known])
                    self.report(
                        node,
                        alias,
                        f"no row has the {key.name} that `{alias}` stands for",
                        found=str(target),
                        suggestion=near or "",
                    )
                elif alias in known:
                    self.report(
                        node,
                        alias,
                        f"`{alias}` has rows of its own",
                        found=alias,
                        expected="a name without rows",
                    )

    def keys(self, node: Mapping | dict[str, Any]) -> list[Any]:
        return [self.key(name, spec, node) for name, spec in node.items()]

    def key(self, name: str, spec: Any, node: Any) -> Any:
        if not isinstance(spec, Mapping):
            self.report(node, name, f"`{name}` is a mapping", expected="{type: …}")
            return _BLANK
        self.unknown_keys(spec, _KEY, f"key `{name}`")
        kind = self.choice(spec, "type", KEY_KINDS, "", f"key `{name}`")
        match = self.choice(spec, "match", MATCHES, "exact", f"key `{name}`")
        unit_text = self.unit(spec, kind, f"key `{name}`")
        if not kind or not match or unit_text is None:
            return _BLANK
        if match != "exact" and kind != "number":
            self.report(
                spec, "match", "only numbers are looked up in ranges", found=match, expected="exact"
            )
            return _BLANK
        if spec.get("also") is not None and kind != "text":
            # Designations have one canonical text already; numbers have no names.
            self.report(spec, "also", "only keys of text have further names", found=kind)
            return _BLANK
        return Key(name, kind, unit_text, match, self.texts(spec, "also"))

    def columns(self, node: Mapping | dict[str, Any]) -> list[Any]:
        return [self.column(name, spec, node) for name, spec in node.items()]

    def column(self, name: str, spec: Any, node: Any) -> Any:
        if not isinstance(spec, Mapping):
            self.report(node, name, f"`{name}` is a mapping", expected="{unit: …, source: …}")
            return _BLANK
        where = f"column `{name}`"
        self.unknown_keys(spec, _COLUMN, where)
        kind = self.choice(spec, "type", COLUMN_KINDS, "number", where)
        unit_text = self.unit(spec, kind, where)
        for needed in ("source", "checked"):
            if spec.get(needed) is None:
                self.report(
                    spec,
                    None,
                    f"{where} lacks `{needed}`",
                    expected=f"{needed}: where its values come from"
                    if needed == "source"
                    else "checked: against what, or `not checked`",
                )
        source, checked = self.text(spec, "source"), self.text(spec, "checked")
        if not kind or unit_text is None:
            return _BLANK
        return Column(name, kind, unit_text, source, checked)
