"""Published local amendments, each said in the amendment language and run on designs.

Each file of ``amendments/`` is one row of the list in amendment_rows.py and names its publication.
Each is tried on two designs (amendment_sides/): one on which it changes what is found, in exactly
the findings that are named and in no other, and one just on this side of its condition, on which
it changes nothing.  What is right is what the publication says, not what the program gives.
"""

from __future__ import annotations

import argparse
import contextlib
import copy
import io
import json
import os
import shutil
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

pytest.register_assert_rewrite("amendment_rows")

from amendment_rows import NOT_REACHED, PARTLY, REACHED  # noqa: E402

from checker.assembly import read_assembly  # noqa: E402
from checker.bench.examples import run_example  # noqa: E402
from checker.cli.loading import Loader  # noqa: E402
from checker.cli.main import guarded  # noqa: E402
from checker.documents.errors import InputError  # noqa: E402
from checker.documents.loader import load  # noqa: E402
from checker.documents.plain import plain  # noqa: E402
from checker.documents.source import Source, read_source  # noqa: E402
from checker.findings.detail import Explainer  # noqa: E402
from checker.findings.finding import Finding, Report, excused  # noqa: E402
from checker.findings.traced import trace  # noqa: E402
from checker.reports.json_form import report_object  # noqa: E402
from checker.reports.rule_form import show_text  # noqa: E402
from checker.reports.rule_view import RuleView  # noqa: E402
from checker.reports.style import Style  # noqa: E402
from checker.rulebook.book import load_rulebook  # noqa: E402
from checker.rulebook.records import AmendmentFile  # noqa: E402
from checker.rulebook.stacking import read_amendments  # noqa: E402
from checker.schemas import schema_path  # noqa: E402

HERE = Path(__file__).parent
FOLDER = HERE / "amendments"
SIDES = HERE / "amendment_sides"
FILES = sorted(path.stem for path in FOLDER.glob("*.yaml"))
CASES: dict[str, Any] = yaml.safe_load((SIDES / "cases.yaml").read_text("utf-8"))
WALL: dict[str, Any] = yaml.safe_load((SIDES / "wall.yaml").read_text("utf-8"))
#: What a finding says where nobody has to do anything.
QUIET = ("absent", "pass", "notApplicable")
#: The only file of words alone, tried by a test of its own.
WORDS = "new-jersey-official"

Key = tuple[str, str]


@cache
def validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(json.loads(Path(schema_path(name)).read_text("utf-8")))


def file_of(name: str) -> str:
    return os.fspath(FOLDER / f"{name}.yaml")


# -- designs ---------------------------------------------------------------------------------


def _holder(root: Any, way: list[str]) -> Any:
    for name in way:
        if isinstance(root, list):
            root = root[int(name)] if name.isdigit() else next(i for i in root if i["id"] == name)
        else:
            root = root[name]
    return root


def design(side: dict[str, Any], folder: Path) -> Path:
    """The wall with a side's changes, written to a file."""
    root = copy.deepcopy(WALL)
    for path, value in side.get("set", {}).items():
        *way, last = path.split(".")
        holder = _holder(root, way)
        if last == "+":
            holder.append(value)
        elif isinstance(holder, list):
            holder[holder.index(_holder(holder, [last]))] = value
        else:
            holder[last] = value
    for path in side.get("remove", []):
        *way, last = path.split(".")
        holder = _holder(root, way)
        del holder[int(last) if isinstance(holder, list) else last]
    path = folder / "design.yaml"
    path.write_text(yaml.safe_dump(root, sort_keys=False, allow_unicode=True), "utf-8")
    return path


@cache
def _loader(amend: tuple[str, ...]) -> Loader:
    options = argparse.Namespace(edition=None, amend=list(amend), decisions=None, as_of=None)
    return Loader(options)


def judged(path: Path, *amend: str) -> tuple[Report, dict[Key, Finding]]:
    """A design under amendments, as `check` judges it; fast and traced have to agree."""
    report = _loader(tuple(file_of(name) for name in amend)).load(os.fspath(path))
    for finding in report.findings:
        vocabulary = report.book.vocabulary
        again = excused(
            trace(finding.rule, finding.form, finding.subject, report.assembly, vocabulary),
            report.assembly,
        )
        assert (again.kind, again.measure, again.limit) == (
            finding.kind,
            finding.measure,
            finding.limit,
        )
    return report, {(f.rule.id, f.subject_id): f for f in report.findings}


