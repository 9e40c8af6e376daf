"""Text into numbers and flags, by the YAML 1.2 core schema, as JSON Schema validators want them.

``no``, ``on``, ``1:30``, ``012`` and dates are text in YAML 1.2, or a decimal number (``012``), and
nothing is guessed. A number too large for a float, ``.inf`` and ``.nan`` stay text: no schema and
no calculation here has a use for them.
"""

from __future__ import annotations

import math
import re
from typing import Any

from .nodes import Quoted

_INT = re.compile(r"[-+]?[0-9]{1,300}|0o[0-7]{1,100}|0x[0-9a-fA-F]{1,100}")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_FLAGS = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}


def plain(node: Any) -> Any:
    """A node as plain dicts, lists, str, int, float, bool and None."""
    if isinstance(node, dict):
        return {key: plain(value) for key, value in node.items()}
    if isinstance(node, list):
        return [plain(value) for value in node]
    return _scalar(node)


def _scalar(text: str | None) -> Any:
    if text is None:
        return None
    if isinstance(text, Quoted):
        return str(text)
    flag = _FLAGS.get(text)
    if flag is not None:
        return flag
    # Cheap look first: nearly every scalar is a word.
    if text[:1] in "-+.0123456789":
        # `012` is the number 12 to the core schema, yet whoever writes it means a name.
        if _INT.fullmatch(text) and not _leads_with_zero(text):
            return int(text, 0) if text[:2] in ("0o", "0x") else int(text)
        if _FLOAT.fullmatch(text) and not _leads_with_zero(text):
            value = float(text)
            return value if math.isfinite(value) else text
    return text


def _leads_with_zero(text: str) -> bool:
    digits = text.lstrip("+-")
    return len(digits) > 1 and digits[0] == "0" and digits[1].isdigit()
