"""Templates: whatever is put into one is escaped, unless the program made it markup itself.

A value is escaped as text of the template's own form, by its ending.  Imported only by the forms
that are templates: a plain check does without.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from functools import cache, lru_cache
from typing import Any

from jinja2 import ChoiceLoader, Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from checker.documents.errors import printable
from checker.findings.finding import Report

from . import form

#: Where templates are looked for.
FOLDERS = [os.path.join(os.path.dirname(os.path.abspath(__file__)), "templates")]


# -- text as text ----------------------------------------------------------------------------

_ENTITIES = (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#39;"))


def html_text(text: str) -> str:
    """Text in HTML: control and reordering signs made visible, markup escaped."""
    shown = printable(text)
    for sign, entity in _ENTITIES:
        if sign in shown:
            shown = shown.replace(sign, entity)
    return shown


_MARKUP = re.compile(r"([\\`*_{}\[\]<>|~&#!$@])")
# A scheme or `www.` alone makes a link in many readers.
_LINKS = re.compile(r"(?i)(?<=[a-z])(?=://)|(?<=\bwww)(?=\.)")
_NO_BREAK = "\u2060"  # word joiner: draws nothing, and ends what looks like a link


def markdown_text(text: str) -> str:
    """Text in a Markdown comment, on one line: no name can become a link, an image or markup."""
    line = " ".join(printable(text.replace("\n", " ")).split())
    return _LINKS.sub(_NO_BREAK, _MARKUP.sub(r"\\\1", line))


# An underscore inside a word is only an underscore.
_SPECIAL = re.compile(r"([\\`*\[\]<>|]|(?<![A-Za-z0-9])_|_(?![A-Za-z0-9]))")
_LINE_START = re.compile(r"^(\s*)([#+\-]|\d+[.)])(?=\s)")


def manual_text(text: str) -> str:
    """Text in a Markdown manual, which people also read as it stands."""
    return _LINE_START.sub(r"\1\\\2", _SPECIAL.sub(r"\\\1", _one_line(text)))


def _one_line(text: str) -> str:
    return printable(" ".join(text.split()))


# -- pieces of markup ------------------------------------------------------------------------


def _html_code(text: object) -> Markup:
    return Markup(f"<code>{html_text(_one_line(str(text)))}</code>")


def _markdown_code(text: object) -> Markup:
    line = _one_line(str(text))
    ticks = "`" * (1 + max((len(run) for run in re.findall("`+", line)), default=0))
    pad = " " if line.startswith("`") or line.endswith("`") else ""
    return Markup(f"{ticks}{pad}{line}{pad}{ticks}")


def _anchor(text: str) -> Markup:
    return Markup(re.sub(r"[^A-Za-z0-9_-]", "-", text))


def _joined(text: object) -> Markup:
    """On one line."""
    return Markup(" ".join(str(text).split()))


def _cell(text: object) -> Markup:
    """On one line of a Markdown table."""
    return Markup(re.sub(r"(?<!\\)\|", r"\\|", " ".join(str(text).split())))


def _lines(text: object) -> Markup:
    """Without blank lines."""
    return Markup("\n".join(line for line in str(text).splitlines() if line.strip()))


def _with_code(text: str) -> Markup:
    """HTML text whose parts between backticks are code."""
    parts = html_text(text).split("`")
    return Markup("".join(f"<code>{p}</code>" if i % 2 else p for i, p in enumerate(parts)))


#: By the ending of a template: how text is escaped, and how code is written.
_KINDS: dict[str, tuple[Callable[[str], str], Callable[[object], Markup]]] = {
    "html": (html_text, _html_code),
    "md": (markdown_text, _markdown_code),
    "manual": (manual_text, _markdown_code),
}


@cache
def _environment(kind: str, folders: tuple[str, ...]) -> Environment:
    escape, code = _KINDS[kind]

    @lru_cache(maxsize=4096)
    def escaped(text: str) -> Markup:
        return Markup(escape(text))

    def finalize(value: Any) -> Any:
        if value.__class__ is str:
            return escaped(value)
        return value if hasattr(value, "__html__") else escaped(str(value))

    made = Environment(
        loader=ChoiceLoader([FileSystemLoader(folder) for folder in folders]),
        autoescape=True,
        finalize=finalize,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.globals["code"] = code
    made.filters |= {
        "anchor": _anchor,
        "cell": _cell,
        "joined": _joined,
        "lines": _lines,
        "sentence": lambda text: text[:1].upper() + text[1:],
        "with_code": _with_code,
    }
    return made


def render(template: str, kind: str = "", **values: Any) -> str:
    """A template with values in it; ``kind`` is its ending unless stated."""
    kind = kind or template.rpartition(".")[2]
    return _environment(kind, tuple(FOLDERS)).get_template(template).render(values)


class TemplateForm(form.Form):
    """A form that is a template of ``report`` (a ``ReportView``) and ``several``."""

    def __init__(self, template: str, options: form.Options) -> None:
        super().__init__(options)
        self.template = template
        self.begun = False

    def add(self, report: Report) -> str:
        """One report; ``follows`` says whether it stands behind another."""
        from .report_view import ReportView

        text = render(self.template, report=ReportView(report), follows=self.begun)
        self.begun = True
        return text


def document(template: str, form: str, **values: Any) -> str:
    """A manual as ``markdown`` or ``html``, from a template of its blocks."""
    if form == "html":
        return render(template, "html", form="html", **values).strip() + "\n"
    made = render(template, "manual", form="md", **values)
    return re.sub(r"\n{3,}", "\n\n", made).strip() + "\n"
