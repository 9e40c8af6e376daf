"""Checks and runs single expressions, both ways: as compiled code and traced."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checker.language.block import Block
from checker.language.check import check
from checker.language.checked import Checked
from checker.language.compile import Emitter
from checker.language.trace import Tracer
from checker.language.types import Type, Vocabulary
from checker.language.worked import Worker

NOTHING = Vocabulary({}, {})


def code(
    checked: Checked, names: Mapping[str, str], vocabulary: Vocabulary = NOTHING
) -> tuple[str, dict[str, Any]]:
    """The Python of an expression, its value in ``result``, and the globals that it needs.

    ``names``: what the names that it uses are called in Python.
    """
    emitter = Emitter(vocabulary, names, {})
    emitter.look([checked])
    block = Block()
    block.set("result", emitter.emit(checked, block))
    head = [emitter.start()] if emitter.counts else []
    return "\n".join([*head, *block.lines]), emitter.globals


def compiled(checked: Checked, values: Mapping[str, Any], vocabulary: Vocabulary = NOTHING) -> Any:
    """The value of an expression by the code that fast rules are made of."""
    source, space = code(checked, {name: "n_" + name for name in values}, vocabulary)
    space = space | {"n_" + name: value for name, value in values.items()}
    exec(compile(source, "<expression>", "exec"), space)
    return space["result"]


def traced(checked: Checked, values: Mapping[str, Any], vocabulary: Vocabulary = NOTHING) -> Any:
    """The value of an expression by the traced evaluation."""
    return Tracer(vocabulary, values, lambda element: f"element {element}").evaluate(checked)


def worked(checked: Checked, values: Mapping[str, Any], vocabulary: Vocabulary = NOTHING) -> str:
    """The calculation of an expression, written out."""
    return Worker(Tracer(vocabulary, values, str), {}).write(checked)


def value_of(
    text: str,
    kinds: Mapping[str, Type] | None = None,
    values: Mapping[str, Any] | None = None,
    vocabulary: Vocabulary = NOTHING,
) -> Any:
    """The value of an expression; both evaluations must give the same."""
    checked = check(text, kinds or {}, vocabulary)
    fast = compiled(checked, values or {}, vocabulary)
    slow = traced(checked, values or {}, vocabulary)
    same = list(fast) == list(slow) if isinstance(fast, list | tuple) else fast == slow
    assert same, f"{text}: {fast} when compiled, {slow} when traced"
    return fast
