"""Small files checked against their JSON Schema, each error at its line and in plain words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

from .errors import Mark, Problem, nearest
from .loader import Document
from .nodes import Mapping, Sequence
from .plain import plain

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

_KINDS = {
    "object": "a mapping of keys to values",
    "array": "a list",
    "string": "text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "null": "nothing",
}


_MOST_PROBLEMS = 100  # nobody reads more, and looking for names takes time


def check_against(document: Document, schema: dict[str, Any], *, what: str) -> list[Problem]:
    """Every way in which a document does not fit a schema (Draft 2020-12), in the file's order.

    ``what`` names the kind of file in messages: ``rule file``.
    """
    from jsonschema import Draft202012Validator

    validator = Draft202012Validator(schema)
    check = _Check(document, what)
    problems: list[Problem] = []
    every = (p for e in validator.iter_errors(plain(document.root)) for p in check.problems(e))
    for problem in every:
        if problem not in problems:
            problems.append(problem)
        if len(problems) >= _MOST_PROBLEMS:
            break
    return sorted(problems, key=lambda p: (p.line, p.column, p.message))


class _Check:
    def __init__(self, document: Document, what: str) -> None:
        self.document = document
        self.what = what

    def problems(self, error: ValidationError) -> Iterator[Problem]:
        """What to tell of one error of the validator."""
        rule = str(error.validator)
        path = list(error.absolute_path)
        if rule in ("anyOf", "oneOf"):
            yield from self._of_branches(error, path)
        elif rule in ("additionalProperties", "unevaluatedProperties") and isinstance(
            error.instance, dict
        ):
            yield from self._unknown_keys(error, path)
        elif rule == "required":
            yield self._missing_key(error, path)
        elif "propertyNames" in list(error.absolute_schema_path)[-2:]:
            yield self._key_name(error, path)
        elif rule == "dependentRequired":
            yield self._at(path, f"{self._where(path)}: {error.message}")
        else:
            yield self._of_value(error, path, rule)

    # -- keys ------------------------------------------------------------------------------

    def _unknown_keys(self, error: ValidationError, path: list[str | int]) -> Iterator[Problem]:
        known = list(_known_keys(error.schema))
        patterns = list(_dict(error.schema).get("patternProperties", {}))
        import re

        instance: Any = error.instance
        for key in instance:
            if key in known or any(re.search(pattern, key) for pattern in patterns):
                continue
            if f"'{key}'" not in error.message and str(error.validator).startswith("un"):
                continue
            near = nearest(key, [name for name in known if name not in instance])
            yield self._at(
                [*path, key],
                f"unknown key in {self._where(path)}",
                found=key,
                expected=_listed(known),
                suggestion=near or "",
                key=True,
            )

    def _missing_key(self, error: ValidationError, path: list[str | int]) -> Problem:
        required = error.validator_value if isinstance(error.validator_value, list) else []
        # One error for every key that is missing; its message starts with the key.
        missing = next((k for k in required if error.message.startswith(repr(k))), "")
        known = list(_known_keys(error.schema))
        instance: Any = error.instance
        near = nearest(missing, [key for key in instance if key not in known])
        return self._at(
            path,
            f"{self._where(path)} lacks the key `{missing}`",
            expected=f"{missing}: …",
            suggestion=f"`{near}` is there; rename it `{missing}`" if near else "",
        )

    def _key_name(self, error: ValidationError, path: list[str | int]) -> Problem:
        key = str(error.instance)
        options = error.validator_value if isinstance(error.validator_value, list) else []
        pattern = f"a key that matches {error.validator_value}" if not options else ""
        return self._at(
            [*path, key],
            f"a key that is not allowed in {self._where(path)}",
            found=key,
            expected=_listed([str(o) for o in options]) or pattern,
            suggestion=nearest(key, [str(o) for o in options]) or "",
            key=True,
        )

    # -- values ----------------------------------------------------------------------------

    def _of_value(self, error: ValidationError, path: list[str | int], rule: str) -> Problem:
        limit: Any = error.validator_value
        value: Any = error.instance
        where = self._where(path)
        found = _shown(value)
        if rule == "type":
            kinds = [limit] if isinstance(limit, str) else list(limit)
            hint = ""
            if "string" in kinds and isinstance(value, (int, float)):
                hint = f'"{self._text(path) or found}"'
            return self._at(
                path,
                f"{where} is of the wrong kind",
                found=f"{_kind(value)}: {found}" if found else _kind(value),
                expected=" or ".join(_KINDS.get(str(kind), str(kind)) for kind in kinds),
                suggestion=hint,
            )
        if rule in ("enum", "const"):
            options = [_shown(o) for o in (limit if rule == "enum" else [limit])]
            return self._at(
                path,
                f"{where} is not one of its possible values",
                found=found,
                expected=_listed(options),
                suggestion=nearest(found, options) or "",
            )
        expected = _BOUNDS.get(rule, "").format(limit=limit)
        if expected:
            return self._at(path, f"{where} is not as it should be", found=found, expected=expected)
        if limit is False or rule == "None":
            return self._at(path, f"{where} may not be here", found=found)
        return self._at(path, f"{where}: {error.message[:200]}", found=found)

    def _of_branches(self, error: ValidationError, path: list[str | int]) -> Iterator[Problem]:
        """The branch that the author most likely meant, or what all the branches want."""
        branches: dict[int, list[ValidationError]] = {}
        for inner in error.context or ():
            branches.setdefault(int(inner.schema_path[0]), []).append(inner)
        if not branches:  # oneOf, and several fit
            yield self._at(path, f"{self._where(path)} fits more than one of the possible forms")
            return
        at_once = [b for b in branches.values() if _is_other_kind(b, error)]
        likely = [b for b in branches.values() if not _is_other_kind(b, error)]
        if likely:
            for inner in min(likely, key=_distance):
                yield from self.problems(inner)
            return
        kinds: list[str] = []
        options: list[str] = []
        for inner in (errors[0] for errors in at_once):
            value: Any = inner.validator_value
            if inner.validator == "type":
                for kind in [value] if isinstance(value, str) else value:
                    if _KINDS.get(kind, kind) not in kinds:
                        kinds.append(_KINDS.get(kind, kind))
            elif inner.validator in ("enum", "const"):
                options += map(_shown, value if inner.validator == "enum" else [value])
        found = _shown(error.instance)
        yield self._at(
            path,
            f"{self._where(path)} has none of the possible forms",
            found=f"{_kind(error.instance)}: {found}" if found else _kind(error.instance),
            expected=" or ".join([*kinds, *([_listed(options)] if options else [])]),
            suggestion=nearest(found, options) or "",
        )

    # -- places ----------------------------------------------------------------------------

    def _where(self, path: list[str | int]) -> str:
        if not path:
            return f"the {self.what}"
        text = "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in path)
        return f"`{text.lstrip('.')}`"

    def _at(self, path: list[str | int], message: str, key: bool = False, **more: str) -> Problem:
        mark, length = self._mark(path, key)
        return self.document.source.problem(mark, message, length=length, **more)  # type: ignore[arg-type]

    def _mark(self, path: list[str | int], key: bool) -> tuple[Mark, int]:
        node: Any = self.document.root
        mark = node.mark if isinstance(node, (Mapping, Sequence)) else Mark(1, 1)
        length = 1
        for step in path:
            if isinstance(node, Mapping) and isinstance(step, str) and step in node:
                last = step is path[-1] and key
                mark = node.key_mark(step) if last else node.value_mark(step)
                length = len(step) if last else 1
                node = node[step]
            elif isinstance(node, Sequence) and isinstance(step, int):
                mark, length = node.value_mark(step), 1
                node = node[step]
            else:
                return mark, length
        if isinstance(node, str) and not key:
            length = max(1, len(node.split("\n")[0]))
        return mark, length

    def _text(self, path: list[str | int]) -> str:
        """A scalar as it was written."""
        node: Any = self.document.root
        for step in path:
            node = node[step]
        return node if isinstance(node, str) else ""


_BOUNDS = {
    "pattern": "text that matches {limit}",
    "minimum": "at least {limit}",
    "maximum": "at most {limit}",
    "exclusiveMinimum": "more than {limit}",
    "exclusiveMaximum": "less than {limit}",
    "multipleOf": "a multiple of {limit}",
    "minLength": "at least {limit} characters",
    "maxLength": "at most {limit} characters",
    "minItems": "at least {limit} in the list",
    "maxItems": "at most {limit} in the list",
    "minProperties": "at least {limit} keys",
    "maxProperties": "at most {limit} keys",
    "uniqueItems": "no value twice",
    "format": "a text of the form {limit}",
    "contains": "a list that holds a certain value",
}


def _dict(schema: Any) -> dict[str, Any]:
    return schema if isinstance(schema, dict) else {}


def _known_keys(schema: Any) -> Iterable[str]:
    """The keys that a schema names, in its own ``properties`` and those of its branches."""
    if not isinstance(schema, dict):
        return {}
    known = dict.fromkeys(schema.get("properties", {}))
    for word in ("allOf", "anyOf", "oneOf"):
        for branch in schema.get(word, ()):
            known.update(dict.fromkeys(_known_keys(branch)))
    for word in ("if", "then", "else"):
        known.update(dict.fromkeys(_known_keys(schema.get(word))))
    return known


def _is_other_kind(errors: list[ValidationError], parent: ValidationError) -> bool:
    """Whether a branch is about another kind of value altogether, not a slip in this kind."""
    depth = len(parent.absolute_path)
    return any(
        e.validator in ("type", "const", "enum") and len(e.absolute_path) == depth for e in errors
    )


def _distance(errors: list[ValidationError]) -> tuple[int, int]:
    """How far a branch is from fitting; a key with a fixed value that differs says most."""
    return (sum(e.validator in ("const", "enum") for e in errors), len(errors))


def _kind(value: Any) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "true or false"
    for kind, words in ((dict, "a mapping"), (list, "a list"), (str, "text")):
        if isinstance(value, kind):
            return words
    return "a number"


def _shown(value: Any) -> str:
    """A scalar as it is written in YAML; "" for what is too large to show."""
    if value is None or isinstance(value, (dict, list)):
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)


def _listed(names: list[str]) -> str:
    if len(names) > 12:
        return ", ".join(names[:12]) + ", …"
    return ", ".join(names)
