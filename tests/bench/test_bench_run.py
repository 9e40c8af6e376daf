"""``pullpoint rules test``: the rule author's tests, and what is said of them."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from checker.cli.main import guarded

RULE = """\
rule: trial
title: A raceway is no longer than permitted
topic: routing
each: raceway
values:
  longest: {is: 20 ft, in: {nec-2017: 25 ft}, cite: "31", note: invented}
steps:
  long: {is: raceway.length, unit: ft, note: its length}
  left: {is: longest - raceway.length, unit: ft, note: what is left}
measure: long
limit: longest
unit: ft
fail: "{raceway.length} is longer than {longest}"
pass: "{left} is left"
fixes: "shorten it by {raceway.length - longest}"
cite: {nec-2017: A 31, nec-2023: C 31}
"""
SAMPLE = """\
sample:
  boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
  raceways: [{id: R1, method: EMT, size: 3/4, from: A, to: B, length: 20 ft}]
"""
HOLDING = """\
examples:
  - {name: at the limit, on: R1, edition: nec-2023, expect: pass, measure: 20 ft, limit: 20 ft}
  - {name: beyond it, on: R1, set: {raceways.R1.length: 26 ft}, expect: fail, measure: 26 ft}
"""


@pytest.fixture
def run(capsys):
    def give(*arguments: str) -> tuple[int, str, str]:
        status = guarded(["rules", *arguments])
        said = capsys.readouterr()
        return status, said.out, " ".join(said.err.split())

    return give


@pytest.fixture
def rule(tmp_path: Path):
    def write(text: str, name: str = "trial.yaml") -> str:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return os.fspath(path)

    return write


def test_inline_examples_run_under_every_edition_that_has_the_rule(run, rule):
    status, out, err = run("test", rule(RULE + SAMPLE + HOLDING))
    assert (status, err) == (0, "")
    # One run of the first example, two of the second: the 2020 edition has no such rule.
    assert "3 runs (nec-2017, nec-2023)" in out
    assert "2 examples of 1 rule, 3 runs: all pass" in out


def test_one_edition(run, rule):
    path = rule(RULE + SAMPLE + HOLDING)
    status, out, _ = run("test", path, "--edition", "nec-2017")
    assert status == 0
    assert "1 run (nec-2017)" in out
    status, _, err = run("test", path, "--edition", "nec-2071")
    assert status == 2
    assert "nearest: nec-2017" in err


def test_examples_beside_the_rule(run, rule, tmp_path):
    path = rule(RULE)
    beside = rule("examples_of: trial\n" + SAMPLE + HOLDING, "trial.examples.yaml")
    for asked in (path, beside, os.fspath(tmp_path)):
        status, out, _ = run("test", asked)
        assert status == 0
        assert "2 examples of 1 rule" in out


def test_a_difference_is_told_with_the_calculation(run, rule):
    wrong = HOLDING.replace(
        "expect: pass, measure: 20 ft, limit: 20 ft", "expect: fail, limit: 25 ft"
    )
    wrong = wrong.replace(
        "expect: fail, measure: 26 ft", "expect: pass, steps: {long: 4 ft, left: 1 ft, lng: 1 ft}"
    )
    status, out, err = run("test", rule(RULE + SAMPLE + wrong))
    assert (status, err) == (1, "")
    assert "DIFFERS rule trial: 3 of 3 runs differ" in out
    assert "expected fail, got pass" in out
    assert "differs: limit: expected 25 ft, got 20 ft" in out
    assert "long: 240 in = 20 ft" in out
    assert "said: 0 ft is left" in out
    assert "trial.yaml:22" in out
    assert "differs: step long: expected 4 ft, got 26 ft" in out
    assert "differs: step left plays no part in this calculation" in out
    assert "differs: there is no step `lng` in this calculation; nearest: long" in out
    # The limit is not the same in the two editions, so each is told on its own.
    assert "measure 26 ft, limit 25 ft" in out
    assert "measure 26 ft, limit 20 ft" in out
    assert "2 examples of 1 rule, 3 runs: 0 pass, 3 differ" in out


@pytest.mark.parametrize(
    ("kept", "lacks"),
    [
        ("pass", "one that fails"),
        ("fail", "one that passes"),
        ("", "one that passes (`expect: pass`) and one that fails"),
    ],
)
def test_a_rule_without_both_sides_is_an_error(run, rule, kept, lacks):
    lines = [line for line in HOLDING.split("\n")[1:] if kept and f"expect: {kept}" in line]
    text = RULE + SAMPLE + ("examples:\n" + "\n".join(lines) + "\n" if lines else "")
    status, out, err = run("test", rule(text))
    assert status == 2
    assert "WRONG" in out
    assert "rule trial has no examples on both sides of its limit" in err
    assert lacks in err


def test_review_counts_as_failing(run, rule):
    text = RULE.replace("fail: ", "review: ") + SAMPLE
    assert run("test", rule(text + HOLDING.replace("expect: fail", "expect: review")))[0] == 0


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("edition: nec-2023", "edition: nec-2024", "there is no edition `nec-2024`"),
        ("edition: nec-2023", "edition: nec-2020", "nec-2020 has no rule trial"),
        ("on: R1, edition", "on: R9, edition", ""),
        ("raceways.R1.length", "raceways.R7.length", ""),
        ("26 ft}", "26 A}", ""),
    ],
)
def test_examples_that_cannot_be(run, rule, old, new, words):
    text = RULE + SAMPLE + HOLDING.replace(old, new)
    status, out, err = run("test", rule(text))
    if words:
        assert status == 2
        assert words in err
    else:
        # An example that cannot be set up differs, and says why.
        assert status == 1
        assert "differs: " in out


def test_broken_files_are_wrong_input(run, rule, tmp_path):
    status, _, err = run(
        "test", rule(RULE.replace("limit: longest", "limit: longst") + SAMPLE + HOLDING)
    )
    assert status == 2
    assert "trial.yaml:11:8 error: nothing here is called `longst`" in err
    status, _, err = run("test", rule(RULE.replace("rule: trial", "rul: trial")))
    assert status == 2
    status, _, err = run("test", os.fspath(tmp_path / "none.yaml"))
    assert status == 2
    assert "no such file" in err
    (tmp_path / "empty").mkdir()
    status, _, err = run("test", os.fspath(tmp_path / "empty"))
    assert status == 2
    assert "nothing to test" in err
    status, _, err = run("test", rule("assembly: X\n", "x.yaml"))
    assert status == 2
    assert "this file holds no examples" in err


def test_examples_of_another_rule_beside_it(run, rule):
    path = rule(RULE)
    rule("examples_of: trail\n" + SAMPLE + HOLDING, "trial.examples.yaml")
    status, _, err = run("test", path)
    assert status == 2
    assert "these examples are of another rule" in err


def test_examples_of_a_shipped_rule_elsewhere(run, rule):
    text = "examples_of: raceway-fil\n" + SAMPLE + HOLDING
    status, _, err = run("test", rule(text, "more.examples.yaml"))
    assert status == 2
    assert "nearest: raceway-fill" in err


def test_no_edition_has_it(run, rule):
    text = RULE.replace("{nec-2017: A 31, nec-2023: C 31}", "{nec-2011: X}") + SAMPLE + HOLDING
    status, _, err = run("test", rule(text))
    assert status == 2
    assert "there is no edition `nec-2011`" in err


def test_show_all(run, rule):
    status, out, _ = run("test", rule(RULE + SAMPLE + HOLDING), "--show", "all")
    assert status == 0
    assert "passes  at the limit  [nec-2023]" in out
    assert "expected pass, got pass" in out
    assert "measure 20 ft, limit 20 ft" in out


# -- amendments -----------------------------------------------------------------------------

AMENDMENT = """\
amendment: trial
title: T
jurisdiction: Kestrel County
effective: 2030-01-01
reference: O
editions: [nec-2023]
changes:
  - add:
      rule: short
      title: A raceway is short
      topic: routing
      each: raceway
      values:
        longest: {is: 20 ft, note: invented}
      judge: {measure: raceway.length, limit: longest, unit: ft, fail: long}
    reason: r
    reference: s
