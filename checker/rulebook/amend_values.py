"""Values of an amended rule: changed ones, and new ones for its conditions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, cast

from checker.documents.errors import nearest
from checker.language.checking.words import a_kind
from checker.language.types import same_kind
from checker.paths import shown_path
from checker.quantities.notation import NotationError

from .applier import Applier
from .part import given_at
from .records import ChangeFile
from .rule import RuleRecord
from .rule_parts import Value
from .values import read_value, without_unit


def new_values(applier: Applier, change: ChangeFile) -> dict[str, Value]:
    """The named constants that a change brings along for its conditions."""
    made = {}
    for name, value in cast("dict[str, Value]", change.values).items():
        own = value.of_edition(applier.edition)
        cite, note = own.cite or change.reference, own.note or change.reason
        made[name] = replace(own, cite=cite, note=note)
    return made


def add_value(applier: Applier, change: ChangeFile, rule: RuleRecord, name: str) -> RuleRecord:
    node = change.node["values"]
    if name in rule.values:
        applier.problem(
            node.key_mark(name),
            f"rule {rule.id} has a value `{name}` already",
            found=name,
            expected="`set:` to change it, or another name",
            length=len(name),
        )
        return rule
    sheet = applier.book.sheets.holder(rule, name)
    if sheet:
        applier.problem(
            node.key_mark(name),
            f"sheet {sheet}, which rule {rule.id} uses, has `{name}` already",
            found=name,
            expected="another name, or no such value",
            length=len(name),
        )
        return rule
    applier.did.append(f"new value {name}")
    applier.touch(change, (rule.id, name), node.key_mark(name))
    return rule.with_(values={**rule.values, name: new_values(applier, change)[name]})


def set_value(
    applier: Applier, change: ChangeFile, rule: RuleRecord, name: str, raw: Any
) -> RuleRecord:
    """The rule with another value under a name that it has."""
    if name not in rule.values:
        no_value(applier, change, f"rule {rule.id}", rule.values, name)
        return rule
    new = new_value(applier, change, rule.id, rule.values[name], name, raw)
    if new is None:
        return rule
    applier.touch(change, (rule.id, name), new.part.mark)
    return rule.with_(values={**rule.values, name: new})


def no_value(
    applier: Applier, change: ChangeFile, holder: str, known: Mapping[str, Value], name: str
) -> None:
    """Tell that a change sets a value that there is not."""
    applier.problem(
        change.node["set"].key_mark(name),
        f"{holder} has no value `{name}`",
        found=name,
        expected="one of " + ", ".join(known)
        if known
        else f"another kind of change: {holder.rpartition(' ')[2]} has no values",
        suggestion=nearest(name, known) or "",
        length=len(name),
    )


def new_value(
    applier: Applier,
    change: ChangeFile,
    holder: str,
    old: Value,
    name: str,
    raw: Any,
    *,
    told: bool = True,
) -> Value | None:
    """What a change puts in a value's place; None where that cannot be or changes nothing.

    ``holder`` is the rule or sheet that has the value, as messages name it; ``told``: whether it is
    told that nothing changes.
    """
    mark = change.node["set"].value_mark(name)
    part = given_at(raw, change.node["set"], name, applier.source, applier.origin)
    new = replace(old, is_=raw, part=part, cite=change.reference, note=change.reason, amended="")
    try:
        was, was_kind, was_text = read_value(old)
    except NotationError:
        return None  # told when the rule is compiled
    try:
        value, kind, text = read_value(new)
    except NotationError as error:
        like = without_unit(raw, old)
        applier.problem(
            mark,
            f"the new `{name}` of {holder} cannot be read",
            found=error.found,
            expected=f"{a_kind(was_kind)} with a unit, as `{was_text}` was"
            if like
            else error.expected,
            suggestion=like or error.suggestion or "",
            length=_length(raw),
        )
        return None
    if not same_kind(kind, was_kind):
        applier.problem(
            mark,
            f"the new `{name}` of {holder} is not of the same kind",
            found=f"`{text}` is {a_kind(kind)}",
            expected=f"{a_kind(was_kind)}, as `{was_text}` was ({shown_path(old.part.source.path)}:"
            f"{old.part.mark.line})",
            length=_length(raw),
        )
        return None
    if value == was:
        if told:
            applier.warn(
                mark,
                f"`{name}` of {holder} is {was_text} already; this change changes nothing",
                found=text,
                expected="another value, or no such change",
                length=_length(raw),
            )
        return None
    applier.did.append(f"{name} {was_text} → {text}")
    return new


def _length(raw: Any) -> int:
    return len(raw) if isinstance(raw, str) else 1
