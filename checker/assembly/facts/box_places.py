"""Where boxes stand: how far beyond their section, how deep, in which row of devices."""

# mypy: disable-error-code="misc"
# The records are still open here; everybody else has them read-only.

from __future__ import annotations

from typing import Any

from checker.documents.missing import Missing, known

from ..records import Box, Section
from ..structure import Index
from .extents import room_of, size_of
from .gaps import describe, gap, lack_of


def box_places(index: Index) -> None:
    """Depth, reach beyond the section, and row of every box."""
    rows = {row.id: row for row in index.assembly.rows}
    for box in index.assembly.boxes:
        deep: Any = size_of(box)[2]
        words = f"`depth` of {describe(box)}"
        box.full_depth = deep if deep is not None else Missing("depth", words)
        section = index.sections.get(box.section) if known(box.section) else None
        box.beyond = gap(box, "section") if section is None else _beyond(box, section)
        row: Any = rows.get(box.row) if known(box.row) else None
        box.device_row = row if row is not None else gap(box, "row")


def _beyond(box: Box, section: Section) -> Any:
    room = room_of(box, section)
    if isinstance(room, Missing):
        return room
    (low, high), deep = room
    sizes: list[Any] = [section.width, section.height]
    names = ["width", "height"]
    if deep:
        sizes.append(section.cavity)
        names.append("depth")
    lack: Any = lack_of(
        *[gap(section, name) for one, name in zip(sizes, names, strict=True) if not known(one)]
    )
    if lack is not None:
        return lack
    return max(0.0, *[max(-low[n], high[n] - one) for n, one in enumerate(sizes)])
