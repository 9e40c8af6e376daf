"""What a field takes, and what was found instead, in the words of messages."""

from __future__ import annotations

from typing import Any

from checker.quantities.dimension import NONE

from .fields import POSITIVE, WORDS, Field, given_fields
from .forms import FORM_WORDS
from .nodes import Mapping, Sequence

MAX_NAME = 200  # characters of a name, and of a text in messages


def first_key(record: type) -> str:
    return given_fields(record)[0].key


def kind_words(value: Any) -> str:
    if isinstance(value, Mapping):
        return "a mapping (keys with values)"
    if isinstance(value, Sequence):
        return "a list"
    return "nothing" if value is None else str(value)[:MAX_NAME]


def dimension_words(field: Field) -> str:
    name = (field.dimension or NONE).name
    return ("an " if name[0] in "aeiou" else "a ") + name


def expected(field: Field) -> str:
    """What a field takes, in words."""
    kind = field.kind
    if kind == "number":
        return dimension_words(field) + " with its unit"
    if kind == "whole":
        return "a whole number from 1" if field.form is POSITIVE else "a whole number"
    if kind == "flag":
        return "true or false"
    if kind == "text":
        return "one of " + ", ".join(field.options) if field.options else "text"
    if field.form is WORDS and field.doc:
        return field.doc  # that they are words says nothing of what they have to say
    if field.form is not None:
        return FORM_WORDS[field.form.name]
    if kind == "list":
        assert field.item is not None
        return "a list, each item " + expected(field.item)
    if kind == "map":
        return "a mapping of names to values"
    return "a mapping with keys"