def kind(found: dict[Key, Finding], key: Key) -> str:
    return found[key].kind if key in found else "absent"


def changed(before: dict[Key, Finding], after: dict[Key, Finding]) -> dict[str, list[str]]:
    """Findings of which somebody would notice that they changed, as (without, with)."""
    changes = {}
    for key in sorted({*before, *after}):
        pair = [kind(before, key), kind(after, key)]
        same = pair[0] == pair[1]
        if same and "absent" not in pair and pair[0] not in QUIET:
            old, new = before[key], after[key]
            same = (old.measure, old.limit) == (new.measure, new.limit)
        if not same and not all(one in QUIET for one in pair):
            changes[" ".join(key)] = pair
    return changes


def _key(words: str) -> Key:
    rule, _, element = words.partition(" ")
    return rule, element


def origins(finding: Finding) -> set[str]:
    """The amendments that the finding's rule names as where its parts come from."""
    draft = finding.rule.record
    named = {entry.partition(":")[0] for entry in draft.history}
    return named | {part.origin for _, part in draft.parts()}


TRIED = [name for name in FILES if name != WORDS]


@pytest.mark.parametrize("name", TRIED)
def test_where_it_changes_what_is_found(name: str, tmp_path: Path) -> None:
    case = CASES[name]["far"]
    path = design(case, tmp_path)
    _, before = judged(path)
    report, after = judged(path, name)
    assert [(a.id, a.in_force) for a in report.book.amendments] == [(name, True)]
    assert changed(before, after) == case["changes"]
    assert any(x != y for x, y in case["changes"].values())
    assert len(report.book.amendments[0].acted) == len(report.book.amendments[0].file.changes)
    # Nobody takes it for settled law.
    assert f"amendment {name} is a draft: compare it with the current ordinance" in report.notices
    amendment = report.book.amendments[0].file
    printed = {(f["rule"], f["subject"]["id"]): f for f in report_object(report)["findings"]}
    for words in case["changes"]:
        key = _key(words)
        if key not in after:  # withdrawn
            assert report.book.withdrawn[key[0]] == name
            continue
        assert name in origins(after[key])
        assert name not in (origins(before[key]) if key in before else set())
        local = {f"{amendment.jurisdiction} {c.reference}" for c in amendment.changes}
        assert any(one in printed[key]["citation"] for one in local), printed[key]["citation"]


@pytest.mark.parametrize("name", TRIED)
def test_just_on_this_side_it_changes_nothing(name: str, tmp_path: Path) -> None:
    case = CASES[name]["near"]
    path = design(case, tmp_path)
    _, before = judged(path)
    _, after = judged(path, name)
    assert changed(before, after) == {}
    assert {words: kind(after, _key(words)) for words in case["under"]} == case["under"]
    # What its rule says there is what the edition's says, or nothing that anybody has to act on.
    for words in case["under"]:
        key = _key(words)
        assert kind(after, key) in {*QUIET, kind(before, key)}


@pytest.mark.parametrize("name", TRIED)
def test_the_designs_are_whole(name: str, tmp_path: Path) -> None:
    """Both designs fit their schema, and nothing in them is open."""
    for side in ("far", "near"):
        path = design(CASES[name][side], tmp_path)
        source = read_source(path)
        assert list(validator("assembly").iter_errors(plain(load(source).root))) == []
        _, found = judged(path, name)
        assert [key for key, f in found.items() if f.kind == "open"] == []


# -- the files -------------------------------------------------------------------------------


@cache
def file_and_source(name: str) -> tuple[AmendmentFile, Source]:
    (read,) = read_amendments([file_of(name)])
    return read


def edition_of(name: str) -> str:
    """The edition that a file is tried on: its own where it amends one alone."""
    editions = file_and_source(name)[0].editions
    return editions[0] if editions else "nec-2020"


