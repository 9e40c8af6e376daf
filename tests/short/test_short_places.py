"""A finding of a design that is described once: its element, its value's line, its placement."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from small_wall import WALL, changed

from checker.cli.main import main

#: A box too small for what is in it: the type's volume is what the finding points at.
SMALL = changed(("trade_size: 4 x 1-1/2 square}", "volume: 5 in³}"), (", wire: 10 AWG", ""))


@pytest.fixture
def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The path of a design whose placed boxes are too small."""
    monkeypatch.chdir(tmp_path)
    Path("wall.yaml").write_text(SMALL, encoding="utf-8")
    return tmp_path


def line_of(words: str, text: str = SMALL) -> int:
    return next(n for n, line in enumerate(text.split("\n"), 1) if words in line)


def checked(capsys: pytest.CaptureFixture[str], *more: str) -> str:
    assert main(["check", "wall.yaml", *more]) == 1
    return capsys.readouterr().out


def json_findings(capsys: pytest.CaptureFixture[str]) -> list[dict[str, Any]]:
    report = json.loads(checked(capsys, "--format", "json"))
    return [f for f in report["findings"] if (f["rule"], f["kind"]) == ("box-fill", "fail")]


def test_json_keeps_every_finding_with_placement_and_type(small: Path, capsys: Any) -> None:
    one, two = json_findings(capsys)
    assert [f["subject"]["id"] for f in (one, two)] == ["one.B", "two.B"]
    for found, words in ((one, "id: one"), (two, "id: two")):
        location = found["location"]
        assert location["file"] == "wall.yaml"
        assert location["placed"]["line"] == line_of(words)
        assert location["like"]["name"] == "flat"
        assert location["like"]["line"] == line_of("flat: {like: deep")
    assert one["location"]["placed"]["as"] == "one"
    assert one["location"]["placed"]["mirrored"] is None
    assert two["location"]["placed"]["mirrored"] == "72 in"


def test_a_plain_element_has_a_plain_location(small: Path, capsys: Any) -> None:
    report = json.loads(checked(capsys, "--format", "json"))
    plain = next(f for f in report["findings"] if f["subject"]["id"] == "P-1")
    assert set(plain["location"]) >= {"file", "line", "column"}
    assert "placed" not in plain["location"]


def test_text_lists_findings_of_one_place_once(small: Path, capsys: Any) -> None:
    text = checked(capsys)
    assert text.count("FAIL   box-fill") == 1
    assert "box 2 elements: one.B, two.B" in text
    place = line_of("id: one")
    assert f"placed at {place}:5 as one, and 1 more" in text


def test_text_says_where_a_single_element_was_placed(small: Path, capsys: Any) -> None:
    Path("wall.yaml").write_text(
        SMALL.replace("  - {group: bay, id: one, with: {circuit: P-1}}\n", ""), encoding="utf-8"
    )
    text = checked(capsys)
    assert "as two, mirrored in 72 in" in text
    assert "box two.B" in text


def test_findings_with_other_numbers_stand_alone(small: Path, capsys: Any) -> None:
    # Larger wires in one of them: what is required of the one is not required of the other.
    text = SMALL.replace("phases: [B], load", "phases: [B], wire: 10 AWG, load")
    Path("wall.yaml").write_text(text, encoding="utf-8")
    assert checked(capsys).count("FAIL   box-fill") == 2


def test_sarif_has_one_result_with_every_element(small: Path, capsys: Any) -> None:
    run = json.loads(checked(capsys, "--format", "sarif"))["runs"][0]
    (found,) = [r for r in run["results"] if (r["ruleId"], r["kind"]) == ("box-fill", "fail")]
    assert found["occurrenceCount"] == 2
    (location,) = found["locations"]
    assert [one["name"] for one in location["logicalLocations"]] == ["one.B", "two.B"]
    related = {one["message"]["text"]: one["physicalLocation"] for one in found["relatedLocations"]}
    assert related["placed here as two"]["region"]["startLine"] == line_of("id: two")
    assert related["type flat"]["region"]["startLine"] == line_of("flat: {like: deep")


def test_html_lists_what_needs_action_once(small: Path, capsys: Any) -> None:
    assert main(["report", "wall.yaml", "--output", "wall.html"]) == 1
    page = Path("wall.html").read_text(encoding="utf-8")
    parts = page.split('<article class="finding"')[1:]
    articles = [part for part in parts if ">box-fill<" in part.split("</h3>")[0]]
    assert len(articles) == 1
    head = articles[0].split("</h3>")[0]
    assert "2 elements:" in head
    assert "one.B" in head
    assert "two.B" in head


def test_the_report_says_what_was_taken_from_the_scheme_and_what_is_mirrored(
    small: Path, capsys: Any
) -> None:
    notices = json.loads(checked(capsys, "--format", "json"))["notices"]
    assert any("wire colors of 2 pulls were taken" in one and "one.W" in one for one in notices)
    assert any(one.startswith("two (group bay) is mirrored in 72 in") for one in notices)
    assert not any(one.startswith("one ") for one in notices)


