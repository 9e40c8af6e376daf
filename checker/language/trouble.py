"""What is wrong in an expression, and where in it."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something wrong in an expression: where (0-based offset and length) and what."""

    offset: int
    length: int
    message: str
    found: str = ""
    expected: str = ""
    suggestion: str = ""

    def moved(self, by: int) -> Trouble:
        """The same in a text that begins so much earlier."""
        return replace(self, offset=self.offset + by)


class ExpressionError(Exception):
    """An expression that cannot be used; carries every trouble found in it."""

    def __init__(self, *troubles: Trouble) -> None:
        super().__init__("; ".join(t.message for t in troubles))
        self.troubles = troubles
