"""The HTML file, read with the standard library's parser: complete, alone, and all text is text."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from functools import cached_property
from html.parser import HTMLParser
from pathlib import Path

import pytest
from submittals import LONG, NASTY, SAMPLES

from checker.cli.main import guarded
from checker.documents.errors import printable
from checker.findings.finding import Report
from checker.reports import cautions, html_form, submittal
from checker.reports.json_form import report_object
from checker.reports.report_view import ReportView

_EMPTY = {"meta", "input", "br", "img", "link", "circle", "line", "rect", "polyline", "polygon"}


class Reading(HTMLParser):
    """Tags, attributes and text of a page, and whether its tags close in order."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []
        self.styles: list[str] = []
        self.scripts: list[str] = []
        self.open: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert len(attrs) == len(dict(attrs)), f"an attribute twice in <{tag}>"
        self.tags.append((tag, dict(attrs)))
        if tag not in _EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open, f"</{tag}> closes nothing"
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        inside = self.open[-1] if self.open else ""
        {"style": self.styles, "script": self.scripts}.get(inside, self.text).append(data)

    @cached_property
    def said(self) -> str:
        return re.sub(r"\s+", " ", "".join(self.text))


def test_the_sections_stand_in_the_order_of_the_contents(wall_html: str) -> None:
    contents = re.findall(
        r'href="#([a-z]+)">', wall_html.partition("<nav")[2].partition("</nav>")[0]
    )
    assert re.findall(r'<section id="([a-z]+)"', wall_html) == contents


@pytest.fixture(scope="module")
def wall_read(wall_html: str) -> Reading:
    return Reading(wall_html)


@pytest.fixture(scope="module")
def nasty_read(nasty_html: str) -> Reading:
    return Reading(nasty_html)


@pytest.mark.parametrize("which", ["wall_read", "nasty_read"])
class TestAlone:
    def test_tags_are_balanced(self, which: str, request: pytest.FixtureRequest) -> None:
        assert request.getfixturevalue(which).open == []

    def test_nothing_is_fetched(self, which: str, request: pytest.FixtureRequest) -> None:
        page: Reading = request.getfixturevalue(which)
        for tag, attributes in page.tags:
            assert tag not in ("img", "link", "iframe", "object", "embed", "base", "image", "use")
            for name, value in attributes.items():
                if name in ("href", "src", "action", "data", "poster", "srcset", "xlink:href"):
                    assert str(value).startswith("#"), (tag, name, value)
                assert not name.startswith("on"), (tag, name)
                if value and "url(" in value:
                    assert re.fullmatch(r"url\(#[\w-]+\)", value), value
        for text in page.styles:
            assert "url(" not in text
            assert "@import" not in text

    def test_a_policy_forbids_what_is_not_there(
        self, which: str, request: pytest.FixtureRequest
    ) -> None:
        page: Reading = request.getfixturevalue(which)
        policy = next(
            str(attributes["content"])
            for tag, attributes in page.tags
            if tag == "meta" and attributes.get("http-equiv") == "Content-Security-Policy"
        )
        assert "default-src 'none'" in policy
        assert "script-src 'sha256-" in policy
        assert "unsafe-eval" not in policy

    def test_ids_are_unique_and_every_link_leads_somewhere(
        self, which: str, request: pytest.FixtureRequest
    ) -> None:
        page: Reading = request.getfixturevalue(which)
        ids = [str(a["id"]) for _, a in page.tags if "id" in a]
        assert len(ids) == len(set(ids))
        links = {str(a["href"])[1:] for _, a in page.tags if "href" in a}
        assert links <= set(ids)
        assert len(links) > 50


class TestContents:
    def test_every_finding_has_its_place(self, wall: Report, wall_read: Reading) -> None:
        content = ReportView(wall)
        ids = {a.get("id") for _, a in wall_read.tags}
        assert len(content.findings) == len(wall.findings)
        for entry in content.findings:
            assert f"f{entry.number}" in ids
            assert f"e{entry.element.index}" in ids
            assert re.sub(r"\s+", " ", entry.message) in wall_read.said
            if entry.fix:
                assert entry.fix in wall_read.said

    def test_the_same_content_as_the_pdf(self, wall: Report, wall_read: Reading) -> None:
        content = ReportView(wall)
        for text in (
            *cautions.CAUTIONS,
            *(f"{name}{value}" for name, value in content.facts if "\n" not in value),
            *(digest for _, _, digest in content.fingerprints),
            *(schedule.title for schedule in content.schedules),
            *(step.note for made in content.calculations for step in made.steps),
            *(value.note for rule in content.rules for value in rule.values),
            *(source for rule in content.rules for source in rule.sources),
            *(table.note for table in content.tables),
        ):
            assert re.sub(r"\s+", " ", text) in wall_read.said, text

    def test_drawings_and_findings_lead_to_each_other(self, wall: Report, wall_html: str) -> None:
        content = ReportView(wall)
        drawn = [element for element in content.elements if element.drawn is not None]
        assert len(drawn) > 60
        for element in drawn:
            assert f'id="d{element.drawn}"' in wall_html
            assert f'href="#d{element.drawn}"' in wall_html
        box = next(e for e in content.elements if (e.name, e.id) == ("box", "JN2"))
        assert re.search(rf'<a href="#e{box.index}" id="d{box.index}">', wall_html)

    def test_it_carries_the_report_as_data(self, wall: Report, wall_read: Reading) -> None:
        places = [a for t, a in wall_read.tags if t == "script"]
        assert places[0] == {"type": "application/json", "id": "pullpoint-report"}
        assert json.loads(wall_read.scripts[0]) == json.loads(json.dumps(report_object(wall)))

    def test_same_bytes(self, wall: Report, wall_html: str) -> None:
        assert html_form.render(wall) == wall_html

    @pytest.mark.parametrize("word", ["compliant", "compliance", "approved", "certif"])
    def test_it_never_says_more_than_it_knows(self, word: str, wall_read: Reading) -> None:
        assert word not in wall_read.said.lower()


