"""Schema errors at their lines and in plain words. Oracle for "fits or not": jsonschema itself."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from checker.documents.errors import Problem
from checker.documents.loader import load
from checker.documents.plain import plain
from checker.documents.schema_check import check_against
from checker.documents.source import Source

SCHEMA: dict[str, Any] = {
    "type": "object",
    "required": ["id", "limit"],
    "additionalProperties": False,
    "properties": {
        "id": {"type": "string", "pattern": "^[a-z-]+$"},
        "limit": {"type": "number", "minimum": 0},
        "kind": {"enum": ["prohibition", "permission"]},
        "title": {"type": "string"},
        "names": {"type": "object", "propertyNames": {"pattern": "^[a-z]+$"}},
        "tags": {"type": "array", "items": {"type": "string"}, "uniqueItems": True, "maxItems": 3},
        "sources": {
            "type": "array",
            "items": {
                "oneOf": [
                    {"type": "string"},
                    {
                        "type": "object",
                        "properties": {"form": {"const": "book"}, "page": {"type": "integer"}},
                        "required": ["form", "page"],
                        "additionalProperties": False,
                    },
                    {
                        "type": "object",
                        "properties": {"form": {"const": "table"}, "row": {"type": "integer"}},
                        "required": ["form", "row"],
                        "additionalProperties": False,
                    },
                ]
            },
        },
    },
}


def check(text: str) -> list[Problem]:
    return check_against(load(Source.of_text(text, "r.yaml")), SCHEMA, what="rule file")


GOOD = "id: a\nlimit: 1\n"


@pytest.mark.parametrize(
    ("text", "line", "column", "words", "suggestion"),
    [
        ("id: a\nlimit: 1\ntitel: x\n", 3, 1, "unknown key in the rule file", "title"),
        ("id: a\nlimit: many\n", 2, 8, "`limit` is of the wrong kind", ""),
        ("id: a\n", 1, 1, "lacks the key `limit`", ""),
        ("# note\nid: a\n", 2, 1, "lacks the key `limit`", ""),
        (GOOD + "kind: prohibitoin\n", 3, 7, "possible values", "prohibition"),
        (GOOD + "title: 12\n", 3, 8, "wrong kind", '"12"'),
        (GOOD + "title: true\n", 3, 8, "wrong kind", '"true"'),
        ("id: A\nlimit: 1\n", 1, 5, "not as it should be", ""),
        ("id: a\nlimit: -1\n", 2, 8, "not as it should be", ""),
        (GOOD + "tags: [a, 2]\n", 3, 11, "`tags[2]`", '"2"'),
        (GOOD + "tags: [a, a]\n", 3, 7, "not as it should be", ""),
        (GOOD + "tags:\n  - a\n  - [b]\n", 5, 5, "`tags[2]`", ""),
        (GOOD + "names: {a: 1, B2: 2}\n", 3, 15, "not allowed", ""),
        (GOOD + "sources: [7]\n", 3, 11, "none of the possible forms", ""),
        (GOOD + "sources:\n  - {form: table, rwo: 1, row: 2}\n", 4, 19, "unknown key", ""),
        (GOOD + "sources:\n  - {form: book, page: x}\n", 4, 24, "wrong kind", ""),
        (GOOD + "sources:\n  - {form: book}\n", 4, 5, "lacks the key `page`", ""),
        ("- a\n", 1, 1, "wrong kind", ""),
    ],
)
def test_problems(text: str, line: int, column: int, words: str, suggestion: str) -> None:
    (problem,) = check(text)
    assert words in problem.message
    assert (problem.line, problem.column) == (line, column)
    assert problem.suggestion == suggestion
    assert problem.excerpt == text.split("\n")[line - 1]


def test_a_mistyped_key_that_is_required() -> None:
    unknown = [p for p in check("id: a\nlimti: 1\n") if "unknown" in p.message]
    assert unknown[0].suggestion == "limit"


def test_all_are_told_in_the_order_of_the_file() -> None:
    found = check("id: A\nlimit: x\nkind: y\nzz: 1\nyy: 2\n")
    assert [(p.line, p.column) for p in found] == [(1, 5), (2, 8), (3, 7), (4, 1), (5, 1)]


keys = st.sampled_from(["id", "limit", "kind", "title", "names", "tags", "sources", "form", "x"])
leaves = st.sampled_from(["a", "B", "1", "2.5", "book", "table", "permission", "~", "'1'", "true"])
flows = st.recursive(
    leaves,
    lambda inner: (
        st.lists(inner, max_size=4).map(lambda i: f"[{', '.join(i)}]")
        | st.dictionaries(keys, inner, max_size=4).map(
            lambda d: "{" + ", ".join(f"{k}: {v}" for k, v in d.items()) + "}"
        )
    ),
    max_leaves=10,
)


@settings(max_examples=200, deadline=None)
@given(st.dictionaries(keys, flows, min_size=1, max_size=7))
def test_something_is_told_exactly_when_the_document_does_not_fit(tree: dict[str, str]) -> None:
    text = "".join(f"{key}: {value}\n" for key, value in tree.items())
    document = load(Source.of_text(text))
    fits = Draft202012Validator(SCHEMA).is_valid(plain(document.root))
    found = check_against(document, SCHEMA, what="rule file")
    assert bool(found) is not fits
    for problem in found:
        assert 1 <= problem.line <= len(tree)


def test_importing_it_does_not_import_what_is_slow() -> None:
    code = (
        "import sys; before = set(sys.modules);"
        "import checker.documents.schema_check, checker.documents.writing, "
        "checker.quantities.show, checker.quantities.designations;"
        "from checker.quantities.notation import quantity; quantity('3/4 in');"
        "print([m for m in ('pint', 'jsonschema', 'difflib', 'asyncio', 'urllib', 'email') "
        "if m in set(sys.modules) - before])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
