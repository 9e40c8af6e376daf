"""Where in a file a trouble of an expression stands.

An expression may be a plain, quoted or folded scalar over several lines.  Its characters are found
again in the file by counting those that are not spaces, which folding keeps.
"""

from __future__ import annotations

from checker.documents.errors import Mark, Problem
from checker.language.parse import Trouble

from .part import Part
from .woven import Woven


def problem_in(part: Part, trouble: Trouble, holder: str, where: str) -> Problem:
    """The trouble as a problem with file, line and column; ``holder`` is its rule or sheet."""
    mark = find(part, trouble.offset)
    text = str(part.value)
    return part.source.problem(
        mark,
        f"{trouble.message} (`{where}` of {holder})",
        found=trouble.found,
        expected=trouble.expected,
        suggestion=trouble.suggestion,
        length=max(1, min(trouble.length, len(text))),
    )


def find(part: Part, offset: int) -> Mark:
    """The place of the character at ``offset`` of a part's text."""
    while isinstance(part, Woven):
        part, offset = part.piece(offset)
    text = str(part.value)
    wanted = sum(1 for c in text[:offset] if not c.isspace())
    lines = part.source.text.split("\n")
    row, column = part.mark.line - 1, part.mark.column - 1
    if not 0 <= row < len(lines):
        return part.mark
    first = lines[row][column : column + 1]
    if first in ("'", '"'):
        column += 1
    elif first in (">", "|"):
        row, column = row + 1, 0
    seen = 0
    while row < len(lines):
        line = lines[row]
        while column < len(line):
            if not line[column].isspace():
                if seen == wanted:
                    return Mark(row + 1, column + 1)
                seen += 1
            column += 1
        row, column = row + 1, 0
    return part.mark
