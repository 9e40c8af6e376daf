"""Amendments that change where a rule applies: applies, narrow, widen, exceptions."""

from __future__ import annotations

import pytest
from trial import SAMPLE, judge, kinds, message


def change(text: str) -> str:
    return f"  - {{rule: lengths, {text}, reason: r, reference: s}}\n"


def test_unamended(load):
    assert kinds(load(), "lengths") == {"R1": "pass", "R2": "notApplicable"}


@pytest.mark.parametrize(
    ("condition", "expected"),
    [
        ("raceway.threaded", {"R1": "notApplicable", "R2": "notApplicable"}),
        ("raceway.size == '3/4'", {"R1": "pass", "R2": "notApplicable"}),
        ("not raceway.threaded", {"R1": "pass", "R2": "notApplicable"}),
    ],
)
def test_narrow_holds_beside_the_rule_s_own(load, amend, condition, expected):
    book = load(amend(change(f'narrow: "{condition}"')))
    assert kinds(book, "lengths") == expected
    assert book.find("lengths").citation == "CODE 31, as amended by Kestrel County s"


def test_widen(load, amend):
    book = load(amend(change("widen: raceway.method == 'PVC40'")))
    assert kinds(book, "lengths") == {"R1": "pass", "R2": "fail"}
    # What is neither is told with the whole condition.
    flexible = SAMPLE.replace("method: PVC40", "method: FMC")
    assert kinds(book, "lengths", flexible)["R2"] == "notApplicable"
    said = message(book, "lengths", "R2", flexible)
    assert "raceway.method == 'EMT'" in said
    assert "raceway.method == 'PVC40'" in said


def test_widened_and_not_stated(load, amend):
    book = load(amend(change("widen: raceway.method == 'PVC40'")))
    unsaid = SAMPLE.replace("method: PVC40, ", "")
    assert kinds(book, "lengths", unsaid)["R2"] == "open"
    # Unknown or true is true: the alternative alone decides.
    unsaid = SAMPLE.replace("method: PVC40, size: 1/2", "method: PVC40")
    assert kinds(book, "lengths", unsaid)["R2"] == "fail"


def test_narrow_after_widen_limits_both(load, amend):
    wide = amend(change("widen: raceway.method == 'PVC40'"), "wide")
    narrow = amend(change("narrow: raceway.size == '3/4'"), "narrow")
    assert kinds(load(wide, narrow), "lengths") == {"R1": "pass", "R2": "notApplicable"}
    # In the other order the alternative is free of the earlier limit.
    book = load(narrow, wide)
    assert kinds(book, "lengths") == {"R1": "pass", "R2": "fail"}
    assert any("lengths.when was changed by amendment narrow" in n for n in book.notices)
    assert any("both hold" in n for n in book.notices)


def test_order_counts_in_the_digest(load, amend):
    wide = amend(change("widen: raceway.method == 'PVC40'"), "wide")
    narrow = amend(change("narrow: raceway.size == '3/4'"), "narrow")
    one, other = load(wide, narrow), load(narrow, wide)
    assert one.find("lengths").record.digest != other.find("lengths").record.digest


def test_widen_twice(load, amend):
    one = amend(change("widen: raceway.method == 'PVC40'"), "one")
    two = amend(change("widen: raceway.method == 'FMC'"), "two")
    flexible = SAMPLE.replace("method: EMT", "method: FMC")
    assert kinds(load(one, two), "lengths", flexible) == {"R1": "pass", "R2": "fail"}


def test_applies_takes_the_place_of_all(load, amend):
    with_it = amend(change("applies: raceway.method == 'PVC40' and raceway.size >= smallest"))
    assert kinds(load(with_it), "lengths") == {"R1": "notApplicable", "R2": "fail"}
    several = amend(
        change("applies: [raceway.size >= smallest, \"raceway.method in ['PVC40', 'EMT']\"]")
    )
    assert kinds(load(several), "lengths") == {"R1": "pass", "R2": "fail"}


def test_applies_may_leave_a_value_of_the_rule_unused(load, amend, refused):
    book = load(amend(change("applies: raceway.method == 'PVC40'")))
    assert kinds(book, "lengths") == {"R1": "notApplicable", "R2": "fail"}
    said = refused(amend(change("values: {a: 1 ft}, applies: raceway.method == 'PVC40'")))
    assert "value `a` of rule lengths is never used" in said


def test_applies_everywhere(load, amend):
    path = amend("  - {rule: turns, applies: [run.crosses > 0], reason: r, reference: s}\n", "one")
    back = amend(
        "  - {rule: turns, applies: [], supersedes: one, reason: r, reference: s}\n", "two"
    )
    assert kinds(load(path), "turns") == {"R1": "notApplicable", "R2": "notApplicable"}
    book = load(path, back)
    assert kinds(book, "turns") == {"R1": "pass", "R2": "fail"}
    assert not [n for n in book.notices if "already" in n]


