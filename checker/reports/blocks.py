"""A document as blocks, written as Markdown or HTML: for manuals and references."""

from __future__ import annotations

import html
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Protocol

from checker.documents.errors import printable


class Code(str):
    """Text that is written in the type of expressions."""

    __slots__ = ()


class Link(tuple[str, str]):
    """A text and the anchor that it leads to."""

    __slots__ = ()


Piece = str | Code | Link
Inline = Piece | tuple[Piece, ...]


class Block(Protocol):
    """One block of a document."""

    def markdown(self) -> str:
        """The block as Markdown."""

    def html(self) -> str:
        """The block as HTML."""


@dataclass(slots=True)
class Blocks:
    """Blocks in order; the methods add one each."""

    title: str
    _blocks: list[Block] = field(default_factory=list)

    def heading(self, level: int, text: str, anchor: str = "") -> None:
        """A heading; level 2 is the document's highest below its title."""
        self._blocks.append(_Heading(level, text, anchor))

    def text(self, *pieces: Piece) -> None:
        """A paragraph."""
        self._blocks.append(_Paragraph(pieces))

    def facts(self, rows: Sequence[tuple[str, Inline]]) -> None:
        """Names with what they are; empty ones are left out."""
        kept = [(name, value) for name, value in rows if value]
        if kept:
            self._blocks.append(_Facts(kept))

    def items(self, items: Sequence[Inline]) -> None:
        """A list."""
        if items:
            self._blocks.append(_Items(list(items)))

    def table(self, heads: Sequence[str], rows: Sequence[Sequence[Inline]]) -> None:
        """A table with heads; none where there are no rows."""
        if rows:
            self._blocks.append(_Grid(list(heads), [list(row) for row in rows]))

    def markdown(self) -> str:
        """The document as Markdown (CommonMark with tables)."""
        parts = [f"# {_md(self.title)}", *(block.markdown() for block in self._blocks)]
        return "\n\n".join(parts) + "\n"

    def html(self) -> str:
        """The document as one HTML page that needs nothing else."""
        body = "\n".join(block.html() for block in self._blocks)
        return (
            '<!doctype html>\n<html lang="en">\n<head><meta charset="utf-8">'
            '<meta name="viewport" content="width=device-width, initial-scale=1">'
            f"<title>{html.escape(_plain(self.title))}</title><style>{_STYLE}</style></head>\n"
            f"<body>\n<h1>{html.escape(_plain(self.title))}</h1>\n{body}\n</body>\n</html>\n"
        )


_STYLE = (
    "body{font:16px/1.5 Georgia,serif;max-width:62rem;margin:2rem auto;padding:0 1rem;"
    "color:#1b1b1b;background:#fff}h2{border-bottom:2px solid #444;margin-top:3rem}"
    "h3{margin-top:2.2rem}table{border-collapse:collapse;width:100%;margin:.8rem 0;"
    "font-size:.92em}th,td{border-bottom:1px solid #999;padding:.3rem .5rem;text-align:left;"
    "vertical-align:top}code{font:.88em/1.4 monospace;overflow-wrap:anywhere;background:#f3f1ec;"
    "padding:0 .15em}td:first-child code{overflow-wrap:normal}"
    "dl{display:grid;grid-template-columns:max-content 1fr;gap:.15rem 1rem}"
    "dt{font-style:italic}dd{margin:0}a{color:#0b4f8a}@media print{h3{break-after:avoid}"
    "table,dl{break-inside:avoid}}"
)


# -- Markdown -------------------------------------------------------------------------------

# An underscore inside a word is only an underscore.
_SPECIAL = re.compile(r"([\\`*\[\]<>|]|(?<![A-Za-z0-9])_|_(?![A-Za-z0-9]))")
_LINE_START = re.compile(r"^(\s*)([#+\-]|\d+[.)])(?=\s)")


def _plain(text: str) -> str:
    """Text on one line, with everything that could steer a terminal written as escapes."""
    return printable(" ".join(text.split()))


def _anchor(text: str) -> str:
    return re.sub(r"[^A-Za-z0-9_-]", "-", text)


def _md(text: str) -> str:
    return _LINE_START.sub(r"\1\\\2", _SPECIAL.sub(r"\\\1", _plain(text)))