class TestHostileText:
    def test_names_are_shown_as_text(self, nasty_read: Reading) -> None:
        for name in NASTY:
            assert re.sub(r"\s+", " ", printable(name)) in nasty_read.said, name
        assert LONG in nasty_read.said

    def test_no_name_became_a_tag(self, wall_read: Reading, nasty_read: Reading) -> None:
        usual = {tag for tag, _ in wall_read.tags}
        assert {tag for tag, _ in nasty_read.tags} <= usual | {"polygon"}
        assert len(nasty_read.scripts) == 2

    def test_signs_that_reorder_are_visible(self, nasty_html: str) -> None:
        assert "\u202e" not in nasty_html
        assert r"\u202eA\u202c" in nasty_html
        assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f]", nasty_html)

    def test_data_cannot_end_its_element(self, nasty: Report, nasty_read: Reading) -> None:
        carried = json.loads(nasty_read.scripts[0])
        names = {finding["subject"]["id"] for finding in carried["findings"]}
        assert set(NASTY) <= names


class TestLongReports:
    def test_brief_and_still_complete(
        self, wall: Report, wall_html: str, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(submittal, "BRIEF_FROM", 500)
        monkeypatch.setattr(html_form, "MOST_PASSING", 100)
        page = html_form.render(wall)
        assert len(page) < len(wall_html)
        read = Reading(page)
        ids = {a.get("id") for _, a in read.tags}
        assert {f"f{number}" for number in range(1, len(wall.findings) + 1)} <= ids
        together = sum(int(str(a["data-n"])) for _, a in read.tags if "data-n" in a)
        assert together == wall.summary["notApplicable"] + wall.summary["pass"] - 100
        entries = ReportView(wall).findings
        alone = [e for e in entries if f'<tr id="f{e.number}" data-k="pass"' in page]
        assert len(alone) == 100
        least = min(entry.ratio or 0 for entry in alone)
        others = [e for e in entries if e.kind == "pass" and e.graded and e not in alone]
        assert all((entry.ratio or 0) <= least for entry in others)


class TestVerified:
    """People read the page, not the data in it, so the page has a fingerprint of its own."""

    @pytest.fixture
    def page(
        self, wall_html: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> Callable[[str], Path]:
        monkeypatch.chdir(SAMPLES.parent)

        def write(text: str) -> Path:
            path = tmp_path / "report.html"
            path.write_bytes(text.encode())
            return path

        return write

    def said(self, path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
        status = guarded(["verify", str(path)])
        return status, capsys.readouterr().out

    def test_as_written(
        self, wall_html: str, page: Callable[[str], Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        status, said = self.said(page(wall_html), capsys)
        assert status == 0
        assert "compared: page, design," in said

    @pytest.mark.parametrize(
        ("old", "new"),
        [("<b>20</b>", "<b>0</b>"), ("450°", "350°"), ("</body>", "<p>x</p></body>")],
    )
    def test_a_number_edited(
        self,
        wall_html: str,
        page: Callable[[str], Path],
        capsys: pytest.CaptureFixture[str],
        old: str,
        new: str,
    ) -> None:
        assert old in wall_html
        status, said = self.said(page(wall_html.replace(old, new, 1)), capsys)
        assert status == 1
        assert "page: what it shows was edited after it was written" in said

    def test_without_its_fingerprint_nothing_is_claimed(
        self, wall_html: str, page: Callable[[str], Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = page(wall_html[: wall_html.rindex("<!--")])
        status, said = self.said(path, capsys)
        assert status == 0
        assert "compared: the report that the page carries, not what it shows, design" in said

    def test_a_large_report_without_the_steps_of_what_holds(
        self,
        wall: Report,
        page: Callable[[str], Path],
        capsys: pytest.CaptureFixture[str],
        monkeypatch: pytest.MonkeyPatch,
    ) -> None:
        monkeypatch.setattr(submittal, "STEPS_UP_TO", 100)
        text = html_form.render(wall)
        assert '"steps_of":"findings that need action"' in text
        assert self.said(page(text), capsys)[0] == 0
        # A calculation of what needs action is never left out, and none is where that is not said.
        old = json.loads(Reading(text).scripts[0])
        for finding in old["findings"]:
            finding["steps"] = []
        path = page("")
        path.write_text(json.dumps(old), encoding="utf-8")
        status, said = self.said(path, capsys)
        assert status == 1
        assert "run TC12a+TC12b: its calculation has" in said
        assert "run HN:" not in said
        del old["steps_of"]
        path.write_text(json.dumps(old), encoding="utf-8")
        assert "run HN: its calculation has" in self.said(path, capsys)[1]
