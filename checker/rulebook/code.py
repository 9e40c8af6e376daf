"""Writes the Python of a checked rule: one function that judges an element.

The code has no builtins and no names but the subject, the assembly, the language's functions and
the rule's look-ups; see ``checker.language.compile``.  Messages are not compiled: they are read
from the nodes when somebody asks for them.
"""

from __future__ import annotations

from dataclasses import replace

from checker.assembly.records import HOLDERS
from checker.language.block import Block
from checker.language.checked import Checked
from checker.language.compile import Emitter
from checker.language.nodes import Call
from checker.language.types import MOST_DIGITS, Designation, Vocabulary

from .forms import Case, Form

#: Larger than anything that an assembly measures; beyond it lies a calculation gone wrong.
_HUGE = 1e300
#: Leaves the decision to the traced evaluation: a division by zero is one of its reasons.
_GIVE_UP = "1 / 0"


def with_code(form: Form, vocabulary: Vocabulary) -> Form:
    """The form with its code."""
    writer = _Writer(form, vocabulary)
    space = writer.emitter.globals
    exec(compile(writer.source(), f"<rule on {form.subject}>", "exec"), space)
    return replace(
        form, fast=space["rule"], applies=space.get("applies"), needs=writer.emitter.needs
    )


class _Writer:
    """The code of one form."""

    def __init__(self, form: Form, vocabulary: Vocabulary) -> None:
        self.form = form
        names = {"this": "e", form.subject: "e", "assembly": "a"}
        if form.subject == "assembly":
            names["assembly"] = "e"
        self.holder = HOLDERS.get(form.subject)
        if self.holder is not None:
            names[self.holder] = "h"
        names |= {step.name: "s_" + step.name for step in form.steps}
        names |= {"measure": "m", "limit": "l"}
        values = {name: value.value for name, value in form.values.items()}
        self.emitter = Emitter(vocabulary, names, values)
        self.emitter.look(judging(form))

    def source(self) -> str:
        """The functions, as text."""
        form = self.form
        block = Block()
        if may_overflow(form):
            block.add(_GIVE_UP)
        for checked, code in _conditions(form):
            self._leave(checked, code, block)
        self._cases(0, set(), block)
        head = [f"h = e.{self.holder}"] if self.holder is not None else []
        if self.emitter.counts:
            head.insert(0, self.emitter.start())
        functions = ["def rule(e, a, /):", *(" " + line for line in (*head, *block.lines))]
        whole = Block()
        for checked, code in () if may_overflow(form) else _of_the_assembly(form):
            # Written by itself: an element is not there to be asked.
            self._leave(checked, code, whole)
        if whole.lines:
            functions += ["def applies(a, /):", *(" " + line for line in whole.lines)]
        return "\n".join(functions)

    def _leave(self, checked: Checked, code: int, block: Block) -> None:
        """Leave with the code of a condition that keeps the rule from applying."""
        test = self.emitter.emit(checked, block)
        block.lines += [f"if {'not ' if code > -101 else ''}{test}:", f" return ({code},)"]

    def _steps(self, wanted: set[int], done: set[int], block: Block) -> None:
        for place in sorted(wanted - done):
            step = self.form.steps[place]
            block.set("s_" + step.name, self.emitter.emit(step.checked, block))
        done |= wanted

    def _cases(self, place: int, done: set[int], block: Block) -> None:
        case = self.form.cases[place]
        if case.when is None or place == len(self.form.cases) - 1:
            self._case(place, done, block)
            return
        # Steps that the condition rests on are common to this case and those after it.
        self._steps(needed(self.form, case.when), done, block)
        condition = self.emitter.emit(case.when, block)
        inner = block.inner()
        self._case(place, set(done), inner)
        block.add(f"if {condition}:", inner)
        self._cases(place + 1, done, block)

    def _case(self, place: int, done: set[int], block: Block) -> None:
        case = self.form.cases[place]
        self._steps(set(case.steps), done, block)
        block.set("m", self.emitter.emit(case.measure, block))
        block.set("l", self.emitter.emit(case.limit, block))
        if not isinstance(case.measure.kind, Designation):
            block.lines += _guard(case)
        holds = self.emitter.emit(case.holds, block)
        values = ["m", "l", *("s_" + self.form.steps[step].name for step in case.steps)]
        block.lines.append(f"return ({place}, True if {holds} else False, {', '.join(values)})")


def _guard(case: Case) -> list[str]:
    """Leave to the traced evaluation where measure or limit is not a finite number.

    A comparison with nan or infinity would decide without knowing.
    """
    finite = [
        f"{-_HUGE} < {name} < {_HUGE}"
        for name, checked in (("m", case.measure), ("l", case.limit))
        if not _counts(checked)
    ]
    return [f"if not ({' and '.join(finite)}):", " " + _GIVE_UP] if finite else []


def _counts(checked: Checked) -> bool:
    """Whether an expression is how many of something there are, which is finite in itself."""
    return isinstance(checked.node, Call) and checked.node.function == "count"


def _conditions(form: Form) -> list[tuple[Checked, int]]:
    """The conditions for the rule to apply, each with its code where it fails."""
    found = [(checked, -1 - place) for place, checked in enumerate(form.when)]
    return found + [(checked, -101 - place) for place, (checked, _) in enumerate(form.unless)]


def _of_the_assembly(form: Form) -> list[tuple[Checked, int]]:
    """The conditions that are the same for every element, each with its code where it fails.

    One that counts items is left to each element.
    """
    if form.subject == "assembly":
        return []
    return [
        (checked, code)
        for checked, code in _conditions(form)
        if checked.uses - form.values.keys() == {"assembly"} and not checked.deep
    ]


def may_overflow(form: Form) -> bool:
    """Whether so much is multiplied that some value could be infinite; no honest rule does it."""
    return any(checked.digits > MOST_DIGITS for checked in judging(form))


def judging(form: Form) -> list[Checked]:
    """What judging rests on: everything but the messages."""
    found = [*form.when, *(c for c, _ in form.unless)]
    found += [step.checked for step in form.steps]
    for case in form.cases:
        found += [c for c in (case.when, case.measure, case.limit, case.holds) if c is not None]
    return found


def every_checked(form: Form) -> list[Checked]:
    """Every expression of a form, those of messages too."""
    found = judging(form)
    for case in form.cases:
        templates = [case.message, *(m.say for m in case.fixes)]
        templates += [case.passes] if case.passes else []
        for template in templates:
            found += [p[0] for p in template.parts if not isinstance(p, str)]
        for fix in case.fixes:
            found += [c for c in (fix.when, fix.of) if c is not None]
            found += [checked for _, checked in fix.set]
    return found


def needed(form: Form, *every: Checked) -> set[int]:
    """The places of the steps that expressions rest on, directly or through other steps."""
    position = {step.name: i for i, step in enumerate(form.steps)}
    found: set[int] = set()
    todo = {name for checked in every for name in checked.uses}
    while todo:
        place = position.get(todo.pop())
        if place is not None and place not in found:
            found.add(place)
            todo |= form.steps[place].checked.uses
    return found
