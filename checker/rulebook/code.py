"""Emits the Python of a checked rule: one function that judges, and one for each message.

The code has no builtins and no names but the subject, the assembly, the language's functions and
the rule's look-ups; see ``checker.language.compile``.
"""

from __future__ import annotations

import ast
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from checker.assembly.records import HOLDERS
from checker.language.block import Block
from checker.language.checked import Checked
from checker.language.compile import Emitter
from checker.language.magnitude import MOST_DIGITS, Digits
from checker.language.template import Template
from checker.language.types import Designation, Vocabulary
from checker.language.worked import default_unit

from .forms import Case, Form
from .texts import Say, Texts

Emit = Callable[[Checked, Block], ast.expr]

#: Larger than anything that an assembly measures; beyond it lies a calculation gone wrong.
_HUGE = 1e300


def with_code(form: Form, vocabulary: Vocabulary) -> Form:
    """The form with its code."""
    emitter = Emitter(vocabulary)
    names = {"this": "e", form.subject: "e", "assembly": "a"}
    if form.subject == "assembly":
        names["assembly"] = "e"
    holder = HOLDERS.get(form.subject)
    if holder is not None:
        names[holder] = "h"
    names |= {step.name: "s_" + step.name for step in form.steps}
    names |= {"measure": "m", "limit": "l"}
    constants = {name: value.value for name, value in form.values.items()}
    emitter.globals["__units__"] = {step.name: step.unit for step in form.steps}

    def emit(checked: Checked, block: Block) -> ast.expr:
        return emitter.emit(checked, names, constants, block)

    for checked in _judging(form):
        emitter.look(checked)
    block = Block()
    overflowing = _may_overflow(form)
    if overflowing:
        block.add(_give_up())
    for place, checked in enumerate(form.when):
        block.add(_leave_unless(emit(checked, block), -1 - place))
    for place, (checked, _) in enumerate(form.unless):
        condition = ast.UnaryOp(ast.Not(), emit(checked, block))
        block.add(_leave_unless(condition, -101 - place))
    emitted: set[int] = set()
    _emit_cases(form, 0, emitted, block, emit)
    functions = [_function("rule", ("e", "a"), block.body)]
    whole = Block()
    for checked, code in () if overflowing else _of_the_assembly(form):
        # Emitted by itself: an element is not there to be asked.
        test = emit(checked, whole)
        whole.add(_leave_unless(test if code > -101 else ast.UnaryOp(ast.Not(), test), code))
    said = [_said(form, place, emit, functions) for place in range(len(form.cases))]
    for function in functions:
        if holder is not None:
            of = ast.Attribute(ast.Name("e", ast.Load()), holder, ast.Load())
            function.body.insert(0, ast.Assign([ast.Name("h", ast.Store())], of))
        if emitter.counts:
            function.body.insert(0, emitter.start())
    if whole.body:
        functions.append(_function("applies", ("a",), whole.body))
    module = ast.Module([*functions], [])
    _locate(module)
    space = emitter.globals
    exec(compile(module, f"<rule on {form.subject}>", "exec"), space)
    return replace(
        form,
        fast=space["rule"],
        applies=space.get("applies"),
        texts=tuple(
            _texts(case, names, space) for case, names in zip(form.cases, said, strict=True)
        ),
        needs=emitter.needs,
    )


def _of_the_assembly(form: Form) -> list[tuple[Checked, int]]:
    """The conditions that are the same for every element, each with its code where it fails.

    One that counts items is left to each element.
    """
    if form.subject == "assembly":
        return []
    found = [(checked, -1 - place) for place, checked in enumerate(form.when)]
    found += [(checked, -101 - place) for place, (checked, _) in enumerate(form.unless)]
    return [
        (checked, code)
        for checked, code in found
        if checked.uses - form.values.keys() == {"assembly"} and not checked.deep
    ]


_SOMEWHERE = {"lineno": 1, "end_lineno": 1, "col_offset": 0, "end_col_offset": 0}


def _locate(tree: ast.AST) -> None:
    """Give every node a place, which the compiler asks for and nobody reads.

    Several times quicker than ``ast.fix_missing_locations``, which is a quarter of building a book.
    """
    todo: list[Any] = [tree]
    while todo:
        node = todo.pop()
        known = node.__dict__
        for value in known.values():
            if value.__class__ is list:
                todo += [item for item in value if isinstance(item, ast.AST)]
            elif isinstance(value, ast.AST):
                todo.append(value)
        if node._attributes:
            known.update(_SOMEWHERE)


