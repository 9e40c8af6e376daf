"""Fixes that say which fields they set, so that they can be applied and judged again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from checker.assembly.records import Record
from checker.language.types import List, Type
from checker.language.unknown import Unknown
from checker.language.worked import default_unit

from .detail import Explainer
from .finding import Finding

if TYPE_CHECKING:
    from checker.rulebook.forms import Fix


@dataclass(frozen=True, slots=True)
class Repair:
    """One fix.

    fix: the rule's entry; say: its words; elements: whose fields it sets; new: texts, or lists, by
    key.
    """

    fix: Fix
    say: str
    elements: tuple[Record, ...]
    new: dict[str, Any]

    def apply(self) -> None:
        """Write the new values into the nodes that the elements were read from."""
        for element in self.elements:
            element.node.update(self.new)


def repairs(finding: Finding, explainer: Explainer) -> list[Repair]:
    """The useful fixes of a finding that say which fields they set."""
    found = []
    for fix, say, names in explainer.useful(finding):
        of = finding.subject if fix.of is None else names.attempt(fix.of)
        new = {key: (names.attempt(c), c.kind) for key, c in fix.set}
        if not new or any(isinstance(v, Unknown) for v in (of, *(v for v, _ in new.values()))):
            continue
        elements = tuple(dict.fromkeys(of if isinstance(of, (list, tuple)) else [of]))
        if elements and all(isinstance(element, Record) for element in elements):
            texts = {key: written(value, kind) for key, (value, kind) in new.items()}
            found.append(Repair(fix, say, elements, texts))
    return found


def written(value: Any, kind: Type) -> Any:
    """A value as a file states it: text, or a list of texts."""
    if isinstance(value, (list, tuple)):
        item = kind.item if isinstance(kind, List) else kind
        return [written(one, item) for one in value]
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return f"{value!r} {default_unit(kind)}".strip()
    return str(value)
