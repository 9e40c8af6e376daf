"""Reads the formulas of a rule or of a shared sheet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from checker.documents.errors import Problem
from checker.documents.nodes import Sequence
from checker.documents.source import Source
from checker.language.formulas import Formula, read_formula
from checker.language.functions import FUNCTIONS
from checker.language.parse import ExpressionError

from .place import problem_in
from .rule_parts import FormulaRecord
from .values import no_name

_MOST_FORMULAS = 100  # of a file; each may be as large as an expression can be


def read_formulas(
    file: Any, source: Source, holder: str, known: Mapping[str, Formula]
) -> tuple[dict[str, FormulaRecord], list[Problem]]:
    """The formulas of a rule or a sheet; each may use those before it and the ``known`` ones."""
    made: dict[str, FormulaRecord] = {}
    problems: list[Problem] = []
    if len(file.formulas) > _MOST_FORMULAS:
        problem = source.problem(
            file.node.key_mark("formulas"),
            f"{holder} has too many formulas",
            found=str(len(file.formulas)),
            expected=f"{_MOST_FORMULAS} at most",
            length=len("formulas"),
        )
        return {}, [problem]
    for name, formula in file.formulas.items():
        before = {**known, **{n: f.formula for n, f in made.items()}}
        wrong = _parameters(source, name, formula, before)
        if wrong:
            problems += wrong
            continue
        try:
            read = read_formula(name, formula.of, str(formula.is_), before)
        except ExpressionError as error:
            where = f"formula {name}"
            problems += [problem_in(formula.is_, t, holder, where) for t in error.troubles]
            continue
        made[name] = replace(formula, read=read)
    return made, problems


def _parameters(
    source: Source, name: str, formula: FormulaRecord, before: Mapping[str, Formula]
) -> list[Problem]:
    """What a formula is given has plain names of its own, which no call could be meant by."""
    raw = formula.node["of"]
    problems = []
    for index, word in enumerate(formula.of):
        reason = no_name(word)
        if not reason and (word in FUNCTIONS or word in before or word == name):
            reason = "it already means a function or a formula"
        if not reason and word in formula.of[:index]:
            reason = "another parameter is called so already"
        if reason:
            mark = (
                raw.value_mark(index)
                if isinstance(raw, Sequence)
                else formula.node.value_mark("of")
            )
            problems.append(
                source.problem(
                    mark,
                    f"`{word[:60]}` cannot be a parameter of `{name}`: {reason}",
                    found=word,
                    expected="another name",
                    length=len(word),
                )
            )
    return problems
