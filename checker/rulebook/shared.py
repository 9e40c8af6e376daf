"""Sheets of values, steps and formulas that several rules calculate with.

A rule that ``uses`` a sheet borrows from it what it mentions, so that one number stands in one
place.  What is borrowed keeps the place in its own file; amendments and compiling treat it as the
rule's own.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from checker.documents.errors import InputError, Mark, Problem, nearest
from checker.documents.nodes import Sequence
from checker.documents.source import Source
from checker.language.functions import FUNCTIONS

from .book import EXAMPLES, edition_ids
from .draft import Draft, Drafter, FormulaPart, Part, StepPart, ValuePart
from .formulas import read_formulas
from .known_editions import unknown_editions
from .mentions import conditions, mentioned, spoken
from .reading import read_file, source_of
from .records import RuleFile, SharedFile
from .values import unreadable_values

FOLDER = "shared"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet as one edition has it, with the file and the text that it was read from."""

    name: str
    values: dict[str, ValuePart]
    steps: dict[str, StepPart]
    formulas: dict[str, FormulaPart]
    file: SharedFile
    source: Source

    def parts(self) -> dict[str, Part]:
        """Every part by its name."""
        found = {name: value.part for name, value in self.values.items()}
        found |= {name: step.expression for name, step in self.steps.items()}
        return found | {name: formula.expression for name, formula in self.formulas.items()}


def sheet_files(folder: str) -> list[str]:
    """The files of the sheets of a rules folder, in order."""
    where = os.path.join(folder, FOLDER)
    if not os.path.isdir(where):
        return []
    names = sorted(os.listdir(where))
    return [
        os.path.join(where, name)
        for name in names
        if name.endswith(".yaml") and not name.endswith(EXAMPLES)
    ]


@dataclass(slots=True)
class Sheets:
    """The sheets of a rules folder as one edition has them, read when a rule uses one."""

    folder: str
    edition: str
    short: str
    _read: dict[str, Sheet] | None = field(default=None, repr=False)

    def all(self) -> Mapping[str, Sheet]:
        """Every sheet by name.  Raises InputError with what is wrong with any."""
        if self._read is None:
            problems: list[Problem] = []
            found: dict[str, Sheet] = {}
            for path in sheet_files(self.folder):
                try:
                    sheet = self._sheet(path)
                except InputError as error:
                    problems.extend(error.problems)
                    continue
                if sheet.name in found:
                    problems.append(
                        sheet.source.problem(
                            sheet.file.node.value_mark("shared"),
                            f"two sheets are called `{sheet.name}`",
                            found=f"also in {found[sheet.name].source.path}",
                            expected="a name of its own",
                            length=len(sheet.name),
                        )
                    )
                found[sheet.name] = sheet
            if problems:
                raise InputError(problems)
            self._read = found
        return self._read

    def _sheet(self, path: str) -> Sheet:
        source = source_of(path)
        file: SharedFile = read_file(SharedFile, source, "a shared sheet")
        drafter = Drafter(source, self.edition, f"{self.short}, shared {file.shared}")
        values = drafter.values(file.values, file.node.get("values"))
        steps = drafter.steps(file.steps, file.node.get("steps"))
        formulas, problems = read_formulas(drafter, file, f"sheet {file.shared}", {})
        sheet = Sheet(str(file.shared), values, steps, formulas, file, source)
        problems += _names_twice(sheet)
        problems += unknown_editions(file, source, edition_ids(self.folder))
        problems += unreadable_values(values)
        if problems:
            raise InputError(problems)
        return sheet

    def change(self, sheet: Sheet, name: str, value: ValuePart) -> Sheet:
        """The sheet with another value, which rules borrow from now on."""
        changed = replace(sheet, values={**sheet.values, name: value})
        self._read = {**self.all(), sheet.name: changed}
        return changed

    def lend(self, draft: Draft, file: RuleFile) -> Draft:
        """The rule with what it uses of its sheets.  Raises InputError."""
        if not file.uses and not file.formulas:
            return draft
        lent = self._asked(draft, file)
        parts = _parts_of(draft, file, lent)
        drafter = Drafter(draft.source, self.edition, draft.fails_as_origin)
        own = [str(formula.is_) for formula in file.formulas.values()]
        wanted = mentioned([*spoken(draft), *own], parts)
        formulas = {n: v for s in lent for n, v in s.formulas.items() if n in wanted}
        known = {name: part.formula for name, part in formulas.items()}
        made, problems = read_formulas(drafter, file, f"rule {draft.id}", known)
        if problems:
            raise InputError(problems)
        values = {n: v for s in lent for n, v in s.values.items() if n in wanted}
        steps = {n: v for s in lent for n, v in s.steps.items() if n in wanted}
        return draft.with_(
            values={**values, **draft.values},
            steps={**steps, **draft.steps},
            formulas={**formulas, **made},
            uses=tuple(sheet.name for sheet in lent),
            borrowed=frozenset(wanted),
        )

    def lend_more(self, draft: Draft) -> Draft:
        """The rule with what its conditions, as amended, mention of its sheets as well."""
        lent = [self.all()[name] for name in draft.uses]
        own = {*draft.values, *draft.steps, *draft.formulas} - draft.borrowed
        parts = {n: p for sheet in lent for n, p in sheet.parts().items() if n not in own}
        new = mentioned(conditions(draft), parts) - draft.borrowed
        if not new:
            return draft
        values = {n: v for s in lent for n, v in s.values.items() if n in new}
        formulas = {n: v for s in lent for n, v in s.formulas.items() if n in new}
        borrowed = draft.borrowed | new
        # Those of the sheets come first, in the order that they have there.
        steps = {n: v for s in lent for n, v in s.steps.items() if n in borrowed}
        return draft.with_(
            values={**values, **draft.values},
            steps={**steps, **draft.steps},
            formulas={**formulas, **draft.formulas},
            borrowed=borrowed,
        )

    def holder(self, draft: Draft, name: str) -> str:
        """The sheet that a rule uses and that has the name, or ""."""
        return next((s for s in draft.uses if name in self.all()[s].parts()), "")

    def _asked(self, draft: Draft, file: RuleFile) -> list[Sheet]:
        """The sheets that a rule uses, each of which there is, and once."""
        known = self.all()
        for place, name in enumerate(file.uses):
            if name in known and name not in file.uses[:place]:
                continue
            message, expected = f"rule {draft.id} uses sheet {name} twice", "each sheet once"
            if name not in known:
                message = f"there is no shared sheet `{name}`"
                expected = "one of " + ", ".join(known) if known else "a sheet under rules/shared"
            raw = file.node["uses"]
            listed = isinstance(raw, Sequence)
            mark: Mark = raw.value_mark(place) if listed else file.node.value_mark("uses")
            close = "" if name in known else nearest(name, known) or ""
            raise InputError(
                draft.source.problem(
                    mark,
                    message,
                    found=name,
                    expected=expected,
                    suggestion=close,
                    length=len(name),
                )
            )
        return [known[name] for name in file.uses]


