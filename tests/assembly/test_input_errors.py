"""Everything that can be wrong with an assembly file, through the command.

Exit status 2 and nothing on stdout; on stderr the place (line and column, counted by hand: the mark
``«`` in each text stands before what is wrong), what was found, what was expected, and the nearest
name where there is one.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.cli.main import guarded

GOOD = """\
assembly: E-1
title: Errors
basis: {edition: nec-2023, ambient: 30 degC}
defaults:
  wire: {material: copper, insulation: THHN}
panels:
  - {id: P, branch: normal, system: 208Y/120}
circuits:
  - {id: C1, panel: P, phases: [A], breaker: 20 A, load: 720 VA, outlets: several}
sections:
  - {id: S1, width: 6 ft}
  - {id: S2, width: 6 ft}
joints:
  - {id: J12, between: [S1, S2]}
couplings:
  - {id: K1, joint: J12}
boxes:
  - {id: B1, kind: outlet, volume: 30.3 in³, section: S1}
  - {id: B2, kind: junction, trade_size: 4 x 2-1/8 square, section: S2}
raceways:
  - {id: R1, method: EMT, size: 3/4, from: B1, to: K1, length: 4 ft}
  - {id: R2, method: EMT, size: 3/4, from: K1, to: B2, length: 3 ft}
  - {id: R3, method: EMT, size: 3/4, from: B2, to: P, length: 9 ft}
pulls:
  - id: W1
    circuit: C1
    through: [R1, R2]
    wires:
      - {role: phase, phase: A, size: 12 AWG}
      - {role: neutral, size: 12 AWG}
"""


def place_of(marked: str) -> tuple[str, str]:
    """The text without its mark, and the mark's line and column."""
    before, mark, _ = marked.partition("«")
    assert (mark, marked.count("«")) == ("«", 1)
    line = before.count("\n") + 1
    return marked.replace("«", ""), f"{line}:{len(before) - before.rfind(chr(10))}"


def run(path: Path, capsys: pytest.CaptureFixture[str], *more: str) -> str:
    """What the command says on stderr; it must refuse the file and print nothing else."""
    status = guarded(["check", str(path), *more])
    said = capsys.readouterr()
    assert status == 2, said
    assert said.out == ""
    assert "Traceback" not in said.err
    return said.err


