"""Lines of Python under way, and what is known where they end."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

#: What an expression of a rule comes to, as a number that all alike have; see ``numbering``.
Key = Any


class Block:
    """Statements that run one after the other, as lines.

    ``known`` says what has its value in a variable once they have run, by its key.
    """

    __slots__ = ("known", "lines")

    def __init__(self, known: Mapping[Key, str] | None = None) -> None:
        self.lines: list[str] = []
        self.known: dict[Key, str] = dict(known or {})

    def inner(self) -> Block:
        """A block that runs, if it does, where this one has run so far."""
        return Block(self.known)

    def add(self, head: str, body: Block | None = None, otherwise: Block | None = None) -> None:
        """One statement more, with the blocks that it holds."""
        self.lines.append(head)
        if body is not None:
            self.lines += [" " + line for line in body.lines]
        if otherwise is not None:
            self.lines.append("else:")
            self.lines += [" " + line for line in otherwise.lines]

    def set(self, variable: str, value: str) -> None:
        """One assignment more."""
        self.lines.append(f"{variable} = {value}")


#: A variable, a field of one, a whole number or a plain text: as quick to say twice as to keep.
simple = re.compile(r"\w+(\.\w+)?|'[^'\\]*'").fullmatch
