"""Where an amended rule applies: its conditions, widened, narrowed or put anew, and exceptions."""

from __future__ import annotations

from .applier import Applier
from .part import text_at
from .records import ChangeFile
from .rule import RuleRecord, texts_at

#: Each alternative stands around those before it; the nesting has to end somewhere.
MOST_WIDENED = 20


def change_conditions(applier: Applier, change: ChangeFile, rule: RuleRecord) -> RuleRecord:
    """The rule with what a change says of where it applies."""
    if "applies" in change.node and change.node["applies"] is not None:
        rule = _applies(applier, change, rule)
    if change.narrow is not None:
        rule = _narrow(applier, change, rule)
    if change.widen is not None:
        rule = _widen(applier, change, rule)
    if change.exception is not None:
        rule = _exception(applier, change, rule)
    return rule


def _applies(applier: Applier, change: ChangeFile, rule: RuleRecord) -> RuleRecord:
    node = change.node
    mark = node.key_mark("applies")
    parts = texts_at(node, "applies", change.applies, applier.source, applier.origin)
    if not rule.widened and list(parts) == list(rule.when):
        applier.warn(mark, f"rule {rule.id} applies there already; `applies` changes nothing")
        return rule
    applier.touch(change, (rule.id, "when"), mark)
    where = " and ".join(parts)
    applier.did.append(f"applies where {where}" if where else "applies everywhere")
    return rule.with_(when=parts, widened=(), reworked=True)


def _narrow(applier: Applier, change: ChangeFile, rule: RuleRecord) -> RuleRecord:
    part = applier.text(change.node, "narrow")
    mark = change.node.key_mark("narrow")
    if any(p == part for p in rule.when):
        applier.warn(mark, f"rule {rule.id} is limited to that already; nothing changes")
        return rule
    applier.touch(change, (rule.id, "when"), mark, adds=True)
    applier.did.append(f"only where {part}")
    return rule.with_(when=(*rule.when, part))


def _widen(applier: Applier, change: ChangeFile, rule: RuleRecord) -> RuleRecord:
    part = applier.text(change.node, "widen")
    mark = change.node.key_mark("widen")
    if not rule.when:
        applier.warn(mark, f"rule {rule.id} applies everywhere already; `widen` changes nothing")
        return rule
    if any(p == part for _, p in rule.widened):
        applier.warn(mark, f"rule {rule.id} applies there already; `widen` changes nothing")
        return rule
    if len(rule.widened) >= MOST_WIDENED:
        applier.problem(
            mark,
            f"rule {rule.id} was widened {MOST_WIDENED} times already",
            found="one more",
            expected="`applies:` with the conditions as they are now meant",
        )
        return rule
    applier.touch(change, (rule.id, "when"), mark, adds=True)
    applier.did.append(f"also where {part}")
    return rule.with_(widened=(*rule.widened, (len(rule.when), part)))


def _exception(applier: Applier, change: ChangeFile, rule: RuleRecord) -> RuleRecord:
    held = change.exception
    assert held is not None
    mark = change.node.key_mark("exception")
    if any(p == held.when for p, _ in rule.unless):
        applier.warn(mark, f"rule {rule.id} has that exception already; nothing changes")
        return rule
    part = text_at(held.when, held.node, "when", applier.source, applier.origin)
    applier.touch(change, (rule.id, "exception"), mark, adds=True)
    note = held.note or change.reason
    applier.did.append(f"exception where {part}")
    return rule.with_(unless=(*rule.unless, (part, note)))
