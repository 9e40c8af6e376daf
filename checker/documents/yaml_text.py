"""Values written as YAML: mappings and lists as they were read, text that reads back the same.

Only what can be read is written: plain text stays plain, so that ``true`` and ``20 A`` mean what
they meant; text that was quoted, or could not stand plain, is in double quotes.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from .nodes import Quoted

_LEADING = frozenset("-?:,[]{}#&*!|>'\"%@` ")
_FLOW = frozenset(",[]{}")
_WORDS = frozenset(("", "~", "null", "Null", "NULL", "---", "...", "<<"))


def yaml_text(root: Mapping[str, Any]) -> str:
    """A document: a key a line, an element's key a line, what is within an element on one line."""
    return "".join(f"{line}\n" for line in _block(root, ""))


def _block(node: Mapping[str, Any], indent: str) -> Iterator[str]:
    """The keys of a mapping, each on a line of its own.  An empty value is left out."""
    for key, value in node.items():
        lead = f"{indent}{_scalar(key)}:"
        if value is None:
            continue
        if isinstance(value, Mapping) and value and not indent:
            yield lead
            yield from _block(value, "  ")
        elif _holds_mappings(value):
            yield lead
            for one in value:
                yield from _item(one, indent + "  ", in_block=not indent)
        else:
            yield f"{lead} {_flow(value)}" if _is_container(value) else f"{lead} {_scalar(value)}"


def _item(one: Any, indent: str, *, in_block: bool) -> Iterator[str]:
    """An item of a list: an element with a key a line, or what an element holds, on one line."""
    if not (in_block and isinstance(one, Mapping) and any(v is not None for v in one.values())):
        yield f"{indent}- {_flow(one)}"
        return
    lines = _block(one, indent + "  ")
    yield f"{indent}- {next(lines).lstrip()}"
    yield from lines


def _holds_mappings(value: Any) -> bool:
    return _is_list(value) and any(isinstance(one, Mapping) for one in value)


def _is_list(value: Any) -> bool:
    return isinstance(value, Sequence) and not isinstance(value, str)


def _is_container(value: Any) -> bool:
    return isinstance(value, Mapping) or _is_list(value)


def _flow(value: Any) -> str:
    if isinstance(value, Mapping):
        pairs = [
            f"{_scalar(key, in_flow=True)}: {_flow(one)}"
            for key, one in value.items()
            if one is not None
        ]
        return "{" + ", ".join(pairs) + "}"
    if _is_list(value):
        return "[" + ", ".join([_flow(one) for one in value]) + "]"
    return _scalar(value, in_flow=True)


def _scalar(value: Any, *, in_flow: bool = False) -> str:
    if value is None:
        return "null"
    text = str(value)
    if isinstance(value, Quoted) or not _stands_plain(text, in_flow):
        return _quoted(text)
    return text


def _stands_plain(text: str, in_flow: bool) -> bool:
    """Whether a text may stand without quotes."""
    if text in _WORDS or not text.isprintable() or text != text.strip():
        return False
    # A dash or a colon begins a text where no space follows.
    if text[0] in _LEADING and not (text[0] == "-" and len(text) > 1 and text[1] not in " -"):
        return False
    if ": " in text or " #" in text or text.endswith(":") or "\u2028" in text:
        return False
    return not (in_flow and (_FLOW.intersection(text) or ":" in text))


def _quoted(text: str) -> str:
    if text.isprintable():
        return json.dumps(text, ensure_ascii=False)
    return "".join(
        [c if c.isprintable() else _escape(c) for c in json.dumps(text, ensure_ascii=False)]
    )


def _escape(character: str) -> str:
    code = ord(character)
    return f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
