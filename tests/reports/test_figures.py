"""The drawings as data: to scale, told apart without colour, marked, and every text a text."""

from __future__ import annotations

import re
from math import pi
from pathlib import Path
from xml.etree import ElementTree

import pytest
from submittals import NASTY, load

from checker.documents.errors import printable
from checker.findings.finding import Report
from checker.reports.figures.branches import STYLES
from checker.reports.figures.every import Figure
from checker.reports.figures.labels import Room, along, around
from checker.reports.figures.schematic import rows
from checker.reports.figures.svg import shortened
from checker.reports.report_view import ReportView

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def content(wall: Report) -> ReportView:
    return ReportView(wall)


@pytest.fixture(scope="module")
def nasty_content(nasty: Report) -> ReportView:
    return ReportView(nasty)


def every(content: ReportView) -> list[Figure]:
    figures = content.figures
    found = [*figures.elevations, *figures.schematics, *figures.sections]
    return found + ([figures.ratios] if figures.ratios is not None else [])


def texts(figure: Figure) -> list[str]:
    return [e.text or "" for e in ElementTree.fromstring(figure.svg).iter(f"{SVG}text")]


class TestEvery:
    def test_they_are_there(self, content: ReportView) -> None:
        figures = content.figures
        assert [f.title for f in figures.elevations] == ["Section S1", "Section S2", "Section S3"]
        assert figures.schematics, "the home runs have no place"
        assert len(figures.sections) > 5
        assert figures.ratios is not None

    @pytest.mark.parametrize("which", ["content", "nasty_content"])
    def test_they_are_well_formed_and_alone(
        self, which: str, request: pytest.FixtureRequest
    ) -> None:
        for figure in every(request.getfixturevalue(which)):
            root = ElementTree.fromstring(figure.svg)
            assert root.get("aria-label") == figure.alt or figure.alt not in figure.svg
            patterns = {e.get("id") for e in root.iter(f"{SVG}pattern")}
            for element in root.iter():
                assert element.tag.removeprefix(SVG) in (
                    "svg", "defs", "pattern", "g", "a", "title", "text", "rect", "circle", "line",
                    "polyline", "polygon",
                )  # fmt: skip
                assert "style" not in element.attrib
                for value in element.attrib.values():
                    if "url(" in value:
                        assert value[5:-1] in patterns
                assert element.get("href", "#").startswith("#")

    def test_nothing_is_drawn_outside(self, content: ReportView) -> None:
        for figure in every(content):
            for element in ElementTree.fromstring(figure.svg).iter():
                for name, most in (
                    ("x1", figure.width), ("x2", figure.width), ("cx", figure.width),
                    ("y1", figure.height), ("y2", figure.height), ("cy", figure.height),
                ):  # fmt: skip
                    value = element.get(name)
                    if value is not None and element.tag != f"{SVG}circle":
                        assert -1 <= float(value) <= most + 1, (figure.title, element.attrib)

    def test_same_design_same_drawings(self, wall: Report, content: ReportView) -> None:
        again = ReportView(wall)
        assert [f.svg for f in every(again)] == [f.svg for f in every(content)]

    def test_hostile_names_are_text(self, nasty_content: ReportView) -> None:
        elevation = nasty_content.figures.elevations[0]
        titles = [e.text or "" for e in ElementTree.fromstring(elevation.svg).iter(f"{SVG}title")]
        for name in NASTY:
            assert any(f" {printable(name)}," in title for title in titles), name
        for figure in every(nasty_content):
            assert "\u202e" not in figure.svg
            assert all(len(text) < 80 for text in texts(figure)), "labels are clipped"


