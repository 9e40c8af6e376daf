"""Schedules: every raceway, run, cable, box, conductor and circuit with its ratio to the limit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from checker.assembly.records import Box, Cable, Circuit, Pull, Raceway, Run, Wire
from checker.documents.missing import known
from checker.findings.finding import Report
from checker.quantities.show import show, show_length

from .content import Entry
from .figures.branches import STYLES, branch_of
from .figures.cross_section import Sizes
from .listing import Listing

NOT_STATED = "—"
#: The rule whose measure and limit lead a class's schedule; the contract fixes these ids.
_LEADING = {
    "raceway": "raceway-fill",
    "run": "bend-total",
    "box": "box-fill",
    "pull": "conductor-ampacity",
    "circuit": "circuit-load",
}


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, its share of the width, and whether it holds numbers."""

    head: str
    width: float
    number: bool = False


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """Cells as text. ``element`` is an index or None; ``numbers`` what needs action there."""

    cells: list[str]
    element: int | None
    numbers: list[int]


@dataclass(frozen=True, slots=True)
class Schedule:
    """One schedule."""

    title: str
    note: str
    columns: list[Column]
    rows: list[ScheduleRow]


def schedules(report: Report, listing: Listing) -> list[Schedule]:
    """The schedules that have any rows."""
    maker = _Maker(listing, Sizes(report.book.tables))
    assembly = report.assembly
    made = [
        maker.make(
            "Conduit schedule",
            "Judged by raceway-fill: the number of wires where all have one area, else the share "
            "of the bore. Carrying: current-carrying conductors.",
            "raceway",
            assembly.raceways,
            _RACEWAY,
            _raceway,
            ("Judged", "Limit"),
        ),
        maker.make(
            "Run schedule",
            "A run is the chain of raceways between two pull points; bends add up over all of it.",
            "run",
            [
                run
                for run in assembly.runs
                if len(run.raceways) > 1 or not known(run.bends) or run.bends
            ],
            _RUN,
            _run,
            ("Bends", "Limit"),
        ),
        maker.make("Cable schedule", "", "cable", assembly.cables, _CABLE, _cable, None),
        maker.make(
            "Box schedule",
            "Volume as judged by box-fill. Wires: that end in the box, and that pass it.",
            "box",
            assembly.boxes,
            _BOX,
            _box,
            ("Needed", "There is"),
        ),
        maker.make(
            "Conductor schedule",
            "Rating of the overcurrent device against what the conductors permit, as judged by "
            "conductor-ampacity.",
            "pull",
            assembly.pulls,
            _PULL,
            _pull,
            ("Rating", "Permitted"),
        ),
        maker.make(
            "Circuit schedule",
            "Load with its continuous part as judged by circuit-load.",
            "circuit",
            assembly.circuits,
            _CIRCUIT,
            _circuit,
            ("Judged load", "Limit"),
        ),
    ]
    return [schedule for schedule in made if schedule.rows]


class _Maker:
    def __init__(self, listing: Listing, sizes: Sizes) -> None:
        self.listing = listing
        self.sizes = sizes
        self.leading: dict[int, Entry] = {}
        for entry in listing.entries:
            element = listing.elements[entry.element]
            if _LEADING.get(element.name) == entry.rule:
                self.leading[element.index] = entry

    def make(
        self,
        title: str,
        note: str,
        name: str,
        things: Iterable[Any],
        columns: list[Column],
        cells: Any,
        judged: tuple[str, str] | None,
    ) -> Schedule:
        """A schedule of ``things``; ``judged`` are the heads over measure and limit."""
        more = [Column("Findings", 0.8)]
        if judged is not None:
            heads = [Column(judged[0], 0.9, True), Column(judged[1], 0.9, True)]
            more = [*heads, Column("Ratio", 0.6, True), *more]
        rows = []
        for thing in things:
            element = self.listing.of((name, thing.id))
            numbers = []
            if element is not None:
                entries = self.listing.entries
                numbers = [n for n in element.numbers if entries[n - 1].needs_action]
            row = cells(thing)
            if name == "raceway":
                share = self.sizes.fill(thing)
                row = [*row, show(share, "%") if share is not None else ""]
            if judged is not None:
                row = [*row, *self._judged(None if element is None else element.index)]
            rows.append(
                ScheduleRow(
                    [*row, ", ".join(map(str, numbers))],
                    None if element is None else element.index,
                    numbers,
                )
            )
        return Schedule(title, note, [*columns, *more], rows)

    def _judged(self, element: int | None) -> tuple[str, str, str]:
        entry = self.leading.get(element) if element is not None else None
        if entry is None:
            return "not judged", "", ""
        if entry.kind == "notApplicable":
            return "does not apply", "", ""
        measure, limit = entry.measure, entry.limit
        if entry.rule == _LEADING["raceway"] and "%" not in measure + limit:
            measure, limit = (f"{text} wires" if text else "" for text in (measure, limit))
        if entry.kind == "open":
            return measure or "open", limit, "open"
        return measure, limit, f"{entry.ratio:.2f}" if entry.ratio is not None else ""


