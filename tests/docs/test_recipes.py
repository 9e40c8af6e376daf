"""The recipes of DEVELOPERS.md for a field and for a table, followed to the letter in a copy."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from checker.language.check import check
from checker.language.parse import ExpressionError
from checker.language.types import Record
from checker.paths import tables_folder
from checker.rulebook.vocabulary import vocabulary_of
from checker.tables import load_tables

ROOT = Path(__file__).resolve().parents[2]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")

EXPRESSIONS = (
    "raceway.outside_color == 'red'",
    "label_heights.height(size=raceway.size) <= raceway.length",
)
#: What the changed program says: the schema it makes, what its rules can say, what it reads.
ASKED = """\
import json

from checker.assembly import from_source
from checker.assembly.records import CLASSES
from checker.documents.fields import fields_of
from checker.documents.missing import known
from checker.documents.source import Source
from checker.language.check import check
from checker.language.types import Record
from checker.paths import tables_folder
from checker.rulebook.vocabulary import vocabulary_of
from checker.schemas.generate import make
from checker.tables import load_tables

DESIGN = '''assembly: T
boxes: [{id: A, kind: junction}, {id: B, kind: junction}]
raceways:
  - {id: R1, method: EMT, size: 1/2, from: A, to: B, outside_color: red}
  - {id: R2, method: EMT, size: 1/2, from: A, to: B}
'''
tables = load_tables(tables_folder()).for_edition("nec-2023")
vocabulary = vocabulary_of(tables)
one, other = from_source(Source.of_text(DESIGN, "t.yaml")).raceways
for text in EXPRESSIONS:
    check(text, {"raceway": Record("raceway")}, vocabulary)  # raises where rules cannot say it
print(json.dumps({
    "schema": make("assembly")["$defs"]["raceway"]["properties"].get("outside_color"),
    "read": [str(one.outside_color), known(other.outside_color)],
    "gap": other.outside_color.words_of("raceway R2"),
    "height": tables["label_heights"].getter("height")("1"),
    "doc": {f.name: f.doc for f in fields_of(CLASSES["raceway"])}["outside_color"],
}))
"""


def recipe(name: str, kind: str) -> str:
    """The text that a recipe says to write."""
    part = GUIDE[GUIDE.index(f"**… {name}.**") :]
    return part.split(f"```{kind}\n")[1].split("```")[0]


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the program with its tables, with a field and a table more."""
    home = tmp_path_factory.mktemp("house")
    skipped = shutil.ignore_patterns("__pycache__")
    for folder in ("checker", "tables"):
        shutil.copytree(ROOT / folder, home / folder, ignore=skipped)
    records = home / "checker/assembly/records/raceways.py"
    text = records.read_text(encoding="utf-8")
    first, begin, rest = text.partition('    id: Identifier = given("the raceway\'s name")\n')
    assert begin
    records.write_text(first + begin + recipe("a field of an element", "python") + rest, "utf-8")
    table = recipe("a table", "yaml")
    name = table.split("\ntable: ")[1].split("\n")[0]
    (home / "tables" / f"{name}.yaml").write_text(table, "utf-8")
    return home


def test_rules_schema_and_reader_see_a_new_field_and_a_new_table(house: Path) -> None:
    asked = f"EXPRESSIONS = {EXPRESSIONS!r}\n{ASKED}"
    done = subprocess.run(
        [sys.executable, "-c", asked], cwd=house, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    said = json.loads(done.stdout)
    assert said["schema"]["description"] == "Color of its outside, such as red."
    assert said["doc"] == "color of its outside, such as red"
    assert said["read"] == ["red", False]
    assert said["gap"] == ["`outside_color` of raceway R2"]
    assert said["height"] == 0.5


@pytest.mark.parametrize("text", EXPRESSIONS)
def test_the_shipped_program_knows_neither(text: str) -> None:
    """So that the test above cannot hold by itself."""
    vocabulary = vocabulary_of(load_tables(tables_folder()).for_edition("nec-2023"))
    with pytest.raises(ExpressionError):
        check(text, {"raceway": Record("raceway")}, vocabulary)
