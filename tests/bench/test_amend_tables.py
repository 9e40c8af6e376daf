"""Amendments that change tables.

The ampacities that are changed are those of copper at 75 °C: 12 AWG 25 A, 10 AWG 35 A (NEC Table
310.16, as in the 2018 International Residential Code, Table E3705.1).
"""

from __future__ import annotations

import pytest
from trial import SAMPLE, judge

REST = "reason: r, reference: § 8}\n"
CELL = (
    "  - {table: ampacity, cells: [{keys: {material: copper, column: 75 degC, size: 12 AWG}, "
    "set: {ampacity: 15 A}}], "
)


def given(book):
    return judge(book)["wires", "W1"]


def test_cell(load, amend):
    assert (given(load()).kind, given(load()).limit) == ("pass", 25)
    book = load(amend(CELL + REST))
    assert (given(book).kind, given(book).limit) == ("review", 15)
    assert book.tables_digest != load().tables_digest
    assert book.amendments[0].acted == (
        "changes table ampacity: ampacity of copper, column 75 °C, 12 AWG is 15 A",
    )


def test_rules_that_look_there_cite_the_amendment(load, amend):
    book = load(amend(CELL + REST))
    assert book.find("wires").citation == (
        "CODE 2 16; table ampacity as amended by Kestrel County § 8"
    )
    assert book.find("turns").citation == "CODE 2 26"
    assert book.find("wires").record.digest != load().find("wires").record.digest
    cite = book.tables["ampacity"].cite["code-2"]
    assert cite.endswith("as amended by Kestrel County § 8")
    own = load(amend(CELL + "cite: Kestrel 17.8, " + REST))
    assert own.tables["ampacity"].cite["code-2"] == "Kestrel 17.8"
    assert "as amended by Kestrel 17.8" in own.find("wires").citation


def test_the_base_tables_are_left_alone(load, amend):
    load(amend(CELL + REST))
    assert given(load()).limit == 25


def test_some_keys_change_every_row_that_has_them(load, amend):
    path = amend(
        "  - {table: ampacity, cells: [{keys: {size: 12 AWG}, set: {ampacity: 15 A}}], " + REST
    )
    book = load(path)
    rows = [row for row in book.tables["ampacity"].rows if row[2] == "12 AWG"]
    assert len(rows) > 3
    assert {row[3] for row in rows} == {15.0}


def test_added_and_removed_rows(load, amend):
    remove = amend(
        "  - {table: ampacity, remove_rows: [{material: copper, column: 75 degC, size: 12 AWG}], "
        + REST,
        "gone",
    )
    book = load(remove)
    assert given(book).kind == "open"
    assert "12 AWG" in given(book).gaps[0]
    add = amend(
        "  - {table: ampacity, add_rows: [{material: copper, column: 75 degC, size: 12 AWG, "
        "ampacity: 16 A, status: owner}], " + REST,
        "back",
    )
    again = load(remove, add)
    assert given(again).limit == 16
    assert any(
        "copper, column 75 °C, 12 AWG was changed by amendment gone" in n for n in again.notices
    )


def test_unknown_row(refused, amend):
    said = refused(amend(CELL.replace("12 AWG", "5 AWG") + REST))
    assert "a value for table ampacity cannot be read" in said
    said = refused(amend(CELL.replace("75 degC", "80 degC") + REST))
    assert "table ampacity has no row `copper, 80 degC, 12 AWG`" in said
    assert "one.yaml:7:38" in said


def test_unknown_names(refused, amend):
    said = refused(amend(CELL.replace("table: ampacity", "table: ampacities") + REST))
    assert "there is no table `ampacities`" in said
    assert "nearest: ampacity" in said
    said = refused(amend(CELL.replace("set: {ampacity", "set: {ampacty") + REST))
    assert "has no column `ampacty`" in said
    assert "nearest: ampacity" in said
    said = refused(amend(CELL.replace("material: copper", "metal: copper") + REST))
    assert "has no key `metal`" in said


def test_wrong_unit(refused, amend):
    said = refused(amend(CELL.replace("15 A", "15 in") + REST))
    assert "cannot be read" in said
    assert "current" in said


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{table: ampacity, add_rows: [copper], ", "a row is given by the names"),
        ("{table: ampacity, add_rows: [[copper]], ", "a row is given by the names"),
        ("{table: ampacity, remove_rows: [x], ", "a row is given by the names"),
        ("{table: ampacity, add_rows: [{material: copper}], ", "lacks column, size"),
        ("{table: ampacity, add_rows: [{material: [copper]}], ", "is one value"),
        ("{table: ampacity, cells: [{keys: {size: [x]}, set: {ampacity: 1 A}}], ", "is one value"),
        (
            "{table: ampacity, cells: [{keys: {size: 12}, set: {ampacity: {a: b}}}], ",
            "is one value",
        ),
        ("{table: ampacity, cells: [], ", "this change changes nothing"),
        ("{table: ampacity, remove_rows: [{size: 5 ft}], ", "cannot be read"),
        ("{table: ampacity, remove_rows: [{material: gold}], ", "no row `gold`"),
    ],
)
def test_what_cannot_be_a_row(refused, amend, text, words):
    assert words in refused(amend("  - " + text + REST))


def test_a_cell_that_is_so_already(load, amend):
    book = load(amend(CELL.replace("15 A", "25 A") + REST))
    assert any("already is that; this change changes nothing" in n for n in book.notices)
    assert book.find("wires").citation == "CODE 2 16"
    assert book.amendments[0].acted == ()
    assert book.tables_digest == load().tables_digest


def test_two_amendments_of_one_cell(load, amend):
    one = amend(CELL + REST, "one")
    two = amend(CELL.replace("15 A", "10 A").replace("12 AWG", '"#12"') + REST, "two")
    book = load(one, two)
    assert given(book).limit == 10
    told = [n for n in book.notices if "was changed by amendment one already" in n]
    assert len(told) == 1
    assert "two.yaml:7" in told[0]
    assert "one.yaml:7" in told[0]
    assert book.find("wires").citation.count("Kestrel County § 8") == 1
    meant = amend(CELL.replace("15 A", "10 A") + "supersedes: one, " + REST, "two")
    assert not [n for n in load(one, meant).notices if "already" in n]


def test_one_amendment_changes_a_cell_twice(refused, amend):
    said = refused(amend(CELL + REST + CELL.replace("15 A", "10 A") + REST))
    assert (
        "this amendment changes table ampacity.copper, column 75 °C, 12 AWG: ampacity twice" in said
    )


def test_a_row_of_its_own_for_a_shared_name(load, amend, refused):
    # THWN shares the rows of THHN; changing them for THWN alone takes rows of its own.
    said = refused(
        amend(
            "  - {table: conductor_dimensions, cells: [{keys: {insulation: THWN, size: 12 AWG}, "
            "set: {area: 0.02 in²}}], " + REST
        )
    )
    assert "no row of its own for" in said
    added = amend(
        "  - {table: conductor_dimensions, add_rows: [{insulation: THWN, size: 12 AWG, "
        "diameter: 0.2 in, area: 0.02 in²}], " + REST
    )
    assert load(added).tables["conductor_dimensions"].getter("area")("THWN", "12 AWG") == 0.02
    assert SAMPLE
