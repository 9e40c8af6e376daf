"""The HTML file in headless Chromium: filters, links, keyboard, print, contrast, no complaint."""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import PROGRAM, Page
from submittals import NASTY

from checker.documents.errors import printable
from checker.findings.finding import Report
from checker.reports.report_view import ReportView

pytestmark = pytest.mark.skipif(PROGRAM is None, reason="no Chromium is installed")

TAB, ENTER, SPACE = ("Tab", 9, ""), ("Enter", 13, "\r"), (" ", 32, " ")
_SHOWN = "[...document.querySelectorAll('#list tbody tr')].filter(r => !r.hidden)"


@pytest.fixture(scope="module")
def browser() -> Iterator[Page]:
    with Page() as page:
        yield page


@pytest.fixture
def wall_page(browser: Page, pages_folder: Path) -> Iterator[Page]:
    """The sample wall's report; whatever a test does there, nothing may be complained about."""
    browser.complaints.clear()
    browser.requested.clear()
    browser.open(pages_folder / "wall.html")
    yield browser
    assert browser.complaints == []
    assert {url.partition("#")[0] for url in browser.requested} == {
        (pages_folder / "wall.html").as_uri()
    }


class TestFilters:
    def test_all_are_shown_at_first(self, wall_page: Page, wall: Report) -> None:
        assert wall_page.run(f"{_SHOWN}.length") == len(wall.findings)
        assert wall_page.run("document.getElementById('filter').hidden") is False

    def test_by_kind(self, wall_page: Page, wall: Report) -> None:
        for kind in ("pass", "notApplicable"):
            wall_page.click(f"input[value={kind}]")
        kinds = wall_page.run(f"{_SHOWN}.map(r => r.dataset.k)")
        expected = [f.kind for f in wall.findings if f.kind not in ("pass", "notApplicable")]
        assert sorted(kinds) == sorted(expected)
        said = wall_page.run("document.getElementById('shown').textContent")
        assert said == f"{len(expected)} of {len(wall.findings)} findings are shown."

    def test_by_rule(self, wall_page: Page, wall: Report) -> None:
        wall_page.run(
            "(() => { const s = document.querySelector('select[name=rule]'); s.value = 'box-fill';"
            "s.dispatchEvent(new Event('input', {bubbles: true})); })()"
        )
        assert wall_page.run(f"{_SHOWN}.length") == sum(
            finding.rule.id == "box-fill" for finding in wall.findings
        )

    def test_by_element_with_the_keyboard_alone(self, wall_page: Page, wall: Report) -> None:
        wall_page.run("document.querySelector('input[name=element]').focus()")
        wall_page.call("Input.insertText", text="jn2")
        expected = sum("jn2" in f"{f.subject_class} {f.subject_id}".lower() for f in wall.findings)
        assert wall_page.run(f"{_SHOWN}.length") == expected
        wall_page.key(*TAB)
        assert wall_page.run("document.activeElement.type") == "reset"
        wall_page.key(*ENTER)
        wall_page.run("new Promise(done => setTimeout(done, 50))")
        assert wall_page.run(f"{_SHOWN}.length") == len(wall.findings)

    def test_a_kind_with_the_keyboard(self, wall_page: Page, wall: Report) -> None:
        wall_page.run("document.querySelector('input[value=fail]').focus()")
        wall_page.key(*SPACE)
        assert wall_page.run(f"{_SHOWN}.length") == len(wall.findings) - wall.summary["fail"]

    def test_a_link_to_a_finding_that_is_filtered_away_shows_it(self, wall_page: Page) -> None:
        wall_page.click("input[value=pass]")
        hidden = wall_page.run(
            "[...document.querySelectorAll('#list tbody tr')].find(r => r.hidden && r.id).id"
        )
        wall_page.run(f"location.hash = '{hidden}'")
        wall_page.run("new Promise(done => setTimeout(done, 100))")
        assert wall_page.run(f"document.getElementById('{hidden}').hidden") is False

    def test_from_an_element_to_its_findings(self, wall_page: Page, wall: Report) -> None:
        wall_page.click("button[data-element='box JN2']")
        wall_page.run("new Promise(done => setTimeout(done, 50))")
        shown = wall_page.run(f"{_SHOWN}.map(r => r.cells[3].textContent)")
        assert set(shown) == {"box JN2"}
        assert len(shown) == sum(
            (f.subject_class, f.subject_id) == ("box", "JN2") for f in wall.findings
        )


