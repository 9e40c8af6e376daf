"""Values of a shared sheet, amended for every rule that uses them."""

from __future__ import annotations

from dataclasses import replace

from checker.documents.errors import nearest

from .amend_values import new_value, no_value
from .applier import Applier
from .records import ChangeFile


def change_shared(applier: Applier, change: ChangeFile) -> None:
    """Set values of a sheet, and of the rules that have borrowed them.

    A rule that an amendment adds later borrows the changed value.
    """
    book = applier.book
    known = book.sheets.all()
    sheet = known.get(change.shared)
    if sheet is None:
        applier.problem(
            change.node.value_mark("shared"),
            f"there is no shared sheet `{change.shared}`",
            found=change.shared,
            expected="one of " + ", ".join(known) if known else "`rule:` with the rule to change",
            suggestion=nearest(change.shared, known) or "",
            length=len(change.shared),
        )
        return
    users = book.rules.using(sheet.name)
    done: dict[str, list[str]] = {}
    for name, raw in change.set.items():
        if name not in sheet.values:
            no_value(applier, change, f"sheet {sheet.name}", sheet.values, name)
            continue
        told = len(applier.did)
        borrowing = [rule for rule in users.values() if name in rule.borrowed]
        own = [r for r in borrowing if r.values[name].part is not sheet.values[name].part]
        new = new_value(applier, change, sheet.name, sheet.values[name], name, raw, told=not own)
        if new is None and not own:
            continue
        if new is not None:
            applier.touch(change, (f"sheet {sheet.name}", name), new.part.mark)
            new = replace(new, amended=applier.words(change))
            sheet = book.sheets.change(sheet, name, new)
        words = applier.did[told:]
        for rule in borrowing:
            changed = sheet.values[name]
            if rule in own:
                # Another change gave this rule a value of its own, which this one takes away.
                applier.touch(change, (rule.id, name), change.node["set"].value_mark(name))
            elif new is None:
                continue
            users[rule.id] = rule.with_(values={**rule.values, name: changed})
            done.setdefault(rule.id, []).extend(words or [f"{name} as in sheet {sheet.name}"])
    for name, said in done.items():
        applier.did[:] = said
        applier.finish(change, users[name])
    if applier.did and not done:
        applier.acted.append(f"changes sheet {sheet.name}: {'; '.join(applier.did)}")
