"""Reads records from a document: every problem of a file is found in one pass.

The records' own field declarations say what is allowed (``fields_of``); nothing is declared twice.
A value that cannot be read is reported with its place and replaced by the field's default, so that
one mistake does not hide the next.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from checker.quantities.dimension import NONE
from checker.quantities.notation import NotationError, quantity

from .errors import Mark, nearest
from .expected import MAX_NAME, dimension_words, expected, first_key, kind_words
from .fields import POSITIVE, REQUIRED, Field, Form, closed
from .forms import FORM_WORDS, FORMS
from .loader import Document, Mapping, Sequence
from .problems import Problems
from .shapes import BAD as _BAD
from .shapes import Plan, Shape, Step
from .trade_words import TRADE_WORDS

_MOST_SEEN = 2000  # values of one field that are remembered
_MAX_TEXT = 5000  # characters of a title, a reason, a note


class Reader(Problems):
    """Reads one document; ``problems`` collects what is wrong with it.

    ``classes`` resolves the names of record classes used in declarations.  ``keep_open``: the
    records can be written to until ``close``, for facts that are found when all of them are there.
    """

    def __init__(
        self, document: Document, classes: dict[str, type], *, keep_open: bool = False
    ) -> None:
        super().__init__(document)
        self._keep_open = keep_open
        self._made: list[Any] = []
        self._classes = classes

    def root(self, record: type, what: str) -> Any:
        """Read the whole document as one record."""
        node = self.document.root
        if not isinstance(node, Mapping):
            mark = node.mark if isinstance(node, Sequence) else Mark(1, 1)
            self.report(
                mark,
                f"{what} is written as keys with values",
                found=kind_words(node),
                expected=f"a mapping that starts with `{first_key(record)}:`",
            )
            self.finish()
        made = self.record(record, node, "")
        if not self._keep_open:
            self.close()
        return made

    def close(self) -> None:
        """Freeze every record."""
        for made in self._made:
            closed(made)
        self._made.clear()

    def record(self, record: type, node: Mapping, where: str) -> Any:
        """Read one record from a mapping; ``where`` names it in messages."""
        plan = _plan(record)
        keys = tuple(node)
        shape = plan.shapes.get(keys)
        if shape is None:
            shape = plan.shape(keys)
        made = plan.new()
        self._made.append(made)
        if shape.code is not None:
            shape.code(self, node, made)
            return made
        meant = self._wrong_keys(node, plan, shape, where) if shape.wrong else {}
        made.node = node
        for name, default in shape.defaults:
            setattr(made, name, default)
        for step, (key, value) in zip(shape.steps, node.items(), strict=True):
            if step is None and isinstance(value, (Mapping, Sequence)) and key in meant:
                # Read as what was meant: what refers to it is not wrong for being misspelt here.
                step = plan.step(meant[key])
            if step is not None:
                setattr(made, step.field.name, self.one(step, value, node, key))
        shape.used()
        return made

    def one(self, step: Step, value: Any, node: Mapping, key: str) -> Any:
        """Read one value of a mapping; what cannot be read is reported and left at its default."""
        field, seen = step.field, step.seen
        if seen is not None and type(value) is str:
            # The same few sizes, kinds and angles come again and again: each is read once.
            result = seen.get(value, _BAD)
            if result is not _BAD:
                return result
        if value is None:
            self._empty(field, node, key)
            return None if field.default is REQUIRED else field.default
        result = step.read(self, field, value, node, key)
        if result is _BAD:
            return None if field.default is REQUIRED else field.default
        if seen is not None and type(value) is str:
            if len(seen) >= _MOST_SEEN:
                seen.clear()
            seen[value] = result
        return result

    def _empty(self, field: Field, node: Mapping, key: str) -> None:
        """An empty value of an optional field means what leaving it out means."""
        if field.default is REQUIRED:
            mark = node.key_mark(key)
            line = self.document.source.line(mark.line)[mark.column - 1 :]
            comment = line.partition(":")[2].lstrip().startswith("#")
            self.report(
                mark,
                f"`{key}` is empty",
                found="nothing: `#` starts a comment" if comment else "nothing",
                expected=expected(field) + (", in quotes if it starts with `#`" if comment else ""),
                length=len(key),
            )

    def _wrong_keys(self, node: Mapping, plan: Plan, shape: Shape, where: str) -> dict[str, str]:
        """Report unknown and lacking keys; the keys that the unknown ones are meant for."""
        name = node.get("id")
        where = f"`{name}`" if name else where
        meant = {key: self._unknown_key(node, key, plan, where) for key in shape.unknown}
        for field in shape.lacking:
            if field.key in meant.values():
                continue  # it is there, misspelt
            self.report(
                node.mark,
                f"{where or plan.what} lacks `{field.key}`",
                found="keys " + ", ".join(list(node)[:8]) if node else "an empty mapping",
                expected=f"`{field.key}:` with {expected(field)}",
            )
        return {key: close for key, close in meant.items() if close and close not in node}

    def value(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        """Read one value by its field's declaration; ``_BAD`` where it cannot be read."""
        return _READERS[field.kind](self, field, value, node, key)

    def _unknown_key(self, node: Mapping, key: str, plan: Plan, where: str) -> str | None:
        """Report an unknown key; the known one that was meant, perhaps."""
        renamed = plan.renamed.get(key)
        if renamed is not None:
            message = f"`{key}:` is written otherwise now"
            self.report_key(node, key, message, found=f"`{key}:`", expected=renamed)
            return renamed.partition(":")[0].strip("`")
        free = [name for name in plan.by_key if name not in node]
        close = nearest(key, free) or nearest(key, plan.by_key)
        self.report_key(
            node,
            key,
            f"unknown key `{key[:MAX_NAME]}` in {where or plan.what}",
            found=key[:MAX_NAME],
            expected="one of " + ", ".join(plan.by_key),
            suggestion=close or "",
        )
        return close

    def wrong(self, field: Field, value: Any, node: Any, key: Any, suggestion: str = "") -> Any:
        """Report a value of the wrong kind."""
        text = value if isinstance(value, str) else kind_words(value)
        self.report_value(
            node,
            key,
            f"`{field.key or field.name}` cannot be read",
            found=text[:MAX_NAME],
            expected=expected(field),
            suggestion=suggestion,
        )
        return _BAD

    def too_long(self, field: Field, value: str, node: Any, key: Any) -> Any:
        """Report a text that no report could hold."""
        self.report(
            node.value_mark(key),
            f"`{field.key or field.name}` is too long",
            found=f"{len(value)} characters",
            expected=f"{_MAX_TEXT} at most",
        )
        return _BAD

    def _number(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        if not isinstance(value, str):
            return self.wrong(field, value, node, key)
        try:
            read = quantity(value, field.dimension or NONE).value
        except NotationError as error:
            self.report_value(
                node,
                key,
                f"`{field.key}` cannot be read as {dimension_words(field)}",
                found=error.found or value[:MAX_NAME],
                expected=error.expected,
                suggestion=error.suggestion or "",
            )
            return _BAD
        if read < 0 and not field.signed:
            # A bend of -90° or a ring of -3 in³ would make up for what others take.
            self.report_value(
                node,
                key,
                f"`{field.key}` cannot be negative",
                found=value[:MAX_NAME],
                expected=f"{dimension_words(field)} of zero or more",
            )
            return _BAD
        return read

    def _whole(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        if isinstance(value, str) and value.isascii() and value.isdigit() and len(value) < 10:
            number = int(value)
            if number or field.form is not POSITIVE:
                return number
        return self.wrong(field, value, node, key)

    def _flag(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        if type(value) is str and value in _FLAGS:
            return _FLAGS[value]
        suggestion = ""
        if isinstance(value, str):
            suggestion = {"yes": "true", "on": "true", "no": "false", "off": "false"}.get(
                value.lower(), ""
            )
        return self.wrong(field, value, node, key, suggestion)

    def _text(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        if not isinstance(value, str):
            return self.wrong(field, value, node, key)
        if len(value) > _MAX_TEXT:
            return self.too_long(field, value, node, key)
        if field.options and value not in field.options:
            known = TRADE_WORDS.get(value.lower(), "")
            near = known if known in field.options else nearest(value, field.options)
            return self.wrong(field, value, node, key, near or "")
        return value if type(value) is str else str(value)

    def _record(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        record = self._class(field)
        if not isinstance(value, Mapping):
            short = getattr(record, "SHORT", "")
            if short and isinstance(value, (str, Sequence)):
                value = Mapping.of(short, value, node.value_mark(key))
            else:
                return self.wrong(field, value, node, key)
        return self.record(record, value, f"`{key}`" if isinstance(key, str) else "")

    def _class(self, field: Field) -> type:
        return self._classes[field.record]

    def _list(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        item = field.item
        assert item is not None
        if not isinstance(value, Sequence):
            if item.kind == "record" and (
                isinstance(value, Mapping) or hasattr(self._class(item), "SHORT")
            ):
                return (self._record(item, value, node, key),)
            if isinstance(value, str) and item.kind in ("text", "form"):
                single = self.value(item, value, node, key)
                return _BAD if single is _BAD else (single,)
            return self.wrong(field, value, node, key)
        if item.kind == "record":
            record = self._class(item)
            short = getattr(record, "SHORT", "")
            out = []
            singular = f"an item of `{field.key}`"
            plan = _plan(record)
            for index, entry in enumerate(value):
                if type(entry) is Mapping:
                    shape = plan.shapes.get(tuple(entry))
                    if shape is None or shape.code is None:
                        out.append(self.record(record, entry, singular))
                    else:
                        made = plan.new()
                        self._made.append(made)
                        shape.code(self, entry, made)
                        out.append(made)
                elif short and isinstance(entry, (str, Sequence)):
                    made = Mapping.of(short, entry, value.value_mark(index))
                    out.append(self.record(record, made, singular))
                else:
                    self.wrong(item, entry, value, index)
            return tuple(out)
        read = _READERS[item.kind]
        results = [read(self, item, entry, value, index) for index, entry in enumerate(value)]
        return tuple(result for result in results if result is not _BAD)

    def _map(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        item = field.item
        assert item is not None
        if not isinstance(value, Mapping):
            return self.wrong(field, value, node, key)
        out = {}
        for name, entry in value.items():
            if entry is None:
                self.report_key(
                    value, name, f"`{name}` is empty", found="nothing", expected=expected(item)
                )
                continue
            if field.names is not None:
                self._name(field.names, name, value)
            result = self.value(item, entry, value, name)
            if result is not _BAD:
                out[str(name)] = result
        return out

    def _name(self, form: Form, name: str, node: Mapping) -> None:
        """Report a key of a mapping that may not be called so."""
        try:
            FORMS[form.name](name)
        except NotationError as error:
            self.report_key(node, name, "not a name", found=error.found, expected=error.expected)

    def _form(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        assert field.form is not None
        if (
            not isinstance(value, str)
            or not value
            or (len(value) > MAX_NAME and (field.form.name in ("identifier", "reference")))
        ):
            return self.wrong(field, "an empty text" if value == "" else value, node, key)
        if len(value) > _MAX_TEXT:
            return self.too_long(field, value, node, key)
        check = FORMS.get(field.form.name)
        if check is None:
            return value if type(value) is str else str(value)
        try:
            return check(value)
        except NotationError as error:
            self.report_value(
                node,
                key,
                f"`{field.key or field.name}` cannot be read",
                found=error.found or value[:MAX_NAME],
                expected=error.expected or FORM_WORDS[field.form.name],
                suggestion=error.suggestion or "",
            )
            return _BAD

    def _any(self, field: Field, value: Any, node: Any, key: Any) -> Any:
        return value


_FLAGS = {"true": True, "false": False, "True": True, "False": False}


@cache
def _plan(record: type) -> Plan:
    """How a class of record is read; it is the same for every file."""
    return Plan(record, _READERS, FORMS)


_READERS: dict[str, Callable[..., Any]] = {
    "number": Reader._number,
    "whole": Reader._whole,
    "flag": Reader._flag,
    "text": Reader._text,
    "record": Reader._record,
    "list": Reader._list,
    "map": Reader._map,
    "form": Reader._form,
    "any": Reader._any,
}
