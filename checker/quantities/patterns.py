"""Regular expressions that are compiled when they are first used.

A check of an ordinary file uses few of those that the notation has, and compiling one takes longer
than importing a module.
"""

from __future__ import annotations

import re
from typing import Any


class Lazy:
    """A pattern with the methods of a compiled one."""

    __slots__ = ("_flags", "_found", "_text")

    def __init__(self, text: str, flags: int = 0) -> None:
        self._text = text
        self._flags = flags
        self._found: re.Pattern[str] | None = None

    @property
    def compiled(self) -> re.Pattern[str]:
        """The compiled pattern."""
        if self._found is None:
            self._found = re.compile(self._text, self._flags)
        return self._found

    def fullmatch(self, text: str) -> re.Match[str] | None:
        """As of a compiled pattern."""
        return self.compiled.fullmatch(text)

    def match(self, text: str) -> re.Match[str] | None:
        """As of a compiled pattern."""
        return self.compiled.match(text)

    def findall(self, text: str) -> list[Any]:
        """As of a compiled pattern."""
        return self.compiled.findall(text)

    def search(self, text: str) -> re.Match[str] | None:
        """As of a compiled pattern."""
        return self.compiled.search(text)

    def sub(self, replacement: Any, text: str) -> str:
        """As of a compiled pattern."""
        return self.compiled.sub(replacement, text)

    def split(self, text: str, maxsplit: int = 0) -> list[Any]:
        """As of a compiled pattern."""
        return self.compiled.split(text, maxsplit=maxsplit)
