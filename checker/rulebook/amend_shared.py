"""Values of a shared sheet, amended for every rule that uses them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from checker.documents.errors import nearest

from .amend_values import new_value, no_value
from .records import ChangeFile

if TYPE_CHECKING:
    from .amend import Applier


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
    users = [d for d in book.drafts.values() if sheet.name in d.uses]
    done: dict[str, list[str]] = {}
    for name, raw in change.set.items():
        if name not in sheet.values:
            no_value(applier, change, f"sheet {sheet.name}", sheet.values, name)
            continue
        told = len(applier.did)
        new = new_value(applier, change, sheet.name, sheet.values[name], name, raw)
        if new is None:
            continue
        words = applier.did[told:]
        applier.touch(change, (f"sheet {sheet.name}", name), new.part.mark)
        sheet = book.sheets.change(sheet, name, new)
        for place, draft in enumerate(users):
            if name in draft.borrowed:
                applier.touch(change, (draft.id, name), new.part.mark)
                users[place] = draft.with_(values={**draft.values, name: new})
                done.setdefault(draft.id, []).extend(words)
    for draft in users:
        if draft.id in done:
            applier.did[:] = done[draft.id]
            applier.finish(change, draft)
    if applier.did and not done:
        applier.acted.append(f"changes sheet {sheet.name}: {'; '.join(applier.did)}")