def condensed(schedule: Schedule) -> Schedule:
    """A long schedule with fewer cells: what describes an element in one of them.

    A table of many thousand cells makes a tagged PDF too large to send.
    """
    heads = schedule.columns
    judged = next((i for i, column in enumerate(heads) if column.head == "Ratio"), len(heads) - 1)
    first_judged = judged - 2 if judged < len(heads) - 1 else judged
    columns = [heads[0], Column("Described as", 5.0), *heads[first_judged:]]
    rows = []
    for row in schedule.rows:
        facts = [
            f"{column.head.lower()} {cell}"
            for column, cell in zip(heads[1:first_judged], row.cells[1:first_judged], strict=True)
            if cell not in ("", NOT_STATED)
        ]
        cells = [row.cells[0], ", ".join(facts), *row.cells[first_judged:]]
        rows.append(ScheduleRow(cells, row.element, row.numbers))
    return Schedule(schedule.title, schedule.note, columns, rows)


# -- cells -----------------------------------------------------------------------------------

_RACEWAY = [
    Column("Raceway", 1.1),
    Column("Method", 0.6),
    Column("Size", 0.55),
    Column("From", 0.9),
    Column("To", 0.9),
    Column("Length", 0.9, True),
    Column("Bends", 0.55, True),
    Column("Wires", 0.5, True),
    Column("Carrying", 0.65, True),
    Column("Branch", 1.0),
    Column("Filled", 0.7, True),
]
_RUN = [
    Column("Run", 2.4),
    Column("From", 0.9),
    Column("To", 0.9),
    Column("Length", 0.9, True),
    Column("Completed on site", 0.8),
]
_CABLE = [
    Column("Cable", 1.1),
    Column("Type", 0.8),
    Column("From", 0.9),
    Column("To", 0.9),
    Column("Length", 0.9, True),
    Column("Wires", 0.5, True),
    Column("Carrying", 0.65, True),
    Column("Branch", 1.0),
]
_BOX = [
    Column("Box", 1.0),
    Column("Kind", 0.8),
    Column("Section", 0.7),
    Column("Space", 0.8),
    Column("Size", 1.5),
    Column("Devices", 1.3),
    Column("End", 0.45, True),
    Column("Pass", 0.45, True),
    Column("Branch", 1.0),
]
_PULL = [
    Column("Pull", 0.9),
    Column("Circuits", 1.1),
    Column("From", 0.8),
    Column("To", 0.8),
    Column("Through", 1.3),
    Column("Conductors", 3.0),
]
_CIRCUIT = [
    Column("Circuit", 1.0),
    Column("Panel", 0.8),
    Column("Branch", 0.9),
    Column("Phases", 0.6),
    Column("Breaker", 0.7, True),
    Column("Load", 0.9, True),
    Column("Continuous", 0.9, True),
    Column("Outlets", 0.7),
]


def _raceway(way: Raceway) -> list[str]:
    return [
        way.id, _text(way.method), _text(way.size), way.from_, way.to, _length(way.length),
        _amount(way.angle, "deg"), str(len(way.wires)), _text(way.current_carrying),
        _branch(way.wires),
    ]  # fmt: skip


def _run(run: Run) -> list[str]:
    return [run.id, run.start, run.finish, _length(run.length), "yes" if run.field else ""]


def _cable(cable: Cable) -> list[str]:
    return [
        cable.id, _text(cable.method), cable.from_, cable.to, _length(cable.length),
        str(len(cable.wires)), _text(cable.current_carrying), _branch(cable.wires),
    ]  # fmt: skip


def _box(box: Box) -> list[str]:
    size = str(box.trade_size) if known(box.trade_size) else ""
    if known(box.volume):
        size = f"{size}, marked {_amount(box.volume, 'in³')}".removeprefix(", ")
    counts: dict[str, int] = {}
    for device in box.devices:
        counts[device.kind] = counts.get(device.kind, 0) + 1
    devices = ", ".join(f"{n} {kind.replace('_', ' ')}" for kind, n in counts.items())
    passing = len(box.passing) + len(box.looped)
    return [
        box.id, box.kind.replace("_", " "), _text(box.section), _text(box.space),
        size or NOT_STATED, devices, str(len(box.ending)), str(passing), _branch(box.wires),
    ]  # fmt: skip


def _pull(pull: Pull) -> list[str]:
    circuits = ", ".join(pull.circuit) if known(pull.circuit) else NOT_STATED
    return [
        pull.id, circuits, pull.start, pull.finish, ", ".join(pull.through),
        _conductors(pull.conductors),
    ]  # fmt: skip


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


def _circuit(circuit: Circuit) -> list[str]:
    phases = "".join(circuit.phases) if known(circuit.phases) else NOT_STATED
    branch = str(circuit.branch) if known(circuit.branch) else ""
    words = STYLES[branch].words if branch in STYLES else NOT_STATED
    return [
        circuit.id, _text(circuit.panel), words, phases, _amount(circuit.breaker, "A"),
        _amount(circuit.load, "VA"), _amount(circuit.continuous_load, "VA"),
        _text(circuit.outlets),
    ]  # fmt: skip


def _text(value: Any) -> str:
    return str(value) if known(value) else NOT_STATED


def _length(value: Any) -> str:
    return show_length(float(value)) if known(value) else NOT_STATED


def _amount(value: Any, unit: str) -> str:
    return show(float(value), unit) if known(value) else NOT_STATED


def _branch(wires: tuple[Wire, ...]) -> str:
    return STYLES[branch_of(wires)].words if wires else NOT_STATED
