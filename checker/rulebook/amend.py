"""Applies an amendment to drafts and tables: one function for each kind of change.

Nothing is ignored: a change of something that does not exist is an error; a change that changes
nothing and two amendments that touch one thing are told, with both places.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from checker.documents.errors import InputError, Mark, Problem, nearest
from checker.documents.nodes import Mapping, Quoted
from checker.documents.source import Source
from checker.paths import shown_path

from .amend_conditions import change_conditions
from .amend_methods import methods_draft
from .amend_shared import change_shared
from .amend_table import change_table
from .amend_values import add_value, set_value
from .draft import Draft, Drafter, Part
from .known_editions import unknown_editions
from .records import AmendmentFile, ChangeFile, RuleFile
from .touches import Book, Touch

#: What a change may do, by what it does it to.
OF_RULE = (
    "set", "values", "narrow", "widen", "applies", "fails_as", "withdraw", "replace", "exception",
    "title", "cite",
)  # fmt: skip
OF_TABLE = ("cells", "add_rows", "remove_rows", "cite")
OF_SHARED = ("set",)
OWN = ("add", "forbid", "require")
#: What a change may be of, in words, and what it may do to that.
_NAMES = {"rule": "rule", "table": "table", "shared": "shared sheet"}
_FITS = {"rule": OF_RULE, "table": OF_TABLE, "shared": OF_SHARED}
_MOST_PROBLEMS = 100  # then applying ends: nobody reads more
_ACTIONS = tuple(dict.fromkeys((*OF_RULE, *OF_TABLE, *OWN)))
#: These leave nothing of the rule for another action to change, but what stands beside each.
_WHOLE = {"withdraw": (), "replace": ("cite",)}


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
    _silenced: set[str] = field(default_factory=set)
    did: list[str] = field(default_factory=list)

    def run(self) -> None:
        """Apply every change, in order."""
        for change in self.amendment.changes:
            if len(self.problems) >= _MOST_PROBLEMS:
                return
            told = len(self.problems) + len(self.warnings) + len(self.acted)
            self._silenced.clear()
            self.did.clear()
            self._change(change)
            if told == len(self.problems) + len(self.warnings) + len(self.acted):
                self._nothing(change)
            self._idle_supersedes(change)

    # -- helpers ---------------------------------------------------------------------------

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

    def _nothing(self, change: ChangeFile) -> None:
        self.problem(
            change.node.mark,
            "this change changes nothing",
            found="keys " + ", ".join(change.node),
            expected="one of " + ", ".join(_ACTIONS) + ", with a value",
        )

    def _idle_supersedes(self, change: ChangeFile) -> None:
        name = change.supersedes
        if name and name not in self._silenced and name in self.book.applied:
            self.warn(
                change.node.value_mark("supersedes"),
                f"`supersedes` is of no use: amendment {name} did not touch this before",
                found=name,
                expected="the amendment that changed the same thing, or no `supersedes`",
                length=len(name),
            )

    def touch(
        self, change: ChangeFile, thing: tuple[str, str], mark: Mark, *, adds: bool = False
    ) -> None:
        """Remember who touched a thing; say so where somebody else has before.

        ``adds`` marks changes that hold beside earlier ones; the others take their place.
        """
        name = ".".join(part for part in thing if part)
        earlier = self.book.touched.setdefault(thing, [])
        end = "; both hold" if adds else "; this change wins"
        self._tell_earlier(change, earlier, name, mark, end, adds)
        earlier.append(Touch(self.origin, self.source.path, mark))

    def _tell_earlier(
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
                self._silenced.add(who)
            else:
                self.warn(
                    mark,
                    f"{name} was changed by amendment {who} already ({touch.place}){end}",
                    expected=f"`supersedes: {who}` where that is meant",
                )

    def _overrule(self, change: ChangeFile, rule: str, key: str) -> None:
        """A whole rule is withdrawn or replaced: whatever was done to it before is lost."""
        mark = change.node.key_mark(key)
        before = [
            touch
            for (thing, what), touches in self.book.touched.items()
            if thing == rule and what != key
            for touch in touches
        ]
        end = {"withdraw": "; it is withdrawn now", "replace": "; it is replaced now"}[key]
        self._tell_earlier(change, before, rule, mark, end, False)
        self.touch(change, (rule, key), mark)

    # -- one change ------------------------------------------------------------------------

    def _change(self, change: ChangeFile) -> None:
        actions = [key for key in _ACTIONS if key in change.node]
        if change.amendment:
            # Taking back another amendment's change was prepared before any was applied.
            if self._takes_back(change, actions):
                self.acted.append(
                    f"takes back what amendment {change.amendment} did to {target(change)}"
                )
            return
        if not self._sound(change, actions):
            return
        if self._is_taken_back(change):
            return
        if change.table:
            change_table(self, change)
        elif change.shared:
            change_shared(self, change)
        elif change.rule:
            self._rule(change)
        else:
            self._own(change)

    def _takes_back(self, change: ChangeFile, actions: list[str]) -> bool:
        node = change.node
        if actions == ["withdraw"] and change.withdraw and len(_named(change)) == 1:
            return True
        self.problem(
            node.key_mark("amendment"),
            "`amendment` takes back what another amendment did to a rule or table",
            found="keys " + ", ".join(node),
            expected=f"`amendment: {change.amendment}`, `rule:`, `table:` or `shared:`, and "
            "`withdraw: true`; `supersedes:` says that a change knowingly replaces another "
            "amendment's",
            length=len("amendment"),
        )
        return False

    def _is_taken_back(self, change: ChangeFile) -> bool:
        kind = kind_of(change)
        gone = [name for name in things(change) if (self.origin, kind, name) in self.skip]
        self.acted.extend(f"its change of {name} is taken back" for name in gone)
        return bool(gone)

    def _sound(self, change: ChangeFile, actions: list[str]) -> bool:
        """Whether what is done fits what it is done to; reports it where not."""
        node = change.node
        if not actions:
            self._nothing(change)
            return False
        named = _named(change)
        if len(named) > 1:
            self.problem(
                node.key_mark(named[1]),
                "one change touches one rule, one table or one shared sheet",
                found=" and ".join(f"{key} {getattr(change, key)}" for key in named),
                expected="a change for each",
            )
            return False
        fit = _FITS[named[0]] if named else (*OWN, "values", "cite")
        wrong = [key for key in actions if key not in fit]
        if wrong:
            self._misplaced(change, wrong[0], named)
            return False
        for whole, beside in _WHOLE.items():
            others = [key for key in actions if key != whole and key not in beside]
            if whole in actions and others:
                self.problem(
                    node.key_mark(others[0]),
                    f"`{whole}` leaves nothing for `{others[0]}` to change",
                    found=", ".join(actions),
                    expected=f"`{whole}` alone",
                    length=len(others[0]),
                )
                return False
        if "values" in actions and change.add is not None:
            self.problem(
                node.key_mark("values"),
                "a rule of the jurisdiction's own has its values inside it",
                found="`values` beside `add`",
                expected="`values:` below `add:`",
                length=len("values"),
            )
            return False
        return True

    def _misplaced(self, change: ChangeFile, key: str, named: list[str]) -> None:
        node = change.node
        mark, length = node.key_mark(key), len(key)
        if not named:
            what = "table" if key in OF_TABLE else "rule"
            self.problem(
                mark,
                f"`{key}` does not say which {what} it changes",
                found=key,
                expected=f"`{what}:` with its name",
                length=length,
            )
        elif key in OWN:
            self.problem(
                mark,
                f"`{key}` makes a rule of its own; it changes no {_NAMES[named[0]]}",
                found=f"`{key}` beside `{named[0]}: {getattr(change, named[0])}`",
                expected=f"a change of its own, without `{named[0]}:`",
                length=length,
            )
        else:
            other = "table" if key in OF_TABLE and key not in OF_RULE else "rule"
            self.problem(
                mark,
                f"`{key}` changes a {other}, not a {_NAMES[named[0]]}",
                found=f"`{key}` beside `{named[0]}: {getattr(change, named[0])}`",
                expected=f"`{other}:` with its name",
                length=length,
            )

    # -- rules -----------------------------------------------------------------------------

    def _rule(self, change: ChangeFile) -> None:
        draft = self._known(change)
        if draft is None:
            return
        if "withdraw" in change.node:
            self._withdraw(change, draft)
            return
        if change.replace is not None:
            self._replace(change, change.replace, draft)
            return
        self._tell_replaced(change)
        before = draft
        for name in change.values:
            draft = add_value(self, change, draft, name)
        for name, raw in change.set.items():
            draft = set_value(self, change, draft, name, raw)
        draft = self.book.sheets.lend_more(change_conditions(self, change, draft))
        if change.fails_as is not None:
            draft = self._fails_as(change, draft)
        draft = self._title(change, draft)
        if draft is not before or change.cite:
            self.finish(change, draft)

    def _known(self, change: ChangeFile) -> Draft | None:
        draft = self.book.drafts.get(change.rule)
        if draft is None:
            gone = self.book.withdrawn.get(change.rule)
            self.problem(
                change.node.value_mark("rule"),
                f"there is no rule `{change.rule}`"
                + (f" any more: amendment {gone} withdrew it" if gone else ""),
                found=change.rule,
                expected=f"a rule of {self.edition}: see `pullpoint rules list`; `editions:` "
                "limits an amendment to the editions that have its rules",
                suggestion="" if gone else nearest(change.rule, self.book.drafts) or "",
                length=len(change.rule),
            )
        return draft

    def _withdraw(self, change: ChangeFile, draft: Draft) -> None:
        if not change.withdraw:
            self._nothing(change)
            return
        self._overrule(change, draft.id, "withdraw")
        del self.book.drafts[draft.id]
        self.book.withdrawn[draft.id] = self.origin
        self.acted.append(f"withdraws {draft.id}")

    def _tell_replaced(self, change: ChangeFile) -> None:
        """What was meant for the edition's rule may not fit the one that stands in its place."""
        mark = change.node.value_mark("rule")
        others = [
            touch
            for touch in self.book.touched.get((change.rule, "replace"), [])
            if touch.who != self.origin
        ]
        end = "; this changes its replacement"
        for touch in others:
            if touch.who == change.supersedes:
                self._silenced.add(touch.who)
                continue
            self.warn(
                mark,
                f"{change.rule} was replaced by amendment {touch.who} already ({touch.place}){end}",
                expected=f"`supersedes: {touch.who}` where that is meant",
            )

    def part(self, node: Mapping, key: str) -> Part:
        """The text under a key of a change, with its place."""
        raw = node[key]
        return Part(raw, self.source, node.value_mark(key), self.origin, isinstance(raw, Quoted))

    def finish(self, change: ChangeFile, draft: Draft) -> None:
        """Keep a changed rule, which cites the change from now on."""
        old, node = draft.cite, change.node
        if change.cite:
            self.touch(change, (draft.id, "cite"), node.key_mark("cite"))
            if change.cite == old.value:
                self.warn(node.value_mark("cite"), f"{draft.id} cites that already")
            self.did.append(f"cites {change.cite}")
        cite = change.cite or self.also_cites(change, str(old.value), old.origin)
        mark = node.value_mark("cite" if change.cite else "reference")
        done = "; ".join(self.did)
        self.book.drafts[draft.id] = draft.with_(
            cite=Part(cite, self.source, mark, self.origin),
            history=(*draft.history, self.entry(change, done)),
        )
        self.acted.append(f"changes {draft.id}: {done}")

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

    def _fails_as(self, change: ChangeFile, draft: Draft) -> Draft:
        assert change.fails_as is not None
        mark = change.node.value_mark("fails_as")
        if all(case.fails_as == change.fails_as for case in draft.cases):
            self.warn(
                mark,
                f"failing {draft.id} means {change.fails_as} already; nothing changes",
                length=len(change.fails_as),
            )
            return draft
        self.touch(change, (draft.id, "fails_as"), mark)
        self.did.append(f"failing means {change.fails_as}")
        cases = tuple(replace(case, fails_as=change.fails_as) for case in draft.cases)
        return draft.with_(cases=cases, fails_as=change.fails_as, fails_as_origin=self.origin)

    def _title(self, change: ChangeFile, draft: Draft) -> Draft:
        if not change.title:
            return draft
        mark = change.node.key_mark("title")
        if change.title == draft.title.value:
            self.warn(mark, f"that is the title of {draft.id} already; nothing changes")
            return draft
        self.touch(change, (draft.id, "title"), mark)
        self.did.append("title")
        return draft.with_(title=self.part(change.node, "title"))

    def _replace(self, change: ChangeFile, file: RuleFile, draft: Draft) -> None:
        if file.rule != draft.id:
            self.problem(
                file.node.value_mark("rule"),
                "a rule is replaced under its own id",
                found=str(file.rule),
                expected=draft.id,
                length=len(str(file.rule)),
            )
            return
        self._overrule(change, draft.id, "replace")
        new = self._drafted(change, file)
        self.book.drafts[draft.id] = new.with_(
            history=(*draft.history, self.entry(change, "replaced"))
        )
        self.acted.append(f"replaces {draft.id}")

    def _drafted(self, change: ChangeFile, file: RuleFile) -> Draft:
        self.problems += unknown_editions(file, self.source, self.book.editions)
        own = file.cite.get(self.edition) or file.cite.get("any")
        cite = change.cite or own or self.words(change)
        draft = Drafter(self.source, self.edition, self.origin).draft(file, cite=cite)
        assert draft is not None
        try:
            return self.book.sheets.lend(draft, file)
        except InputError as error:
            self.problems.extend(error.problems)
            return draft

    # -- rules of its own ------------------------------------------------------------------

    def _own(self, change: ChangeFile) -> None:
        if change.add is not None and self._free(change.add.node, str(change.add.rule)):
            self._keep(change, self._drafted(change, change.add), "add", "")
        for key, file in (("forbid", change.forbid), ("require", change.require)):
            if file is None or not self._free(file.node, str(file.rule)):
                continue
            draft = methods_draft(self, change, key, file)
            if draft is not None:
                self._keep(change, draft, key, f" ({key}s {', '.join(file.methods)})")

    def _free(self, node: Mapping, name: str) -> bool:
        old = self.book.drafts.get(name)
        if old is None:
            return True
        self.problem(
            node.value_mark("rule"),
            f"there is a rule `{name}` already ({shown_path(old.file)}:{old.mark.line})",
            found=name,
            expected="another id, or `rule:` with `replace:`",
            length=len(name),
        )
        return False

    def _keep(self, change: ChangeFile, draft: Draft, key: str, more: str) -> None:
        self.touch(change, (draft.id, key), change.node.key_mark(key))
        self.book.withdrawn.pop(draft.id, None)
        done = {"add": "added", "forbid": "forbids methods", "require": "requires methods"}[key]
        self.book.drafts[draft.id] = draft.with_(history=(self.entry(change, done),))
        self.acted.append(f"adds {draft.id}{more}")


def target(change: ChangeFile) -> str:
    """The rule, table or shared sheet that a change names, or ""."""
    return change.rule or change.table or change.shared


def kind_of(change: ChangeFile) -> str:
    """`rule`, `table` or `shared`: what a change is of."""
    return next(iter(_named(change)), "rule")


def things(change: ChangeFile) -> tuple[str, ...]:
    """The names of the rules, of the table or of the sheet that a change touches."""
    if target(change):
        return (target(change),)
    held = (change.add, change.forbid, change.require)
    return tuple(str(file.rule) for file in held if file is not None)


def _named(change: ChangeFile) -> list[str]:
    """What a change names, by key."""
    return [key for key in _NAMES if getattr(change, key)]


__all__ = ["Applier", "Book", "kind_of", "target", "things"]
