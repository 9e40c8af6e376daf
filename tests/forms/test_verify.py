"""``pullpoint verify``: what has changed since a report was made, by name; status 0, 1 or 2."""

from __future__ import annotations

import copy
import io
import json
import os
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from reporting import DECISIONS, DESIGN, write_rules

from checker.cli.main import guarded
from checker.documents.errors import InputError
from checker.findings.finding import Report
from checker.verification import report_file
from checker.verification.recorded import recorded
from checker.verification.report_file import read_reports
from checker.verification.verify import verify

AMENDMENT = """\
amendment: county
title: Trial
jurisdiction: Kestrel County
effective: 2026-01-01
reference: Ordinance 1
changes:
  - {rule: turns, set: {permitted: 300 deg}, reason: trial, reference: 1}
"""

TABLE = """\
table: holes
title: Holes of trial
cite: {any: CODE 1 Table 1}
note: invented
keys: {size: {type: trade_size}}
columns: {hole: {unit: in, source: invented, checked: not checked}}
rows:
  - [1/2, 0.9]
  - [3/4, 1.1]
"""

HOLES = """\
rule: holes
title: A bend takes no more than the hole
topic: holes
each: raceway
values: {least: {is: 1 in, cite: "1", note: invented}}
measure: holes.hole(size=raceway.size)
limit: least
at_least: true
unit: in
fail: "too small"
cite: {any: CODE 1}
"""


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a small code in the shipped one's place, and a design; the current folder."""
    rules = write_rules(tmp_path)
    (tmp_path / "rules" / "holes.yaml").write_text(HOLES, encoding="utf-8")
    tables = tmp_path / "tables"
    tables.mkdir()
    (tables / "holes.yaml").write_text(TABLE, encoding="utf-8")
    for module in ("book", "build", "folder"):
        monkeypatch.setattr(f"checker.rulebook.{module}.rules_folder", lambda: rules)
    for module in ("book", "build"):
        monkeypatch.setattr(f"checker.rulebook.{module}.tables_folder", lambda: str(tables))
    monkeypatch.setenv("PULLPOINT_CACHE", "off")
    (tmp_path / "design.yaml").write_text(
        DESIGN + "basis: {edition: code-1, permit_date: 2026-03-02}\n", encoding="utf-8"
    )
    (tmp_path / "decisions.yaml").write_text(DECISIONS, encoding="utf-8")
    (tmp_path / "county.yaml").write_text(AMENDMENT, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def written(*options: str, path: str = "report.json") -> str:
    """A report as ``check`` writes it."""
    status = guarded(["check", "design.yaml", "--format", "json", "--output", path, *options])
    assert status in (0, 1)
    return path


def verified(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str]:
    """Exit status and what is said, on either stream, on one line."""
    status = guarded(["verify", *arguments])
    out, err = capsys.readouterr()
    assert (status == 2) == bool(err)
    return status, " ".join((out + err).split())


def edit(path: str, old: str, new: str) -> None:
    text = Path(path).read_text(encoding="utf-8")
    assert old in text
    Path(path).write_text(text.replace(old, new), encoding="utf-8")


FULL = ("--amend", "county.yaml", "--decisions", "decisions.yaml", "--as-of", "2026-05-01")


# -- what has changed -------------------------------------------------------------------------


def as_first_version(path: str, fixes: Callable[[list[str]], str] = "; or ".join) -> str:
    """A report as version 1 had it: one text ``mend`` in place of the list ``fixes``."""
    report = json.loads(Path(path).read_text(encoding="utf-8"))
    assert report["version"] == 2
    report["version"] = 1
    for found in report["findings"]:
        found["mend"] = fixes(found.pop("fixes"))
    Path(path).write_text(json.dumps(report), encoding="utf-8")
    return path


def test_a_report_of_the_first_version_is_read(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, said = verified(capsys, as_first_version(written(*FULL)))
    assert status == 0
    assert "findings judged again" in said


def test_an_edited_fix_in_a_report_of_the_first_version_shows(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, said = verified(capsys, as_first_version(written(), lambda fixes: "nothing"))
    assert status == 1
    assert "its mend is not the report's" in said


@pytest.mark.parametrize("options", [(), FULL])
def test_nothing_has_changed(
    place: Path, capsys: pytest.CaptureFixture[str], options: tuple[str, ...]
) -> None:
    status, said = verified(capsys, written(*options))
    assert status == 0
    assert "unchanged" in said
    assert "findings judged again" in said


def test_the_design(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(*FULL)
    edit("design.yaml", "375 deg", "376 deg")
    status, said = verified(capsys, path)
    assert status == 1
    assert "design design.yaml: the file has changed" in said
    os.remove("design.yaml")
    status, said = verified(capsys, path)
    assert status == 1
    assert "design design.yaml: there is no such file" in said


def test_rules_by_name(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written()
    edit("rules/turns.yaml", "360 deg", "350 deg")
    os.rename("rules/lengths.yaml", "rules/longer.yaml")
    edit("rules/longer.yaml", "rule: lengths", "rule: longer")
    status, said = verified(capsys, path)
    assert status == 1
    assert "rule turns: it has changed" in said
    assert "rule lengths: it is not there any more" in said
    assert "rule longer: it was added since" in said
    assert "rule notes" not in said
    assert "design" not in said.split("compared:")[0]


def test_a_comment_in_a_rule_changes_nothing(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written()
    edit("rules/turns.yaml", "rule: turns", "# a remark\nrule: turns")
    assert verified(capsys, path)[0] == 0


def test_tables_by_name(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written()
    edit("tables/holes.yaml", "1.1", "1.2")
    status, said = verified(capsys, path)
    assert status == 1
    assert "table holes: it has changed" in said
    edit("tables/holes.yaml", "1.2", "1.1")
    edit("tables/holes.yaml", "note: invented", "note: invented again")
    status, said = verified(capsys, path)
    assert status == 1
    assert "no number that these rules look up has" in said


def test_a_table_that_is_broken_now_is_told(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written()
    edit("tables/holes.yaml", "1.1", "wide")
    status, said = verified(capsys, path)
    assert status == 1
    assert "rules: they cannot be loaded:" in said
    assert "holes.yaml:9" in said


def test_amendments_by_file(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(*FULL)
    edit("county.yaml", "300 deg", "310 deg")
    status, said = verified(capsys, path)
    assert status == 1
    assert "amendment county (county.yaml): the file has changed" in said
    assert "rule turns: it has changed" in said
    os.remove("county.yaml")
    status, said = verified(capsys, path)
    assert status == 1
    assert "amendment county (county.yaml): there is no such file" in said
    assert "cannot be compared without every amendment" in said


def test_an_amendment_that_is_broken_now_is_told(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(*FULL)
    edit("county.yaml", "rule: turns", "rule: turning")
    status, said = verified(capsys, path)
    assert status == 1
    assert "rules: they cannot be loaded: county.yaml:7" in said


def test_decisions(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(*FULL)
    edit("decisions.yaml", "before the joint closed", "later")
    status, said = verified(capsys, path)
    assert status == 1
    assert "decisions decisions.yaml: the file has changed" in said


def test_an_edition_that_is_gone(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written()
    os.rename("rules/editions/code-1.yaml", "rules/editions/code-2.yaml")
    status, said = verified(capsys, path)
    assert status == 1
    assert "edition code-1: it is not shipped any more; there are code-2" in said


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda r: finding(r, "turns", "R1").update(kind="pass"), "turns on run R1: it is fail"),
        (
            lambda r: finding(r, "turns", "R1")["measure"].update(text="300°"),
            "its measure is 375°, the report has 300°",
        ),
        (
            lambda r: finding(r, "turns", "R1")["limit"].update(text="400°"),
            "its limit is 360°, the report has 400°",
        ),
        (
            lambda r: finding(r, "turns", "R1").update(decision={"applies": True}),
            "no decision counts; the report has it otherwise",
        ),
        (lambda r: r["findings"].pop(0), "the report does not have it"),
        (
            lambda r: r["findings"].append({**r["findings"][0], "rule": "more"}),
            "nothing is found there now",
        ),
        (lambda r: r["summary"].update(fail=0), "its numbers are not those of the findings"),
        (lambda r: r["assembly"].update(quantity=1), "are not the design's"),
        # Whatever a reader or a program takes from a finding, not only what decides its kind.
        (
            lambda r: finding(r, "turns", "R1")["measure"].update(value=300),
            "turns on run R1: its measure is not the report's",
        ),
        (lambda r: finding(r, "turns", "R1").update(relation="at least"), "its relation is not"),
        (
            lambda r: finding(r, "turns", "R1").update(ratio=0.9),
            "its ratio is 1.041667, the report has 0.9",
        ),
        (lambda r: finding(r, "turns", "R1").update(message="300°"), "its message is not"),
        (lambda r: finding(r, "turns", "R1").update(fixes=[]), "its fixes are not"),
        (lambda r: finding(r, "turns", "R1").update(citation="CODE 27"), "its citation is not"),
        (lambda r: finding(r, "turns", "R1")["location"].update(line=1), "its location is not"),
        (
            lambda r: finding(r, "turns", "R1")["steps"][0].update(text="300° = 300°"),
            "step bent of its calculation: the text is not the report's",
        ),
        (
            lambda r: finding(r, "turns", "R1")["steps"][0].update(value=300),
            "step bent of its calculation: the value is not the report's",
        ),
        (
            lambda r: finding(r, "turns", "R1")["steps"].clear(),
            "its calculation has 1 steps, the report has 0",
        ),
        (lambda r: r["assembly"].update(title="Other"), "title: the report does not have what"),
        (lambda r: r["units"].update(blocking=0), "units: the report does not have what"),
        (lambda r: r["basis"]["authority"].update(name="X"), "authority: the report does not"),
    ],
)
def test_an_edited_report_is_found_out(
    place: Path, capsys: pytest.CaptureFixture[str], change: Callable[[Any], Any], words: str
) -> None:
    report = json.loads(Path(written()).read_text(encoding="utf-8"))
    change(report)
    Path("report.json").write_text(json.dumps(report), encoding="utf-8")
    status, said = verified(capsys, "report.json")
    assert status == 1
    assert words in said


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (
            lambda r: r["basis"]["amendments"][0].update(jurisdiction="Elsewhere"),
            "amendments: the report does not have what its files give",
        ),
        (
            lambda r: r["decisions"][0].update(person="Somebody"),
            "decisions: the report does not have what its files give",
        ),
        (
            lambda r: next(f for f in r["findings"] if f["decision"])["decision"].update(
                reason="none"
            ),
            "its decision is not the report's",
        ),
    ],
)
def test_edited_amendments_and_decisions_are_found_out(
    place: Path, capsys: pytest.CaptureFixture[str], change: Callable[[Any], Any], words: str
) -> None:
    report = json.loads(Path(written(*FULL)).read_text(encoding="utf-8"))
    change(report)
    Path("report.json").write_text(json.dumps(report), encoding="utf-8")
    status, said = verified(capsys, "report.json")
    assert status == 1
    assert words in said


def test_what_an_earlier_version_did_not_write_is_no_change(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    report = json.loads(Path(written()).read_text(encoding="utf-8"))
    for found in report["findings"]:
        del found["relation"]
    Path("report.json").write_text(json.dumps(report), encoding="utf-8")
    assert verified(capsys, "report.json")[0] == 0


def finding(report: Any, rule: str, element: str) -> Any:
    return next(f for f in report["findings"] if (f["rule"], f["subject"]["id"]) == (rule, element))


# -- where files are --------------------------------------------------------------------------


def test_files_are_found_from_the_reports_folder(
    place: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = os.path.abspath(written(*FULL))
    (place / "elsewhere").mkdir()
    monkeypatch.chdir(place / "elsewhere")
    assert verified(capsys, path)[0] == 0
    # The current folder comes first: what lies there is what somebody works on.
    (place / "elsewhere" / "design.yaml").write_text("assembly: other\n", encoding="utf-8")
    assert verified(capsys, path)[0] == 1


def test_another_place_for_the_design(
    place: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    path = os.path.abspath(written(*FULL))
    (place / "moved").mkdir()
    for name in ("design.yaml", "county.yaml", "decisions.yaml"):
        os.rename(place / name, place / "moved" / name)
    monkeypatch.chdir(place / "rules")
    assert verified(capsys, path)[0] == 1
    moved = os.path.join("..", "moved", "design.yaml")
    # What lies beside the design given counts, not what has come to lie in the old place since.
    (place / "county.yaml").write_text("amendment: other\n", encoding="utf-8")
    assert verified(capsys, path, "--design", moved)[0] == 0
    edit(moved, "375 deg", "376 deg")
    status, said = verified(capsys, path, "--design", moved)
    assert status == 1
    assert f"design {moved}: it is not the report's" in said
    assert verified(capsys, path, "--design", "nowhere.yaml")[0] == 2


def test_several_reports_in_one_file(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (place / "second.yaml").write_text(Path("design.yaml").read_text(encoding="utf-8"))
    guarded(["check", "design.yaml", "second.yaml", "--format", "json", "--output", "both.json"])
    status, said = verified(capsys, "both.json")
    assert (status, said.count("unchanged")) == (0, 2)
    edit("second.yaml", "375 deg", "376 deg")
    status, said = verified(capsys, "both.json")
    assert (status, said.count("unchanged"), said.count("changed since")) == (1, 1, 1)
    assert verified(capsys, "both.json", "--design", "design.yaml")[0] == 2


# -- reports inside HTML and PDF --------------------------------------------------------------


def html_of(text: str, tag: str = '<script type="application/json" id="pullpoint-report">') -> str:
    inside = text.replace("<", "\\u003c")
    return f"<!doctype html>\n<html><body><p>x</p>{tag}{inside}</script></body></html>\n"


@pytest.mark.parametrize(
    "tag",
    [
        '<script type="application/json" id="pullpoint-report">',
        "<script id='pullpoint-report' type='application/json'>",
        "<SCRIPT ID=pullpoint-report TYPE=application/json>",
    ],
)
def test_html(place: Path, capsys: pytest.CaptureFixture[str], tag: str) -> None:
    text = Path(written()).read_text(encoding="utf-8")
    Path("report.html").write_text(html_of(text, tag), encoding="utf-8")
    assert verified(capsys, "report.html")[0] == 0
    edit("design.yaml", "375 deg", "376 deg")
    assert verified(capsys, "report.html")[0] == 1


def pdf_by_typst(data: bytes, folder: Path) -> bytes:
    """A PDF with the data attached as the submittal report attaches it."""
    import typst

    (folder / "main.typ").write_text(
        '#pdf.attach("report.json", read("data.bin", encoding: none), relationship: "data", '
        'mime-type: "application/json", description: "x")\nText.\n',
        encoding="utf-8",
    )
    (folder / "data.bin").write_bytes(data)
    made: bytes = typst.compile(os.fspath(folder / "main.typ"))
    return made


def pdf_by_pypdf(data: bytes, compressed: bool) -> bytes:
    import pypdf

    writer = pypdf.PdfWriter()
    writer.add_blank_page(100, 100)
    writer.add_attachment("report.json", data)
    if compressed:
        for held in writer._objects:
            if isinstance(held, pypdf.generic.StreamObject):
                packed = held.flate_encode()
                writer._replace_object(held.indirect_reference, packed)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize("by", ["typst", "pypdf", "pypdf deflated"])
def test_pdf(
    place: Path,
    capsys: pytest.CaptureFixture[str],
    tmp_path_factory: pytest.TempPathFactory,
    by: str,
) -> None:
    """What is taken out is what pypdf, a reader of its own, takes out."""
    import pypdf

    data = Path(written()).read_bytes()
    if by == "typst":
        made = pdf_by_typst(data, tmp_path_factory.mktemp("typst"))
    else:
        made = pdf_by_pypdf(data, by.endswith("deflated"))
    Path("report.pdf").write_bytes(made)
    attached = pypdf.PdfReader(io.BytesIO(made)).attachments["report.json"]
    assert attached == [data]
    assert read_reports("report.pdf") == [json.loads(data)]
    assert verified(capsys, "report.pdf")[0] == 0
    edit("design.yaml", "375 deg", "376 deg")
    assert verified(capsys, "report.pdf")[0] == 1


def test_the_submittal_report_carries_its_own_report(tmp_path: Path, decided: Report) -> None:
    from checker.reports import pdf_form
    from checker.reports.json_form import compact

    decided.date = "2026-05-01"
    path = tmp_path / "submittal.pdf"
    path.write_bytes(pdf_form.render(decided))
    assert read_reports(os.fspath(path)) == [json.loads(compact(decided))]


def test_other_attachments_are_passed_over(place: Path) -> None:
    import pypdf

    data = Path(written()).read_bytes()
    writer = pypdf.PdfWriter()
    writer.add_blank_page(100, 100)
    writer.add_attachment("notes.txt", b"some notes")
    writer.add_attachment("report.json", data)
    writer.write("two.pdf")
    assert read_reports("two.pdf") == [json.loads(data)]


# -- files that are no reports ----------------------------------------------------------------


def pdf_with(stream: bytes, head: bytes = b"") -> bytes:
    return (
        b"%PDF-1.7\n1 0 obj\n<</Type/EmbeddedFile" + head + b">>\nstream\n" + stream
        + b"\nendstream\nendobj\n"
    )  # fmt: skip


def bomb() -> bytes:
    """What unpacks to more than is read, made without holding it."""
    packer, part = zlib.compressobj(9), b"\0" * 2**20
    return b"".join(packer.compress(part) for _ in range(report_file.LARGEST // 2**20 + 1)) + (
        packer.flush()
    )


BOMB = bomb()
NO_REPORTS = {
    "empty": b"",
    "blank": b" \n",
    "text": b"hello",
    "yaml": b"assembly: T-1\n",
    "bytes": b"\xff\xfe\x00",
    "half": b'{"format": "pullpoint-report", ',
    "list": b"[]",
    "null": b"null",
    "other": b'{"format": "another", "version": 1}',
    "no version": b'{"format": "pullpoint-report"}',
    "later": b'{"format": "pullpoint-report", "version": 3}',
    "true": b'{"format": "pullpoint-report", "version": true}',
    "nothing else": b'{"format": "pullpoint-report", "version": 1}',
    "deep": b"[" * 200_000,
    "deep object": b'{"a":' * 100_000,
    "long number": b'{"format": ' + b"1" * 100_000 + b"}",
    "not a number": b'{"format": NaN}',
    "twice": b'{"format": "pullpoint-report", "format": "pullpoint-report", "version": 1}',
    "half a character": b'"\\ud800"',
    "html": b"<!doctype html><p>nothing</p>",
    "html open": b'<script id="pullpoint-report">{"format":',
    "html many": b'<script id="pullpoint-report" ' * 50_000,
    "html empty": b'<script id="pullpoint-report"></script>',
    "pdf": b"%PDF-1.7\n%%EOF\n",
    "pdf bomb": pdf_with(BOMB, b"/Filter/FlateDecode"),
    "pdf broken": pdf_with(b"xyz", b"/Filter/FlateDecode"),
    "pdf cut": pdf_with(zlib.compress(b"{}" * 500)[:20], b"/Filter/FlateDecode"),
    "pdf other filter": pdf_with(b"{}", b"/Filter/ASCII85Decode"),
    "pdf long": pdf_with(b"{}", b"/Length 9999999999"),
    "pdf many": b"%PDF-1.7\n" + b"/Type/EmbeddedFile " * 50_000,
    "pdf no stream": b"%PDF-1.7\n1 0 obj <</Type/EmbeddedFile>> endobj",
}


@pytest.mark.parametrize("name", NO_REPORTS)
def test_what_is_no_report_is_wrong_input(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    path = tmp_path / "x"
    path.write_bytes(NO_REPORTS[name])
    status, said = verified(capsys, os.fspath(path))
    assert status == 2
    assert "Traceback" not in said
    assert len(said) < 1500


def test_folders_devices_and_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path in (os.fspath(tmp_path), "/dev/zero", os.fspath(tmp_path / "none.json")):
        assert verified(capsys, path)[0] == 2


def test_a_file_too_large(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    with open(tmp_path / "x", "wb") as file:
        file.truncate(report_file.LARGEST + 1)  # without using the disk
    status, said = verified(capsys, os.fspath(tmp_path / "x"))
    assert status == 2
    assert "too large" in said


def test_what_a_stream_unpacks_to_is_bounded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import tracemalloc

    monkeypatch.setattr(report_file, "LARGEST", 1_000_000)
    (tmp_path / "x.pdf").write_bytes(
        pdf_with(zlib.compress(b" " * 50_000_000, 9), b"/Filter/FlateDecode")
    )
    tracemalloc.start()
    with pytest.raises(InputError):
        read_reports(os.fspath(tmp_path / "x.pdf"))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 10_000_000


def test_a_key_twice_is_refused(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Readers differ in which of the two they take, so a report could say two things."""
    path = written()
    text = Path(path).read_text(encoding="utf-8")
    Path(path).write_text('{"version": 1, ' + text.lstrip()[1:], encoding="utf-8")
    status, said = verified(capsys, path)
    assert status == 2
    assert "the key 'version' is there twice" in said


@pytest.mark.parametrize(
    ("where", "value", "words"),
    [
        (("assembly", "quantity"), True, "`quantity` is not a whole number"),
        (("assembly", "id"), None, "`id` is not text"),
        (("basis",), [], "`basis` is not an object"),
        (("basis", "fingerprints", "design"), "sha256:0", "`design` is not a fingerprint"),
        (("basis", "rule_fingerprints", "turns"), 5, "`turns` is not a fingerprint"),
        (("basis", "permit_date"), "soon", "`permit_date` is not a date"),
        (("findings",), {}, "`findings` is not a list"),
        (("findings", 0), "x", "a list holds something else than objects"),
        (("summary", "pass"), "many", "`pass` is not a whole number"),
    ],
)
def test_what_is_damaged_is_named(
    place: Path,
    capsys: pytest.CaptureFixture[str],
    where: tuple[Any, ...],
    value: Any,
    words: str,
) -> None:
    report = json.loads(Path(written()).read_text(encoding="utf-8"))
    inside = report
    for step in where[:-1]:
        inside = inside[step]
    inside[where[-1]] = value
    Path("report.json").write_text(json.dumps(report), encoding="utf-8")
    status, said = verified(capsys, "report.json")
    assert status == 2
    assert words in said


def test_files_that_a_report_names_are_only_compared(
    place: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    report = json.loads(Path(written()).read_text(encoding="utf-8"))
    Path("secret.txt").write_text("swordfish\n", encoding="utf-8")
    for name in ("/dev/zero", "/", "\0", "secret.txt", "\ud800", "x" * 5000, ""):
        report["file"] = name
        Path("report.json").write_text(json.dumps(report), encoding="utf-8")
        status, said = verified(capsys, "report.json")
        assert status == 1
        assert "swordfish" not in said


JSON_VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3)
    ),
    max_leaves=4,
)


def paths(value: Any, at: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every place in a value of JSON but the root."""
    inside: list[tuple[Any, Any]] = []
    if isinstance(value, dict):
        inside = list(value.items())
    elif isinstance(value, list):
        inside = list(enumerate(value))
    return [p for key, item in inside for p in ((*at, key), *paths(item, (*at, key)))]


@given(data=st.data())
@settings(
    max_examples=150,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
def test_a_damaged_report_is_told_and_nothing_worse(place: Path, data: st.DataObject) -> None:
    if not Path("whole.json").exists():
        written(*FULL, path="whole.json")
    report = copy.deepcopy(json.loads(Path("whole.json").read_text(encoding="utf-8")))
    *front, last = data.draw(st.sampled_from(paths(report)))
    where = report
    for step in front:
        where = where[step]
    where[last] = data.draw(JSON_VALUES)
    try:
        done = verify(recorded(report, "report.json"))
    except InputError:
        return
    for change in done.changes:
        assert str(change)
