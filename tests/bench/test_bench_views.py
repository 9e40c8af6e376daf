"""``rules list``, ``show``, ``compare`` and ``document``; ``new`` and ``schema``."""

from __future__ import annotations

import json
import os
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from checker.assembly.records import SUBJECTS
from checker.bench.example_files import example_lines
from checker.cli.main import guarded
from checker.cli.new import identifier
from checker.documents.fields import fields_of, words_of
from checker.language.functions import FUNCTIONS
from checker.paths import rules_folder
from checker.reports.manual import manual, sections_of
from checker.reports.rule_view import CHECKED_ON, RuleView
from checker.rulebook.book import edition_ids, load_rulebook
from checker.rulebook.coverage import CoverageFile, Requirement, read_coverage
from checker.schemas import FILES

ROOT = Path(__file__).resolve().parents[2]
KESTREL = os.fspath(ROOT / "rules/amendments/kestrel-county.yaml")
WALL = os.fspath(ROOT / "samples/recovery-wall.yaml")


@pytest.fixture
def run(capsys):
    def give(*arguments: str) -> tuple[int, str, str]:
        status = guarded(list(arguments))
        said = capsys.readouterr()
        return status, said.out, " ".join(said.err.split())

    return give


# -- list and show --------------------------------------------------------------------------


def test_list(run):
    status, out, _ = run("rules", "list")
    assert status == 0
    for rule in load_rulebook("nec-2023").rules:
        assert f"  {rule.id} " in out
    assert "rules on National Electrical Code, 2023 edition" in out


def test_list_marks_what_amendments_touched(run):
    _, out, _ = run("rules", "list", "--amend", KESTREL, "--as-of", "2026-03-02")
    assert "bend-total *" in out
    assert "amendment kestrel-county, Kestrel County electrical amendments: in force" in out
    assert "withdrawn: joint-pulled-in-shop (by kestrel-county)" in out
    assert "* changes bend-total: permitted 360 deg → 270 deg" in out
    _, out, _ = run("rules", "list", "--amend", KESTREL, "--as-of", "2025-03-02")
    assert "bend-total *" not in out
    assert "not applied: it is in force from 2026-01-01" in out


def test_list_as_json(run):
    _, out, _ = run("rules", "list", "--format", "json", "--edition", "nec-2017")
    listed = json.loads(out)
    assert {rule["rule"] for rule in listed} == {r.id for r in load_rulebook("nec-2017").rules}
    assert all(rule["file"].startswith("rules/") for rule in listed)


def test_show_tells_the_origin_of_every_part(run):
    status, out, _ = run("rules", "show", "bend-total", "--amend", KESTREL, "--as-of", "2026-03-02")
    assert status == 0
    flat = " ".join(out.split())
    place = r"rules/amendments/kestrel-county\.yaml:\d+"
    assert re.search(rf"permitted 270 deg ← kestrel-county, {place}", flat)
    assert re.search(rf"three quarter bends ← kestrel-county, {place}", flat)
    assert re.search(
        rf"as amended by Kestrel County Code 17\.24\.010 ← kestrel-county, {place}", flat
    )
    assert re.search(
        r"bent \[deg\] = sum\(b\.total for b in run\.bends\) ← NEC 2023, line \d+", flat
    )
    assert "kestrel-county: permitted 360 deg → 270 deg; title (Code 17.24.010)" in flat
    assert "three quarter bends: pass, measure 270 deg, limit 270 deg" in flat
    rule = load_rulebook("nec-2023", [KESTREL], date="2026-03-02").find("bend-total")
    assert rule.record.digest in out
    # The named line of the amendment is where the new value stands.
    number = int(re.search(rf"270 deg ← kestrel-county, ({place})", flat)[1].rpartition(":")[2])
    line = Path(KESTREL).read_text(encoding="utf-8").split("\n")[number - 1]
    assert "permitted: 270 deg" in line


@pytest.mark.parametrize("edition", edition_ids())
def test_every_rule_can_be_shown(run, edition):
    for rule in load_rulebook(edition).rules:
        status, out, _ = run("rules", "show", rule.id, "--edition", edition)
        assert status == 0
        assert max(map(len, out.split("\n"))) < 200


def test_show_the_edition_s_own_value(run):
    new, old = (
        run("rules", "show", "box-fill", "--edition", e)[1] for e in ("nec-2023", "nec-2017")
    )
    assert "further_ground  0.25 ratio" in new
    assert "further_ground  0 ratio" in old


