"""Files and arguments come from strangers: each attack is refused, at its place, with nothing done.

Every refusal is an InputError, or status 2 of the command; it says where, and nothing in it steers
a terminal.  conftest.py bounds the time of each.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from attacks import (
    AMENDMENTS,
    COMMANDS,
    DECISIONS,
    DESIGNS,
    EXPRESSIONS,
    FILES,
    HEADS,
    REPORTS,
)
from small_world import DESIGN, EDITION, HEAD, RULE, load, settle, write

from checker.cli.main import guarded
from checker.documents.errors import InputError
from checker.language.check import check
from checker.language.parse import ExpressionError
from checker.language.template import read_template
from checker.language.types import Number, Record, Vocabulary
from checker.quantities.dimension import LENGTH, NONE
from checker.rulebook.vocabulary import vocabulary_of
from checker.tables.collection import load_tables

_LONGEST = 60_000  # characters of everything that is said


def harmless(text: str) -> None:
    """Nothing in what is said steers a terminal, and it is no book."""
    assert all(c.isprintable() or c == "\n" for c in text), ascii(text)
    assert len(text) < _LONGEST
    assert "Traceback" not in text


def refused(error: InputError, file: str) -> None:
    """The refusal says where, and what."""
    first = error.problems[0]
    assert os.path.basename(first.file) == file
    assert first.message
    assert first.found or first.expected or first.line == 0
    harmless(str(error))


@pytest.fixture(scope="module")
def vocabulary(tmp_path_factory: pytest.TempPathFactory) -> Vocabulary:
    """What expressions may name in the small world."""
    folder = tmp_path_factory.mktemp("world")
    settle(folder)
    return vocabulary_of(load_tables(os.fspath(folder / "tables")).for_edition("code-1"))


NAMES = {
    "raceway": Record("raceway"), "this": Record("raceway"), "assembly": Record("assembly"),
    "longest": Number(LENGTH), "one": Number(NONE, whole=True),
}  # fmt: skip


@pytest.mark.parametrize("text", EXPRESSIONS, ids=lambda text: ascii(text)[:60])
def test_expressions(text: str, vocabulary: Vocabulary) -> None:
    with pytest.raises(ExpressionError) as raised:
        _judged(text, vocabulary)
    for trouble in raised.value.troubles:
        assert trouble.message
        assert 0 <= trouble.offset <= len(text)


def _judged(text: str, vocabulary: Vocabulary) -> None:
    """Check an expression the way a measure is; some attacks are only wrong as a measure."""
    done = check(text, NAMES, vocabulary)
    if not isinstance(done.kind, Number):
        raise ExpressionError(*_not_a_measure(text))


def _not_a_measure(text: str) -> tuple[object, ...]:
    from checker.language.trouble import Trouble

    assert not any(word in text for word in ("__", "import", "node", "lambda")), text
    return (Trouble(0, 1, "not a measure"),)


@pytest.mark.parametrize("text", EXPRESSIONS[::3], ids=lambda text: ascii(text)[:60])
def test_expressions_in_messages(text: str, vocabulary: Vocabulary) -> None:
    if "{" in text or "}" in text:
        pytest.skip("braces end the value in a message")
    try:
        template = read_template("{" + text + "}", NAMES, vocabulary)
    except ExpressionError:
        return
    # Texts and choices may be printed: what they read are declared fields and nothing else.
    for part in template.parts:
        assert isinstance(part, str) or all(
            name in vocabulary.records[record] for record, name in part[0].fields
        )


@pytest.mark.parametrize("text", EXPRESSIONS[::2], ids=lambda text: ascii(text)[:60])
def test_expressions_in_rule_files(text: str, tmp_path: Path) -> None:
    quoted = _quoted(text)
    settle(tmp_path, RULE.replace("raceway.length * one", quoted).replace("one: {is", "uno: {is"))
    with pytest.raises(InputError) as raised:
        load(tmp_path)
    refused(raised.value, "reach.yaml")


def _quoted(text: str) -> str:
    """A text in double quotes, with what YAML cannot hold as escapes."""
    out = []
    for c in text:
        if c in '"\\':
            out.append("\\" + c)
        elif c.isprintable() and c != "\u2028":
            out.append(c)
        else:
            out.append(f"\\u{ord(c):04x}")
    return '"' + "".join(out) + '"'


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("kind", ["rule", "edition", "amendment"])
def test_files_of_the_rulebook(name: str, kind: str, tmp_path: Path) -> None:
    path = {"rule": "rules/routing/reach.yaml", "edition": "rules/editions/code-1.yaml",
            "amendment": "county.yaml"}[kind]  # fmt: skip
    settle(tmp_path)
    write(tmp_path, {path: FILES[name]})
    with pytest.raises(InputError) as raised:
        load(tmp_path, *(["county.yaml"] if kind == "amendment" else []))
    refused(raised.value, os.path.basename(path))


@pytest.mark.parametrize("name", FILES)
@pytest.mark.parametrize("kind", ["design", "decisions", "table"])
def test_files_of_a_check(
    name: str, kind: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    write(tmp_path, {"T.yaml": DESIGN, "bores.yaml": FILES[name]})
    bad = os.fspath(tmp_path / "bores.yaml")
    if kind == "table":
        from checker.tables.loader import load_table

        with pytest.raises(InputError) as raised:
            load_table(bad)
        refused(raised.value, "bores.yaml")
        return
    good = os.fspath(tmp_path / "T.yaml")
    words = ["check", bad] if kind == "design" else ["check", good, "--decisions", bad]
    assert guarded(words) == 2
    out, err = capfd.readouterr()
    assert out == ""
    harmless(err)


@pytest.mark.parametrize("name", AMENDMENTS)
def test_amendments(name: str, tmp_path: Path) -> None:
    settle(tmp_path, **{"county.yaml": HEAD + "changes:\n" + AMENDMENTS[name]})
    with pytest.raises(InputError) as raised:
        load(tmp_path, "county.yaml")
    refused(raised.value, "county.yaml")


@pytest.mark.parametrize("name", HEADS)
def test_heads_of_amendments(name: str, tmp_path: Path) -> None:
    home = tmp_path / "home"
    settle(home, **{"county.yaml": HEAD + HEADS[name] + "changes: []\n", "sub/x.yaml": HEAD})
    write(tmp_path, {"county.yaml": HEAD + "terms: {a: b}\n"})
    (home / "link.yaml").symlink_to(tmp_path / "county.yaml")
    os.mkfifo(home / "pipe.yaml")
    with pytest.raises(InputError) as raised:
        load(home, "county.yaml")
    refused(raised.value, "county.yaml")


def test_a_chain_of_amendments(tmp_path: Path) -> None:
    files = {
        f"a{n}.yaml": HEAD.replace("county", f"a{n}") + f"builds_on: [a{n + 1}.yaml]\n"
        for n in range(40)
    }
    settle(tmp_path, **files)
    with pytest.raises(InputError, match="build on each other"):
        load(tmp_path, "a0.yaml")


@pytest.mark.parametrize("name", DESIGNS)
def test_designs(name: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    was, now = DESIGNS[name]
    assert was in DESIGN
    write(tmp_path, {"T.yaml": DESIGN.replace(was, now, 1)})
    assert guarded(["check", os.fspath(tmp_path / "T.yaml")]) == 2
    out, err = capfd.readouterr()
    assert out == ""
    harmless(err)
    assert "T.yaml" in err
    assert "root:" not in err, "what is in a file that is no amendment is not shown"


@pytest.mark.parametrize("name", DECISIONS)
def test_decisions(name: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    write(tmp_path, {"T.yaml": DESIGN, "d.yaml": DECISIONS[name]})
    words = ["--decisions", os.fspath(tmp_path / "d.yaml"), "--as-of", "2026-05-01"]
    assert guarded(["check", os.fspath(tmp_path / "T.yaml"), *words]) == 2
    out, err = capfd.readouterr()
    assert out == ""
    harmless(err)


@pytest.mark.parametrize("name", COMMANDS)
def test_commands(
    name: str,
    tmp_path: Path,
    capfd: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path, {"T.yaml": DESIGN})
    try:
        status = guarded(COMMANDS[name])
    except SystemExit as ended:  # how argparse ends
        status = int(str(ended.code))
    out, err = capfd.readouterr()
    assert status == 2, err
    assert out == ""
    harmless(err)
    assert sorted(os.listdir(tmp_path)) == ["T.yaml"], "nothing is written"


@pytest.mark.parametrize("name", REPORTS)
@pytest.mark.parametrize("ending", ["json", "html", "pdf"])
def test_reports_to_verify(
    name: str, ending: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    write(tmp_path, {f"r.{ending}": REPORTS[name]})
    assert guarded(["verify", os.fspath(tmp_path / f"r.{ending}")]) == 2
    out, err = capfd.readouterr()
    assert out == ""
    harmless(err)


def test_there_are_enough() -> None:
    carriers = (EXPRESSIONS, FILES, AMENDMENTS, HEADS, DESIGNS, DECISIONS, COMMANDS, REPORTS)
    assert sum(len(carrier) for carrier in carriers) >= 200
    assert EDITION
