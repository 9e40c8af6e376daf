"""Compiles a record: checks every expression, then builds one fast function for each subject class.

The function takes the subject and the assembly and gives a plain tuple; see ``Rule.fast``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from checker.assembly.records import CLASSES, SUBJECTS
from checker.documents.errors import InputError, Mark, Problem, nearest
from checker.documents.fields import given_fields
from checker.language.check import check
from checker.language.checked import Checked, Template, unsound
from checker.language.checking.words import a_kind, is_zero
from checker.language.formulas import free_names
from checker.language.functions import FUNCTIONS
from checker.language.nodes import Name
from checker.language.parse import ExpressionError, Trouble, one_line
from checker.language.template import read_template
from checker.language.types import (
    ANYTHING,
    Anything,
    Flag,
    List,
    Number,
    Type,
    Vocabulary,
    has_order,
    same_kind,
    sized,
)
from checker.language.types import (
    Record as Element,
)
from checker.quantities.notation import NotationError

from .code import every_checked, needed, with_code
from .forms import Case, Fix, Form, Step, Value
from .joining import either, keeping
from .part import Part
from .place import problem_in
from .rule import RuleRecord
from .rule_parts import Case as CaseRecord
from .rule_parts import Fix as FixRecord
from .rule_parts import Value as ValueRecord
from .values import bare, no_name, read_value, unreadable
from .vocabulary import SubjectClass, type_of
from .whole import pointed, too_much, unit_problem, unreached, unused

_MOST = 60  # characters of a name in messages


@dataclass(slots=True)
class _Compiler:
    record: RuleRecord
    vocabulary: Vocabulary
    subject: SubjectClass
    problems: list[Problem] = field(default_factory=list)
    values: dict[str, Value] = field(default_factory=dict)
    names: dict[str, Type] = field(default_factory=dict)
    used: set[str] = field(default_factory=set)
    units: dict[str, str] = field(default_factory=dict)
    current: str = ""

    def run(self, *, code: bool) -> Form:
        record = self.record
        too_much(record)
        self.problems += pointed(record)
        self.names = dict(self.subject.names)
        for name, part in record.values.items():
            self._value(name, part)
        self._formulas()
        when = self._when()
        # Conditions come before the steps in the calculation, so they cannot use them.
        unless = tuple((self._flag(part, "exception"), note) for part, note in record.unless)
        steps = [self._step(name) for name in record.steps]
        cases = [self._case(case) for case in record.cases]
        self.problems += [*unused(record, self.used), *unreached(record)]
        if self.problems:
            raise InputError(self.problems)
        form = Form(
            subject=self.subject.name,
            when=when,
            unless=unless,
            values=self.values,
            steps=tuple(steps),
            cases=tuple(cases),
            fast=None,
            applies=None,
            needs={},
            reads=frozenset(),
            tables=frozenset(),
        )
        every = every_checked(form)
        form = replace(
            form,
            cases=tuple(_closed(form, case) for case in cases),
            reads=frozenset(f for c in every for f in c.fields),
            tables=frozenset(t for c in every for t, _ in c.tables),
        )
        return with_code(form, self.vocabulary) if code else form

    def _when(self) -> tuple[Checked, ...]:
        """The conditions, those that an amendment widened joined to one with their alternatives."""
        parts = [self._flag(part, "applies") for part in self.record.when]
        done: list[Checked] = []
        start = 0
        for place, part in self.record.widened:
            done += parts[start:place]
            start = place
            other = self._flag(part, "widen")
            done = [either(done, other)] if done else []
        return (*done, *parts[start:])

    # -- reading parts ---------------------------------------------------------------------

    def _value(self, name: str, part: ValueRecord) -> None:
        if not self._free(name, part.part, part.named):
            return
        try:
            value, kind, text = read_value(part)
        except NotationError as error:
            self.problems.append(unreadable(name, part, error, self._likely(name, part)))
            value, kind, text = None, ANYTHING, ""
        self.values[name] = Value(name, value, kind, text, part.cite)
        self.names[name] = sized(kind, value)

    def _formulas(self) -> None:
        """Let expressions use the formulas of the shared sheets that the rule borrows from."""
        formulas = self.record.formulas
        if not formulas:
            return
        for name, part in formulas.items():
            self._free(name, part.expression, part.named)
        self.vocabulary = replace(
            self.vocabulary, formulas={name: part.formula for name, part in formulas.items()}
        )
        known = {*self.names, *self.record.steps, *FUNCTIONS, *self.vocabulary.tables}
        for name, part in formulas.items():
            text = one_line(str(part.expression.value))
            for word in sorted(free_names(part.formula) - known - formulas.keys()):
                found = re.search(rf"\b{word}\b", text)
                message = f"nothing here is called `{word}`"
                expected = "a parameter, a value or step of the sheet, a function or a table"
                place = found.start() if found else 0
                trouble = Trouble(place, len(word), message, word, expected)
                where = f"formula {name}"
                self.problems.append(
                    problem_in(part.expression, trouble, f"rule {self.record.id}", where)
                )

    def _likely(self, name: str, part: ValueRecord) -> str:
        """A bare number with the unit of the case that has it for its limit."""
        raw = part.part.value
        for case in self.record.cases:
            named = (str(case.limit.value).strip(), str(case.measure.value).strip())
            if name in named and case.unit and isinstance(raw, str) and bare(raw):
                return f"{raw} {case.unit}"
        return ""

    def _free(self, name: str, part: Part, named: Mark | None) -> bool:
        """Whether a name may be given; it must be a plain word that means nothing else."""
        reason = no_name(name) or self._taken(name)
        if reason:
            self.problems.append(
                part.source.problem(
                    named or part.mark,
                    f"`{name[:_MOST]}` cannot be a name here: {reason}",
                    found=name,
                    expected="another name",
                    length=len(name),
                )
            )
            self.names.setdefault(name, ANYTHING)
            self.used.add(name)
        return not reason

    def _taken(self, name: str) -> str:
        """What a name means already, or ""."""
        if name in self.subject.names or name in FUNCTIONS or name in self.vocabulary.tables:
            return "it already means an element, a function or a table"
        if name in self.names:
            return "a value or step of this rule is called so already"
        if name in self.vocabulary.formulas:
            return "a formula of this rule is called so already"
        if name in self.vocabulary.records[self.subject.name]:
            return f"it is also a field of {self.subject.name}; readers would mix them up"
        return "it is a word of the language" if name in ("measure", "limit") else ""

    def _check(self, part: Part, where: str) -> Checked:
        try:
            done = check(str(part.value), self.names, self.vocabulary, self._elsewhere)
        except ExpressionError as error:
            for trouble in error.troubles:
                self.problems.append(problem_in(part, trouble, f"rule {self.record.id}", where))
            self._mentioned(part)
            return unsound(str(part.value))
        self.used |= done.uses
        return done

    def _mentioned(self, part: Part) -> None:
        """What a text with a mistake mentions counts as used: one mistake is reported once."""
        self.used.update(re.findall(r"[A-Za-z]\w*", str(part.value)))

    def _elsewhere(self, name: str) -> tuple[str, str, str] | None:
        """Why a name of the rule means nothing in the expression at hand; see ``check``."""
        if name == self.current:
            return f"step `{name}` is calculated from itself", "values, fields, earlier steps", ""
        if name in self.record.steps:
            if not self.current:
                return (
                    f"`{name}` is a step, and conditions are looked at before any step",
                    "values and fields; or the condition as `when:` of a case under `judge:`",
                    "",
                )
            return (
                f"step `{name}` is defined further down",
                f"the steps in the order of the calculation: `{name}` above this one",
                "",
            )
        if name in ("measure", "limit"):
            return f"`{name}` is known in messages only", "the step or field that it stands for", ""
        own = self.subject.name
        if name in self.vocabulary.records[own]:
            whole = f"{own}.{name}"
            return f"`{name}` is a field of the {own}", whole, whole
        if name in SUBJECTS:
            every = f"one after the other, as in any(x.… for x in assembly.{SUBJECTS[name]})"
            return f"this rule looks at one {own} at a time; there is no `{name}` here", (
                f"{own} and its fields, or {every}"
            ), ""  # fmt: skip
        return None

    def _flag(self, part: Part, where: str) -> Checked:
        done = self._check(part, where)
        if not isinstance(done.kind, (Flag, Anything)):
            text, kind = str(part.value), done.kind
            hint = "a comparison"
            if isinstance(kind, Number):
                hint = f"a comparison, such as {text[:60]} > 0"
            elif isinstance(kind, List):
                hint = f"a comparison, such as count({text[:60]}) > 0"
            self.problems.append(
                part.problem(
                    f"`{where}` of rule {self.record.id} takes a yes-or-no expression",
                    found=f"`{text}` is {a_kind(kind)}",
                    expected=hint,
                    length=len(text),
                )
            )
        return done

    def _step(self, name: str) -> Step:
        part = self.record.steps[name]
        free = self._free(name, part.expression, part.named)
        self.current = name
        done = self._check(part.expression, f"step {name}")
        self.current = ""
        what = f"step `{name}`"
        unit = self._unit(part.unit, done.kind, part.expression, what, part.unit_at)
        if free:
            self.names[name] = done.kind
        self.units[name] = unit
        return Step(name, done, unit, part.note, str(part.expression.value), part.cite)

    def _unit(self, unit: str, kind: Type, part: Part, what: str, at: Mark | None) -> str:
        """The unit that a value is written in, "" where it cannot be."""
        wrong = unit_problem(unit, kind, part, what, at)
        if wrong is not None:
            self.problems.append(wrong)
        return "" if wrong is not None else unit

    def _case(self, part: CaseRecord) -> Case:
        when = None if part.when is None else self._flag(part.when, "judge when")
        measure = self._check(part.measure, "measure")
        limit = self._check(part.limit, "limit")
        if not is_zero(limit.node) and not same_kind(measure.kind, limit.kind):
            self.problems.append(
                part.limit.problem(
                    "measure and limit are not of the same kind",
                    found=f"`{part.measure.value}` is {a_kind(measure.kind)}; "
                    f"`{part.limit.value}` is {a_kind(limit.kind)}",
                    expected=f"a limit that is {a_kind(measure.kind)}",
                    length=len(str(part.limit.value)),
                )
            )
        elif not (has_order(measure.kind) or isinstance(measure.kind, Anything)):
            self.problems.append(
                part.measure.problem(
                    "a measure is a number, a wire size or a trade size",
                    found=f"`{part.measure.value}` is {a_kind(measure.kind)}",
                    expected="what is measured, such as count(…)",
                )
            )
        unit = self._unit(part.unit, measure.kind, part.measure, "the measure", part.unit_at)
        require = None if part.require is None else self._flag(part.require, "require")
        self.names["measure"], self.names["limit"] = measure.kind, limit.kind
        message = self._template(part.message, part.message.key or "fail")
        passes = None if part.passes is None else self._template(part.passes, "pass")
        fixes = tuple(self._fix(m) for m in part.fixes)
        del self.names["measure"], self.names["limit"]
        return Case(
            when,
            measure,
            limit,
            part.at_least,
            unit,
            require,
            part.fails_as,
            message,
            passes,
            fixes,
            keeping(part.at_least, measure) if require is None else require,
            (),
        )

    def _fix(self, part: FixRecord) -> Fix:
        when = None if part.when is None else self._flag(part.when, "fix when")
        say = self._template(part.say, "fix")
        of = None if part.of is None else self._check(part.of, "fix of")
        kind: Type = Element(self.subject.name) if of is None else of.kind
        kind = kind.item if isinstance(kind, List) else kind
        record = CLASSES.get(kind.name) if isinstance(kind, Element) else None
        if record is None and part.of is not None and not isinstance(kind, Anything):
            self.problems.append(
                part.of.problem(
                    "`of` of a fix takes the elements that it changes",
                    found=f"`{part.of.value}` is {a_kind(kind)}",
                    expected="an element, or a list of elements",
                    length=len(str(part.of.value)),
                )
            )
        fields = {f.key: f for f in given_fields(record)} if record else {}
        changes = []
        for name, new in part.set.items():
            checked = self._check(new, f"fix set {name}")
            own = fields.get(name)
            if record is not None and own is None:
                self.problems.append(
                    new.problem(
                        f"a fix cannot set `{name}`: no such field can be written",
                        found=name,
                        expected=f"a field of {kind} that a file states",
                        suggestion=nearest(name, fields) or "",
                    )
                )
            elif own is not None and not same_kind(type_of(own), checked.kind):
                self.problems.append(
                    new.problem(
                        f"a fix cannot set `{name}` to another kind of value",
                        found=f"`{new.value}` is {a_kind(checked.kind)}",
                        expected=a_kind(type_of(own)),
                        length=len(str(new.value)),
                    )
                )
            changes.append((name, checked))
        if part.of is not None and not part.set:
            self.problems.append(
                part.of.problem("`of` of a fix says whose fields `set` sets", expected="`set:`")
            )
        return Fix(when, say, of, tuple(changes), part.check)

    def _template(self, part: Part, where: str) -> Template:
        try:
            done = read_template(str(part.value), self.names, self.vocabulary, self._elsewhere)
        except ExpressionError as error:
            for trouble in error.troubles:
                self.problems.append(problem_in(part, trouble, f"rule {self.record.id}", where))
            self._mentioned(part)
            return Template(str(part.value), ())
        self.used |= done.uses
        parts = (part if isinstance(part, str) else self._in_unit(*part) for part in done.parts)
        return Template(done.text, tuple(parts))

    def _in_unit(self, checked: Checked, unit: str) -> tuple[Checked, str]:
        """A value in a message with its unit: a step alone is written in the unit of the step."""
        node = checked.node
        alone = isinstance(node, Name) and not unit
        return checked, self.units.get(node.name, "") if alone else unit  # type: ignore[attr-defined]


def _closed(form: Form, case: Case) -> Case:
    """The case with the steps that it rests on, directly or through other steps."""
    parts = (case.when, case.measure, case.limit, case.require)
    return replace(case, steps=tuple(sorted(needed(form, *(c for c in parts if c is not None)))))


def compile_form(
    record: RuleRecord, subject: str, vocabulary: Vocabulary, *, code: bool = True
) -> Form:
    """Check a record for one class of element and compile it, unless there is ``code`` already.

    Raises InputError with everything that is wrong with it.
    """
    return _Compiler(record, vocabulary, SubjectClass(subject)).run(code=code)


__all__ = ["Case", "Fix", "Form", "Step", "Value", "compile_form"]
