"""Values of an amended rule: changed ones, and new ones for its conditions."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from checker.documents.errors import nearest
from checker.documents.nodes import Mapping, Quoted
from checker.language.types import Type, same_kind
from checker.paths import shown_path
from checker.quantities.notation import NotationError

from .compiled import read_value, without_unit
from .draft import Draft, Drafter, Part, ValuePart
from .records import ChangeFile

if TYPE_CHECKING:
    from .amend import Applier


def new_values(applier: Applier, change: ChangeFile) -> dict[str, ValuePart]:
    """The named constants that a change brings along for its conditions."""
    drafter = Drafter(applier.source, applier.edition, applier.origin)
    return {
        name: replace(made, cite=made.cite or change.reference, note=made.note or change.reason)
        for name, made in drafter.values(change.values, change.node.get("values")).items()
    }


def add_value(applier: Applier, change: ChangeFile, draft: Draft, name: str) -> Draft:
    node: Mapping = change.node["values"]
    if name in draft.values:
        applier.problem(
            node.key_mark(name),
            f"rule {draft.id} has a value `{name}` already",
            found=name,
            expected="`set:` to change it, or another name",
            length=len(name),
        )
        return draft
    applier.did.append(f"new value {name}")
    applier.touch(change, (draft.id, name), node.key_mark(name))
    return draft.with_(values={**draft.values, name: new_values(applier, change)[name]})


def set_value(applier: Applier, change: ChangeFile, draft: Draft, name: str, raw: Any) -> Draft:
    node: Mapping = change.node["set"]
    mark = node.value_mark(name)
    old = draft.values.get(name)
    if old is None:
        applier.problem(
            node.key_mark(name),
            f"rule {draft.id} has no value `{name}`",
            found=name,
            expected="one of " + ", ".join(draft.values)
            if draft.values
            else f"another kind of change: {draft.id} has no values",
            suggestion=nearest(name, draft.values) or "",
            length=len(name),
        )
        return draft
    new = ValuePart(
        Part(raw, applier.source, mark, applier.origin, isinstance(raw, Quoted)),
        old.as_,
        change.reference,
        change.reason,
        old.named,
    )
    try:
        was, was_kind, was_text = read_value(old)
    except NotationError:
        return draft  # told when the rule is compiled
    try:
        value, kind, text = read_value(new)
    except NotationError as error:
        like = without_unit(raw, old)
        applier.problem(
            mark,
            f"the new `{name}` of {draft.id} cannot be read",
            found=error.found,
            expected=f"{_a(was_kind)} with a unit, as `{was_text}` was" if like else error.expected,
            suggestion=like or error.suggestion or "",
            length=_length(raw),
        )
        return draft
    if not same_kind(kind, was_kind):
        applier.problem(
            mark,
            f"the new `{name}` of {draft.id} is not of the same kind",
            found=f"`{text}` is {_a(kind)}",
            expected=f"{_a(was_kind)}, as `{was_text}` was ({shown_path(old.part.source.path)}:"
            f"{old.part.mark.line})",
            length=_length(raw),
        )
        return draft
    if value == was:
        applier.warn(
            mark,
            f"`{name}` of {draft.id} is {was_text} already; this change changes nothing",
            found=text,
            expected="another value, or no such change",
            length=_length(raw),
        )
        return draft
    applier.touch(change, (draft.id, name), mark)
    applier.did.append(f"{name} {was_text} → {text}")
    return draft.with_(values={**draft.values, name: new})


def _a(kind: Type) -> str:
    word = str(kind)
    return word if word == "text" else ("an " if word[0] in "aeiou" else "a ") + word


def _length(raw: Any) -> int:
    return len(raw) if isinstance(raw, str) else 1