class TestBranches:
    def test_styles_differ_without_colour(self) -> None:
        looks = [(s.width, s.dash, s.cap, s.hollow) for s in STYLES.values()]
        assert len(set(looks)) == len(looks)
        dashes = [s.dash for s in STYLES.values() if s.dash]
        assert len(set(dashes)) == len(dashes)
        letters = [s.letters for s in STYLES.values()]
        assert len(set(letters)) == len(letters)

    def test_every_drawn_raceway_has_its_letters(self, content: ReportView, wall: Report) -> None:
        said = texts(content.figures.elevations[1])
        for name, letters in (("RN21", "N"), ("RC21", "CR"), ("RS2", "SG")):
            assert f"{name} {letters}" in said
        assert "CR critical" in said

    def test_critical_wiring_is_dashed_and_normal_is_not(self, content: ReportView) -> None:
        root = ElementTree.fromstring(content.figures.elevations[1].svg)
        dashes = {}
        for group in root.iter():
            title = group.find(f"{SVG}title")
            if title is not None and (title.text or "").startswith("raceway"):
                lines = group.findall(f"{SVG}polyline")
                dashes[(title.text or "").split(":")[0]] = lines[-1].get("stroke-dasharray")
        assert dashes["raceway RN21"] is None
        assert dashes["raceway RC21"] == STYLES["critical"].dash


class TestMarks:
    def test_elements_of_findings_bear_their_numbers(self, content: ReportView) -> None:
        everywhere = [text for figure in every(content) for text in texts(figure)]
        for entry in content.findings:
            element = entry.element
            if entry.needs_action and element.name in ("box", "raceway", "cable", "run"):
                assert str(entry.number) in everywhere, entry

    def test_a_run_over_a_joint_is_marked_in_both_sections(self, content: ReportView) -> None:
        number = next(
            str(e.number) for e in content.findings if e.rule == "bend-total" and e.kind == "fail"
        )
        for figure in content.figures.elevations[:2]:
            assert number in texts(figure)


