"""Words that an edition or amendment puts in place of others."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache


def worded(text: str, terms: Mapping[str, str]) -> str:
    """The text with every word of ``terms`` replaced, all at once.

    Only what a rule or a report says of itself goes through here: names of elements and numbers
    are not words, whatever an amendment calls a term.

    What was put in is not looked through again: a chain of replacements, each for a longer text,
    could grow without bound.
    """
    if not terms:
        return text
    return _pattern(tuple(terms)).sub(lambda match: terms[match[0]], text)


@lru_cache(maxsize=16)
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    """Any of the words, whole, the longest first where several begin alike."""
    some = "|".join(re.escape(w) for w in sorted(words, key=len, reverse=True))
    return re.compile(rf"\b(?:{some})\b")
