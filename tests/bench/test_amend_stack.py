"""Several amendments: order, dates, editions, and what builds on what."""

from __future__ import annotations

import os
import shutil

import pytest
from trial import kinds

from checker.documents.errors import InputError
from checker.rulebook.stacking import LONGEST_CHAIN

REST = "reason: r, reference: s}\n"
HEAD = (
    "amendment: {id}\ntitle: T\njurisdiction: {owner}\neffective: 2026-01-01\nreference: O\nMORE\n"
)


def turns(value: str, more: str = "") -> str:
    return f"  - {{rule: turns, set: {{permitted: {value}}}, {more}{REST}"


def test_two_that_touch_one_thing(load, amend):
    one, two = amend(turns("270 deg"), "one"), amend(turns("370 deg"), "two")
    book = load(one, two)
    assert kinds(book, "turns") == {"R1": "pass", "R2": "pass"}
    told = [n for n in book.notices if "turns.permitted was changed by amendment one already" in n]
    assert len(told) == 1
    assert told[0].startswith(f"{two}:7:36: ")
    assert f"({one}:7:36)" in told[0]
    other = load(two, one)
    assert kinds(other, "turns") == {"R1": "fail", "R2": "fail"}


def test_supersedes_silences(load, amend):
    one = amend(turns("270 deg"), "one")
    two = amend(turns("370 deg", "supersedes: one, "), "two")
    book = load(one, two)
    assert kinds(book, "turns") == {"R1": "pass", "R2": "pass"}
    assert book.notices == ()
    assert [a.acted for a in book.amendments] == [
        ("changes turns: permitted 360 deg → 270 deg",),
        ("changes turns: permitted 270 deg → 370 deg",),
    ]


def test_supersedes_what_was_not_touched(load, amend):
    one = amend("  - {rule: lengths, set: {longest: 5 ft}, " + REST, "one")
    two = amend(turns("370 deg", "supersedes: one, "), "two")
    assert any("`supersedes` is of no use" in n for n in load(one, two).notices)


def test_three_in_order(load, amend):
    paths = [amend(turns(f"{n} deg"), f"n{n}") for n in (270, 281, 380)]
    assert kinds(load(*paths), "turns") == {"R1": "pass", "R2": "pass"}
    assert kinds(load(*paths[:2]), "turns") == {"R1": "pass", "R2": "fail"}
    assert len([n for n in load(*paths).notices if "already" in n]) == 3
    book = load(*paths)
    assert [a.id for a in book.amendments] == ["n270", "n281", "n380"]
    assert len(book.find("turns").record.history) == 3


def test_one_amendment_sets_a_value_twice(refused, amend):
    said = refused(amend(turns("270 deg") + turns("280 deg")))
    assert "this amendment changes turns.permitted twice" in said
    assert "first at" in said


def test_two_of_one_name(refused, amend, tmp_path):
    one = amend(turns("270 deg"), "one")
    copy = shutil.copy(one, tmp_path / "copy.yaml")
    assert "two amendments are called `one`" in refused(one, os.fspath(copy))


def test_the_same_file_twice(load, amend):
    one = amend(turns("270 deg"), "one")
    assert len(load(one, one).amendments) == 1


# -- taking back ----------------------------------------------------------------------------


def test_takes_back_a_change(load, amend):
    one = amend(turns("270 deg") + "  - {rule: lengths, set: {longest: 5 ft}, " + REST, "one")
    back = amend("  - {amendment: one, rule: turns, withdraw: true, " + REST, "back")
    book = load(one, back)
    assert kinds(book, "turns") == {"R1": "pass", "R2": "fail"}
    assert kinds(book, "lengths")["R1"] == "fail"
    assert book.find("turns").citation == "CODE 2 26"
    assert "its change of turns is taken back" in book.amendments[0].acted
    assert book.amendments[1].acted == ("takes back what amendment one did to turns",)
    assert (
        book.digest
        == load(amend("  - {rule: lengths, set: {longest: 5 ft}, " + REST, "one")).digest
    )


def test_takes_back_a_change_of_a_table(load, amend):
    cell = "  - {table: ampacity, cells: [{keys: {size: 12 AWG}, set: {ampacity: 1 A}}], " + REST
    one = amend(cell, "one")
    back = amend("  - {amendment: one, table: ampacity, withdraw: true, " + REST, "back")
    assert load(one, back).tables_digest == load().tables_digest