def test_applies_drops_an_earlier_narrow_and_says_so(load, amend):
    narrow = amend(change("narrow: raceway.threaded"), "narrow")
    applies = amend(change("applies: raceway.size >= smallest"), "anew")
    book = load(narrow, applies)
    assert kinds(book, "lengths") == {"R1": "pass", "R2": "fail"}
    assert any("lengths.when was changed by amendment narrow" in n for n in book.notices)
    assert any("this change wins" in n for n in book.notices)


def test_exception(load, amend):
    path = amend(
        "  - {rule: turns, exception: {when: run.start == 'A' and run.angle > permitted, "
        "note: short walls}, reason: r, reference: s}\n"
    )
    book = load(path)
    assert kinds(book, "turns") == {"R1": "pass", "R2": "notApplicable"}
    assert message(book, "turns", "R2") == "an exception applies: short walls"


def test_exception_in_one_line_says_the_reason(load, amend):
    path = amend(
        "  - {rule: turns, exception: run.crosses == 0, reason: one piece, reference: s}\n"
    )
    assert message(load(path), "turns", "R2") == "an exception applies: one piece"


def test_exception_on_what_is_not_stated_is_open(load, amend):
    path = amend("  - {rule: turns, exception: run.length < run.length, reason: r, reference: s}\n")
    unsaid = SAMPLE.replace("length: 10 ft,", "").replace("length: 30 ft,", "")
    found = judge(load(path), unsaid)
    assert found["turns", "R1"].kind == "open"


def test_a_number_of_its_own(load, amend):
    path = amend(
        "  - rule: turns\n"
        "    values: {stub: {is: 12 ft, note: field agreement}}\n"
        "    exception: {when: run.length >= stub, note: long}\n"
        "    reason: r\n    reference: § 9\n"
    )
    book = load(path)
    assert kinds(book, "turns") == {"R1": "pass", "R2": "notApplicable"}
    value = book.find("turns").record.values["stub"]
    assert (value.cite, value.note, value.part.origin) == ("§ 9", "field agreement", "one")


def test_a_number_that_exists_is_set_not_added(refused, amend):
    said = refused(
        amend(
            "  - {rule: turns, values: {permitted: {is: 1 deg}}, exception: run.field, reason: r, "
            "reference: s}\n"
        )
    )
    assert "rule turns has a value `permitted` already" in said
    assert "`set:` to change it" in said


def test_a_number_that_is_not_used(refused, amend):
    said = refused(amend("  - {rule: turns, values: {stub: 1 ft}, reason: r, reference: s}\n"))
    assert "value `stub` of rule turns is never used" in said


def test_bare_number_in_a_condition(refused, amend):
    said = refused(amend(change("narrow: raceway.length > 12")))
    assert "a number without a name" in said


@pytest.mark.parametrize("key", ["narrow", "widen", "applies", "exception"])
def test_conditions_are_checked_at_their_place(refused, amend, key):
    said = refused(amend(change(f"{key}: raceway.lenght > 0")))
    assert "one.yaml:7:" in said
    assert "nearest: length" in said
    said = refused(amend(change(f"{key}: raceway.length")))
    assert "a yes-or-no expression" in said


def test_the_same_again_is_told(load, amend):
    path = amend(
        change("narrow: raceway.method == 'EMT'")
        + "  - {rule: turns, widen: run.field, reason: r, reference: s}\n"
    )
    book = load(path)
    assert any("lengths is limited to that already" in n for n in book.notices)
    assert any("turns applies everywhere already" in n for n in book.notices)
    assert book.amendments[0].acted == ()
    twice = change("exception: raceway.threaded")
    book = load(amend(twice, "one"), amend(twice, "two"))
    assert any("lengths has that exception already" in n for n in book.notices)
    same = "  - {rule: lengths, reason: r, reference: s,\n     applies: [WHEN]}\n".replace(
        "WHEN", "raceway.method == 'EMT', raceway.size >= smallest"
    )
    assert any("lengths applies there already" in n for n in load(amend(same)).notices)


def test_a_widened_condition_counts_the_items_it_goes_through(load, amend):
    """As its own expression would have: collections inside several others are bounded."""
    own = "raceway.wires"
    deep = f"any(a.count > 0 for a in {own} for b in {own} for c in {own})"
    for change_text in (f'widen: "{deep}"', f'narrow: "{deep}"'):
        form = load(amend(change(change_text))).find("lengths").forms["raceway"]
        assert any(condition.deep for condition in form.when)
        assert "f_counted" in form.fast.__code__.co_names
