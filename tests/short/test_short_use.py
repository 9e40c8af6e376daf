"""``use``: types and groups from files below the design's folder, and nothing else."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from small_wall import WALL, by_id

from checker.assembly import read_assembly
from checker.documents.errors import InputError, Problem

HEAD, TAIL = WALL[: WALL.index("types:")], WALL[WALL.index("place:") :]
LIBRARY = WALL[WALL.index("types:") : WALL.index("place:")]
TYPES, GROUPS = LIBRARY[: LIBRARY.index("groups:")], LIBRARY[LIBRARY.index("groups:") :]


def written(folder: Path, **files: str) -> str:
    """A design that uses ``library/a.yaml``, with files beside it; its path."""
    (folder / "library").mkdir(exist_ok=True)
    (folder / "wall.yaml").write_text(HEAD + "use: [library/a.yaml]\n" + TAIL, encoding="utf-8")
    for name, text in files.items():
        (folder / "library" / f"{name}.yaml").write_text(text, encoding="utf-8")
    return str(folder / "wall.yaml")


def refused(path: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        read_assembly(path)
    return caught.value.problems


def test_types_and_groups_come_from_other_files(tmp_path: Path) -> None:
    path = written(tmp_path, a="use: [b.yaml]\n" + GROUPS, b=TYPES)
    wall, source = read_assembly(path)
    box = by_id(wall.boxes)["one.B"]
    mark = box.node.value_mark("trade_size")
    line = mark.source.line(mark.line)
    assert mark.source.path.endswith(os.path.join("library", "b.yaml"))
    assert line[mark.column - 1 :].startswith("4 x 1-1/2 square")
    assert box.node.value_mark("at").source.path.endswith("a.yaml")
    assert [file.name for file in source.used] == ["library/a.yaml", "library/b.yaml"]


def test_the_fingerprint_covers_every_file(tmp_path: Path) -> None:
    digests = set()
    for types in (TYPES, TYPES + "# a comment\n"):
        path = written(tmp_path, a="use: [b.yaml]\n" + GROUPS, b=types)
        digests.add(read_assembly(path)[1].digest)
    assert len(digests) == 2


def test_a_mistake_in_a_used_file_is_told_there(tmp_path: Path) -> None:
    path = written(tmp_path, a=LIBRARY.replace("color: white", "colour: white"))
    (found,) = refused(path)
    assert found.file.endswith("a.yaml")
    assert found.excerpt[found.column - 1 :].startswith("colour")
    assert "in 2 placements" in found.message


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("../a.yaml", "out of the folder"),
        ("library/../../a.yaml", "out of the folder"),
        ("/etc/hosts.yaml", "does not begin in the folder"),
        ("https://example.org/a.yaml", "an address"),
        ("file:///etc/hosts.yaml", "an address"),
        ("C:a.yaml", "does not begin in the folder"),
        ("library/a.txt", "no YAML file"),
        ("link.yaml", "a link that leads out"),
        ("out/a.yaml", "a link that leads out"),
        ("wall.yaml", "a circle"),
    ],
)
def test_files_from_elsewhere_are_not_opened(tmp_path: Path, name: str, why: str) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "a.yaml").write_text(LIBRARY, encoding="utf-8")
    folder = tmp_path / "design"
    folder.mkdir()
    path = written(folder, a=LIBRARY)
    (folder / "link.yaml").symlink_to(outside / "a.yaml")
    (folder / "out").symlink_to(outside)
    text = Path(path).read_text(encoding="utf-8").replace("library/a.yaml", name)
    Path(path).write_text(text, encoding="utf-8")
    found = refused(path)[0]
    assert why in found.found
    assert (found.file, found.line > 0, found.column > 0) == (path, True, True)


def test_a_link_within_the_folder_is_followed(tmp_path: Path) -> None:
    path = written(tmp_path, b=LIBRARY)
    (tmp_path / "library" / "a.yaml").symlink_to(tmp_path / "library" / "b.yaml")
    assert len(read_assembly(path)[0].boxes) == 3


def test_a_circle_of_files(tmp_path: Path) -> None:
    found = refused(written(tmp_path, a="use: [b.yaml]\n", b="use: [a.yaml]\n" + LIBRARY))
    assert any("a circle" in one.found for one in found)


def test_three_levels_and_no_more(tmp_path: Path) -> None:
    chain = {"a": "use: [b.yaml]\n", "b": "use: [c.yaml]\n", "c": LIBRARY}
    assert len(read_assembly(written(tmp_path, **chain))[0].boxes) == 3
    chain |= {"c": "use: [d.yaml]\n", "d": LIBRARY}
    assert any("more than 3 files" in one.found for one in refused(written(tmp_path, **chain)))


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    path = written(tmp_path, a="")
    with open(tmp_path / "library" / "a.yaml", "wb") as file:
        file.truncate(5_000_000)
    assert "too large" in refused(path)[0].message


def test_other_keys_of_a_used_file_are_refused(tmp_path: Path) -> None:
    found = refused(written(tmp_path, a=LIBRARY + "boxes: []\n"))
    assert "unknown key `boxes`" in found[0].message


def test_one_name_in_two_files_is_refused(tmp_path: Path) -> None:
    found = refused(written(tmp_path, a="use: [b.yaml]\n" + LIBRARY, b=TYPES))
    assert any("two types `deep`" in one.message for one in found)
