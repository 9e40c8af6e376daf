"""YAML syntax errors in plain words, with the parser's own text beside them."""

from __future__ import annotations

import re

import yaml

from .errors import Mark, Problem
from .source import Source

# A piece of the parser's text: what it means to someone who does not know YAML's grammar.
# Context and problem are searched together, first match wins.
_WORDS: tuple[tuple[str, str, str], ...] = (
    (
        "cannot start any token",
        "a character that cannot start a value",
        "put the value in quotes; indent with spaces, never with tabs",
    ),
    ("exceeded maximum nesting depth", "too many levels inside each other", "fewer levels"),
    ("found a tab character", "a tab where only spaces may be", "indent with spaces"),
    (
        "mapping values are not allowed",
        "a colon where no key can be",
        "put a text that contains `: ` in quotes, and align the keys of one mapping",
    ),
    (
        "could not find expected ':'",
        "a line that is neither `key: value` nor part of the value above it",
        "write `key: value`, with a space after the colon",
    ),
    (
        "did not find expected '-' indicator",
        "a list item that does not line up with the items above it",
        "align the dashes of one list",
    ),
    (
        "did not find expected key",
        "a line that does not line up with the keys above it",
        "align the keys of one mapping, and close every quote",
    ),
    (
        "did not find expected ',' or ']'",
        "a list in brackets that is not closed, or lacks a comma",
        "write `[a, b]`",
    ),
    (
        "did not find expected ',' or '}'",
        "a mapping in braces that is not closed, or lacks a comma",
        "write `{a: 1, b: 2}`",
    ),
    ("found unexpected end of stream", "a quoted text that is not closed", "close the quotes"),
    ("unknown escape character", "an unknown escape in a text in double quotes",
     "use single quotes, where a backslash is a backslash"),
    ("found undefined tag handle", "a tag, which is not read", "remove it, or quote the text"),
    ("duplicate %", "a directive twice", "write it once"),
    ("incompatible YAML document", "a YAML version that is not known", "use %YAML 1.2 or none"),
    ("did not find expected <document start>", "text where the document should start or end",
     "write one mapping of `key: value` lines"),
    ("block sequence entries are not allowed", "a list item where none can be",
     "start the list on a line of its own, below its key"),
    ("did not find expected node content", "a value that is missing or not finished",
     "write the value, or close the brackets"),
    ("did not find expected alphabetic or numeric", "an anchor or alias without a name",
     "put a text that starts with `*` or `&` in quotes"),
)  # fmt: skip

_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def in_our_words(error: yaml.YAMLError, source: Source) -> Problem:
    """The problem that a YAML error is, at its place in the source."""
    if isinstance(error, yaml.MarkedYAMLError):
        place = error.problem_mark or error.context_mark
        raw = "; ".join(part for part in (error.context, error.problem) if part)
        message, hint = "this is not YAML", ""
        for piece, words, advice in _WORDS:
            if piece in raw:
                message, hint = f"this is not YAML: {words}", advice
                break
        if error.context_mark is not None and "unexpected end of stream" in raw:
            place = error.context_mark  # where the quotes open says more than the end of the file
        mark = Mark(place.line + 1, place.column + 1) if place is not None else Mark(1, 1)
        return source.problem(mark, message, found=raw, expected=hint)
    # The reader refused a character; it counts bytes, so the place is looked for again.
    bad = _UNPRINTABLE.search(source.text)
    if bad is not None:
        return source.problem(
            source.mark(bad.start()),
            "a control character, which YAML does not allow",
            found=f"U+{ord(bad[0]):04X}",
            expected="text",
        )
    return source.problem(Mark(1, 1), "this is not YAML", found=" ".join(str(error).split()))
