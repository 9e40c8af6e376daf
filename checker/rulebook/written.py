"""What the written form of a rule stands for: groups, sums, choices and the element that decides.

A rule is written as its section reads.  A group names elements once; a sum has a line for each
allowance; a choice lists its cases; ``worst`` and ``least`` find the element that decides, and name
it.  Each of them stands for steps with one expression.  An expression that is put together keeps
the texts that it is made of, so that a mistake in it is shown where the author wrote it.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from checker.documents.errors import InputError, Mark, Problem
from checker.documents.source import Source
from checker.language.parse import one_line

from .part import Text, text_at
from .records import GroupFile, RuleFile, StepFile, TermFile
from .rule_parts import KINDS, Case, Step
from .woven import Woven, renamed, woven

#: The requirement of a case that reports as soon as its condition is met.
NEVER = "0 > 1"
_ITEM = re.compile(r"\s*([A-Za-z_]\w*)\s+in\s")
_MET = re.compile(r"\bmet\b")
#: The ways of saying what a step is.
_WAYS = ("is", "sum", "cases", "worst", "least")
#: The fields that hold them, where they are called otherwise, and what each is written with.
_FIELDS = {"is": "is_"}
_EXPECTED = {
    "is": "an expression",
    "sum": "its terms, each with a name",
    "cases": "the values that it may have",
    "worst": "the element that decides, with what it is taken from",
    "least": "the element that decides, with what it is taken from",
}


def all_steps(rule: RuleFile) -> dict[str, Step]:
    """Groups, steps, whether the requirement is met where a case asks, and the steps of fixes.

    Raises InputError.
    """
    made = [
        (name, _group(group, rule.node["groups"].key_mark(name)))
        for name, group in rule.groups.items()
    ]
    made += _all(rule.steps)
    if any(case.when is not None and _MET.search(case.when) for case in rule.judge):
        made.append(("met", _met(rule)))
    if rule.fixes is not None:
        made += _all(rule.fixes.steps)
    return _by_name(made)


def plain_steps(steps: Any) -> dict[str, Step]:
    """Steps as they are calculated, in the order of the calculation.  Raises InputError."""
    return _by_name(_all(steps))


def _all(steps: Any) -> list[tuple[str, Step]]:
    return [made for name, file in steps.items() for made in _steps(name, file)]


def _by_name(made: list[tuple[str, Step]]) -> dict[str, Step]:
    """The steps by their names.  Raises InputError where one would take another's place."""
    found: dict[str, Step] = {}
    for name, step in made:
        if name in found:
            raise InputError(
                step.node.source.problem(
                    step.named or step.node.mark,
                    f"`{name}` is the name of something above",
                    found=f"another `{name}` among groups, steps, terms and elements that decide",
                    expected="a name of its own",
                    length=len(name),
                )
            )
        found[name] = step
    return found


def _group(file: GroupFile, named: Mark) -> Step:
    """A group as a list of its elements."""
    of: Any = file.of
    where = [] if file.where is None else [" if ", *_closed(_text(file.where))]
    item = _ITEM.match(of)
    if item is not None:
        element = text_at(item[1], of._node, of._key, of.source, of.origin)
        made = woven("[", element, " for ", of, *where, "]")
    elif where:
        raise InputError(
            of.problem(
                "a group with `where:` names its element",
                found=f"`{of[:60]}`",
                expected="such as w in pull.wires",
            )
        )
    else:
        made = woven(of)
    return Step(node=file.node, is_=made, note=file.note, named=named, members=True)


def _steps(name: str, file: Step) -> Iterator[tuple[str, Step]]:
    """The steps that a step stands for.  Raises InputError."""
    _check(name, file)
    if file.is_ is not None:
        yield name, file
    elif file.sum:
        terms = file.node["sum"]
        for term, line in file.sum.items():
            yield term, _term(line, file, terms.key_mark(term))
        first = text_at("", file.node, "sum", file_source(file), "")
        total = woven(first, " + ".join(file.sum))
        yield name, replace(file, is_=total, sum={})
    elif file.cases:
        yield name, replace(file, is_=_choice(file), cases=())
    else:
        yield from _deciding(name, file, "worst" if file.worst else "least")


def file_source(file: StepFile) -> Any:
    """The file that a step is in."""
    return file.node.source