def _md_piece(piece: Piece, in_table: bool) -> str:
    if isinstance(piece, Link):
        return f"[{_md(piece[0])}](#{_anchor(piece[1])})"
    if isinstance(piece, Code):
        text = _plain(piece)
        ticks = "`" * (1 + max((len(run) for run in re.findall("`+", text)), default=0))
        pad = " " if text.startswith("`") or text.endswith("`") else ""
        made = f"{ticks}{pad}{text}{pad}{ticks}"
        return made.replace("|", "\\|") if in_table else made
    return _md(piece) if piece.strip() else piece


def _md_inline(inline: Inline, in_table: bool = False) -> str:
    pieces = inline if isinstance(inline, tuple) and not isinstance(inline, Link) else (inline,)
    return _spaced([_md_piece(p, in_table) for p in pieces])


def _spaced(parts: list[str]) -> str:
    """Pieces with one space between, none before what closes."""
    out = ""
    for part in parts:
        if out and part and part[0] not in ".,;:)" and not out.endswith("("):
            out += " "
        out += part.strip() if part.strip() else ""
    return out


# -- HTML -----------------------------------------------------------------------------------


def _html_piece(piece: Piece) -> str:
    if isinstance(piece, Link):
        return f'<a href="#{_anchor(piece[1])}">{html.escape(_plain(piece[0]))}</a>'
    text = html.escape(_plain(piece))
    return f"<code>{text}</code>" if isinstance(piece, Code) else text


def _html_inline(inline: Inline) -> str:
    pieces = inline if isinstance(inline, tuple) and not isinstance(inline, Link) else (inline,)
    return _spaced([_html_piece(p) for p in pieces])


# -- blocks ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Heading:
    level: int
    words: str
    anchor: str

    def markdown(self) -> str:
        lead = f'<a id="{_anchor(self.anchor)}"></a>\n\n' if self.anchor else ""
        return f"{lead}{'#' * self.level} {_md(self.words)}"

    def html(self) -> str:
        mark = f' id="{_anchor(self.anchor)}"' if self.anchor else ""
        return f"<h{self.level}{mark}>{html.escape(_plain(self.words))}</h{self.level}>"


@dataclass(frozen=True, slots=True)
class _Paragraph:
    pieces: tuple[Piece, ...]

    def markdown(self) -> str:
        return _md_inline(self.pieces)

    def html(self) -> str:
        return f"<p>{_html_inline(self.pieces)}</p>"


@dataclass(frozen=True, slots=True)
class _Facts:
    rows: list[tuple[str, Inline]]

    def markdown(self) -> str:
        return "\n".join(f"- *{_md(name)}:* {_md_inline(value)}" for name, value in self.rows)

    def html(self) -> str:
        inner = "".join(
            f"<dt>{html.escape(name)}</dt><dd>{_html_inline(value)}</dd>"
            for name, value in self.rows
        )
        return f"<dl>{inner}</dl>"


@dataclass(frozen=True, slots=True)
class _Items:
    entries: list[Inline]

    def markdown(self) -> str:
        return "\n".join(f"- {_md_inline(entry)}" for entry in self.entries)

    def html(self) -> str:
        return "<ul>" + "".join(f"<li>{_html_inline(e)}</li>" for e in self.entries) + "</ul>"


@dataclass(frozen=True, slots=True)
class _Grid:
    heads: list[str]
    rows: list[list[Inline]]

    def markdown(self) -> str:
        lines = ["| " + " | ".join(_md(h) for h in self.heads) + " |"]
        lines.append("|" + "---|" * len(self.heads))
        for row in self.rows:
            lines.append("| " + " | ".join(_md_inline(cell, True) for cell in row) + " |")
        return "\n".join(lines)

    def html(self) -> str:
        head = "".join(f'<th scope="col">{html.escape(h)}</th>' for h in self.heads)
        body = "\n".join(
            "<tr>" + "".join(f"<td>{_html_inline(cell)}</td>" for cell in row) + "</tr>"
            for row in self.rows
        )
        return f"<table><thead><tr>{head}</tr></thead>\n<tbody>\n{body}\n</tbody></table>"
