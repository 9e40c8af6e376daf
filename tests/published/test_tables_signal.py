"""Types of limited-energy cable against printed substitution tables and their own markings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from checker.tables import load_tables

TABLES = load_tables(Path(__file__).parents[2] / "tables")
CIRCUITS = {"CL2": "class_2", "CL3": "class_3", "FPL": "fire_alarm", "CM": "communications"}

#: What may stand in for a type; LAN Wiring, table 5.3 (NEC 1996), without multipurpose types and
#: without fire alarm cable, which later editions took out (from memory).
PRINTED = {
    "CL3P": ("CMP",),
    "CL3R": ("CL3P", "CMR"),
    "CL3": ("CL3P", "CL3R", "CM", "CMG", "PLTC"),
    "CL3X": ("CL3P", "CL3R", "CL3", "CM", "CMG", "PLTC", "CMX"),
    "CL2P": ("CL3P",),
    "CL2R": ("CL3P", "CL2P", "CL3R"),
    "CL2": ("CL3P", "CL3R", "CL2P", "CL2R", "CL3", "CM", "CMG", "PLTC"),
    "CL2X": ("CL3P", "CL3R", "CL2P", "CL2R", "CL2", "CL3", "CL3X", "CM", "CMG", "PLTC", "CMX"),
    "CMR": ("CMP",),
    "CM": ("CMR", "CMG"),
    "CMX": ("CMG", "CM"),
    # codebookcity.com on Article 760 (2020): CMP can substitute for any of these.
    "FPLP": ("CMP",),
    "FPLR": ("CMP",),
    "FPL": ("CMP",),
}


def rows() -> dict[str, Any]:
    return {row.type: row for row in TABLES["signal_cables"].row_objects}


def circuit(marking: str) -> str:
    return next(name for prefix, name in CIRCUITS.items() if marking.startswith(prefix))


def stands_in(other: str, asked: str) -> bool:
    found = rows()
    return found[other].place >= found[asked].place and getattr(found[other], circuit(asked))


@pytest.mark.parametrize("asked", PRINTED)
def test_printed_substitutions(asked: str) -> None:
    assert all(stands_in(other, asked) for other in PRINTED[asked])


def test_the_marking_gives_the_place() -> None:
    """Handbook for Sound Engineers, 14.28.2: plenum, riser, general, restricted."""
    letters = {"P": 4, "R": 3, "X": 1}
    for name, row in rows().items():
        suffix = name.removeprefix("PLTC").removeprefix("FPL").removeprefix("CL2")
        suffix = suffix.removeprefix("CL3").removeprefix("CM")
        assert row.place == letters.get(suffix, 2), name


def test_no_cable_stands_in_for_what_lists_it_nowhere() -> None:
    """LAN Wiring, table 5.3: Class 2 cable under no Class 3 type, neither under a CM type."""
    found = rows()
    class_2 = {name for name in found if name.startswith("CL2")}
    class_3 = {name for name in found if name.startswith("CL3")} | {"PLTC"}
    assert not any(found[name].class_3 for name in class_2)
    assert not any(found[name].communications for name in class_2 | class_3)
    # Fire alarm circuits take fire alarm and CM cable only, and not limited use (from memory).
    assert {n for n, row in found.items() if row.fire_alarm} == {
        "FPLP", "FPLR", "FPL", "CMP", "CMR", "CMG", "CM",
    }  # fmt: skip
    fire = {name for name in found if name.startswith("FPL")}
    assert not any(
        row.class_2 or row.class_3 or row.communications for n, row in found.items() if n in fire
    )


def test_a_type_serves_what_it_is_marked_for() -> None:
    for name, row in rows().items():
        if name != "PLTC":
            assert getattr(row, circuit(name)), name


def test_what_stands_in_for_a_type_stands_in_for_what_that_does() -> None:
    """LAN Wiring, note to table 5.3: CMP for CL3P, and so wherever CL3P is allowed."""
    for asked, others in PRINTED.items():
        for other in others:
            assert all(stands_in(further, asked) for further in PRINTED.get(other, ())), asked