def _term(line: TermFile, file: Step, named: Mark) -> Step:
    text: Any = line.is_
    if line.when is not None:
        text = woven("(", text, ") if (", _text(line.when), ") else 0")
    return Step(
        node=file.node, is_=text, unit=file.unit, note=line.note, cite=line.cite, named=named
    )


def _choice(file: Step) -> Woven:
    """The first case that applies, as one expression; the last has no condition."""
    parts: list[str | Text] = []
    for case in file.cases:
        parts += ["(", _text(case.is_), ")"]
        if case.when is not None:
            parts += [" if (", _text(case.when), ") else "]
    return woven(*parts)


def _deciding(name: str, file: Step, key: str) -> Iterator[tuple[str, Step]]:
    """The value that decides, then each element that has it."""
    asked: dict[str, GroupFile] = getattr(file, key)
    goes: list[str | Text] = []
    for element, held in asked.items():
        item = _ITEM.match(held.of)
        if item is not None:
            of: Any = held.of
            raise InputError(
                of.problem(
                    f"the element is called `{element}` here, and by no other name",
                    found=f"`{item[1]} in`",
                    expected="a list alone, such as pull.wires",
                    length=len(item[0].rstrip()),
                )
            )
        goes += [f" for {element}_ in ", *_closed(_renamed(held.of, asked))]
        if held.where is not None:
            goes += [" if (", _renamed(held.where, asked), ")"]
    joint = " and " if list(asked.values())[-1].where is not None else " if "
    value = _renamed(file.by, asked)
    whole = woven("max(" if key == "worst" else "min(", value, *goes, ")")
    yield name, replace(file, is_=whole, worst={}, least={}, by=None, then=None)
    decides: list[str | Text] = [joint, *_closed(value), f" == {name}"]
    if file.then is not None:
        then, tie = _renamed(file.then, asked), f"{name}_tie"
        whole = woven("max(", then, *goes, *decides, ")")
        note = f"of those with equal {name}"
        yield tie, Step(node=file.node, is_=whole, note=note, named=file.named, bound=True)
        decides += [" and ", *_closed(then), f" == {tie}"]
    for element, held in asked.items():
        found = woven(f"first({element}_", *goes, *decides, ")")
        own = file.node[key].key_mark(element)
        note = held.note or f"the one with this {name.replace('_', ' ')}"
        yield element, Step(node=held.node, is_=found, note=note, named=own, bound=True)


def _renamed(given: Any, names: dict[str, Any]) -> Woven:
    """The text with the elements' names as those that are gone through."""
    return renamed(_text(given), names)


