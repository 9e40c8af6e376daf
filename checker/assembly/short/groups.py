"""Groups: elements described once, with the parameters that differ between placements."""

from __future__ import annotations

from dataclasses import dataclass

from checker.documents.errors import nearest
from checker.documents.nodes import Mapping, Sequence

from .files import base_of
from .kinds import COLLECTIONS, GROUPED, shared_names
from .problems import Notes
from .scope import Scope, elements, is_name, names_of
from .shelf import is_parameter, mapping_of, texts_within
from .template import Compiler, Made, Template

_KEYS = ("takes", *GROUPED)


@dataclass(frozen=True, slots=True)
class Group:
    """A group, ready to be placed.

    takes: every parameter with its default, None where it has none; used: how often each stands in
    it; templates: its elements, each with its collection; weight: what one placement comes to,
    without its arguments.
    """

    name: str
    takes: dict[str, Made | None]
    used: dict[str, int]
    templates: tuple[tuple[str, Template], ...]
    weight: int


def make_group(
    name: str, node: Mapping, whole: dict[str, dict[str, Mapping]], compiler: Compiler
) -> Group:
    """Work out a group; ``whole`` has the design's own elements by class and id."""
    notes = compiler.notes
    _refuse_keys(name, node, notes)
    takes = _takes(name, node, notes)
    scope = Scope(name, tuple(takes), names_of(node))
    _refuse_names(scope, whole, notes)
    templates = []
    for key in GROUPED:
        kind = COLLECTIONS[key]
        for one in elements(node, key):
            templates.append((key, compiler.template(one, kind, scope)))
        value = node.get(key)
        if value is not None and not isinstance(value, (Mapping, Sequence)):
            message = f"`{key}` of group `{name}` cannot be read"
            notes.add(node.value_mark(key), message, found=str(value)[:200], expected="a list")
        elif isinstance(value, Sequence):
            _refuse_items(key, value, name, notes)
    for unused in [one for one in takes if one not in scope.used]:
        message = f"group `{name}` takes `{unused}` and does not use it"
        expected = f"`${unused}` as a value in the group, or no such parameter"
        close = nearest(unused, _written(node)) or ""
        mark = node["takes"].key_mark(unused)
        notes.add(mark, message, found=unused, expected=expected, suggestion=close)
    weight = sum(one.weight for _, one in templates)
    return Group(name, takes, dict(scope.used), tuple(templates), weight)


def _written(node: Mapping) -> list[str]:
    return [value[1:] for value, _ in texts_within(node) if is_parameter(value)]


def _refuse_keys(name: str, node: Mapping, notes: Notes) -> None:
    for key in node:
        if key in _KEYS:
            continue
        if key == "place":
            message, expected = f"group `{name}` places a group", "`place:` of the design alone"
        else:
            message = f"unknown key `{key[:200]}` in group `{name}`"
            expected = "one of " + ", ".join(_KEYS)
        close = nearest(key, _KEYS) or ""
        notes.add(
            node.key_mark(key),
            message,
            found=key[:200],
            expected=expected,
            suggestion=close,
            length=len(key),
        )


def _refuse_items(key: str, value: Sequence, name: str, notes: Notes) -> None:
    for at, one in enumerate(value):
        if not isinstance(one, Mapping):
            message = f"an item of `{key}` of group `{name}` cannot be read"
            found = "nothing" if one is None else str(one)[:200]
            notes.add(value.value_mark(at), message, found=found, expected="keys with values")


def _takes(name: str, node: Mapping, notes: Notes) -> dict[str, Made | None]:
    """The parameters with their defaults and the places of these."""
    found: dict[str, Made | None] = {}
    takes = mapping_of(node, "takes", notes, "parameters with their defaults, or nothing")
    if takes is None:
        return found
    base = base_of(takes.source)
    for at, (parameter, default) in enumerate(takes.items()):
        if not is_name(parameter):
            message = f"group `{name}` takes a parameter that cannot be written"
            expected = "a name of small letters, digits and underscores"
            notes.add(takes.key_mark(parameter), message, found=parameter[:200], expected=expected)
        found[parameter] = None if default is None else (default, base + takes.places[2 * at + 2])
    for value, mark in texts_within(takes):
        if is_parameter(value):
            message = f"a default of group `{name}` is a parameter"
            notes.add(mark, message, found=value[:200], expected='a value; "$…" in quotes is text')
    return found


def _refuse_names(scope: Scope, whole: dict[str, dict[str, Mapping]], notes: Notes) -> None:
    """A name means one thing: it is the group's or the design's."""
    for kind, names in scope.names.items():
        for name, one in names.items():
            if name == "field" and kind in shared_names("box"):
                message = "`field` means the end completed on site and cannot be a name"
                mark = one.value_mark("id")
                notes.add(mark, message, found=name, expected="another name")
                continue
            for other in shared_names(kind):
                if name in whole.get(other, ()):
                    first = whole[other][name].value_mark("id")
                    notes.add(
                        one.value_mark("id"),
                        f"`{name[:200]}` is in group `{scope.group}` and in the design",
                        found=f"a {kind}; the {other} stands on line {first.line}",
                        expected="names in a group that the design does not have",
                        length=len(name),
                    )
