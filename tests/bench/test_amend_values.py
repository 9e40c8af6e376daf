"""Amendments that change a value, a citation, a title or what failing means."""

from __future__ import annotations

import pytest
from trial import SAMPLE, judge, kinds, message

from checker.documents.errors import InputError
from checker.findings.wording import worded

SET = """\
  - rule: turns
    set: {permitted: 270 deg}
    reason: long pulls
    reference: § 3
"""


def test_unamended(load):
    # 280 deg and 361 deg against 360 deg, and against 300 deg in the earlier edition.
    assert kinds(load(), "turns") == {"R1": "pass", "R2": "fail"}
    assert kinds(load(edition="code-1"), "turns") == {"R1": "pass", "R2": "fail"}


def test_value_decides(load, amend):
    book = load(amend(SET))
    assert kinds(book, "turns") == {"R1": "fail", "R2": "fail"}
    assert book.find("turns").citation == "CODE 2 26, as amended by Kestrel County § 3"
    part = book.find("turns").record.values["permitted"]
    assert (part.part.origin, part.cite, part.note) == ("one", "§ 3", "long pulls")
    assert part.part.mark.line == 8
    assert book.amendments[0].acted == ("changes turns: permitted 360 deg → 270 deg",)
    assert "long pulls" in book.find("turns").record.history[0]


def test_value_in_the_other_edition(load, amend):
    book = load(amend(SET), edition="code-1")
    assert book.amendments[0].acted == ("changes turns: permitted 300 deg → 270 deg",)
    assert kinds(book, "turns")["R1"] == "fail"


def test_value_in_another_unit_is_the_same(load, amend):
    # 2 pi rad are 360 deg only nearly; 240 in are 20 ft exactly.
    path = amend("  - {rule: lengths, set: {longest: 240 in}, reason: r, reference: s}\n")
    book = load(path)
    assert [n for n in book.notices if "changes nothing" in n and ":7:36:" in n]
    assert book.find("lengths").citation == "CODE 31"
    assert book.amendments[0].acted == ()


def test_digest_follows(load, amend):
    plain, changed = load(), load(amend(SET))
    assert plain.digest != changed.digest
    assert plain.find("turns").record.digest != changed.find("turns").record.digest
    assert plain.find("lengths").record.digest == changed.find("lengths").record.digest
    assert plain.tables_digest == changed.tables_digest


def test_other_dimension(refused, amend):
    said = refused(amend("  - {rule: turns, set: {permitted: 12 in}, reason: r, reference: s}\n"))
    assert "one.yaml:7:36" in said
    assert "not of the same kind" in said
    assert "`12 in` is a length" in said
    assert "an angle, as `360 deg` was" in said


def test_unknown_value_names_the_nearest(refused, amend):
    said = refused(amend("  - {rule: turns, set: {permited: 270 deg}, reason: r, reference: s}\n"))
    assert "rule turns has no value `permited`" in said
    assert "nearest: permitted" in said


def test_unknown_rule_names_the_nearest(refused, amend):
    said = refused(amend("  - {rule: turn, set: {permitted: 270 deg}, reason: r, reference: s}\n"))
    assert "there is no rule `turn`" in said
    assert "nearest: turns" in said


def test_rule_of_another_edition(refused, amend):
    changes = "  - {rule: wires, set: {column: 60 degC}, reason: r, reference: s}\n"
    assert "there is no rule `wires`" in refused(amend(changes), edition="code-1")


def test_value_without_unit(refused, amend):
    said = refused(amend("  - {rule: turns, set: {permitted: 270}, reason: r, reference: s}\n"))
    assert "the new `permitted` of turns cannot be read" in said
    assert "a unit" in said


def test_value_that_is_a_list_or_mapping(refused, amend):
    said = refused(
        amend("  - {rule: turns, set: {permitted: [270 deg]}, reason: r, reference: s}\n")
    )
    assert "not of the same kind" in said
    said = refused(amend("  - {rule: turns, set: {permitted: {is: 1}}, reason: r, reference: s}\n"))
    assert "cannot be read" in said
    said = refused(amend("  - {rule: turns, set: {permitted: }, reason: r, reference: s}\n"))
    assert "`permitted` is empty" in said


def test_trade_size_stays_one(load, amend, refused):
    path = amend("  - {rule: lengths, set: {smallest: 1-1/4}, reason: r, reference: s}\n")
    assert kinds(load(path), "lengths") == {"R1": "notApplicable", "R2": "notApplicable"}
    said = refused(amend("  - {rule: lengths, set: {smallest: 21 mm}, reason: r, reference: s}\n"))
    assert "metric 21" in said


def test_everything_wrong_at_once(refused, amend):
    said = refused(
        amend(
            "  - {rule: turn, set: {permitted: 270 deg}, reason: r, reference: s}\n"
            "  - {rule: turns, set: {permited: 270 deg, permitted: 1 A}, reason: r, reference: s}\n"
        )
    )
    assert said.count(" error: ") == 3