@pytest.fixture(scope="module")
def tested() -> str:
    """What the rule author's bench says of every file, under the edition that it is tried on."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        for edition in ("nec-2017", "nec-2020"):
            files = [file_of(name) for name in FILES if edition_of(name) == edition]
            assert guarded(["rules", "test", "--edition", edition, *files]) == 0
    return out.getvalue()


@pytest.mark.parametrize("name", FILES)
def test_its_own_examples_hold(name: str, tested: str) -> None:
    line, note, *_ = tested[tested.index(f"passes  amendment {name}: ") :].splitlines()
    runs = len(file_and_source(name)[0].examples)
    assert line.startswith(f"passes  amendment {name}: {runs} run")
    assert (runs >= 2) is (name != WORDS)
    # Nothing of it is idle or in conflict: one thing only is to be known of it.
    notes = [text.strip() for text in tested.splitlines() if name in text and "note: " in text]
    assert notes == [note.strip()]
    assert notes == [f"note: amendment {name} is a draft: compare it with the current ordinance"]


@pytest.mark.parametrize(
    "name", ["mattoon-wire-ground", "new-jersey-short-raceways", "washington-signal-wiring"]
)
def test_under_every_edition(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Files that change the edition's own rules, which differ by edition."""
    assert guarded(["rules", "test", file_of(name)]) == 0
    assert "(nec-2017, nec-2020, nec-2023)" in capsys.readouterr().out


@pytest.mark.parametrize("name", TRIED)
def test_its_examples_fail_without_it(name: str) -> None:
    """The examples notice the change: on the edition alone one of them at least does not hold."""
    file, source = file_and_source(name)
    book = load_rulebook(edition_of(name))
    rules = {rule.id: rule for rule in book.rules}
    assert not all(
        e.rule in rules and run_example(book, rules[e.rule], e, file.sample, source).holds
        for e in file.examples
    )


@pytest.mark.parametrize("name", FILES)
def test_it_fits_its_schema(name: str) -> None:
    source = read_source(FOLDER / f"{name}.yaml")
    assert list(validator("amendment").iter_errors(plain(load(source).root))) == []


@pytest.mark.parametrize("name", FILES)
def test_it_names_its_publication(name: str) -> None:
    file, source = file_and_source(name)
    assert file.status == "draft"
    read, when = file.sources
    assert read.startswith("read ")
    assert read.endswith("not compared with the law of today")
    assert when.startswith("in force: ")
    day = date.fromisoformat(file.effective)
    assert (day.month, day.day) == (1, 1) or f"{day.day} {day:%B %Y}" in when
    assert "gives no year" in when or str(day.year) in when
    assert all(c.reason and c.reference for c in file.changes)
    text = source.text
    assert f"Row {row_of(name)}" in text
    assert "not for use" in " ".join(text.replace("#", " ").split())


@pytest.mark.parametrize("name", TRIED)
def test_the_rule_sheet_says_whose_it_is(name: str, tmp_path: Path) -> None:
    """What `rules show` prints: each changed part behind its arrow, and what was done and why."""
    report, _ = judged(design(CASES[name]["far"], tmp_path), name)
    book = report.book
    shown = {_key(words)[0] for words in CASES[name]["far"]["changes"]} - set(book.withdrawn)
    assert shown
    for rule in sorted(shown):
        text = show_text(RuleView(book.find(rule)), [], book.notices, Style())
        out = " ".join(text.split())
        assert f"← {name}" in out
        assert book.amendments[0].file.jurisdiction in out
        assert f"{name}: " in out.partition("what amendments did")[2]


