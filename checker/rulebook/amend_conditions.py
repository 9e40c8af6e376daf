"""Where an amended rule applies: its conditions, widened, narrowed or put anew, and exceptions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .draft import Draft, Part
from .records import ChangeFile

if TYPE_CHECKING:
    from .amend import Applier

#: Each alternative stands around those before it; the nesting has to end somewhere.
MOST_WIDENED = 20


def change_conditions(applier: Applier, change: ChangeFile, draft: Draft) -> Draft:
    if "applies" in change.node and change.node["applies"] is not None:
        draft = _applies(applier, change, draft)
    if change.narrow is not None:
        draft = _narrow(applier, change, draft)
    if change.widen is not None:
        draft = _widen(applier, change, draft)
    if change.exception is not None:
        draft = _exception(applier, change, draft)
    return draft


def _applies(applier: Applier, change: ChangeFile, draft: Draft) -> Draft:
    node = change.node
    raw = node["applies"]
    mark = node.key_mark("applies")
    if isinstance(raw, str):
        parts: tuple[Part, ...] = (applier.part(node, "applies"),)
    else:
        parts = tuple(
            Part(text, applier.source, raw.value_mark(i), applier.origin)
            for i, text in enumerate(change.applies)
        )
    if not draft.widened and [p.value for p in parts] == [p.value for p in draft.when]:
        applier.warn(mark, f"rule {draft.id} applies there already; `applies` changes nothing")
        return draft
    applier.touch(change, (draft.id, "when"), mark)
    where = " and ".join(str(p.value) for p in parts)
    applier.did.append(f"applies where {where}" if where else "applies everywhere")
    return draft.with_(when=parts, widened=(), reworked=True)


def _narrow(applier: Applier, change: ChangeFile, draft: Draft) -> Draft:
    part = applier.part(change.node, "narrow")
    mark = change.node.key_mark("narrow")
    if any(p.value == part.value for p in draft.when):
        applier.warn(mark, f"rule {draft.id} is limited to that already; nothing changes")
        return draft
    applier.touch(change, (draft.id, "when"), mark, adds=True)
    applier.did.append(f"only where {part.value}")
    return draft.with_(when=(*draft.when, part))


def _widen(applier: Applier, change: ChangeFile, draft: Draft) -> Draft:
    part = applier.part(change.node, "widen")
    mark = change.node.key_mark("widen")
    if not draft.when:
        applier.warn(mark, f"rule {draft.id} applies everywhere already; `widen` changes nothing")
        return draft
    if any(p.value == part.value for _, p in draft.widened):
        applier.warn(mark, f"rule {draft.id} applies there already; `widen` changes nothing")
        return draft
    if len(draft.widened) >= MOST_WIDENED:
        applier.problem(
            mark,
            f"rule {draft.id} was widened {MOST_WIDENED} times already",
            found="one more",
            expected="`applies:` with the conditions as they are now meant",
        )
        return draft
    applier.touch(change, (draft.id, "when"), mark, adds=True)
    applier.did.append(f"also where {part.value}")
    return draft.with_(widened=(*draft.widened, (len(draft.when), part)))


def _exception(applier: Applier, change: ChangeFile, draft: Draft) -> Draft:
    held = change.exception
    assert held is not None
    mark = change.node.key_mark("exception")
    if any(p.value == held.when for p, _ in draft.unless):
        applier.warn(mark, f"rule {draft.id} has that exception already; nothing changes")
        return draft
    part = Part(held.when, applier.source, held.node.value_mark("when"), applier.origin)
    applier.touch(change, (draft.id, "exception"), mark, adds=True)
    note = held.note or change.reason
    applier.did.append(f"exception where {part.value}")
    return draft.with_(unless=(*draft.unless, (part, note)))
