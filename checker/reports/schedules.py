"""Schedules: every raceway, run, cable, box, conductor and circuit with its ratio to the limit.

A schedule is declared: its elements and its columns, each with its heading and how to get it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from checker.assembly.records import Assembly, Box, Circuit, Raceway, Run, Wire
from checker.documents.missing import known
from checker.findings.finding import Report
from checker.quantities.show import show, show_length

from .figures.branches import STYLES, branch_of
from .figures.cross_section import Sizes
from .listing import ElementView, Listing, NumberedFinding

NOT_STATED = "—"


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """One element: ``thing`` is its record, ``view`` its findings, ``leading`` the one judged."""

    thing: Any
    view: ElementView | None
    leading: NumberedFinding | None
    sizes: Sizes

    @property
    def action(self) -> list[NumberedFinding]:
        """Its findings that need action."""
        return [] if self.view is None else [f for f in self.view.findings if f.needs_action]


@dataclass(frozen=True, slots=True)
class Column:
    """A column: heading, share of the width, its text of a row.

    number: set to the right; described: what describes the element, not how it was judged.
    """

    heading: str
    width: float
    text: Callable[[ScheduleRow], str]
    number: bool = False
    described: bool = True


@dataclass(frozen=True, slots=True)
class Declared:
    """A schedule as declared. rule: the one whose measure and limit it shows."""

    title: str
    note: str
    name: str
    things: Callable[[Assembly], Iterable[Any]]
    columns: tuple[Column, ...]
    rule: str = ""


@dataclass(frozen=True, slots=True)
class Schedule:
    """A schedule with its rows."""

    title: str
    note: str
    columns: tuple[Column, ...]
    rows: list[ScheduleRow]

    def cells(self, row: ScheduleRow) -> list[str]:
        """The texts of a row."""
        return [column.text(row) for column in self.columns]

    def condensed(self) -> Schedule:
        """The same with what describes an element in one cell.

        A table of many thousand cells makes a tagged PDF too large to send.
        """
        name, *others = self.columns
        facts = [column for column in others if column.described]

        def described(row: ScheduleRow) -> str:
            texts = [(column.heading.lower(), column.text(row)) for column in facts]
            return ", ".join(
                f"{head} {text}" for head, text in texts if text not in ("", NOT_STATED)
            )

        judged = [column for column in others if not column.described]
        columns = (name, Column("Described as", 5.0, described), *judged)
        return Schedule(self.title, self.note, columns, self.rows)


def schedules(report: Report, listing: Listing) -> list[Schedule]:
    """The schedules that have any rows."""
    sizes = Sizes(report.book.tables)
    made = []
    for declared in SCHEDULES:
        rows = []
        for thing in declared.things(report.assembly):
            view = listing.of((declared.name, thing.id))
            found = [] if view is None else view.findings
            leading = [f for f in found if f.rule == declared.rule]
            rows.append(ScheduleRow(thing, view, leading[-1] if leading else None, sizes))
        if rows:
            made.append(Schedule(declared.title, declared.note, declared.columns, rows))
    return made


# -- texts of cells --------------------------------------------------------------------------


def _text(value: Any) -> str:
    return str(value) if known(value) else NOT_STATED


def _length(value: Any) -> str:
    return show_length(float(value)) if known(value) else NOT_STATED


def _amount(value: Any, unit: str) -> str:
    return show(float(value), unit) if known(value) else NOT_STATED


def _branch(wires: tuple[Wire, ...]) -> str:
    return STYLES[branch_of(wires)].words if wires else NOT_STATED


def _filled(row: ScheduleRow) -> str:
    share = row.sizes.fill(row.thing)
    return show(share, "%") if share is not None else ""


def _box_size(box: Box) -> str:
    size = str(box.trade_size) if known(box.trade_size) else ""
    if known(box.volume):
        size = f"{size}, marked {_amount(box.volume, 'in³')}".removeprefix(", ")
    return size or NOT_STATED


def _devices(box: Box) -> str:
    counts: dict[str, int] = {}
    for device in box.devices:
        counts[device.kind] = counts.get(device.kind, 0) + 1
    return ", ".join(f"{n} {kind.replace('_', ' ')}" for kind, n in counts.items())


def _circuit_branch(circuit: Circuit) -> str:
    branch = str(circuit.branch) if known(circuit.branch) else ""
    return STYLES[branch].words if branch in STYLES else NOT_STATED


def _conductors(wires: tuple[Wire, ...]) -> str:
    """Such as ``1 phase A 12 AWG THHN black; 1 neutral 12 AWG THHN white``."""
    counts: dict[str, int] = {}
    for wire in wires:
        parts = [wire.role.replace("_", " ")]
        parts += [str(wire.phase)] if known(wire.phase) else []
        if known(wire.diameter) and not known(wire.size):
            parts.append(_amount(wire.diameter, "in"))
        else:
            parts.append(_text(wire.size))
        kind = str(wire.insulation) if known(wire.insulation) and wire.role != "signal" else ""
        parts += ["bare"] if wire.bare else [kind] if kind else []
        if known(wire.material) and wire.material == "aluminum":
            parts.append("aluminum")
        parts += [str(wire.color)] if known(wire.color) else []
        words = " ".join(parts)
        counts[words] = counts.get(words, 0) + 1
    return "; ".join(f"{count} {words}" for words, count in counts.items())


def _wires(row: ScheduleRow, text: str) -> str:
    """A fill that is judged by number says of what."""
    view = row.leading
    if view is None or not text or not isinstance(row.thing, Raceway):
        return text
    return text if "%" in view.measure + view.limit else f"{text} wires"


def _measure(row: ScheduleRow) -> str:
    view = row.leading
    if view is None:
        return "not judged"
    if view.kind == "notApplicable":
        return "does not apply"
    return _wires(row, view.measure) or ("open" if view.kind == "open" else "")


def _limit(row: ScheduleRow) -> str:
    view = row.leading
    return "" if view is None or view.kind == "notApplicable" else _wires(row, view.limit)


def _ratio(row: ScheduleRow) -> str:
    view = row.leading
    if view is None or view.kind == "notApplicable":
        return ""
    if view.kind == "open":
        return "open"
    return f"{view.ratio:.2f}" if view.ratio is not None else ""


def _of(heading: str, width: float, text: Callable[[Any], str], *, number: bool = False) -> Column:
    """A column about the element itself."""
    return Column(heading, width, lambda row: text(row.thing), number)


def _judged(measure: str, limit: str) -> tuple[Column, ...]:
    """Measure against limit, under these headings, and the findings."""
    return (
        Column(measure, 0.9, _measure, True, described=False),
        Column(limit, 0.9, _limit, True, described=False),
        Column("Ratio", 0.6, _ratio, True, described=False),
        FINDINGS,
    )


#: The last column of every schedule.
FINDINGS = Column(
    "Findings", 0.8, lambda row: ", ".join(str(f.number) for f in row.action), described=False
)

# -- the schedules ---------------------------------------------------------------------------


def _bent(run: Run) -> bool:
    return len(run.raceways) > 1 or not known(run.bends) or bool(run.bends)


SCHEDULES = (
    Declared(
        "Conduit schedule",
        "Judged by raceway-fill: the number of wires where all have one area, else the share "
        "of the internal area. CCC: current-carrying conductors.",
        "raceway",
        lambda assembly: assembly.raceways,
        (
            _of("Raceway", 1.1, lambda way: way.id),
            _of("Method", 0.6, lambda way: _text(way.method)),
            _of("Size", 0.55, lambda way: _text(way.size)),
            _of("From", 0.9, lambda way: way.from_),
            _of("To", 0.9, lambda way: way.to),
            _of("Length", 0.9, lambda way: _length(way.length), number=True),
            _of("Bends", 0.55, lambda way: _amount(way.angle, "deg"), number=True),
            _of("Wires", 0.5, lambda way: str(len(way.wires)), number=True),
            _of("CCC", 0.65, lambda way: _text(way.current_carrying), number=True),
            _of("Branch", 1.0, lambda way: _branch(way.wires)),
            Column("Filled", 0.7, _filled, number=True),
            *_judged("Judged", "Limit"),
        ),
        "raceway-fill",
    ),
    Declared(
        "Run schedule",
        "A run is the chain of raceways between two pull points; bends add up over all of it.",
        "run",
        lambda assembly: filter(_bent, assembly.runs),
        (
            _of("Run", 2.4, lambda run: run.id),
            _of("From", 0.9, lambda run: run.start),
            _of("To", 0.9, lambda run: run.finish),
            _of("Length", 0.9, lambda run: _length(run.length), number=True),
            _of("Completed on site", 0.8, lambda run: "yes" if run.field else ""),
            *_judged("Bends", "Limit"),
        ),
        "bend-total",
    ),
    Declared(
        "Cable schedule",
        "",
        "cable",
        lambda assembly: assembly.cables,
        (
            _of("Cable", 1.1, lambda cable: cable.id),
            _of("Type", 0.8, lambda cable: _text(cable.method)),
            _of("From", 0.9, lambda cable: cable.from_),
            _of("To", 0.9, lambda cable: cable.to),
            _of("Length", 0.9, lambda cable: _length(cable.length), number=True),
            _of("Wires", 0.5, lambda cable: str(len(cable.wires)), number=True),
            _of("CCC", 0.65, lambda cable: _text(cable.current_carrying), number=True),
            _of("Branch", 1.0, lambda cable: _branch(cable.wires)),
            FINDINGS,
        ),
    ),
    Declared(
        "Box schedule",
        "Volume as judged by box-fill. Wires: that end in the box, and that pass it.",
        "box",
        lambda assembly: assembly.boxes,
        (
            _of("Box", 1.0, lambda box: box.id),
            _of("Kind", 0.8, lambda box: box.kind.replace("_", " ")),
            _of("Section", 0.7, lambda box: _text(box.section)),
            _of("Space", 0.8, lambda box: _text(box.space)),
            _of("Size", 1.5, _box_size),
            _of("Devices", 1.3, _devices),
            _of("End", 0.45, lambda box: str(len(box.ending)), number=True),
            _of("Pass", 0.45, lambda box: str(len(box.passing) + len(box.looped)), number=True),
            _of("Branch", 1.0, lambda box: _branch(box.wires)),
            *_judged("Required", "Provided"),
        ),
        "box-fill",
    ),
    Declared(
        "Conductor schedule",
        "Rating of the overcurrent device against what the conductors permit, as judged by "
        "conductor-ampacity.",
        "pull",
        lambda assembly: assembly.pulls,
        (
            _of("Pull", 0.9, lambda pull: pull.id),
            _of(
                "Circuits",
                1.1,
                lambda pull: ", ".join(pull.circuit) if known(pull.circuit) else NOT_STATED,
            ),
            _of("From", 0.8, lambda pull: pull.start),
            _of("To", 0.8, lambda pull: pull.finish),
            _of("Through", 1.3, lambda pull: ", ".join(pull.through)),
            _of("Conductors", 3.0, lambda pull: _conductors(pull.conductors)),
            *_judged("Rating", "Permitted"),
        ),
        "conductor-ampacity",
    ),
    Declared(
        "Circuit schedule",
        "Load with its continuous part as judged by circuit-load.",
        "circuit",
        lambda assembly: assembly.circuits,
        (
            _of("Circuit", 1.0, lambda circuit: circuit.id),
            _of("Panel", 0.8, lambda circuit: _text(circuit.panel)),
            _of("Branch", 0.9, _circuit_branch),
            _of(
                "Phases",
                0.6,
                lambda circuit: "".join(circuit.phases) if known(circuit.phases) else NOT_STATED,
            ),
            _of("Breaker", 0.7, lambda circuit: _amount(circuit.breaker, "A"), number=True),
            _of("Load", 0.9, lambda circuit: _amount(circuit.load, "VA"), number=True),
            _of(
                "Continuous",
                0.9,
                lambda circuit: _amount(circuit.continuous_load, "VA"),
                number=True,
            ),
            _of("Outlets", 0.7, lambda circuit: _text(circuit.outlets)),
            *_judged("Judged load", "Limit"),
        ),
        "circuit-load",
    ),
)
