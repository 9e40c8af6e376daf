"""What is installed is what is here: every package of the program, its rules and its tables."""

from __future__ import annotations

import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SETTINGS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"][
    "setuptools"
]


def test_every_package_is_installed() -> None:
    here = {
        ".".join(folder.relative_to(ROOT).parts)
        for folder in [ROOT / "checker", *(ROOT / "checker").rglob("*/")]
        if any(folder.glob("*.py"))
    }
    listed = {name for name in SETTINGS["packages"] if not name.startswith("checker.shipped")}
    assert listed == here


def test_every_file_that_is_read_is_installed() -> None:
    data = SETTINGS["package-data"]
    for package, folder in SETTINGS["package-dir"].items():
        found = {p for pattern in data[package] for p in (ROOT / folder).glob(pattern)}
        wanted = set((ROOT / folder).rglob("*.yaml"))
        assert wanted <= found, sorted(wanted - found)[:3]
    for suffix in ("typ", "css", "js", "html"):
        wanted = set((ROOT / "checker").rglob(f"*.{suffix}"))
        found = {
            p
            for pattern in data["checker.reports"]
            for p in (ROOT / "checker" / "reports").glob(pattern)
        }
        assert wanted <= found