def test_takes_back_a_rule_of_its_own(load, amend):
    one = amend("  - {forbid: {rule: no-ac, methods: AC}, " + REST, "one")
    back = amend("  - {amendment: one, rule: no-ac, withdraw: true, " + REST, "back")
    assert "no-ac" in {r.id for r in load(one).rules}
    assert "no-ac" not in {r.id for r in load(one, back).rules}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{amendment: one, rule: lengths, withdraw: true, ", "does not change `lengths`"),
        ("{amendment: one, rule: turn, withdraw: true, ", "nearest: turns"),
        ("{amendment: onne, rule: turns, withdraw: true, ", "nearest: one"),
        ("{amendment: one, withdraw: true, ", "takes back what another amendment did"),
        ("{amendment: one, rule: turns, ", "takes back what another amendment did"),
        ("{amendment: one, rule: turns, set: {permitted: 1 deg}, ", "`supersedes:` says"),
        ("{amendment: one, rule: turns, withdraw: false, ", "takes back what another"),
    ],
)
def test_taking_back_what_is_not_there(refused, amend, text, words):
    one = amend(turns("270 deg"), "one")
    assert words in refused(one, amend("  - " + text + REST, "back"))


def test_taking_back_what_comes_later(refused, amend):
    one = amend(turns("270 deg"), "one")
    back = amend("  - {amendment: one, rule: turns, withdraw: true, " + REST, "back")
    said = refused(back, one)
    assert "amendment one is not applied before back" in said


# -- dates and editions ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("date", "in_force"),
    [
        ("2025-12-31", False),
        ("2026-01-01", True),
        ("2026-07-01", True),
        ("2026-12-31", True),
        ("2027-01-01", False),
    ],
)
def test_both_dates_belong_to_the_time_in_force(load, amend, date, in_force):
    head = HEAD.replace("MORE", "ends: 2026-12-31")
    book = load(amend(turns("270 deg"), head=head), date=date)
    assert book.amendments[0].in_force is in_force
    assert kinds(book, "turns")["R1"] == ("fail" if in_force else "pass")
    told = [n for n in book.notices if "was not applied" in n]
    assert bool(told) is not in_force
    assert all(date in n for n in told)


def test_without_a_date_it_is_taken_as_in_force_and_said(load, amend):
    book = load(amend(turns("270 deg")), date=None)
    assert kinds(book, "turns")["R1"] == "fail"
    assert any("the permit date is not stated" in n for n in book.notices)


def test_what_is_not_in_force_takes_nothing_back(load, amend):
    one = amend(turns("270 deg"), "one")
    head = HEAD.replace("2026-01-01", "2028-01-01").replace("MORE", "")
    back = amend("  - {amendment: one, rule: turns, withdraw: true, " + REST, "back", head=head)
    assert kinds(load(one, back), "turns")["R1"] == "fail"
    assert kinds(load(one, back, date="2028-01-01"), "turns")["R1"] == "pass"


def test_what_is_not_in_force_conflicts_with_nothing(load, amend):
    head = HEAD.replace("2026-01-01", "2028-01-01").replace("MORE", "")
    late = amend(turns("200 deg"), "late", head=head)
    book = load(late, amend(turns("270 deg"), "one"))
    assert not [n for n in book.notices if "already" in n]


def test_ends_before_it_begins(refused, amend):
    said = refused(amend(turns("270 deg"), head=HEAD.replace("MORE", "ends: 2025-12-31")))
    assert "ends before it begins" in said


def test_no_such_date(refused, amend):
    said = refused(amend(turns("270 deg"), head=HEAD.replace("MORE", "ends: 2026-02-30")))
    assert "`ends` cannot be read" in said


def test_editions(load, amend, refused):
    path = amend(turns("270 deg"), head=HEAD.replace("MORE", "editions: [code-1]"))
    assert kinds(load(path), "turns")["R1"] == "pass"
    assert kinds(load(path, edition="code-1"), "turns")["R1"] == "fail"
    assert any("it amends code-1, not code-2" in n for n in load(path).notices)
    said = refused(amend(turns("270 deg"), head=HEAD.replace("MORE", "editions: [code-1, code-3]")))
    assert "there is no edition `code-3` to amend" in said
    assert "one.yaml:6:20" in said