def _parts_of(draft: Draft, file: RuleFile, lent: list[Sheet]) -> dict[str, Part]:
    """The parts of the sheets that a rule uses, which name nothing alike.  Raises InputError."""
    parts: dict[str, Part] = {}
    for sheet in lent:
        for name, part in sheet.parts().items():
            if name in parts or name in draft.values or name in draft.steps:
                raise InputError(_already(draft, sheet, name, part, parts))
            parts[name] = part
    for name in file.formulas:
        if name in parts:
            raise InputError(
                draft.source.problem(
                    file.node["formulas"].key_mark(name),
                    f"a shared sheet that {draft.id} uses has `{name}` already",
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
                        part.named or sheet.file.node.mark,
                        f"`{name}` already means something in sheet {sheet.name}",
                        found=f"{name} under `{key}:`",
                        expected="another name",
                        length=len(name),
                    )
                )
            seen.add(name)
    return problems


def _already(
    draft: Draft, sheet: Sheet, name: str, part: Part, earlier: Mapping[str, Part]
) -> Problem:
    """A name that a rule gives itself, or that two of its sheets give."""
    if name in earlier:
        return part.problem(
            f"rule {draft.id} uses two sheets that both have `{name}`",
            found=f"`{name}` of {sheet.name}",
            expected="names of their own",
        )
    value, step = draft.values.get(name), draft.steps.get(name)
    own = value.part if value is not None else step.expression if step is not None else part
    named = value.named if value is not None else step.named if step is not None else None
    return own.source.problem(
        named or own.mark,
        f"`{name}` of rule {draft.id} stands in sheet {sheet.name} already",
        found=name,
        expected=f"no such line here, since the rule uses {sheet.name}; or another name",
        length=len(name),
    )


__all__ = ["FOLDER", "Sheet", "Sheets", "sheet_files"]