def test_show_conditions_in_their_order(run):
    _, out, _ = run("rules", "show", "box-fill", "--amend", KESTREL)
    flat = " ".join(out.split())
    assert "or else where box.kind == 'luminaire' and count(box.wires) > 0 ← kestrel-county" in flat
    _, out, _ = run("rules", "show", "support-from-box", "--amend", KESTREL)
    assert "except where not this.supported and this.span <= stub" in " ".join(out.split())


def test_what_there_is_not(run):
    status, _, err = run("rules", "show", "bend-totl")
    assert status == 2
    assert "nearest: bend-total" in err
    status, _, err = run("rules", "show", "joint-pulled-in-shop", "--amend", KESTREL)
    assert status == 2
    assert "amendment kestrel-county withdrew it" in err
    status, _, err = run("rules", "list", "--edition", "nec-2032")
    assert status == 2
    assert "nearest: nec-2023" in err
    status, _, err = run("rules", "list", "--amend", "nowhere.yaml")
    assert status == 2


# -- compare --------------------------------------------------------------------------------

SMALL = """\
assembly: S-1
basis: {permit_date: 2026-03-02, health_care: false, ambient: 30 degC}
defaults: {wire: {material: copper, insulation: THHN}, terminals: 75 degC}
panels: [{id: P, branch: normal, system: 208Y/120}]
circuits:
  - {id: P-1, panel: P, phases: [A], breaker: 20 A, load: 2520 VA, continuous_load: 0 VA,
     outlets: several, nonlinear: false}
boxes:
  - {id: A, kind: junction, trade_size: 4 x 2-1/8 square}
  - {id: B, kind: junction, trade_size: 4 x 2-1/8 square}
raceways:
  - {id: R1, method: EMT, size: 3/4, from: A, to: B, length: 10 ft,
     bends: [{kind: bend, angle: 300 deg}]}
cables:
  - {id: K1, method: AC, from: A, to: B, length: 4 ft}
pulls:
  - id: W1
    circuit: P-1
    through: [R1]
    wires:
      - {role: phase, phase: A, size: 12 AWG}
      - {role: neutral, size: 12 AWG}
      - {role: ground, size: 12 AWG}
"""


@pytest.fixture
def small(tmp_path):
    path = tmp_path / "small.yaml"
    path.write_text(SMALL, encoding="utf-8")
    return os.fspath(path)


def test_compare_says_what_changes_and_why(run, small):
    status, out, _ = run("rules", "compare", KESTREL, small)
    flat = " ".join(out.split())
    assert status == 0
    assert "adds the rule kestrel-no-armored-cable" in out
    assert "withdraws the rule joint-pulled-in-shop" in out
    assert "because kestrel-county: permitted 360 deg → 270 deg" in flat
    assert "limit: 360° → 270°" in flat
    assert "run R1: pass → fail" in flat
    assert "circuit P-1: fail → review" in flat
    assert "cable K1: not judged → fail" in flat
    assert "citation: NEC 2023 210.20(A) → NEC 2023 210.20(A), as amended by" in flat
    assert re.search(r"findings change their kind, \d+ their measure or limit", flat)


def test_compare_before_it_is_in_force(run, small):
    Path(small).write_text(SMALL.replace("2026-03-02", "2025-03-02"), encoding="utf-8")
    status, out, _ = run("rules", "compare", KESTREL, small)
    assert status == 0
    assert "0 findings change their kind, 0 their measure or limit, 0 only words" in out
    flat = " ".join(out.split())
    assert "note: amendment kestrel-county was not applied: it is in force from 2026-01-01" in flat


def test_compare_takes_it_away_where_the_design_names_it(run, small):
    here = os.path.relpath(KESTREL, os.path.dirname(small))
    named = SMALL.replace("basis: {", f"basis: {{amendments: [{here}], ")
    Path(small).write_text(named, encoding="utf-8")
    _, out, _ = run("rules", "compare", KESTREL, small)
    assert "run R1: pass → fail" in " ".join(out.split())


def test_compare_a_further_amendment(run, small):
    later = os.path.join(os.path.dirname(KESTREL), "kestrel-county-2027.yaml")
    Path(small).write_text(SMALL.replace("2026-03-02", "2027-03-02"), encoding="utf-8")
    _, out, _ = run("rules", "compare", later, small, "--amend", KESTREL)
    flat = " ".join(out.split())
    assert "run R1: fail → pass" in flat
    assert "circuit P-1: review → fail" in flat
    assert "because kestrel-county-2027: permitted 270 deg → 315 deg" in flat


