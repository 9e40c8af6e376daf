"""Wiring methods that a jurisdiction forbids or requires, as a rule like any other."""

from __future__ import annotations

from checker.assembly.records import CLASSES
from checker.documents.errors import nearest
from checker.documents.fields import fields_of
from checker.documents.nodes import Mapping

from .amend_values import new_values
from .applier import Applier
from .part import Text, given_at, text_at
from .records import ChangeFile, MethodsFile
from .rule import RuleRecord
from .rule_parts import Case, Value

_CLASSES = ("raceway", "cable")


def known_methods() -> tuple[str, ...]:
    """Every wiring method that a raceway or cable may have."""
    return tuple(
        option
        for name in _CLASSES
        for item in fields_of(CLASSES[name])
        if item.name == "method"
        for option in item.options
    )


def methods_rule(
    applier: Applier, change: ChangeFile, key: str, file: MethodsFile
) -> RuleRecord | None:
    """The rule that ``forbid`` or ``require`` stands for; None after a report."""
    if not _sound(applier, file):
        return None
    node, source, origin = file.node, applier.source, applier.origin

    def text(words: str) -> Text:
        return text_at(words, node, "methods", source, origin)

    forbids = key == "forbid"
    found, otherwise = ("1", "0") if forbids else ("0", "1")
    listed = "forbidden: {methods}" if forbids else "required: one of {methods}"
    says = text("{this.id} is {this.method}; " + listed)
    title = (
        "No raceway or cable is of a forbidden method"
        if forbids
        else "Every raceway and cable is of a required method"
    )
    return RuleRecord(
        node=node,
        source=source,
        origin=origin,
        fails_as_origin=origin,
        rule=str(file.rule),
        title=text(file.title or title),
        topic="wiring methods",
        each=_CLASSES,
        why=change.reason,
        at="method",
        when=() if file.where is None else (applier.text(node, "where"),),
        values={
            "methods": Value(
                is_=file.methods,
                part=given_at(file.methods, node, "methods", source, origin),
                as_="text",
                cite=change.reference,
                note=change.reason,
            ),
            **new_values(applier, change),
        },
        steps={},
        formulas={},
        judge=(
            Case(
                when=None,
                node=Mapping.made({"unit": "count"}, node.value_mark("methods")),
                measure=text(f"{found} if this.method in methods else {otherwise}"),
                limit=text("0"),
                unit="count",
                fails_as="fail",
                message=says,
                passes=says,
                require=None,
                fixes=(),
            ),
        ),
        cite=text(change.cite or applier.words(change)),
    )


def _sound(applier: Applier, file: MethodsFile) -> bool:
    """Whether every method is one that an assembly can have; a slip would forbid nothing."""
    known = known_methods()
    raw = file.node["methods"]
    sound = bool(file.methods)
    for index, name in enumerate(file.methods):
        if name in known:
            continue
        mark = file.node.value_mark("methods") if isinstance(raw, str) else raw.value_mark(index)
        applier.problem(
            mark,
            f"no raceway or cable has the method `{name}`",
            found=name,
            expected="one of " + ", ".join(known),
            suggestion=nearest(name, known) or "",
            length=len(name),
        )
        sound = False
    if not file.methods:
        applier.problem(
            file.node.value_mark("methods"),
            "no method is named",
            found="an empty list",
            expected="one of " + ", ".join(known),
        )
    return sound
