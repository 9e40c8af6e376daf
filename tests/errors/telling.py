"""Makes mistakes on purpose and collects what is said of them; writes MESSAGES.md.

``python tests/errors/telling.py`` writes the file anew; read the difference before you keep it.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from mistakes import (
    AMENDMENT,
    EDITION,
    EXAMPLES,
    GROUPS,
    OTHER_AMENDMENT,
    RULE,
    TABLE,
    WIRE_TABLE,
    Mistake,
)

from checker.bench.bench import Bench
from checker.documents.errors import InputError, Problem
from checker.documents.source import read_source
from checker.reports.bench_form import test_text
from checker.reports.style import Style
from checker.rulebook.book import Rulebook
from checker.rulebook.build import build
from checker.rulebook.reading import read_file
from checker.rulebook.records import ExamplesFile

MESSAGES = Path(__file__).with_name("MESSAGES.md")
_FILES = {
    "rule": "rules/routing/reach.yaml",
    "examples": "rules/routing/reach.examples.yaml",
    "edition": "rules/editions/code-1.yaml",
    "amendment": "county.yaml",
    "table": "tables/bores.yaml",
}
_GOOD = {
    "rules/routing/reach.yaml": RULE,
    "rules/routing/reach.examples.yaml": EXAMPLES,
    "rules/editions/code-1.yaml": EDITION,
    "county.yaml": AMENDMENT,
    "town.yaml": OTHER_AMENDMENT,
    "tables/bores.yaml": TABLE,
    "tables/wire_areas.yaml": WIRE_TABLE,
}


@dataclass(frozen=True, slots=True)
class Told:
    """What was said of a mistake: the problems, the whole text, and where the mistake stands."""

    problems: tuple[Problem, ...]
    text: str
    line: int
    column: int
    length: int


@cache
def tell(mistake: Mistake) -> Told:
    """Make a mistake in a world of its own and collect what is said of it."""
    with tempfile.TemporaryDirectory() as folder:
        return _tell(mistake, Path(folder))


def _tell(mistake: Mistake, folder: Path) -> Told:
    name = _FILES[mistake.kind]
    text, line, column, length = placed(mistake, _GOOD[name])
    write_world(folder, {**_GOOD, name: text})
    if mistake.tested:
        # Tests of rules run on the shipped editions, with the shipped tables.
        rule = RULE.replace("wire_areas.", "conductor_dimensions.")
        rule = rule.replace("bores.", "raceway_dimensions.")
        write_world(folder, {"rules/routing/reach.yaml": rule})
    with inside(folder):
        if mistake.tested:
            return Told((), _run_tests(), line, column, length)
        try:
            if mistake.kind == "examples":
                read_file(ExamplesFile, read_source(name), "an examples file")
            amendments = ["county.yaml"] if mistake.kind == "amendment" else []
            if mistake.stacked:
                amendments.insert(0, "town.yaml")
            build("code-1", amendments, date="2026-06-01", folder="rules", tables="tables")
        except InputError as error:
            return Told(error.problems, str(error), line, column, length)
    raise AssertionError(f"nothing was said of: {mistake.name}")


def placed(mistake: Mistake, good: str) -> tuple[str, int, int, int]:
    """The text with the mistake, and line, column and length of what « and » enclose in it."""
    assert good.count(mistake.was) >= 1, f"`{mistake.was}` is not in the file"
    text = good.replace(mistake.was, mistake.now, 1)
    start = text.find("«")
    if start < 0:
        return text, 0, 0, 0
    end = text.index("»") - 1
    text = text.replace("«", "").replace("»", "")
    before = text[:start]
    return text, before.count("\n") + 1, start - before.rfind("\n"), end - start


def write_world(folder: Path, files: dict[str, str]) -> None:
    """Write files below a folder."""
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")


@contextlib.contextmanager
def inside(folder: Path) -> Iterator[None]:
    """Work in a folder, so that messages name files as an author there would see them."""
    before = Path.cwd()
    os.chdir(folder)
    try:
        yield
    finally:
        os.chdir(before)


def _run_tests() -> str:
    """What ``pullpoint rules test`` prints of the rule, on a shipped edition."""
    suites = Bench("nec-2023", _books={("nec-2023", (), None): _shipped()}).run(
        ["rules/routing/reach.yaml"]
    )
    problems = [problem for suite in suites for problem in suite.problems]
    told = str(InputError(problems)) if problems else ""
    return (test_text(suites, Style(), show="fail") + told).rstrip()


@cache
def _shipped() -> Rulebook:
    return build("nec-2023", [])


def every() -> Iterator[tuple[str, Mistake]]:
    """Every mistake with the heading of its group."""
    for heading, mistakes in GROUPS.items():
        for mistake in mistakes:
            yield heading, mistake


def written() -> str:
    """The text of MESSAGES.md."""
    lines = [
        "# What is said of mistakes",
        "",
        "Every message below is what the program says of one mistake in a rule, an amendment, an",
        "example or a table. Written by `python tests/errors/telling.py`; a test holds it to what",
        "the program says. To be read aloud: would someone who knows the code, and no programming,",
        "know what to do next?",
    ]
    group = ""
    for heading, mistake in every():
        if heading != group:
            lines += ["", f"## {heading}"]
            group = heading
        told = tell(mistake)
        lines += ["", f"**{mistake.name}**", "", "```text", *told.text.split("\n"), "```"]
    return "\n".join(line.rstrip() for line in lines) + "\n"


if __name__ == "__main__":
    MESSAGES.write_text(written(), encoding="utf-8")
    print(f"{sum(1 for _ in every())} messages written to {MESSAGES}")
