"""The PDF, read by another library: structure, fonts, text, what it carries, same bytes."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from submittals import LONG, NASTY, SAMPLES, load, many_boxes

from checker.findings.finding import Report
from checker.reports import cautions, glyphs, pdf_form, submittal
from checker.reports.figures import every
from checker.reports.json_form import report_object
from checker.reports.report_view import ReportView

pypdf = pytest.importorskip("pypdf")


def read(data: bytes) -> Any:
    return pypdf.PdfReader(io.BytesIO(data))


def pages(data: bytes, most: int = 1000) -> list[str]:
    """The text of the pages, without the signs that only say where a line may break."""
    return [page.extract_text().replace("\u200b", "") for page in read(data).pages[:most]]


def squeezed(text: str) -> str:
    """Text without any blanks, since lines break anywhere."""
    return re.sub(r"\s+", "", text)


@pytest.fixture(scope="module")
def wall_pages(wall_pdf: bytes) -> list[str]:
    return pages(wall_pdf)


@pytest.fixture(scope="module")
def nasty_pages(nasty_pdf: bytes) -> list[str]:
    return pages(nasty_pdf, 30)  # reading takes the library long


def walk(outline: list[Any], depth: int = 1) -> list[tuple[int, str]]:
    found = []
    for item in outline:
        if isinstance(item, list):
            found += walk(item, depth + 1)
        else:
            found.append((depth, str(item.title).replace("\u200b", "")))
    return found


class TestStructure:
    def test_page_x_of_y_and_running_head_on_every_page(self, wall_pages: list[str]) -> None:
        total = len(wall_pages)
        assert total > 10
        for number, text in enumerate(wall_pages, 1):
            assert f"Page {number} of {total}" in text
            assert "RB-2, revision B" in text

    def test_bookmarks(self, wall_pdf: bytes) -> None:
        found = walk(read(wall_pdf).outline)
        assert [title for depth, title in found if depth == 1] == [
            "Findings that need action", "Not covered by this check",
            "Decisions", "Drawings", "Calculation sheets",
            "Schedules", "All findings", "Rulebook", "Tables",
        ]  # fmt: skip
        titles = [title for depth, title in found if depth == 2]
        for title in ("Section S1", "Conduit schedule", "Box schedule", "Cross-sections"):
            assert title in titles
        assert any("box JN2" in title for title in titles)

    def test_every_font_is_embedded(self, wall_pdf: bytes) -> None:
        fonts = {}
        for page in read(wall_pdf).pages:
            for name, font in _fonts(page):
                fonts[name] = font
        assert len(fonts) >= 3
        for name, font in fonts.items():
            descendants = font.get("/DescendantFonts")
            holder = descendants[0].get_object() if descendants else font
            descriptor = holder["/FontDescriptor"].get_object()
            assert any(f"/FontFile{kind}" in descriptor for kind in ("", "2", "3")), name

    def test_tagged_and_archivable(self, wall_pdf: bytes) -> None:
        """PDF/A-3 level A and PDF/UA-1 as the file itself declares them (ISO 19005-3, 14289-1)."""
        reader = read(wall_pdf)
        root = reader.trailer["/Root"]
        assert root["/MarkInfo"]["/Marked"]
        assert root["/Lang"] == "en"
        assert "/OutputIntents" in root
        metadata = root["/Metadata"].get_data().decode()
        assert re.search(r"pdfaid:part>3<", metadata)
        assert re.search(r"pdfaid:conformance>A<", metadata)
        assert re.search(r"pdfuaid:part>1<", metadata)
        tags = _tags(root["/StructTreeRoot"])
        assert {"/H1", "/H2", "/Table", "/THead", "/TH", "/TD", "/Figure"} <= tags

    def test_drawings_are_vectors_with_words_for_those_who_cannot_see_them(
        self, wall_pdf: bytes
    ) -> None:
        reader = read(wall_pdf)
        assert "/Image" not in {kind for page in reader.pages for kind in _shapes(page)}
        said = _alternatives(reader.trailer["/Root"]["/StructTreeRoot"])
        assert any(text.startswith("Elevation of section S1") for text in said)
        assert any("Cross-section of EMT" in text for text in said)
        assert all(said)

    def test_table_heads_are_repeated(self, wall_pages: list[str]) -> None:
        continued = [t for t in wall_pages if "box-fill" not in t and "what is said" in t]
        assert continued, "a table of findings goes over a page and takes its head along"

    def test_without_a_date_none_is_put_in(self, wall: Report) -> None:
        wall.date, kept = "", wall.date
        try:
            reader = read(pdf_form.render(wall))
        finally:
            wall.date = kept
        assert "/CreationDate" not in (reader.metadata or {})
        assert "not stated" in reader.pages[0].extract_text()

    def test_the_date_given_is_the_documents(self, wall_pdf: bytes) -> None:
        assert read(wall_pdf).metadata["/CreationDate"].startswith("D:20260309")


def _resources(page: Any) -> list[Any]:
    """The resources of a page and of every shape that it draws."""
    found, waiting = [], [page.get("/Resources")]
    while waiting:
        resources = waiting.pop()
        if resources is not None:
            resources = resources.get_object()
            found.append(resources)
            for shape in (resources.get("/XObject") or {}).values():
                waiting.append(shape.get_object().get("/Resources"))
    return found


def _fonts(page: Any) -> list[tuple[str, Any]]:
    fonts = [f.get_object() for r in _resources(page) for f in (r.get("/Font") or {}).values()]
    return [(str(font["/BaseFont"]), font) for font in fonts]


def _shapes(page: Any) -> list[str]:
    shapes = [s for r in _resources(page) for s in (r.get("/XObject") or {}).values()]
    return [str(shape.get_object()["/Subtype"]) for shape in shapes]


def _tree(node: Any) -> list[Any]:
    found, waiting = [], [node]
    while waiting:
        item = waiting.pop()
        item = item.get_object() if hasattr(item, "get_object") else item
        if isinstance(item, list):
            waiting += item
        elif isinstance(item, dict):
            found.append(item)
            if "/K" in item:
                waiting.append(item["/K"])
    return found


def _tags(root: Any) -> set[str]:
    return {str(node["/S"]) for node in _tree(root) if "/S" in node}


def _alternatives(root: Any) -> list[str]:
    return [str(node.get("/Alt", "")) for node in _tree(root) if node.get("/S") == "/Figure"]


class TestContents:
    def test_every_finding_is_in_it(self, wall: Report, wall_pages: list[str]) -> None:
        text = squeezed(" ".join(wall_pages))
        start = text.index("Everyfinding,byrule.")
        listed = text[start:]
        for finding in wall.findings:
            at = listed.index(squeezed(f"{finding.rule.id}{finding.rule.title}"))
            assert squeezed(finding.subject_id) in listed[at:]
        content = ReportView(wall)
        for entry in content.findings:
            if entry.needs_action:
                assert squeezed(entry.message) in text
                assert squeezed(entry.fix) in text

    def test_what_needs_action_comes_first(self, wall_pages: list[str], wall: Report) -> None:
        first = squeezed(" ".join(wall_pages[:6]))
        for finding in wall.findings:
            if finding.kind == "fail":
                assert squeezed(f"{finding.subject_id} {finding.rule.id}") in first

    def test_a_calculation_can_be_followed(self, wall_pages: list[str]) -> None:
        """TN12a: 40 % of 0.304 in² (Chapter 9 Table 4) ÷ 0.0133 in² (Table 5) = 9.14, so 9."""
        text = squeezed(" ".join(wall_pages))
        assert squeezed("(40 % × 0.304 in² ÷ 0.0133 in²)") in text
        assert squeezed("TN12a: 12 conductors of 0.0133 in² each") in text

    def test_cover_says_what_it_was_made_from_and_defers(
        self, wall: Report, wall_pages: list[str]
    ) -> None:
        cover = squeezed(wall_pages[0])
        for text in (wall.source.digest, wall.book.digest, wall.book.tables_digest):
            assert text in cover
        for text in cautions.CAUTIONS:
            assert squeezed(text) in cover
        assert "TamarackRidgeSurgicalPavilion" in cover
        assert "KC-E-0417" in cover

    def test_nobody_is_signed_for(self, wall_pages: list[str]) -> None:
        cover = wall_pages[0]
        block = cover[cover.index("license no.") : cover.index("Contents")]
        words = block.split()
        assert words == [
            "license", "no.", "date", "Designer", "Reviewer", "Responsible", "licensed", "person",
        ]  # fmt: skip

    @pytest.mark.parametrize("word", ["compliant", "compliance", "approved", "certif"])
    def test_it_never_says_more_than_it_knows(self, word: str, wall_pages: list[str]) -> None:
        assert word not in " ".join(wall_pages).lower()

    def test_rules_values_and_sources(self, wall_pages: list[str]) -> None:
        text = squeezed(" ".join(wall_pages))
        for said in (
            "nipple_share60%Chapter9,note4",
            "Readin:",
            "raceway_dimensionsInsidediameter",
        ):
            assert said in text

    def test_it_carries_the_report_as_data(self, wall: Report, wall_pdf: bytes) -> None:
        attached = read(wall_pdf).attachments
        assert list(attached) == ["report.json"]
        assert json.loads(attached["report.json"][0]) == json.loads(json.dumps(report_object(wall)))


class TestSameBytes:
    def test_twice(self, wall: Report, wall_pdf: bytes) -> None:
        assert pdf_form.render(wall) == wall_pdf

    def test_in_another_process_place_and_time_zone(self, wall_pdf: bytes, tmp_path: Path) -> None:
        path = tmp_path / "again.pdf"
        done = subprocess.run(
            [
                sys.executable, "-m", "checker", "report", "samples/recovery-wall-rev-b.yaml",
                "--output", os.fspath(path), "--date", "2026-03-09",
            ],
            cwd=SAMPLES.parent, capture_output=True, text=True, check=False,
            env={**os.environ, "TZ": "Asia/Tokyo", "PYTHONHASHSEED": "77", "LC_ALL": "C"},
        )  # fmt: skip
        assert done.returncode == 1, done.stderr
        assert path.read_bytes() == wall_pdf


class TestHostileText:
    def test_names_are_shown_as_text(self, nasty_pages: list[str]) -> None:
        text = squeezed(" ".join(nasty_pages))
        for name in NASTY:
            if name.isascii():
                assert squeezed(name) in text, name
        # The long texts go over pages, between their heads and feet.
        assert sum(page.count("word") for page in nasty_pages[:6]) >= LONG.count("word")

    def test_signs_that_no_font_has_are_written_out(self, nasty_pages: list[str]) -> None:
        text = squeezed(" ".join(nasty_pages))
        assert r"\u6f22\u5b57\u304b\u306a" in text
        assert r"\u202eA\u202c" in text, "signs that turn the direction of writing are visible"

    def test_nothing_in_it_acts(self, nasty_pdf: bytes) -> None:
        reader = read(nasty_pdf)
        for page in reader.pages:
            for note in page.get("/Annots") or []:
                action = note.get_object().get("/A")
                assert action is None or action.get_object().get("/S") == "/GoTo"
        root = reader.trailer["/Root"]
        assert "/OpenAction" not in root
        assert "/AA" not in root

    def test_no_text_runs_off_the_page(self, nasty_pdf: bytes) -> None:
        for page in read(nasty_pdf).pages[:12]:
            right = float(page.mediabox.right)
            spots: list[float] = []
            page.extract_text(
                visitor_text=lambda text, cm, tm, font, size, s=spots: (
                    s.append(cm[0] * tm[4] + cm[4]) if text.strip() else None
                )
            )
            assert all(-1 <= x < right for x in spots)

    def test_every_sign_that_counts_as_drawable_is(self) -> None:
        """PDF/A refuses a missing glyph, so setting them all in each style proves it."""
        typst = pytest.importorskip("typst")
        source = (
            b"#set document(title: [t], date: datetime(year: 2026, month: 1, day: 1))\n"
            b'#set text(lang: "en")\n'
            b'#for font in (("Libertinus Serif", "DejaVu Sans Mono"), '
            b'("DejaVu Sans Mono", "Libertinus Serif")) {\n'
            b"  for c in sys.inputs.signs.clusters() {\n"
            b'    text(font: font, c); [ ]; text(font: font, weight: "bold", c); [ ] } }\n'
        )
        done = typst.compile(
            source,
            ignore_system_fonts=True,
            sys_inputs={"signs": glyphs.every_sign()},
            pdf_standards=["a-3a"],
        )
        assert done.startswith(b"%PDF")


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Report:
    """Beyond the limits from which a report is brief."""
    path = tmp_path_factory.mktemp("many") / "design.yaml"
    path.write_text(many_boxes(180), encoding="utf-8")
    return load(path)


class TestLongReports:
    @pytest.fixture(autouse=True)
    def _lower_limits(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(every, "MOST_PAGES", 2)
        monkeypatch.setattr(submittal, "BRIEF_FROM", 1000)
        monkeypatch.setattr(pdf_form, "WIDE_UP_TO", 100)
        monkeypatch.setattr(pdf_form, "MOST_BLOCKS", 5)
        monkeypatch.setattr(submittal, "STEPS_UP_TO", 1000)

    def test_what_is_left_out_is_said_and_every_finding_stays(self, many: Report) -> None:
        content = ReportView(many)
        layout = json.dumps(pdf_form.layout(content), ensure_ascii=False)
        layout = layout.replace("\u200b", "")  # where lines may break
        assert "Left out here:" in layout
        assert "sheets of the one-line diagram are not drawn" in layout
        assert len(content.calculations) <= 160
        groups = {group["rule"]: group for group in json.loads(layout)["groups"]}
        for finding in many.findings:
            group = groups[finding.rule.id]
            listed = [name for run in group["runs"] for name in run["listed"].split(", ")]
            listed += [row["label"].split(" ", 1)[1] for row in group["rows"]]
            assert finding.subject_id in {name.split(" ")[0] for name in listed}

    def test_it_can_be_made(self, many: Report) -> None:
        reader = read(pdf_form.render(many))
        assert len(reader.pages) > 10
        carried = json.loads(reader.attachments["report.json"][0])
        assert len(carried["findings"]) == len(many.findings)
        assert carried["steps_of"] == "findings that need action"
        assert all(f["steps"] == [] for f in carried["findings"] if f["kind"] == "pass")
        assert any(f["steps"] for f in carried["findings"] if f["kind"] == "fail")
