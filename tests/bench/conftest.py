"""A small rulebook of its own, so that tests of amendments do not move with the shipped rules."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest
from trial import EDITION, HEAD, LENGTHS, TURNS, WIRES

from checker.documents.errors import InputError
from checker.rulebook.book import Rulebook
from checker.rulebook.build import build


@pytest.fixture(scope="session")
def rules(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two editions and three rules; ``wires`` is in the later edition alone."""
    folder = tmp_path_factory.mktemp("trial") / "rules"
    (folder / "editions").mkdir(parents=True)
    (folder / "topic").mkdir()
    for number in ("1", "2"):
        text = EDITION.format(id=f"code-{number}", year=number)
        (folder / "editions" / f"code-{number}.yaml").write_text(text, encoding="utf-8")
    for name, text in (("turns", TURNS), ("lengths", LENGTHS), ("wires", WIRES)):
        (folder / "topic" / f"{name}.yaml").write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def amend(tmp_path: Path) -> Callable[..., str]:
    """Writes an amendment whose changes are given as text; gives its path."""

    def write(
        changes: str, name: str = "one", head: str = HEAD, owner: str = "Kestrel County"
    ) -> str:
        path = tmp_path / f"{name}.yaml"
        lead = head.format(id=name, owner=owner)
        body = "changes:\n" + changes if changes else ""
        path.write_text(lead + body, encoding="utf-8")
        return os.fspath(path)

    return write


@pytest.fixture
def load(rules: Path) -> Callable[..., Rulebook]:
    """Builds the small rulebook with amendments."""

    def give(*paths: str, edition: str = "code-2", date: str | None = "2026-06-01") -> Rulebook:
        return build(edition, list(paths), date=date, folder=os.fspath(rules))

    return give


@pytest.fixture
def refused(load: Callable[..., Rulebook]) -> Callable[..., str]:
    """What is said of amendments that cannot be used."""

    def give(*paths: str, **more: str) -> str:
        with pytest.raises(InputError) as caught:
            load(*paths, **more)
        return " ".join(str(caught.value).split())

    return give