class TestElevation:
    def test_boxes_stand_where_the_file_puts_them(self, content: ReportView) -> None:
        """N21 is at 8 in, 44 in and C21 at 24 in, 44 in: 16 in apart at the same height."""
        root = ElementTree.fromstring(content.figures.elevations[1].svg)
        outline = next(root.iter(f"{SVG}rect"))
        scale = float(outline.get("width", 0)) / 72  # the section is 6 ft wide
        centers = {}
        for group in root.iter():
            title = group.find(f"{SVG}title")
            if title is not None and re.match("outlet box (N21|C21),", title.text or ""):
                box = next(r for r in group.iter(f"{SVG}rect") if r.get("fill") == "#ffffff")
                x, y, w, h = (float(box.get(k, 0)) for k in ("x", "y", "width", "height"))
                centers[(title.text or "")[11:14]] = (x + w / 2, y + h / 2)
                assert w == pytest.approx(4 * scale, abs=0.05)  # 4 in square boxes
        assert centers["C21"][0] - centers["N21"][0] == pytest.approx(16 * scale, abs=0.05)
        assert centers["C21"][1] == centers["N21"][1]
        bottom = float(outline.get("y", 0)) + float(outline.get("height", 0))
        assert bottom - centers["N21"][1] == pytest.approx(44 * scale, abs=0.05)

    def test_what_lies_beyond_the_outline_is_told(self, tmp_path: Path) -> None:
        path = tmp_path / "d.yaml"
        path.write_text(
            "assembly: X\nsections: [{id: S, width: 6 ft, height: 9 ft}]\nboxes:\n"
            "  - {id: NEAR, section: S, kind: outlet, at: [72 in, 0 in]}\n"
            "  - {id: FAR, section: S, kind: outlet, at: [73 in, 10 in]}\n",
            encoding="utf-8",
        )
        caption = ReportView(load(path)).figures.elevations[0].caption
        assert caption.endswith("so not or half drawn: FAR")

    def test_names_do_not_cover_each_other(self) -> None:
        room = Room((0, 0, 400, 400))
        placed = []
        for place in range(12):
            area = (100.0 + 8 * place, 100.0, 106.0 + 8 * place, 106.0)
            room.take(area)
        for place in range(12):
            area = (100.0 + 8 * place, 100.0, 106.0 + 8 * place, 106.0)
            placed.append(room.place((30, 8), around(area, (30, 8))))
        line = [(20.0, 300.0), (380.0, 300.0)]
        room.take_line(line)
        spot = room.place((40, 8), along(line, (40, 8)))
        assert spot[1] + 8 < 300 or spot[1] > 300
        overlaps = sum(
            abs(a[0] - b[0]) < 30 and abs(a[1] - b[1]) < 8
            for i, a in enumerate(placed)
            for b in placed[:i]
        )
        assert overlaps <= 2, "twelve names in a row this narrow find room but for a few"

    def test_a_crowded_face_covers_no_number_and_loses_no_name(self, tmp_path: Path) -> None:
        """Forty boxes a finger apart, with names that differ only at their ends."""
        names = [f"Dose-Überwachungsplatz-{i:02d}-ÅØ" for i in range(40)]
        path = tmp_path / "d.yaml"
        path.write_text(
            "assembly: X\nsections: [{id: S, width: 3 ft, height: 3 ft}]\nboxes:\n"
            + "".join(
                f"  - {{id: {name}, section: S, kind: outlet, "
                f"at: [{4 + i % 8 * 4} in, {4 + i // 8 * 5} in]}}\n"
                for i, name in enumerate(names)
            ),
            encoding="utf-8",
        )
        figure = ReportView(load(path)).figures.elevations[0]
        root = ElementTree.fromstring(figure.svg)
        rects = list(root.iter(f"{SVG}rect"))
        labels = [_area(r) for r in rects if r.get("stroke", "none") == "none"]
        labels = [a for a in labels if a[3] - a[1] < 9]  # white behind a name
        numbers = [_area(r) for r in rects if r.get("height") == "12"]
        assert len(labels) == 40
        assert len(numbers) > 40
        for place, label in enumerate(labels):
            assert label[0] >= 0, "no name is cut off"
            assert label[2] <= figure.width, "no name is cut off"
            for other in [*labels[:place], *numbers]:
                wide = min(label[2], other[2]) - max(label[0], other[0])
                high = min(label[3], other[3]) - max(label[1], other[1])
                assert wide <= 1.3 or high <= 1, (label, other)
        keyed = dict(part.split(": ") for part in figure.key.rstrip(".").split(". ")[1].split("; "))
        said = texts(figure)
        for name in names:
            letters = [letter for letter, meant in keyed.items() if meant == name]
            assert (letters and letters[0] in said) or shortened(name, 18) in said

    def test_a_name_too_long_keeps_its_ends(self) -> None:
        assert shortened("abcdefghij", 10) == "abcdefghij"
        assert shortened("abcdefghijk", 10) == "abcde…hijk"


def _area(rect: ElementTree.Element) -> tuple[float, float, float, float]:
    x, y, wide, high = (float(rect.get(key, 0)) for key in ("x", "y", "width", "height"))
    return x, y, x + wide, y + high


