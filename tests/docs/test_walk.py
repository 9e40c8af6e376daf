"""The walk through one check in DEVELOPERS.md names modules and what is in them."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
MOST_MODULES = 8


def steps() -> list[str]:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    walk = text.partition("## One check, from the command to the rule's line\n")[2]
    return re.findall(r"^\d\. (.*?)(?=^\d\. |^\n|\n\n)", walk.partition("\n## ")[0], re.S | re.M)


def test_the_walk_has_at_most_eight_modules() -> None:
    assert 6 <= len(steps()) <= MOST_MODULES


def test_every_module_and_name_of_the_walk_is_there() -> None:
    for step in steps():
        named = re.findall(r"`([\w/.]+)`", step)
        module = ROOT / "checker" / named[0]
        source = module.read_text(encoding="utf-8")
        for name in named[1:]:
            if name.endswith(".py"):
                beside = [module.parent / name, ROOT / "checker" / name]
                assert any(path.is_file() for path in beside), (named[0], name)
            elif re.fullmatch(r"[a-z_.]+|[A-Z]\w+(\.\w+)?", name):
                assert name.rpartition(".")[2] in source, (named[0], name)
