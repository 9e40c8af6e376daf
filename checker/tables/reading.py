"""Collecting the problems of one table file, and reading its smallest parts."""

from __future__ import annotations

from keyword import iskeyword
from typing import Any

from checker.documents.errors import InputError, Problem, nearest
from checker.documents.nodes import Mapping
from checker.documents.source import Source
from checker.quantities.notation import NotationError
from checker.quantities.units import UnknownUnit, unit

from .columns import Spec

_MOST_PROBLEMS = 100  # nobody reads more, and looking for names takes time


class Reading:
    """The reading of one file. A problem is noted and reading goes on; ``finish`` raises them."""

    def __init__(self, source: Source, missing: object) -> None:
        self.source = source
        self.missing = missing
        self.problems: list[Problem] = []
        self.told: set[tuple[int, str]] = set()  # asked for again and again, reported once

    def report(self, node: Any, key: Any, message: str, **more: Any) -> None:
        """A problem at the value of ``key`` in ``node``; at its start where ``key`` is None."""
        mark = node.mark if key is None else node.value_mark(key)
        if key is not None and isinstance(node[key], str):
            more.setdefault("length", max(1, len(node[key])))
        self._add(self.source.problem(mark, message, **more))

    def _add(self, problem: Problem) -> None:
        self.problems.append(problem)
        if len(self.problems) >= _MOST_PROBLEMS:
            self.finish()

    def unknown_keys(self, node: Mapping, known: tuple[str, ...], where: str) -> None:
        for key in node:
            if key not in known:
                self._add(
                    self.source.problem(
                        node.key_mark(key),
                        f"unknown key `{key}` in {where}",
                        expected="one of " + ", ".join(known),
                        suggestion=nearest(key, known) or "",
                        length=len(key),
                    )
                )

    def finish(self) -> None:
        if self.problems:
            raise InputError(sorted(self.problems, key=lambda p: (p.line, p.column)))

    def text(self, node: Mapping, key: str) -> str:
        value = node.get(key)
        if value is None or (isinstance(value, str) and value.strip()):
            return str(value or "")
        self.report(node, key, f"`{key}` is text", expected="text")
        return ""

    def mapping(self, node: Mapping, key: str) -> Mapping | dict[str, Any]:
        value = node.get(key)
        if isinstance(value, Mapping):
            return value
        if value is not None and (id(node), key) not in self.told:
            self.told.add((id(node), key))
            self.report(node, key, f"`{key}` is a mapping", expected="keys with values")
        return {}

    def texts(self, node: Mapping, key: str) -> dict[str, str]:
        inner = self.mapping(node, key)
        for name, value in inner.items():
            if not isinstance(value, str) or not value:
                self.report(inner, name, f"`{name}` is text", expected="text")
        return {name: str(value) for name, value in inner.items()}

    def choice(
        self, node: Mapping, key: str, known: tuple[str, ...], default: str, where: str
    ) -> str:
        value = node.get(key)
        if value is None:
            if not default:
                self.report(
                    node, None, f"{where} lacks `{key}`", expected="one of " + ", ".join(known)
                )
            return default
        if value in known:
            return str(value)
        found = value if isinstance(value, str) else "a list or mapping"
        self.report(
            node,
            key,
            f"unknown {key} of {where}",
            found=found,
            expected="one of " + ", ".join(known),
            suggestion=nearest(found, known) or "",
        )
        return ""

    def unit(self, node: Mapping, kind: str, where: str) -> str | None:
        """The unit's text, "" where none is due, None where it is wrong (and reported)."""
        value = node.get("unit")
        if kind != "number":
            if value is not None and kind:
                self.report(node, "unit", f"{where} is no number and has no unit", found=str(value))
                return None
            return ""
        if not isinstance(value, str):
            self.report(
                node, None, f"{where} lacks `unit`", expected="unit: in, A, ratio, count, …"
            )
            return None
        try:
            unit(value)
        except UnknownUnit as error:
            self.report(
                node,
                "unit",
                f"no unit is called `{value}`",
                found=value,
                expected="a unit, or ratio or count",
                suggestion=error.nearest or "",
            )
            return None
        return str(value)

    def cell(self, spec: Spec, text: Any, node: Any, at: Any) -> Any:
        """One cell's value, ``missing`` where it is empty; None after a report."""
        if text is None:
            return self.missing
        if not isinstance(text, str):
            self.report(
                node, at, f"a cell of `{spec.name}` is one value", found="a list or mapping"
            )
            return None
        try:
            return spec.read(text)
        except NotationError as error:
            self.report(
                node,
                at,
                f"not a value of `{spec.name}`",
                found=error.found,
                expected=error.expected,
                suggestion=error.suggestion,
            )
            return None


def identifier(name: str) -> bool:
    """Whether ``name`` will do for a table, key or column: snake_case, ASCII, no word of Python's.

    Rule expressions write it after a dot, hence the last.
    """
    plain = name.isidentifier() and name.isascii() and name == name.lower() and name[0] != "_"
    return plain and not iskeyword(name)
