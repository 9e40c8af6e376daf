"""What applying a change needs: where to tell of it, and what was changed before."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from checker.documents.errors import Mark, Problem
from checker.documents.source import Source

from .part import Text, text_at
from .records import AmendmentFile, ChangeFile
from .rule import RuleRecord
from .touches import Book, Touch


@dataclass(slots=True)
class Applier:
    """Applies one amendment.  ``problems`` collects errors, ``warnings`` what to know.

    skip: (amendment, `rule`, `table` or `shared`, name) of changes that a later amendment takes
    back.
    acted: what was done, in words.
    """

    book: Book
    amendment: AmendmentFile
    source: Source
    edition: str
    skip: frozenset[tuple[str, str, str]] = frozenset()
    problems: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)
    acted: list[str] = field(default_factory=list)
    silenced: set[str] = field(default_factory=set)
    did: list[str] = field(default_factory=list)

    @property
    def origin(self) -> str:
        """The amendment's id."""
        return self.amendment.amendment

    def words(self, change: ChangeFile) -> str:
        """The change's own citation: whose it is and which section."""
        return f"{self.amendment.jurisdiction} {change.reference}"

    def problem(self, mark: Mark, message: str, **more: Any) -> None:
        """Note an error."""
        self.problems.append(self.source.problem(mark, message, **more))

    def warn(self, mark: Mark, message: str, **more: Any) -> None:
        """Note what a reader has to know."""
        self.warnings.append(self.source.problem(mark, message, severity="warning", **more))

    def touch(
        self, change: ChangeFile, thing: tuple[str, str], mark: Mark, *, adds: bool = False
    ) -> None:
        """Remember who touched a thing; say so where somebody else has before.

        ``adds`` marks changes that hold beside earlier ones; the others take their place.
        """
        name = ".".join(part for part in thing if part)
        earlier = self.book.touched.setdefault(thing, [])
        end = "; both hold" if adds else "; this change wins"
        self.tell_earlier(change, earlier, name, mark, end, adds)
        earlier.append(Touch(self.origin, self.source.path, mark))

    def tell_earlier(
        self,
        change: ChangeFile,
        earlier: list[Touch],
        name: str,
        mark: Mark,
        end: str,
        adds: bool,
    ) -> None:
        last = {touch.who: touch for touch in earlier}
        for who, touch in last.items():
            if who == self.origin:
                if not adds:
                    self.problem(
                        mark,
                        f"this amendment changes {name} twice",
                        found=f"first at {touch.place}",
                        expected="one change",
                    )
            elif who == change.supersedes:
                self.silenced.add(who)
            else:
                self.warn(
                    mark,
                    f"{name} was changed by amendment {who} already ({touch.place}){end}",
                    expected=f"`supersedes: {who}` where that is meant",
                )

    def text(self, node: Any, key: Any) -> Text:
        """The text under a key of a change, with its place."""
        return text_at(node[key], node, key, self.source, self.origin)

    def finish(self, change: ChangeFile, rule: RuleRecord) -> None:
        """Keep a changed rule, which cites the change from now on."""
        old, node = rule.cite, change.node
        if change.cite:
            self.touch(change, (rule.id, "cite"), node.key_mark("cite"))
            if change.cite == old:
                self.warn(node.value_mark("cite"), f"{rule.id} cites that already")
            self.did.append(f"cites {change.cite}")
        cite = change.cite or self.also_cites(change, str(old), old.origin)
        key = "cite" if change.cite else "reference"
        done = "; ".join(self.did)
        self.book.rules[rule.id] = rule.with_(
            cite=text_at(cite, node, key, self.source, self.origin),
            history=(*rule.history, self.entry(change, done)),
        )
        self.acted.append(f"changes {rule.id}: {done}")

    def entry(self, change: ChangeFile, done: str) -> str:
        """A line of a rule's history."""
        return f"{self.origin}: {done} ({change.reference}): {change.reason}"

    def also_cites(self, change: ChangeFile, base: str, origin: str) -> str:
        """A citation with the amendment's section added."""
        if origin != self.origin:
            return f"{base}, as amended by {self.words(change)}"
        if change.reference in base:
            return base
        return f"{base}, {change.reference}"
