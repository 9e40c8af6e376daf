"""Makes a JSON Schema (2020-12) from declared records.

YAML's own types are those of its core schema: ``12`` is a number and ``true`` a flag even where a
text is wanted, and the reader takes both as the text that they are; the schemas do likewise.
"""

from __future__ import annotations

from typing import Any

from checker.documents.fields import POSITIVE, REQUIRED, ROW, Field, fields_of, words_of
from checker.quantities.designations import METRIC
from checker.quantities.dimension import NONE
from checker.quantities.units import usual_units

from . import patterns

Schema = dict[str, Any]

_TEXT = ["string", "number", "boolean"]
_SOMETHING = ["string", "number", "boolean", "array", "object"]


class Maker:
    """Makes the schema of one kind of file; ``classes`` resolves names of records."""

    def __init__(self, classes: dict[str, type]) -> None:
        self.classes = classes
        self.defs: dict[str, Schema] = {}

    def root(self, name: str, record: type, title: str) -> Schema:
        """The whole schema of a file that holds one ``record``."""
        body = self._object(record)
        return {
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "$id": f"urn:pullpoint:schema:{name}",
            "title": title,
            **body,
            **({"$defs": dict(sorted(self.defs.items()))} if self.defs else {}),
        }

    def _object(self, record: type) -> Schema:
        properties: dict[str, Schema] = {}
        required = []
        for field in fields_of(record):
            if field.derived:
                continue
            schema = self._field(field)
            if field.default is REQUIRED:
                required.append(field.key)
            else:
                schema = _or_nothing(schema)
            properties[field.key] = _described(schema, field)
        made: Schema = {
            "description": words_of(record) + ".",
            "type": "object",
            "additionalProperties": False,
        }
        if required:
            made["required"] = required
        made["properties"] = properties
        # What the declarations of single fields cannot say: which of them go together.
        return {**made, **getattr(record, "TOGETHER", {})}

    def _field(self, field: Field) -> Schema:
        if field.kind == "list":
            return self._list(field)
        if field.kind == "map":
            assert field.item is not None
            names = {} if field.names is None else {"propertyNames": _form(field.names.name)}
            return {"type": "object", **names, "additionalProperties": self._field(field.item)}
        if field.kind == "record":
            return self._record(field.record)
        return _scalar(field)

    def _record(self, name: str) -> Schema:
        record = self.classes[name]
        key = snake(name)
        if key not in self.defs:
            self.defs[key] = {}  # a record may hold itself
            self.defs[key] = self._object(record)
        whole = {"$ref": f"#/$defs/{key}"}
        short = getattr(record, "SHORT", "")
        if not short:
            return whole
        field = next(f for f in fields_of(record) if f.key == short)
        brief = self._field(field)
        if field.kind == "any":
            brief = {"type": [kind for kind in _SOMETHING if kind != "object"]}
        brief = {**brief, "description": f"short for `{short}:` alone"}
        return {"anyOf": [whole, brief]}

    def _list(self, field: Field) -> Schema:
        item = field.item
        assert item is not None
        inner = self._field(item)
        several = {"type": "array", "items": inner}
        # One text, and one record, may stand for a list of one.
        if item.kind in ("text", "form", "record"):
            alone = inner["anyOf"] if set(inner) == {"anyOf"} else [inner]
            return {"anyOf": [several, *alone]}
        return several


def _scalar(field: Field) -> Schema:
    kind = field.kind
    if kind == "number":
        dimension = field.dimension or NONE
        if dimension == NONE:
            return {
                "anyOf": [
                    {"type": "number", **({} if field.signed else {"minimum": 0})},
                    {
                        "type": "string",
                        "pattern": patterns.quantity(dimension, signed=field.signed),
                    },
                ]
            }
        return {"type": "string", "pattern": patterns.quantity(dimension, signed=field.signed)}
    if kind == "whole":
        least = 1 if field.form is POSITIVE else 0
        return {
            "anyOf": [
                {"type": "integer", "minimum": least, "maximum": 999_999_999},
                {
                    "type": "string",
                    "pattern": "^0*[1-9][0-9]{0,8}$" if least else "^[0-9]{1,9}$",
                },
            ]
        }
    if kind == "flag":
        return {"type": "boolean"}
    if kind == "text":
        return {"enum": list(field.options)} if field.options else {"type": _TEXT}
    if kind == "form":
        assert field.form is not None
        return _form(field.form.name)
    if field.form is ROW:
        return {"type": "array", "minItems": 2, "items": {"type": [*_TEXT, "null"]}}
    return {"type": _SOMETHING}


