"""Applies an amendment to drafts and tables: one function for each kind of change.

Nothing is ignored: a change of something that does not exist is an error, a change that changes
nothing and two amendments that touch one thing are told, with both places.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from checker.documents.errors import Mark, Problem, nearest
from checker.documents.nodes import Mapping, Quoted
from checker.documents.source import Source
from checker.language.types import same_kind
from checker.quantities.notation import NotationError
from checker.tables.change import CellChange
from checker.tables.collection import TableSet
from checker.tables.table import Table, TableError

from .compiled import read_value
from .draft import CasePart, Draft, Drafter, Part, StepPart, ValuePart
from .records import AmendmentFile, ChangeFile, MethodsFile

_ACTIONS = (
    "set",
    "cells",
    "add_rows",
    "remove_rows",
    "narrow",
    "widen",
    "applies",
    "fails_as",
    "withdraw",
    "replace",
    "add",
    "forbid",
    "require",
    "exception",
    "title",
    "cite",
)
_OF_RULE = (
    "set",
    "narrow",
    "widen",
    "applies",
    "fails_as",
    "withdraw",
    "replace",
    "exception",
    "title",
    "cite",
)
_OF_TABLE = ("cells", "add_rows", "remove_rows")
_OWN = ("add", "forbid", "require")


@dataclass(slots=True)
class Book:
    """The rules and tables that amendments work on."""

    drafts: dict[str, Draft]
    tables: TableSet
    changed_tables: dict[str, Table] = field(default_factory=dict)
    withdrawn: dict[str, str] = field(default_factory=dict)
    touched: dict[tuple[str, str], tuple[str, str, Mark]] = field(default_factory=dict)

    def table(self, name: str) -> Table:
        """A table as changed so far.  Raises TableError for an unknown name."""
        return self.changed_tables.get(name) or self.tables.find(name)


@dataclass(slots=True)
class Applier:
    """Applies one amendment.  ``problems`` collects errors, ``warnings`` what to know."""

    book: Book
    amendment: AmendmentFile
    source: Source
    edition: str
    skip: frozenset[tuple[str, str]] = frozenset()
    problems: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)
    acted: list[str] = field(default_factory=list)

    def run(self) -> None:
        """Apply every change, in order."""
        for change in self.amendment.changes:
            self._change(change)

    # -- helpers ---------------------------------------------------------------------------

    @property
    def origin(self) -> str:
        return self.amendment.amendment

    def _problem(self, mark: Mark, message: str, **more: Any) -> None:
        self.problems.append(self.source.problem(mark, message, **more))

    def _warn(self, mark: Mark, message: str, **more: Any) -> None:
        self.warnings.append(self.source.problem(mark, message, severity="warning", **more))

    def _touch(self, change: ChangeFile, thing: tuple[str, str], mark: Mark) -> None:
        """Remember who touched a thing; say so where somebody else has before."""
        earlier = self.book.touched.get(thing)
        self.book.touched[thing] = (self.origin, self.source.path, mark)
        if earlier is None:
            return
        who, file, where = earlier
        name = ".".join(part for part in thing if part)
        place = f"{file}:{where.line}:{where.column}"
        if who == self.origin:
            self._problem(
                mark,
                f"this amendment changes {name} twice",
                found=f"first at {place}",
                expected="one change",
            )
        elif who not in (change.supersedes, change.amendment):
            self._warn(
                mark,
                f"{name} was changed by amendment {who} already ({place}); this change wins",
                expected=f"`supersedes: {who}` where that is meant",
            )

    def _change(self, change: ChangeFile) -> None:
        node = change.node
        actions = [key for key in _ACTIONS if key in node]
        if not actions:
            if change.amendment:
                return
            self._problem(
                node.mark,
                "this change changes nothing",
                found="keys " + ", ".join(node),
                expected="one of " + ", ".join(_ACTIONS),
            )
            return
        for what, keys, named in (
            ("rule", _OF_RULE, change.rule),
            ("table", _OF_TABLE, change.table),
        ):
            wrong = [key for key in actions if key in keys and not named]
            if wrong and not (what == "rule" and set(actions) <= set(_OWN) | {"cite"}):
                self._problem(
                    node.key_mark(wrong[0]),
                    f"`{wrong[0]}` does not say which {what} it changes",
                    found=wrong[0],
                    expected=f"`{what}:` with its name",
                    length=len(wrong[0]),
                )
                return
        # "Withdraws another amendment's change" was taken into account before any was applied.
        if change.amendment and change.withdraw:
            self.acted.append(f"withdraws what {change.amendment} changed in {change.rule}")
            return
        if (self.origin, change.rule or change.table) in self.skip:
            return
        if change.table:
            self._table(change)
        elif change.rule:
            self._rule(change)
        else:
            self._own(change)

    # -- rules -----------------------------------------------------------------------------

    def _rule(self, change: ChangeFile) -> None:
        draft = self.book.drafts.get(change.rule)
        if draft is None:
            gone = self.book.withdrawn.get(change.rule)
            self._problem(
                change.node.value_mark("rule"),
                f"there is no rule `{change.rule}`"
                + (f" any more: amendment {gone} withdrew it" if gone else ""),
                found=change.rule,
                expected="a rule of the edition: see `pullpoint rules list`",
                suggestion=nearest(change.rule, self.book.drafts) or "",
                length=len(change.rule),
            )
            return
        node = change.node
        if change.withdraw:
            self._touch(change, (change.rule, "withdraw"), node.key_mark("withdraw"))
            del self.book.drafts[change.rule]
            self.book.withdrawn[change.rule] = self.origin
            self.acted.append(f"withdraws {change.rule}")
            return
        if change.replace is not None:
            self._replace(change, draft)
            return
        before = draft
        for name, raw in change.set.items():
            draft = self._set(change, draft, name, raw)
        draft = self._conditions(change, draft)
        if change.fails_as is not None:
            draft = self._fails_as(change, draft)
        if change.title:
            self._touch(change, (draft.id, "title"), node.key_mark("title"))
            draft = draft.with_(title=self._part(node, "title"))
        if draft is before and not change.cite:
            return
        self._finish(change, draft)

    def _part(self, node: Mapping, key: str, value: Any = None) -> Part:
        raw = node[key] if value is None else value
        return Part(raw, self.source, node.value_mark(key), self.origin, isinstance(raw, Quoted))

    def _finish(self, change: ChangeFile, draft: Draft) -> None:
        words = f"{self.amendment.jurisdiction} {change.reference}"
        base = change.cite or str(draft.cite.value)
        cite = change.cite or f"{base}, as amended by {words}"
        mark = change.node.value_mark("cite" if change.cite else "reference")
        done = ", ".join(key for key in _ACTIONS if key in change.node)
        self.book.drafts[draft.id] = draft.with_(
            cite=Part(cite, self.source, mark, self.origin),
            history=(
                *draft.history,
                f"{self.origin}: {done} ({change.reference}): {change.reason}",
            ),
        )
        self.acted.append(f"changes {draft.id} ({done})")

    def _set(self, change: ChangeFile, draft: Draft, name: str, raw: Any) -> Draft:
        node: Mapping = change.node["set"]
        mark = node.value_mark(name)
        old = draft.values.get(name)
        if old is None:
            self._problem(
                node.key_mark(name),
                f"rule {draft.id} has no value `{name}`",
                found=name,
                expected="one of " + (", ".join(draft.values) or "none: it has no values"),
                suggestion=nearest(name, draft.values) or "",
                length=len(name),
            )
            return draft
        new = ValuePart(
            Part(raw, self.source, mark, self.origin, isinstance(raw, Quoted)),
            old.as_,
            change.reference,
            change.reason,
        )
        try:
            value, kind, text = read_value(new)
        except NotationError as error:
            self._problem(
                mark,
                f"the new `{name}` of {draft.id} cannot be read",
                found=error.found,
                expected=error.expected,
                suggestion=error.suggestion or "",
                length=len(str(raw)),
            )
            return draft
        was, was_kind, was_text = read_value(old)
        if not same_kind(kind, was_kind):
            self._problem(
                mark,
                f"the new `{name}` of {draft.id} is not of the same kind",
                found=f"`{text}` is a {kind}",
                expected=f"a {was_kind}, as `{was_text}` was ({old.part.source.path}:"
                f"{old.part.mark.line})",
                length=len(str(raw)),
            )
            return draft
        if value == was:
            self._warn(
                mark,
                f"`{name}` of {draft.id} is {was_text} already; this change changes nothing",
                found=text,
                expected="another value, or no such change",
            )
            return draft
        self._touch(change, (draft.id, name), mark)
        return draft.with_(values={**draft.values, name: new})

    def _conditions(self, change: ChangeFile, draft: Draft) -> Draft:
        node = change.node
        if change.applies:
            self._touch(change, (draft.id, "when"), node.key_mark("applies"))
            raw = node["applies"]
            parts = (
                tuple(
                    Part(t, self.source, raw.value_mark(i), self.origin)
                    for i, t in enumerate(change.applies)
                )
                if not isinstance(raw, str)
                else (self._part(node, "applies"),)
            )
            draft = draft.with_(when=parts, widened=())
        if change.narrow is not None:
            draft = draft.with_(when=(*draft.when, self._part(node, "narrow")))
        if change.widen is not None:
            draft = draft.with_(widened=(*draft.widened, self._part(node, "widen")))
            if not draft.when:
                self._warn(
                    node.key_mark("widen"),
                    f"rule {draft.id} applies everywhere already; `widen` changes nothing",
                )
        if change.exception is not None:
            held = change.exception
            part = Part(held.when, self.source, held.node.value_mark("when"), self.origin)
            draft = draft.with_(unless=(*draft.unless, (part, held.note or change.reason)))
        return draft

    def _fails_as(self, change: ChangeFile, draft: Draft) -> Draft:
        assert change.fails_as is not None
        mark = change.node.value_mark("fails_as")
        if all(case.fails_as == change.fails_as for case in draft.cases):
            self._warn(mark, f"failing {draft.id} means {change.fails_as} already; nothing changes")
            return draft
        self._touch(change, (draft.id, "fails_as"), mark)
        cases = tuple(replace(case, fails_as=change.fails_as) for case in draft.cases)
        return draft.with_(cases=cases, fails_as=change.fails_as, fails_as_origin=self.origin)

    def _replace(self, change: ChangeFile, draft: Draft) -> None:
        assert change.replace is not None
        node = change.node.key_mark("replace")
        if change.replace.rule != draft.id:
            self._problem(
                node,
                "a rule is replaced under its own id",
                found=str(change.replace.rule),
                expected=draft.id,
            )
            return
        self._touch(change, (draft.id, "replace"), node)
        new = self._drafted(change, change.replace)
        if new is not None:
            self.book.drafts[draft.id] = new.with_(
                history=(
                    *draft.history,
                    f"{self.origin}: replace ({change.reference}): {change.reason}",
                )
            )
            self.acted.append(f"replaces {draft.id}")

    def _drafted(self, change: ChangeFile, file: Any) -> Draft | None:
        drafter = Drafter(self.source, self.edition, self.origin)
        cite = change.cite or f"{self.amendment.jurisdiction} {change.reference}"
        own = (file.cite or {}).get(self.edition) or (file.cite or {}).get("any")
        return drafter.draft(file, cite=own or cite)

    # -- rules of its own ------------------------------------------------------------------

    def _own(self, change: ChangeFile) -> None:
        if change.add is not None:
            if change.add.rule in self.book.drafts:
                old = self.book.drafts[change.add.rule]
                self._problem(
                    change.add.node.value_mark("rule"),
                    f"there is a rule `{change.add.rule}` already ({old.file}:{old.mark.line})",
                    found=change.add.rule,
                    expected="another id, or `rule:` with `replace:`",
                    length=len(change.add.rule),
                )
                return
            new = self._drafted(change, change.add)
            if new is not None:
                self._touch(change, (new.id, "add"), change.node.key_mark("add"))
                self.book.drafts[new.id] = new.with_(
                    history=(f"{self.origin}: add ({change.reference}): {change.reason}",)
                )
                self.acted.append(f"adds {new.id}")
        for key, methods in (("forbid", change.forbid), ("require", change.require)):
            if methods is not None:
                self._methods(change, key, methods)

    def _methods(self, change: ChangeFile, key: str, methods: MethodsFile) -> None:
        """A rule on wiring methods, made of the rule language like any other."""
        node = methods.node
        if methods.rule in self.book.drafts:
            self._problem(
                node.value_mark("rule"),
                f"there is a rule `{methods.rule}` already",
                found=methods.rule,
                expected="another id",
            )
            return

        def part(value: Any) -> Part:
            return Part(value, self.source, node.value_mark("methods"), self.origin)

        forbids = key == "forbid"
        listed = "not among" if forbids else "among"
        measure = "1 if this.method in methods else 0"
        title = methods.title or (
            "No raceway or cable is of a forbidden method"
            if forbids
            else "Every raceway and cable is of a required method"
        )
        case = CasePart(
            when=None,
            measure=part(measure if forbids else "0 if this.method in methods else 1"),
            limit=part("0"),
            at_least=False,
            unit="count",
            require=None,
            fails_as="fail",
            message=part(
                "{this.id} is {this.method}; "
                + ("forbidden are {methods}" if forbids else "required is one of {methods}")
            ),
            passes=part("{this.id} is {this.method}, " + listed + " {methods}"),
            mend=(),
        )
        where = () if methods.where is None else (self._part(node, "where"),)
        raw = node["methods"]
        draft = Draft(
            id=methods.rule,
            title=part(title),
            topic="wiring methods",
            classes=("raceway", "cable"),
            why=change.reason,
            note="",
            at="method",
            when=where,
            values={
                "methods": ValuePart(
                    Part(
                        methods.methods,
                        self.source,
                        node.value_mark("methods"),
                        self.origin,
                        isinstance(raw, Quoted),
                    ),
                    "text",
                    change.reference,
                    change.reason,
                )
            },
            steps={},
            cases=(case,),
            fails_as="fail",
            fails_as_origin=self.origin,
            cite=part(change.cite or f"{self.amendment.jurisdiction} {change.reference}"),
            cites={},
            sources=(),
            effective=None,
            status="in_use",
            file=self.source.path,
            source=self.source,
            mark=node.mark,
            history=(f"{self.origin}: {key} ({change.reference}): {change.reason}",),
        )
        self._touch(change, (draft.id, key), change.node.key_mark(key))
        self.book.drafts[draft.id] = draft
        self.acted.append(f"adds {draft.id} ({key}s {', '.join(methods.methods)})")

    # -- tables ----------------------------------------------------------------------------

    def _table(self, change: ChangeFile) -> None:
        node = change.node
        mark = node.value_mark("table")
        try:
            table = self.book.table(change.table)
            cells = [
                CellChange(cell.keys, column, None if value is None else value)
                for cell in change.cells
                for column, value in cell.set.items()
            ]
            done = table.amended(
                cells=cells,
                add_rows=change.add_rows,
                remove_rows=change.remove_rows,
                file=self.source.path,
            )
        except TableError as error:
            self._problem(
                _cell_mark(node, error.found) or mark,
                f"table {change.table} has no {error.what} `{error.found}`",
                found=error.found,
                expected="one of " + ", ".join(error.known[:24]),
                suggestion=error.suggestion,
                length=len(error.found),
            )
            return
        except NotationError as error:
            self._problem(
                _cell_mark(node, error.found) or mark,
                f"a value for table {change.table} cannot be read",
                found=error.found,
                expected=error.expected,
                suggestion=error.suggestion or "",
            )
            return
        except ValueError as error:
            self._problem(mark, f"table {change.table} cannot be changed so: {error}")
            return
        for words in done.idle:
            self._warn(mark, f"{words}; this change changes nothing")
        for cell in change.cells:
            keys = ", ".join(f"{k} {v}" for k, v in cell.keys.items())
            for column in cell.set:
                self._touch(change, (f"table {change.table}", f"{keys} {column}"), mark)
        self.book.changed_tables[change.table] = done.table
        self.acted.append(f"changes table {change.table}")


def _cell_mark(node: Any, text: str) -> Mark | None:
    """Where ``text`` stands as a key or value somewhere below ``node``."""
    items: Any = node.items() if isinstance(node, Mapping) else enumerate(node)
    for key, value in items:
        if key == text and isinstance(node, Mapping):
            return node.key_mark(key)
        if value == text:
            mark: Mark = node.value_mark(key)
            return mark
        if isinstance(value, (dict, list)):
            found = _cell_mark(value, text)
            if found is not None:
                return found
    return None


__all__ = ["Applier", "Book", "StepPart"]