def _closed(text: Text) -> list[str | Text]:
    """The text as a part of a larger expression: in brackets where it would be taken apart."""
    try:
        tree = ast.parse(one_line(text).strip(), mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        return ["(", text, ")"]
    apart = isinstance(tree, (ast.IfExp, ast.BoolOp, ast.Compare))
    apart |= isinstance(tree, ast.UnaryOp) and isinstance(tree.op, ast.Not)
    return ["(", text, ")"] if apart else [text]


def _text(given: Any) -> Text:
    """An expression of a record that has its place."""
    assert isinstance(given, Text)
    return given


# -- the judgment ----------------------------------------------------------------------------


def decided(rule: RuleFile) -> tuple[Case, ...]:
    """The cases as they decide; a rule without ``judge`` is one case.  Raises InputError."""
    if not rule.judge:
        return (_case(rule, rule),)
    beside = [key for key in (*KINDS, "pass") if key in rule.node]
    if beside:
        raise InputError(_beside(rule, beside[0]))
    return tuple(_case(case, rule) for case in rule.judge)


def _case(case: Any, rule: RuleFile) -> Case:
    own: Any = case if case.measure is not None else rule
    kinds = [key for key in KINDS if getattr(case, key) is not None]
    if len(kinds) > 1:
        raise InputError(_several(case, rule, kinds))
    kind = kinds[0] if kinds else None
    missing = [key for key in ("measure", "limit") if getattr(own, key) is None]
    if kind is None or missing:
        raise InputError(_lacking(case, rule, (missing or ["fail"])[0]))
    when, require = getattr(case, "when", None) if case is not rule else None, case.require
    says: Any = getattr(case, kind)
    if require is None and case.pass_ is None and when is not None:
        require = text_at(NEVER, says._node, says._key, says.source, says.origin)
    elif require is None and own is rule:
        require = rule.require
    fixes: Any = () if case is rule else case.fixes
    if not fixes and rule.fixes is not None:
        fixes = rule.fixes.all
    return Case(
        node=own.node,
        when=when,
        measure=own.measure,
        limit=own.limit,
        at_least=own.at_least,
        unit=own.unit,
        require=require,
        fails_as=KINDS[kind],
        message=says,
        passes=case.pass_,
        fixes=fixes,
    )


def _met(rule: RuleFile) -> Step:
    """The rule's own requirement as a step."""
    if rule.require is not None:
        text = woven(_text(rule.require))
    elif rule.measure is not None and rule.limit is not None:
        sign = " >= " if rule.at_least else " <= "
        text = woven(*_closed(_text(rule.measure)), sign, *_closed(_text(rule.limit)))
    else:
        text = woven(text_at("met", rule.node, None, rule.node.source, ""))
    return Step(node=rule.node, is_=text, note="whether the requirement is met")


def _source(rule: RuleFile) -> Source:
    """The file that a rule is in."""
    source: Source = rule.node.source
    return source


# -- what is wrong ---------------------------------------------------------------------------


def _lacking(case: Any, rule: RuleFile, key: str) -> Problem:
    expected = "`fail:`, `review:`, `open:` or `inform:` with what is said"
    if key != "fail":
        expected = f"`{key}:` with an expression"
    what = f"rule {rule.rule}" if case is rule else "an item of `judge`"
    found = "keys " + ", ".join(list(case.node)[:8])
    mark = case.node.mark
    return _source(rule).problem(mark, f"{what} lacks `{key}`", found=found, expected=expected)


def _beside(rule: RuleFile, key: str) -> Problem:
    return _source(rule).problem(
        rule.node.key_mark(key),
        f"`{key}:` stands in the cases of rule {rule.rule}",
        found=f"`{key}:` beside `judge:`",
        expected=f"`{key}:` in the case that says it",
        length=len(key),
    )


def _several(case: Any, rule: RuleFile, kinds: list[str]) -> Problem:
    return _source(rule).problem(
        case.node.key_mark(kinds[1]),
        "a case reports one kind of finding",
        found=" and ".join(f"`{key}:`" for key in kinds),
        expected="one of them, and the other in a case of its own",
        length=len(kinds[1]),
    )


def _check(name: str, file: Step) -> None:
    """A step is said in one way; only ``worst`` and ``least`` go by something."""
    node = file.node
    said = [way for way in _WAYS if way in node]
    problems: list[Problem] = []

    def wrong(key: str | None, message: str, found: str, expected: str) -> None:
        mark = node.key_mark(key) if key else file.named or node.mark
        length = len(key or name)
        problems.append(
            node.source.problem(mark, message, found=found, expected=expected, length=length)
        )

    if len(said) != 1:
        wrong(
            said[1] if said else None,
            f"step `{name}` is said in {'several ways' if said else 'no way'}",
            " and ".join(f"`{way}:`" for way in said) or "none of these keys",
            "one of " + ", ".join(f"`{way}:`" for way in _WAYS),
        )
    for way in said:
        if not getattr(file, _FIELDS.get(way, way)):
            wrong(way, f"`{way}` is empty", "nothing", _EXPECTED[way])
    deciding = said[:1] in (["worst"], ["least"])
    if deciding and file.by is None:
        message, expected = (
            f"step `{name}` does not say what decides",
            "`by:` with what is compared",
        )
        wrong(said[0], message, f"`{said[0]}:` alone", expected)
    for key in ("by", "then"):
        if key in node and not deciding:
            expected = "`worst:` with the element that decides"
            wrong(key, f"`{key}:` belongs to `worst:`", f"`{key}:` in step `{name}`", expected)
    for place, case in enumerate(file.cases):
        last = place == len(file.cases) - 1
        if (case.when is None) != last:
            found = "`when:` in the last case" if last else "a case before the last without `when:`"
            problems.append(
                node.source.problem(
                    case.node.mark,
                    "the last case of a choice has no condition, and only the last",
                    found=found,
                    expected="cases with `when:`, then one without",
                )
            )
    if problems:
        raise InputError(problems)