def test_fails_as_review_and_back(load, amend):
    review = amend("  - {rule: turns, fails_as: review, reason: r, reference: s}\n", "first")
    book = load(review)
    assert kinds(book, "turns")["R2"] == "review"
    assert book.find("turns").record.fails_as_origin == "first"
    back = amend("  - {rule: turns, fails_as: fail, reason: r, reference: s}\n", "second")
    again = load(review, back)
    assert kinds(again, "turns")["R2"] == "fail"
    assert any("turns.fails_as was changed by amendment first" in n for n in again.notices)


def test_fails_as_reaches_every_case(load, amend):
    tight = "  - {rule: wires, fails_as: fail, reason: r, reference: s}\n"
    small = judge(load(), _hot())["wires", "W1"]
    assert small.kind == "review"
    assert judge(load(amend(tight)), _hot())["wires", "W1"].kind == "fail"


def _hot() -> str:
    return SAMPLE.replace("breaker: 20 A", "breaker: 60 A")


def test_fails_as_already(load, amend):
    book = load(amend("  - {rule: turns, fails_as: fail, reason: r, reference: s}\n"))
    assert any("means fail already" in n for n in book.notices)
    assert book.find("turns").citation == "CODE 2 26"


def test_unknown_fails_as(refused, amend):
    said = refused(amend("  - {rule: turns, fails_as: reviw, reason: r, reference: s}\n"))
    assert "nearest: review" in said


def test_title_and_cite(load, amend):
    book = load(
        amend(
            "  - {rule: turns, title: Other words, cite: Kestrel 17.3, reason: r, reference: s}\n"
        )
    )
    rule = book.find("turns")
    assert (rule.title, rule.citation) == ("Other words", "Kestrel 17.3")
    assert rule.record.title.origin == rule.record.cite.origin == "one"
    assert kinds(book, "turns") == {"R1": "pass", "R2": "fail"}


def test_same_title_and_cite_are_told(load, amend):
    book = load(
        amend(
            "  - {rule: lengths, title: A raceway is not longer than permitted, reason: r, "
            "reference: s}\n"
            "  - {rule: turns, cite: CODE 2 26, reason: r, reference: s}\n"
        )
    )
    assert any("that is the title of lengths already" in n for n in book.notices)
    assert any("turns cites that already" in n for n in book.notices)


def test_two_changes_of_one_rule_cite_both_sections(load, amend):
    book = load(amend(SET + "  - {rule: turns, fails_as: review, reason: r, reference: § 4}\n"))
    assert book.find("turns").citation == "CODE 2 26, as amended by Kestrel County § 3, § 4"
    assert len(book.find("turns").record.history) == 2


def test_terms(load, amend):
    head = (
        "amendment: {id}\ntitle: T\njurisdiction: {owner}\neffective: 2026-01-01\nreference: O\n"
        "terms: {{authority having jurisdiction: electrical plan officer}}\n"
    )
    book = load(amend("", head=head))
    assert message(book, "turns", "R2").endswith("ask the electrical plan officer")
    assert message(load(), "turns", "R2").endswith("ask the authority having jurisdiction")


def test_terms_of_two_amendments(load, amend):
    head = (
        "amendment: {id}\ntitle: T\njurisdiction: {owner}\neffective: 2026-01-01\nreference: O\n"
        "terms: {{authority having jurisdiction: WORD}}\n"
    )
    one = amend("", "one", head=head.replace("WORD", "plan officer"))
    two = amend("", "two", head=head.replace("WORD", "owner's engineer"))
    book = load(one, two)
    assert message(book, "turns", "R2").endswith("ask the owner's engineer")
    assert any("where amendment one said `plan officer`" in n for n in book.notices)


def test_terms_not_in_force_are_not_used(load, amend):
    head = (
        "amendment: {id}\ntitle: T\njurisdiction: {owner}\neffective: 2027-01-01\nreference: O\n"
        "terms: {{authority having jurisdiction: electrical plan officer}}\n"
    )
    book = load(amend("", head=head))
    assert book.terms == {}


@pytest.mark.parametrize("terms", ["'280': '100'", "R2: other", "ask: ''", "'a b ': c"])
def test_a_number_a_name_and_nothing_are_no_terms(load, amend, terms):
    head = (
        "amendment: {id}\ntitle: T\njurisdiction: {owner}\neffective: 2026-01-01\nreference: O\n"
        f"terms: {{{{{terms}}}}}\n"
    )
    with pytest.raises(InputError) as raised:
        load(amend("", head=head))
    assert [p.line for p in raised.value.problems] == [6]


def test_terms_are_whole_words():
    assert worded("the box is one of the boxes", {"box": "can"}) == "the can is one of the boxes"
