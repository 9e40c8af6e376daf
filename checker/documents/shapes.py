"""How mappings of the same keys are read: worked out once, and as code of their own where it pays.

A large file holds thousands of wires and bends with the same few keys.  After some of them, the
steps of reading one are put together as a function without loops; it does what ``Reader.record``
does, and leaves every value that is not plainly right to ``Reader.one``.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from .fields import IDENTIFIER, REQUIRED, Field, given_fields, opened

#: So many mappings of a shape are read before code is made for it, which takes as long as that.
_WORTH_IT = 60
_MOST_SHAPES = 500  # of one record class that are kept; unknown keys make any number of them
_SHORT = 200  # characters of a plain text that need no look at the limits


class Bad:
    """What cannot be read."""

    __slots__ = ()


BAD: Any = Bad()


class Step:
    """How a field is read.

    ``seen``: what values of it were read already, where the same ones recur; ``plain``: whether
    letters and digits need no look.
    """

    __slots__ = ("field", "plain", "read", "seen")

    def __init__(
        self,
        field: Field,
        read: Callable[..., Any],
        seen: dict[str, Any] | None,
        *,
        plain: bool,
    ) -> None:
        self.field = field
        self.read = read
        self.seen = seen
        self.plain = plain


class Shape:
    """What reading a mapping with certain keys comes to.

    steps: one for each key, None for an unknown one; defaults: name and default of every field
    that the keys leave out (derived facts are left to whoever derives them); code: a function of
    reader, mapping and record, once there is one.
    """

    __slots__ = ("code", "defaults", "lacking", "steps", "unknown", "uses")

    def __init__(self, plan: Plan, keys: tuple[str, ...]) -> None:
        left_out = [item for item in plan.by_key.values() if item.key not in keys]
        self.steps = tuple([plan.step(key) for key in keys])
        self.defaults = tuple(
            [(i.name, None if i.default is REQUIRED else i.default) for i in left_out]
        )
        self.unknown = tuple([key for key in keys if key not in plan.by_key])
        self.lacking = tuple([item for item in left_out if item.default is REQUIRED])
        self.code: Callable[..., None] | None = None
        self.uses = 0

    @property
    def wrong(self) -> bool:
        """Whether keys are unknown or lacking."""
        return bool(self.unknown or self.lacking)

    def used(self) -> None:
        """One mapping of this shape more was read."""
        self.uses += 1
        if self.uses == _WORTH_IT and self.steps and not self.wrong:
            self.code = _code([step for step in self.steps if step is not None], self.defaults)


class Plan:
    """What reading one record class needs, prepared once."""

    def __init__(
        self, record: type, readers: dict[str, Callable[..., Any]], forms: dict[str, Any]
    ) -> None:
        self.readers = readers
        self.forms = forms
        self.by_key = {item.key: item for item in given_fields(record)}
        self.renamed: dict[str, str] = getattr(record, "RENAMED", {})
        self.new = partial(object.__new__, opened(record))
        self.shapes: dict[tuple[str, ...], Shape] = {}
        self._steps: dict[str, Step] = {}
        called = getattr(record, "CALLED", record.__name__)
        name = "".join(" " + c.lower() if c.isupper() else c for c in called).strip()
        self.what = ("an " if name[0] in "aeiou" else "a ") + name

    def shape(self, keys: tuple[str, ...]) -> Shape:
        """The shape of a mapping with these keys, made and kept."""
        if len(self.shapes) >= _MOST_SHAPES:
            self.shapes.clear()
        made = self.shapes[keys] = Shape(self, keys)
        return made

    def step(self, key: str) -> Step | None:
        """How the field of a key is read; None where there is no such field."""
        item = self.by_key.get(key)
        if item is None:
            return None
        if key not in self._steps:
            form = item.form.name if item.kind == "form" and item.form is not None else ""
            recurs = (
                bool(form and form in self.forms and item.form is not IDENTIFIER)
                or item.kind in ("number", "whole", "flag")
                or bool(item.options)
            )
            plain = not recurs and (item.kind == "text" or bool(form))
            self._steps[key] = Step(
                item, self.readers[item.kind], {} if recurs else None, plain=plain
            )
        return self._steps[key]


def _code(steps: list[Step], defaults: tuple[tuple[str, Any], ...]) -> Callable[..., None]:
    """A function that reads a mapping of these fields, in this order, into a record."""
    space: dict[str, Any] = {"BAD": BAD}
    values = "".join(f"v{place}, " for place in range(len(steps)))
    lines = ["def read(reader, node, made):", " made.node = node", f" {values}= node.values()"]
    for place, (name, default) in enumerate(defaults):
        space[f"d{place}"] = default
        lines.append(f" made.{name} = d{place}")
    for place, step in enumerate(steps):
        space[f"s{place}"] = step
        name, value = step.field.name, f"v{place}"
        whole = f"reader.one(s{place}, {value}, node, {step.field.key!r})"
        if step.seen is not None:
            space[f"k{place}"] = step.seen
            lines += [
                f" found = k{place}.get({value}, BAD) if {value}.__class__ is str else BAD",
                f" made.{name} = found if found is not BAD else {whole}",
            ]
        elif step.plain:
            # Letters and digits are a name, a reference or a text, whichever is asked for.
            test = f"{value}.__class__ is str and {value}.isalnum() and len({value}) < {_SHORT}"
            lines.append(f" made.{name} = {value} if {test} else {whole}")
        else:
            lines.append(f" made.{name} = {whole}")
    exec(compile("\n".join(lines), "<reading>", "exec"), space)
    done: Callable[..., None] = space["read"]
    return done