def _function(name: str, arguments: tuple[str, ...], body: list[ast.stmt]) -> ast.FunctionDef:
    return ast.FunctionDef(
        name=name,
        args=ast.arguments(
            posonlyargs=[ast.arg(argument) for argument in arguments],
            args=[],
            kwonlyargs=[],
            kw_defaults=[],
            defaults=[],
        ),
        body=body,
        decorator_list=[],
    )


# -- what a case says -----------------------------------------------------------------------


def _said(form: Form, place: int, emit: Emit, functions: list[ast.FunctionDef]) -> dict[str, str]:
    """Add the functions of a case's messages; gives their names by what they are for."""
    case = form.cases[place]
    names: dict[str, str] = {}

    def add(key: str, checked: list[Checked], *, single: bool = False) -> None:
        names[key] = f"say_{place}_{key}"
        block = Block()
        needed: set[int] = set()
        for one in checked:
            needed |= _needed(form, one)
        _emit_steps(form, needed, set(), block, emit)
        values = [emit(one, block) for one in checked]
        block.add(ast.Return(values[0] if single else ast.Tuple(values, ast.Load())))
        functions.append(_function(names[key], ("e", "a", "m", "l"), block.body))

    add("message", _inside(case.message))
    if case.passes is not None:
        add("passes", _inside(case.passes))
    for number, mend in enumerate(case.mend):
        add(f"mend{number}", _inside(mend.say))
        if mend.when is not None:
            add(f"when{number}", [mend.when], single=True)
    return names


def _inside(template: Template) -> list[Checked]:
    return [part[0] for part in template.parts if not isinstance(part, str)]


def _texts(case: Case, names: dict[str, str], space: dict[str, Any]) -> Texts:
    steps = space["__units__"]

    def say(key: str, template: Template) -> Say:
        parts = tuple(
            part if isinstance(part, str) else (_unit_of(part[0], part[1], steps),)
            for part in template.parts
        )
        return Say(parts, space[names[key]])

    return Texts(
        at_least=case.at_least,
        unit=case.unit or default_unit(case.measure.kind),
        message=say("message", case.message),
        passes=None if case.passes is None else say("passes", case.passes),
        mends=tuple(
            (space.get(names.get(f"when{n}", "")), say(f"mend{n}", mend.say))
            for n, mend in enumerate(case.mend)
        ),
    )


def _unit_of(checked: Checked, unit: str, steps: dict[str, str]) -> str:
    """The unit that a value between braces is written in."""
    if unit:
        return unit
    own = steps.get(checked.text.strip(), "") if isinstance(checked.tree, ast.Name) else ""
    return own or default_unit(checked.kind)


def _judging(form: Form) -> list[Checked]:
    """What judging rests on: everything but the messages."""
    found = [*form.when, *(c for c, _ in form.unless)]
    found += [step.checked for step in form.steps]
    for case in form.cases:
        found += [c for c in (case.when, case.measure, case.limit, case.require) if c is not None]
    return found


def every_checked(form: Form) -> list[Checked]:
    """Every expression of a form, those of messages too."""
    found = _judging(form)
    for case in form.cases:
        templates = [case.message, *(m.say for m in case.mend)]
        templates += [case.passes] if case.passes else []
        for template in templates:
            found += [p[0] for p in template.parts if not isinstance(p, str)]
        for mend in case.mend:
            found += [c for c in (mend.when, mend.of) if c is not None]
            found += [checked for _, checked in mend.set]
    return found


def _leave_unless(condition: ast.expr, code: int) -> ast.stmt:
    leave = ast.Return(ast.Tuple([ast.Constant(code)], ast.Load()))
    return ast.If(ast.UnaryOp(ast.Not(), condition), [leave], [])


def _emit_steps(form: Form, wanted: set[int], emitted: set[int], block: Block, emit: Emit) -> None:
    for place in sorted(wanted - emitted):
        step = form.steps[place]
        block.set("s_" + step.name, emit(step.checked, block))
    emitted |= wanted


