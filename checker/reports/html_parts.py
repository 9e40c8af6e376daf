"""Pieces of HTML.  Everything that comes from a file goes through ``text``."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from checker.documents.errors import printable

_ENTITIES = (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#39;"))


def text(value: str) -> str:
    """Text as text: control and reordering signs made visible, markup escaped."""
    shown = printable(value)
    for sign, entity in _ENTITIES:
        if sign in shown:
            shown = shown.replace(sign, entity)
    return shown


def with_code(value: str) -> str:
    """Text whose parts between backticks are code."""
    parts = text(value).split("`")
    return "".join(f"<code>{p}</code>" if i % 2 else p for i, p in enumerate(parts))


def name(value: str) -> str:
    """The name of an element: its direction of writing does not reach what stands beside it."""
    return f"<bdi>{text(value)}</bdi>"


def table(
    heads: Sequence[str],
    rows: Iterable[Sequence[str]],
    *,
    numbers: Sequence[int] = (),
    label: str = "",
) -> str:
    """A table of ready cells; ``numbers`` are the columns that are set to the right."""
    right = ["" if i not in numbers else ' class="n"' for i in range(len(heads))]
    head = "".join(f'<th scope="col"{c}>{text(h)}</th>' for h, c in zip(heads, right, strict=True))
    lines = []
    for row in rows:
        cells = "".join(f"<td{c}>{cell}</td>" for cell, c in zip(row, right, strict=True))
        lines.append(f"<tr>{cells}</tr>")
    body = "".join(lines)
    named = f' aria-label="{text(label)}"' if label else ""
    return (
        f'<div class="wide" tabindex="0" role="region"{named}><table><thead><tr>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table></div>"
    )


def facts(pairs: Iterable[tuple[str, str]]) -> str:
    """Names with their texts; a text may have several lines."""
    rows = "".join(
        f"<div><dt>{text(key)}</dt><dd>{'<br>'.join(text(line) for line in value.split(chr(10)))}"
        "</dd></div>"
        for key, value in pairs
    )
    return f"<dl>{rows}</dl>"


def listed(items: Iterable[str]) -> str:
    """A list of texts."""
    return "<ul>" + "".join(f"<li>{text(item)}</li>" for item in items) + "</ul>"


TAGS = {
    "fail": "FAIL",
    "open": "OPEN",
    "review": "REVIEW",
    "informational": "INFO",
    "pass": "PASS",
    "notApplicable": "N/A",
}


def tag(kind: str) -> str:
    """A kind as a word in its frame."""
    return f'<span class="k {kind}">{TAGS[kind]}</span>'


def mark(number: int, kind: str) -> str:
    """The number of a finding, in the shape that the drawings use."""
    return f'<span class="m {kind}">{number}</span>'