class TestDrawings:
    def test_an_element_in_the_drawing_leads_to_its_findings(
        self, wall_page: Page, wall: Report
    ) -> None:
        element = next(e for e in ReportView(wall).elements if e.label == "box JN2")
        wall_page.click(f"svg a#d{element.index} rect")
        assert wall_page.run("location.hash") == f"#e{element.index}"
        said = wall_page.run("document.querySelector(':target').textContent")
        assert "box JN2" in said
        assert "box-fill" in said

    def test_a_finding_leads_to_its_element_in_the_drawing(
        self, wall_page: Page, wall: Report
    ) -> None:
        content = ReportView(wall)
        entry = next(e for e in content.findings if e.rule == "box-fill" and e.kind == "fail")
        wall_page.click(f"#f{entry.number} a[href^='#d']")
        assert wall_page.run("document.querySelector(':target').closest('svg') !== null")
        name = entry.element.id
        title = wall_page.run("document.querySelector(':target title').textContent")
        assert f"box {name}," in title

    def test_with_the_keyboard(self, wall_page: Page) -> None:
        wall_page.run("document.querySelector('svg a').focus()")
        assert wall_page.run("document.activeElement.closest('svg') !== null")
        target = wall_page.run("document.activeElement.getAttribute('href')")
        wall_page.key(*ENTER)
        assert wall_page.run("location.hash") == target


class TestForEverybody:
    def test_the_first_stop_skips_to_the_findings(self, wall_page: Page) -> None:
        wall_page.run("document.body.focus()")
        wall_page.key(*TAB)
        assert wall_page.run("document.activeElement.className") == "skip"
        wall_page.key(*ENTER)
        assert wall_page.run("location.hash") == "#action"

    def test_contrast(self, wall_page: Page) -> None:
        """At least 4.5 to 1 between every text and what is behind it (WCAG 2.1, 1.4.3)."""
        worst = wall_page.run(_CONTRAST)
        assert worst[0] >= 4.5, worst

    def test_complete_without_scripts(
        self, browser: Page, pages_folder: Path, wall: Report
    ) -> None:
        browser.call("Emulation.setScriptExecutionDisabled", value=True)
        try:
            browser.open(pages_folder / "wall.html")
            browser.call("Emulation.setScriptExecutionDisabled", value=False)
            assert browser.run("document.getElementById('filter').hidden") is True
            assert browser.run(f"{_SHOWN}.length") == len(wall.findings)
            assert browser.run("document.querySelectorAll('.element').length") > 100
        finally:
            browser.call("Emulation.setScriptExecutionDisabled", value=False)

    def test_prints_with_everything(self, wall_page: Page, wall: Report) -> None:
        pypdf = pytest.importorskip("pypdf")
        printed = wall_page.call("Page.printToPDF", preferCSSPageSize=True, pageRanges="1-12")[
            "data"
        ]
        reader = pypdf.PdfReader(io.BytesIO(base64.b64decode(printed)))
        assert len(reader.pages) == 12
        first = reader.pages[0].extract_text()
        assert "RB-2, revision B" in first
        assert "Skip to the findings" not in first
        wall_page.call("Emulation.setEmulatedMedia", media="print")
        hidden = wall_page.run(
            "['nav', '.skip', '#filter']"
            ".map(s => getComputedStyle(document.querySelector(s)).display)"
        )
        wall_page.call("Emulation.setEmulatedMedia", media="")
        assert hidden == ["none", "none", "none"]

    def test_paper_takes_the_page_at_its_size_and_shows_what_fails(
        self, wall_page: Page, wall: Report
    ) -> None:
        """On letter paper with its margins: 7.3 in, 701 px; black boxes without backgrounds."""
        wall_page.call("Emulation.setEmulatedMedia", media="print")
        wall_page.call(
            "Emulation.setDeviceMetricsOverride", width=701, height=900, deviceScaleFactor=1,
            mobile=False,
        )  # fmt: skip
        wide = wall_page.run("document.documentElement.scrollWidth")
        rows = wall_page.run(
            "[...document.querySelectorAll('#list tbody tr')]"
            ".filter(r => getComputedStyle(r).display != 'none').length"
        )
        said = wall_page.run("document.querySelector('.paper').innerText")
        inks = wall_page.run(
            "['.counts .fail', '.k.fail', '.m.fail']"
            ".map(s => getComputedStyle(document.querySelector(s)).printColorAdjust)"
        )
        wall_page.call("Emulation.clearDeviceMetricsOverride")
        wall_page.call("Emulation.setEmulatedMedia", media="")
        assert wide <= 701, "wider pages are printed smaller, all of them"
        unconcerned = wall.summary["notApplicable"]
        assert rows == len(wall.findings) - unconcerned
        assert said.startswith(f"On paper the {unconcerned} checks that do not apply are left out")
        assert inks == ["exact"] * 3

    def test_narrow_screens_need_no_scrolling_sideways(self, wall_page: Page) -> None:
        wall_page.call(
            "Emulation.setDeviceMetricsOverride", width=420, height=900, deviceScaleFactor=1,
            mobile=False,
        )  # fmt: skip
        wide = wall_page.run("document.documentElement.scrollWidth")
        wall_page.call("Emulation.clearDeviceMetricsOverride")
        assert wide <= 420