def _emit_cases(form: Form, place: int, emitted: set[int], block: Block, emit: Emit) -> None:
    case = form.cases[place]
    if case.when is None or place == len(form.cases) - 1:
        _emit_case(form, place, set(emitted), block, emit)
        return
    # Steps that the condition rests on are common to this case and those after it.
    _emit_steps(form, _needed(form, case.when), emitted, block, emit)
    condition = emit(case.when, block)
    inner = block.inner()
    _emit_case(form, place, set(emitted), inner, emit)
    block.add(ast.If(condition, inner.body, []))
    _emit_cases(form, place + 1, emitted, block, emit)


def _needed(form: Form, checked: Checked) -> set[int]:
    position = {step.name: i for i, step in enumerate(form.steps)}
    needed: set[int] = set()
    todo = set(checked.uses)
    while todo:
        place = position.get(todo.pop())
        if place is not None and place not in needed:
            needed.add(place)
            todo |= form.steps[place].checked.uses
    return needed


def _emit_case(form: Form, place: int, emitted: set[int], block: Block, emit: Emit) -> None:
    case = form.cases[place]
    _emit_steps(form, set(case.steps), emitted, block, emit)
    block.set("m", emit(case.measure, block))
    block.set("l", emit(case.limit, block))
    if not isinstance(case.measure.kind, Designation):
        block.body += _guard(case)
    holds = _keeps(case) if case.require is None else emit(case.require, block)
    values: list[ast.expr] = [
        ast.Constant(place),
        ast.IfExp(holds, ast.Constant(True), ast.Constant(False)),
        ast.Name("m", ast.Load()),
        ast.Name("l", ast.Load()),
        *[ast.Name("s_" + form.steps[i].name, ast.Load()) for i in case.steps],
    ]
    block.add(ast.Return(ast.Tuple(values, ast.Load())))


def _guard(case: Case) -> list[ast.stmt]:
    """Leave to the traced evaluation where measure or limit is not a finite number.

    A comparison with nan or infinity would decide without knowing.
    """
    low, high = ast.Constant(-_HUGE), ast.Constant(_HUGE)
    finite: list[ast.expr] = [
        ast.Compare(low, [ast.Lt(), ast.Lt()], [ast.Name(name, ast.Load()), high])
        for name, checked in (("m", case.measure), ("l", case.limit))
        if not _counts(checked)
    ]
    if not finite:
        return []
    whole = finite[0] if len(finite) == 1 else ast.BoolOp(ast.And(), finite)
    return [ast.If(ast.UnaryOp(ast.Not(), whole), [_give_up()], [])]


def _give_up() -> ast.stmt:
    """Leave the decision to the traced evaluation: a division by zero is one of its reasons."""
    return ast.Expr(ast.BinOp(ast.Constant(1), ast.Div(), ast.Constant(0)))


def _may_overflow(form: Form) -> bool:
    """Whether so much is multiplied that some value could be infinite; no honest rule does it."""
    digits = Digits({name: value.value for name, value in form.values.items()})
    for step in form.steps:
        digits.step(step.name, step.checked)
    for checked in _judging(form):
        digits.look(checked)
    return digits.most > MOST_DIGITS


def _counts(checked: Checked) -> bool:
    """Whether an expression is how many of something there are, which is finite in itself."""
    tree = checked.tree
    return (
        isinstance(tree, ast.Call) and isinstance(tree.func, ast.Name) and tree.func.id == "count"
    )


def _keeps(case: Case) -> ast.expr:
    """Whether the measure keeps to the limit, or reaches it."""
    low, high = ("l", "m") if case.at_least else ("m", "l")
    a, b = ast.Name(low, ast.Load()), ast.Name(high, ast.Load())
    kind = case.measure.kind
    if isinstance(kind, Designation):
        rank = ast.Name("f_wire" if kind.name == "wire_size" else "f_trade", ast.Load())
        lower, higher = (ast.Subscript(rank, side, ast.Load()) for side in (a, b))
        return ast.Compare(lower, [ast.LtE()], [higher])
    exact = ast.Call(ast.Name("f_le", ast.Load()), [a, b], [])
    return ast.BoolOp(ast.Or(), [ast.Compare(a, [ast.LtE()], [b]), exact])
