"""The schema of an assembly with its short form: types, groups, placements, wires by circuit.

It is made from that of the full form: an element that is like a type may leave out what the type
states, and every value inside a group may be a parameter.
"""

from __future__ import annotations

import copy
from typing import Any

from checker.assembly.records import CLASSES
from checker.assembly.short.asked import BY_CIRCUIT, DEFAULT_CLASSES
from checker.assembly.short.kinds import COLLECTIONS, GROUPED, Kind, typed

from .make import snake

Schema = dict[str, Any]

_PARAMETER = {
    "description": "A parameter of the group.",
    "type": "string",
    "pattern": "^\\$[a-z_][a-z0-9_]*$",
}
_NAME = {"type": ["string", "number", "boolean"], "minLength": 1, "maxLength": 200}
_LIKE = {**_NAME, "description": "The type whose fields it has, unless it states them itself."}


def with_short_form(schema: Schema) -> Schema:
    """The schema of an assembly file, with every key of the short form."""
    made = copy.deepcopy(schema)
    defs = made["$defs"]
    kinds = {defined(name): kind for name, kind in typed().items()}
    length = _length(defs)
    for name in ("raceway", "cable"):
        defs[name]["properties"]["supports"] = _or(
            defs[name]["properties"]["supports"], _straps(length)
        )
    wires = defs["pull"]["properties"]["wires"]
    defs["pull"]["properties"]["wires"] = _or(wires, *_by_circuit())
    for name, kind in kinds.items():
        plain = defs[name]
        defs[f"{name}_type"] = _of_type(plain, kind)
        defs[f"{name}_in_group"] = _in_group(plain, kinds)
        _loosen(plain, name)
        _loosen(defs[f"{name}_in_group"], name)
    defs["parameter"] = _PARAMETER
    defs["group"] = _group(made["properties"])
    for name in DEFAULT_CLASSES:
        defs["defaults"]["properties"][name] = {
            "description": f"Fields of every {name} that does not state them.",
            "$ref": f"#/$defs/{name}_type",
        }
    made["properties"].update(_root(kinds, length))
    made["$defs"] = dict(sorted(defs.items()))
    return made


def defined(name: str) -> str:
    """The name under which the schema defines a class: that of its record."""
    return snake(CLASSES[name].__name__)


def _root(kinds: dict[str, Kind], length: Schema) -> Schema:
    return {
        "types": {
            "description": "Named sets of fields, by class; elements are `like:` one.",
            "type": "object",
            "additionalProperties": False,
            "properties": {
                kind.name: {
                    "type": "object",
                    "additionalProperties": {"$ref": f"#/$defs/{name}_type"},
                }
                for name, kind in kinds.items()
            },
        },
        "groups": {
            "description": "Elements described once, to be placed several times.",
            "type": "object",
            "additionalProperties": {"$ref": "#/$defs/group"},
        },
        "place": {
            "description": "Placements of groups; elements are called PLACEMENT.NAME.",
            "type": "array",
            "items": _placement(length),
        },
        "use": {
            "description": "Files below this one's folder, with types and groups.",
            "anyOf": [{"type": "array", "items": {"type": "string"}}, {"type": "string"}],
        },
    }


def _placement(length: Schema) -> Schema:
    return {
        "description": "A group, placed.",
        "type": "object",
        "additionalProperties": False,
        "required": ["group", "id"],
        "properties": {
            "group": {**_NAME, "description": "The group's name."},
            "id": {**_NAME, "description": "What comes before the names of its elements."},
            "with": {
                "description": "The group's parameters with their values.",
                "type": ["object", "null"],
            },
            "mirror": {**length, "description": "The width that it is mirrored in."},
            "shift": {
                "description": "How far it is moved: across, up.",
                "type": "array",
                "items": length,
                "minItems": 2,
                "maxItems": 2,
            },
        },
    }


def _group(root: Schema) -> Schema:
    properties: Schema = {
        "takes": {
            "description": "The parameters, each with a default or without.",
            "type": ["object", "null"],
            "propertyNames": {"pattern": "^[a-z_][a-z0-9_]*$"},
        }
    }
    for key in GROUPED:
        item = {"$ref": f"#/$defs/{COLLECTIONS[key].name}_in_group"}
        properties[key] = {
            "description": root[key].get("description", ""),
            "anyOf": [{"type": "array", "items": item}, item],
        }
    return {
        "description": "A group of elements; names in it are its own.",
        "type": "object",
        "additionalProperties": False,
        "properties": properties,
    }


def _of_type(schema: Schema, kind: Kind) -> Schema:
    """Fields without an element: any of them, no id."""
    made = copy.deepcopy(schema)
    made.pop("required", None)
    if kind.named:
        made["properties"].pop("id", None)
    made["properties"]["like"] = _LIKE
    return made


def _loosen(schema: Schema, name: str) -> None:
    """What a type or the defaults may state need not be stated by the element."""
    required = schema.pop("required", [])
    own = [key for key in required if key == "id"]
    others = [key for key in required if key != "id"]
    if own:
        schema["required"] = own
    if others and name not in DEFAULT_CLASSES:
        schema["anyOf"] = [{"required": ["like"]}, {"required": others}]
    schema["properties"] = {**schema["properties"], "like": _LIKE}


def _in_group(schema: Schema, kinds: dict[str, Kind]) -> Schema:
    made: Schema = _with_parameters(copy.deepcopy(schema), kinds)
    made["properties"] = {
        key: value if key == "id" else _or(value, {"$ref": "#/$defs/parameter"})
        for key, value in made["properties"].items()
    }
    return made


def _with_parameters(schema: Any, kinds: dict[str, Kind]) -> Any:
    """The schema with the records within as they are in groups, and items that are parameters."""
    if isinstance(schema, list):
        return [_with_parameters(one, kinds) for one in schema]
    if not isinstance(schema, dict):
        return schema
    made = {key: _with_parameters(value, kinds) for key, value in schema.items()}
    if isinstance(made.get("items"), dict):
        made["items"] = _or(made["items"], {"$ref": "#/$defs/parameter"})
    name = str(made.get("$ref", "")).rpartition("/")[2]
    return {**made, "$ref": f"#/$defs/{name}_in_group"} if name in kinds else made


def _or(schema: Schema, *others: Schema) -> Schema:
    """The schema or others, with its description kept outside."""
    inner = dict(schema)
    said = {"description": inner.pop("description")} if "description" in inner else {}
    choices = inner["anyOf"] if set(inner) == {"anyOf"} else [inner]
    return {**said, "anyOf": [*choices, *others]}


def _length(defs: Schema) -> Schema:
    """A length, as the width of a spacing or any other length that is required."""
    item = defs["raceway"]["properties"]["supports"]["items"]
    return {"type": item["type"], "pattern": item["pattern"]}


def _straps(length: Schema) -> Schema:
    return {
        "description": "Straps by rule.",
        "type": "object",
        "additionalProperties": False,
        "required": ["first", "every"],
        "properties": {
            "first": {**length, "description": "From its start to the first strap."},
            "every": {**length, "description": "From strap to strap, at most."},
            "last": {**length, "description": "From the last strap to its end; as the first."},
        },
    }


def _by_circuit() -> list[Schema]:
    by_circuit = {
        "const": BY_CIRCUIT,
        "description": "As they follow from its circuits and the color scheme.",
    }
    several = {
        "type": "array",
        "prefixItems": [{"const": BY_CIRCUIT}],
        "items": {"$ref": "#/$defs/wire"},
        "minItems": 1,
    }
    return [by_circuit, several]