def test_rules_show_of_the_command_line(capsys: pytest.CaptureFixture[str]) -> None:
    name = "new-jersey-short-raceways"
    assert guarded(["rules", "show", "support-from-box", "--amend", file_of(name)]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "as amended by New Jersey state notice, 358.30(C) and its like" in out
    assert f"short_piece 3 ft ← {name}, " in out


def test_the_manual_names_the_publication(capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["rules", "document", "--amend", file_of("san-marcos-wire-ground")]
    assert guarded(arguments) == 0
    assert (
        "read in a Laserfiche copy; not compared with the law of today" in capsys.readouterr().out
    )


def test_check_of_the_command_line_says_both(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The same by the command that people use: exit status 1 with the ordinance, 0 without."""
    name = "san-marcos-branch-wire"
    path = os.fspath(design(CASES[name]["far"], tmp_path))
    assert guarded(["check", path, "--format", "json"]) == 0
    assert name not in capsys.readouterr().out
    assert guarded(["check", path, "--format", "json", "--amend", file_of(name)]) == 1
    report = json.loads(capsys.readouterr().out)
    (failing,) = [f for f in report["findings"] if f["kind"] == "fail"]
    assert failing["citation"] == "San Marcos TX City Code 14.292(1)"
    assert (failing["measure"]["value"], failing["limit"]["value"]) == ("14 AWG", "12 AWG")
    assert guarded(["check", path, "--amend", file_of(name)]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "amended by san-marcos-branch-wire" in out
    assert "[San Marcos TX City Code 14.292(1)]" in out


# -- the list --------------------------------------------------------------------------------


def row_of(name: str) -> int:
    return next(row for row, file in REACHED.items() if file == name)


def test_every_row_is_said_or_says_why_not() -> None:
    assert sorted([*REACHED, *NOT_REACHED]) == list(range(1, 45))
    assert set(PARTLY) <= set(REACHED)
    assert all(len(why) > 30 for _, why in NOT_REACHED.values())


def test_every_file_is_a_row() -> None:
    assert sorted(REACHED.values()) == FILES
    assert len(FILES) == 28
    assert set(CASES) == set(TRIED)
    assert all(CASES[name]["row"] == row_of(name) for name in TRIED)


def test_rows_without_a_rule_to_change_have_none() -> None:
    """Rows that would withdraw or loosen a rule are out of reach as long as there is no such rule.

    Who adds one finds here which ordinance is waiting for it.
    """
    waiting = {29: "230.67", 40: "406.4"}
    for edition in ("nec-2017", "nec-2020", "nec-2023"):
        for rule in load_rulebook(edition).rules:
            for row, section in waiting.items():
                assert section not in rule.citation, f"row {row}: {rule.id}"


def test_nonmetallic_sheathed_cable_cannot_be_drawn(tmp_path: Path) -> None:
    """Rows 10 and 38: what cannot be in a design needs no ban, and the ban cannot be written."""
    cables = [{"id": "K1", "method": "NM", "from": "J1", "to": "J2"}]
    path = design({"set": {"cables": cables}}, tmp_path)
    with pytest.raises(InputError, match="NM"):
        read_assembly(os.fspath(path))
    text = (FOLDER / "san-marcos-forbidden.yaml").read_text("utf-8")
    other = tmp_path / "ban.yaml"
    other.write_text(text.replace("methods: [AC, AC-HCF]", "methods: [NM]"), "utf-8")
    with pytest.raises(InputError, match="no raceway or cable has the method `NM`"):
        load_rulebook("nec-2023", [os.fspath(other)])


# -- words, dates, editions, several ---------------------------------------------------------


def test_words_are_put_for_others(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Row 36: the state names its official wherever the words stand; findings stay as they are."""
    path = design({}, tmp_path)
    _, before = judged(path)
    report, after = judged(path, WORDS)
    assert changed(before, after) == {}
    assert report.book.terms == {"authority having jurisdiction": "electrical subcode official"}
    for form in ("text", "markdown"):
        assert guarded(["check", os.fspath(path), "--format", form]) == 0
        plainly = capsys.readouterr().out
        assert guarded(["check", os.fspath(path), "--format", form, "--amend", file_of(WORDS)]) == 0
        amended = capsys.readouterr().out
        assert "authority having jurisdiction" in plainly
        assert "electrical subcode official" not in plainly
        assert "electrical subcode official" in amended
        assert "authority having jurisdiction" not in amended


@pytest.mark.parametrize(
    ("day", "least", "coordination"),
    [
        ("2003-12-31", False, False),
        ("2004-01-01", True, False),
        ("2011-06-30", True, False),
        ("2011-07-01", True, True),
        ("2011-12-31", True, True),
        ("2012-01-01", False, True),
    ],
)
def test_new_york_city_went_over_in_half_a_year(
    day: str, least: bool, coordination: bool, tmp_path: Path
) -> None:
    """Rows 23 and 24: from 1 July to 31 December 2011 both layers were in force."""
    names = ("new-york-city-least-wire", "new-york-city-coordination")
    edits = {
        "basis.permit_date": day,
        "pulls.W1.wires.0.size": "14 AWG",
        "panels.+": {"id": "C", "branch": "critical", "system": "208Y/120"},
    }
    report, found = judged(design({"set": edits}, tmp_path), *names)
    assert [a.in_force for a in report.book.amendments] == [least, coordination]
    assert kind(found, (names[0], "W1")) == ("fail" if least else "absent")
    assert kind(found, (names[1], "C")) == ("review" if coordination else "absent")
    told = [n for n in report.notices if "was not applied" in n]
    assert len(told) == 2 - least - coordination


def test_an_edition_that_it_does_not_amend(tmp_path: Path) -> None:
    """Row 28 amends a code made from NEC 2020; on NEC 2023 the ban stays and that is told."""
    name = "oregon-dental-pvc"
    case = copy.deepcopy(CASES[name]["far"])
    case["set"]["basis.edition"] = "nec-2023"
    report, found = judged(design(case, tmp_path), name)
    assert kind(found, ("redundant-ground-path", "R1")) == "fail"
    assert kind(found, (name, "R1")) == "absent"
    assert f"amendment {name} was not applied: it amends nec-2020, not nec-2023" in report.notices


def test_state_and_city(tmp_path: Path) -> None:
    """Rows 43 and 12: the state's health department and one of its cities on one wall."""
    names = ("illinois-receptacle-height", "lake-forest-copper")
    both = {"set": {**CASES[names[0]]["far"]["set"], **CASES[names[1]]["far"]["set"]}}
    path = design(both, tmp_path)
    _, before = judged(path)
    report, after = judged(path, *names)
    assert changed(before, after) == {
        "illinois-receptacle-height O1": ["absent", "review"],
        "lake-forest-copper W1": ["absent", "fail"],
    }
    # Each finding carries its authority, and neither touches the other.
    cited = {key[0]: f.rule.citation for key, f in after.items() if key[0] in names}
    assert cited[names[0]].startswith("Illinois Department of Public Health 77 Ill. Adm. Code")
    assert cited[names[1]].startswith("Lake Forest IL 150.296")
    assert not any("already" in notice for notice in report.notices)


def test_state_words_and_state_exception(tmp_path: Path) -> None:
    """Rows 36 and 39: one state's two layers; the words of the one reach what the other says."""
    path = design(CASES["new-jersey-short-raceways"]["far"], tmp_path)
    report, found = judged(path, WORDS, "new-jersey-short-raceways")
    assert kind(found, ("support-from-box", "R2")) == "notApplicable"
    explainer = Explainer(report.assembly, report.book.vocabulary, report.book.terms)
    message = explainer.detail(found["support-from-box", "R2"]).message
    assert "supported by the boxes at its ends" in message


def test_two_demands_that_clash_are_both_kept(tmp_path: Path) -> None:
    """Row 22: no colour meets the city's order and a project's other one; both are told."""
    name = "san-marcos-colors"
    scheme = {
        "system": "208Y/120",
        **{phase: [color] for phase, color in zip("ABC", ("black", "red", "blue"), strict=True)},
        "neutral": ["white"],
        "ground": ["green"],
    }
    for color, city, project in (("black", "fail", "pass"), ("red", "pass", "fail")):
        edits = {"colors": [scheme], "pulls.W1.wires.0.color": color}
        _, found = judged(design({"set": edits}, tmp_path), name)
        assert kind(found, (name, "W1")) == city
        assert kind(found, ("conductor-colors", "W1")) == project


LATER = """\
amendment: later
title: A later ordinance
jurisdiction: Kestrel County
effective: 2020-01-01
reference: Ordinance 7
builds_on: san-marcos-branch-wire.yaml
changes:
  - CHANGE
    reason: invented
    reference: section 1
"""


@pytest.mark.parametrize(
    ("change", "size", "without", "under"),
    [
        # tightened: what held before does not
        ("{rule: san-marcos-branch-wire, set: {least: 10 AWG},", "12 AWG", "pass", "fail"),
        # made a question
        ("{rule: san-marcos-branch-wire, fails_as: review,", "14 AWG", "fail", "review"),
        # an exception
        (
            "{rule: san-marcos-branch-wire, exception: {when: assembly.basis.health_care},",
            "14 AWG",
            "fail",
            "notApplicable",
        ),
        # withdrawn, and the earlier change taken back
        ("{rule: san-marcos-branch-wire, withdraw: true,", "14 AWG", "fail", "absent"),
        (
            "{amendment: san-marcos-branch-wire, rule: san-marcos-branch-wire, withdraw: true,",
            "14 AWG",
            "fail",
            "absent",
        ),
    ],
)
def test_a_later_ordinance_changes_an_earlier_one(
    change: str, size: str, without: str, under: str, tmp_path: Path
) -> None:
    """Row 19 with an invented ordinance on top of it."""
    name = "san-marcos-branch-wire"
    shutil.copy(file_of(name), tmp_path)
    later = tmp_path / "later.yaml"
    flow = change + " reason: invented, reference: section 1}\n"
    text = LATER.partition("  - CHANGE")[0] + "  - " + flow
    later.write_text(text, "utf-8")
    sizes = {f"pulls.W1.wires.{i}.size": size for i in (0, 1)}
    path = design({"set": sizes}, tmp_path)
    _, before = judged(path, name)
    assert kind(before, (name, "W1")) == without
    book = Loader(
        argparse.Namespace(edition=None, amend=[os.fspath(later)], decisions=None, as_of=None)
    ).load(os.fspath(path))
    assert [a.id for a in book.book.amendments] == [name, "later"]
    after = {(f.rule.id, f.subject_id): f for f in book.findings}
    assert kind(after, (name, "W1")) == under
    if under != "absent":
        assert {name, "later"} <= origins(after[name, "W1"])
        assert "San Marcos TX City Code 14.292(1)" in after[name, "W1"].rule.citation
        assert "Kestrel County section 1" in after[name, "W1"].rule.citation


def test_permission_is_a_record_and_holds_for_its_item_alone(tmp_path: Path) -> None:
    """Row 9: special permission is recorded for one cable; the other still waits for one."""
    name = "river-forest-armored-cable"
    case = copy.deepcopy(CASES[name]["far"])
    case["set"]["cables"].append(
        {"id": "R3", "method": "AC", "from": "J2", "to": "O1", "length": "4 ft",
         "supports": ["1 ft", "3 ft"], "reserved": True}
    )  # fmt: skip
    path = design(case, tmp_path)
    decisions = tmp_path / "decisions.yaml"
    decisions.write_text(
        "decisions_for: TR-A\ndecisions:\n"
        f"  - {{rule: {name}, element: R2, disposition: accepted, measure: '1',\n"
        "     authority: {name: Village of the trial, reference: SP-4}, person: the designer,\n"
        "     role: designer, date: 2026-03-01, reason: fished through a partition that stands}\n",
        "utf-8",
    )
    options = argparse.Namespace(
        edition=None, amend=[file_of(name)], decisions=os.fspath(decisions), as_of="2026-03-02"
    )
    report = Loader(options).load(os.fspath(path))
    by_id = {f.subject_id: f for f in report.findings if f.rule.id == name}
    assert {i: by_id[i].kind for i in ("R2", "R3")} == {"R2": "review", "R3": "review"}
    assert by_id["R2"].decision is not None
    assert by_id["R3"].decision is None


def test_a_zone_that_is_not_stated_lets_nothing_pass(tmp_path: Path) -> None:
    """Row 18: unknown is open; a word that the ordinance does not know counts as inside."""
    name = "durant-fire-zone"
    case = copy.deepcopy(CASES[name]["near"])
    case["set"]["basis.building"] = ["out of the fire zone"]
    _, found = judged(design(case, tmp_path), name)
    assert kind(found, (name, "R2")) == "fail"
    del case["set"]["basis.building"]
    case["remove"] = ["basis.building"]
    _, found = judged(design(case, tmp_path), name)
    assert kind(found, (name, "R2")) == "open"
    assert "basis.building" in " ".join(found[name, "R2"].gaps)