def test_compare_shows_all_when_asked(run):
    short, long = (
        run("rules", "compare", KESTREL, WALL, *more)[1] for more in ((), ("--show", "all"))
    )
    assert "--show all lists them" in short
    assert "--show all lists them" not in long
    assert len(long) > len(short)


def test_compare_with_wrong_files(run, small):
    assert run("rules", "compare", "nowhere.yaml", small)[0] == 2
    assert run("rules", "compare", KESTREL, "nowhere.yaml")[0] == 2
    assert run("rules", "compare", small, small)[0] == 2


# -- document -------------------------------------------------------------------------------


class _Page(HTMLParser):
    """Checks that tags are closed in order, and collects anchors and links."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: set[str] = set()
        self.links: set[str] = set()

    def handle_starttag(self, tag, attrs):
        values = dict(attrs)
        if "id" in values:
            assert values["id"] not in self.ids
            self.ids.add(values["id"])
        if tag == "a":
            self.links.add(values["href"].removeprefix("#"))
        if tag not in ("meta",):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_manual_holds_every_rule_value_and_example():
    book = load_rulebook("nec-2023", [KESTREL], date="2026-03-02")
    text = manual(book, "markdown")
    for rule in book.rules:
        assert f"### {rule.id}: " in text.replace("\\", "")
        for name, value in rule.record.values.items():
            assert f"| `{name}` |" in text
            assert value.part.origin in text
        for line in example_lines(rule, book):
            assert " ".join(line.split())[:40] in text.replace("\\", "")
    assert "permitted 360 deg → 270 deg" in text
    assert "never says" not in text
    for word in ("compliant", "approved"):
        assert not re.search(rf"\b{word}\b", manual(load_rulebook("nec-2023"), "markdown"))


def test_manual_as_html(run, tmp_path):
    path = tmp_path / "manual.html"
    status, out, _ = run(
        "rules", "document", "--format", "html", "--output", os.fspath(path), "--amend", KESTREL
    )
    assert (status, out) == (0, "")
    page = _Page()
    page.feed(path.read_text(encoding="utf-8"))
    assert page.open == []
    assert page.links <= page.ids
    assert "rule-bend-total" in page.ids


def test_html_escapes_what_amendments_say(run, tmp_path):
    path = tmp_path / "odd.yaml"
    path.write_text(
        "amendment: odd\ntitle: '<script>alert(1)</script>'\njurisdiction: '<b>'\n"
        "effective: 2026-01-01\nreference: '|x|`y`'\nchanges:\n"
        "  - {rule: bend-total, set: {permitted: 270 deg}, reason: '<img src=x>',\n"
        "     reference: '&'}\n"
        "  - add: {rule: 'x\"><script>', title: '<i>', topic: '<u>', each: run,\n"
        "      judge: {measure: run.angle, limit: run.angle, fail: '<s>`'}}\n"
        "    reason: r\n    reference: s\n",
        encoding="utf-8",
    )
    _, html, _ = run("rules", "document", "--format", "html", "--amend", os.fspath(path))
    assert "<script>" not in html
    for tag in ("<img", "<i>", "<u>", "<s>"):
        assert tag not in html
    page = _Page()
    page.feed(html)
    assert page.open == []
    _, text, _ = run("rules", "document", "--amend", os.fspath(path))
    outside = re.sub(r"(?<!`)(`+)(?!`)(.+?)(?<!`)\1(?!`)", "", text)  # code spans show as they are
    for tag in ("<img", "<script", "<i>", "<u>", "<s>"):
        assert tag not in outside.replace("\\<", "")


def test_the_same_bytes_again(run):
    assert run("rules", "document")[1] == run("rules", "document")[1]


def test_coverage_names_every_rule_and_only_rules():
    listed = {name for item in read_coverage() for name in item.rules}
    shipped = {rule.id for edition in edition_ids() for rule in load_rulebook(edition).rules}
    assert listed == shipped
    ids = [item.id for item in read_coverage()]
    assert len(ids) == len(set(ids))
    assert all(item.rules or item.note for item in read_coverage())


def test_coverage_fits_its_rules():
    """A requirement's sections are among those that its rules cite, by number of the article."""
    book = load_rulebook("nec-2023")
    for item in read_coverage():
        if not item.rules or not item.section[0].isdigit() or "CFR" in item.section:
            continue
        wanted = set(re.findall(r"\b\d{3}\.\d+", item.section))
        cited = {
            found
            for name in item.rules
            if name in {r.id for r in book.rules}
            for section in sections_of(RuleView(book.find(name)))
            for found in re.findall(r"\b\d{3}\.\d+", section)
        }
        assert wanted & cited, f"{item.id}: {sorted(wanted)} and {sorted(cited)}"


