"""What a finding says, without its calculation: quick, and enough for a terminal or a list.

It gives the same words as ``detail.Explainer`` (a test holds them together), from the compiled
messages of the rule, so that nothing has to be read and checked again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from checker.assembly.records import Assembly
from checker.documents.missing import MissingData
from checker.language.showing import THERE_IS, show_any
from checker.quantities.show import sharper

from .digits import digits_for
from .finding import Finding, Report
from .wording import worded

if TYPE_CHECKING:
    from checker.rulebook.texts import Say, Texts

_UNDECIDED = (MissingData, LookupError, ArithmeticError, ValueError)


@dataclass(frozen=True, slots=True)
class Brief:
    """A finding in short.  measure and limit are texts, "" where there is none."""

    message: str
    mend: str
    measure: str
    limit: str
    at_least: bool


def says_enough(measure: str, limit: str) -> bool:
    """Whether measure against limit says what the message does not: "1, at most 0" does not."""
    return bool(limit) and not (limit in ("0", "1") and measure.isdigit())


class Briefer:
    """Says what the findings of one report say."""

    def __init__(self, report: Report) -> None:
        self.report = report
        self.assembly: Assembly = report.assembly
        self.terms: dict[str, str] = report.book.terms

    def brief(self, finding: Finding) -> Brief:
        """The message, the mend, and measure against limit."""
        if finding.incomplete and finding.code is None and not finding.defect:
            return Brief(open_words(finding), "", "", "", False)
        if finding.kind == "notApplicable" or finding.code is None:
            return Brief(self._explained(finding), "", "", "", False)
        texts = finding.form.texts[finding.code]
        with sharper(digits_for(finding.kind, finding.measure, finding.limit, texts.unit)):
            return self._judged(finding, texts)

    def _judged(self, finding: Finding, texts: Texts) -> Brief:
        measure = show_any(finding.measure, texts.unit) if finding.measure is not None else ""
        limit = show_any(finding.limit, texts.unit) if finding.limit is not None else ""
        if finding.incomplete:
            return Brief(open_words(finding), "", measure, limit, texts.at_least)
        if finding.kind == "pass":
            message = self._passes(finding, texts.passes, measure, limit, texts.at_least)
            return Brief(message, "", measure, limit, texts.at_least)
        message = self._fill(finding, texts.message) or self._explained(finding)
        mend = self._mend(finding, texts)
        return Brief(message, mend, measure, limit, texts.at_least)

    def _mend(self, finding: Finding, texts: Texts) -> str:
        """What would put it right; the long way where the quick one meets what is not stated.

        What lacks may not matter: a step that it stops here may be decided by its other parts.
        """
        mends = []
        for when, say in texts.mends:
            holds = True if when is None else self._holds(finding, when)
            mend = self._fill(finding, say) if holds else ""
            if holds is None or mend is None:
                from .detail import Explainer

                book = self.report.book
                explainer = Explainer(self.assembly, book.vocabulary, book.terms)
                return explainer.detail(finding).mend
            if mend:
                mends.append(mend)
        return "; or ".join(mends)

    def _passes(
        self, finding: Finding, say: Say | None, measure: str, limit: str, at_least: bool
    ) -> str:
        said = None if say is None else self._fill(finding, say)
        if said is not None:
            return said
        if say is not None:
            return self._explained(finding)
        return f"{measure}; {'at least' if at_least else 'at most'} {limit} is required"

    def _fill(self, finding: Finding, say: Say) -> str | None:
        """The message with its values; None where one of them cannot be found."""
        try:
            values = iter(
                say.values(finding.subject, self.assembly, finding.measure, finding.limit)
            )
            parts = [
                worded(part, self.terms)
                if isinstance(part, str)
                else show_any(_stated(next(values)), part[0])
                for part in say.parts
            ]
        except _UNDECIDED:
            return None
        return "".join(parts)

    def _holds(self, finding: Finding, when: Any) -> bool | None:
        try:
            return bool(when(finding.subject, self.assembly, finding.measure, finding.limit))
        except _UNDECIDED:
            return None

    def _explained(self, finding: Finding) -> str:
        """The long way, for what the compiled messages do not cover."""
        from .detail import Explainer

        book = self.report.book
        return Explainer(self.assembly, book.vocabulary, book.terms).message(finding)


def _stated(value: Any) -> Any:
    from checker.documents.missing import Missing

    if type(value) is Missing:
        raise MissingData(*value.gaps)
    return value


def open_words(finding: Finding) -> str:
    """What is said of a finding that the description leaves open."""
    lacks = [gap for gap in finding.gaps if gap.startswith(THERE_IS)]
    unstated = [gap for gap in finding.gaps if gap not in lacks]
    said = []
    if unstated or not lacks:
        verb = "are" if len(unstated) > 1 else "is"
        said.append(f"{', '.join(unstated) or 'what the rule needs'} {verb} not stated")
    return "cannot be judged: " + "; ".join([*said, *lacks])
