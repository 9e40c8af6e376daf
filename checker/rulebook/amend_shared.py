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
    users = {d.id: d for d in book.drafts.values() if sheet.name in d.uses}
    done: dict[str, list[str]] = {}
    for name, raw in change.set.items():
        if name not in sheet.values:
            no_value(applier, change, f"sheet {sheet.name}", sheet.values, name)
            continue
        told = len(applier.did)
        borrowing = [draft for draft in users.values() if name in draft.borrowed]
        own = [d for d in borrowing if d.values[name].part is not sheet.values[name].part]
        new = new_value(applier, change, sheet.name, sheet.values[name], name, raw, told=not own)
        if new is None and not own:
            continue
        if new is not None:
            applier.touch(change, (f"sheet {sheet.name}", name), new.part.mark)
            sheet = book.sheets.change(sheet, name, new)
            book.sheet_words[new.part] = applier.words(change)
        words = applier.did[told:]
        for draft in borrowing:
            changed = sheet.values[name]
            if draft in own:
                # Another change gave this rule a value of its own, which this one takes away.
                applier.touch(change, (draft.id, name), change.node["set"].value_mark(name))
            elif new is None:
                continue
            users[draft.id] = draft.with_(values={**draft.values, name: changed})
            done.setdefault(draft.id, []).extend(words or [f"{name} as in sheet {sheet.name}"])
    for name, said in done.items():
        applier.did[:] = said
        applier.finish(change, users[name])
    if applier.did and not done:
        applier.acted.append(f"changes sheet {sheet.name}: {'; '.join(applier.did)}")
