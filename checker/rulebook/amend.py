"""Applies an amendment to rules and tables: one function for each kind of change.

Nothing is ignored: a change of something that does not exist is an error; a change that changes
nothing and two amendments that touch one thing are told, with both places.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from checker.documents.errors import InputError, nearest
from checker.documents.nodes import Mapping
from checker.paths import shown_path

from .amend_conditions import change_conditions
from .amend_methods import methods_rule
from .amend_shared import change_shared
from .amend_table import change_table
from .amend_values import add_value, set_value
from .applier import Applier
from .fits import ACTIONS, kind_of, sound, takes_back, target, tell_nothing, things
from .known_editions import unknown_editions
from .records import ChangeFile
from .rule import RuleRecord

_MOST_PROBLEMS = 100  # then applying ends: nobody reads more


@dataclass(slots=True)
class Amending(Applier):
    """Applies the changes of one amendment."""

    def run(self) -> None:
        """Apply every change, in order."""
        for change in self.amendment.changes:
            if len(self.problems) >= _MOST_PROBLEMS:
                return
            told = len(self.problems) + len(self.warnings) + len(self.acted)
            self.silenced.clear()
            self.did.clear()
            self._change(change)
            if told == len(self.problems) + len(self.warnings) + len(self.acted):
                tell_nothing(self, change)
            self._idle_supersedes(change)

    def _idle_supersedes(self, change: ChangeFile) -> None:
        name = change.supersedes
        if name and name not in self.silenced and name in self.book.applied:
            self.warn(
                change.node.value_mark("supersedes"),
                f"`supersedes` is of no use: amendment {name} did not touch this before",
                found=name,
                expected="the amendment that changed the same thing, or no `supersedes`",
                length=len(name),
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
        self.tell_earlier(change, before, rule, mark, end, False)
        self.touch(change, (rule, key), mark)

    # -- one change ------------------------------------------------------------------------

    def _change(self, change: ChangeFile) -> None:
        actions = [key for key in ACTIONS if key in change.node]
        if change.amendment:
            # Taking back another amendment's change was prepared before any was applied.
            if takes_back(self, change, actions):
                self.acted.append(
                    f"takes back what amendment {change.amendment} did to {target(change)}"
                )
            return
        if not sound(self, change, actions):
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

    def _is_taken_back(self, change: ChangeFile) -> bool:
        kind = kind_of(change)
        gone = [name for name in things(change) if (self.origin, kind, name) in self.skip]
        self.acted.extend(f"its change of {name} is taken back" for name in gone)
        return bool(gone)

    # -- rules -----------------------------------------------------------------------------

    def _rule(self, change: ChangeFile) -> None:
        rule = self._known(change)
        if rule is None:
            return
        if "withdraw" in change.node:
            self._withdraw(change, rule)
            return
        if change.replace is not None:
            self._replace(change, change.replace, rule)
            return
        self._tell_replaced(change)
        before = rule
        for name in change.values:
            rule = add_value(self, change, rule, name)
        for name, raw in change.set.items():
            rule = set_value(self, change, rule, name, raw)
        rule = self.book.sheets.lend_more(change_conditions(self, change, rule))
        if change.fails_as is not None:
            rule = self._fails_as(change, rule)
        rule = self._title(change, rule)
        if rule is not before or change.cite:
            self.finish(change, rule)

    def _known(self, change: ChangeFile) -> RuleRecord | None:
        rule = self.book.rules.get(change.rule)
        if rule is None:
            gone = self.book.withdrawn.get(change.rule)
            self.problem(
                change.node.value_mark("rule"),
                f"there is no rule `{change.rule}`"
                + (f" any more: amendment {gone} withdrew it" if gone else ""),
                found=change.rule,
                expected=f"a rule of {self.edition}: see `pullpoint rules list`; `editions:` "
                "limits an amendment to the editions that have its rules",
                suggestion="" if gone else nearest(change.rule, self.book.rules) or "",
                length=len(change.rule),
            )
        return rule

    def _withdraw(self, change: ChangeFile, rule: RuleRecord) -> None:
        if not change.withdraw:
            tell_nothing(self, change)
            return
        self._overrule(change, rule.id, "withdraw")
        del self.book.rules[rule.id]
        self.book.withdrawn[rule.id] = self.origin
        self.acted.append(f"withdraws {rule.id}")

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
                self.silenced.add(touch.who)
                continue
            self.warn(
                mark,
                f"{change.rule} was replaced by amendment {touch.who} already ({touch.place}){end}",
                expected=f"`supersedes: {touch.who}` where that is meant",
            )

    def _fails_as(self, change: ChangeFile, rule: RuleRecord) -> RuleRecord:
        assert change.fails_as is not None
        mark = change.node.value_mark("fails_as")
        if all(case.fails_as == change.fails_as for case in rule.judge):
            self.warn(
                mark,
                f"failing {rule.id} means {change.fails_as} already; nothing changes",
                length=len(change.fails_as),
            )
            return rule
        self.touch(change, (rule.id, "fails_as"), mark)
        self.did.append(f"failing means {change.fails_as}")
        cases = tuple(replace(case, fails_as=change.fails_as) for case in rule.judge)
        return rule.with_(judge=cases, fails_as=change.fails_as, fails_as_origin=self.origin)

    def _title(self, change: ChangeFile, rule: RuleRecord) -> RuleRecord:
        if not change.title:
            return rule
        mark = change.node.key_mark("title")
        if change.title == rule.title:
            self.warn(mark, f"that is the title of {rule.id} already; nothing changes")
            return rule
        self.touch(change, (rule.id, "title"), mark)
        self.did.append("title")
        return rule.with_(title=self.text(change.node, "title"))

    def _replace(self, change: ChangeFile, file: Any, rule: RuleRecord) -> None:
        if file.rule != rule.id:
            self.problem(
                file.node.value_mark("rule"),
                "a rule is replaced under its own id",
                found=str(file.rule),
                expected=rule.id,
                length=len(str(file.rule)),
            )
            return
        self._overrule(change, rule.id, "replace")
        new = self._written(change, file)
        self.book.rules[rule.id] = new.with_(
            history=(*rule.history, self.entry(change, "replaced"))
        )
        self.acted.append(f"replaces {rule.id}")

    def _written(self, change: ChangeFile, file: Any) -> RuleRecord:
        """A rule that the change holds, which cites the ordinance unless it cites something."""
        self.problems += unknown_editions(file, self.source, self.book.editions)
        own = file.cites.get(self.edition) or file.cites.get("any")
        rule: RuleRecord = file.of_edition(self.edition, change.cite or own or self.words(change))
        try:
            return self.book.sheets.lend(rule)
        except InputError as error:
            self.problems.extend(error.problems)
            return rule

    # -- rules of its own ------------------------------------------------------------------

    def _own(self, change: ChangeFile) -> None:
        if change.add is not None and self._free(change.add.node, str(change.add.rule)):
            self._keep(change, self._written(change, change.add), "add", "")
        for key, file in (("forbid", change.forbid), ("require", change.require)):
            if file is None or not self._free(file.node, str(file.rule)):
                continue
            rule = methods_rule(self, change, key, file)
            if rule is not None:
                self._keep(change, rule, key, f" ({key}s {', '.join(file.methods)})")

    def _free(self, node: Mapping, name: str) -> bool:
        old = self.book.rules.get(name)
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

    def _keep(self, change: ChangeFile, rule: RuleRecord, key: str, more: str) -> None:
        self.touch(change, (rule.id, key), change.node.key_mark(key))
        self.book.withdrawn.pop(rule.id, None)
        done = {"add": "added", "forbid": "forbids methods", "require": "requires methods"}[key]
        self.book.rules[rule.id] = rule.with_(history=(self.entry(change, done),))
        self.acted.append(f"adds {rule.id}{more}")
