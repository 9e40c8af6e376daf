"""Sheets of values, steps and formulas that several rules calculate with.

A rule that ``uses`` a sheet borrows from it what it mentions, so that one number stands in one
place.  What is borrowed keeps the place in its own file; amendments and compiling treat it as the
rule's own.
"""

from __future__ import annotations

import keyword
import os
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from checker.documents.errors import InputError, Problem, nearest
from checker.documents.nodes import Sequence
from checker.documents.source import Source
from checker.language.formulas import Formula, read_formula
from checker.language.functions import FUNCTIONS
from checker.language.parse import ExpressionError
from checker.quantities.notation import NotationError

from .book import EXAMPLES, edition_ids
from .draft import Draft, Drafter, FormulaPart, Part, StepPart, ValuePart
from .known_editions import unknown_editions
from .place import problem_in
from .reading import read_file, source_of
from .records import FormulaFile, RuleFile, SharedFile
from .values import read_value

FOLDER = "shared"
_MOST_FORMULAS = 100  # of a file; each may be as large as an expression can be
#: A name, and neither a field after its dot nor the key of a look-up before its sign.
_WORD = re.compile(r"(?<![\w.])[A-Za-z_]\w*\b(?!\s*=(?!=))")
_QUOTED = re.compile(r"'[^']*'|\"[^\"]*\"")
_BRACES = re.compile(r"\{([^{}]*)\}")


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
        formulas, problems = _formulas(drafter, file, str(file.shared), {})
        sheet = Sheet(str(file.shared), values, steps, formulas, file, source)
        problems += _names_twice(sheet)
        problems += unknown_editions(file, source, edition_ids(self.folder))
        problems += _unreadable(sheet)
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
        lent = [self._asked(draft, file, index) for index in range(len(file.uses))]
        if len(set(file.uses)) < len(file.uses):
            raise InputError(self._twice(draft, file))
        parts: dict[str, Part] = {}
        for sheet in lent:
            for name, part in sheet.parts().items():
                if name in parts or name in draft.values or name in draft.steps:
                    raise InputError(_already(draft, sheet, name, part, parts))
                parts[name] = part
        clash = next((name for name in file.formulas if name in parts), None)
        if clash is not None:
            raise InputError(
                draft.source.problem(
                    file.node["formulas"].key_mark(clash),
                    f"a shared sheet that {draft.id} uses has `{clash}` already",
                    found=clash,
                    expected="another name",
                    length=len(clash),
                )
            )
        drafter = Drafter(draft.source, self.edition, draft.fails_as_origin)
        own = [drafter.part(f, "is", f.is_) for f in file.formulas.values()]
        wanted = _mentioned([*_spoken(draft), *(str(part.value) for part in own)], parts)
        formulas = {n: v for s in lent for n, v in s.formulas.items() if n in wanted}
        known = {name: part.formula for name, part in formulas.items()}
        made, problems = _formulas(drafter, file, draft.id, known)
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
        new = _mentioned(_conditions(draft), parts) - draft.borrowed
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

    @staticmethod
    def _twice(draft: Draft, file: RuleFile) -> Problem:
        place = next(i for i, name in enumerate(file.uses) if name in file.uses[:i])
        return draft.source.problem(
            file.node["uses"].value_mark(place),
            f"rule {draft.id} uses sheet {file.uses[place]} twice",
            found=file.uses[place],
            expected="each sheet once",
            length=len(file.uses[place]),
        )

    def _asked(self, draft: Draft, file: RuleFile, index: int) -> Sheet:
        name, known = file.uses[index], self.all()
        if name in known:
            return known[name]
        raw = file.node["uses"]
        mark = file.node.value_mark("uses") if isinstance(raw, str) else raw.value_mark(index)
        raise InputError(
            draft.source.problem(
                mark,
                f"there is no shared sheet `{name}`",
                found=name,
                expected="one of " + ", ".join(known) if known else "a sheet under rules/shared",
                suggestion=nearest(name, known) or "",
                length=len(name),
            )
        )


