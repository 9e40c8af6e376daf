"""Amendments that withdraw, replace and add rules, and forbid or require wiring methods."""

from __future__ import annotations

import pytest
from trial import SAMPLE, judge, kinds, message

REST = "reason: r, reference: s}\n"
NEW = """\
  - add:
      rule: {id}
      title: A raceway has a size of at least
      topic: routing
      each: raceway
      values:
        least: {{is: 3/4, as: trade_size, note: common practice}}
      judge:
        measure: raceway.size
        limit: least
        at_least: true
        fail: "{{raceway.size}} is smaller than {{least}}"
    reason: own standard
    reference: § 7
"""
REPLACED = NEW.replace("  - add:", "  - rule: lengths\n    replace:")


def test_withdraw(load, amend):
    book = load(amend("  - {rule: turns, withdraw: true, " + REST))
    assert [rule.id for rule in book.rules] == ["lengths", "wires"]
    assert book.withdrawn == {"turns": "one"}
    with pytest.raises(LookupError, match="amendment one withdrew it"):
        book.find("turns")
    assert book.amendments[0].acted == ("withdraws turns",)


def test_changing_what_was_withdrawn(refused, amend):
    gone = amend("  - {rule: turns, withdraw: true, " + REST, "gone")
    late = amend("  - {rule: turns, set: {permitted: 1 deg}, " + REST, "late")
    said = refused(gone, late)
    assert "there is no rule `turns` any more: amendment gone withdrew it" in said


def test_withdraw_false(refused, amend):
    said = refused(amend("  - {rule: turns, withdraw: false, " + REST))
    assert "this change changes nothing" in said


def test_withdraw_after_a_change_tells_that_it_is_lost(load, amend):
    early = amend("  - {rule: turns, set: {permitted: 1 deg}, " + REST, "early")
    gone = amend("  - {rule: turns, withdraw: true, " + REST, "gone")
    meant = amend("  - {rule: turns, withdraw: true, supersedes: early, " + REST, "meant")
    told = [n for n in load(early, gone).notices if "turns was changed by amendment early" in n]
    assert len(told) == 1
    assert "early.yaml:7:36" in told[0]
    assert "gone.yaml:7:19" in told[0]
    assert not [n for n in load(early, meant).notices if "already" in n]


def test_add(load, amend):
    book = load(amend(NEW.format(id="least-size")))
    assert kinds(book, "least-size") == {"R1": "pass", "R2": "fail"}
    rule = book.find("least-size")
    assert rule.citation == "Kestrel County § 7"
    assert rule.record.history == ("one: added (§ 7): own standard",)
    assert book.amendments[0].acted == ("adds least-size",)


def test_add_cites_what_it_says(load, amend):
    path = amend(NEW.format(id="least-size") + "    cite: Kestrel 17.4\n")
    assert load(path).find("least-size").citation == "Kestrel 17.4"
    own = NEW.format(id="least-size").replace(
        "      topic:", "      cite: {any: own words}\n      topic:"
    )
    assert load(amend(own)).find("least-size").citation == "own words"


def test_add_under_a_taken_id(refused, amend):
    said = refused(amend(NEW.format(id="turns")))
    assert "there is a rule `turns` already" in said
    assert "turns.yaml:1" in said
    twice = refused(amend(NEW.format(id="least"), "one"), amend(NEW.format(id="least"), "two"))
    assert "two.yaml:8:13" in twice
    assert "one.yaml:8" in twice


def test_add_under_a_withdrawn_id(load, amend):
    gone = amend("  - {rule: turns, withdraw: true, " + REST, "gone")
    book = load(gone, amend(NEW.format(id="turns"), "anew"))
    assert book.find("turns").citation == "Kestrel County § 7"
    assert book.withdrawn == {}


def test_replace(load, amend):
    book = load(amend(REPLACED.format(id="lengths")))
    assert [rule.id for rule in book.rules] == ["lengths", "turns", "wires"]
    assert kinds(book, "lengths") == {"R1": "pass", "R2": "fail"}
    assert book.find("lengths").citation == "Kestrel County § 7"
    assert book.amendments[0].acted == ("replaces lengths",)


def test_replace_under_another_id(refused, amend):
    said = refused(amend(REPLACED.format(id="lengthy")))
    assert "a rule is replaced under its own id" in said


def test_replace_after_a_change_and_change_after_replace(load, amend):
    early = amend("  - {rule: lengths, set: {longest: 5 ft}, " + REST, "early")
    new = amend(REPLACED.format(id="lengths"), "new")
    late = amend("  - {rule: lengths, set: {least: 1}, " + REST, "late")
    assert any("it is replaced now" in n for n in load(early, new).notices)
    book = load(new, late)
    assert kinds(book, "lengths") == {"R1": "fail", "R2": "fail"}
    assert any("lengths was replaced by amendment new already" in n for n in book.notices)


