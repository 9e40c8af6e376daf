"""Markdown, read by markdown-it-py (CommonMark with tables): nothing in a file becomes markup."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from markdown_it.token import Token
from reporting import NASTY

from checker.cli.loading import Loader
from checker.findings.finding import Report
from checker.reports.forms import written
from checker.reports.templating import markdown_text

READER = MarkdownIt("commonmark").enable(["table", "strikethrough"])


def tokens(text: str) -> Iterator[Token]:
    for token in READER.parse(text):
        yield token
        yield from token.children or ()


def cells(text: str) -> list[str]:
    """The texts of all table cells, line breaks as spaces."""
    found = []
    parsed = READER.parse(text)
    for place, token in enumerate(parsed):
        if token.type in ("td_open", "th_open"):
            inline = parsed[place + 1]
            found.append(
                "".join(
                    c.content if c.type in ("text", "text_special") else " "
                    for c in inline.children or ()
                )
            )
    return found


def headings(text: str) -> list[str]:
    parsed = READER.parse(text)
    return [parsed[i + 1].content for i, t in enumerate(parsed) if t.type == "heading_open"]


def test_what_needs_action_is_listed_by_kind(plain: Report) -> None:
    text = written("markdown", [plain])
    found = headings(text)
    assert found[0].startswith("T-1")
    assert found[1] == "Fail"
    assert found[2].startswith("Open (information missing)")
    assert found[3].startswith("Review")
    for element in ("run R1", "raceway R3", "raceway R4"):
        assert element in cells(text)


def test_the_verdict_counts_what_stands_in_the_way(plain: Report, decided: Report) -> None:
    assert "**2 findings block release.**" in written("markdown", [plain])
    assert "**1 finding blocks release.**" in written("markdown", [decided])


def test_accepted_findings_stay_in_the_report(decided: Report) -> None:
    text = written("markdown", [decided])
    assert "Fail" not in headings(text)
    assert "Accepted by a recorded decision" in headings(text)
    assert any("pulled before the joint closed" in cell for cell in cells(text))


def test_fingerprints_and_deferral(decided: Report) -> None:
    text = written("markdown", [decided])
    assert decided.source.digest in cells(text)
    assert decided.decisions_source is not None
    assert decided.decisions_source.digest in cells(text)
    assert "authority having jurisdiction" in text
    assert "compliant" not in text.lower()


def test_names_that_mean_mischief_stay_text(nasty: Report) -> None:
    text = written("markdown", [nasty])
    kinds = {token.type for token in tokens(text)}
    assert not kinds & {"link_open", "image", "code_inline", "s_open", "em_open", "html_block"}
    assert {t.content for t in tokens(text) if t.type == "html_inline"} == {"<br>"}
    found = cells(text)
    for name in NASTY:
        assert "run " + name in [cell.replace("\u2060", "") for cell in found], name


def test_nothing_looks_like_an_address(nasty: Report) -> None:
    """Many readers make links of bare addresses; a character that draws nothing ends them."""
    for address in ("http://", "www.ex"):
        assert address not in written("markdown", [nasty])


@given(st.text())
def test_any_text_stays_one_cell(text: str) -> None:
    table = f"| a | b |\n| --- | --- |\n| {markdown_text(text)} | end |\n"
    found = cells(table)
    assert len(found) == 4
    assert found[3] == "end"
    assert not {t.type for t in tokens(table)} & {"link_open", "image", "html_inline", "em_open"}


def test_several_reports_follow_each_other(plain: Report, decided: Report) -> None:
    assert sum(h.startswith("T-1") for h in headings(written("markdown", [plain, decided]))) == 2


def test_a_limit_says_on_which_side_it_lies() -> None:
    options = argparse.Namespace(edition=None, amend=[], decisions=None, as_of=None)
    found = cells(written("markdown", [Loader(options).load("samples/recovery-wall-rev-b.yaml")]))
    assert "≤ 360°" in found  # bend-total
    assert "≥ 6 in" in found  # free-conductor
