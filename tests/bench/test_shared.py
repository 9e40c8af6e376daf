"""Shared sheets: what rules borrow, what is wrong with a sheet, and amendments of one.

The rules are invented; what they give is arithmetic on their own values (no source needed).
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from trial import kinds, message

from checker.bench.bench import Bench
from checker.cli.main import guarded
from checker.documents.errors import InputError
from checker.reports.rule_view import shared_view
from checker.rulebook.book import load_rulebook
from checker.rulebook.build import build

# ruff: noqa: E501 - cases are easier to compare a line each

SHEET = """\
shared: lengths-in-use
title: How long things are
values:
  spare: {is: 2 ft, in: {code-1: 1 ft}, cite: "31", note: invented}
  never: {is: 5 ft, cite: "31", note: nobody mentions it}
steps:
  bent_length:
    is: raceway.length + spare
    unit: ft
    note: length with what the bends take
formulas:
  doubled:
    of: [x]
    is: x + x
  with_spare:
    of: [w]
    is: doubled(w.length) - w.length + spare
"""

RULE = """\
rule: {name}
title: A raceway is short
topic: routing
each: raceway
uses: [lengths-in-use]
values:
  {longest}: {{is: {limit}, cite: "31", note: invented}}
measure: {measure}
limit: {longest}
unit: ft
fail: "{{measure}} is more than {{limit}} with {{spare}} to spare"
cite: {{any: CODE 31}}
"""


@pytest.fixture
def folder(rules: Path, tmp_path: Path) -> Path:
    """The small rulebook with a sheet and three rules: two use it, by a step and by a formula."""
    made = tmp_path / "rules"
    shutil.copytree(rules, made)
    (made / "shared").mkdir()
    (made / "shared" / "lengths.yaml").write_text(SHEET, encoding="utf-8")
    for name, measure, limit in (
        ("by-step", "bent_length", "12 ft"),
        ("by-formula", "with_spare(raceway)", "12.5 ft"),
    ):
        text = RULE.format(name=name, measure=measure, limit=limit, longest="longest")
        (made / "topic" / f"{name}.yaml").write_text(text, encoding="utf-8")
    return made


@pytest.fixture
def book(folder: Path) -> Callable[..., object]:
    def give(*amendments: str, edition: str = "code-2"):
        return build(edition, list(amendments), date="2026-06-01", folder=os.fspath(folder))

    return give


def change(text: str, folder: Path, name: str = "one") -> str:
    path = folder.parent / f"{name}.yaml"
    path.write_text(
        f"amendment: {name}\ntitle: Trial\njurisdiction: Kestrel County\neffective: 2026-01-01\n"
        f"reference: Ordinance 1\nchanges:\n{text}",
        encoding="utf-8",
    )
    return os.fspath(path)


def said(folder: Path, *amendments: str) -> str:
    with pytest.raises(InputError) as caught:
        build("code-2", list(amendments), folder=os.fspath(folder))
    return " ".join(str(caught.value).split())


SET = "  - shared: lengths-in-use\n    set: {spare: 3 ft}\n    reason: r\n    reference: § 3\n"


def test_steps_and_formulas_are_borrowed(book):
    # R1 is 10 ft and R2 30 ft; 10 + 2 = 12 ft meets 12 ft.
    assert kinds(book(), "by-step") == {"R1": "pass", "R2": "fail"}
    assert kinds(book(), "by-formula") == {"R1": "pass", "R2": "fail"}
    assert message(book(), "by-step", "R2") == "384 in is more than 144 in with 24 in to spare"


def test_only_what_is_mentioned_is_borrowed_and_it_keeps_its_place(book, folder):
    draft = book().find("by-formula").record
    assert list(draft.values) == ["spare", "longest"]
    assert draft.steps == {}
    assert list(draft.formulas) == ["doubled", "with_spare"]
    part = draft.values["spare"].part
    assert part.source.path == os.fspath(folder / "shared" / "lengths.yaml")
    assert (part.mark.line, part.origin) == (4, "CODE 2, shared lengths-in-use")


def test_a_sheet_follows_the_edition(book):
    # 10 + 1 = 11 ft in the earlier edition.
    assert message(book(edition="code-1"), "by-step", "R2").startswith("372 in is more")


def test_an_amendment_of_a_sheet_reaches_every_rule_that_uses_it(book, folder):
    changed = book(change(SET, folder))
    assert kinds(changed, "by-step") == {"R1": "fail", "R2": "fail"}
    assert kinds(changed, "by-formula") == {"R1": "fail", "R2": "fail"}
    for rule in ("by-step", "by-formula"):
        assert changed.find(rule).citation == "CODE 31, as amended by Kestrel County § 3"
        assert changed.find(rule).record.values["spare"].part.origin == "one"
        assert changed.find(rule).record.digest != book().find(rule).record.digest
    assert changed.find("lengths").citation == "CODE 31"
    assert changed.amendments[0].acted == (
        "changes by-formula: spare 2 ft → 3 ft",
        "changes by-step: spare 2 ft → 3 ft",
    )


def test_a_rule_added_later_borrows_the_changed_value(book, folder):
    rule = RULE.format(name="own", measure="bent_length", limit="12.5 ft", longest="longest")
    inside = "".join(f"      {line}\n" for line in rule.splitlines())
    text = f"  - add:\n{inside}    reason: r\n    reference: § 4\n"
    assert kinds(book(change(text, folder)), "own") == {"R1": "pass", "R2": "fail"}
    assert kinds(book(change(SET + text, folder)), "own") == {"R1": "fail", "R2": "fail"}


def test_one_rule_alone_can_be_changed_too(book, folder):
    text = "  - {rule: by-step, set: {spare: 3 ft}, reason: r, reference: s}\n"
    changed = book(change(text, folder))
    assert kinds(changed, "by-step")["R1"] == "fail"
    assert kinds(changed, "by-formula")["R1"] == "pass"


def test_two_amendments_that_meet_are_told(book, folder):
    rule = "  - {rule: by-step, set: {spare: 4 ft}, reason: r, reference: s}\n"
    changed = book(change(rule, folder, "one"), change(SET, folder, "two"))
    assert changed.find("by-step").record.values["spare"].part.value == "3 ft"
    notices = [n for n in changed.notices if "changed by amendment one already" in n]
    assert len(notices) == 1
    assert "by-step.spare" in notices[0]
    assert "this change wins" in notices[0]


def test_taking_back(book, folder):
    back = "  - {amendment: one, shared: lengths-in-use, withdraw: true, reason: r, reference: s}\n"
    changed = book(change(SET, folder, "one"), change(back, folder, "two"))
    assert kinds(changed, "by-step")["R1"] == "pass"
    assert changed.amendments[0].acted == ("its change of lengths-in-use is taken back",)


def test_a_sheet_may_be_called_as_a_rule_is(folder):
    """Both are changed by one amendment, and only what is named is taken back."""
    for path in (folder / "shared").iterdir():
        path.write_text(path.read_text("utf-8").replace("lengths-in-use", "by-step"), "utf-8")
    for name in ("by-step", "by-formula"):
        path = folder / "topic" / f"{name}.yaml"
        path.write_text(path.read_text("utf-8").replace("[lengths-in-use]", "[by-step]"), "utf-8")
    rule = "  - {rule: by-step, set: {longest: 14 ft}, reason: r, reference: s}\n"
    one = change(SET.replace("lengths-in-use", "by-step") + rule, folder, "one")
    changed = build("code-2", [one], folder=os.fspath(folder)).find("by-step").record.values
    assert (changed["spare"].part.value, changed["longest"].part.value) == ("3 ft", "14 ft")
    back = "  - {amendment: one, shared: by-step, withdraw: true, reason: r, reference: s}\n"
    two = change(back, folder, "two")
    changed = build("code-2", [one, two], folder=os.fspath(folder)).find("by-step").record.values
    assert (changed["spare"].part.value, changed["longest"].part.value) == ("2 ft", "14 ft")


@pytest.mark.parametrize("linked", [False, True])
def test_a_changed_sheet_is_noticed_by_kept_books(folder, tmp_path: Path, linked):
    kept = os.fspath(tmp_path / "kept")
    sheets = folder / "shared"
    if linked:
        sheets.rename(tmp_path / "elsewhere")
        sheets.symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    sheet = sheets / "lengths.yaml"
    load_rulebook("code-2", folder=os.fspath(folder), kept=kept)
    assert (
        kinds(load_rulebook("code-2", folder=os.fspath(folder), kept=kept), "by-step")["R1"]
        == "pass"
    )
    sheet.write_text(SHEET.replace("is: 2 ft", "is: 3 ft"), encoding="utf-8")
    assert (
        kinds(load_rulebook("code-2", folder=os.fspath(folder), kept=kept), "by-step")["R1"]
        == "fail"
    )


def test_amended_conditions_may_speak_of_the_sheet(book, folder):
    # R1 is 10 ft and R2 30 ft; twice 10 ft is above 5 ft, and R1's 12 ft is not above 12 ft.
    text = "  - {{rule: by-step, {}, reason: r, reference: s}}\n"
    narrow = change(text.format("narrow: doubled(raceway.length) > never"), folder, "one")
    changed = book(narrow)
    assert changed.find("by-step").record.borrowed == {"bent_length", "spare", "never", "doubled"}
    assert kinds(changed, "by-step") == {"R1": "pass", "R2": "fail"}
    never = SET.replace("spare: 3 ft", "never: 25 ft")
    for stack in ([narrow, change(never, folder, "two")], [change(never, folder, "two"), narrow]):
        assert kinds(book(*stack), "by-step") == {"R1": "notApplicable", "R2": "fail"}
    held = "exception: {when: raceway.length > never, note: long}"
    excepted = book(change(text.format(held), folder))
    assert kinds(excepted, "by-step") == {"R1": "notApplicable", "R2": "notApplicable"}
    new = "values: {never: {is: 1 ft}}, narrow: raceway.length > never"
    told = said(folder, change(text.format(new), folder))
    assert "sheet lengths-in-use, which rule by-step uses, has `never` already" in told


def test_a_change_that_changes_nothing_is_told_once(book, folder):
    text = "  - {shared: lengths-in-use, set: {spare: 24 in}, reason: r, reference: s}\n"
    changed = book(change(text, folder))
    assert [n.rpartition(": ")[2] for n in changed.notices] == [
        "`spare` of lengths-in-use is 2 ft already; this change changes nothing"
    ]
    assert changed.find("by-step").citation == "CODE 31"


def test_a_value_that_no_rule_mentions(book, folder):
    text = "  - {shared: lengths-in-use, set: {never: 6 ft}, reason: r, reference: s}\n"
    changed = book(change(text, folder))
    assert changed.amendments[0].acted == ("changes sheet lengths-in-use: never 5 ft → 6 ft",)


WRONG_CHANGES = {
    "no such sheet": ("shared: lengths-in-us, set: {spare: 3 ft}", "no shared sheet `lengths-in-us`", "nearest: lengths-in-use"),
    "no such value": ("shared: lengths-in-use, set: {spar: 3 ft}", "sheet lengths-in-use has no value `spar`", "nearest: spare"),
    "a step is no value": ("shared: lengths-in-use, set: {bent_length: 3 ft}", "has no value `bent_length`", "one of spare, never"),
    "another dimension": ("shared: lengths-in-use, set: {spare: 3 A}", "the new `spare` of lengths-in-use is not of the same kind", "a length, as `2 ft` was"),
    "no unit": ("shared: lengths-in-use, set: {spare: 3}", "cannot be read", "nearest: 3 ft"),
    "what only a rule can have": ("shared: lengths-in-use, narrow: raceway.length > spare", "`narrow` changes a rule, not a shared sheet", "`rule:` with its name"),
    "a citation": ("shared: lengths-in-use, set: {spare: 3 ft}, cite: X", "`cite` changes a rule, not a shared sheet", "`rule:` with its name"),
    "a rule as well": ("rule: by-step, shared: lengths-in-use, set: {spare: 3 ft}", "one change touches one rule, one table or one shared sheet", "a change for each"),
    "withdrawn": ("shared: lengths-in-use, withdraw: true", "`withdraw` changes a rule, not a shared sheet", ""),
    "no action": ("shared: lengths-in-use", "this change changes nothing", ""),
}  # fmt: skip


@pytest.mark.parametrize("case", list(WRONG_CHANGES))
def test_wrong_changes(case: str, folder: Path):
    text, first, more = WRONG_CHANGES[case]
    told = said(folder, change(f"  - {{{text}, reason: r, reference: s}}\n", folder))
    assert first in told
    assert more in told


WRONG_SHEETS = {
    "a name twice": ("  doubled:", "  spare:", "lengths.yaml:12:3", "`spare` already means something in sheet lengths-in-use"),
    "a function's name": ("  never:", "  count:", "lengths.yaml:5:3", "`count` already means something"),
    "an unknown key": ("title:", "titel:", "lengths.yaml:2:1", "unknown key `titel`"),
    "a formula that cannot be read": ("is: x + x", "is: x +", "lengths.yaml:14:11", "nothing follows `+`"),
    "a formula of itself": ("is: x + x", "is: doubled(x)", "lengths.yaml:14:9", "a formula cannot use itself: `doubled`"),
    "a name that nothing has": ("is: x + x", "is: x + unknown", "lengths.yaml:14:13", "nothing here is called `unknown`"),
    "a parameter called as a function": ("of: [x]\n    is: x + x", "of: count\n    is: count + count", "lengths.yaml:13:9", "`count` cannot be a parameter of `doubled`"),
    "a parameter twice": ("of: [w]", "of: [w, w]", "lengths.yaml:16:13", "another parameter is called so already"),
    "too few values for a formula": ("doubled(w.length)", "doubled()", "lengths.yaml:17:9", "`doubled` is written doubled(x)"),
}  # fmt: skip


@pytest.mark.parametrize("case", list(WRONG_SHEETS))
def test_wrong_sheets(case: str, folder: Path):
    there, instead, place, first = WRONG_SHEETS[case]
    assert SHEET.count(there) == 1
    sheet = folder / "shared" / "lengths.yaml"
    sheet.write_text(SHEET.replace(there, instead), encoding="utf-8")
    told = said(folder)
    assert place in told
    assert first in told


def test_fields_and_keys_mention_nothing(book, folder: Path):
    """A step of the sheet that fits no raceway is not borrowed because a field is called so."""
    sheet = folder / "shared" / "lengths.yaml"
    steps = "steps:\n  panel: {is: box.volume, note: n}\n  material: {is: box.volume, note: n}\n"
    sheet.write_text(SHEET.replace("steps:\n", steps), encoding="utf-8")
    path = folder / "topic" / "by-step.yaml"
    when = (
        "applies:\n  - all(c.panel == 'P' for p in raceway.pulls for c in p.circuits)\n"
        "  - count(ampacity.rows(material='copper')) > 0\nmeasure:"
    )
    path.write_text(path.read_text(encoding="utf-8").replace("measure:", when), encoding="utf-8")
    assert book().find("by-step").record.borrowed == {"bent_length", "spare"}


def test_two_empty_sheets_of_one_name(folder: Path):
    for name in ("one", "two"):
        text = "shared: nothing\ntitle: Nothing\n"
        (folder / "shared" / f"{name}.yaml").write_text(text, encoding="utf-8")
    assert "two.yaml:1:9 error: two sheets are called `nothing`" in said(folder)


def test_too_many_formulas(folder: Path):
    path = folder / "topic" / "by-step.yaml"
    many = "".join(f"  f{n}: {{of: [x], is: x + x}}\n" for n in range(101))
    text = path.read_text(encoding="utf-8").replace("measure:", "formulas:\n" + many + "measure:")
    path.write_text(text, encoding="utf-8")
    assert "by-step has too many formulas" in said(folder)


def test_two_sheets_of_one_name(folder: Path):
    (folder / "shared" / "more.yaml").write_text(SHEET, encoding="utf-8")
    assert "two sheets are called `lengths-in-use`" in said(folder)


WRONG_RULES = {
    "no such sheet": ("[lengths-in-use]", "[lengths-in-us]", "there is no shared sheet `lengths-in-us`"),
    "a value that the sheet has": ("longest: {is", "spare: {is", "`spare` of rule by-step stands in sheet lengths-in-use already"),
    "a formula that is not called": ("measure: bent_length", "measure: doubled", "`doubled` is a formula"),
    "a sheet twice": ("[lengths-in-use]", "[lengths-in-use, lengths-in-use]", "by-step.yaml:5:24 error: rule by-step uses sheet lengths-in-use twice"),
    "a formula called as a step of the sheet": ("measure:", "formulas: {bent_length: {of: [x], is: x + spare}}\nmeasure:", "by-step.yaml:8:12 error: a shared sheet that by-step uses has `bent_length` already"),
    "a formula called as a step": ("measure:", "steps: {thrice: {is: raceway.length}}\nformulas: {thrice: {of: [x], is: x + spare}}\nmeasure:", "by-step.yaml:8:9 error: `thrice` cannot be a name here: a formula of this rule is called so already"),
    "without the sheet": ("uses: [lengths-in-use]\n", "", "nothing here is called `bent_length`"),
}  # fmt: skip


@pytest.mark.parametrize("case", list(WRONG_RULES))
def test_wrong_rules(case: str, folder: Path):
    there, instead, first = WRONG_RULES[case]
    path = folder / "topic" / "by-step.yaml"
    text = path.read_text(encoding="utf-8")
    assert text.count(there) == 1
    path.write_text(text.replace(there, instead), encoding="utf-8")
    told = said(folder)
    assert first in told
    assert "by-step.yaml:" in told


def test_a_formula_of_the_rule_itself(book, folder: Path):
    path = folder / "topic" / "by-step.yaml"
    text = path.read_text(encoding="utf-8").replace("bent_length", "thrice(bent_length)")
    formula = "formulas:\n  thrice: {of: [n], is: doubled(n) + n}\nmeasure:"
    path.write_text(text.replace("measure:", formula), encoding="utf-8")
    assert message(book(), "by-step", "R1").startswith("432 in is more")


def test_formulas_without_a_sheet_are_kept(folder: Path, tmp_path: Path):
    where = os.fspath(tmp_path / "kept")
    path = folder / "topic" / "own.yaml"
    text = RULE.format(
        name="own", measure="twice(raceway.length)", limit="12 ft", longest="longest"
    )
    text = text.replace("uses: [lengths-in-use]\n", "").replace(" with {spare} to spare", "")
    formula = "formulas:\n  twice: {of: [n], is: n + n}\nmeasure:"
    path.write_text(text.replace("measure:", formula), encoding="utf-8")
    built = build("code-2", folder=os.fspath(folder))
    load_rulebook("code-2", folder=os.fspath(folder), kept=where)
    kept = load_rulebook("code-2", folder=os.fspath(folder), kept=where)
    assert kept.find("own").record.digest == built.find("own").record.digest
    assert message(kept, "own", "R1") == "240 in is more than 144 in"


def test_a_formula_that_is_never_used_is_told(folder: Path):
    path = folder / "topic" / "by-step.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("measure:", "formulas:\n  thrice: {of: [n], is: n + n}\nmeasure:"))
    assert "formula `thrice` of rule by-step is never used" in said(folder)


# -- the shipped sheets ------------------------------------------------------------------------

SHIPPED = Path(__file__).resolve().parents[2] / "rules"


def test_every_shipped_value_and_formula_is_borrowed_by_several_rules():
    """Or its sheet is the data of a single rule, which borrows all of it."""
    from checker.rulebook.folder import RulesFolder
    from checker.rulebook.shared import Sheets

    rules = load_rulebook("nec-2023").rules
    for sheet in Sheets(RulesFolder(os.fspath(SHIPPED)), "nec-2023", "NEC 2023").all().values():
        alone = sum(sheet.name in r.record.uses for r in rules) == 1
        for name in sheet.parts():
            users = [r.id for r in rules if r.record.uses and name in r.record.borrowed]
            assert len(users) > (0 if alone else 1), f"{name} of {sheet.name} is used by {users}"


def test_what_a_rule_borrows_is_the_same_from_a_kept_book_and_a_built_one():
    kept, built = load_rulebook("nec-2023"), build("nec-2023", [])
    for rule in built.rules:
        assert kept.find(rule.id).record.digest == rule.record.digest


def test_the_bench_tests_an_authors_rule_that_uses_a_sheet(tmp_path: Path):
    source = SHIPPED / "ampacity" / "circuit-load.yaml"
    for name in (source.name, source.name.replace(".yaml", ".examples.yaml")):
        shutil.copy(source.with_name(name), tmp_path / name)
    suite = Bench().run([os.fspath(tmp_path / source.name)])[0]
    assert suite.outcomes
    assert not suite.problems
    assert all(outcome.holds for _, outcome in suite.outcomes)


def test_a_sheet_is_shown_with_what_amendments_set(capsys: pytest.CaptureFixture[str]):
    county = os.fspath(SHIPPED / "amendments" / "kestrel-county-2027.yaml")
    status = guarded(
        ["rules", "show", "usable-ampacity", "--amend", county, "--as-of", "2027-05-01"]
    )
    said = " ".join(capsys.readouterr().out.split())
    assert status == 0
    assert "nipple_length 12 in ← kestrel-county-2027" in said
    assert "unadjusted 3 count ← NEC 2023, shared usable-ampacity, line" in said
    assert "used by conductor-ampacity, conductor-load" in said
    assert "corrected_in(w, column) = ampacity_in(w, column) *" in said


def test_sheets_are_listed_and_a_slip_finds_them(capsys: pytest.CaptureFixture[str]):
    assert guarded(["rules", "list"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert (
        "shared sheets: box-dimensions, box-volume, branch-circuits, branches, care-spaces, circuit-current,"
        in said
    )
    assert guarded(["rules", "show", "care-space"]) == 2
    assert "nearest: care-spaces" in " ".join(capsys.readouterr().err.split())


def test_two_amendments_of_one_sheet_are_told_once(book, folder):
    more = SET.replace("3 ft", "4 ft")
    changed = book(change(SET, folder, "one"), change(more, folder, "two"))
    assert [n for n in changed.notices if "already" in n and "changed by" in n] == [
        n for n in changed.notices if "sheet lengths-in-use.spare was changed by amendment one" in n
    ]
    assert kinds(changed, "by-step")["R1"] == "fail"
    assert changed.find("by-formula").record.values["spare"].part.value == "4 ft"


def test_a_sheets_value_given_back_to_a_rule_that_had_its_own(book, folder):
    own = "  - {rule: by-step, set: {spare: 3 ft}, reason: r, reference: s}\n"
    back = (
        "  - {shared: lengths-in-use, set: {spare: 2 ft}, supersedes: one, reason: r, "
        "reference: t}\n"
    )
    changed = book(change(own, folder, "one"), change(back, folder, "two"))
    assert kinds(changed, "by-step")["R1"] == "pass"
    assert not [n for n in changed.notices if "changes nothing" in n or "of no use" in n]
    assert changed.amendments[1].acted == ("changes by-step: spare as in sheet lengths-in-use",)


def test_a_rule_that_borrows_a_changed_value_later_cites_who_changed_it(book, folder):
    rule = RULE.format(name="own", measure="bent_length", limit="12.5 ft", longest="longest")
    inside = "".join(f"      {line}\n" for line in rule.splitlines())
    text = SET + f"  - add:\n{inside}    reason: r\n    reference: § 4\n"
    changed = book(change(text, folder))
    assert changed.find("own").citation == "CODE 31, as amended by Kestrel County § 3"
    assert changed.find("by-step").citation == "CODE 31, as amended by Kestrel County § 3"


def test_a_value_that_cannot_be_read_is_told_though_no_rule_mentions_it(folder):
    sheet = folder / "shared" / "lengths.yaml"
    sheet.write_text(SHEET.replace("5 ft", "5 fot"), encoding="utf-8")
    told = said(folder)
    assert "lengths.yaml:5:15 error: value `never` cannot be read" in told
    assert "nearest: 5 ft" in told


@pytest.mark.parametrize("where", ["sheet", "values", "cite", "own rule"])
def test_an_edition_that_there_is_not_is_told(where: str, folder: Path):
    sheet, rule = folder / "shared" / "lengths.yaml", folder / "topic" / "by-step.yaml"
    text = rule.read_text(encoding="utf-8")
    amendments: list[str] = []
    if where == "sheet":
        sheet.write_text(SHEET.replace("in: {code-1:", "in: {code-11:"), encoding="utf-8")
    elif where == "values":
        rule.write_text(text.replace("is: 12 ft,", "is: 12 ft, in: {code-11: 11 ft},"))
    elif where == "cite":
        rule.write_text(text.replace("cite: {any: CODE 31}", "cite: {any: C, code-11: CODE 31}"))
    else:
        own = text.replace("by-step", "own").replace("{any: CODE 31}", "{code-11: CODE 31}")
        inside = "".join(f"      {line}\n" for line in own.splitlines())
        amendments.append(change(f"  - add:\n{inside}    reason: r\n    reference: s\n", folder))
    told = said(folder, *amendments)
    assert "there is no edition `code-11`" in told
    assert "nearest: code-1" in told


def test_a_sheet_is_shown_as_it_is_where_one_rule_has_its_own(folder, book):
    own = "  - {rule: by-step, set: {spare: 3 ft}, reason: r, reference: s}\n"
    changed = book(change(own, folder))
    sheet = changed.sheets.all()["lengths-in-use"]
    (spare,) = (v for v in shared_view(sheet, changed).values if v.name == "spare")
    assert spare.value.text == "2 ft"
    later = book(change(SET, folder))
    sheet = later.sheets.all()["lengths-in-use"]
    (spare,) = (v for v in shared_view(sheet, later).values if v.name == "spare")
    assert (spare.value.text, spare.value.origin) == ("3 ft", "one")
