"""Numbers the findings, what needs action first, and gathers them by element."""

from __future__ import annotations

from dataclasses import dataclass, field

from checker.findings.finding import Finding, Report
from checker.findings.kinds import ACTION, RANK
from checker.findings.view import FindingView, Views

from .figures.marks import Key, Marks
from .figures.ratios import Bar
from .figures.spread import spread

#: Bars of the chart of ratios: in all, and of any one rule.
MOST_BARS, MOST_OF_RULE = 30, 3


@dataclass(slots=True)
class ElementView:
    """An element with findings.

    kind: the first of its findings' kinds in the order of a report
    drawn: index of the element whose drawing shows it; its own, or a run's first raceway
    """

    index: int
    name: str
    id: str
    kind: str = "notApplicable"
    findings: list[NumberedFinding] = field(default_factory=list)
    drawn: int | None = None

    @property
    def label(self) -> str:
        """Class and id."""
        return f"{self.name.replace('_', ' ')} {self.id}"


class NumberedFinding(FindingView):
    """A finding as it is listed: numbers count from 1, what needs action first.

    told: whether it is among the others of an earlier one
    """

    __slots__ = ("element", "number", "others", "told")

    def __init__(self, finding: Finding, views: Views, number: int, element: ElementView) -> None:
        super().__init__(finding, views)
        self.number = number
        self.element = element
        #: Findings that report the same of other elements at the same place, told with this one.
        self.others: list[NumberedFinding] = []
        self.told = False


@dataclass(slots=True)
class Listing:
    """Findings in the order of a report, and their elements."""

    findings: list[NumberedFinding] = field(default_factory=list)
    elements: list[ElementView] = field(default_factory=list)
    by_key: dict[Key, list[Finding]] = field(default_factory=dict)
    marks: Marks = field(default_factory=lambda: Marks({}, {}))
    spreads: dict[int, list[Key]] = field(default_factory=dict)

    def join_drawings(self) -> None:
        """Say of every element which drawing shows it, once the drawings are made."""
        drawn = self.marks.drawn
        for element in self.elements:
            for key in ((element.name, element.id), *self.spreads[element.index]):
                if key in drawn:
                    element.drawn = self.marks.elements[key]
                    break

    def of(self, key: Key) -> ElementView | None:
        """The element of that class and id, where it has findings."""
        place = self.marks.elements.get(key)
        return self.elements[place] if place is not None else None


def list_findings(report: Report, views: Views) -> Listing:
    """Every finding of a report, numbered."""
    ordered = sorted(
        report.findings,
        key=lambda f: (RANK[f.kind], f.kind in ACTION and f.accepted),
    )
    listing = Listing()
    index = listing.marks.elements
    first: dict[object, NumberedFinding] = {}
    for number, finding in enumerate(ordered, 1):
        key = (finding.subject_class, finding.subject_id)
        place = index.get(key)
        if place is None:
            place = index[key] = len(listing.elements)
            listing.elements.append(ElementView(place, key[0], key[1], finding.kind))
            listing.spreads[place] = spread(finding, report.assembly.couplings)
        element = listing.elements[place]
        view = NumberedFinding(finding, views, number, element)
        element.findings.append(view)
        listing.by_key.setdefault(key, []).append(finding)
        listing.findings.append(view)
        if view.needs_action:
            _tell_together(view, first)
            # Only elements with findings are links; what has none has nothing to lead to.
            for shown in listing.spreads[place]:
                listing.marks.findings.setdefault(shown, []).append((number, view.kind))
    return listing


def _tell_together(view: NumberedFinding, first: dict[object, NumberedFinding]) -> None:
    """Findings that report the same of one place stand with the first of them."""
    key = None if view.finding.incomplete else view.alike
    if key is None:
        return
    found = first.setdefault(key, view)
    if found is not view:
        view.told = True
        found.others.append(view)


def closest(listing: Listing) -> list[Bar]:
    """The findings closest to or farthest beyond their limits, at most a few of each rule."""
    graded = [f for f in listing.findings if f.graded and f.ratio is not None and f.ratio > 0]
    graded.sort(key=lambda f: (-(f.ratio or 0.0), f.number))
    taken: dict[str, int] = {}
    bars: list[Bar] = []
    for view in graded:
        if taken.get(view.rule, 0) >= MOST_OF_RULE:
            continue
        taken[view.rule] = taken.get(view.rule, 0) + 1
        bars.append(
            Bar(
                number=view.number,
                kind=view.kind,
                key=(view.subject_class, view.subject_id),
                rule=view.rule,
                ratio=view.ratio or 0.0,
                words=f"{view.measure} ({view.most})",
            )
        )
        if len(bars) == MOST_BARS:
            break
    return bars