class TestHostileText:
    def test_nothing_runs_and_every_name_is_text(
        self, browser: Page, pages_folder: Path, nasty: Report
    ) -> None:
        browser.complaints.clear()
        browser.requested.clear()
        browser.open(pages_folder / "nasty.html")
        browser.run("new Promise(done => setTimeout(done, 200))")
        assert browser.complaints == []
        assert browser.requested == [(pages_folder / "nasty.html").as_uri()]
        assert browser.run("document.querySelectorAll('img').length") == 0
        assert browser.run("document.title").startswith("W <b>1</b>")
        shown = browser.run("[...new Set([...document.querySelectorAll('bdi')]"
                            ".map(e => e.textContent))]")  # fmt: skip
        for name in NASTY:
            assert f"box {printable(name)}" in shown
        length = browser.run("document.querySelector('.title').textContent.length")
        assert length == len(nasty.assembly.title)
        wide = browser.run(
            "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
        )
        assert wide[0] <= wide[1], "the longest name makes the page no wider"

    def test_a_name_can_be_filtered_by(self, browser: Page, pages_folder: Path) -> None:
        browser.open(pages_folder / "nasty.html")
        browser.run("document.querySelector('input[name=element]').focus()")
        browser.call("Input.insertText", text="</style><img")
        shown = browser.run(f"{_SHOWN}.map(r => r.cells[3].textContent)")
        assert shown
        assert all("</style><img" in text for text in shown)


# Relative luminance and contrast ratio as WCAG 2.1 defines them.
_CONTRAST = """(() => {
  const parse = c => c.match(/[\\d.]+/g).map(Number);
  const light = c => { const [r, g, b] = c.slice(0, 3).map(v => { v /= 255;
    return v <= 0.03928 ? v / 12.92 : Math.pow((v + 0.055) / 1.055, 2.4); });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  let worst = [21, ''];
  const seen = new Set();
  for (const e of document.querySelectorAll('body *')) {
    const said = [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim());
    if (e.closest('svg, script, style') || !said) continue;
    let back = e, color = [255, 255, 255];
    while (back) { const c = parse(getComputedStyle(back).backgroundColor);
      if (c.length < 4 || c[3] > 0) { color = c; break; } back = back.parentElement; }
    const ink = parse(getComputedStyle(e).color);
    const key = ink + '/' + color;
    if (seen.has(key)) continue;
    seen.add(key);
    const [a, b] = [light(ink), light(color)].sort((x, y) => y - x);
    const ratio = (a + 0.05) / (b + 0.05);
    if (ratio < worst[0]) worst = [ratio, e.outerHTML.slice(0, 120)];
  }
  return worst; })()"""
