"""What a case says, as code: the values in its messages, found without reading the rule again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Say:
    """A message: literal texts and, for each value between them, the unit it is written in.

    parts: a str is literal; a one-tuple holds the unit of the next value. values(subject, assembly,
    measure, limit) gives the values in order and raises where one cannot be found.
    """

    parts: tuple[str | tuple[str], ...]
    values: Any


@dataclass(frozen=True, slots=True)
class Texts:
    """A case's messages.  mends: (condition or None, what to say)."""

    at_least: bool
    unit: str
    message: Say
    passes: Say | None
    mends: tuple[tuple[Any, Say], ...]
