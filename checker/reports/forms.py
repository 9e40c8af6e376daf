"""The forms of a report: here they are named, and nowhere else.

A form is a template of ``templates/`` or a module of this package with a class ``Form``.  Both are
loaded when they are asked for, which keeps a plain check quick to start.
"""

from __future__ import annotations

import importlib
from collections.abc import Sequence

from checker.findings.finding import Report

from .form import Form, Options

#: By the name that ``check --format`` takes.
FORMS = {
    "text": "text_form",
    "json": "json_form",
    "sarif": "sarif_form",
    "junit": "junit_form",
    "csv": "csv_form",
    "markdown": "markdown.md",
}
#: By the ending of the path that ``report --output`` takes; each module has ``render(report)``.
SUBMITTALS = {".pdf": "pdf_form", ".html": "html_form"}


def make(name: str, options: Options) -> Form:
    """The form of that name."""
    found = FORMS[name]
    if "." in found:
        from .templating import TemplateForm

        return TemplateForm(found, options)
    form: Form = importlib.import_module(f".{found}", __package__).Form(options)
    return form


def written(name: str, reports: Sequence[Report], options: Options | None = None) -> str:
    """The reports in the form of that name."""
    form = make(name, options or Options(several=len(reports) > 1))
    return "".join(form.rest([form.add(report) for report in reports]))


def submittal(ending: str, report: Report) -> bytes:
    """The submittal report in the form that a path of this ending has.  KeyError for another."""
    made: str | bytes = importlib.import_module(f".{SUBMITTALS[ending]}", __package__).render(
        report
    )
    return made.encode() if isinstance(made, str) else made
