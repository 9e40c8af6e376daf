"""Sheets of values, steps and formulas that several rules calculate with.

A rule that ``uses`` a sheet borrows from it what it mentions, so that one number stands in one
place.  What is borrowed keeps the place in its own file; amendments and compiling treat it as the
rule's own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, ClassVar

from checker.documents.errors import InputError, Mark, Problem, nearest
from checker.documents.loader import load
from checker.documents.nodes import Sequence as Listed
from checker.documents.source import Source
from checker.language.functions import FUNCTIONS

from .folder import RulesFolder
from .formulas import read_formulas
from .known_editions import unknown_editions
from .mentions import conditions, mentioned, spoken
from .part import Part
from .reading import read_document
from .records import SharedFile
from .rule import RULE_RECORDS, RuleRecord, settle
from .rule_parts import FormulaRecord, Step, Value
from .values import unreadable_values
from .written import plain_steps


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Sheet(SharedFile):
    """A sheet as one edition has it.  source: its file."""

    CALLED: ClassVar[str] = "SharedFile"

    source: Source
    if TYPE_CHECKING:
        values: dict[str, Value]  # type: ignore[assignment]
        steps: dict[str, Step]  # type: ignore[assignment]
        formulas: dict[str, FormulaRecord]  # type: ignore[assignment]

    @property
    def name(self) -> str:
        """The sheet's id."""
        return self.shared

    def parts(self) -> dict[str, Part]:
        """Every part by its name."""
        found: dict[str, Part] = {name: value.part for name, value in self.values.items()}
        found |= {name: step.is_ for name, step in self.steps.items()}
        return found | {name: formula.is_ for name, formula in self.formulas.items()}


def read_sheet(source: Source, edition: str, short: str, editions: Sequence[str]) -> Sheet:
    """A sheet as an edition has it.  Raises InputError with everything that is wrong with it."""
    file: Sheet = read_document(Sheet, load(source), "a shared sheet", RULE_RECORDS)
    settle(file, source, f"{short}, shared {file.shared}")
    values = {name: value.of_edition(edition) for name, value in file.values.items()}
    formulas, problems = read_formulas(file, source, f"sheet {file.shared}", {})
    fields = {name: getattr(file, name) for name in ("node", "shared", "title", "note", "sources")}
    sheet = Sheet(
        **fields, steps=plain_steps(file.steps), values=values, formulas=formulas, source=source
    )
    problems += _names_twice(sheet)
    problems += unknown_editions(file, source, editions)
    problems += unreadable_values(values)
    if problems:
        raise InputError(problems)
    return sheet