def test_decisions_are_keyed_by_the_placed_name_whatever_the_order(
    small: Path, capsys: Any
) -> None:
    Path("decisions.yaml").write_text(
        "decisions_for: W\ndecisions:\n  - {rule: box-fill, element: two.B, "
        "disposition: corrected_in_field, "
        "measure: 11.25 in³, reason: the box is changed on site, person: A. Person, "
        "role: designer, date: 2026-05-01}\n",
        encoding="utf-8",
    )
    accepted = []
    lines = SMALL.split("\n")
    first = line_of("id: one") - 1
    turned = [*lines[:first], lines[first + 1], lines[first], *lines[first + 2 :]]
    for text in (SMALL, "\n".join(turned)):
        Path("wall.yaml").write_text(text, encoding="utf-8")
        main(["check", "wall.yaml", "--decisions", "decisions.yaml", "--as-of", "2026-06-01",
              "--format", "json"])  # fmt: skip
        found = json.loads(capsys.readouterr().out)["findings"]
        accepted.append([f["subject"]["id"] for f in found if f["decision"]])
    assert accepted == [["two.B"], ["two.B"]]


# -- a design of several files ------------------------------------------------------------------


@pytest.fixture
def shelved(small: Path) -> Path:
    """The same with types and groups in a file of their own."""
    at, end = SMALL.index("types:"), SMALL.index("place:")
    Path("boxes.yaml").write_text("# a shelf\n" + SMALL[at:end], encoding="utf-8")
    Path("wall.yaml").write_text(SMALL[:at] + "use: boxes.yaml\n" + SMALL[end:], encoding="utf-8")
    return small


def test_a_finding_points_into_the_file_that_is_used(shelved: Path, capsys: Any) -> None:
    one, _ = json_findings(capsys)
    shelf = Path("boxes.yaml").read_text(encoding="utf-8")
    assert one["location"]["like"]["file"] == "boxes.yaml"
    assert one["location"]["file"] == "boxes.yaml"
    assert one["location"]["like"]["line"] == line_of("flat: {like", shelf)
    assert one["location"]["placed"]["file"] == "wall.yaml"
    text = checked(capsys)
    assert "boxes.yaml" in text
    run = json.loads(checked(capsys, "--format", "sarif"))["runs"][0]
    assert [a["location"]["uri"] for a in run["artifacts"][:2]] == ["wall.yaml", "boxes.yaml"]


def test_every_form_names_the_file_that_is_used(shelved: Path, capsys: Any) -> None:
    line = json_findings(capsys)[0]["location"]["line"]
    for form in ("csv", "junit", "markdown"):
        text = checked(capsys, "--format", form)
        assert "boxes.yaml" in text, form
        assert f"wall.yaml:{line}:" not in text, form


def test_verify_notices_a_change_of_a_file_that_is_used(shelved: Path, capsys: Any) -> None:
    assert main(["report", "wall.yaml", "--output", "wall.html"]) == 1
    assert main(["verify", "wall.html"]) == 0
    shelf = Path("boxes.yaml")
    shelf.write_text(shelf.read_text(encoding="utf-8") + "# changed\n", encoding="utf-8")
    assert main(["verify", "wall.html"]) == 1
    assert "design" in capsys.readouterr().out


def test_the_file_used_cannot_be_overwritten(shelved: Path, capsys: Any) -> None:
    from checker.documents.errors import InputError

    with pytest.raises(InputError):
        main(["expand", "wall.yaml", "--output", "boxes.yaml"])


# -- expand ---------------------------------------------------------------------------------------


def test_expand_is_the_same_every_time_and_gives_the_same(small: Path, capsys: Any) -> None:
    assert main(["expand", "wall.yaml"]) == 0
    first = capsys.readouterr().out
    assert main(["expand", "wall.yaml", "--output", "full.yaml"]) == 0
    assert Path("full.yaml").read_text(encoding="utf-8") == first
    found = {}
    for name in ("wall.yaml", "full.yaml"):
        main(["check", name, "--format", "json"])
        found[name] = [
            (f["rule"], f["subject"], f["kind"], f["measure"], f["limit"], f["message"])
            for f in json.loads(capsys.readouterr().out)["findings"]
        ]
    assert found["wall.yaml"] == found["full.yaml"]


def test_expand_writes_nothing_where_the_design_is_wrong(small: Path, capsys: Any) -> None:
    from checker.documents.errors import InputError

    Path("full.yaml").write_text("before", encoding="utf-8")
    Path("wall.yaml").write_text(WALL.replace("like: flat,", "like: flatt,"), encoding="utf-8")
    with pytest.raises(InputError):
        main(["expand", "wall.yaml", "--output", "full.yaml"])
    assert Path("full.yaml").read_text(encoding="utf-8") == "before"


def test_expand_keeps_the_way_to_amendments(small: Path, capsys: Any) -> None:
    from checker.assembly import read_assembly

    Path("wall.yaml").write_text(
        WALL.replace("{edition: nec-2023,", "{edition: nec-2023, amendments: [local.yaml],"),
        encoding="utf-8",
    )
    Path("out").mkdir()
    main(["expand", "wall.yaml", "--output", "out/full.yaml"])
    assert read_assembly("out/full.yaml")[0].basis.amendments == ("../local.yaml",)
    main(["expand", "wall.yaml", "--output", "full.yaml"])
    assert read_assembly("full.yaml")[0].basis.amendments == ("local.yaml",)