def _form(name: str) -> Schema:
    if name == "wire_size":
        return _sizes(patterns.wire_size(), patterns.wire_numbers())
    if name == "trade_size":
        return _sizes(patterns.trade_size(METRIC), patterns.trade_numbers())
    if name == "box_size":
        return {"type": "string", "pattern": patterns.box_size()}
    if name == "date":
        return {"type": "string", "pattern": patterns.DATE}
    if name == "system":
        return {
            "anyOf": [
                {"type": "string", "pattern": patterns.SYSTEM},
                {"type": "integer", "minimum": 0},
            ]
        }
    if name == "identifier":
        return {"type": _TEXT, "pattern": patterns.NAME}
    if name == "reference":
        return {"type": _TEXT, "minLength": 1, "maxLength": 200}
    if name == "name":
        return {"type": "string", "pattern": patterns.SNAKE_CASE}
    if name == "words":
        return {"type": _TEXT, "pattern": r"\S"}
    return {"type": _TEXT, "minLength": 1}


def _sizes(pattern: str, numbers: list[int]) -> Schema:
    return {"anyOf": [{"type": "string", "pattern": pattern}, {"enum": numbers}]}


def _or_nothing(schema: Schema) -> Schema:
    """The schema, or an empty value, which means what leaving the key out means."""
    if "enum" in schema:
        return {**schema, "enum": [*schema["enum"], None]}
    if "type" in schema:
        kinds = schema["type"]
        return {**schema, "type": [*([kinds] if isinstance(kinds, str) else kinds), "null"]}
    if "anyOf" in schema:
        return {**schema, "anyOf": [*schema["anyOf"], {"type": "null"}]}
    return {"anyOf": [schema, {"type": "null"}]}


_FORM_WORDS = {
    "expression": "An expression of the rule language.",
    "template": "Text with expressions between braces: {fill as %}.",
    "date": "Written YYYY-MM-DD.",
    "wire_size": "A wire size such as 12 AWG, 1/0 AWG or 250 kcmil.",
    "trade_size": "A trade size such as 3/4, 1-1/4 or metric 21.",
    "box_size": "A standard box such as 4 x 2-1/8 square.",
    "system": "Such as 208Y/120, 480Y/277 or 120/240.",
}


def _described(schema: Schema, field: Field) -> Schema:
    parts = [_sentence(field.doc)] if field.doc else []
    inner = field
    while inner.item is not None and inner.kind in ("list", "map"):
        inner = inner.item
    if inner.kind == "number":
        dimension = inner.dimension or NONE
        if dimension != NONE:
            words = dimension.name
            parts.append(f"{words.capitalize()} with its unit: {usual_units(dimension)}.")
    elif inner.form is not None:
        parts.append(_FORM_WORDS.get(inner.form.name, ""))
        if inner.form.name == "reference":
            named = inner.form.target.replace("|", ", ")
            parts.append(f"Names an element of the file: {named}.")
    default = field.default
    # What is not stated is not assumed: a ``Missing`` default says nothing.
    if isinstance(default, (str, int)) and default != "":
        shown = str(default).lower() if isinstance(default, bool) else str(default)
        parts.append(f"{shown} unless stated.")
    said = " ".join(part for part in parts if part)
    return {"description": said, **schema} if said else schema


def _sentence(text: str) -> str:
    text = text[0].upper() + text[1:]
    return text if text.endswith((".", "?", "!")) else text + "."


def snake(name: str) -> str:
    words = "".join("_" + c.lower() if c.isupper() else c for c in name).lstrip("_")
    return words.removesuffix("_file")
