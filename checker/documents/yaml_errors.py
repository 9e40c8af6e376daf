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
        "put a text that contains `: ` in quotes, and align the keys that belong together",
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
        "align the keys that belong together, and close every quote",
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
        if error.context_mark is not None and "unexpected end of stream" in raw:
            place = error.context_mark  # where the quotes open says more than the end of the file
        mark = Mark(place.line + 1, place.column + 1) if place is not None else Mark(1, 1)
        slip = _slip(mark, raw, source) or _unclosed(mark, error.context_mark, raw, source)
        if slip is not None:
            return slip
        for piece, words, advice in _WORDS:
            if piece in raw:
                found = source.line(mark.line).strip()[:_MOST]
                message = f"this cannot be read: {words}"
                return source.problem(mark, message, found=found, expected=advice)
        return source.problem(mark, "this is not YAML", found=raw)
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


_TAB = re.compile(r"[ ]*\t")
_OPENING_BRACE = re.compile(r"(?:^|[:-])\s+(\{)[^}]*\}\s*[^\s,}\]#]")


def _slip(mark: Mark, raw: str, source: Source) -> Problem | None:
    """A slip that the line itself shows, whatever the parser stumbled over in the end."""
    line, above = source.line(mark.line), source.line(mark.line - 1)
    tab = _TAB.match(line)
    if tab is not None:
        return source.problem(
            Mark(mark.line, tab.end()),
            "a tab where only spaces may be",
            found="a tab",
            expected="as many spaces as the lines beside it start with",
        )
    for number, text in ((mark.line, line), (mark.line - 1, above)):
        brace = _OPENING_BRACE.search(text)
        if brace is not None and "expected" in raw:
            return source.problem(
                Mark(number, brace.start(1) + 1),
                "a text that starts with a brace stands in quotes",
                found=text[brace.start(1) :][:_MOST],
                expected="quotes around the whole text",
                suggestion=f'"{text[brace.start(1) :].rstrip()[:_MOST]}"',
            )
    if "mapping values are not allowed" in raw:
        return (
            _no_colon(mark, above, source)
            or _deeper(mark, line, above, source)
            or _unquoted(mark, line, source)
        )
    ends = "did not find expected" in raw and ("-' indicator" in raw or "expected key" in raw)
    if ends and not line.lstrip().startswith("-") and _KEY.match(line):
        return _uneven(mark, line, source)
    return None


_COMMENTED = re.compile(r"[:,\[{]\s+(#[^\s,}\]]+)")
_ALONE = re.compile(r"\s*(?:- +)?[\w.-]*$")


def _unclosed(
    mark: Mark, opened: yaml.error.Mark | None, raw: str, source: Source
) -> Problem | None:
    """What the line above leaves open, where the parser stumbles at the start of the next."""
    if "flow" not in raw or not _ALONE.match(source.line(mark.line)[: mark.column - 1]):
        return None
    number = mark.line - 1
    while number > 1 and not source.line(number).strip():
        number -= 1
    above = source.line(number).rstrip()
    comment = _COMMENTED.search(above)
    if comment is not None:
        return source.problem(
            Mark(number, comment.start(1) + 1),
            "this `#` starts a comment: what follows it is not read",
            found=above[comment.start(1) :][:_MOST],
            expected="quotes around a text that starts with `#`",
            suggestion=f'"{comment[1]}"',
            length=len(comment[1]),
        )
    if opened is None or number < opened.line + 1:
        return None
    if "did not find expected ','" not in raw:
        return None
    sign, kind, close = (
        ("[", "list in brackets", "]") if "']'" in raw else ("{", "mapping in braces", "}")
    )
    return source.problem(
        Mark(number, max(1, len(above))),
        f"this cannot be read: a {kind} that is not closed, or lacks a comma",
        found=f"no `{close}` for the `{sign}` in line {opened.line + 1}",
        expected=f"`,` or `{close}` at the end of this line",
    )


_MOST = 60
_KEY = re.compile(r"\s*(?:- +)?[\w.-]+:(?:\s|$)")
_HALF_KEY = re.compile(r"(\s*(?:- +)?)([A-Za-z_]\w*)(:?)(\S?)")


def _no_colon(mark: Mark, above: str, source: Source) -> Problem | None:
    """The line above has a key without a colon, or without a space after it."""
    if not above.strip() or _KEY.match(above) or above.lstrip().startswith("#"):
        return None
    half = _HALF_KEY.match(above)
    if half is None:
        return None
    lead, name, colon, _ = half.groups()
    at = Mark(mark.line - 1, len(lead) + len(name) + 1)
    rest = above[half.end(3) :].strip()
    if colon:
        message = "a space is missing after this colon"
    elif above[half.end(2) : half.end(2) + 1] in ("", " "):
        message = f"a colon is missing after `{name}`"
    else:
        return None
    return source.problem(
        at,
        message,
        found=above.strip()[:_MOST],
        expected="`key: value`",
        suggestion=f"{name}: {rest}"[:_MOST],
    )


def _deeper(mark: Mark, line: str, above: str, source: Source) -> Problem | None:
    """A key that is indented further than the key above it, which has its value already."""
    indent = len(line) - len(line.lstrip())
    if not _KEY.match(line) or not _KEY.match(above):
        return None
    key = above.index(above.strip().removeprefix("- ").lstrip())
    if indent <= key:
        return None
    return _uneven(Mark(mark.line, indent + 1), line, source)


def _unquoted(mark: Mark, line: str, source: Source) -> Problem | None:
    """A text with a colon in it, after its key."""
    key = _KEY.match(line)
    text = line[key.end() :].strip() if key is not None else ""
    if key is None or key.end() >= mark.column or text[:1] in ("", "[", "{", "&", "*", "!"):
        return None
    return source.problem(
        mark,
        "a colon and a space inside a text",
        found=line.strip()[:_MOST],
        expected="quotes around the text",
        suggestion=f'{line[: key.end()].strip()} "{text}"' if '"' not in text else "",
    )


def _uneven(mark: Mark, line: str, source: Source) -> Problem:
    indent = len(line) - len(line.lstrip())
    return source.problem(
        Mark(mark.line, indent + 1),
        "this line is not indented like the lines it belongs to",
        found=f"{indent} spaces before `{line.strip()[:_MOST]}`",
        expected="keys that belong together below each other, with as many spaces before each",
    )