class TestCrossSection:
    def test_conductors_are_to_scale(self, content: ReportView) -> None:
        """TN12a: twelve 12 AWG THHN of 0.0133 in² in 0.304 in² (Chapter 9 Tables 5 and 4)."""
        figure = next(f for f in content.figures.sections if f.title.startswith("EMT 1/2: TN12a"))
        circles = [
            float(e.get("r", 0)) for e in ElementTree.fromstring(figure.svg).iter(f"{SVG}circle")
        ]
        bore = circles[1]  # the wall is drawn before it
        conductors = circles[2:]
        assert len(conductors) == 12
        share = sum(pi * r * r for r in conductors) / (pi * bore * bore)
        assert share == pytest.approx(12 * 0.0133 / 0.304, rel=0.005)
        assert "52.5 % of 0.304 in²" in texts(figure)
        assert "40 % permitted" in texts(figure)
        assert "12 conductors; 9 permitted" in texts(figure)

    def test_the_gauge_shows_fill_and_permitted_share(self, content: ReportView) -> None:
        figure = next(f for f in content.figures.sections if f.title.startswith("EMT 1/2: TN12a"))
        root = ElementTree.fromstring(figure.svg)
        bars = [e for e in root.iter(f"{SVG}rect") if e.get("height") == "9"]
        whole, filled = (float(e.get("width", 0)) for e in bars[:2])
        assert filled / whole == pytest.approx(0.525, abs=0.002)
        tick = next(e for e in root.iter(f"{SVG}line") if e.get("stroke-width") == "1.8")
        left = float(bars[0].get("x", 0))
        assert (float(tick.get("x1", 0)) - left) / whole == pytest.approx(0.40, abs=0.001)

    def test_what_is_not_known_is_not_drawn_but_told(self, tmp_path: Path) -> None:
        path = tmp_path / "d.yaml"
        path.write_text(
            "assembly: X\nboxes: [{id: A, kind: outlet}, {id: B, kind: outlet}]\n"
            "raceways: [{id: R1, from: A, to: B}]\n"
            "pulls: [{id: W, through: [R1], wires: [{role: phase, size: 12 AWG}]}]\n",
            encoding="utf-8",
        )
        content = ReportView(load(path))
        assert content.figures.sections == []
        assert any(note.endswith(": R1") for note in content.figures.notes)


class TestRatios:
    def test_bars_are_as_long_as_their_ratios(self, content: ReportView) -> None:
        assert content.figures.ratios is not None
        root = ElementTree.fromstring(content.figures.ratios.svg)
        limit = next(e for e in root.iter(f"{SVG}line") if e.get("stroke-width") == "1.8")
        found = 0
        for group in root.iter(f"{SVG}a"):
            bar = next(e for e in group.iter(f"{SVG}rect"))
            ratio = float([e.text for e in group.iter(f"{SVG}text")][2] or 0)
            start = float(bar.get("x", 0))
            unit = float(limit.get("x1", 0)) - start
            if ratio < 1.55:
                assert float(bar.get("width", 0)) / unit == pytest.approx(ratio, abs=0.006)
                found += 1
        assert found > 10

    def test_the_worst_come_first_and_no_rule_floods_it(self, content: ReportView) -> None:
        graded = [e for e in content.findings if e.graded and e.ratio]
        worst = max(graded, key=lambda e: e.ratio or 0)
        assert content.figures.ratios is not None
        said = texts(content.figures.ratios)
        assert any(t.strip().startswith(f"{worst.number} ") for t in said)
        for rule in {e.rule for e in graded}:
            assert said.count(rule) <= 3


class TestSchematic:
    def test_every_raceway_is_drawn_once(self, wall: Report) -> None:
        names = {way.id for way in wall.assembly.raceways} | {c.id for c in wall.assembly.cables}
        drawn = [
            cell.way.id for row in rows(wall.assembly, names) for cell in row.cells if cell.way
        ]
        assert sorted(drawn) == sorted(names)

    def test_a_ring_of_boxes_ends(self, tmp_path: Path) -> None:
        path = tmp_path / "ring.yaml"
        path.write_text(
            "assembly: X\nboxes: [{id: A, kind: outlet}, {id: B, kind: outlet}, "
            "{id: C, kind: outlet}]\nraceways:\n"
            "  - {id: R1, method: EMT, size: 1/2, from: A, to: B}\n"
            "  - {id: R2, method: EMT, size: 1/2, from: B, to: C}\n"
            "  - {id: R3, method: EMT, size: 1/2, from: C, to: A}\n",
            encoding="utf-8",
        )
        report = load(path)
        drawn = [
            cell.way.id for row in rows(report.assembly, {"A"}) for cell in row.cells if cell.way
        ]
        assert sorted(drawn) == ["R1", "R2", "R3"]
        assert ReportView(report).figures.schematics
