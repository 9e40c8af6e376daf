"""Numbers the findings, what needs action first, and gathers them by element."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from checker.documents.source import Source
from checker.findings.detail import Explainer
from checker.findings.finding import Finding, Report
from checker.findings.places import alike_key, placed_words, source_of
from checker.language.worked import show_value

from .content import ACTION, KINDS, Element, Entry
from .figures.every import spread
from .figures.marks import Key, Marks
from .figures.ratios import Bar

_ORDER = {kind: place for place, kind in enumerate(KINDS)}
#: Bars of the chart of ratios: in all, and of any one rule.
MOST_BARS, MOST_OF_RULE = 30, 3


@dataclass(slots=True)
class Listing:
    """Findings in the order of the report, with their entries and elements.

    ``findings[i]`` and ``entries[i]`` belong together.
    """

    findings: list[Finding]
    entries: list[Entry] = field(default_factory=list)
    elements: list[Element] = field(default_factory=list)
    index: dict[Key, int] = field(default_factory=dict)
    by_key: dict[Key, list[Finding]] = field(default_factory=dict)
    marks: Marks = field(default_factory=lambda: Marks({}, {}))
    spreads: dict[int, list[Key]] = field(default_factory=dict)

    def join_drawings(self) -> None:
        """Say of every element which drawing shows it, once the drawings are made."""
        drawn = self.marks.drawn
        for element in self.elements:
            for key in ((element.name, element.id), *self.spreads.get(element.index, ())):
                if key in drawn:
                    element.drawn = self.index[key]
                    break

    def of(self, key: Key) -> Element | None:
        """The element of that class and id, where it has findings."""
        place = self.index.get(key)
        return self.elements[place] if place is not None else None


def list_findings(report: Report, data: dict[str, Any] | None = None) -> Listing:
    """Every finding of a report, numbered.

    ``data`` is the report as JSON data, where that was made already: what is said of each finding
    is then taken from it, which is half of the work of a large report.
    """
    order = sorted(
        range(len(report.findings)),
        key=lambda place: (
            _ORDER[report.findings[place].kind],
            report.findings[place].kind in ACTION and report.findings[place].accepted,
        ),
    )
    listing = Listing([report.findings[place] for place in order])
    explainer = Explainer(report.assembly, report.book.vocabulary, report.book.terms)
    first: dict[object, int] = {}
    for number, (at, finding) in enumerate(zip(order, listing.findings, strict=True), 1):
        key = (finding.subject_class, finding.subject_id)
        place = listing.index.get(key)
        if place is None:
            place = listing.index[key] = len(listing.elements)
            listing.elements.append(Element(place, key[0], key[1], finding.kind))
            listing.spreads[place] = spread(finding, report.assembly.couplings)
        listing.elements[place].numbers.append(number)
        listing.by_key.setdefault(key, []).append(finding)
        said = data["findings"][at] if data is not None else None
        entry = _entry(number, finding, place, explainer, said, report.source)
        if entry.needs_action and not finding.incomplete:
            same = alike_key(finding, entry.message, entry.mend)
            found = number if same is None else first.setdefault(same, number)
            entry = entry if found == number else replace(entry, alike=found)
        listing.entries.append(entry)
    listing.marks = _marks(listing)
    return listing


def _entry(
    number: int,
    finding: Finding,
    element: int,
    explainer: Explainer,
    said: dict[str, Any] | None,
    main: Source,
) -> Entry:
    rule, case = finding.rule, finding.case
    measure = limit = ""
    relation = "at most"
    if case is not None:
        relation = "at least" if case.at_least else "at most"
        if finding.measure is not None:
            measure = show_value(finding.measure, case.measure.kind, case.unit)
        if finding.limit is not None:
            limit = show_value(finding.limit, case.measure.kind, case.unit)
    if said is not None:
        message, mend = said["message"], said["mend"]
    elif finding.kind not in ("pass", "notApplicable"):
        detail = explainer.detail(finding)
        message, mend = detail.message, detail.mend
    else:
        message, mend = explainer.message(finding), ""
    mark = finding.mark
    return Entry(
        number=number,
        kind=finding.kind,
        rule=rule.id,
        title=rule.title,
        citation=finding.citation,
        of_rule=rule.citation,
        element=element,
        message=message,
        mend=mend,
        measure=measure,
        limit=limit,
        relation=relation,
        ratio=finding.ratio,
        graded=_graded(finding),
        place=f"{source_of(mark, main).path}:{mark.line}:{mark.column}",
        decision="" if finding.decision is None else str(finding.decision),
        accepted=finding.accepted,
        placed=placed_words(finding),
    )


def _graded(finding: Finding) -> bool:
    """Whether being close to the limit means anything: not where one of one is counted."""
    case, measure, limit = finding.case, finding.measure, finding.limit
    if case is None or isinstance(measure, bool) or isinstance(limit, bool):
        return False
    if finding.ratio is None:
        return False
    counted = case.unit in ("count", "", "1") and isinstance(limit, (int, float))
    return not (counted and limit <= 1)


def _marks(listing: Listing) -> Marks:
    """What drawings have to mark, and the numbers by which they link to elements.

    Only elements with findings are links; a drawn element without any has nothing to lead to.
    """
    findings: dict[Key, list[tuple[int, str]]] = {}
    for entry in listing.entries:
        if entry.needs_action:
            for key in listing.spreads[entry.element]:
                findings.setdefault(key, []).append((entry.number, entry.kind))
    return Marks(dict(listing.index), findings)


def closest(listing: Listing) -> list[Bar]:
    """The findings closest to or farthest beyond their limits, at most a few of each rule."""
    graded = [e for e in listing.entries if e.graded and e.ratio is not None and e.ratio > 0]
    graded.sort(key=lambda e: (-(e.ratio or 0.0), e.number))
    taken: dict[str, int] = {}
    bars = []
    for entry in graded:
        if taken.get(entry.rule, 0) >= MOST_OF_RULE:
            continue
        taken[entry.rule] = taken.get(entry.rule, 0) + 1
        element = listing.elements[entry.element]
        bars.append(
            Bar(
                number=entry.number,
                kind=entry.kind,
                key=(element.name, element.id),
                rule=entry.rule,
                ratio=entry.ratio or 0.0,
                words=f"{entry.measure}, {entry.relation} {entry.limit}",
            )
        )
        if len(bars) == MOST_BARS:
            break
    return bars
