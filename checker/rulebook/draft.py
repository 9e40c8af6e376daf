"""A rule as its parts, each with its place and its origin, before it is compiled.

Editions and amendments work on drafts: they replace parts, and every part remembers which file
and which amendment it comes from.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from checker.documents.digest import sha256
from checker.documents.errors import Mark, Problem
from checker.documents.nodes import Quoted, Sequence
from checker.documents.source import Source
from checker.language.formulas import Formula

from .records import RuleFile, StepFile, ValueFile


@dataclass(frozen=True, slots=True, eq=False)
class Part:
    """A piece of a rule: its text (or any plain value), where it stands, and whence it comes."""

    value: Any
    source: Source
    mark: Mark
    origin: str
    quoted: bool = False

    def problem(self, message: str, **more: Any) -> Problem:
        """A problem at this part."""
        return self.source.problem(self.mark, message, **more)


@dataclass(frozen=True, slots=True)
class ValuePart:
    """A value of a rule: what it is, how it is read, and by whom it was set.

    named: where its name stands.
    """

    part: Part
    as_: str | None
    cite: str
    note: str
    named: Mark | None = None


@dataclass(frozen=True, slots=True)
class StepPart:
    """A step of a rule.  named: where its name stands; unit_at: where its unit does."""

    expression: Part
    unit: str
    note: str
    named: Mark | None = None
    unit_at: Mark | None = None


@dataclass(frozen=True, slots=True)
class FormulaPart:
    """A formula of a shared sheet.  named: where its name stands."""

    formula: Formula
    expression: Part
    note: str
    named: Mark | None = None


@dataclass(frozen=True, slots=True)
class MendPart:
    """One way to put a failing element right.

    of: the elements that it changes, None for the one that is checked; set: their new values by
    field; check: ids of the rules that it may make fail.
    """

    when: Part | None
    say: Part
    of: Part | None = None
    set: dict[str, Part] = field(default_factory=dict)
    check: tuple[str, ...] = ()

    def conditions(self) -> list[tuple[str, Part]]:
        """Its expressions, each with the key that it stands under."""
        found = [("when", self.when), ("of", self.of)]
        found += [(f"set.{name}", part) for name, part in self.set.items()]
        return [(name, part) for name, part in found if part is not None]


@dataclass(frozen=True, slots=True)
class CasePart:
    """One case of the judgement.  unit_at: where its unit stands."""

    when: Part | None
    measure: Part
    limit: Part
    at_least: bool
    unit: str
    require: Part | None
    fails_as: str
    message: Part
    passes: Part | None
    mend: tuple[MendPart, ...]
    unit_at: Mark | None = None


@dataclass(frozen=True, slots=True)
class Draft:
    """A whole rule in parts.

    history: what amendments did to it, in order.  unless: exceptions, each with its words.
    widened: (n, condition) where the rule applies as well, whatever the first n of ``when`` say.
    base_cite: ``cite`` before any amendment; sections: how findings cite (a ``SectionsFile``).
    reworked: whether an amendment put other conditions in place of the rule's own; at_mark: where
    ``at`` is written.  uses: shared sheets; borrowed: what comes from them; formulas: theirs.
    detail: the kind of detail whose absence it reports.
    """

    id: str
    title: Part
    topic: str
    classes: tuple[str, ...]
    why: str
    note: str
    at: str
    when: tuple[Part, ...]
    values: dict[str, ValuePart]
    steps: dict[str, StepPart]
    cases: tuple[CasePart, ...]
    fails_as: str
    fails_as_origin: str
    cite: Part
    cites: dict[str, str]
    sources: tuple[str, ...]
    effective: str | None
    status: str
    file: str
    source: Source
    mark: Mark
    examples: tuple[Any, ...] = ()
    sample: Any = None
    history: tuple[str, ...] = ()
    unless: tuple[tuple[Part, str], ...] = ()
    widened: tuple[tuple[int, Part], ...] = ()
    reworked: bool = False
    at_mark: Mark | None = None
    uses: tuple[str, ...] = ()
    borrowed: frozenset[str] = frozenset()
    formulas: dict[str, FormulaPart] = field(default_factory=dict)
    detail: str = ""
    sections: Part | None = None
    base_cite: str = ""

    def with_(self, **changes: Any) -> Draft:
        """A copy with some parts replaced."""
        return replace(self, **changes)

    def parts(self) -> list[tuple[str, Part]]:
        """Every part with the path that names it, in a fixed order."""
        found: list[tuple[str, Part]] = [("title", self.title), ("cite", self.cite)]
        found += [(f"when[{i}]", p) for i, p in enumerate(self.when)]
        found += [(f"exception[{i}]", p) for i, (p, _) in enumerate(self.unless)]
        found += [(f"also[{i}]", p) for i, (_, p) in enumerate(self.widened)]
        found += [(f"values.{name}", v.part) for name, v in self.values.items()]
        found += [(f"steps.{name}", s.expression) for name, s in self.steps.items()]
        found += [(f"formulas.{f.formula.usage}", f.expression) for f in self.formulas.values()]
        for i, case in enumerate(self.cases):
            for name in ("when", "measure", "limit", "require", "message", "passes"):
                part = getattr(case, name)
                if part is not None:
                    found.append((f"judge[{i}].{name}", part))
            for j, mend in enumerate(case.mend):
                found += [(f"judge[{i}].mend[{j}].{key}", p) for key, p in mend.conditions()]
                found.append((f"judge[{i}].mend[{j}]", mend.say))
        return found

    @property
    def digest(self) -> str:
        """A fingerprint of everything that decides findings and what they say."""
        total = sha256()
        facts = (self.id, self.classes, self.at, self.fails_as, self.effective, self.status)
        total.update(repr(facts).encode())
        if self.detail:
            total.update(f"detail {self.detail}\n".encode())
        for path, part in self.parts():
            total.update(f"{path}={plain_text(part.value)}\n".encode())
        for name, value in self.values.items():
            total.update(f"{name}:{value.as_}:{value.cite}\n".encode())
        for name, step in self.steps.items():
            total.update(f"{name} in {step.unit}\n".encode())
        for place, _ in self.widened:
            total.update(f"also {place}\n".encode())
        if self.sections is not None:
            asked = self.sections.value
            words = (asked.of, asked.table, asked.column, asked.besides)
            total.update(f"sections {words}\n".encode())
        for _, note in self.unless:
            total.update(f"exception {note}\n".encode())
        for case in self.cases:
            total.update(f"{case.at_least}{case.unit}{case.fails_as}\n".encode())
        return "sha256:" + total.hexdigest()


def plain_text(value: Any) -> str:
    """A part's value as text, lists item by item."""
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(plain_text(v) for v in value) + "]"
    return str(value)