def _formulas(
    drafter: Drafter, file: SharedFile | RuleFile, holder: str, known: Mapping[str, Formula]
) -> tuple[dict[str, FormulaPart], list[Problem]]:
    """The formulas of a file, each of which may use those before it and the ``known`` ones."""
    made: dict[str, FormulaPart] = {}
    problems: list[Problem] = []
    if len(file.formulas) > _MOST_FORMULAS:
        problem = drafter.source.problem(
            file.node.key_mark("formulas"),
            f"{holder} has too many formulas",
            found=str(len(file.formulas)),
            expected=f"{_MOST_FORMULAS} at most",
            length=len("formulas"),
        )
        return {}, [problem]
    for name, formula in file.formulas.items():
        part = drafter.part(formula, "is", formula.is_)
        named = file.node["formulas"].key_mark(name)
        before = {**known, **{n: f.formula for n, f in made.items()}}
        wrong = _parameters(drafter, name, formula, before)
        if wrong:
            problems += wrong
            continue
        try:
            read = read_formula(name, formula.of, str(part.value), before)
        except ExpressionError as error:
            where = f"formula {name}"
            problems += [problem_in(part, t, holder, where) for t in error.troubles]
            continue
        made[name] = FormulaPart(read, part, formula.note, named)
    return made, problems


def _parameters(
    drafter: Drafter, name: str, formula: FormulaFile, before: Mapping[str, Formula]
) -> list[Problem]:
    """What a formula is given has plain names of its own, which no call could be meant by."""
    raw = formula.node["of"]
    problems = []
    for index, word in enumerate(formula.of):
        reason = ""
        if not word.isidentifier() or not word.isascii() or word.startswith("_"):
            reason = "a name is letters, digits and _ , and starts with a letter"
        elif keyword.iskeyword(word):
            reason = "it is a word of the language"
        elif word in FUNCTIONS or word in before or word == name:
            reason = "it already means a function or a formula"
        elif word in formula.of[:index]:
            reason = "another parameter is called so already"
        if reason:
            mark = (
                raw.value_mark(index)
                if isinstance(raw, Sequence)
                else formula.node.value_mark("of")
            )
            problems.append(
                drafter.source.problem(
                    mark,
                    f"`{word[:60]}` cannot be a parameter of `{name}`: {reason}",
                    found=word,
                    expected="another name",
                    length=len(word),
                )
            )
    return problems


def _spoken(draft: Draft) -> list[str]:
    """The expressions of a rule; of its messages, what stands between braces."""
    found = _conditions(draft)
    found += [str(step.expression.value) for step in draft.steps.values()]
    for case in draft.cases:
        whole = (case.when, case.measure, case.limit, case.require, *(m.when for m in case.mend))
        found += [str(part.value) for part in whole if part is not None]
        said = (case.message, case.passes, *(mend.say for mend in case.mend))
        for part in said:
            found += _BRACES.findall(str(part.value)) if part is not None else []
    return found


def _conditions(draft: Draft) -> list[str]:
    """The expressions that say where a rule applies."""
    parts = [*draft.when, *(part for part, _ in draft.unless), *(part for _, part in draft.widened)]
    return [str(part.value) for part in parts]


def _mentioned(texts: list[str], shared: Mapping[str, Part]) -> set[str]:
    """The names of shared parts that expressions mention, themselves or through shared ones."""
    wanted: set[str] = set()
    todo = texts
    while todo:
        names = {name for text in todo for name in _WORD.findall(_QUOTED.sub(" ", text))}
        new = {name for name in names if name in shared} - wanted
        wanted |= new
        todo = [str(shared[name].value) for name in sorted(new)]
    return wanted


def _unreadable(sheet: Sheet) -> list[Problem]:
    """Values that cannot be read; a rule tells of its own, but no rule may mention these."""
    problems = []
    for name, value in sheet.values.items():
        try:
            read_value(value)
        except NotationError as error:
            problems.append(
                value.part.problem(
                    f"value `{name}` cannot be read",
                    found=error.found,
                    expected=error.expected,
                    suggestion=error.suggestion or "",
                    length=len(str(value.part.value)),
                )
            )
    return problems


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
