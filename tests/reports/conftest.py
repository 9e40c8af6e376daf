"""Reports and their forms, each made once for all tests of this folder."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from submittals import LONG, SAMPLES, load, nasty_design

from checker.findings.finding import Report
from checker.reports import html_form, pdf_form

DATE = "2026-03-09"


@pytest.fixture(scope="session")
def wall() -> Report:
    """The sample wall with its mistakes, dated."""
    here = os.getcwd()
    os.chdir(SAMPLES.parent)  # so that no machine's folders stand in the report
    try:
        report = load("samples/recovery-wall-rev-b.yaml")
    finally:
        os.chdir(here)
    report.date = DATE
    return report


@pytest.fixture(scope="session")
def nasty(tmp_path_factory: pytest.TempPathFactory) -> Report:
    """The wall whose names mean mischief."""
    path = tmp_path_factory.mktemp("nasty") / "design.yaml"
    path.write_text(nasty_design(), encoding="utf-8")
    report = load(path)
    report.date = DATE
    # No file can hold so long a text, but a form must bear whatever it is given.
    report.notices = (*report.notices, LONG)
    return report


@pytest.fixture(scope="session")
def wall_pdf(wall: Report) -> bytes:
    return pdf_form.render(wall)


@pytest.fixture(scope="session")
def wall_html(wall: Report) -> str:
    return html_form.render(wall)


@pytest.fixture(scope="session")
def nasty_pdf(nasty: Report) -> bytes:
    return pdf_form.render(nasty)


@pytest.fixture(scope="session")
def nasty_html(nasty: Report) -> str:
    return html_form.render(nasty)


@pytest.fixture(scope="session")
def pages_folder(tmp_path_factory: pytest.TempPathFactory, wall_html: str, nasty_html: str) -> Path:
    """A folder with both pages as files."""
    folder = tmp_path_factory.mktemp("pages")
    (folder / "wall.html").write_text(wall_html, encoding="utf-8")
    (folder / "nasty.html").write_text(nasty_html, encoding="utf-8")
    return folder