def test_a_mistake_in_an_added_rule_is_told_at_its_place(refused, amend):
    said = refused(amend(NEW.format(id="least").replace("raceway.size\n", "raceway.sise\n")))
    assert "one.yaml:15:26" in said
    assert "nearest: size" in said


def test_forbid(load, amend):
    path = amend(
        "  - forbid: {rule: no-armored, methods: [AC, MC], title: No cable}\n"
        "    reason: moisture\n    reference: § 5\n"
    )
    book = load(path)
    assert kinds(book, "no-armored") == {"R1": "pass", "R2": "pass", "K1": "fail"}
    assert message(book, "no-armored", "K1") == "K1 is AC; forbidden: AC, MC"
    rule = book.find("no-armored")
    assert (rule.title, rule.citation, rule.record.why) == (
        "No cable",
        "Kestrel County § 5",
        "moisture",
    )
    unsaid = SAMPLE.replace("method: AC, ", "")
    assert kinds(book, "no-armored", unsaid)["K1"] == "open"


def test_require_with_a_condition(load, amend):
    path = amend(
        "  - values: {far: {is: 20 ft, note: common practice}}\n"
        "    require: {rule: metal, methods: [EMT, RMC, AC], where: this.length >= far}\n"
        "    reason: r\n    reference: § 6\n"
    )
    book = load(path)
    assert kinds(book, "metal") == {"R1": "notApplicable", "R2": "fail", "K1": "notApplicable"}
    assert message(book, "metal", "R2") == "R2 is PVC40; required: one of EMT, RMC, AC"
    assert judge(book)["metal", "R2"].mark.line == 9


def test_forbid_a_method_that_nothing_has(refused, amend):
    said = refused(amend("  - {forbid: {rule: x, methods: [EMT, AX]}, " + REST))
    assert "no raceway or cable has the method `AX`" in said
    assert "one.yaml:7:39" in said
    said = refused(amend("  - {forbid: {rule: x, methods: []}, " + REST))
    assert "no method is named" in said


def test_forbid_where_is_checked(refused, amend):
    said = refused(amend("  - {forbid: {rule: x, methods: AC, where: this.bender == 'x'}, " + REST))
    assert "cable has no field `bender`" in said


def test_forbid_and_require_in_one_change(load, amend):
    path = amend("  - {forbid: {rule: a, methods: AC}, require: {rule: b, methods: EMT}, " + REST)
    assert {"a", "b"} <= {rule.id for rule in load(path).rules}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{set: {permitted: 1 deg}, ", "does not say which rule"),
        ("{cells: [], ", "does not say which table"),
        ("{title: x, ", "does not say which rule"),
        ("{rule: turns, cells: [{keys: {a: 1}, set: {b: 1}}], ", "changes a table, not a rule"),
        ("{table: ampacity, set: {a: 1}, ", "changes a rule, not a table"),
        ("{table: ampacity, rule: turns, set: {a: 1}, ", "one rule, one table"),
        ("{rule: turns, forbid: {rule: x, methods: AC}, ", "makes a rule of its own"),
        ("{rule: turns, withdraw: true, set: {permitted: 1 deg}, ", "leaves nothing for `set`"),
        ("{rule: turns, withdraw: true, cite: x, ", "leaves nothing for `cite`"),
        ("{rule: turns, ", "this change changes nothing"),
        ("{rule: turns, set: {}, ", "this change changes nothing"),
        ("{rule: turns, set: , ", "this change changes nothing"),
        ("{cite: x, ", "this change changes nothing"),
        ("{rule: turns, supersedes: zero, ", "there is no amendment `zero`"),
        ("{", "this change changes nothing"),
    ],
)
def test_what_does_nothing_is_refused(refused, amend, text, words):
    assert words in refused(amend("  - " + text + REST))


ADDED = (
    "add: {{rule: x, title: t, topic: o, each: box, judge: {{measure: {0}, limit: {0}, fail: m}}}}"
)


def test_values_of_a_rule_that_is_added_stand_inside_it(refused, amend):
    """Beside it nobody would look at them."""
    said = refused(amend(f"  - {{{ADDED.format(1)}, values: {{most: 5 count}}, {REST}"))
    assert "has its values inside it" in said


def test_a_standard_box_is_no_measure(refused, amend):
    said = refused(amend(f"  - {{{ADDED.format('box.trade_size')}, {REST}"))
    assert "a measure is a number, a wire size or a trade size" in said


@pytest.mark.parametrize("key", ["reason", "reference"])
def test_every_change_says_why_and_where(refused, amend, key):
    text = "  - {rule: turns, withdraw: true, reason: r, reference: s}\n"
    said = refused(amend(text.replace(f"{key}: {key[0] if key == 'reason' else 's'}", "title: ''")))
    assert f"lacks `{key}`" in said
