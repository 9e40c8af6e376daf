"""A finding in short, for a terminal or a list: ``detail.Explainer`` says it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .detail import Brief, Explainer, joined, open_words

if TYPE_CHECKING:
    from .finding import Finding, Report


def says_enough(measure: str, limit: str) -> bool:
    """Whether measure against limit says what the message does not: "1, at most 0" does not."""
    return bool(limit) and not (limit in ("0", "1") and measure.isdigit())


class Briefer:
    """Says what the findings of one report say."""

    def __init__(self, report: Report) -> None:
        book = report.book
        self.explainer = Explainer(report.assembly, book.vocabulary, book.terms)

    def brief(self, finding: Finding) -> Brief:
        """The message, the fixes, and measure against limit."""
        return self.explainer.brief(finding)


__all__ = ["Brief", "Briefer", "joined", "open_words", "says_enough"]