def test_coverage_records_are_described():
    for record in (Requirement, CoverageFile):
        assert words_of(record)
        assert all(field.doc.strip() for field in fields_of(record))


def test_language_reference_is_what_the_program_says(run):
    """Where this fails: ``pullpoint rules document --language --output rules/LANGUAGE.md``."""
    status, out, _ = run("rules", "document", "--language")
    assert status == 0
    assert Path(rules_folder(), "LANGUAGE.md").read_text(encoding="utf-8") == out
    for name in FUNCTIONS:
        assert f"| `{name}` |" in out


# -- new and schema -------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["my-file.yaml", "Wand 7 (Entwurf).yaml", "no.yaml", "12.yaml"])
def test_new_files_pass_their_own_check(run, tmp_path, name):
    for kind in ("assembly", "amendment", "rule"):
        path = os.fspath(tmp_path / f"{kind} {name}")
        status, out, _ = run("new", kind, path)
        assert status == 0
        assert out == f"wrote {path}; next: {_next(kind)} {path}\n"
    wall = os.fspath(tmp_path / f"assembly {name}")
    status, out, err = run("check", wall)
    assert (status, err) == (0, "")
    assert "0 failing, 0 open" in out
    assert "REVIEW" not in out
    for kind in ("amendment", "rule"):
        status, out, err = run("rules", "test", os.fspath(tmp_path / f"{kind} {name}"))
        assert (status, err) == (0, "")
        assert "all pass" in out


def _next(kind: str) -> str:
    return "pullpoint check" if kind == "assembly" else "pullpoint rules test"


def test_new_files_name_a_schema_that_is_there(run, tmp_path):
    (tmp_path / "deep" / "er").mkdir(parents=True)
    for kind in ("assembly", "amendment", "rule"):
        path = tmp_path / "deep" / "er" / f"{kind}.yaml"
        run("new", kind, os.fspath(path))
        first = path.read_text(encoding="utf-8").split("\n")[0]
        named = first.removeprefix("# yaml-language-server: $schema=")
        schema = json.loads((path.parent / named).read_text(encoding="utf-8"))
        assert schema["$id"] == f"urn:pullpoint:schema:{kind}"


def test_new_overwrites_nothing(run, tmp_path):
    path = tmp_path / "mine.yaml"
    path.write_text("mine", encoding="utf-8")
    status, _, err = run("new", "rule", os.fspath(path))
    assert status == 2
    assert "there is a file of this name already" in err
    assert path.read_text(encoding="utf-8") == "mine"
    link = tmp_path / "link.yaml"
    link.symlink_to(tmp_path / "nowhere.yaml")
    assert run("new", "rule", os.fspath(link))[0] == 2
    assert not (tmp_path / "nowhere.yaml").exists()
    status, _, err = run("new", "rule", os.fspath(tmp_path / "none" / "x.yaml"))
    assert status == 2
    assert "does not exist" in err
    assert run("new", "rule", os.fspath(tmp_path))[0] == 2


@pytest.mark.parametrize(
    ("path", "name"),
    [
        ("walls/RB-3.yaml", "RB-3"),
        ("Wand + 7.yaml", "Wand-7"),
        ("x: {y}.yaml", "x-y"),
        ("+.yaml", "rule"),
        ("county.examples.yaml", "county"),
    ],
)
def test_ids_from_file_names(path, name):
    assert identifier(path, "rule") == name


def test_schema(run):
    for name in FILES:
        status, out, _ = run("schema", name)
        assert status == 0
        assert json.loads(out)["$schema"].endswith("2020-12/schema")
    status, _, err = run("schema", "asembly")
    assert status == 2
    assert "nearest: assembly" in err


def test_every_class_that_rules_are_checked_on_has_words() -> None:
    assert set(CHECKED_ON) == set(SUBJECTS)