@dataclass(slots=True)
class Drafter:
    """Makes drafts from rule files of one source."""

    source: Source
    edition: str
    origin: str
    problems: list[Problem] = field(default_factory=list)

    def part(self, record: Any, key: str, value: Any, index: int | None = None) -> Part:
        """The part under ``key`` of a record."""
        node = record.node
        mark = node.value_mark(key)
        raw = node[key]
        if index is not None and isinstance(raw, Sequence):
            mark, raw = raw.value_mark(index), raw[index]
        return Part(value, self.source, mark, self.origin, isinstance(raw, Quoted))

    def draft(self, file: RuleFile, *, cite: str | None = None) -> Draft | None:
        """The rule as the edition has it; None where the edition has no such requirement.

        ``cite`` stands in for the edition's citation (an amendment's own rule cites its ordinance).
        """
        citation = file.cite.get(self.edition) or file.cite.get("any") if file.cite else None
        if cite is not None:
            citation = cite
        if citation is None:
            return None
        return Draft(
            id=file.rule,
            title=self.part(file, "title", file.title),
            topic=file.topic,
            classes=file.each,
            why=file.why,
            note=file.note,
            at=file.at,
            detail=file.detail or "",
            when=tuple(self.part(file, "when", text, i) for i, text in enumerate(file.when)),
            values=self.values(file.values, file.node.get("values")),
            steps=self.steps(file.steps, file.node.get("steps")),
            cases=tuple(self._case(case, file.fails_as) for case in file.judge),
            fails_as=file.fails_as,
            fails_as_origin=self.origin,
            cite=Part(
                citation,
                self.source,
                file.node.value_mark("cite") if "cite" in file.node else file.node.mark,
                self.origin,
            ),
            cites=dict(file.cite or {}),
            sources=file.sources,
            effective=file.effective,
            status=file.status,
            file=self.source.path,
            source=self.source,
            mark=file.node.mark,
            examples=file.examples,
            sample=file.sample,
            at_mark=file.node.value_mark("at") if "at" in file.node else None,
            sections=(
                None if file.sections is None else self.part(file, "sections", file.sections)
            ),
            base_cite=citation,
        )

    def values(self, files: dict[str, ValueFile], node: Any) -> dict[str, ValuePart]:
        """Named constants, each as the edition has it; ``node`` is the mapping of their names."""
        values = {}
        for name, value in files.items():
            own = value.node
            raw, mark = value.is_, own.value_mark("is")
            if self.edition in value.in_:
                raw, mark = value.in_[self.edition], own["in"].value_mark(self.edition)
            part = Part(raw, self.source, mark, self.origin, isinstance(raw, Quoted))
            named = node.key_mark(name)
            values[name] = ValuePart(part, value.as_, value.cite, value.note, named)
        return values

    def steps(self, files: dict[str, StepFile], node: Any) -> dict[str, StepPart]:
        """Intermediate results; ``node`` is the mapping of their names."""
        return {
            name: StepPart(
                self.part(step, "is", step.is_),
                step.unit,
                step.note,
                node.key_mark(name),
                step.node.value_mark("unit") if step.unit else None,
            )
            for name, step in files.items()
        }

    def _case(self, case: Any, fails_as: str) -> CasePart:
        def part(key: str) -> Part | None:
            value = getattr(case, key)
            return None if value is None else self.part(case, key, value)

        measure, limit, message = part("measure"), part("limit"), part("message")
        assert measure is not None
        assert limit is not None
        assert message is not None
        return CasePart(
            when=part("when"),
            measure=measure,
            limit=limit,
            at_least=case.at_least,
            unit=case.unit,
            require=part("require"),
            fails_as=case.fails_as or fails_as,
            message=message,
            passes=part("passes"),
            mend=tuple(self._mend(mend) for mend in case.mend),
            unit_at=case.node.value_mark("unit") if case.unit else None,
        )

    def _mend(self, mend: Any) -> MendPart:
        new: Any = mend.node["set"] if mend.set else {}
        return MendPart(
            None if mend.when is None else self.part(mend, "when", mend.when),
            self.part(mend, "say", mend.say),
            None if mend.of is None else self.part(mend, "of", mend.of),
            {
                name: Part(text, self.source, new.value_mark(name), self.origin)
                for name, text in mend.set.items()
            },
            mend.check,
        )
