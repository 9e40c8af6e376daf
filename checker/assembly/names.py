"""The names of an assembly's elements, and the references that its fields declare to them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from checker.documents.errors import Mark, nearest
from checker.documents.fields import Field, Form
from checker.documents.missing import Missing
from checker.documents.places import Place, place_of
from checker.documents.problems import Problems

from .records import RECORDS, Assembly

FIELD = "field"


class Names(dict[str, Any]):
    """Elements by their names.  ``nameless`` is the line of the first that lacks its id."""

    __slots__ = ("nameless",)

    def __init__(self, known: dict[str, Any] | None = None) -> None:
        super().__init__(known or {})
        self.nameless: int | None = None

    def keep(self, group: Iterable[Any], problems: Problems) -> None:
        """Add elements by their ids; report names that are there already."""
        for element in group:
            name = element.id
            if name is None:
                if self.nameless is None:
                    self.nameless = element.node.mark.line
                continue
            earlier = self.get(name)
            if earlier is None:
                self[name] = element
                continue
            message = f"duplicate id `{name}`"
            expected = "a name of its own for every element"
            if earlier is FIELD:
                message = "`field` means the end completed on site and cannot be a name"
                found, expected = name, "another name"
            else:
                first = mark_of(earlier, "id")
                found = f"`{name}` again; first on line {first.line}, column {first.column}"
            mark = mark_of(element, "id")
            problems.report(mark, message, found=found, expected=expected, length=len(name))


def check_references(
    assembly: Assembly, names_of: Callable[[str], Names], problems: Problems
) -> None:
    """Report every name that names nothing; ``names_of`` gives what a declared target may name."""
    _check(_REFERENCES, (assembly,), names_of, problems)


def _check(
    place: Place, elements: Any, names_of: Callable[[str], Names], problems: Problems
) -> None:
    for field in place.fields:
        target = _reference(field)
        assert target is not None
        names, name = names_of(target.target), field.name
        what = phrase(target.target)
        for element in elements:
            value = getattr(element, name)
            if type(value) is str and value not in names:
                refuse(element, field.key, value, names, what, problems)
            elif type(value) is tuple and not names.keys() >= set(value):
                for index, one in enumerate(value):
                    if one not in names:
                        mark = item_mark(element, field.key, index)
                        refuse(element, field.key, one, names, what, problems, mark)
    for name, several, inner in place.inner:
        held = [getattr(element, name) for element in elements]
        if several:
            held = [one for some in held if type(some) is tuple for one in some]
        _check(inner, held, names_of, problems)


def refuse(
    element: Any,
    key: str,
    name: str,
    names: Names,
    what: str,
    problems: Problems,
    mark: Mark | None = None,
) -> None:
    """Report a name that is none of ``names``, which are ``what``."""
    ids = [one for one in names if one != FIELD]
    sample = ", ".join(ids[:12]) + (", …" if len(ids) > 12 else "") or "none is declared"
    thing = what
    if FIELD in names:
        thing, what = "an end", what + " or `field`"
    if names.nameless is not None:
        sample += f"; or perhaps the one on line {names.nameless}, which lacks its id"
    problems.report(
        element.node.value_mark(key) if mark is None else mark,
        f"`{key}` names {thing} that is not in the file",
        found=name,
        expected=f"the id of {what}: {sample}",
        suggestion=nearest(name, names) or "",
        length=len(name),
    )


def phrase(target: str) -> str:
    """What a declared target may name, in words: ``a raceway or cable``."""
    kinds = [kind for kind in target.split("|") if kind != FIELD]
    if FIELD in target.split("|"):
        return ", ".join(f"a {kind}" for kind in kinds)
    return "a " + " or ".join(kinds)


def mark_of(element: Any, key: str) -> Mark:
    """The place of a key's value, or of the element where it does not have the key."""
    node = element.node
    mark: Mark = node.value_mark(key) if key in node else node.mark
    return mark


def item_mark(element: Any, key: str, index: int) -> Mark:
    """The place of one item of a list, or of the value where it was written without a list."""
    value = element.node.get(key)
    if hasattr(value, "value_mark"):
        mark: Mark = value.value_mark(index)
        return mark
    return mark_of(element, key)


def stated(value: Any) -> bool:
    """Whether a field holds a value."""
    return type(value) is not Missing and value is not None


def _reference(field: Field) -> Form | None:
    """The reference that a field declares, or each item of its list, to any of its target."""
    form = (field.item or field).form
    return form if form is not None and form.target and not form.narrower else None


_REFERENCES = place_of(
    Assembly,
    RECORDS,
    lambda field: _reference(field) is not None,
)
