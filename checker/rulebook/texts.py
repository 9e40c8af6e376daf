"""Nothing is kept of a case's messages but their nodes; ``store`` still asks for code of them.

``Texts`` and ``Say`` are what it keeps for them.  A form has none (``Form.texts`` is empty), so
that both go with the next change of what is kept.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Say:
    """A message as code."""

    parts: tuple[Any, ...]
    values: Any


@dataclass(frozen=True, slots=True)
class Texts:
    """A case's messages as code."""

    at_least: bool
    unit: str
    message: Say
    passes: Say | None
    mends: tuple[tuple[Any, Say], ...]