@dataclass(slots=True)
class Sheets:
    """The sheets of a rules folder as one edition has them, read when a rule uses one."""

    folder: RulesFolder
    edition: str
    short: str
    _known: dict[str, Sheet] | None = field(default=None, repr=False)
    _of: Sheets | None = field(default=None, repr=False)

    def all(self) -> dict[str, Sheet]:
        """Every sheet by name, as amended so far.  Raises InputError."""
        if self._known is None:
            self._known = self._read() if self._of is None else self._of.all()
        return self._known

    def _read(self) -> dict[str, Sheet]:
        problems: list[Problem] = []
        found: dict[str, Sheet] = {}
        editions = self.folder.editions()
        for path in self.folder.sheets():
            try:
                sheet = read_sheet(self.folder.source(path), self.edition, self.short, editions)
            except InputError as error:
                problems.extend(error.problems)
                continue
            if sheet.name in found:
                problems.append(
                    sheet.source.problem(
                        sheet.node.value_mark("shared"),
                        f"two sheets are called `{sheet.name}`",
                        found=f"also in {found[sheet.name].source.path}",
                        expected="a name of its own",
                        length=len(sheet.name),
                    )
                )
            found[sheet.name] = sheet
        if problems:
            raise InputError(problems)
        return found

    def copy(self) -> Sheets:
        """Sheets that can be changed apart from these."""
        return replace(self, _of=self)

    def change(self, sheet: Sheet, name: str, value: Value) -> Sheet:
        """The sheet with another value, which rules borrow from now on."""
        changed = replace(sheet, values={**sheet.values, name: value})
        self._known = {**self.all(), sheet.name: changed}
        return changed

    def lend(self, rule: RuleRecord) -> RuleRecord:
        """A rule as it was read, with what it uses of its sheets.  Raises InputError."""
        if not rule.uses and not rule.formulas:
            return rule
        lent = self._asked(rule)
        parts = _parts_of(rule, lent)
        own = [str(formula.is_) for formula in rule.formulas.values()]
        wanted = mentioned([*spoken(rule), *own], parts)
        formulas = {n: v for s in lent for n, v in s.formulas.items() if n in wanted}
        known = {name: part.formula for name, part in formulas.items()}
        made, problems = read_formulas(rule, rule.source, f"rule {rule.id}", known)
        if problems:
            raise InputError(problems)
        values = {n: v for s in lent for n, v in s.values.items() if n in wanted}
        steps = {n: v for s in lent for n, v in s.steps.items() if n in wanted}
        return rule.with_(
            values={**values, **rule.values},
            steps={**steps, **rule.steps},
            formulas={**formulas, **made},
            borrowed=frozenset(wanted),
        )

    def lend_more(self, rule: RuleRecord) -> RuleRecord:
        """The rule with what its conditions, as amended, mention of its sheets as well."""
        lent = [self.all()[name] for name in rule.uses]
        own = {*rule.values, *rule.steps, *rule.formulas} - rule.borrowed
        parts = {n: p for sheet in lent for n, p in sheet.parts().items() if n not in own}
        new = mentioned(conditions(rule), parts) - rule.borrowed
        if not new:
            return rule
        values = {n: v for s in lent for n, v in s.values.items() if n in new}
        formulas = {n: v for s in lent for n, v in s.formulas.items() if n in new}
        borrowed = rule.borrowed | new
        # Those of the sheets come first, in the order that they have there.
        steps = {n: v for s in lent for n, v in s.steps.items() if n in borrowed}
        return rule.with_(
            values={**values, **rule.values},
            steps={**steps, **rule.steps},
            formulas={**formulas, **rule.formulas},
            borrowed=borrowed,
        )

    def holder(self, rule: RuleRecord, name: str) -> str:
        """The sheet that a rule uses and that has the name, or ""."""
        return next((s for s in rule.uses if name in self.all()[s].parts()), "")

    def _asked(self, rule: RuleRecord) -> list[Sheet]:
        """The sheets that a rule uses, each of which there is, and once."""
        known = self.all()
        for place, name in enumerate(rule.uses):
            if name in known and name not in rule.uses[:place]:
                continue
            message, expected = f"rule {rule.id} uses sheet {name} twice", "each sheet once"
            if name not in known:
                message = f"there is no shared sheet `{name}`"
                expected = "one of " + ", ".join(known) if known else "a sheet under rules/shared"
            raw = rule.node["uses"]
            listed = isinstance(raw, Listed)
            mark: Mark = raw.value_mark(place) if listed else rule.node.value_mark("uses")
            close = "" if name in known else nearest(name, known) or ""
            raise InputError(
                rule.source.problem(
                    mark,
                    message,
                    found=name,
                    expected=expected,
                    suggestion=close,
                    length=len(name),
                )
            )
        return [known[name] for name in rule.uses]


def _parts_of(rule: RuleRecord, lent: list[Sheet]) -> dict[str, Part]:
    """The parts of the sheets that a rule uses, which name nothing alike.  Raises InputError."""
    parts: dict[str, Part] = {}
    for sheet in lent:
        for name, part in sheet.parts().items():
            if name in parts or name in rule.values or name in rule.steps:
                raise InputError(_already(rule, sheet, name, part, parts))
            parts[name] = part
    for name in rule.formulas:
        if name in parts:
            raise InputError(
                rule.source.problem(
                    rule.node["formulas"].key_mark(name),
                    f"a shared sheet that {rule.id} uses has `{name}` already",
                    found=name,
                    expected="another name",
                    length=len(name),
                )
            )
    return parts


def _names_twice(sheet: Sheet) -> list[Problem]:
    """Names that a sheet gives twice, or that mean something already."""
    problems = []
    groups: list[tuple[str, dict[str, Any]]] = [
        ("values", sheet.values), ("steps", sheet.steps), ("formulas", sheet.formulas),
    ]  # fmt: skip
    seen: set[str] = set(FUNCTIONS)
    for key, group in groups:
        for name, part in group.items():
            if name in seen:
                problems.append(
                    sheet.source.problem(
                        part.named,
                        f"`{name}` already means something in sheet {sheet.name}",
                        found=f"{name} under `{key}:`",
                        expected="another name",
                        length=len(name),
                    )
                )
            seen.add(name)
    return problems


def _already(
    rule: RuleRecord, sheet: Sheet, name: str, part: Part, earlier: Mapping[str, Part]
) -> Problem:
    """A name that a rule gives itself, or that two of its sheets give."""
    if name in earlier:
        return part.problem(
            f"rule {rule.id} uses two sheets that both have `{name}`",
            found=f"`{name}` of {sheet.name}",
            expected="names of their own",
        )
    own = rule.values.get(name) or rule.steps[name]
    return rule.source.problem(
        own.named or rule.mark,
        f"`{name}` of rule {rule.id} stands in sheet {sheet.name} already",
        found=name,
        expected=f"no such line here, since the rule uses {sheet.name}; or another name",
        length=len(name),
    )
