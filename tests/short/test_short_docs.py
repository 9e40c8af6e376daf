"""The guide and the starting file show what the program reads."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from small_wall import read

from checker.assembly import read_assembly
from checker.assembly.records import Assembly
from checker.assembly.short.asked import ROOT_KEYS, is_short
from checker.cli.main import VERBS, main
from checker.documents.fields import given_fields
from checker.documents.loader import load
from checker.documents.source import Source

GUIDE = (Path(__file__).parents[2] / "samples" / "GUIDE.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```yaml\n(.*?)```", GUIDE, re.DOTALL)

#: What the blocks of the guide leave out: the wall that they are part of.
REST = """\
assembly: G
sections: [{id: S1, width: 6 ft}, {id: S2, width: 6 ft}, {id: S3, width: 6 ft}]
"""


def test_every_block_is_of_known_keys() -> None:
    known = {field.key for field in given_fields(Assembly)} | set(ROOT_KEYS)
    assert len(BLOCKS) >= 7
    for block in BLOCKS:
        assert set(load(Source.of_text(block)).root) <= known


def test_the_blocks_make_a_wall() -> None:
    defaults, types, groups, wires = BLOCKS[:4]
    types = types[: types.index("boxes:")]
    circuits = wires[: wires.index("pulls:")]
    more = "".join(f"  - {{id: 2N1-{n}, panel: 2N1, phases: [A]}}\n" for n in (1, 3))
    wall = read(REST + defaults + types + groups + circuits + more)
    assert [box.id for box in wall.boxes] == [
        f"bay{n}.{name}" for n in (1, 2, 3) for name in ("N1", "N2")
    ]
    assert wall.boxes[3].at == (72.0 - 44.0, 44.0)


@pytest.mark.parametrize("block", [b for b in BLOCKS if "by: site" in b or "first: 1 ft" in b])
def test_the_raceways_of_the_guide(block: str) -> None:
    types = BLOCKS[1][: BLOCKS[1].index("boxes:")]
    circuits = (
        "circuits: [{id: 2N1-1, panel: 2N1, phases: A}, {id: 2N1-3, panel: 2N1, phases: B}]\n"
    )
    wall = read(
        "assembly: G\npanels: [{id: 2N1}]\nboxes: [{id: JN1, kind: junction}]\n"
        + circuits + types + block
    )  # fmt: skip
    assert wall.raceways[0].id == "HN"


def test_the_verbs_of_the_guide_are_there() -> None:
    assert set(re.findall(r"`pullpoint (\w+)", GUIDE)) <= set(VERBS)


def test_the_guide_claims_nothing_that_it_must_not() -> None:
    for word in ("compliant", "approved"):
        assert word not in GUIDE.lower()


def test_the_starting_file_is_in_the_short_form_and_checks_clean(tmp_path: Path) -> None:
    path = str(tmp_path / "wall.yaml")
    assert main(["new", "assembly", path]) == 0
    assembly, source = read_assembly(path)
    assert is_short(load(Source.of_text(source.text)).root)
    assert [box.id for box in assembly.boxes] == ["JB1", "o1.B1"]
    assert main(["check", path]) == 0
    full = str(tmp_path / "full.yaml")
    assert main(["expand", path, "--output", full]) == 0
    assert main(["check", full]) == 0
