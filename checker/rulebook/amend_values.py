"""Values of an amended rule: changed ones, and new ones for its conditions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from checker.documents.errors import nearest
from checker.documents.nodes import Mapping as Node
from checker.documents.nodes import Quoted
from checker.language.checking.words import a_kind
from checker.language.types import same_kind
from checker.paths import shown_path
from checker.quantities.notation import NotationError

from .draft import Draft, Drafter, Part, ValuePart
from .records import ChangeFile
from .values import read_value, without_unit

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
    node: Node = change.node["values"]
    if name in draft.values:
        applier.problem(
            node.key_mark(name),
            f"rule {draft.id} has a value `{name}` already",
            found=name,
            expected="`set:` to change it, or another name",
            length=len(name),
        )
        return draft
    sheet = applier.book.sheets.holder(draft, name)
    if sheet:
        applier.problem(
            node.key_mark(name),
            f"sheet {sheet}, which rule {draft.id} uses, has `{name}` already",
            found=name,
            expected="another name, or no such value",
            length=len(name),
        )
        return draft
    applier.did.append(f"new value {name}")
    applier.touch(change, (draft.id, name), node.key_mark(name))
    return draft.with_(values={**draft.values, name: new_values(applier, change)[name]})


def set_value(applier: Applier, change: ChangeFile, draft: Draft, name: str, raw: Any) -> Draft:
    """The rule with another value under a name that it has."""
    if name not in draft.values:
        no_value(applier, change, f"rule {draft.id}", draft.values, name)
        return draft
    new = new_value(applier, change, draft.id, draft.values[name], name, raw)
    if new is None:
        return draft
    applier.touch(change, (draft.id, name), new.part.mark)
    return draft.with_(values={**draft.values, name: new})


def no_value(
    applier: Applier, change: ChangeFile, holder: str, known: Mapping[str, ValuePart], name: str
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
    old: ValuePart,
    name: str,
    raw: Any,
    *,
    told: bool = True,
) -> ValuePart | None:
    """What a change puts in a value's place; None where that cannot be or changes nothing.

    ``holder`` is the rule or sheet that has the value, as messages name it; ``told``: whether it is
    told that nothing changes.
    """
    mark = change.node["set"].value_mark(name)
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
