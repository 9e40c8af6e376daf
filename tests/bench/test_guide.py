"""The rule author's guide shows what the program really says."""

from __future__ import annotations

import re

from guide import GUIDE, ROOT, renewed


def test_every_output_is_what_the_program_gives(monkeypatch):
    """Where this fails: ``python tests/bench/guide.py``, and read the difference."""
    monkeypatch.setenv("NO_COLOR", "1")
    text = GUIDE.read_text(encoding="utf-8")
    assert renewed(text) == text


def test_the_guide_leads_where_it_says():
    text = GUIDE.read_text(encoding="utf-8")
    for link in re.findall(r"\]\(([^)#]+)\)", text):
        assert (GUIDE.parent / link).exists(), link
    heads = {h.lower().replace(" ", "-") for h in re.findall(r"^## (.+)$", text, re.MULTILINE)}
    for anchor in re.findall(r"\]\(#([^)]+)\)", text):
        assert anchor in heads
    assert str(ROOT) not in text
