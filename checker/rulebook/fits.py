"""What a change of an amendment may do to what, and whether it is said soundly."""

from __future__ import annotations

from .applier import Applier
from .records import ChangeFile

#: What a change may do, by what it does it to.
OF_RULE = (
    "set", "values", "narrow", "widen", "applies", "fails_as", "withdraw", "replace", "exception",
    "title", "cite",
)  # fmt: skip
OF_TABLE = ("cells", "add_rows", "remove_rows", "cite")
OF_SHARED = ("set",)
OWN = ("add", "forbid", "require")
#: What a change may be of, in words, and what it may do to that.
_NAMES = {"rule": "rule", "table": "table", "shared": "shared sheet"}
_FITS = {"rule": OF_RULE, "table": OF_TABLE, "shared": OF_SHARED}
ACTIONS = tuple(dict.fromkeys((*OF_RULE, *OF_TABLE, *OWN)))
#: These leave nothing of the rule for another action to change, but what stands beside each.
_WHOLE = {"withdraw": (), "replace": ("cite",)}


def target(change: ChangeFile) -> str:
    """The rule, table or shared sheet that a change names, or ""."""
    return change.rule or change.table or change.shared


def kind_of(change: ChangeFile) -> str:
    """`rule`, `table` or `shared`: what a change is of."""
    return next(iter(_named(change)), "rule")


def things(change: ChangeFile) -> tuple[str, ...]:
    """The names of the rules, of the table or of the sheet that a change touches."""
    if target(change):
        return (target(change),)
    held = (change.add, change.forbid, change.require)
    return tuple(str(file.rule) for file in held if file is not None)


def _named(change: ChangeFile) -> list[str]:
    """What a change names, by key."""
    return [key for key in _NAMES if getattr(change, key)]


def takes_back(applier: Applier, change: ChangeFile, actions: list[str]) -> bool:
    """Whether a change soundly takes back another; reports it where not."""
    node = change.node
    if actions == ["withdraw"] and change.withdraw and len(_named(change)) == 1:
        return True
    applier.problem(
        node.key_mark("amendment"),
        "`amendment` takes back what another amendment did to a rule or table",
        found="keys " + ", ".join(node),
        expected=f"`amendment: {change.amendment}`, `rule:`, `table:` or `shared:`, and "
        "`withdraw: true`; `supersedes:` says that a change knowingly replaces another "
        "amendment's",
        length=len("amendment"),
    )
    return False


def tell_nothing(applier: Applier, change: ChangeFile) -> None:
    """A change that changes nothing is an error."""
    applier.problem(
        change.node.mark,
        "this change changes nothing",
        found="keys " + ", ".join(change.node),
        expected="one of " + ", ".join(ACTIONS) + ", with a value",
    )


def sound(applier: Applier, change: ChangeFile, actions: list[str]) -> bool:
    """Whether what is done fits what it is done to; reports it where not."""
    node = change.node
    if not actions:
        tell_nothing(applier, change)
        return False
    named = _named(change)
    if len(named) > 1:
        applier.problem(
            node.key_mark(named[1]),
            "one change touches one rule, one table or one shared sheet",
            found=" and ".join(f"{key} {getattr(change, key)}" for key in named),
            expected="a change for each",
        )
        return False
    fit = _FITS[named[0]] if named else (*OWN, "values", "cite")
    wrong = [key for key in actions if key not in fit]
    if wrong:
        _misplaced(applier, change, wrong[0], named)
        return False
    for whole, beside in _WHOLE.items():
        others = [key for key in actions if key != whole and key not in beside]
        if whole in actions and others:
            applier.problem(
                node.key_mark(others[0]),
                f"`{whole}` leaves nothing for `{others[0]}` to change",
                found=", ".join(actions),
                expected=f"`{whole}` alone",
                length=len(others[0]),
            )
            return False
    if "values" in actions and change.add is not None:
        applier.problem(
            node.key_mark("values"),
            "a rule of the jurisdiction's own has its values inside it",
            found="`values` beside `add`",
            expected="`values:` below `add:`",
            length=len("values"),
        )
        return False
    return True


def _misplaced(applier: Applier, change: ChangeFile, key: str, named: list[str]) -> None:
    node = change.node
    mark, length = node.key_mark(key), len(key)
    if not named:
        what = "table" if key in OF_TABLE else "rule"
        applier.problem(
            mark,
            f"`{key}` does not say which {what} it changes",
            found=key,
            expected=f"`{what}:` with its name",
            length=length,
        )
    elif key in OWN:
        applier.problem(
            mark,
            f"`{key}` makes a rule of its own; it changes no {_NAMES[named[0]]}",
            found=f"`{key}` beside `{named[0]}: {getattr(change, named[0])}`",
            expected=f"a change of its own, without `{named[0]}:`",
            length=length,
        )
    else:
        other = "table" if key in OF_TABLE and key not in OF_RULE else "rule"
        applier.problem(
            mark,
            f"`{key}` changes a {other}, not a {_NAMES[named[0]]}",
            found=f"`{key}` beside `{named[0]}: {getattr(change, named[0])}`",
            expected=f"`{other}:` with its name",
            length=length,
        )
