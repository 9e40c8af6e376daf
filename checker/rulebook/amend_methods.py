"""Wiring methods that a jurisdiction forbids or requires, as a rule like any other."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from checker.assembly.records import CLASSES
from checker.documents.errors import nearest
from checker.documents.fields import fields_of
from checker.documents.nodes import Quoted

from .amend_values import new_values
from .draft import CasePart, Draft, Part, ValuePart
from .records import ChangeFile, MethodsFile

if TYPE_CHECKING:
    from .amend import Applier

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


def methods_draft(
    applier: Applier, change: ChangeFile, key: str, file: MethodsFile
) -> Draft | None:
    """The rule that ``forbid`` or ``require`` stands for; None after a report."""
    if not _sound(applier, file):
        return None
    node, source, origin = file.node, applier.source, applier.origin

    def part(value: Any) -> Part:
        return Part(value, source, node.value_mark("methods"), origin)

    forbids = key == "forbid"
    listed = "forbidden: {methods}" if forbids else "required: one of {methods}"
    case = CasePart(
        when=None,
        measure=part(
            "1 if this.method in methods else 0"
            if forbids
            else "0 if this.method in methods else 1"
        ),
        limit=part("0"),
        at_least=False,
        unit="count",
        require=None,
        fails_as="fail",
        message=part("{this.id} is {this.method}; " + listed),
        passes=part("{this.id} is {this.method}; " + listed),
        mend=(),
    )
    title = file.title or (
        "No raceway or cable is of a forbidden method"
        if forbids
        else "Every raceway and cable is of a required method"
    )
    methods = Part(
        file.methods,
        source,
        node.value_mark("methods"),
        origin,
        isinstance(node["methods"], Quoted),
    )
    return Draft(
        id=str(file.rule),
        title=part(title),
        topic="wiring methods",
        classes=_CLASSES,
        why=change.reason,
        note="",
        at="method",
        when=() if file.where is None else (applier.part(node, "where"),),
        values={
            "methods": ValuePart(methods, "text", change.reference, change.reason),
            **new_values(applier, change),
        },
        steps={},
        cases=(case,),
        fails_as="fail",
        fails_as_origin=origin,
        cite=part(change.cite or applier.words(change)),
        cites={},
        sources=(),
        effective=None,
        status="in_use",
        file=source.path,
        source=source,
        mark=node.mark,
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