"""
INSIDE = (
    SAMPLE
    + """\
examples:
  - {rule: short, name: at the limit, on: R1, expect: pass, limit: 20 ft}
  - {rule: short, name: beyond, on: R1, set: {raceways.R1.length: 21 ft}, expect: fail}
"""
)


def test_an_amendment_is_tested_as_in_force(run, rule):
    status, out, _ = run("test", rule(AMENDMENT + INSIDE))
    assert status == 0
    assert "2 examples of 1 amendment, 2 runs: all pass" in out


def test_a_rule_of_an_amendment_has_both_sides(run, rule):
    status, _, err = run("test", rule(AMENDMENT))
    assert status == 2
    assert "rule short has no examples on both sides" in err


def test_an_example_of_a_rule_that_is_not_there(run, rule):
    text = AMENDMENT + INSIDE + "  - {rule: shrt, on: R1, expect: pass}\n"
    status, _, err = run("test", rule(text))
    assert status == 2
    assert "there is no rule `shrt`; nearest: short" in err


def test_a_change_without_example_is_remarked(run, rule):
    text = (
        AMENDMENT + "  - {rule: raceway-fill, fails_as: review, reason: r, reference: s}\n" + INSIDE
    )
    status, out, _ = run("test", rule(text))
    assert status == 0
    assert "no example shows what it does to raceway-fill" in out


def test_an_amendment_that_does_not_load(run, rule):
    text = (
        AMENDMENT + "  - {rule: raceway-fil, fails_as: review, reason: r, reference: s}\n" + INSIDE
    )
    status, _, err = run("test", rule(text))
    assert status == 2
    assert "nearest: raceway-fill" in err


def test_amendments_change_what_shipped_examples_give(run, rule, tmp_path):
    shipped = Path(__file__).parents[2] / "rules/conduit-fill/raceway-fill.yaml"
    tight = AMENDMENT.partition("changes:")[0] + (
        "changes:\n  - {rule: raceway-fill, set: {more_wires: 30 %}, reason: r, reference: s}\n"
    )
    path = rule(tight)
    plain = run("test", os.fspath(shipped), "--edition", "nec-2023")
    assert plain[0] == 0
    status, out, _ = run("test", os.fspath(shipped), "--edition", "nec-2023", "--amend", path)
    assert status == 1
    assert "nine 12 AWG in 1/2 EMT" in out
    gone = AMENDMENT.partition("changes:")[0] + (
        "changes:\n  - {rule: raceway-fill, withdraw: true, reason: r, reference: s}\n"
    )
    status, out, _ = run(
        "test", os.fspath(shipped), "--edition", "nec-2023", "--amend", rule(gone, "gone.yaml")
    )
    assert status == 0
    assert "not tested: amendment trial withdrew it" in out


# -- the shipped rules ----------------------------------------------------------------------


def test_shipped_rules_and_amendments_are_named_by_their_ids(run):
    status, out, err = run("test", "bend-total", "kestrel-county", "--edition", "nec-2023")
    assert (status, err) == (0, "")
    assert "passes rule bend-total" in " ".join(out.split())
    assert "1 rule and 1 amendment" in out
    status, out, err = run("test", "bend-totl")
    assert (status, out) == (2, "")
    assert "no rule of this id" in err
    assert "nearest: bend-total" in err
    status, _, err = run("test", "nec-2023")  # an edition is no rule
    assert status == 2


def test_every_shipped_rule_and_amendment_holds(run):
    status, out, err = run("test")
    assert err == ""
    assert "differ" not in out
    assert status == 0