def test_draft_is_told(load, amend):
    book = load(amend(turns("270 deg"), head=HEAD.replace("MORE", "status: draft")))
    assert any("is a draft: compare it" in n for n in book.notices)


def test_an_amendment_without_changes(refused, amend):
    assert "amendment one changes nothing" in refused(amend(""))


# -- building on others ---------------------------------------------------------------------


def builds(*names: str) -> str:
    return HEAD.replace("MORE", f"builds_on: [{', '.join(names)}]")


def test_builds_on(load, amend):
    base = amend(turns("270 deg"), "base")
    path = amend(
        "  - {rule: turns, set: {permitted: 281 deg}, supersedes: base, " + REST,
        "top",
        head=builds("base.yaml"),
    )
    book = load(path)
    assert [a.id for a in book.amendments] == ["base", "top"]
    assert kinds(book, "turns") == {"R1": "pass", "R2": "fail"}
    assert [a.id for a in load(base, path).amendments] == ["base", "top"]


def test_builds_on_one_file_in_two_ways(load, amend):
    amend(turns("270 deg"), "base")
    lengths = "  - {rule: lengths, set: {longest: 5 ft}, " + REST
    left = amend(lengths, "left", head=builds("base.yaml"))
    right = amend("  - {rule: wires, fails_as: fail, " + REST, "right", head=builds("./base.yaml"))
    assert [a.id for a in load(left, right).amendments] == ["base", "left", "right"]


def test_circle(refused, amend):
    amend(turns("270 deg"), "a", head=builds("b.yaml"))
    amend(turns("270 deg"), "b", head=builds("c.yaml"))
    path = amend(turns("270 deg"), "c", head=builds("a.yaml"))
    said = refused(path)
    assert "build on each other in a circle" in said
    assert "c.yaml → a.yaml → b.yaml → c.yaml" in said
    self_made = amend(turns("270 deg"), "d", head=builds("d.yaml"))
    assert "in a circle" in refused(self_made)


def test_builds_on_a_file_that_is_not_there(refused, amend):
    amend(turns("270 deg"), "base")
    said = refused(amend(turns("270 deg"), "top", head=builds("bass.yaml")))
    assert "top.yaml:6:13" in said
    assert "the amendment to build on cannot be read: no such file" in said
    assert "nearest: base.yaml" in said


@pytest.mark.parametrize(
    "name",
    ["../base.yaml", "/etc/hostname", "sub/../../base.yaml", "C:/base.yaml", "..\\\\base.yaml"],
)
def test_only_files_beside_it(refused, amend, name):
    said = refused(amend(turns("270 deg"), head=builds(f'"{name}"')))
    assert "may only build on files beside it" in said


def test_a_link_does_not_lead_out(refused, amend, tmp_path, tmp_path_factory):
    secret = tmp_path_factory.mktemp("elsewhere") / "secret.yaml"
    secret.write_text("amendment: secret\n", encoding="utf-8")
    (tmp_path / "link.yaml").symlink_to(secret)
    said = refused(amend(turns("270 deg"), head=builds("link.yaml")))
    assert "may only build on files beside it" in said
    assert "secret" not in said


def test_below_it_is_fine(load, amend, tmp_path):
    (tmp_path / "state").mkdir()
    base = amend(turns("270 deg"), "base")
    os.rename(base, tmp_path / "state" / "base.yaml")
    path = amend("  - {rule: wires, fails_as: fail, " + REST, "top", head=builds("state/base.yaml"))
    assert [a.id for a in load(path).amendments] == ["base", "top"]


def test_a_long_chain_is_refused(refused, amend, load):
    for n in range(LONGEST_CHAIN + 3):
        amend(turns(f"{n + 1} deg"), f"n{n}", head=builds(f"n{n + 1}.yaml"))
    amend(turns("999 deg"), f"n{LONGEST_CHAIN + 3}")
    folder = os.path.dirname(amend(turns("1 deg"), "x"))
    assert "build on each other" in refused(os.path.join(folder, "n0.yaml"))
    assert load(os.path.join(folder, "n4.yaml"))


def test_not_an_amendment(tmp_path, load):
    path = tmp_path / "x.yaml"
    path.write_text("rule: x\n", encoding="utf-8")
    with pytest.raises(InputError):
        load(os.fspath(path))