def test_the_file_that_all_cases_start_from_is_sound(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "good.yaml"
    path.write_text(GOOD, encoding="utf-8")
    assert guarded(["check", str(path)]) in (0, 1)
    assert capsys.readouterr().err == ""


# name: (what stands in GOOD, what stands there instead with the mark, words of the message, found,
#        words of what was expected, nearest)
CASES: dict[str, tuple[str, str, str, str, str, str]] = {
    "unknown key": (
        "breaker: 20 A", "«braker: 20 A", "unknown key `braker`", "braker", "breaker", "breaker",
    ),
    "unknown key at the top": (
        "title: Errors", "«titel: Errors", "unknown key `titel`", "titel", "title", "title",
    ),
    "unknown key with nothing near": (
        "length: 9 ft", "«zzzzzz: 9 ft", "unknown key `zzzzzz`", "zzzzzz", "length", "",
    ),
    "wrong type: a list for a text": (
        "title: Errors", "title: «[a, b]", "`title` cannot be read", "a list", "text", "",
    ),
    "wrong type: text for a number": (
        "length: 4 ft", "length: «long", "`length` cannot be read", "long", "length", "",
    ),
    "wrong type: a fraction for a count": (
        "{role: neutral, size: 12 AWG}", "{role: neutral, size: 12 AWG, count: «1.5}",
        "`count` cannot be read", "1.5", "a whole number", "",
    ),
    "wrong type: yes for a flag": (
        "{role: neutral, size: 12 AWG}", "{role: neutral, size: 12 AWG, bare: «yes}",
        "`bare` cannot be read", "yes", "true or false", "true",
    ),
    "a word that is not among the options": (
        "kind: junction", "kind: «junktion", "`kind` cannot be read", "junktion", "conduit_body",
        "junction",
    ),
    "missing unit": (
        "breaker: 20 A", "breaker: «20", "`breaker` cannot be read", "20", "A or kA", "20 A",
    ),
    "missing unit of a length": (
        "length: 3 ft", "length: «3", "`length` cannot be read", "3", "in, ft, mm or m", "3 in",
    ),
    "wrong unit": (
        "length: 9 ft", "length: «9 A", "`length` cannot be read", "9 A", "not of current", "",
    ),
    "wrong unit of a power": (
        "load: 720 VA", "load: «720 V", "`load` cannot be read", "720 V", "VA, kVA, W or kW", "",
    ),
    "a negative length": (
        "length: 9 ft", "length: «-9 ft", "`length` cannot be negative", "-9 ft", "zero or more",
        "",
    ),
    "a negative rating": (
        "breaker: 20 A", "breaker: «-20 A", "`breaker` cannot be negative", "-20 A",
        "zero or more", "",
    ),
    "a bend that takes back others": (
        "length: 3 ft", "bends: [{kind: bend, angle: «-90 deg}]", "`angle` cannot be negative",
        "-90 deg", "zero or more", "",
    ),
    "unknown unit": (
        "length: 9 ft", "length: «9 feett", "`length` cannot be read", "9 feett",
        "no unit is called `feett`", "9 feet",
    ),
    "unknown wire size": (
        "phase: A, size: 12 AWG", "phase: A, size: «13 AWG", "`size` cannot be read", "13 AWG",
        "a wire size", "12 AWG",
    ),
    "unknown trade size": (
        "id: R3, method: EMT, size: 3/4", "id: R3, method: EMT, size: «7/8",
        "`size` cannot be read", "7/8", "a trade size", "3/4",
    ),
    "unknown reference": (
        "circuit: C1\n", "circuit: «C2\n", "`circuit` names a circuit that is not in the file",
        "C2", "C1", "C1",
    ),
    "unknown reference to a box": (
        "from: B2, to: P", "from: «B22, to: P", "`from` names an end that is not in the file",
        "B22", "B1, B2", "B2",
    ),
    "unknown reference in a list": (
        "through: [R1, R2]", "through: [R1, «R22]", "that is not in the file", "R22", "R1, R2, R3",
        "R2",
    ),
    "unknown edition": (
        "edition: nec-2023", "edition: «nec-2032", "there is no edition `nec-2032`", "nec-2032",
        "nec-2017, nec-2020, nec-2023", "nec-2023",
    ),
    "duplicate id": (
        "{id: R3, method", "{id: «R1, method", "duplicate id `R1`", "first on line 21, column 10",
        "a name of its own", "",
    ),
    "duplicate id of another kind of end": (
        "{id: B2, kind: junction", "{id: «P, kind: junction", "duplicate id `P`",
        "first on line 7, column 10", "a name of its own", "",
    ),
    "duplicate key": (
        "branch: normal, system", "branch: normal, «branch: critical, system",
        "the key `branch` is here twice", "first on line 7, column 13", "each key once", "",
    ),
    "route not connected": (
        "through: [R1, R2]", "through: [R1, «R3]", "the route of pull `W1` is not connected",
        "`R1` ends in B1 and K1, `R3` in B2 and P", "where the one before it ends", "R2",
    ),
    "raceway in two places at once": (
        "from: B2, to: P", "from: B2, to: «B2", "`R3` would be in two places at once", "B2",
        "another end", "",
    ),
    "raceway twice in a route": (
        "through: [R1, R2]", "through: [R1, R2, «R1]",
        "pull `W1` would have `R1` in two places at once", "twice", "every raceway once", "",
    ),
    "missing required key": (
        "{id: K1, joint: J12}", "«{joint: J12}", "lacks `id`", "keys joint", "`id:`", "",
    ),
    "missing required key of a box": (
        "{id: B1, kind: outlet, ", "«{id: B1, ", "lacks `kind`", "keys id", "`kind:`", "",
    ),
    "a required key that is empty": (
        "{id: B1, kind: outlet", "{id: B1, «kind: ", "`kind` is empty", "nothing", "one of", "",
    ),
    "a list where a mapping belongs": (
        "basis: {edition: nec-2023, ambient: 30 degC}", "basis: «[nec-2023]",
        "`basis` cannot be read", "a list", "a mapping", "",
    ),
    "a text where a mapping belongs": (
        "  - {id: S2, width: 6 ft}", "  - «S2", "cannot be read", "S2", "a mapping", "",
    ),
    "a joint of one section": (
        "between: [S1, S2]", "between: «[S1, S1]", "does not join two sections", "1: S1, S1",
        "two different sections", "",
    ),
    "a loop where the pull does not pass": (
        "through: [R1, R2]", "through: [R1, R2]\n    loops: [«B1]",
        "is looped in a box that it does not pass", "B1", "its route passes no box between", "",
    ),
    "a wire of a circuit that its pull does not carry": (
        "{role: neutral, size: 12 AWG}", "{role: neutral, circuit: «C9, size: 12 AWG}",
        "belongs to a circuit that the pull does not carry", "C9", "C1", "C1",
    ),
    "a tag": (
        "title: Errors", "title: «!!python/object/apply:os.system [x]", "tags are not read",
        "!!python", "without a tag", "",
    ),
    "a merge key": (
        "{id: S2, width: 6 ft}", "{«<<: {width: 6 ft}, id: S2}", "merge keys", "", "written out",
        "",
    ),
    "YAML syntax": (
        "basis: {edition: nec-2023, ambient: 30 degC}", "basis: {edition: nec-2023, ambient: «]",
        "", "", "", "",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", list(CASES))
def test_wrong_file(case: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    there, instead, message, found, expected, nearest = CASES[case]
    assert GOOD.count(there) == 1
    text, place = place_of(GOOD.replace(there, instead))
    path = tmp_path / "wrong.yaml"
    path.write_text(text, encoding="utf-8")
    said = run(path, capsys)
    first = said.splitlines()[0]
    assert first.startswith(f"{path}:{place} error: "), said
    assert message in first
    assert (found in labelled(said, "found")) if found else True
    assert (expected in labelled(said, "expected")) if expected else True
    assert labelled(said, "nearest") == nearest
    if case != "YAML syntax":
        # The line itself, with a caret under what is wrong.
        line = text.splitlines()[int(place.split(":")[0]) - 1]
        shown = said.splitlines()[1]
        assert shown.strip() in line or "…" in shown
        assert "^" in said.splitlines()[2]


def labelled(said: str, label: str) -> str:
    """What stands after a label, of the first problem."""
    _, *rest = said.splitlines()
    for line in rest:
        if " error: " in line and not line.startswith(" "):
            break
        if line.strip().startswith(label + ":"):
            return line.split(":", 1)[1].strip()
    return ""


def test_route_that_turns_back(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text, place = place_of(
        GOOD.replace("id: R3, method: EMT, size: 3/4, from: B2, to: P",
                     "id: R3, method: EMT, size: 3/4, from: K2, to: P")
        .replace("  - {id: K1, joint: J12}", "  - {id: K1, joint: J12}\n  - {id: K2}")
        .replace("from: K1, to: B2", "from: K1, to: K2")
        .replace("through: [R1, R2]", "through: [R2, «R1, R3]")
    )  # fmt: skip
    path = tmp_path / "wrong.yaml"
    path.write_text(text, encoding="utf-8")
    said = run(path, capsys)
    assert any(line.startswith(f"{path}:{int(place.split(':')[0])}:") for line in said.splitlines())
    assert "the route of pull `W1` is not connected" in said


@pytest.mark.parametrize("length", [2, 3, 5])
def test_raceways_joined_in_a_ring(
    length: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    couplings = "".join(f"  - {{id: Q{n}}}\n" for n in range(length))
    mark = "«"
    ring = "".join(
        f"  - {{id: X{n}, method: EMT, size: 1/2, from: Q{n}, "
        f"to: {mark if n == 0 else ''}Q{(n + 1) % length}}}\n"
        for n in range(length)
    )
    changed = GOOD.replace("boxes:\n", couplings + "boxes:\n").replace(
        "pulls:\n", ring + "pulls:\n"
    )
    text, place = place_of(changed)
    path = tmp_path / "wrong.yaml"
    path.write_text(text, encoding="utf-8")
    said = run(path, capsys)
    names = ", ".join(f"X{n}" for n in range(length))
    assert f"{path}:{place} error: raceways {names} join in a ring" in said
    assert said.count(" error: ") == 1


@pytest.mark.parametrize(
    ("count", "change"),
    [(1, ("from: K1, to: B2", "from: B1, to: B2")), (3, ("from: B2, to: P", "from: K1, to: P"))],
)
def test_coupling_with_one_or_three_raceways(
    count: int, change: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text, place = place_of(GOOD.replace(*change).replace("{id: K1, joint", "{id: «K1, joint"))
    path = tmp_path / "wrong.yaml"
    path.write_text(text, encoding="utf-8")
    said = run(path, capsys)
    word = "raceway" if count == 1 else "raceways"
    assert f"{path}:{place} error: coupling `K1` joins {count} {word}" in said
    assert ("R1" if count == 1 else "R1, R2, R3") in labelled(said, "found")
    assert "exactly two raceways" in said


def test_all_problems_of_a_file_are_told_together_in_order(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    marks = {}
    text = GOOD
    for there, instead in (
        ("branch: normal", "«branch: regular"),
        ("breaker: 20 A", "breaker: «20"),
        ("from: B2, to: P", "from: «B9, to: P"),
        ("{role: neutral, size: 12 AWG}", "{«roll: neutral, size: 12 AWG}"),
    ):
        marked, place = place_of(text.replace(there, instead))
        text = marked
        marks[instead.replace("«", "")] = place
    path = tmp_path / "wrong.yaml"
    path.write_text(text, encoding="utf-8")
    said = run(path, capsys)
    places = [
        line.split(" error")[0].removeprefix(f"{path}:")
        for line in said.splitlines()
        if line.startswith(str(path))
    ]
    numbers = [tuple(map(int, place.split(":"))) for place in places]
    assert numbers == sorted(numbers)
    lines = {line for line, _ in numbers}
    assert lines >= {int(place.split(":")[0]) for place in marks.values()}
    assert len(numbers) >= 4


def test_every_file_of_several_tells_its_own(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good, wrong = tmp_path / "good.yaml", tmp_path / "wrong.yaml"
    good.write_text(GOOD, encoding="utf-8")
    wrong.write_text(GOOD.replace("breaker: 20 A", "breaker: 20"), encoding="utf-8")
    status = guarded(["check", str(wrong), str(good), "--format", "json"])
    said = capsys.readouterr()
    assert status == 2
    assert f"{wrong}:9:" in said.err
    assert str(good) not in said.err


# -- files as a whole ------------------------------------------------------------------------


def whole(path: Path, said: str) -> str:
    """The first line, which must name the file."""
    first = said.splitlines()[0]
    assert first.startswith(str(path))
    assert " error: " in first
    return first


def test_empty_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for content in ("", "\n\n", "# only a comment\n"):
        path = tmp_path / "empty.yaml"
        path.write_text(content, encoding="utf-8")
        said = run(path, capsys)
        assert "empty" in whole(path, said) or "only comments" in whole(path, said)
        assert "mapping" in labelled(said, "expected")


def test_nothing_but_a_list_or_a_word(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for content in ("- a\n- b\n", "words\n", "null\n"):
        path = tmp_path / "list.yaml"
        path.write_text(content, encoding="utf-8")
        said = run(path, capsys)
        assert whole(path, said).startswith(f"{path}:1:1 ")


def test_not_utf8(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "latin.yaml"
    path.write_bytes(b"assembly: E-1\ntitle: caf\xe9\n")
    said = run(path, capsys)
    assert whole(path, said).startswith(f"{path}:2:11 error: the file is not UTF-8")
    assert "0xe9" in labelled(said, "found")
    assert labelled(said, "expected") == "UTF-8"


def test_utf16(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "utf16.yaml"
    path.write_bytes(GOOD.encode("utf-16"))
    whole(path, run(path, capsys))


def test_directory(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = run(tmp_path, capsys)
    assert "folder" in whole(tmp_path, said)


def test_missing_file_names_the_nearest(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "wall.yaml").write_text(GOOD, encoding="utf-8")
    path = tmp_path / "wal.yaml"
    said = run(path, capsys)
    assert "no such file" in whole(path, said)
    assert labelled(said, "nearest") == str(tmp_path / "wall.yaml")


def test_large_file_is_refused_before_it_is_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "large.yaml"
    with path.open("wb") as file:  # 50 MB, sparse
        file.write(b"assembly: E-1\n")
        file.truncate(50_000_000)
    said = run(path, capsys)
    assert "too large" in whole(path, said)
    assert labelled(said, "found") == "50.0 MB"


def test_alias_bomb(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lines = ["assembly: E-1", "title: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"k{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 12)]
    path = tmp_path / "bomb.yaml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    said = run(path, capsys)
    assert "aliases repeat more than" in whole(path, said)
    assert path.name + ":" in whole(path, said)


def test_deep_nesting(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "deep.yaml"
    path.write_text("assembly: E-1\ntitle: " + "[" * 5000 + "]" * 5000 + "\n", encoding="utf-8")
    said = run(path, capsys)
    assert whole(path, said).startswith(f"{path}:2:")


def test_control_characters_are_shown_as_escapes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "escape.yaml"
    path.write_text(GOOD.replace("breaker: 20 A", 'breaker: "\\e[31m20"'), encoding="utf-8")
    said = run(path, capsys)
    assert "\x1b" not in said
    assert "\\x1b[31m20" in said


def test_places_and_temperatures_may_be_below_zero(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "good.yaml"
    text = GOOD.replace("ambient: 30 degC", "ambient: -10 degC").replace(
        "{id: K1, joint: J12}", "{id: K1, joint: J12, section: S1, at: [-1 in, 2 ft]}"
    )
    path.write_text(text, encoding="utf-8")
    assert guarded(["check", str(path)]) in (0, 1)
    assert capsys.readouterr().err == ""


# -- amendments ------------------------------------------------------------------------------


def amendment(name: str, builds_on: str) -> str:
    return (
        f"amendment: {name}\ntitle: Amendment {name}\njurisdiction: Kestrel County\n"
        f"reference: none\neffective: 2026-01-01\nbuilds_on: [{builds_on}]\nchanges: []\n"
    )


def test_circular_amendment(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a.yaml").write_text(amendment("A-1", "b.yaml"), encoding="utf-8")
    (tmp_path / "b.yaml").write_text(amendment("B-1", "a.yaml"), encoding="utf-8")
    path = tmp_path / "wall.yaml"
    path.write_text(GOOD.replace("edition: nec-2023,", "edition: nec-2023, amendments: [a.yaml],"),
                    encoding="utf-8")  # fmt: skip
    said = run(path, capsys)
    assert "in a circle" in said.splitlines()[0]
    assert said.startswith(f"{tmp_path / 'b.yaml'}:6:13 ")  # where the circle closes
    assert labelled(said, "found") == "a.yaml → b.yaml → a.yaml"


def test_missing_amendment(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text, place = place_of(
        GOOD.replace("edition: nec-2023,", "edition: nec-2023, amendments: [«no.yaml],")
    )
    path = tmp_path / "wall.yaml"
    path.write_text(text, encoding="utf-8")
    said = run(path, capsys)
    assert said.startswith(f"{path}:{place} error: ")
    assert "no.yaml" in labelled(said, "found")


#: What people of the trade write; common practice, no source.
@pytest.mark.parametrize(
    ("there", "instead", "nearest"),
    [
        ("role: phase", "role: hot", "phase"),
        ("role: neutral", "role: EGC", "ground"),
        ("size: 12 AWG", "size: 12 ga", "12 AWG"),
        ("length: 3 ft", "length: 3 ft, bends: [{kind: elbow, angle: 90 deg}]", "bend"),
    ],
)
def test_words_of_the_trade_lead_to_the_name(
    there: str, instead: str, nearest: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert f"nearest:  {nearest}\n" in told(there, instead, tmp_path, capsys)


def told(there: str, instead: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """What is said of the sound file with something else in one place."""
    assert there in GOOD
    path = tmp_path / "wrong.yaml"
    path.write_text(GOOD.replace(there, instead, 1), encoding="utf-8")
    return run(path, capsys)


def test_a_misspelt_list_is_read_as_what_was_meant(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One mistake, told once: what refers to the elements of the list is not wrong."""
    said = told("\nraceways:", "\nraceway:", tmp_path, capsys)
    assert said.count(" error: ") == 1
    assert "unknown key `raceway`" in said


def test_a_comment_in_the_place_of_a_value_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = told("assembly: ", "assembly: #", tmp_path, capsys)
    assert "nothing: `#` starts a comment" in said
    assert "in quotes if it starts with `#`" in said


def test_what_refers_to_an_element_without_an_id(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "wrong.yaml"
    path.write_text(GOOD.replace("{id: B2, kind", "{kind"), encoding="utf-8")
    said = run(path, capsys)
    line = next(n for n, text in enumerate(GOOD.splitlines(), 1) if "id: B2" in text)
    assert f"wrong.yaml:{line}:5 error: an item of `boxes` lacks `id`" in said
    assert said.count(f"or perhaps the one on line {line}, which lacks its id") == 2
    assert said.count(" error: ") == 3
